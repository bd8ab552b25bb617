// Paths on maps thrown together at random, with far more restrictions, barriers and zones than a real one has.

#include "dice.hpp"
#include "edge_based_reference.hpp"
#include "hand_network.hpp"
#include "path_walk.hpp"
#include "raw_rules.hpp"

#include <doctest/doctest.h>

using namespace routing::roads;

namespace {

using TagList = std::vector<std::pair<std::string, std::string>>;

OsmExtract random_extract(support::Dice& dice) {
    OsmExtract extract;
    const std::uint32_t side = 4;
    for (std::uint32_t i = 0; i < side * side; ++i) {
        extract.node_ids.push_back(100 + i);
        extract.node_places.push_back({{-35.0 + 0.01 * (i / side) + dice.between(0.0, 0.004)},
                                       {-20.0 + 0.01 * (i % side) + dice.between(0.0, 0.004)}});
        if (dice.one_in(8)) {
            const char* barriers[] = {"bollard", "gate", "lift_gate", "cattle_grid"};
            TagList tags{{"barrier", barriers[dice.below(4)]}};
            if (dice.one_in(3))
                tags.emplace_back("motor_vehicle", dice.one_in(2) ? "yes" : "private");
            extract.road_nodes.push_back({100 + i, Tags(tags)});
        }
    }
    for (OsmId way = 1; way <= 14; ++way) {
        // A walk over the grid that doesn't turn back at once.
        RoadWay road;
        road.id = way;
        std::uint32_t at = dice.below(side * side);
        const std::uint32_t nodes = 2 + dice.below(4);
        road.nodes.push_back(100 + at);
        while (road.nodes.size() < nodes) {
            const std::uint32_t row = at / side;
            const std::uint32_t column = at % side;
            std::uint32_t next = at;
            switch (dice.below(4)) {
            case 0:
                next = row + 1 < side ? at + side : at;
                break;
            case 1:
                next = row > 0 ? at - side : at;
                break;
            case 2:
                next = column + 1 < side ? at + 1 : at;
                break;
            default:
                next = column > 0 ? at - 1 : at;
                break;
            }
            const bool back = road.nodes.size() > 1 && road.nodes[road.nodes.size() - 2] == 100 + OsmId{next};
            if (next != at && !back)
                road.nodes.push_back(100 + OsmId{at = next});
        }
        TagList tags{{"highway", dice.one_in(2) ? "residential" : "secondary"}};
        if (dice.one_in(3))
            tags.emplace_back("oneway", dice.one_in(4) ? "-1" : "yes");
        if (dice.one_in(4))
            tags.emplace_back("motor_vehicle", dice.one_in(6) ? "no" : "destination");
        road.tags = Tags(tags);
        extract.roads.push_back(road);
    }
    for (OsmId relation = 1; relation <= 25; ++relation) {
        Restriction restriction;
        restriction.id = relation;
        const auto random_way = [&] { return extract.roads[dice.below(14)]; };
        const auto end_of = [&](const RoadWay& way) { return dice.one_in(2) ? way.nodes.front() : way.nodes.back(); };
        const RoadWay from = random_way();
        const auto member = [&](OsmType type, OsmId id, const char* role) {
            restriction.members.push_back({{type, id}, role});
        };
        member(OsmType::way, from.id, "from");
        // Ways met at random seldom meet: look for one that does.
        const auto meets = [](const RoadWay& way, OsmId node) {
            return way.nodes.front() == node || way.nodes.back() == node;
        };
        OsmId node = end_of(from);
        if (dice.one_in(2)) {
            member(OsmType::node, node, "via");
        } else {
            OsmId last_via = 0;
            for (std::uint32_t vias = 1 + dice.below(2), tries = 0; vias > 0 && tries < 40; ++tries)
                if (const RoadWay via = random_way(); via.id != from.id && via.id != last_via && meets(via, node)) {
                    member(OsmType::way, via.id, "via");
                    last_via = via.id;
                    node = via.nodes.front() == node ? via.nodes.back() : via.nodes.front();
                    --vias;
                }
        }
        RoadWay to = random_way();
        for (int tries = 0; tries < 40 && !meets(to, node); ++tries)
            to = random_way();
        member(OsmType::way, to.id, "to");
        const char* kinds[] = {"no_left_turn", "no_u_turn", "no_straight_on", "only_right_turn"};
        restriction.tags = Tags({{"restriction", kinds[dice.below(4)]}, {"type", "restriction"}});
        extract.restrictions.push_back(restriction);
    }
    return extract;
}

} // namespace

TEST_CASE("paths and tables on 300 random maps equal the edge-based reference and can be driven") {
    support::Dice dice(42);
    int found = 0;
    int missing = 0;
    int turned_away = 0;
    int over_ways = 0;
    for (int round = 0; round < 300; ++round) {
        CAPTURE(round);
        const OsmExtract extract = random_extract(dice);
        const RoadNetwork network = build_network(extract, Vehicle{});
        if (network.edges.empty())
            continue;
        REQUIRE(support::tag_faults(extract, network) == std::vector<std::string>{});
        const auto rules = support::raw_turn_rules(extract, network);
        for (const auto& stretch : rules.forbidden)
            over_ways += stretch.size() > 2;
        support::TurnRules without_bans;
        without_bans.shut_nodes = rules.shut_nodes;
        support::EdgeBasedReference reference(network, rules);
        support::EdgeBasedReference free_reference(network, without_bans);
        PathFinder finder(network);
        std::vector<RoadPoint> points;
        for (int i = 0; i < 10; ++i)
            points.push_back(support::on(
                network, EdgeIndex{dice.below(static_cast<std::uint32_t>(network.edges.size()))}, dice.share()));
        const auto table = finder.travel_times(points, points);
        for (std::size_t i = 0; i < points.size(); ++i)
            for (std::size_t j = 0; j < points.size(); ++j) {
                const auto path = finder.quickest_path(points[i], points[j]);
                const auto expected = reference.quickest(points[i], points[j]);
                REQUIRE((path ? path->time : closed) == expected.value_or(closed));
                REQUIRE(table[i * points.size() + j] == expected.value_or(closed));
                turned_away += expected != free_reference.quickest(points[i], points[j]);
                ++(path ? found : missing);
                if (path)
                    REQUIRE(support::fault_of(network, rules, points[i], points[j], *path) == "");
            }
    }
    CHECK(found > 8000);
    CHECK(missing > 2000);
    CHECK(turned_away > 1000);
    CHECK(over_ways > 200);
}
