#pragma once
/// The parts of a shoot file, one reader each; `read_shoot.cpp` puts them together. Every reader adds its faults and
/// goes on with what it can use.

#include "cli/json_fields.hpp"
#include "routing/shoot/shoot.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cli {

/// The ids of a list's items as far as they are sound; "" for one that isn't. Ids that stand twice are faults.
std::vector<std::string> read_ids(const std::vector<Field>& items, std::string_view what);
/// Index of an id among `known`; a fault offering the nearest known one otherwise.
std::optional<std::uint32_t> read_reference(const Field& field, const std::vector<std::string>& known,
                                            std::string_view what);

/// `{"name": ..., "at": {...}}`
std::optional<routing::shoot::NamedPoint> read_named_point(const Field& field);

routing::shoot::Crew read_crew(const Field& field);

/// What the edges of a day depend on.
struct DayFrame {
    bool has_base = false;
    bool has_lodging = false;
};
/// `days` in order of time, not overlapping, their starts and ends fitting together.
std::vector<routing::shoot::ShootDay> read_days(const Field& field, const DayFrame& frame, const geo::TimeZone& zone);

/// `ids` as `read_ids` gave them.
std::vector<routing::shoot::Location> read_locations(const std::vector<Field>& items,
                                                     const std::vector<std::string>& ids);

/// What scenes may lean on: ids, the way the camera looks at each location that says so, elevation tiles.
struct KnownIds {
    std::vector<std::string> locations;
    std::vector<std::string> scenes;
    std::vector<std::optional<geo::Degrees>> facings{};
    bool terrain = false;
    geo::TimeZone zone; ///< for instants without an offset
};
std::vector<routing::shoot::Scene> read_scenes(const std::vector<Field>& items, const KnownIds& known);

std::vector<routing::shoot::MealWish> read_meals(const Field& field);
routing::shoot::Lodging read_lodging(const Field& field);

/// A point of the file and where it stands, for the check below.
struct PlacedField {
    std::string pointer;
    std::string what; ///< "location arch"
    geo::Coordinate at;
};
/// Adds a fault for each place that lies more than 1,000 km from most others but, with latitude and longitude in each
/// other's place, within 100 km of one of them. Of two places, the later one is taken for the wrong one.
void check_swapped_places(const std::vector<PlacedField>& places, Faults& faults);

} // namespace cli
