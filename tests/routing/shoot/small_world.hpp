#pragma once
/// A hand-made map small enough to reckon on paper: a straight main road along the equator, a place every 5 km, and a
/// longer way round the middle.
///
///     0 ---- 5 ---- 10 ---- 15 ---- 20 ---- 25 ---- 30   Long Road, signed 60 km/h: van 54 km/h, 5 km in 5 min 33 s
///                    \_____ Loop Lane _____/             from 10 to 20 by the north
///
/// Longitude 0 at km 0; one kilometre is 1/111.3195 degrees.

#include "routing/shoot/planner.hpp"
#include "routing/shoot/region.hpp"

#include <filesystem>
#include <map>
#include <string>

namespace small_world {

/// The spot `km` along Long Road.
geo::Coordinate at_km(double km);

/// Ways: 1-6 Long Road piece by piece (way n leads from km 5(n-1) to km 5n), 7 Loop Lane. A café at km 14, an inn at
/// km 26, a hotel at km 29, as nodes 30 m off the road.
routing::shoot::Region load();

/// The same with other tags (OSM XML) on some ways in place of their own.
routing::shoot::Region load_with(const std::map<int, std::string>& tags_of_way);
std::string tag(const std::string& key, const std::string& value);

/// The same, read once.
const routing::shoot::Region& region();

bool holds(const std::string& text, const std::string& part);
/// `holds`, and shows the text when it does not.
bool says(const std::string& text, const std::string& part);

/// One day, 2027-03-20 in UTC, 06:00 to 20:00, from and to a base at km 0; no scenes.
routing::shoot::Shoot empty_shoot();

/// Adds a location at `km` and a scene there; gives the scene's number.
std::uint32_t add_scene(routing::shoot::Shoot& shoot, const std::string& id, double km, int length_minutes,
                        geo::LightRequest light, bool must = true, int worth = 0);

/// A light request by the clock, hours.
geo::LightRequest clock(int from_hour, int until_hour);

/// A meal of 45 minutes at a café, or carried along.
routing::shoot::MealWish lunch(std::chrono::minutes from, std::chrono::minutes until, bool packed = false);

/// Lodging to be found among these kinds.
routing::shoot::Lodging beds(std::vector<routing::places::PlaceKind> kinds);

/// HH:MM of the shoot's first day.
geo::Instant at_clock(const routing::shoot::Shoot& shoot, int hour, int minute);

} // namespace small_world
