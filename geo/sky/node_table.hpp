#pragma once
/// A smooth vector over time, computed at equal steps and interpolated between.
///
///     thread_local geo::sky::NodeTable<3> nodes(2, 1024, compute); // two nodes a day
///     const auto sun = nodes.at(terrestrial_time(t));
///
/// Nodes are computed when first asked for and kept in a ring. A node depends on its time alone, so what was asked
/// before changes the time an answer takes and never the answer; nothing has to be built for a range of dates, and
/// none is too long. Not to be shared by threads: hold one in each (thread_local). Interpolation: Lagrange through six
/// nodes (Meeus, Astronomical Algorithms, 1998, chapter 3).

#include "geo/sky/earth_rotation.hpp"

#include <array>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <vector>

namespace geo::sky {

template <std::size_t size>
class NodeTable {
public:
    using Value = std::array<double, size>;
    using Compute = Value (*)(JulianDate terrestrial);

    /// `kept`: how many nodes to remember, a power of two.
    NodeTable(int nodes_a_day, std::size_t kept, Compute compute)
        : nodes_a_day_(nodes_a_day), compute_(compute), ring_(kept) {
        assert((kept & (kept - 1)) == 0);
    }

    Value at(JulianDate terrestrial) {
        const double nodes = ((terrestrial.whole - epoch) + terrestrial.fraction) * nodes_a_day_;
        const double before = std::floor(nodes);
        const double x = nodes - before;
        // The products of the differences of the places -2..3.
        constexpr std::array denominators{-120.0, 24.0, -12.0, 12.0, -24.0, 120.0};
        Value sum{};
        for (int i = 0; i < 6; ++i) {
            double weight = 1.0 / denominators[static_cast<std::size_t>(i)];
            for (int other = 0; other < 6; ++other)
                if (other != i)
                    weight *= x - (other - 2);
            const Value& node = this->node(static_cast<std::int64_t>(before) + i - 2);
            for (std::size_t k = 0; k < size; ++k)
                sum[k] += weight * node[k];
        }
        return sum;
    }

private:
    static constexpr double epoch = 2451545.0; // J2000, 12h TT

    struct Entry {
        std::int64_t number = INT64_MIN;
        Value value{};
    };

    const Value& node(std::int64_t number) {
        // Two's complement makes the mask right for negative numbers too, and quicker than a remainder.
        Entry& entry = ring_[static_cast<std::size_t>(number) & (ring_.size() - 1)];
        if (entry.number != number) {
            entry.value = compute_({epoch, static_cast<double>(number) / nodes_a_day_});
            entry.number = number;
        }
        return entry.value;
    }

    int nodes_a_day_;
    Compute compute_;
    std::vector<Entry> ring_;
};

} // namespace geo::sky
