#pragma once
/// Hand-made map features for the tests of this folder.

#include "routing/roads/osm_extract.hpp"

#include <utility>
#include <vector>

namespace fixture {

using Pairs = std::vector<std::pair<std::string, std::string>>;

inline geo::Coordinate at(double latitude, double longitude) {
    return {{latitude}, {longitude}};
}

inline routing::roads::Feature node(routing::roads::OsmId id, geo::Coordinate place, Pairs tags) {
    return {.object = {routing::roads::OsmType::node, id},
            .at = place,
            .outline = {},
            .tags = routing::roads::Tags(std::move(tags))};
}

/// A closed way: a square of `half` degrees of latitude and longitude to each side of its middle.
inline routing::roads::Feature square(routing::roads::OsmId id, geo::Coordinate middle, double half, Pairs tags) {
    const auto corner = [&](double north, double east) {
        return at(middle.latitude.value + north * half, middle.longitude.value + east * half);
    };
    return {.object = {routing::roads::OsmType::way, id},
            .at = middle,
            .outline = {corner(-1, -1), corner(-1, 1), corner(1, 1), corner(1, -1), corner(-1, -1)},
            .tags = routing::roads::Tags(std::move(tags))};
}

} // namespace fixture
