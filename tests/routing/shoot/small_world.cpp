#include "small_world.hpp"

#include <doctest/doctest.h>

#include <cstdio>
#include <fstream>
#include <unistd.h>

namespace small_world {

namespace {

constexpr double degrees_per_km = 1.0 / 111.319491; // WGS 84 equator: 6378137 m * pi / 180

void node(std::ofstream& osm, long id, double km, double north_km, const std::string& tags = "") {
    char text[160];
    std::snprintf(text, sizeof text, R"(<node id="%ld" version="1" lat="%.7f" lon="%.7f">)", id,
                  north_km * degrees_per_km, km * degrees_per_km);
    osm << text << tags << "</node>\n";
}

void write(const std::filesystem::path& file, const std::map<int, std::string>& tags_of_way) {
    const auto tags = [&](int way, const std::string& name) {
        const auto given = tags_of_way.find(way);
        return (given != tags_of_way.end() ? given->second
                                           : tag("highway", "primary") + tag("maxspeed", "60") + tag("name", name)) +
               "</way>\n";
    };
    std::ofstream osm(file);
    osm << "<?xml version='1.0' encoding='UTF-8'?>\n<osm version=\"0.6\">\n";
    for (int n = 0; n <= 6; ++n)
        node(osm, 100 + n, 5.0 * n, 0.0);
    node(osm, 201, 10.0, 5.0);
    node(osm, 202, 20.0, 5.0);
    node(osm, 301, 14.0, 0.02,
         tag("amenity", "cafe") + tag("name", "Halfway Cups") + tag("opening_hours", "Mo-Su 09:00-17:00"));
    node(osm, 302, 26.0, 0.02, tag("tourism", "guest_house") + tag("name", "Inn at 26"));
    node(osm, 303, 29.0, 0.02, tag("tourism", "hotel") + tag("name", "Hotel at 29"));
    for (int n = 1; n <= 6; ++n)
        osm << "<way id=\"" << n << "\" version=\"1\"><nd ref=\"" << 99 + n << "\"/><nd ref=\"" << 100 + n << "\"/>"
            << tags(n, "Long Road");
    osm << "<way id=\"7\" version=\"1\"><nd ref=\"102\"/><nd ref=\"201\"/><nd ref=\"202\"/><nd ref=\"104\"/>"
        << tags(7, "Loop Lane") << "</osm>\n";
}

} // namespace

std::string tag(const std::string& key, const std::string& value) {
    return "<tag k=\"" + key + "\" v=\"" + value + "\"/>";
}

geo::Coordinate at_km(double km) {
    return {geo::Degrees{0.0}, geo::Degrees{km * degrees_per_km}};
}

routing::shoot::Region load() {
    return load_with({});
}

routing::shoot::Region load_with(const std::map<int, std::string>& tags_of_way) {
    const std::filesystem::path file =
        std::filesystem::temp_directory_path() / ("small_world_" + std::to_string(getpid()) + ".osm");
    write(file, tags_of_way);
    routing::shoot::Region region = routing::shoot::load_region(file.string(), {});
    region.file = "small_world.osm";
    std::filesystem::remove(file);
    return region;
}

const routing::shoot::Region& region() {
    static const routing::shoot::Region loaded = load();
    return loaded;
}

bool holds(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

bool says(const std::string& text, const std::string& part) {
    const bool found = holds(text, part);
    if (!found)
        MESSAGE("not said in: ", text);
    return found;
}

routing::shoot::Shoot empty_shoot() {
    routing::shoot::Shoot shoot{.title = "Small world",
                                .zone_name = "UTC",
                                .zone = geo::find_time_zone("UTC").value(),
                                .file = "small.json",
                                .regions = {"small_world.osm"}};
    shoot.crew.vehicle = {geo::Metres{2.5}, geo::Metres{2.0}, geo::Metres{5.5}, geo::Tonnes{3.0}, false};
    shoot.base = routing::shoot::NamedPoint{"Base", at_km(0.0)};
    shoot.days = {{geo::parse_date("2027-03-20").value(), std::chrono::hours{6}, std::chrono::hours{20},
                   routing::shoot::DayEdge::base, routing::shoot::DayEdge::base}};
    return shoot;
}

std::uint32_t add_scene(routing::shoot::Shoot& shoot, const std::string& id, double km, int length_minutes,
                        geo::LightRequest light, bool must, int worth) {
    shoot.locations.push_back({.id = "at-" + id, .name = "Spot " + id, .at = at_km(km)});
    routing::shoot::Scene scene;
    scene.id = id;
    scene.title = "Scene " + id;
    scene.must = must;
    scene.worth = worth;
    scene.options = {{static_cast<std::uint32_t>(shoot.locations.size() - 1),
                      std::chrono::minutes{length_minutes},
                      {std::move(light)},
                      {}}};
    shoot.scenes.push_back(std::move(scene));
    return static_cast<std::uint32_t>(shoot.scenes.size() - 1);
}

geo::LightRequest clock(int from_hour, int until_hour) {
    return geo::ClockRange{std::chrono::hours{from_hour}, std::chrono::hours{until_hour}};
}

routing::shoot::MealWish lunch(std::chrono::minutes from, std::chrono::minutes until, bool packed) {
    routing::shoot::MealWish wish;
    wish.name = "lunch";
    wish.from = from;
    wish.until = until;
    wish.length = std::chrono::minutes{45};
    wish.where = packed ? routing::shoot::MealWhere::packed : routing::shoot::MealWhere::find;
    wish.kinds = {routing::places::PlaceKind::cafe};
    return wish;
}

routing::shoot::Lodging beds(std::vector<routing::places::PlaceKind> kinds) {
    routing::shoot::Lodging lodging;
    lodging.kinds = std::move(kinds);
    return lodging;
}

geo::Instant at_clock(const routing::shoot::Shoot& shoot, int hour, int minute) {
    return geo::instant_of(shoot.days.front().date, std::chrono::hours{hour} + std::chrono::minutes{minute},
                           shoot.zone);
}

} // namespace small_world
