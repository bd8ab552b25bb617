#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/restriction.hpp"

#include <doctest/doctest.h>

using namespace roads_test;
using routing::roads::OsmType;
using routing::roads::Remarks;
using routing::roads::Restriction;
using routing::roads::TurnRule;
using routing::roads::Vehicle;

namespace {

Restriction relation(const Pairs& pairs) {
    Restriction made;
    made.tags = roads::Tags{pairs};
    made.members = {{{OsmType::way, 1}, "from"}, {{OsmType::way, 2}, "to"}, {{OsmType::node, 3}, "via"}};
    return made;
}

/// The remark when the relation is left out, else "kept".
std::string verdict(const Restriction& made, const Vehicle& vehicle = {}) {
    Remarks remarks;
    if (routing::roads::read_restriction(made, vehicle, remarks))
        return "kept";
    REQUIRE(remarks.size() == 1);
    return std::string{remarks[0]};
}

Vehicle truck() {
    Vehicle vehicle;
    vehicle.weight = geo::Tonnes{7.5};
    return vehicle;
}

} // namespace

TEST_CASE("members are taken by role in any order") {
    Remarks remarks;
    const auto turn = routing::roads::read_restriction(relation({{"restriction", "no_left_turn"}}), {}, remarks);
    REQUIRE(turn);
    CHECK(turn->rule == TurnRule::forbidden);
    CHECK(turn->from == std::vector<roads::OsmId>{1});
    CHECK(turn->to == std::vector<roads::OsmId>{2});
    CHECK(turn->via_node == 3);
    CHECK(routing::roads::read_restriction(relation({{"restriction", "only_u_turn"}}), {}, remarks)->rule ==
          TurnRule::only);
}

TEST_CASE("exceptions and vehicle keys pick whom a restriction binds") {
    CHECK(verdict(relation({{"restriction", "no_left_turn"}, {"except", "psv;motorcar"}})) ==
          "restrictions that except the vehicle");
    CHECK(verdict(relation({{"restriction", "no_left_turn"}, {"except", "psv"}})) == "kept");
    const auto for_trucks = relation({{"restriction:hgv", "no_left_turn"}});
    CHECK(verdict(for_trucks) == "restrictions for other vehicles");
    CHECK(verdict(for_trucks, truck()) == "kept");
    CHECK(verdict(relation({{"restriction:motorcar", "no_entry"}})) == "kept");
    CHECK(verdict(relation({{"restriction:bicycle", "no_entry"}})) == "restrictions for other vehicles");
}

TEST_CASE("restrictions at certain times hold always, those on size only for that size") {
    CHECK(verdict(relation({{"restriction:conditional", "no_left_turn @ (Mo-Fr 07:00-09:00)"}})) == "kept");
    CHECK(verdict(relation({{"restriction", "no_left_turn"}, {"day_on", "Monday"}})) == "kept");
    const auto heavy = relation({{"restriction:conditional", "no_left_turn @ (weight>3.5)"}});
    CHECK(verdict(heavy, truck()) == "kept");
    Vehicle van;
    van.weight = geo::Tonnes{3.4};
    CHECK(verdict(heavy, van) == "restrictions for other vehicles");
}

TEST_CASE("relations that are not well formed are left out with their reason") {
    // atlas-checks PR 612, atlas PR 87 (D19).
    CHECK(verdict(relation({{"restriction", "no_parking"}})) == "restrictions ignored: kind not understood");
    auto made = relation({{"restriction", "no_left_turn"}});
    made.members[0].role = "start";
    CHECK(verdict(made) == "restrictions ignored: no from member");
    made = relation({{"restriction", "no_left_turn"}});
    made.members[1].role = "";
    CHECK(verdict(made) == "restrictions ignored: no to member");
    made = relation({{"restriction", "no_left_turn"}});
    made.members.pop_back();
    CHECK(verdict(made) == "restrictions ignored: no via member");
    made.members.push_back({{OsmType::node, 3}, "via"});
    made.members.push_back({{OsmType::node, 4}, "via"});
    CHECK(verdict(made) == "restrictions ignored: more than one via node");
}

TEST_CASE("only no_entry may have many from, only no_exit many to") {
    auto made = relation({{"restriction", "no_entry"}});
    made.members.push_back({{OsmType::way, 5}, "from"});
    CHECK(verdict(made) == "kept");
    made.tags = tags({{"restriction", "no_left_turn"}});
    CHECK(verdict(made) == "restrictions ignored: more than one from member");
    made = relation({{"restriction", "no_exit"}});
    made.members.push_back({{OsmType::way, 5}, "to"});
    CHECK(verdict(made) == "kept");
    made.tags = tags({{"restriction", "only_left_turn"}});
    CHECK(verdict(made) == "restrictions ignored: more than one to member");
}
