#include "both_judges.hpp"
#include "map_shoot.hpp"

#include "routing/shoot/planner.hpp"
#include "routing/shoot/replan.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <set>

using namespace routing::shoot;

namespace {

void plan_on(const std::string& file) {
    CAPTURE(file);
    std::mt19937 random(20270612);
    const Region region = load_region(file, {});
    int shut_ways = 0;
    int timed = 0;
    for (int n = 0; n < 6; ++n) {
        Shoot shoot = map_shoot::draw(region, random, n < 4 ? 8 : 10, n < 4 ? 1 : 2);
        CAPTURE(n);
        const Plan plan = plan_shoot(shoot, region, {});
        CHECK(plan.proven);
        for (const std::string& fault : faults_by_both(plan, shoot, region))
            FAIL_CHECK(fault);

        // Shut the way that carries most of the first driven leg from the call on: the new plan keeps off it.
        Changes changes;
        changes.now = plan.days.front().call - geo::Seconds{60};
        std::set<routing::roads::OsmId> shut;
        const PlanStop* reached = nullptr;
        for (const PlanStop& stop : plan.days.front().stops)
            if (stop.leg.line.size() > 4 && !reached)
                reached = &stop;
        if (!reached)
            continue;
        const auto middle = region.index.nearest(reached->leg.line[reached->leg.line.size() / 2], geo::Metres{50.0});
        REQUIRE(middle);
        const routing::roads::OsmId way = region.network->edges[routing::roads::value(middle->edge)].way;
        changes.closures = {{routing::roads::Ways{{way}}, "ways:" + std::to_string(way)}};
        ++shut_ways;
        const Replan again = replan(shoot, region, plan, changes, {});
        for (const std::string& fault : faults_by_both(again.plan, shoot, region))
            FAIL_CHECK(fault);
        for (const PlanDay& day : again.plan.days)
            for (const PlanStop& stop : day.stops)
                for (std::size_t k = 1; k < stop.leg.line.size(); ++k) {
                    // The middle of each piece of the line lies on the road driven.
                    const auto& a = stop.leg.line[k - 1];
                    const auto& b = stop.leg.line[k];
                    const geo::Coordinate mid{(a.latitude + b.latitude) / 2.0, (a.longitude + b.longitude) / 2.0};
                    const auto on = region.index.nearest_edges(mid, 4, geo::Metres{0.5});
                    bool open = on.empty();
                    for (const auto& road : on)
                        open = open || region.network->edges[routing::roads::value(road.edge)].way != way;
                    CHECK(open);
                }

        // The same way shut for part of the day.
        shoot.closures = changes.closures;
        const geo::Instant noon = geo::instant_of(shoot.days.front().date, std::chrono::hours{12}, shoot.zone);
        shoot.closures[0].from = noon - std::chrono::hours{n};
        shoot.closures[0].until = noon + std::chrono::minutes{30 * n};
        const Plan around = plan_shoot(shoot, region, {});
        for (const std::string& fault : faults_by_both(around, shoot, region))
            FAIL_CHECK(fault);
        for (const PlanDay& day : around.days)
            for (const PlanStop& stop : day.stops)
                timed += stop.leg.shut_roads.empty() ? 0 : 1;
    }
    CHECK(timed > 0);      // roads driven at the hours they are open
    CHECK(shut_ways >= 4); // else the closures were not tried
}

/// The map with hours on some of its roads, and on the roads between them everything as it was.
Region with_random_hours(const std::string& file, std::mt19937& random, unsigned one_in) {
    Region region = load_region(file, {});
    auto network = std::make_unique<routing::roads::RoadNetwork>(*region.network);
    using routing::roads::TimeRule;
    network->time_rules = {TimeRule{true, {{false, {"Mo-Fr 07:00-09:00"}}}},
                           TimeRule{true, {{false, {"22:00-06:00"}}}},
                           TimeRule{false, {{true, {"08:00-18:00"}}}},
                           TimeRule{true, {{false, {"sunset-sunrise"}}}},
                           TimeRule{true, {{false, {"Sa,Su 10:00-16:00"}}, {true, {"12:00-13:00"}}}},
                           TimeRule{false, {{true, {"summer"}}}},
                           TimeRule{true, {{false, {"winter"}}}}};
    network->edge_time_rules.clear();
    for (std::uint32_t edge = 0; edge < network->edges.size(); ++edge)
        if (random() % one_in == 0 && !network->edges[edge].destination_only)
            network->edge_time_rules.push_back(
                {routing::roads::EdgeIndex{edge}, static_cast<std::uint32_t>(random() % 7)});
    region.index = routing::roads::SnapIndex(*network);
    region.network = std::move(network);
    return region;
}

/// With hours on forty roads: plans hold, and what they say of legs is what Dijkstra says at that hour.
void plan_with_hours(const std::string& file) {
    CAPTURE(file);
    std::mt19937 random(20270620);
    const std::size_t edges = load_region(file, {}).network->edges.size();
    const Region region = with_random_hours(file, random, static_cast<unsigned>(std::max<std::size_t>(1, edges / 40)));
    int told = 0;
    for (int n = 0; n < 3; ++n) {
        CAPTURE(n);
        const Shoot shoot = map_shoot::draw(region, random, 8, n < 2 ? 1 : 2);
        const Plan plan = plan_shoot(shoot, region, {});
        for (const std::string& fault : faults_of(plan, shoot, region))
            FAIL_CHECK(fault);
        for (const std::string& warning : plan.warnings)
            CHECK_FALSE(warning.starts_with("many roads"));
        for (const PlanDay& day : plan.days)
            for (const PlanStop& stop : day.stops)
                told += stop.leg.shut_roads.empty() ? 0 : 1;
    }
    CHECK(told > 0);
}

} // namespace

TEST_CASE("shoots on real maps with hours on forty roads are planned as plain Dijkstra says, hour by hour") {
    for (const char* name : {"osm/liechtenstein-2021-05-05.osm.pbf", "osm/helsinki-centre-2019-04.osm.pbf"})
        if (const auto file = support::shared_data(name))
            plan_with_hours(file->string());
}

TEST_CASE("shoots drawn on the demo island are planned, hold, and keep off a road shut on the day") {
    plan_on(DAYWEAVE_SOURCE_DIR "/regions/ondrel/ondrel.osm.pbf");
}

TEST_CASE("shoots drawn on real maps are planned, hold, and keep off a road shut on the day") {
    for (const char* name : {"osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2013-08-03.osm.pbf",
                             "osm/liechtenstein-2021-05-05.osm.pbf", "osm/monaco-2022-07-19.osm.pbf",
                             "osm/helsinki-centre-2019-04.osm.pbf"})
        if (const auto file = support::shared_data(name))
            plan_on(file->string());
}
