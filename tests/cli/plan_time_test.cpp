#include "plan_fixture.hpp"
#include "shoot_fixture.hpp"

#include "cli/check_report.hpp"
#include "cli/plan_time.hpp"
#include "cli/sky_option.hpp"

#include <doctest/doctest.h>

using namespace std::chrono_literals;
using fixture::at;
using fixture::made_plan;
using fixture::made_shoot;

namespace {

std::string problem_of(const std::string& now, const routing::shoot::Plan& plan) {
    try {
        cli::parse_plan_time(now, "--now", made_shoot(), plan);
    } catch (const geo::InputError& error) {
        CHECK(error.faults().front().field == "--now");
        CHECK_FALSE(error.faults().front().mend.empty());
        return error.faults().front().problem;
    }
    return "";
}

} // namespace

TEST_CASE("now is read with its date, local to the shoot or with an offset") {
    CHECK(cli::parse_plan_time("2027-05-14T14:05", "--now", made_shoot(), made_plan()) == at("2027-05-14T14:05"));
    CHECK(cli::parse_plan_time("2027-05-14T16:05+02:00", "--now", made_shoot(), made_plan()) == at("2027-05-14T14:05"));
}

TEST_CASE("a clock time alone means the one day of the plan that holds it") {
    // Working hours: 04:00 to 23:00 on the 14th (the plan wraps at 00:30), 09:00 to 23:00 on the 15th.
    CHECK(cli::parse_plan_time("05:00", "--now", made_shoot(), made_plan()) == at("2027-05-14T05:00"));
    CHECK(cli::parse_plan_time("00:15", "--now", made_shoot(), made_plan()) == at("2027-05-15T00:15"));
    CHECK(fixture::contains(problem_of("14:05", made_plan()), "falls into several days"));
    CHECK(fixture::contains(problem_of("03:00", made_plan()), "falls into no day"));
    auto one_day = made_plan();
    one_day.days.resize(1);
    CHECK(cli::parse_plan_time("14:05", "--now", made_shoot(), one_day) == at("2027-05-14T14:05"));
}

TEST_CASE("what is no time is refused") {
    for (const char* text : {"", "now", "25:00", "2027-02-30T10:00", "14.05"})
        CHECK(problem_of(text, made_plan()) == "is no time");
}

TEST_CASE("a sky is told by one of the words scenes use") {
    CHECK(cli::parse_sky("overcast") == "overcast");
    CHECK(cli::parse_sky("any") == "any");
    for (const char* text : {"", "sunny", "Overcast"}) {
        CAPTURE(text);
        try {
            cli::parse_sky(text);
            FAIL("not refused");
        } catch (const geo::InputError& error) {
            CHECK(error.faults().front().field == "--sky");
            CHECK(error.faults().front().problem == "is no sky known here");
            CHECK_FALSE(error.faults().front().mend.empty());
        }
    }
}

TEST_CASE("windows of an option are told for the working hours, with what is wrong with them") {
    auto shoot = made_shoot();
    shoot.locations[0].at = {{-35.2}, {-8.1}}; // golden evening 17:01 to 17:54, never above 45 degrees
    routing::shoot::SceneOption option;
    option.length = 30min;
    const auto told = [&](geo::LightRequest light) {
        option.light = {light};
        return cli::option_windows_text(shoot, option, shoot.days[0]);
    };
    CHECK(told(geo::LightName::golden_evening) == "17:01–17:54");
    CHECK(told(geo::LightName::blue_evening) == "17:55–18:04 (too short)");
    CHECK(told(geo::LightName::high_sun) == "never");
    CHECK(told(geo::ClockRange{10h, 16h}) == "10:00–16:00");
    shoot.days[0].latest_wrap = 12h;
    CHECK(told(geo::LightName::golden_evening) == "never within working hours");
    CHECK(told(geo::ClockRange{10h, 16h}) == "10:00–12:00");
}
