#include "cli/read_shoot.hpp"

#include "cli/field_values.hpp"
#include "cli/json_fields.hpp"
#include "cli/plain_text.hpp"
#include "cli/read_closure.hpp"
#include "cli/shoot_parts.hpp"
#include "routing/order/check_problem.hpp"

#include <algorithm>
#include <array>

namespace cli {

using routing::shoot::Shoot;

// What the solver would refuse is a fault of the file, with its place in it.
static_assert(scene_limit == routing::order::most_visits);
static_assert(day_limit == routing::order::most_days);
static_assert(meal_limit == routing::order::most_meals);
static_assert(option_limit == routing::order::most_options);

namespace {

constexpr std::array<LaterKey, 1> later_keys{{
    {"forecast", "leave it out: the weather is not judged"},
}};

geo::TimeZone any_zone(const std::string& file) {
    const auto zone = geo::find_time_zone("UTC");
    if (!zone)
        throw geo::InputError({{file, "/time_zone", "", "can't be looked up: this system has no time zone database",
                                "install the package tzdata"}});
    return *zone;
}

/// The named zone, or UTC after a fault, so that the rest of the file can be checked too.
geo::TimeZone read_zone(const Members& root, std::string& name) {
    const geo::TimeZone fallback = any_zone(root.field().faults().file());
    const auto field = root.need("time_zone", "name the zone the clocks on set follow, like \"Atlantic/Azores\"");
    const auto text = field ? field->text("name a time zone, like \"Atlantic/Azores\"") : std::nullopt;
    if (!text)
        return fallback;
    const auto zone = geo::find_time_zone(*text);
    if (!zone) {
        field->fault("is no time zone known here", "did you mean \"" + geo::nearest_zone_name(*text) + "\"?");
        return fallback;
    }
    name = *text;
    return *zone;
}

/// Files named in a list, as paths from the shoot file's folder, each there and named once.
std::vector<std::string> read_files(const std::vector<Field>& names, const std::filesystem::path& folder,
                                    const std::string& what, const std::string& example) {
    std::vector<std::string> files;
    for (const Field& name : names) {
        const auto text = name.text("name the " + what + ", like \"" + example + "\"");
        if (!text)
            continue;
        const std::filesystem::path path = (folder / *text).lexically_normal();
        std::error_code failure;
        const auto status = std::filesystem::status(path, failure);
        if (!std::filesystem::exists(status))
            name.fault("is not there: no file " + shown(path.string()), "give the path from the shoot file's folder");
        else if (std::filesystem::is_directory(status))
            name.fault("is a folder", "name the " + what + " inside it");
        else if (std::find(files.begin(), files.end(), path.string()) != files.end())
            name.fault("is named twice", "name each " + what + " once");
        else
            files.push_back(path.string());
    }
    return files;
}

std::vector<std::string> read_region(const Members& root, const std::filesystem::path& folder) {
    const auto field = root.need("region", "name the map file, like \"map.osm.pbf\"");
    if (!field)
        return {};
    std::vector<Field> names{*field};
    if (field->is(JsonValue::Kind::list))
        names = field->filled_list("map files").value_or(std::vector<Field>{});
    return read_files(names, folder, "map file", "map.osm.pbf");
}

void read_closures(const Field& field, const geo::TimeZone& zone, std::vector<routing::roads::Closure>& closures) {
    for (const Field& item : field.list("closures").value_or(std::vector<Field>{})) {
        if (auto closure = read_closure(item, zone))
            closures.push_back(std::move(*closure));
    }
}

std::vector<geo::CivilDate> read_holidays(const Field& field) {
    std::vector<geo::CivilDate> days;
    for (const Field& item : field.list("public holidays").value_or(std::vector<Field>{}))
        if (const auto day = read_date(item))
            days.push_back(*day);
    return days;
}

/// Every place of the file, each with where it stands.
std::vector<PlacedField> placed_fields(const Shoot& shoot, const std::vector<Field>& location_fields) {
    std::vector<PlacedField> places;
    if (shoot.base)
        places.push_back({"/base/at", "the base", shoot.base->at});
    for (std::size_t n = 0; n < shoot.locations.size(); ++n) {
        const auto& location = shoot.locations[n];
        const std::string pointer = location_fields[n].pointer();
        if (location_fields[n].value().find("at") != nullptr && geo::is_valid(location.at))
            places.push_back({pointer + "/at", "location " + shown(location.id), location.at});
        if (location.park_at)
            places.push_back({pointer + "/park_at", "the parking of " + shown(location.id), *location.park_at});
    }
    for (std::size_t n = 0; n < shoot.meals.size(); ++n) {
        if (shoot.meals[n].where == routing::shoot::MealWhere::fixed)
            places.push_back({"/meals/" + std::to_string(n) + "/where/at", "meal " + shown(shoot.meals[n].name),
                              shoot.meals[n].fixed.at});
    }
    if (shoot.lodging && !shoot.lodging->find)
        places.push_back({"/lodging/where/at", "the lodging", shoot.lodging->fixed.at});
    return places;
}

/// A list that may not be missing or empty.
std::vector<Field> needed_list(const Members& root, std::string_view key) {
    const auto field = root.need(key, "give at least one of the " + std::string(key));
    if (!field)
        return {};
    return field->filled_list(key).value_or(std::vector<Field>{});
}

Shoot read_root(const JsonValue& json, Faults& faults, const std::filesystem::path& folder) {
    const Members root = Field(json, "", faults)
                             .object({"title", "time_zone", "region", "crew", "base", "days", "locations", "scenes",
                                      "meals", "lodging", "closures", "holidays", "terrain", "$schema"},
                                     later_keys);
    if (!root.real())
        faults.throw_if_any();

    std::string zone_name;
    const geo::TimeZone zone = read_zone(root, zone_name);
    Shoot shoot{.title = {},
                .zone_name = zone_name,
                .zone = zone,
                .file = faults.file(),
                .regions = {},
                .terrain = {},
                .crew = {},
                .base = {},
                .days = {},
                .locations = {},
                .scenes = {},
                .meals = {},
                .lodging = {},
                .closures = {},
                .holidays = {},
                .warnings = {}};
    if (const auto title = root.need("title", "name the shoot"))
        shoot.title = title->text("name the shoot").value_or("");
    shoot.regions = read_region(root, folder);
    if (const auto crew = root.find("crew"))
        shoot.crew = read_crew(*crew);
    if (const auto base = root.find("base"))
        shoot.base = read_named_point(*base);
    if (const auto lodging = root.find("lodging"))
        shoot.lodging = read_lodging(*lodging);
    if (const auto days = root.need("days", "give at least one of the days"))
        shoot.days = read_days(*days, {root.find("base").has_value(), root.find("lodging").has_value()}, zone);

    const std::vector<Field> locations = needed_list(root, "locations");
    const std::vector<Field> scenes = needed_list(root, "scenes");
    if (const auto terrain = root.find("terrain"))
        shoot.terrain = read_files(terrain->filled_list("elevation tiles").value_or(std::vector<Field>{}), folder,
                                   "elevation tile", "N47E009.hgt");
    KnownIds known{
        read_ids(locations, "location"), read_ids(scenes, "scene"), {}, root.find("terrain").has_value(), zone};
    shoot.locations = read_locations(locations, known.locations);
    for (const auto& location : shoot.locations)
        known.facings.push_back(location.facing);
    if (scenes.size() > scene_limit)
        root.find("scenes")->fault("holds " + std::to_string(scenes.size()) + " scenes, more than can be ordered",
                                   "give at most " + std::to_string(scene_limit) + ", or split the shoot");
    else
        shoot.scenes = read_scenes(scenes, known);
    if (const auto meals = root.find("meals"))
        shoot.meals = read_meals(*meals);
    if (const auto closures = root.find("closures"))
        read_closures(*closures, zone, shoot.closures);
    if (const auto holidays = root.find("holidays"))
        shoot.holidays = read_holidays(*holidays);
    check_swapped_places(placed_fields(shoot, locations), faults);
    std::stable_sort(shoot.meals.begin(), shoot.meals.end(),
                     [](const auto& a, const auto& b) { return a.from < b.from; }); // as the day needs them
    return shoot;
}

} // namespace

Shoot parse_shoot(const std::string& text, const std::string& file, const std::filesystem::path& folder) {
    Faults faults(file);
    const JsonValue json = parse_json(text, faults);
    Shoot shoot = read_root(json, faults, folder);
    faults.throw_if_any();
    return shoot;
}

Shoot read_shoot(const std::string& file) {
    return parse_shoot(read_text_file(file), file == "-" ? "standard input" : file,
                       file == "-" ? std::filesystem::path() : std::filesystem::path(file).parent_path());
}

} // namespace cli
