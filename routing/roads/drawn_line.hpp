#pragma once
/// A line drawn over the map, and which roads come near it.
///
///     const DrawnLine line({ford, gate});
///     if (line.comes_within(network.shape_of(edge), 10.0_m)) ...
///
/// Line and roads run straight in longitude and latitude between their points (RFC 7946, section 3.1.1), the short way
/// round. Both are cut into stretches of at most 500 m, each taken as straight in space: off by about
/// 1 cm up to 60 degrees of latitude, 10 cm at 85. So the 180th meridian and the poles are places like any other.

#include "geo/coordinate.hpp"

#include <memory>
#include <span>

namespace routing::roads {

class DrawnLine {
public:
    /// Two different points or more, see has_length.
    explicit DrawnLine(std::span<const geo::Coordinate> points);
    ~DrawnLine();
    DrawnLine(DrawnLine&&) noexcept;
    DrawnLine& operator=(DrawnLine&&) noexcept;

    /// True when a road of this shape crosses the line, touches it or comes within `margin` of it.
    bool comes_within(std::span<const geo::Coordinate> shape, geo::Metres margin) const;
    /// Least distance between the two; 0 where they cross, give or take what the head says. Tries every stretch.
    geo::Metres distance_from(std::span<const geo::Coordinate> shape) const;

private:
    struct Stretches;
    std::unique_ptr<const Stretches> stretches_;
};

/// True when not all of the points are the same.
bool has_length(std::span<const geo::Coordinate> points);

} // namespace routing::roads
