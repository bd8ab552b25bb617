#include "geo/sky/crossing_search.hpp"

#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

namespace geo::sky {

namespace {

constexpr PreciseSeconds step{3600.0};

/// The value along one stretch of the search, with time in seconds from the first sample: small numbers keep the
/// solvers' relative tolerances fine.
class Samples {
public:
    Samples(const ValueOverTime& value, PreciseSpan span) : value_(value), start_(span.from - step) {
        // One sample more at either end, so that a turning point at the border shows on three samples.
        const auto count = static_cast<std::size_t>(std::ceil((span.until - span.from) / step)) + 3;
        samples_.reserve(count);
        for (std::size_t i = 0; i < count; ++i)
            samples_.push_back(at(time(i)));
    }

    std::size_t size() const { return samples_.size(); }
    double operator[](std::size_t i) const { return samples_[i]; }
    double time(std::size_t i) const { return static_cast<double>(i) * step.count(); }
    double at(double time) const { return value_(instant(time)); }
    PreciseInstant instant(double time) const { return start_ + PreciseSeconds{time}; }

    bool peaks_at(std::size_t i) const { return samples_[i] >= samples_[i - 1] && samples_[i] > samples_[i + 1]; }
    bool dips_at(std::size_t i) const { return samples_[i] <= samples_[i - 1] && samples_[i] < samples_[i + 1]; }

    /// The highest (or lowest) point between the neighbours of sample `i`.
    double turning_time(std::size_t i) const {
        const double sign = peaks_at(i) ? -1.0 : 1.0;
        std::uintmax_t evaluations = 100;
        constexpr int half_of_double = std::numeric_limits<double>::digits / 2;
        return boost::math::tools::brent_find_minima([&](double time) { return sign * at(time); }, time(i - 1),
                                                     time(i + 1), half_of_double, evaluations)
            .first;
    }

private:
    const ValueOverTime& value_;
    PreciseInstant start_;
    std::vector<double> samples_;
};

/// The crossing between two times of unlike sign.
Crossing close_in(const Samples& samples, double low, double low_value, double high, double high_value) {
    const bool rising = low_value < 0.0;
    double when = high;
    if (low_value == 0.0) {
        when = low;
    } else if (high_value != 0.0) {
        std::uintmax_t evaluations = 100;
        const auto close_enough = [](double a, double b) { return std::abs(a - b) < 1e-3; };
        const auto bracket = boost::math::tools::toms748_solve([&](double time) { return samples.at(time); }, low, high,
                                                               low_value, high_value, close_enough, evaluations);
        when = (bracket.first + bracket.second) / 2.0;
    }
    return {samples.instant(when), rising};
}

bool is_inside(PreciseInstant when, PreciseSpan span) {
    return when >= span.from && when <= span.until;
}

} // namespace

std::vector<Crossing> find_crossings(const ValueOverTime& value, PreciseSpan span) {
    const Samples samples(value, span);
    std::vector<Crossing> crossings;
    const auto add_if_sign_changes = [&](double low, double low_value, double high, double high_value) {
        if ((low_value < 0.0) == (high_value < 0.0))
            return;
        const Crossing crossing = close_in(samples, low, low_value, high, high_value);
        if (is_inside(crossing.when, span))
            crossings.push_back(crossing);
    };
    // Between two samples of one sign hides a pair of crossings only next to a turning point heading for zero.
    double earlier = samples.time(0);
    double earlier_value = samples[0];
    for (std::size_t i = 1; i < samples.size(); ++i) {
        const bool heads_for_zero = i + 1 < samples.size() && (samples[i] < 0.0) == (samples[i - 1] < 0.0) &&
                                    (samples[i] < 0.0) == (samples[i + 1] < 0.0) &&
                                    (samples[i] < 0.0 ? samples.peaks_at(i) : samples.dips_at(i));
        if (heads_for_zero) {
            const double turn = samples.turning_time(i);
            const double turn_value = samples.at(turn);
            add_if_sign_changes(earlier, earlier_value, turn, turn_value);
            earlier = turn;
            earlier_value = turn_value;
            continue;
        }
        add_if_sign_changes(earlier, earlier_value, samples.time(i), samples[i]);
        earlier = samples.time(i);
        earlier_value = samples[i];
    }
    return crossings;
}

std::vector<PreciseInstant> find_turning_points(const ValueOverTime& value, PreciseSpan span) {
    const Samples samples(value, span);
    std::vector<PreciseInstant> turns;
    for (std::size_t i = 1; i + 1 < samples.size(); ++i) {
        if (!samples.peaks_at(i) && !samples.dips_at(i))
            continue;
        const PreciseInstant turn = samples.instant(samples.turning_time(i));
        if (is_inside(turn, span))
            turns.push_back(turn);
    }
    return turns;
}

} // namespace geo::sky
