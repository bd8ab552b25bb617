#pragma once
/// How much a way on foot climbs.
///
///     if (const auto climb = climb_along(walk.line, sheet)) ... climb->up

#include "geo/coordinate.hpp"
#include "geo/units.hpp"

#include <optional>
#include <span>
#include <vector>

namespace geo::terrain {
class ElevationSheet;
}

namespace routing::roads::foot {

/// Of a way in the direction walked.
struct Climb {
    geo::Metres up;
    geo::Metres down;
    double steepest = 0.0; ///< rise by run over 100 m of the way, or all of a shorter one; never negative
    Climb reversed() const { return {down, up, steepest}; }
};

/// Rises and falls of less than 5 m are taken for noise of the heights (ours). Nothing where the ground is not known
/// all along.
std::optional<Climb> climb_along(const std::vector<geo::Coordinate>& line, const geo::terrain::ElevationSheet& ground);

/// Heights along a line at steps of at most 25 m (ours).
struct GroundAlong {
    std::vector<double> metres;                ///< from the start
    std::vector<std::optional<double>> height; ///< nothing: not known
};
GroundAlong ground_along(std::span<const geo::Coordinate> line, const geo::terrain::ElevationSheet& ground);

} // namespace routing::roads::foot
