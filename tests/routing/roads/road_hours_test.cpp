// Roads, gates and ferries with hours and seasons: what the network keeps of them.

#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/stored_network.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace roads_test;

namespace {

/// Rules of the edges of a way, in words; "closed" when it has none.
std::string rules_of(const roads::RoadNetwork& network, roads::OsmId way) {
    std::string text = "closed";
    for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
        if (network.edges[e].way != way)
            continue;
        std::string own;
        for (const roads::EdgeTimeRule& row : network.edge_time_rules)
            if (roads::value(row.edge) == e)
                own += (own.empty() ? "" : " | ") + to_text(network.time_rules[row.rule]);
        text = text == "closed" ? own : text + " / " + own;
    }
    return text;
}

bool is_doubtful(const roads::RoadNetwork& network, roads::OsmId way) {
    return std::any_of(network.edges.begin(), network.edges.end(), [way](const roads::Edge& edge) {
        return edge.way == way && (edge.notes & roads::note_doubtful_access) != 0;
    });
}

MapText one_way(const Pairs& tags) {
    MapText map;
    map.node(1, 47.0, 9.0).node(2, 47.0, 9.01).node(3, 47.0, 9.02);
    map.way(1, {1, 2}, tags).way(2, {2, 3}, {{"highway", "primary"}});
    return map;
}

std::string van_rules(const Pairs& tags, const roads::Vehicle& vehicle = {}) {
    return rules_of(one_way(tags).network(vehicle), 1);
}

std::string foot_rules(const Pairs& tags) {
    return rules_of(routing::roads::foot::build_foot_network(one_way(tags).read()), 1);
}

bool visitors_only(const Pairs& tags) {
    const auto network = one_way(tags).network();
    return std::any_of(network.edges.begin(), network.edges.end(),
                       [](const roads::Edge& edge) { return edge.way == 1 && edge.destination_only; });
}

roads::Vehicle van() {
    roads::Vehicle vehicle;
    vehicle.weight = geo::Tonnes{3.4};
    return vehicle;
}

} // namespace

TEST_CASE("a road with hours keeps them as a rule") {
    const char* key = "motor_vehicle:conditional";
    CHECK(van_rules({{"highway", "tertiary"}}) == "");
    CHECK(van_rules({{"highway", "tertiary"}, {key, "no @ (Mo-Fr 07:00-09:00)"}}) ==
          "open; shut @ (Mo-Fr 07:00-09:00)");
    CHECK(van_rules({{"highway", "tertiary"}, {key, "no @ (Nov-May); yes @ (Dec 24)"}}) ==
          "open; shut @ (Nov-May); open @ (Dec 24)");
    CHECK(van_rules({{"highway", "tertiary"}, {"vehicle:conditional", "no @ (22:00-06:00)"}, {key, "yes @ (Su)"}}) ==
          "open; shut @ (22:00-06:00); open @ (Su)");
    // Nothing that shuts: no rule.
    CHECK(van_rules({{"highway", "tertiary"}, {key, "yes @ (22:00-06:00)"}}) == "");
    CHECK(van_rules({{"highway", "tertiary"}, {key, "no @ (Mo-Fr 07:00-09:00 AND weight>3.5)"}}, van()) == "");
    CHECK(van_rules({{"highway", "tertiary"}, {"hgv:conditional", "no @ (22:00-06:00)"}}, van()) == "");
}

TEST_CASE("a road that only some hours open is there, shut at all others") {
    const char* key = "motor_vehicle:conditional";
    CHECK(van_rules({{"highway", "tertiary"}, {"motor_vehicle", "no"}, {key, "yes @ (20:00-06:00)"}}) ==
          "shut; open @ (20:00-06:00)");
    CHECK(van_rules({{"highway", "pedestrian"}, {key, "yes @ (20:00-06:00)"}}) == "shut; open @ (20:00-06:00)");
    CHECK(van_rules({{"highway", "pedestrian"}, {key, "delivery @ (20:00-06:00)"}}) ==
          "closed"); // crews deliver nothing
    // `access` alone opens no footway.
    CHECK(van_rules({{"highway", "footway"}, {"access:conditional", "yes @ (20:00-06:00)"}}) == "closed");
    CHECK(van_rules({{"highway", "track"}, {"tracktype", "grade4"}, {key, "yes @ (Jul-Aug)"}}) ==
          "closed"); // too rough
    CHECK(van_rules({{"highway", "track"}, {"tracktype", "grade3"}, {key, "yes @ (Jul-Aug)"}}) ==
          "shut; open @ (Jul-Aug)");
    const Pairs opened{{"highway", "tertiary"}, {"motor_vehicle", "no"}, {key, "destination @ (20:00-06:00)"}};
    CHECK(van_rules(opened) == "shut; open @ (20:00-06:00)");
    CHECK(visitors_only(opened));
}

TEST_CASE("a road for visitors only at some hours: a through road is shut then, a local one is theirs all day") {
    const auto with = [](const char* highway) {
        return Pairs{{"highway", highway},
                     {"access:conditional", "destination @ (06:30-08:30); destination @ (16:30-18:30)"}};
    };
    CHECK(van_rules(with("unclassified")) == "open; shut @ (06:30-08:30); shut @ (16:30-18:30)");
    CHECK_FALSE(visitors_only(with("unclassified")));
    CHECK(van_rules(with("residential")) == "");
    CHECK(visitors_only(with("residential")));
    CHECK(count_of(one_way(with("residential")).network(),
                   "local roads for visitors only at some hours: at all hours") == 1);
    CHECK(count_of(one_way(with("unclassified")).network(),
                   "roads and gates with hours or a season: heeded by the hour") == 1);
}

TEST_CASE("hours that differ by direction shut the road both ways") {
    CHECK(van_rules({{"highway", "tertiary"},
                     {"motor_vehicle:backward", "no"},
                     {"motor_vehicle:conditional", "yes @ (Su)"}}) == "shut; open @ (Su)");
    CHECK(van_rules({{"highway", "tertiary"},
                     {"oneway", "yes"},
                     {"motor_vehicle:backward", "no"},
                     {"motor_vehicle:conditional", "yes @ (Su)"}}) == "");
}

TEST_CASE("opening hours shut roads and ferries outside them, and close them when they can't be read") {
    CHECK(van_rules({{"highway", "service"}, {"opening_hours", "Mo-Su 08:00-20:00"}}) ==
          "shut; open @ (Mo-Su 08:00-20:00)");
    CHECK(van_rules({{"highway", "service"}, {"opening_hours", "24/7"}}) == "");
    CHECK(van_rules({{"highway", "service"}, {"opening_hours", "when the farmer is up"}}) == "closed");
    const Pairs ferry{{"route", "ferry"},
                      {"motor_vehicle", "yes"},
                      {"opening_hours", "Mo-Su 06:00-22:00"},
                      {"seasonal", "spring;summer;autumn"}};
    CHECK(van_rules(ferry) ==
          "shut; open @ (Mo-Su 06:00-22:00) | shut; open @ (spring); open @ (summer); open @ (autumn)");
    CHECK(van_rules({{"route", "ferry"}, {"motor_vehicle:conditional", "yes @ (Su)"}}) == "shut; open @ (Su)");
    CHECK(foot_rules({{"highway", "footway"}, {"opening_hours", "06:00-22:00"}}) == "shut; open @ (06:00-22:00)");
    CHECK(foot_rules({{"highway", "footway"}, {"opening_hours", "by day, ask"}}) == "closed");
}

TEST_CASE("a season named or in months opens the road then, one that is not said is a doubt") {
    CHECK(van_rules({{"highway", "tertiary"}, {"seasonal", "summer"}}) == "shut; open @ (summer)");
    CHECK(van_rules({{"highway", "tertiary"}, {"seasonal", "May-Oct"}}) == "shut; open @ (May-Oct)");
    CHECK(van_rules({{"highway", "tertiary"}, {"seasonal", "no"}}) == "");
    CHECK(van_rules({{"highway", "tertiary"}, {"access:conditional", "no @ winter"}}) == "open; shut @ (winter)");
    for (const char* unsaid : {"yes", "dry_season", "wet_season"}) {
        const auto network = one_way({{"highway", "tertiary"}, {"seasonal", unsaid}}).network();
        CHECK(rules_of(network, 1) == "");
        CHECK(is_doubtful(network, 1));
        CHECK(count_of(network, "seasonal roads that don't say their season: sign must be checked") == 1);
    }
    // Only frost makes these.
    CHECK(van_rules({{"highway", "track"}, {"motor_vehicle", "yes"}, {"winter_road", "yes"}, {"seasonal", "winter"}}) ==
          "closed");
}

TEST_CASE("weather and purposes leave the base value and a doubt") {
    for (const std::string condition : {"no @ snow", "no @ (wet)", "no @ (ice AND 22:00-06:00)", "no @ delivery"}) {
        CAPTURE(condition);
        const auto network = one_way({{"highway", "tertiary"}, {"motor_vehicle:conditional", condition}}).network();
        CHECK(rules_of(network, 1) == "");
        CHECK(is_doubtful(network, 1));
        CHECK(count_of(network, "access conditions that can't be proved: sign must be checked") == 1);
    }
}

TEST_CASE("a one-way by the hour is driven only where it is open at all hours") {
    const auto passes = [](const Pairs& tags, roads::OsmId from, roads::OsmId to) {
        return drive(one_way(tags).network(), from, to).has_value();
    };
    const Pairs rush{{"highway", "tertiary"}, {"oneway:conditional", "yes @ (Mo-Fr 07:00-09:00)"}};
    CHECK(passes(rush, 1, 3));
    CHECK_FALSE(passes(rush, 3, 1));
    CHECK(count_of(one_way(rush).network(), "one-ways by the hour: driven only in directions open at all hours") == 1);
    const Pairs freed{{"highway", "tertiary"}, {"oneway", "yes"}, {"oneway:conditional", "no @ (22:00-06:00)"}};
    CHECK(passes(freed, 1, 3));
    CHECK_FALSE(passes(freed, 3, 1));
}

TEST_CASE("a gate with hours shuts the shorter side, so that stops on the longer one stay in reach") {
    const auto with_gate = [](const Pairs& gate) {
        MapText map;
        map.node(1, 47.0, 9.0).node(2, 47.0, 9.01, gate).node(3, 47.0, 9.012);
        return map.way(1, {1, 2, 3}, {{"highway", "service"}});
    };
    const Pairs by_day{{"barrier", "gate"}, {"opening_hours", "08:00-20:00"}};
    const auto network = with_gate(by_day).network();
    REQUIRE(network.edge_time_rules.size() == 1);
    const roads::Edge& shut = network.edges[roads::value(network.edge_time_rules[0].edge)];
    CHECK(shut.metres < 200.0F);
    CHECK(to_text(network.time_rules[0]) == "shut; open @ (08:00-20:00)");
    const auto foot = routing::roads::foot::build_foot_network(with_gate(by_day).read());
    CHECK(foot.edge_time_rules.size() == 1);

    const auto rules = [&](const Pairs& gate) {
        const auto gated = with_gate(gate).network();
        REQUIRE(gated.time_rules.size() == 1);
        return to_text(gated.time_rules[0]);
    };
    CHECK(rules({{"barrier", "gate"}, {"motor_vehicle:conditional", "no @ (22:00-06:00)"}}) ==
          "open; shut @ (22:00-06:00)");
    CHECK(rules({{"barrier", "lift_gate"}, {"motor_vehicle:conditional", "yes @ (06:00-22:00)"}}) ==
          "shut; open @ (06:00-22:00)");
    CHECK_FALSE(drive(with_gate({{"barrier", "gate"}, {"opening_hours", "ask at the house"}}).network(), 1, 3));
    // Its kind keeps it closed, whatever the hours.
    CHECK_FALSE(drive(with_gate({{"barrier", "lift_gate"}, {"opening_hours", "06:00-22:00"}}).network(), 1, 3));
}

TEST_CASE("a gate with hours on a junction shuts all roads there but the longest") {
    MapText map;
    map.node(1, 47.0, 9.0).node(2, 47.0, 9.01, {{"barrier", "gate"}, {"opening_hours", "08:00-20:00"}});
    map.node(3, 47.0, 9.012).node(4, 47.001, 9.01);
    map.way(1, {1, 2}, {{"highway", "service"}}).way(2, {2, 3}, {{"highway", "service"}});
    map.way(3, {2, 4}, {{"highway", "service"}});
    const auto network = map.network();
    CHECK(rules_of(network, 1) == "");
    CHECK(rules_of(network, 2) == "shut; open @ (08:00-20:00)");
    CHECK(rules_of(network, 3) == "shut; open @ (08:00-20:00)");
}

TEST_CASE("roads of one rule share it, and it comes back from the stored network") {
    MapText map;
    map.node(1, 47.0, 9.0).node(2, 47.0, 9.01).node(3, 47.0, 9.02).node(4, 47.0, 9.03);
    const Pairs tags{
        {"highway", "tertiary"}, {"motor_vehicle:conditional", "no @ (07:00-09:00)"}, {"seasonal", "summer"}};
    map.way(1, {1, 2}, tags).way(2, {2, 3}, tags).way(3, {3, 4}, {{"highway", "tertiary"}, {"seasonal", "summer"}});
    const auto network = map.network();
    CHECK(network.time_rules.size() == 2);
    CHECK(network.edge_time_rules.size() == 5);
    const auto again = routing::roads::restore_network(routing::roads::store_network(network));
    REQUIRE(again);
    CHECK(again->time_rules == network.time_rules);
    CHECK(again->edge_time_rules == network.edge_time_rules);
    auto bent = network;
    bent.edge_time_rules.back().rule = 2;
    CHECK_FALSE(routing::roads::restore_network(routing::roads::store_network(bent)));
    bent = network;
    std::swap(bent.edge_time_rules.front(), bent.edge_time_rules.back());
    CHECK_FALSE(routing::roads::restore_network(routing::roads::store_network(bent)));
}
