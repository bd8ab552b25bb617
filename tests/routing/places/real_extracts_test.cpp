#include "routing/places/place.hpp"
#include "tests/support/shared_data.hpp"

#include <boost/geometry.hpp>
#include <doctest/doctest.h>
#include <osmium/handler.hpp>
#include <osmium/io/any_input.hpp>
#include <osmium/visitor.hpp>

#include <algorithm>
#include <array>
#include <string>

using namespace routing::places;
using routing::roads::Feature;
using routing::roads::OsmType;

namespace bg = boost::geometry;

namespace {

constexpr std::size_t kind_count = 24;

const char* key_of(PlaceKind kind) {
    if (need_of(kind) == Need::bed)
        return "tourism";
    if (kind == PlaceKind::bakery || kind == PlaceKind::supermarket)
        return "shop";
    return kind == PlaceKind::trailhead ? "highway" : "amenity";
}

/// How many objects of a kind a file holds, counted from its raw objects without any of our reading.
struct Count {
    int nodes_and_ways = 0; ///< tag equals; what a plain count of the file gives
    int multipolygons = 0;  ///< tag equals
    int listed = 0;         ///< tag is a list with the value in it: node, closed way or multipolygon
    int open_lines = 0;     ///< of nodes_and_ways: ways that close no ring
    int shut = 0;           ///< of the others: not for strangers

    int for_the_crew() const { return nodes_and_ways + multipolygons + listed - open_lines - shut; }
};

class Counter : public osmium::handler::Handler {
public:
    void node(const osmium::Node& node) { count(node, true, false); }
    void way(const osmium::Way& way) { count(way, way.nodes().size() > 3 && way.ends_have_same_id(), false); }
    void relation(const osmium::Relation& relation) {
        if (relation.tags().has_tag("type", "multipolygon"))
            count(relation, true, true);
    }
    const Count& operator[](PlaceKind kind) const { return counts_.at(static_cast<std::size_t>(kind)); }

private:
    void count(const osmium::OSMObject& object, bool has_extent, bool multipolygon) {
        for (std::size_t i = 0; i < kind_count; ++i) {
            const auto kind = static_cast<PlaceKind>(i);
            const char* value = object.tags().get_value_by_key(key_of(kind), "");
            const std::string wanted(to_string(kind));
            const bool equal = value == wanted;
            const bool listed =
                !equal && (";" + std::string(value) + ";").find(";" + wanted + ";") != std::string::npos;
            if (!equal && !listed)
                continue;
            Count& sum = counts_.at(i);
            sum.nodes_and_ways += equal && !multipolygon ? 1 : 0;
            sum.multipolygons += equal && multipolygon ? 1 : 0;
            sum.open_lines += equal && !has_extent ? 1 : 0;
            sum.listed += listed && has_extent ? 1 : 0;
            sum.shut += has_extent && is_shut(object.tags(), kind) ? 1 : 0;
        }
    }
    /// The access values these files hold on such objects.
    static bool is_shut(const osmium::TagList& tags, PlaceKind kind) {
        const std::string access = tags.get_value_by_key("access", "");
        const bool for_some = access == "customers" || access == "permit";
        return access == "private" || access == "no" || (for_some && kind == PlaceKind::parking);
    }
    std::array<Count, kind_count> counts_{};
};

Counter count_raw(const std::filesystem::path& file) {
    Counter counter;
    osmium::io::Reader reader(file.string());
    osmium::apply(reader, counter);
    reader.close();
    return counter;
}

using Globe = bg::model::point<double, 2, bg::cs::geographic<bg::degree>>;

Globe globe(geo::Coordinate place) {
    return {place.longitude.value, place.latitude.value};
}

/// Oracle: Boost.Geometry on each single ring; these areas have one outer ring.
bool is_one_place(const Feature& point_of, const Feature& area, bool named) {
    const bool a_node = point_of.object.type == OsmType::node || area.object.type == OsmType::node;
    if (area.outline.empty())
        return named && a_node && bg::distance(globe(point_of.at), globe(area.at)) <= 30.0;
    bg::model::polygon<Globe, false> polygon;
    bg::model::linestring<Globe> line;
    for (const auto corner : area.outline) {
        bg::append(polygon, globe(corner));
        bg::append(line, globe(corner));
    }
    bg::correct(polygon);
    if (bg::covered_by(globe(point_of.at), polygon))
        return true;
    return named && a_node && bg::distance(globe(point_of.at), line) <= 30.0;
}

/// Looks at every pair of one kind and name; how many objects of `kind` repeat another.
int repeats(const std::vector<Feature>& features, PlaceKind kind) {
    std::vector<const Feature*> objects;
    for (const OsmType type : {OsmType::relation, OsmType::way, OsmType::node})
        for (const Feature& feature : features) {
            const auto kinds = kinds_of(feature.tags);
            if (feature.object.type == type && std::find(kinds.begin(), kinds.end(), kind) != kinds.end())
                objects.push_back(&feature);
        }
    std::vector<const Feature*> kept;
    for (const Feature* object : objects) {
        const auto name = object->tags["name"];
        const bool repeat = std::any_of(kept.begin(), kept.end(), [&](const Feature* other) {
            return other->tags["name"] == name &&
                   (is_one_place(*object, *other, !name.empty()) || is_one_place(*other, *object, !name.empty()));
        });
        if (!repeat)
            kept.push_back(object);
    }
    return static_cast<int>(objects.size() - kept.size());
}

constexpr std::array<const char*, 6> files{
    "osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2021-05-05.osm.pbf",
    "osm/monaco-2022-07-19.osm.pbf",  "osm/helsinki-centre-2019-04.osm.pbf",
    "osm/andorra-2015-01-13.osm.pbf", "osm/liechtenstein-2013-08-03.osm.pbf",
};

struct PublishedRow {
    PlaceKind kind;
    std::array<int, 6> nodes_and_ways; ///< in the order of `files`
};

// Counted with osmium-tool 1.15.0, nodes + ways: the table beside the files.
constexpr std::array<PublishedRow, 19> published{{
    {PlaceKind::restaurant, {213, 74, 104, 214, 71, 32}},
    {PlaceKind::cafe, {31, 14, 20, 89, 9, 4}},
    {PlaceKind::fast_food, {28, 10, 17, 54, 14, 10}},
    {PlaceKind::pub, {8, 3, 3, 51, 4, 2}},
    {PlaceKind::fuel, {49, 14, 4, 0, 25, 16}},
    {PlaceKind::charging_station, {3, 3, 0, 4, 0, 0}},
    {PlaceKind::hospital, {10, 1, 7, 0, 7, 1}},
    {PlaceKind::clinic, {1, 1, 0, 3, 0, 0}},
    {PlaceKind::doctors, {4, 10, 1, 3, 0, 0}},
    {PlaceKind::pharmacy, {33, 5, 12, 6, 12, 4}},
    {PlaceKind::parking, {361, 373, 67, 43, 130, 127}},
    {PlaceKind::hotel, {145, 32, 19, 26, 70, 12}},
    {PlaceKind::guest_house, {3, 2, 0, 0, 2, 1}},
    {PlaceKind::hostel, {6, 1, 0, 3, 2, 2}},
    {PlaceKind::motel, {1, 0, 0, 0, 0, 0}},
    {PlaceKind::apartment, {10, 1, 0, 0, 0, 0}},
    {PlaceKind::chalet, {2, 24, 0, 0, 1, 0}},
    {PlaceKind::alpine_hut, {5, 4, 0, 0, 11, 3}},
    {PlaceKind::camp_site, {7, 3, 0, 0, 7, 1}},
}};

struct Known {
    std::size_t file;
    PlaceKind kind;
    int places;
};

// The differences to the table, one by one: what a reader of nodes and ways alone, or without merging, would get wrong.
constexpr std::array<Known, 9> known{{
    {0, PlaceKind::restaurant, 212}, // 213, one of them twice
    {0, PlaceKind::hotel, 148},      // 145 and 4 multipolygons, one of them twice
    {0, PlaceKind::parking, 327},    // 361 and 2 multipolygons, 34 shut to strangers, 2 nodes in or on their car park
    {1, PlaceKind::hotel, 28},       // 32, four of them node and building
    {1, PlaceKind::parking, 290},    // 373 and 1 multipolygon, 80 shut, 4 repeats
    {2, PlaceKind::fuel, 5},         // 4 and one amenity=parking;fuel
    {2, PlaceKind::pharmacy, 12},    // 12 and 1 multipolygon that repeats one of them
    {3, PlaceKind::restaurant, 214}, // 214 and one amenity=nightclub;restaurant, one twice
    {3, PlaceKind::hotel, 27},       // 26 and 1 multipolygon
}};

} // namespace

TEST_CASE("places of a real extract are its tagged objects less the shut ones and the repeats, kind by kind") {
    for (std::size_t f = 0; f < files.size(); ++f) {
        const auto file = support::shared_data(files.at(f));
        if (!file)
            continue;
        const Counter raw = count_raw(*file);
        for (const PublishedRow& row : published)
            CHECK_MESSAGE(raw[row.kind].nodes_and_ways == row.nodes_and_ways.at(f), files.at(f), " ",
                          to_string(row.kind));

        const auto extract = routing::roads::read_extract(*file, is_place);
        const auto places = find_places(extract);
        std::size_t total = 0;
        for (std::size_t i = 0; i < kind_count; ++i) {
            const auto kind = static_cast<PlaceKind>(i);
            const auto found =
                std::count_if(places.begin(), places.end(), [kind](const Place& p) { return p.kind == kind; });
            const int expected = raw[kind].for_the_crew() - repeats(extract.features, kind);
            CHECK_MESSAGE(found == expected, files.at(f), " ", to_string(kind));
            for (const Known& one : known)
                if (one.file == f && one.kind == kind)
                    CHECK_MESSAGE(found == one.places, files.at(f), " ", to_string(kind));
            total += static_cast<std::size_t>(found);
        }
        CHECK(total == places.size());
    }
}
