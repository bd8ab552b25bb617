#include "geo/local_time.hpp"

#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <clocale>
#include <cstdlib>
#include <ctime>
#include <string>

using geo::CivilDate;
using geo::Instant;
using geo::Seconds;
using geo::TimeZone;
using namespace std::chrono_literals;

namespace {

TimeZone zone(const std::string& name) {
    const auto found = geo::find_time_zone(name);
    REQUIRE_MESSAGE(found, name);
    return *found;
}

CivilDate day(int year, unsigned month, unsigned date) {
    return {std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{date}};
}

/// An instant from its UTC text, by another road than the code under test.
Instant utc(int year, unsigned month, unsigned date, Seconds time) {
    return Instant{std::chrono::sys_days{day(year, month, date)}} + time;
}

} // namespace

TEST_CASE("a local time in a spring gap means the first instant after it") {
    // Central Europe: 26 March 2023, 02:00 to 03:00 at 01:00 UTC (Directive 2000/84/EC, article 2).
    const TimeZone munich = zone("Europe/Berlin");
    CHECK(geo::instant_of(day(2023, 3, 26), 1h + 59min, munich) == utc(2023, 3, 26, 59min));
    for (const auto shown : {2h + 0min, 2h + 30min, 2h + 59min, 3h + 0min})
        CHECK(geo::instant_of(day(2023, 3, 26), shown, munich) == utc(2023, 3, 26, 1h));
    CHECK(geo::instant_of(day(2023, 3, 26), 3h + 1min, munich) == utc(2023, 3, 26, 1h + 1min));
    // Half-hour change of Lord Howe Island: 5 October 2025, 02:00 to 02:30, from +10:30 to +11.
    const TimeZone lord_howe = zone("Australia/Lord_Howe");
    CHECK(geo::instant_of(day(2025, 10, 5), 2h + 10min, lord_howe) == utc(2025, 10, 4, 15h + 30min));
    CHECK(geo::offset_at(utc(2025, 10, 4, 15h + 29min), lord_howe) == 10h + 30min);
    CHECK(geo::offset_at(utc(2025, 10, 4, 15h + 30min), lord_howe) == 11h);
    // A gap at midnight: Beirut, 27 March 2022, 00:00 to 01:00.
    CHECK(geo::instant_of(day(2022, 3, 27), 0h, zone("Asia/Beirut")) == utc(2022, 3, 26, 22h));
    CHECK(geo::clock_text(utc(2022, 3, 26, 22h), zone("Asia/Beirut")) == "01:00");
}

TEST_CASE("a local time that exists twice means the first of the two, and its offset tells") {
    const TimeZone munich = zone("Europe/Berlin");
    const Instant first = geo::instant_of(day(2023, 10, 29), 2h + 30min, munich);
    CHECK(first == utc(2023, 10, 29, 30min));
    CHECK(geo::iso_text(first, munich) == "2023-10-29T02:30:00+02:00");
    CHECK(geo::iso_text(first + 1h, munich) == "2023-10-29T02:30:00+01:00");
    const TimeZone lord_howe = zone("Australia/Lord_Howe");
    const Instant lord_howe_first = geo::instant_of(day(2026, 4, 5), 1h + 45min, lord_howe);
    CHECK(geo::iso_text(lord_howe_first, lord_howe) == "2026-04-05T01:45:00+11:00");
    CHECK(geo::iso_text(lord_howe_first + 30min, lord_howe) == "2026-04-05T01:45:00+10:30");
}

TEST_CASE("each instant of a day with a clock change has its own offset") {
    const TimeZone munich = zone("Europe/Berlin");
    CHECK(geo::clock_text(utc(2023, 3, 26, 30min), munich) == "01:30");
    CHECK(geo::clock_text(utc(2023, 3, 26, 17h + 30min), munich) == "19:30");
    CHECK(geo::clock_text(utc(2023, 10, 29, 30min), munich) == "02:30");
    CHECK(geo::clock_text(utc(2023, 10, 29, 15h + 30min), munich) == "16:30");
    const TimeZone new_york = zone("America/New_York");
    CHECK(geo::iso_text(utc(2026, 7, 1, 12h), new_york) == "2026-07-01T08:00:00-04:00");
    CHECK(geo::iso_text(utc(2026, 12, 1, 12h), new_york) == "2026-12-01T07:00:00-05:00");
    // Summer time of years to come: a system whose compiled zone files leave it out would be an hour wrong.
    CHECK(geo::offset_at(utc(2036, 7, 1, 12h), new_york) == -4h);
}

TEST_CASE("civil days last from midnight to midnight, 23 to 25 hours where clocks change") {
    CHECK(geo::civil_day(day(2026, 3, 29), zone("Europe/Berlin")).length() == 23h);
    CHECK(geo::civil_day(day(2026, 10, 25), zone("Europe/Berlin")).length() == 25h);
    CHECK(geo::civil_day(day(2026, 4, 5), zone("Australia/Lord_Howe")).length() == 24h + 30min);
    CHECK(geo::civil_day(day(2026, 6, 1), zone("Asia/Kathmandu")) ==
          geo::Interval{utc(2026, 5, 31, 18h + 15min), utc(2026, 6, 1, 18h + 15min)});
    for (const auto* name : {"Asia/Beirut", "America/Havana", "America/Santiago", "Africa/Cairo", "Pacific/Chatham"})
        for (std::chrono::sys_days date{day(2022, 1, 1)}; date < std::chrono::sys_days{day(2023, 1, 1)};
             date += std::chrono::days{1}) {
            const auto here = zone(name);
            const auto whole = geo::civil_day(CivilDate{date}, here);
            // Days tile the year, and each instant belongs to the day that holds it.
            CHECK(whole.until == geo::civil_day(CivilDate{date + std::chrono::days{1}}, here).from);
            CHECK(geo::civil_date(whole.from, here) == CivilDate{date});
            CHECK(geo::civil_date(whole.until - 1s, here) == CivilDate{date});
        }
}

TEST_CASE("the day Samoa skipped has no length and its clock times mean the next day's start") {
    // Pacific/Apia crossed the date line: 29 December 2011 was followed by 31 December.
    const TimeZone apia = zone("Pacific/Apia");
    const auto skipped = geo::civil_day(day(2011, 12, 30), apia);
    CHECK(skipped.length() == 0s);
    CHECK(skipped.from == utc(2011, 12, 30, 10h));
    CHECK(geo::instant_of(day(2011, 12, 30), 15h, apia) == utc(2011, 12, 30, 10h));
    CHECK(geo::civil_date(skipped.from, apia) == day(2011, 12, 31));
    CHECK(geo::civil_date(skipped.from - 1s, apia) == day(2011, 12, 29));
    CHECK(geo::civil_day(day(2011, 12, 29), apia).length() == 24h);
}

TEST_CASE("24:00 is the next day's 00:00") {
    const TimeZone here = zone("Atlantic/Azores");
    CHECK(geo::instant_of(day(2027, 12, 31), 24h, here) == geo::instant_of(day(2028, 1, 1), 0h, here));
    CHECK(geo::parse_instant("2027-12-31T24:00", here) == geo::parse_instant("2028-01-01T00:00", here));
}

TEST_CASE("clock texts round to the nearest minute, over midnight and clock changes too") {
    const TimeZone munich = zone("Europe/Berlin");
    CHECK(geo::clock_text(utc(2026, 6, 1, 3h + 4min + 29s), munich) == "05:04");
    CHECK(geo::clock_text(utc(2026, 6, 1, 3h + 4min + 30s), munich) == "05:05");
    CHECK(geo::clock_text(utc(2026, 6, 1, 21h + 59min + 40s), munich) == "00:00");
    CHECK(geo::clock_text(utc(2026, 3, 29, 59min + 40s), munich) == "03:00");
    CHECK(geo::clock_text(utc(2026, 3, 29, 59min + 20s), munich) == "01:59");
}

TEST_CASE("dates before 1970 and far offsets are written right") {
    CHECK(geo::iso_text(utc(1969, 12, 31, 23h + 59min + 59s), zone("UTC")) == "1969-12-31T23:59:59+00:00");
    CHECK(geo::iso_text(utc(2026, 1, 1, 0s), zone("Pacific/Kiritimati")) == "2026-01-01T14:00:00+14:00");
    CHECK(geo::iso_text(utc(2026, 1, 1, 0s), zone("America/St_Johns")) == "2025-12-31T20:30:00-03:30");
    // Liberia kept 44 minutes 30 seconds behind Greenwich until 1972.
    CHECK(geo::iso_text(utc(1971, 1, 1, 0s), zone("Africa/Monrovia")) == "1970-12-31T23:15:30-00:44:30");
}

TEST_CASE("what iso_text writes is read back as the same instant, in any zone") {
    for (const auto* name : {"UTC", "Europe/Berlin", "Australia/Lord_Howe", "America/St_Johns", "Asia/Kathmandu",
                             "Pacific/Apia", "Africa/Monrovia", "America/Havana"}) {
        const TimeZone there = zone(name);
        for (Instant when = utc(1965, 1, 1, 7s); when < utc(2036, 1, 1, 0s); when += 1'000'003s) {
            const std::string text = geo::iso_text(when, there);
            CHECK(geo::parse_instant(text, zone("UTC")) == when);
            // Without offset the text means the first instant that reads so.
            const auto local = geo::parse_instant(text.substr(0, 19), there);
            REQUIRE(local);
            CHECK(*local <= when);
            CHECK(geo::iso_text(*local, there).substr(0, 19) == text.substr(0, 19));
        }
    }
}

TEST_CASE("dates are read strictly") {
    CHECK(geo::parse_date("2028-02-29") == day(2028, 2, 29));
    CHECK(geo::to_string(day(2027, 5, 4)) == "2027-05-04");
    for (const auto* text :
         {"2027-02-29", "2027-02-30", "2027-13-01", "2027-00-10", "2027-04-31", "2027-1-01", "27-01-01", "2027-01-00",
          "2027/01/01", "2027-01-01 ", " 2027-01-01", "", "2027-01-01T", "+027-01-01", "2027-01-0a", "12027-01-01"})
        CHECK_MESSAGE(!geo::parse_date(text), text);
}

TEST_CASE("clock times are read strictly") {
    CHECK(geo::parse_clock("00:00") == 0min);
    CHECK(geo::parse_clock("09:05") == 9h + 5min);
    CHECK(geo::parse_clock("24:00") == 24h);
    for (const auto* text :
         {"25:10", "24:01", "23:60", "9:05", "09:5", "0905", "", "09:05:00", "-1:00", "09:05 ", "ab:cd"})
        CHECK_MESSAGE(!geo::parse_clock(text), text);
}

TEST_CASE("instants are read with or without seconds and offset") {
    const TimeZone azores = zone("Atlantic/Azores"); // UTC in summer
    CHECK(geo::parse_instant("2027-05-14T04:58", azores) == utc(2027, 5, 14, 4h + 58min));
    CHECK(geo::parse_instant("2027-05-14T04:58:31", azores) == utc(2027, 5, 14, 4h + 58min + 31s));
    CHECK(geo::parse_instant("2027-05-14T04:58Z", zone("Asia/Tokyo")) == utc(2027, 5, 14, 4h + 58min));
    CHECK(geo::parse_instant("2027-05-14T04:58:31+01:00", azores) == utc(2027, 5, 14, 3h + 58min + 31s));
    CHECK(geo::parse_instant("2027-05-14T00:10-03:30", azores) == utc(2027, 5, 14, 3h + 40min));
    for (const auto* text :
         {"2027-05-14", "2027-05-14T", "2027-05-14 04:58", "2027-02-30T04:58", "2027-05-14T25:00",
          "2027-05-14T04:58:60", "2027-05-14T04:58:31+1:00", "2027-05-14T04:58z", "2027-05-14T04:58+24:00",
          "2027-05-14T24:00:01", "2027-05-14T04:58:31+01:00x", "2027-05-14T04:58:31+01", ""})
        CHECK_MESSAGE(!geo::parse_instant(text, azores), text);
}

TEST_CASE("a time given to the second inside a gap means the first instant after it") {
    CHECK(geo::parse_instant("2023-03-26T02:30:15", zone("Europe/Berlin")) == utc(2023, 3, 26, 1h));
}

TEST_CASE("zones are found by their exact IANA name") {
    CHECK(zone("Europe/Berlin").name() == "Europe/Berlin");
    for (const auto* name : {"", "Europe", "europe/berlin", "Europe/Berlin ", "../localtime", "localtime",
                             "Mars/Olympus", "/etc/passwd", "tzdata.zi"})
        CHECK_MESSAGE(!geo::find_time_zone(name), name);
}

TEST_CASE("a misspelt zone is answered with the nearest known one") {
    CHECK(geo::nearest_zone_name("Europe/Berln") == "Europe/Berlin");
    CHECK(geo::nearest_zone_name("europe/lisbon") == "Europe/Lisbon");
    CHECK(geo::nearest_zone_name("Madeira") == "Atlantic/Madeira");
    CHECK(geo::nearest_zone_name("new york") == "America/New_York");
}

TEST_CASE("the zone database tells its version") {
    // "2024b", or what says honestly that it does not tell.
    const std::string version = geo::zone_database_version();
    const bool is_version = version.size() >= 5 && version.find_first_not_of("0123456789") == 4;
    CHECK((is_version || version == "unknown"));
}

TEST_CASE("weekdays are named in English") {
    CHECK(geo::weekday_name(day(2027, 5, 14)) == "Friday");
    CHECK(geo::weekday_name(day(2000, 1, 1)) == "Saturday");
    CHECK(geo::weekday_name(day(2024, 2, 29)) == "Thursday");
}

TEST_CASE("the process's zone and locale change nothing") {
    const auto everything = [] {
        const TimeZone here = zone("Atlantic/Faroe");
        const Instant when = utc(2027, 5, 14, 3h + 58min + 31s);
        return geo::iso_text(when, here) + geo::clock_text(when, here) +
               geo::weekday_name(geo::civil_date(when, here)) + geo::to_string(geo::civil_date(when, here)) +
               geo::iso_text(*geo::parse_instant("2027-11-01T12:34", here), here);
    };
    const char* earlier = std::getenv("TZ");
    const std::string kept = earlier ? earlier : "";
    const std::string expected = everything();
    CHECK(expected == "2027-05-14T04:58:31+01:0004:59Friday2027-05-142027-11-01T12:34:00+00:00");
    for (const auto* other : {"Asia/Tokyo", "America/St_Johns", ""}) {
        setenv("TZ", other, 1);
        tzset();
        std::setlocale(LC_ALL, "de_DE.UTF-8");
        CHECK(everything() == expected);
    }
    std::setlocale(LC_ALL, "C");
    if (earlier)
        setenv("TZ", kept.c_str(), 1);
    else
        unsetenv("TZ");
    tzset();
}
