#include "routing/roads/space_curve.hpp"

#include <algorithm>
#include <utility>

namespace routing::roads {
namespace {

constexpr int bits = 32;

std::uint32_t grid(double value, double low, double high) {
    constexpr double steps = 4294967295.0; // 2^32 - 1
    return static_cast<std::uint32_t>(std::clamp((value - low) / (high - low), 0.0, 1.0) * steps);
}

} // namespace

std::uint64_t place_on_curve(geo::Coordinate place) {
    std::uint32_t x = grid(place.longitude.value, -180.0, 180.0);
    std::uint32_t y = grid(place.latitude.value, -90.0, 90.0);
    std::uint64_t position = 0;
    // From the largest quadrant down; each step turns the plane so that the curve enters where it should.
    for (int bit = bits - 1; bit >= 0; --bit) {
        const std::uint32_t east = x >> static_cast<unsigned>(bit) & 1U;
        const std::uint32_t north = y >> static_cast<unsigned>(bit) & 1U;
        position = position << 2U | ((3U * east) ^ north);
        if (north == 0) {
            if (east == 1) {
                x = ~x;
                y = ~y;
            }
            std::swap(x, y);
        }
    }
    return position;
}

} // namespace routing::roads
