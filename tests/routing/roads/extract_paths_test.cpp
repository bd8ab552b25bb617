// Paths, closures and snapping on real extracts, and on an invented town for where those are not at hand.

#include "brute_force_snap.hpp"
#include "dice.hpp"
#include "edge_based_reference.hpp"
#include "hand_network.hpp"
#include "path_walk.hpp"
#include "raw_rules.hpp"
#include "routing/roads/closure.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <filesystem>

using namespace geo::literals;
using namespace routing::roads;

namespace {

constexpr const char* town = "town";
const std::vector<std::string> extracts{town,
                                        "osm/andorra-2023-05-02.osm.pbf",
                                        "osm/liechtenstein-2013-08-03.osm.pbf",
                                        "osm/liechtenstein-2021-05-05.osm.pbf",
                                        "osm/monaco-2022-07-19.osm.pbf",
                                        "osm/helsinki-centre-2019-04.osm.pbf"};

/// One extract with all that is asked of it; built once, the tests below run over all of them.
struct Map {
    std::string name;
    OsmExtract extract;
    RoadNetwork network;
    support::TurnRules rules;

    explicit Map(const std::string& file_name, const std::filesystem::path& file)
        : name(file_name), extract(read_extract(file, [](const Tags&) { return false; })),
          network(build_network(extract, Vehicle{})), rules(support::raw_turn_rules(extract, network)) {}
};

const std::vector<Map>& maps() {
    static const std::vector<Map> all = [] {
        std::vector<Map> present;
        for (const std::string& name : extracts) {
            const auto file =
                name == town ? std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "tests/routing/roads/data/harbour_town.osm"
                             : support::shared_data(name).value_or("");
            if (!file.empty())
                present.emplace_back(name, file);
        }
        return present;
    }();
    return all;
}

bool is_open(const Edge& edge) {
    return edge.forward < closed || edge.backward < closed;
}

RoadPoint random_point(const RoadNetwork& network, support::Dice& dice) {
    for (;;) {
        const EdgeIndex edge{dice.below(static_cast<std::uint32_t>(network.edges.size()))};
        if (is_open(network.edges[value(edge)]))
            return support::on(network, edge, dice.share());
    }
}

std::vector<RoadPoint> random_points(const RoadNetwork& network, support::Dice& dice, int count) {
    std::vector<RoadPoint> points;
    for (int i = 0; i < count; ++i)
        points.push_back(random_point(network, dice));
    return points;
}

EdgeIndex edge_of_way(const RoadNetwork& network, OsmId way) {
    for (std::uint32_t i = 0; i < network.edges.size(); ++i)
        if (network.edges[i].way == way)
            return EdgeIndex{i};
    FAIL("no such way: ", way);
    return {};
}

Milliseconds time_of(const std::optional<Path>& path) {
    return path ? path->time : closed;
}

} // namespace

TEST_CASE("the edges of every extract agree with their ways' plain tags") {
    for (const Map& map : maps()) {
        CAPTURE(map.name);
        CHECK(support::tag_faults(map.extract, map.network) == std::vector<std::string>{});
    }
}

TEST_CASE("500 random pairs of each extract: times equal the edge-based reference, paths can be driven") {
    for (const Map& map : maps()) {
        CAPTURE(map.name);
        support::EdgeBasedReference reference(map.network, map.rules);
        PathFinder finder(map.network);
        support::Dice dice(500);
        int found = 0;
        for (const RoadPoint& from : random_points(map.network, dice, 100)) {
            const auto targets = random_points(map.network, dice, 5);
            const auto times = finder.travel_times({from}, targets);
            for (std::size_t i = 0; i < targets.size(); ++i) {
                const auto path = finder.quickest_path(from, targets[i]);
                REQUIRE(time_of(path) == reference.quickest(from, targets[i]).value_or(closed));
                REQUIRE(times[i] == time_of(path));
                if (path) {
                    ++found;
                    REQUIRE(support::fault_of(map.network, map.rules, from, targets[i], *path) == "");
                }
            }
        }
        CHECK(found > 300);
        CHECK(!map.rules.forbidden.empty());
    }
}

TEST_CASE("a shut road on the best path sends the van round as the reference without it does, or nowhere") {
    for (const Map& map : maps()) {
        CAPTURE(map.name);
        const SnapIndex index(map.network);
        PathFinder finder(map.network);
        support::Dice dice(77);
        int changed = 0;
        int cut_off = 0;
        for (int tries = 0; tries < 200 && (changed < 5 || cut_off < 2); ++tries) {
            const RoadPoint from = random_point(map.network, dice);
            const RoadPoint to = random_point(map.network, dice);
            const auto before = finder.quickest_path(from, to);
            if (!before || before->pieces.size() < 3)
                continue;
            const PathPiece& middle = before->pieces[before->pieces.size() / 2];
            const OsmId way = map.network.edges[value(middle.edge)].way;
            if (way == map.network.edges[value(from.edge)].way || way == map.network.edges[value(to.edge)].way)
                continue;
            const auto match = match_closure(map.network, index, {routing::roads::Ways{{way}}, ""});
            REQUIRE(match.problem.empty());
            ClosedEdges shut;
            close(shut, map.network, match);
            const auto after = finder.quickest_path(from, to, shut);
            ++(after ? changed : cut_off);
            if (after ? changed > 5 : cut_off > 2)
                continue;
            support::EdgeBasedReference reference(map.network, map.rules, shut);
            CHECK(time_of(after) == reference.quickest(from, to).value_or(closed));
            CHECK(time_of(after) >= before->time);
            CHECK(finder.travel_times({from}, {to}, shut).front() == time_of(after));
            if (after)
                CHECK(support::fault_of(map.network, map.rules, from, to, *after, shut) == "");
            CHECK(time_of(finder.quickest_path(from, to)) == before->time);
        }
        CHECK(changed >= 5);
        CHECK(cut_off >= 1);
    }
}

TEST_CASE("300 random places of each extract snap where brute force over all segments does") {
    for (const Map& map : maps()) {
        CAPTURE(map.name);
        const SnapIndex index(map.network);
        const support::BruteForceSnap brute_force(map.network);
        support::Dice dice(300);
        REQUIRE(map.extract.box);
        const auto& [south_west, north_east] = *map.extract.box;
        for (int i = 0; i < 300; ++i) {
            const geo::Coordinate place{{dice.between(south_west.latitude.value, north_east.latitude.value)},
                                        {dice.between(south_west.longitude.value, north_east.longitude.value)}};
            REQUIRE(brute_force.fault_of(index, place, 2000.0_m) == "");
        }
    }
}

TEST_CASE("in the invented town a restriction over a way binds who drives all of it, not who sets off on it") {
    const Map map(town, std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "tests/routing/roads/data/harbour_town.osm");
    PathFinder finder(map.network);
    const auto link = support::on(map.network, edge_of_way(map.network, 242), 0.5);
    const auto beyond = support::on(map.network, edge_of_way(map.network, 243), 0.5);
    const auto before = support::on(map.network, edge_of_way(map.network, 241), 0.5);
    const auto from_link = finder.quickest_path(link, beyond);
    REQUIRE(from_link);
    CHECK(from_link->pieces.size() == 2);
    CHECK(finder.quickest_path(before, link));
    CHECK_FALSE(finder.quickest_path(before, beyond));
}
