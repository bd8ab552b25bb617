#include "routing/roads/foot/slope_pace.hpp"

#include "routing/roads/foot/climb.hpp"

#include <algorithm>
#include <cmath>

namespace routing::roads::foot {

namespace {

constexpr double steepest_believed = 1.0; // a cliff between two posts is no path

} // namespace

double slowing_on(double slope) {
    const double s = std::clamp(slope, -steepest_believed, steepest_believed);
    return std::exp(3.5 * (std::abs(s + 0.05) - 0.05));
}

SlopePace::SlopePace(const RoadNetwork& foot, const geo::terrain::ElevationSheet& ground)
    : network_(foot), ground_(ground), known_(2 * foot.edges.size(), 0) {}

double SlopePace::slowing(const Edge& edge, bool forward) const {
    if ((edge.notes & note_steps) != 0)
        return 1.0;
    GroundAlong profile = ground_along(network_.shape_of(edge), ground_);
    if (edge.no_stopping) {
        profile.metres = {profile.metres.front(), profile.metres.back()};
        profile.height = {profile.height.front(), profile.height.back()};
    }
    double time = 0.0;
    for (std::size_t n = 1; n < profile.metres.size(); ++n) {
        const double length = profile.metres[n] - profile.metres[n - 1];
        if (!(length > 0.0))
            continue;
        const bool known = profile.height[n] && profile.height[n - 1];
        const double slope = known ? (*profile.height[n] - *profile.height[n - 1]) / length : 0.0;
        time += length * (known ? slowing_on(forward ? slope : -slope) : 1.0);
    }
    return profile.metres.back() > 0.0 ? time / profile.metres.back() : 1.0;
}

Milliseconds SlopePace::crossing(EdgeIndex edge, bool forward) {
    Milliseconds& known = known_[2 * std::size_t{value(edge)} + (forward ? 0 : 1)];
    if (known == 0) {
        const Edge& drawn = network_.edges[value(edge)];
        const Milliseconds level = forward ? drawn.forward : drawn.backward;
        known = level >= closed
                    ? closed
                    : static_cast<Milliseconds>(std::clamp<double>(std::round(level * slowing(drawn, forward)), 1.0,
                                                                   static_cast<double>(closed - 1)));
    }
    return known;
}

} // namespace routing::roads::foot
