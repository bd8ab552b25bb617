#include "geo/light_quality.hpp"

#include "geo/light_rule.hpp"

#include <algorithm>

namespace geo {

namespace {

using namespace std::chrono_literals;

class Judge {
public:
    Judge(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation)
        : sky_(place, elevation, {Instant{}, Instant{}}) {
        for (const LightRequest& request : any_of)
            rules_.push_back(light_rule(request, false));
    }

    double at(Instant when) const {
        double best = 0.0;
        for (const LightRule& rule : rules_)
            best = std::max(best, quality(rule, sky_, sky::precise(when)));
        return best;
    }

    /// At each minute from the span's start, and at its end.
    double mean(Interval span) const {
        if (span.length() <= 0s)
            return at(span.from);
        double sum = 0.0;
        double before = at(span.from);
        for (Instant from = span.from; from < span.until;) {
            const Instant until = std::min(from + 60s, span.until);
            const double after = at(until);
            sum += (before + after) / 2.0 * static_cast<double>((until - from).count());
            before = after;
            from = until;
        }
        return sum / static_cast<double>(span.length().count());
    }

private:
    PlaceSky sky_;
    std::vector<LightRule> rules_;
};

} // namespace

double light_quality(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Instant when) {
    return Judge(any_of, place, elevation).at(when);
}

double mean_quality(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval span) {
    return Judge(any_of, place, elevation).mean(span);
}

BestTime best_minute(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval window) {
    return best_start(any_of, place, elevation, window, 0s);
}

BestTime best_start(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval window,
                    Seconds length) {
    const Judge judge(any_of, place, elevation);
    const auto from = [&](Instant start) { return BestTime{start, judge.mean({start, start + length})}; };
    BestTime best = from(window.from);
    constexpr double equal = 1e-9; // a level stretch wavers by rounding
    for (Instant start = window.from + 60s; start + length <= window.until; start += 60s)
        if (const BestTime next = from(start); next.quality > best.quality + equal)
            best = next;
    return best;
}

double lost_by_late_start(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval filming,
                          Seconds late) {
    const Judge judge(any_of, place, elevation);
    return judge.mean(filming) - judge.mean({filming.from + late, filming.until + late});
}

} // namespace geo
