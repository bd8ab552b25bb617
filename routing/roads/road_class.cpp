#include "routing/roads/road_class.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

using enum ClassAccess;

// Classes: OSM wiki, Key:highway and "OSM tags for routing/Access restrictions".
// Speeds: our planning figures, no source.
constexpr std::array table{
    RoadClass{"motorway", open, {105}, {80}},
    RoadClass{"motorway_link", open, {60}, {60}},
    RoadClass{"trunk", open, {85}, {50}},
    RoadClass{"trunk_link", open, {60}, {50}},
    RoadClass{"primary", open, {70}, {45}},
    RoadClass{"primary_link", open, {60}, {45}},
    RoadClass{"secondary", open, {60}, {42}},
    RoadClass{"secondary_link", open, {50}, {42}},
    RoadClass{"tertiary", open, {50}, {38}},
    RoadClass{"tertiary_link", open, {45}, {38}},
    RoadClass{"unclassified", open, {40}, {30}},
    RoadClass{"road", open, {40}, {30}}, // "class unknown" in OSM: taken as the lowest through road
    RoadClass{"residential", open, {28}, {28}},
    RoadClass{"living_street", open, {8}, {8}},
    RoadClass{"service", open, {20}, {20}},
    RoadClass{"track", track, {40}, {40}}, // its tracktype says more
    RoadClass{"pedestrian", open_if_tagged, {8}, {8}},
    RoadClass{"footway", open_if_tagged, {8}, {8}},
    RoadClass{"path", open_if_tagged, {8}, {8}},
    RoadClass{"bridleway", open_if_tagged, {8}, {8}},
    RoadClass{"cycleway", open_if_tagged, {8}, {8}},
    RoadClass{"steps", never, {0}, {0}},
    RoadClass{"corridor", never, {0}, {0}},
    RoadClass{"busway", never, {0}, {0}},
    RoadClass{"bus_guideway", never, {0}, {0}},
    RoadClass{"raceway", never, {0}, {0}},
    RoadClass{"escape", never, {0}, {0}},
    RoadClass{"platform", never, {0}, {0}},
    RoadClass{"via_ferrata", never, {0}, {0}},
    RoadClass{"elevator", never, {0}, {0}},
    RoadClass{"services", never, {0}, {0}}, // the area beside a motorway; its lanes are ways of their own
    RoadClass{"rest_area", never, {0}, {0}},
    RoadClass{"emergency_bay", never, {0}, {0}},
    RoadClass{"construction", never, {0}, {0}},
    RoadClass{"proposed", never, {0}, {0}},
    RoadClass{"planned", never, {0}, {0}},
    RoadClass{"abandoned", never, {0}, {0}},
    RoadClass{"razed", never, {0}, {0}},
    RoadClass{"no", never, {0}, {0}},
};

constexpr RoadClass unknown{};

const RoadClass* find(std::string_view highway) {
    const auto row = std::find_if(table.begin(), table.end(), [&](const RoadClass& r) { return r.highway == highway; });
    return row == table.end() ? nullptr : &*row;
}

} // namespace

const RoadClass& road_class(std::string_view highway) {
    const RoadClass* row = find(highway);
    return row ? *row : unknown;
}

bool is_known_road_class(std::string_view highway) {
    return find(highway) != nullptr;
}

} // namespace routing::roads
