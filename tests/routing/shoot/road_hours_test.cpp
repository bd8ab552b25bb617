// Roads that the map shuts at some hours or in some seasons, from the tag to the plan.

#include "check_plan.hpp"
#include "small_world.hpp"

#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/shut_by_hours.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace routing::shoot;
using small_world::add_scene;
using small_world::at_clock;
using small_world::clock;
using small_world::tag;

namespace {

const char* conditional = "motor_vehicle:conditional";

/// The small world with more tags on one way of Long Road.
Region with(int way, const std::string& tags, const std::string& highway = "primary") {
    return small_world::load_with(
        {{way, tag("highway", highway) + tag("maxspeed", "60") + tag("name", "Long Road") + tags}});
}

const PlanStop& stop_of(const Plan& plan, const std::string& id) {
    for (const PlanDay& day : plan.days)
        for (const PlanStop& stop : day.stops)
            if (stop.id == id)
                return stop;
    FAIL("no stop ", id);
    std::abort();
}

bool warns(const Plan& plan, const std::string& part) {
    return std::any_of(plan.warnings.begin(), plan.warnings.end(),
                       [&](const std::string& warning) { return small_world::holds(warning, part); });
}

routing::roads::Closure closed(int way, const Shoot& shoot, int from_hour, int until_hour) {
    routing::roads::Closure closure{routing::roads::Ways{{way}}, "way " + std::to_string(way)};
    closure.from = at_clock(shoot, from_hour, 0);
    closure.until = at_clock(shoot, until_hour, 0);
    return closure;
}

void check_alike(const Plan& plan, const Plan& other) {
    REQUIRE(plan.days.size() == other.days.size());
    CHECK(plan.result == other.result);
    for (std::size_t day = 0; day < plan.days.size(); ++day) {
        REQUIRE(plan.days[day].stops.size() == other.days[day].stops.size());
        for (std::size_t n = 0; n < plan.days[day].stops.size(); ++n) {
            const PlanStop& a = plan.days[day].stops[n];
            const PlanStop& b = other.days[day].stops[n];
            CHECK(a.id == b.id);
            CHECK(a.arrive == b.arrive);
            CHECK(a.leave == b.leave);
            CHECK(a.leave_by == b.leave_by);
            CHECK(a.leg.total == b.leg.total);
            CHECK(a.leg.roads.size() == b.leg.roads.size());
        }
    }
}

std::size_t edges_shut(const routing::roads::ClosedEdges& edges) {
    return static_cast<std::size_t>(std::count(edges.begin(), edges.end(), true));
}

} // namespace

TEST_CASE("a road with hours is planned as one closed at these hours") {
    const Region by_rule = with(4, tag(conditional, "no @ (Sa 10:00-15:00)")); // from km 15 to 20; it is a Saturday
    for (const auto& light : {clock(7, 9), clock(12, 13), clock(16, 18)}) {
        Shoot shoot = small_world::empty_shoot();
        add_scene(shoot, "far", 20, 60, light);
        const Plan by_hours = plan_shoot(shoot, by_rule, {});
        CHECK(faults_of(by_hours, shoot, by_rule).empty());
        CHECK(warns(by_hours,
                    "shut by hours or seasons on the map: 0 roads for the whole plan, 1 road for a part of it"));
        shoot.closures = {closed(4, shoot, 10, 15)};
        check_alike(by_hours, plan_shoot(shoot, small_world::region(), {}));
    }
}

TEST_CASE("a road open before nine is used before, and told to shut at nine") {
    const Region region = with(4, tag(conditional, "no @ (09:00-17:00)"));
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 20, 60, clock(7, 12));
    const Plan plan = plan_shoot(shoot, region, {});
    const PlanStop& far = stop_of(plan, "far");
    CHECK(far.leg.roads.size() == 1);
    REQUIRE(far.leg.shut_roads.size() >= 1);
    CHECK(std::any_of(far.leg.shut_roads.begin(), far.leg.shut_roads.end(), [&](const ShutRoad& road) {
        return road.shut == geo::Interval{at_clock(shoot, 9, 0), at_clock(shoot, 17, 0)};
    }));
    CHECK(far.leg.shut_roads.size() <= 3); // of the days around, none further off
}

TEST_CASE("where a road with hours is the only one, the crew waits for it") {
    const Region region = with(6, tag("opening_hours", "Mo-Su 13:00-20:00")); // from km 25 to 30
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "near", 20, 30, clock(8, 12));
    add_scene(shoot, "end", 30, 30, clock(9, 18));
    const Plan plan = plan_shoot(shoot, region, {});
    REQUIRE(plan.result == PlanResult::optimal);
    CHECK(faults_of(plan, shoot, region).empty());
    // At km 25, where the road is shut until one, when it opens: five more kilometres, 5 min 34 s.
    CHECK(stop_of(plan, "end").arrive == at_clock(shoot, 13, 5) + geo::Seconds{34});
}

TEST_CASE("a road closed but for some hours is driven in these") {
    const Region region = with(6, tag("motor_vehicle", "no") + tag(conditional, "yes @ (20:00-08:00)"));
    Shoot shoot = small_world::empty_shoot();
    shoot.days[0].latest_wrap = std::chrono::hours{22};
    add_scene(shoot, "end", 30, 30, clock(9, 12));
    const Plan plan = plan_shoot(shoot, region, {});
    REQUIRE(plan.result == PlanResult::optimal);
    CHECK(faults_of(plan, shoot, region).empty());
    CHECK(stop_of(plan, "end").arrive <= at_clock(shoot, 8, 0));
    CHECK(stop_of(plan, "end").leave >= at_clock(shoot, 12 + 7, 0)); // home only when it opens
}

TEST_CASE("hours that don't meet the shoot's change nothing and are not told") {
    for (const char* text : {"no @ (Mo-Fr 07:00-09:00)", "no @ (22:00-05:00)", "no @ (Nov-Feb)", "no @ (2026)"}) {
        CAPTURE(text);
        const Region region = with(4, tag(conditional, text));
        Shoot shoot = small_world::empty_shoot();
        add_scene(shoot, "far", 20, 60, clock(7, 9));
        const Plan plan = plan_shoot(shoot, region, {});
        check_alike(plan, plan_shoot(shoot, small_world::region(), {}));
        CHECK_FALSE(warns(plan, "shut by hours"));
    }
}

TEST_CASE("hours of one direction shut the road while they last") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 20, 60, clock(9, 10));
    for (const char* direction : {"forward", "backward"}) {
        CAPTURE(direction);
        const std::string key = std::string("motor_vehicle:") + direction + ":conditional";
        const auto roads = [&](const std::string& hours) {
            const Plan made = plan_shoot(shoot, with(4, tag(key, "no @ (" + hours + ")")), {});
            return stop_of(made, "far").leg.roads.size();
        };
        CHECK(roads("05:00-22:00") == 2); // by Loop Lane
        CHECK(roads("22:00-05:00") == 1);
    }
}

TEST_CASE("a road shut on public holidays is shut on one the shoot names") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 20, 60, clock(9, 16));
    for (const std::string& tags : {tag(conditional, "no @ (PH)"), tag("opening_hours", "24/7; PH off")}) {
        const Region map = with(4, tags);
        shoot.holidays = {{shoot.days[0].date}};
        CHECK(stop_of(plan_shoot(shoot, map, {}), "far").leg.roads.size() == 2); // by Loop Lane
        shoot.holidays = std::vector<geo::CivilDate>{};
        CHECK(stop_of(plan_shoot(shoot, map, {}), "far").leg.roads.size() == 1);
    }
}

TEST_CASE("a season shuts a road for the whole plan, and in season it is open") {
    const Region region = with(4, tag("seasonal", "summer"));
    Shoot shoot = small_world::empty_shoot();
    for (const auto& [date, roads] : {std::pair{"2027-03-20", 2U}, {"2027-07-20", 2U}}) {
        shoot.days[0].date = geo::parse_date(date).value();
        shoot.scenes.clear();
        shoot.locations.clear();
        add_scene(shoot, "far", 20, 60, clock(7, 9));
        const Plan plan = plan_shoot(shoot, region, {});
        CHECK(stop_of(plan, "far").leg.roads.size() == roads);
        // On the equator nobody knows when summer is.
        CHECK(warns(plan, "1 road for the whole plan, 0 roads for a part of it"));
        CHECK(warns(plan, "1 of them in hours that are not sure"));
    }
    const Region months = with(4, tag("seasonal", "Jun-Aug"));
    const Plan open = plan_shoot(shoot, months, {}); // still July
    CHECK(stop_of(open, "far").leg.roads.size() == 1);
    CHECK_FALSE(warns(open, "shut by hours"));
}

TEST_CASE("only the hours between call and wrap count, day by day") {
    const Region region = with(4, tag(conditional, "no @ (06:00-20:00)"));
    Shoot shoot = small_world::empty_shoot(); // 06:00 to 20:00
    ShootDay next = shoot.days[0];
    next.date = geo::next_date(next.date);
    shoot.days.push_back(next);
    const ClosedRoads shut = close_roads(shoot, {}, region);
    CHECK(shut.timed.empty()); // open in the night between, when nobody drives
    CHECK(edges_shut(shut.edges) == 1);
    shoot.days[1].earliest_call = std::chrono::hours{5};
    const ClosedRoads early = close_roads(shoot, {}, region);
    CHECK(edges_shut(early.edges) == 0);
    REQUIRE(early.timed.size() == 4); // the days of the shoot and one on either side
    CHECK(early.timed[1].shut == geo::Interval{at_clock(shoot, 6, 0), at_clock(shoot, 20, 0)});
}

TEST_CASE("a road shut since long ago is told without a beginning") {
    const Region region = with(4, tag(conditional, "no @ (2027 Jan 01-2027 Mar 20)"));
    Shoot shoot = small_world::empty_shoot();
    ShootDay next = shoot.days[0];
    next.date = geo::next_date(next.date);
    shoot.days.push_back(next);
    const ClosedRoads shut = close_roads(shoot, {}, region);
    REQUIRE(shut.timed.size() == 1);
    CHECK(shut.timed[0].shut.from == routing::roads::timed::since_ever);
    CHECK(shut.timed[0].shut.until == at_clock(shoot, 24, 0));
}

TEST_CASE("walkers keep off a path all day that is shut at some of the shoot's hours") {
    const Region region = with(4, tag("foot:conditional", "no @ (18:00-24:00)"), "path");
    const Shoot shoot = small_world::empty_shoot();
    const ClosedRoads shut = close_roads(shoot, {}, region);
    CHECK(edges_shut(shut.foot) == 1);
    REQUIRE(shut.descriptions.size() == 1);
    CHECK(small_world::says(shut.descriptions[0],
                            "kept off on foot for the whole plan, shut by hours or seasons on the map: 1 path"));
    const Region by_night = with(4, tag("foot:conditional", "no @ (22:00-05:00)"), "path");
    CHECK(close_roads(shoot, {}, by_night).foot.empty());
}
