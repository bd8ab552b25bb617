/// Times of the day. Sections named are those of the OSM wiki page Key:opening_hours/specification (version 0.7.4).

#include "tests/routing/hours/told.hpp"

#include "geo/sky/sun_events.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using hours_test::told;
using namespace geo::literals;
using namespace std::chrono;
using routing::hours::read_hours;
using routing::hours::Reason;
using routing::hours::Site;
using routing::hours::State;

constexpr const char* monday = "2027-05-10";

TEST_CASE("several spans of a day stand side by side") {
    // Section time_selector.
    CHECK(told("08:00-12:00,13:00-17:30", monday, 1) == "Mo 08:00-12:00, Mo 13:00-17:30");
    CHECK(told("08:00-12:00, 13:00-17:30", monday, 1) == "Mo 08:00-12:00, Mo 13:00-17:30");
    CHECK(told("08:00-12:00,12:00-17:30", monday, 1) == "Mo 08:00-17:30");
}

TEST_CASE("a span may run past midnight") {
    // Section extended_time; explanation of times past midnight.
    CHECK(told("Fr 22:00-02:00", "2027-05-14", 2) == "Fr 22:00-Sa 02:00");
    CHECK(told("Fr 22:00-26:00", "2027-05-14", 2) == "Fr 22:00-Sa 02:00");
    CHECK(told("Fr 22:00-02:00", "2027-05-15", 1) == "Sa 00:00-02:00");
    CHECK(told("Fr 10:00-48:00", "2027-05-14", 3) == "Fr 10:00-Sa 24:00");
    CHECK(told("Mo-Su 12:00-02:00", monday, 1) == "Mo 00:00-02:00, Mo 12:00-24:00");
    CHECK(told("Fr 24:00-02:00", "2027-05-14", 2) == "Sa 00:00-02:00");
    CHECK(told("Mo-Fr 00:00-24:00", "2027-05-14", 2) == "Fr 00:00-24:00");
    CHECK(told("18:00-00:00", monday, 1) == "Mo 18:00-24:00");
}

TEST_CASE("a span that ends when it begins is unknown, a day from midnight to midnight is a day") {
    CHECK(told("Mo 08:00-08:00", monday, 2) == "Mo 08:00-Tu 08:00?");
    CHECK(told("Mo 00:00-00:00", monday, 2) == "Mo 00:00-24:00");
}

TEST_CASE("an open end is open until the stated end and unknown after it") {
    // Section time_selector, "+".
    CHECK(told("Mo 10:00-14:00+", monday, 2) == "Mo 10:00-14:00, Mo 14:00-24:00?");
    CHECK(told("Mo 09:00+", monday, 2) == "Mo 09:00-24:00?");
    CHECK(told("Mo 17:00+", monday, 2) == "Mo 17:00-Tu 03:00?");
    CHECK(told("Mo 17:00-23:00+", monday, 2) == "Mo 17:00-23:00, Mo 23:00-Tu 07:00?");
    CHECK_MESSAGE(told("Mo 10:00-14:00+,18:00-22:00", monday, 1) == "Mo 10:00-14:00, Mo 14:00-18:00?, Mo 18:00-22:00",
                  "until the next span at most");
    CHECK(told("Mo 20:00-02:00+", monday, 2) == "Mo 20:00-Tu 02:00, Tu 02:00-07:00?");
    CHECK_MESSAGE(told("Mo 20:00-32:00+", monday, 2) == "Mo 20:00-Tu 08:00, Tu 08:00-09:00?", "never of no length");
    CHECK(told("Mo-Su 17:00-23:00+", "2027-05-11", 1) == "Tu 00:00-07:00?, Tu 17:00-23:00, Tu 23:00-24:00?");
}

TEST_CASE("sunrise and sunset are those of the sky, dawn and dusk the ends of civil twilight") {
    // Section event.
    const Site site = hours_test::valley();
    const geo::Interval day = geo::civil_day(2027y / May / 10, site.zone);
    const auto risings = geo::sky::sun_crossings(site.at, 0_m, geo::sky::HorizonRule::upper_limb, day);
    const auto twilight = geo::sky::sun_crossings(site.at, 0_m, geo::Degrees{-6.0}, day);
    REQUIRE(risings.size() == 2);
    REQUIRE(twilight.size() == 2);
    const auto sun = read_hours("sunrise-sunset").intervals(day, site);
    REQUIRE(sun.size() == 1);
    CHECK(support::near(sun[0].time.from, risings[0].when, 2s));
    CHECK(support::near(sun[0].time.until, risings[1].when, 2s));
    CHECK(sun[0].state == State::open);
    const auto dusk = read_hours("dawn-dusk").intervals(day, site);
    REQUIRE(dusk.size() == 1);
    CHECK(support::near(dusk[0].time.from, twilight[0].when, 2s));
    CHECK(support::near(dusk[0].time.until, twilight[1].when, 2s));
    const auto moved = read_hours("(sunrise+01:30)-(sunset-00:20)").intervals(day, site);
    REQUIRE(moved.size() == 1);
    CHECK(support::near(moved[0].time.from, risings[0].when + 90min, 2s));
    CHECK(support::near(moved[0].time.until, risings[1].when - 20min, 2s));
    const auto night = read_hours("Mo sunset-sunrise").intervals({day.from, day.until + 24h}, site);
    REQUIRE(night.size() == 1);
    CHECK(support::near(night[0].time.from, risings[1].when, 2s));
    CHECK(night[0].time.until > day.until + 5h);
    CHECK(night[0].time.until < day.until + 6h);
    const auto till = read_hours("10:00-sunset").intervals(day, site);
    REQUIRE(till.size() == 1);
    CHECK(support::near(till[0].time.until, risings[1].when, 2s));
}

TEST_CASE("the sun's day is found where clock and sun are far apart, and when it sets after midnight") {
    // UTC+14 at 157 W: the civil day's noon is the sun's noon of the same day.
    const Site island{
        .at = {1.87_deg, -157.4_deg}, .zone = geo::find_time_zone("Pacific/Kiritimati").value(), .holidays = {}};
    const auto day = geo::civil_day(2027y / May / 10, island.zone);
    const auto sun = read_hours("sunrise-sunset").intervals(day, island);
    REQUIRE(sun.size() == 1);
    CHECK(support::near(sun[0].time.from, day.from + 6h + 20min, 600s));
    CHECK(support::near(sun[0].time.until, day.from + 18h + 30min, 600s));
    // South of the polar circle in June the sun sets after civil midnight; the evening is that of the day before.
    const Site north{
        .at = {65.7_deg, -18.1_deg}, .zone = geo::find_time_zone("Atlantic/Reykjavik").value(), .holidays = {}};
    const auto june = geo::civil_day(2027y / June / 20, north.zone);
    const auto night = read_hours("Su 20:00-sunset").intervals({june.from, june.until + 12h}, north);
    REQUIRE(night.size() == 1);
    CHECK(night[0].time.until > june.until);
    CHECK(night[0].time.until < june.until + 90min);
}

TEST_CASE("without sunrise or sunset what hangs on it is unknown, never at a made-up time") {
    const Site north{.at = {69.65_deg, 18.96_deg}, .zone = geo::find_time_zone("Europe/Oslo").value(), .holidays = {}};
    CHECK(told("sunrise-sunset", "2027-06-21", 1, north) == "Mo 00:00-24:00?");
    CHECK(told("sunrise-sunset", "2027-12-21", 1, north) == "Tu 00:00-24:00?");
    CHECK(told("10:00-sunset", "2027-06-21", 1, north) == "Mo 10:00-24:00?");
    CHECK(told("sunset-02:00", "2027-06-21", 1, north) == "Mo 00:00-24:00?");
    CHECK(told("Mo 10:00-12:00, Mo 14:00-sunset", "2027-06-21", 1, north) == "Mo 10:00-12:00, Mo 14:00-24:00?");
    const auto day = geo::civil_day(2027y / June / 21, north.zone);
    CHECK(read_hours("sunrise-sunset").intervals(day, north).at(0).reason == Reason::no_sun_event);
}

TEST_CASE("spring: times the clock skips do not last") {
    // 28 March 2027, 02:00 to 03:00 is skipped.
    CHECK(told("Su 02:00-03:00", "2027-03-28", 1) == "closed");
    CHECK(told("Su 01:00-02:30", "2027-03-28", 1) == "Su 01:00-03:00");
    CHECK_MESSAGE(told("Su 02:15-04:00", "2027-03-28", 1) == "Su 03:00-03:15?, Su 03:15-04:00",
                  "opened when the clock jumps, or as long after 01:59 as ever");
    CHECK(told("Sa 22:00-02:30", "2027-03-27", 2) == "Sa 22:00-Su 03:00");
    const Site site = hours_test::valley();
    const auto day = geo::civil_day(2027y / March / 28, site.zone);
    const auto whole = read_hours("Su").intervals(day, site);
    REQUIRE(whole.size() == 1);
    CHECK(whole[0].time == day);
    CHECK(whole[0].time.length() == 23h);
}

TEST_CASE("autumn: between two readings of one clock time nobody knows") {
    // 31 October 2027: 02:00 to 03:00 comes twice.
    const Site site = hours_test::valley();
    const geo::Interval day = geo::civil_day(2027y / October / 31, site.zone);
    REQUIRE(day.length() == 25h);
    const auto closing = read_hours("01:00-02:30").intervals(day, site);
    REQUIRE(closing.size() == 2);
    CHECK(closing[0].time == geo::Interval{day.from + 1h, day.from + 2h + 30min});
    CHECK(closing[0].state == State::open);
    CHECK(closing[1].time == geo::Interval{day.from + 2h + 30min, day.from + 3h + 30min});
    CHECK(closing[1].state == State::unknown);
    CHECK(closing[1].reason == Reason::clock_change);
    const auto opening = read_hours("02:30-05:00").intervals(day, site);
    REQUIRE(opening.size() == 2);
    CHECK(opening[0].time == geo::Interval{day.from + 2h + 30min, day.from + 3h + 30min});
    CHECK(opening[0].state == State::unknown);
    CHECK(opening[1].time == geo::Interval{day.from + 3h + 30min, day.from + 6h});
    CHECK_MESSAGE(told("Su 01:00-02:00,03:00-04:00", "2027-10-31", 1) == "Su 01:00-02:00, Su 03:00-04:00",
                  "02:00 parts what is before it in both runs of the hour");
    const auto hour = read_hours("02:00-03:00").intervals(day, site);
    REQUIRE(hour.size() == 1);
    CHECK(hour[0].time.length() == 2h);
    const auto over = read_hours("01:00-05:00").intervals(day, site);
    REQUIRE(over.size() == 1);
    CHECK(over[0].time.length() == 5h);
    CHECK(over[0].state == State::open);
}

TEST_CASE("clock changes at midnight leave no hole and no overlap between days") {
    // Azores, 31 October 2027: at 01:00 back to 00:00. Beirut, 28 March 2027: 00:00 to 01:00 is skipped.
    for (const auto& [zone, date] : {std::pair{"Atlantic/Azores", "2027-10-30"}, {"Asia/Beirut", "2027-03-27"}}) {
        const Site site{.at = {37.7_deg, -25.7_deg}, .zone = geo::find_time_zone(zone).value(), .holidays = {}};
        const auto first = geo::parse_date(date).value();
        const geo::Interval days{geo::civil_day(first, site.zone).from,
                                 geo::civil_day(geo::next_date(geo::next_date(first)), site.zone).until};
        for (const char* text : {"24/7", "00:00-24:00", "Mo-Su", "00:00-12:00,12:00-24:00", "06:00-30:00"}) {
            const auto open = read_hours(text).intervals(days, site);
            REQUIRE_MESSAGE(open.size() == 1, zone << " " << text);
            CHECK(open[0].time == days);
        }
    }
}
