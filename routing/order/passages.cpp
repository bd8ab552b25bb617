#include "routing/order/passages.hpp"

#include <algorithm>
#include <cassert>

namespace routing::order {
namespace {

/// Reads the travel from left to right; the passage being read is the last of `found`.
class Reader {
public:
    explicit Reader(const std::function<std::int32_t(Instant)>& travel) : travel_(travel) {}

    std::vector<Passage> run(const geo::Intervals& unsettled, TimeWindow hours, Seconds step) {
        Instant at = hours.earliest;
        std::int32_t seconds = travel_(at);
        open(at, seconds);
        while (at < hours.latest) {
            const Instant next = std::min(next_look(unsettled, at, step), hours.latest);
            const std::int32_t then = travel_(next);
            read(at, seconds, next, then);
            at = next;
            seconds = then;
        }
        if (!found_.empty() && found_.front().departure.earliest == hours.earliest)
            found_.front().departure.earliest = Instant::min();
        if (!found_.empty() && found_.back().departure.latest == hours.latest)
            found_.back().departure.latest = Instant::max();
        return std::move(found_);
    }

private:
    /// The next departure to ask for: a step on where the travel may change, else where that begins. A short span is
    /// looked at several times, so that it is not stepped over.
    static Instant next_look(const geo::Intervals& unsettled, Instant at, Seconds step) {
        constexpr std::int64_t least_looks = 8;
        for (const geo::Interval& span : unsettled) {
            if (at < span.from)
                return span.from;
            if (at < span.until) {
                const Seconds stride = std::clamp(span.length() / least_looks, Seconds{1}, step);
                // On whole strides of the clock, so that legs from one place are asked for at the same instants.
                const Instant next = at + stride;
                return std::min(next - next.time_since_epoch() % stride, span.until);
            }
        }
        return Instant::max();
    }

    /// Goes on from `a`, which has been read, to `b`.
    void read(Instant a, std::int32_t at_a, Instant b, std::int32_t at_b) {
        if (at_a == at_b) {
            if (at_a < TravelMatrix::unreachable)
                found_.back().departure.latest = b;
        } else if (b - a == Seconds{1} || Seconds{at_a - at_b} == b - a) {
            open(b, at_b); // between them nothing, or departures that arrive with b's
        } else {
            const Instant middle = a + (b - a) / 2;
            const std::int32_t between = travel_(middle);
            read(a, at_a, middle, between);
            read(middle, between, b, at_b);
        }
    }

    void open(Instant at, std::int32_t seconds) {
        // One instant, and leaving now arrives at the same time.
        if (!found_.empty() && found_.back().departure.earliest == found_.back().departure.latest &&
            found_.back().departure.latest + Seconds{found_.back().seconds} == at + Seconds{seconds})
            found_.pop_back();
        if (seconds < TravelMatrix::unreachable)
            found_.push_back({{at, at}, seconds});
    }

    const std::function<std::int32_t(Instant)>& travel_;
    std::vector<Passage> found_;
};

} // namespace

std::vector<Passage> passages(const std::function<std::int32_t(Instant departure)>& travel,
                              const geo::Intervals& unsettled, TimeWindow hours, Seconds step) {
    assert(hours.earliest <= hours.latest && step >= Seconds{1});
    return Reader(travel).run(unsettled, hours, step);
}

std::vector<VaryingLeg> varying_legs(const TravelMatrix& travel, const UnsettledDepartures& unsettled,
                                     const TravelAt& travel_at, TimeWindow hours, Seconds step) {
    std::vector<VaryingLeg> legs;
    for (Point from = 0; from < travel.size; ++from)
        for (Point to = 0; to < travel.size; ++to) {
            if (from == to || travel(from, to) >= TravelMatrix::unreachable)
                continue;
            const geo::Intervals spans = unsettled(from, to);
            if (spans.empty())
                continue;
            std::vector<Passage> found =
                passages([&](Instant departure) { return travel_at(from, to, departure); }, spans, hours, step);
            const bool stays = found.size() == 1 && found[0].seconds == travel(from, to) &&
                               found[0].departure.earliest == Instant::min() &&
                               found[0].departure.latest == Instant::max();
            if (!stays)
                legs.push_back({from, to, std::move(found)});
        }
    return legs;
}

} // namespace routing::order
