#include "routing/order/passages.hpp"

#include <algorithm>
#include <cassert>

namespace routing::order {
namespace {

/// Reads the travel from left to right; the passage being read is the last of `found`.
class Reader {
public:
    explicit Reader(const std::function<std::int32_t(Instant)>& travel) : travel_(travel) {}

    std::vector<Passage> run(TimeWindow hours, Seconds step) {
        Instant at = hours.earliest;
        std::int32_t seconds = travel_(at);
        open(at, seconds);
        while (at < hours.latest) {
            const Instant next = std::min(at + step, hours.latest);
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

std::vector<Passage> passages(const std::function<std::int32_t(Instant departure)>& travel, TimeWindow hours,
                              Seconds step) {
    assert(hours.earliest <= hours.latest && step >= Seconds{1});
    return Reader(travel).run(hours, step);
}

std::vector<VaryingLeg> varying_legs(const TravelMatrix& travel, const std::vector<std::uint8_t>& varies,
                                     const TravelAt& travel_at, TimeWindow hours, Seconds step) {
    assert(varies.size() == travel.seconds.size());
    std::vector<VaryingLeg> legs;
    for (Point from = 0; from < travel.size; ++from)
        for (Point to = 0; to < travel.size; ++to) {
            if (from == to || !varies[std::size_t{from} * travel.size + to] ||
                travel(from, to) >= TravelMatrix::unreachable)
                continue;
            std::vector<Passage> found =
                passages([&](Instant departure) { return travel_at(from, to, departure); }, hours, step);
            const bool stays = found.size() == 1 && found[0].seconds == travel(from, to) &&
                               found[0].departure.earliest == Instant::min() &&
                               found[0].departure.latest == Instant::max();
            if (!stays)
                legs.push_back({from, to, std::move(found)});
        }
    return legs;
}

} // namespace routing::order
