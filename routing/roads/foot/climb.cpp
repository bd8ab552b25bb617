#include "routing/roads/foot/climb.hpp"

#include "geo/geodesic.hpp"
#include "geo/terrain/elevation_sheet.hpp"

#include <algorithm>
#include <cmath>

namespace routing::roads::foot {

namespace {

// Metres; figures of ours.
constexpr double longest_step = 25.0;
constexpr double noise = 5.0;
constexpr double steepest_over = 100.0;

} // namespace

GroundAlong ground_along(std::span<const geo::Coordinate> line, const geo::terrain::ElevationSheet& ground) {
    const auto height_at = [&](geo::Coordinate place) -> std::optional<double> {
        const auto height = ground.height(place);
        return height ? std::optional(height->value) : std::nullopt;
    };
    GroundAlong profile;
    if (line.empty())
        return profile;
    profile.metres.push_back(0.0);
    profile.height.push_back(height_at(line.front()));
    for (std::size_t n = 1; n < line.size(); ++n) {
        const double length = geo::distance(line[n - 1], line[n]).value;
        const int steps = std::max(1, static_cast<int>(std::ceil(length / longest_step)));
        const double begin = profile.metres.back();
        for (int step = 1; step <= steps; ++step) {
            const double share = static_cast<double>(step) / steps;
            const geo::Coordinate at =
                step == steps ? line[n] : geo::point_along(line[n - 1], line[n], geo::Metres{length * share});
            profile.metres.push_back(begin + length * share);
            profile.height.push_back(height_at(at));
        }
    }
    return profile;
}

std::optional<Climb> climb_along(const std::vector<geo::Coordinate>& line, const geo::terrain::ElevationSheet& ground) {
    const GroundAlong profile = ground_along(line, ground);
    if (profile.height.empty() || !std::all_of(profile.height.begin(), profile.height.end(),
                                               [](const auto& height) { return height.has_value(); }))
        return std::nullopt;
    Climb climb{};
    double counted = *profile.height.front();
    std::size_t back = 0;
    for (std::size_t n = 0; n < profile.metres.size(); ++n) {
        const double height = *profile.height[n];
        // The last few metres count too, however few.
        if (std::abs(height - counted) >= noise || n + 1 == profile.metres.size()) {
            (height > counted ? climb.up : climb.down) += geo::Metres{std::abs(height - counted)};
            counted = height;
        }
        while (profile.metres[n] - profile.metres[back + (back < n ? 1 : 0)] >= steepest_over)
            ++back;
        const double run = profile.metres[n] - profile.metres[back];
        if (run >= steepest_over || (n + 1 == profile.metres.size() && back == 0 && run > 0.0))
            climb.steepest = std::max(climb.steepest, std::abs(height - *profile.height[back]) / run);
    }
    return climb;
}

} // namespace routing::roads::foot
