#include "routing/roads/rule_times.hpp"

#include "geo/local_time.hpp"

#include <doctest/doctest.h>

using namespace routing::roads;
using geo::Instant;
using geo::Interval;
using geo::Intervals;
using routing::hours::Site;

namespace {

// 2027-03-15 is a Monday.
Instant at(int day, int hour, int minute = 0) {
    return geo::Instant{std::chrono::sys_days{std::chrono::year{2027} / 3 / day}} + std::chrono::hours{hour} +
           std::chrono::minutes{minute};
}
const Interval monday{at(15, 0), at(16, 0)};

Site place(double latitude, const char* zone = "UTC") {
    return {{geo::Degrees{latitude}, geo::Degrees{10.0}}, *geo::find_time_zone(zone), {}};
}

Intervals shut(const TimeRule& rule, Interval span = monday, const Site& site = place(47.0)) {
    return shut_by_rule(rule, span, site).shut;
}

Interval month(int number, int days = 25) {
    const Instant first{std::chrono::sys_days{std::chrono::year{2027} / number / 2}};
    return {first, first + std::chrono::hours{24 * days}};
}

enum class Told { open, shut, unsure };

Told in_month(const TimeRule& rule, int number, double latitude) {
    const RuleTimes times = shut_by_rule(rule, month(number), place(latitude));
    if (times.shut.empty())
        return Told::open;
    REQUIRE(times.shut == Intervals{month(number)});
    return times.unsure == times.shut ? Told::unsure : Told::shut;
}

const TimeRule rush_hour{true, {{false, {"Mo-Fr 07:00-09:00"}}}};

} // namespace

TEST_CASE("a road is shut while a shutting clause holds, by the clock of the zone") {
    CHECK(shut(rush_hour) == Intervals{{at(15, 7), at(15, 9)}});
    CHECK(shut(rush_hour, monday, place(47.0, "Europe/Vienna")) == Intervals{{at(15, 6), at(15, 8)}});
    CHECK(shut(rush_hour, {at(20, 0), at(22, 0)}).empty()); // Saturday and Sunday
    CHECK(shut(rush_hour, {at(15, 8), at(15, 8, 30)}) == Intervals{{at(15, 8), at(15, 8, 30)}});
    CHECK(shut_by_rule(rush_hour, monday, place(47.0)).unsure.empty());
}

TEST_CASE("of several clauses the last that holds wins, and all parts of one must hold") {
    CHECK(shut({true, {{false, {"07:00-09:00"}}, {true, {"08:00-08:30"}}}}) ==
          Intervals{{at(15, 7), at(15, 8)}, {at(15, 8, 30), at(15, 9)}});
    CHECK(shut({true, {{true, {"08:00-08:30"}}, {false, {"07:00-09:00"}}}}) == Intervals{{at(15, 7), at(15, 9)}});
    CHECK(shut({true, {{false, {"Nov-Apr", "20:00-06:00"}}}}) ==
          Intervals{{at(15, 0), at(15, 6)}, {at(15, 20), at(16, 0)}});
    CHECK(shut({true, {{false, {"Jul", "20:00-06:00"}}}}).empty());
    CHECK(shut({true, {{false, {"07:00-08:00", "08:00-09:00"}}}}).empty()); // they meet in an instant
}

TEST_CASE("a road closed but for some hours is shut at all others") {
    const TimeRule nights{false, {{true, {"20:00-06:00"}}}};
    CHECK(shut(nights) == Intervals{{at(15, 6), at(15, 20)}});
    CHECK(shut({false, {}}) == Intervals{monday});
    CHECK(shut({true, {}}).empty());
}

TEST_CASE("hours that nobody can tell shut the road, and never open it") {
    // Whether there is school that day is not known.
    const RuleTimes school = shut_by_rule({true, {{false, {"SH 07:00-09:00"}}}}, monday, place(47.0));
    CHECK(school.shut == Intervals{{at(15, 7), at(15, 9)}});
    CHECK(school.unsure == school.shut);
    const RuleTimes open_end = shut_by_rule({false, {{true, {"08:00-17:00+"}}}}, monday, place(47.0));
    CHECK(open_end.shut.front() == Interval{at(15, 0), at(15, 8)});
    REQUIRE(open_end.shut.size() == 2);
    CHECK(open_end.shut[1].from == at(15, 17));
    CHECK(open_end.unsure.back().from == at(15, 17));
}

TEST_CASE("a season opens its three months, leaves those around it in doubt, and turns round in the south") {
    const TimeRule in_summer{false, {{true, {"summer"}}}};
    const TimeRule not_in_winter{true, {{false, {"winter"}}}};
    for (int number = 1; number <= 12; ++number) {
        CAPTURE(number);
        const int in_the_south = (number + 5) % 12 + 1;
        const bool summer = number >= 6 && number <= 8;
        const Told expected_summer = summer ? Told::open : number == 5 || number == 9 ? Told::unsure : Told::shut;
        CHECK(in_month(in_summer, number, 47.0) == expected_summer);
        CHECK(in_month(in_summer, in_the_south, -47.0) == expected_summer);
        const bool winter = number == 12 || number <= 2;
        const Told expected_winter = winter ? Told::shut : number >= 10 || number <= 4 ? Told::unsure : Told::open;
        CHECK(in_month(not_in_winter, number, 47.0) == expected_winter);
        CHECK(in_month(not_in_winter, in_the_south, -47.0) == expected_winter);
        CHECK(in_month(not_in_winter, number, 10.0) == Told::unsure);
    }
    CHECK(in_month({false, {{true, {"spring"}}, {true, {"summer"}}, {true, {"autumn"}}}}, 10, 47.0) == Told::open);
    CHECK(in_month({false, {{true, {"spring"}}, {true, {"summer"}}, {true, {"autumn"}}}}, 1, 47.0) == Told::shut);
}

TEST_CASE("only seasons and the sun depend on the place") {
    CHECK(depends_on_place({true, {{false, {"winter"}}}}));
    CHECK(depends_on_place({true, {{false, {"Mo-Fr", "sunset-sunrise"}}}}));
    CHECK(depends_on_place({true, {{false, {"(Sunset+00:30)-22:00"}}}}));
    CHECK_FALSE(depends_on_place({true, {{false, {"Su 07:00-09:00"}}}}));
}

TEST_CASE("a rule is told in words") {
    CHECK(to_text(rush_hour) == "open; shut @ (Mo-Fr 07:00-09:00)");
    CHECK(to_text({false, {{true, {"Nov-Apr", "20:00-06:00"}}, {false, {"Su"}}}}) ==
          "shut; open @ (Nov-Apr AND 20:00-06:00); shut @ (Su)");
}
