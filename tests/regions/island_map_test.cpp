#include "regions/coast.hpp"
#include "regions/spot.hpp"
#include "regions/terrain.hpp"
#include "regions/village.hpp"
#include "tests/regions/extract_reading.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <set>

using namespace regions_test;

namespace {

const Map& island_map() {
    static const Map map =
        read_map(std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "regions" / "ondrel" / "ondrel.osm.pbf");
    return map;
}

/// Villages level the ground, so they belong to the terrain.
const regions::Terrain& ground() {
    static const regions::Terrain terrain = [] {
        regions::Terrain made;
        regions::found_villages(made);
        return made;
    }();
    return terrain;
}

regions::Spot spot_of(std::int64_t node) {
    const Point at = island_map().nodes.at(node).at;
    return regions::to_spot({{static_cast<double>(at.latitude) * 1e-7}, {static_cast<double>(at.longitude) * 1e-7}});
}

bool whole(const Way& way) {
    return std::ranges::all_of(way.nodes, [](std::int64_t node) { return island_map().nodes.contains(node); });
}

/// Nothing, or the first byte that breaks RFC 3629.
std::optional<std::size_t> utf8_fault(const std::string& text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const std::size_t more = lead < 0x80                   ? 0
                                 : lead >= 0xC2 && lead < 0xE0 ? 1
                                 : lead >= 0xE0 && lead < 0xF0 ? 2
                                 : lead >= 0xF0 && lead < 0xF5 ? 3
                                                               : 9;
        if (more == 9 || i + more >= text.size())
            return i;
        for (std::size_t k = 1; k <= more; ++k)
            if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80)
                return i + k;
        i += more + 1;
    }
    return std::nullopt;
}

std::set<std::int64_t> reached(const std::map<std::int64_t, std::vector<std::int64_t>>& arcs, std::int64_t start) {
    std::set<std::int64_t> seen{start};
    std::vector<std::int64_t> open{start};
    while (!open.empty()) {
        const auto here = open.back();
        open.pop_back();
        const auto found = arcs.find(here);
        if (found == arcs.end())
            continue;
        for (const auto next : found->second)
            if (seen.insert(next).second)
                open.push_back(next);
    }
    return seen;
}

} // namespace

TEST_CASE("every object lies in the one elevation tile") {
    for (const auto& [id, node] : island_map().nodes) {
        REQUIRE(node.at.latitude > 460'000'000);
        REQUIRE(node.at.latitude < 470'000'000);
        REQUIRE(node.at.longitude > -280'000'000);
        REQUIRE(node.at.longitude < -270'000'000);
    }
}

TEST_CASE("one node of one lane is missing, and only that") {
    std::vector<std::string> holed;
    std::size_t missing = 0;
    for (const auto& [id, way] : island_map().ways) {
        CHECK(way.nodes.size() >= 2);
        for (const auto node : way.nodes) {
            if (!island_map().nodes.contains(node)) {
                ++missing;
                holed.push_back(way.tag("name"));
            }
        }
    }
    CHECK(missing == 1);
    CHECK(holed == std::vector<std::string>{"Ask Brokna"});
}

TEST_CASE("all text is valid UTF-8 and one name needs escaping everywhere") {
    std::set<std::string> names;
    const auto look = [&](const TagMap& tags) {
        for (const auto& [key, value] : tags) {
            REQUIRE_FALSE(utf8_fault(key));
            REQUIRE_MESSAGE(!utf8_fault(value), value);
        }
        if (tags.contains("name"))
            names.insert(tags.at("name"));
    };
    for (const auto& [id, node] : island_map().nodes)
        look(node.tags);
    for (const auto& [id, way] : island_map().ways)
        look(way.tags);
    for (const auto& [id, relation] : island_map().relations)
        look(relation.tags);
    CHECK(names.contains("Ondë & Fîl \"Öst\" <kipa>"));
    CHECK(utf8_fault("\xC3"));
    CHECK(utf8_fault("a\xFFz"));
}

TEST_CASE("the coastline closes and keeps the land on its left") {
    std::map<std::int64_t, const Way*> starts;
    for (const auto& [id, way] : island_map().ways)
        if (way.tag("natural") == "coastline")
            REQUIRE(starts.emplace(way.nodes.front(), &way).second);
    REQUIRE_FALSE(starts.empty());
    std::vector<double> areas;
    while (!starts.empty()) {
        regions::Line ring;
        const auto first = starts.begin()->first;
        auto here = first;
        do {
            const auto found = starts.find(here);
            REQUIRE(found != starts.end());
            for (const auto node : found->second->nodes)
                ring.push_back(spot_of(node));
            here = found->second->nodes.back();
            starts.erase(found);
        } while (here != first);
        areas.push_back(regions::signed_area(ring));
        CHECK(areas.back() > 0.0);
    }
    std::ranges::sort(areas, std::greater<>());
    CHECK(areas[0] > 300e6); // square metres
    CHECK(areas[0] < 1000e6);
    CHECK(areas[1] > 3e6);
    CHECK(areas[1] < 20e6);
}

TEST_CASE("roads and buildings stand on dry land") {
    std::size_t checked = 0;
    for (const auto& [id, way] : island_map().ways) {
        if (!way.tags.contains("highway") && !way.tags.contains("building"))
            continue;
        for (std::size_t i = 0; i + 1 < way.nodes.size(); ++i) {
            if (!island_map().nodes.contains(way.nodes[i]) || !island_map().nodes.contains(way.nodes[i + 1]))
                continue;
            for (const double share : {0.0, 0.33, 0.67}) {
                const regions::Spot spot = regions::between(spot_of(way.nodes[i]), spot_of(way.nodes[i + 1]), share);
                CHECK_MESSAGE(ground().is_land(spot), "way ", id, " ", way.tag("name"));
                ++checked;
            }
        }
    }
    CHECK(checked > 6000);
}

TEST_CASE("roads that cross share a node, but for tunnels and bridges") {
    struct Piece {
        std::int64_t way, from, to;
        regions::Spot a, b;
    };
    std::vector<Piece> pieces;
    for (const auto& [id, way] : island_map().ways) {
        if (!way.tags.contains("highway") || way.tags.contains("tunnel") || way.tags.contains("bridge") || !whole(way))
            continue;
        for (std::size_t i = 0; i + 1 < way.nodes.size(); ++i)
            pieces.push_back({id, way.nodes[i], way.nodes[i + 1], spot_of(way.nodes[i]), spot_of(way.nodes[i + 1])});
    }
    std::ranges::sort(pieces, {}, [](const Piece& p) { return std::min(p.a.east, p.b.east); });
    std::size_t untied = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const double east = std::max(pieces[i].a.east, pieces[i].b.east);
        for (std::size_t j = i + 1; j < pieces.size() && std::min(pieces[j].a.east, pieces[j].b.east) <= east; ++j) {
            const Piece& p = pieces[i];
            const Piece& q = pieces[j];
            if (p.from == q.from || p.from == q.to || p.to == q.from || p.to == q.to)
                continue;
            double s = 0.0;
            double t = 0.0;
            // Coordinates are rounded to a centimetre: a touch within two of them is no crossing.
            const double slack = 0.02;
            if (regions::segments_cross(p.a, p.b, q.a, q.b, s, t) && s * regions::distance(p.a, p.b) > slack &&
                (1 - s) * regions::distance(p.a, p.b) > slack && t * regions::distance(q.a, q.b) > slack &&
                (1 - t) * regions::distance(q.a, q.b) > slack) {
                ++untied;
                MESSAGE("way ", p.way, " crosses way ", q.way);
            }
        }
    }
    CHECK(untied == 0);
}

TEST_CASE("turn restrictions hang together, save the one that lost its from") {
    int sound = 0;
    int over_ways = 0;
    int broken = 0;
    for (const auto& [id, relation] : island_map().relations) {
        if (relation.tags.at("type") != "restriction")
            continue;
        std::set<std::int64_t> from;
        std::set<std::int64_t> via;
        std::set<std::int64_t> to;
        for (const auto& [type, member, role] : relation.members) {
            std::set<std::int64_t> ends{member};
            if (type == 'w') {
                const auto& nodes = island_map().ways.at(member).nodes;
                ends = {nodes.front(), nodes.back()};
                over_ways += role == "via" ? 1 : 0;
            }
            (role == "from" ? from : role == "via" ? via : to).merge(ends);
        }
        if (from.empty()) {
            ++broken;
            continue;
        }
        const auto meets = [&](const std::set<std::int64_t>& ends) {
            return std::ranges::any_of(ends, [&](std::int64_t node) { return via.contains(node); });
        };
        CHECK_MESSAGE((meets(from) && meets(to)), "relation ", id);
        ++sound;
    }
    CHECK(broken == 1);
    CHECK(over_ways == 1);
    CHECK(sound == 8);
}

TEST_CASE("the van gets round the island without the low tunnel") {
    const auto arcs = van_arcs(island_map());
    std::map<std::int64_t, std::vector<std::int64_t>> back;
    for (const auto& [from, list] : arcs)
        for (const auto to : list)
            back[to].push_back(from);
    std::optional<std::int64_t> low;
    for (const auto& [id, way] : island_map().ways)
        if (way.tag("maxheight") == "2.4")
            low = id;
    REQUIRE(low);
    const auto& tunnel = island_map().ways.at(*low);
    CHECK(tunnel.tag("ref") == "O 1");
    CHECK(tunnel.tag("tunnel") == "yes");

    const auto out = reached(arcs, tunnel.nodes.front());
    const auto home = reached(back, tunnel.nodes.front());
    // Both mouths of the tunnel, and a road near every village, to and fro.
    CHECK(out.contains(tunnel.nodes.back()));
    CHECK(home.contains(tunnel.nodes.back()));
    int settlements = 0;
    for (const auto& [id, node] : island_map().nodes) {
        if (!node.tags.contains("place"))
            continue;
        double nearest = 1e9;
        for (const auto road : out)
            if (home.contains(road))
                nearest = std::min(nearest, metres_between(island_map().nodes.at(road).at, node.at));
        CHECK_MESSAGE(nearest < 150.0, node.tags.at("name"));
        ++settlements;
    }
    CHECK(settlements == 11);
}

TEST_CASE("the pass is a saddle and its road is no steeper than a van can climb") {
    const auto pass = std::ranges::find_if(
        island_map().nodes, [](const auto& entry) { return entry.second.tags.contains("mountain_pass"); });
    REQUIRE(pass != island_map().nodes.end());
    const regions::Spot saddle = spot_of(pass->first);
    const double height = ground().height(saddle).value;
    // Lower north and south of it, higher along the crest both ways.
    CHECK(ground().height(saddle + regions::Spot{0.0, 900.0}).value < height - 50.0);
    CHECK(ground().height(saddle - regions::Spot{0.0, 900.0}).value < height - 50.0);
    CHECK(ground().height(ground().summits()[0].at).value > height + 300.0);
    CHECK(ground().height(ground().summits()[1].at).value > height + 300.0);

    bool on_road = false;
    double steepest = 0.0;
    for (const auto& [id, way] : island_map().ways) {
        if (way.tag("ref") != "O 2")
            continue;
        on_road = on_road || std::ranges::find(way.nodes, pass->first) != way.nodes.end();
        double run = 0.0;
        regions::Spot mark = spot_of(way.nodes.front());
        for (std::size_t i = 0; i + 1 < way.nodes.size(); ++i) {
            run += regions::distance(spot_of(way.nodes[i]), spot_of(way.nodes[i + 1]));
            if (run < 150.0)
                continue;
            const regions::Spot here = spot_of(way.nodes[i + 1]);
            steepest = std::max(steepest, std::abs(ground().height(here).value - ground().height(mark).value) / run);
            run = 0.0;
            mark = here;
        }
    }
    CHECK(on_road);
    CHECK(steepest > 0.06);
    CHECK(steepest < 0.16);
}

TEST_CASE("the island has what a crew and a road reader need to be tried on") {
    std::map<std::string, int> seen;
    const auto count = [&](const TagMap& tags) {
        for (const auto& [key, value] : tags)
            ++seen[key + "=" + value];
        for (const auto& [key, value] : tags)
            ++seen[key];
    };
    for (const auto& [id, node] : island_map().nodes)
        count(node.tags);
    for (const auto& [id, way] : island_map().ways)
        count(way.tags);
    int areas = 0;
    for (const auto& [id, relation] : island_map().relations) {
        count(relation.tags);
        areas += relation.tags.at("type") == "multipolygon" && relation.tags.contains("tourism") ? 1 : 0;
    }
    for (const char* wanted : {"junction=roundabout",
                               "highway=pedestrian",
                               "highway=living_street",
                               "oneway=yes",
                               "oneway=-1",
                               "tracktype=grade1",
                               "tracktype=grade2",
                               "tracktype=grade3",
                               "tracktype=grade4",
                               "tracktype=grade5",
                               "access=private",
                               "motor_vehicle=destination",
                               "barrier=gate",
                               "barrier=bollard",
                               "barrier=cattle_grid",
                               "ford=yes",
                               "bridge=yes",
                               "maxheight=2.4",
                               "zone:maxspeed",
                               "surface=compacted",
                               "smoothness=bad",
                               "motor_vehicle:conditional",
                               "seasonal",
                               "route=ferry",
                               "duration=00:25",
                               "interval",
                               "sac_scale",
                               "highway=steps",
                               "highway=trailhead",
                               "amenity=hospital",
                               "amenity=pharmacy",
                               "amenity=fuel",
                               "restriction=no_left_turn",
                               "restriction=only_straight_on",
                               "restriction=no_u_turn",
                               "natural=peak",
                               "waterway=stream"})
        CHECK_MESSAGE(seen[wanted] > 0, wanted);
    CHECK(areas >= 2);
    CHECK(seen["opening_hours"] >= 50);
    CHECK(seen["phone"] >= 60);
    CHECK(seen["website"] == 0);
    CHECK(seen["amenity=parking"] >= 12);
}
