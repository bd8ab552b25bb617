/// Dates, weeks, weekdays, holidays. Sections named are those of the OSM wiki page Key:opening_hours/specification
/// (version 0.7.4).

#include "routing/hours/easter.hpp"
#include "tests/routing/hours/told.hpp"

#include <doctest/doctest.h>

#include <map>
#include <vector>

using hours_test::told;
using hours_test::valley;
using hours_test::valley_with_holidays;
using namespace std::chrono;
using routing::hours::read_hours;
using routing::hours::State;

namespace {

/// Days of the years on which the text is open at noon, as "MM-DD".
std::vector<std::string> days_open(std::string_view text, int first_year, int last_year,
                                   const routing::hours::Site& site = valley()) {
    const auto hours = read_hours(text);
    REQUIRE_MESSAGE(!hours.refusal(), text << ": " << hours.refusal()->reason);
    std::vector<std::string> open;
    for (sys_days day = year{first_year} / January / 1; day <= sys_days{year{last_year} / December / 31};
         day += days{1})
        if (hours.state_at(geo::instant_of(geo::CivilDate{day}, 12h, site.zone), site).state == State::open)
            open.push_back(first_year == last_year ? geo::to_string(geo::CivilDate{day}).substr(5)
                                                   : geo::to_string(geo::CivilDate{day}));
    return open;
}

using Days = std::vector<std::string>;

} // namespace

TEST_CASE("weekdays: lists, spans, spans over the week's end") {
    // Section weekday_selector.
    CHECK(told("Mo,We 10:00-12:00", "2027-05-10", 7) == "Mo 10:00-12:00, We 10:00-12:00");
    CHECK(told("Sa-Mo 10:00-12:00", "2027-05-10", 7) == "Mo 10:00-12:00, Sa 10:00-12:00, Su 10:00-12:00");
    CHECK(told("Mo-Tu,Fr-Sa 10:00-12:00", "2027-05-10", 7) ==
          "Mo 10:00-12:00, Tu 10:00-12:00, Fr 10:00-12:00, Sa 10:00-12:00");
    CHECK(told("Su-Sa 10:00-12:00", "2027-05-10", 2) == "Mo 10:00-12:00, Tu 10:00-12:00");
}

TEST_CASE("a weekday counted within its month, from either end") {
    // Section weekday_range, nth_entry.
    CHECK(days_open("May Th[1]", 2027, 2027) == Days{"05-06"});
    CHECK(days_open("May Su[-1]", 2027, 2027) == Days{"05-30"});
    CHECK(days_open("May Sa[1,3]", 2027, 2027) == Days{"05-01", "05-15"});
    CHECK(days_open("May Sa[2-4]", 2027, 2027) == Days{"05-08", "05-15", "05-22"});
    CHECK(days_open("May Sa[5]", 2027, 2027) == Days{"05-29"});
    CHECK(days_open("Jun Sa[5]", 2027, 2027).empty());
    CHECK(days_open("Feb Mo[-4]", 2027, 2027) == Days{"02-01"});
    CHECK(days_open("May Mo-Tu[1]", 2027, 2027) == Days{"05-03", "05-04"});
    CHECK(days_open("Tu,Th,Sa,Su[1]", 2027, 2027).size() == 52 + 52 + 52 + 12);
}

TEST_CASE("a counted weekday may be moved by days") {
    // Section weekday_range, day_offset.
    CHECK(days_open("Su[1] +1 day", 2027, 2027).size() == 12);
    CHECK(days_open("May Su[1] +1 day", 2027, 2027) == Days{"05-03"});
    // The first Saturday of May is the 1st; the day that results lies in April.
    CHECK(days_open("Apr Sa[1] -2 days", 2027, 2027) == Days{"04-01", "04-29"});
}

TEST_CASE("months: alone, spans, over New Year, lists") {
    // Section monthday_range.
    CHECK(days_open("Feb", 2027, 2027).size() == 28);
    CHECK(days_open("Jun-Aug", 2027, 2027).size() == 92);
    CHECK(days_open("Nov-Feb", 2027, 2027).size() == 30 + 31 + 31 + 28);
    CHECK(days_open("Jan,Mar", 2027, 2027).size() == 62);
    CHECK(days_open("2027 Jun", 2026, 2028).size() == 30);
    CHECK(days_open("2026 Nov-Feb", 2025, 2028).size() == 30 + 31 + 31 + 28);
}

TEST_CASE("dates: single, lists, spans, over New Year") {
    // Section monthday_range, date_from, date_to.
    CHECK(days_open("Dec 24", 2027, 2027) == Days{"12-24"});
    CHECK(days_open("Nov 19,Dec 25", 2027, 2027) == Days{"11-19", "12-25"});
    CHECK(days_open("Dec 24,31", 2027, 2027) == Days{"12-24", "12-31"});
    CHECK(days_open("Sep 01-03,10", 2027, 2027) == Days{"09-01", "09-02", "09-03", "09-10"});
    CHECK(days_open("Apr 29-May 02", 2027, 2027) == Days{"04-29", "04-30", "05-01", "05-02"});
    CHECK(days_open("Dec 30-Jan 02", 2027, 2027) == Days{"01-01", "01-02", "12-30", "12-31"});
    CHECK(days_open("2026 Dec 30-2027 Jan 02", 2026, 2028) ==
          Days{"2026-12-30", "2026-12-31", "2027-01-01", "2027-01-02"});
    CHECK(days_open("2026 Dec 30-Jan 02", 2026, 2028) == Days{"2026-12-30", "2026-12-31", "2027-01-01", "2027-01-02"});
    CHECK(days_open("2026 Dec 24", 2026, 2028) == Days{"2026-12-24"});
    CHECK(days_open("2027 Dec 30+", 2026, 2027) == Days{"2027-12-30", "2027-12-31"});
}

TEST_CASE("29 February is a date of leap years; spans to and from it hold every year") {
    CHECK(days_open("Feb 29", 2024, 2028) == Days{"2024-02-29", "2028-02-29"});
    CHECK(days_open("Feb 27-Feb 29", 2027, 2027) == Days{"02-27", "02-28"});
    CHECK(days_open("Feb 29-Mar 02", 2027, 2027) == Days{"03-01", "03-02"});
    CHECK(days_open("Feb 29-Mar 01", 2028, 2028) == Days{"02-29", "03-01"});
}

TEST_CASE("dates may be moved to a weekday and by days") {
    // Section date_offset.
    CHECK(days_open("Oct 01 +Su", 2027, 2027) == Days{"10-03"});
    CHECK(days_open("Oct 01 -Su", 2027, 2027) == Days{"09-26"});
    CHECK(days_open("Dec 25 -Su -21 days-Dec 24", 2027, 2027).size() == 27); // from 28 November: 19 December less 21
    CHECK(days_open("Jan 01 -1 day", 2027, 2027) == Days{"12-31"});
}

TEST_CASE("years: lists, spans, steps, without end") {
    // Section year_selector.
    const auto years_open = [](std::string_view text) {
        std::vector<std::string> years;
        for (const std::string& day : days_open(std::string(text) + " Jun 15", 2024, 2030))
            years.push_back(day.substr(0, 4));
        return years;
    };
    CHECK(years_open("2027") == Days{"2027"});
    CHECK(years_open("2025,2027") == Days{"2025", "2027"});
    CHECK(years_open("2025-2027") == Days{"2025", "2026", "2027"});
    CHECK(years_open("2024-2030/3") == Days{"2024", "2027", "2030"});
    CHECK(years_open("2028+") == Days{"2028", "2029", "2030"});
}

TEST_CASE("weeks are those of ISO 8601, with lists, steps and a turn over New Year") {
    // Section week_selector. 4 January lies in week 1; 2026 has 53 weeks.
    CHECK(days_open("week 1 Mo", 2027, 2027) == Days{"01-04"});
    CHECK(days_open("week 53 Su", 2027, 2027) == Days{"01-03"});
    CHECK(days_open("week 1,3 Mo", 2027, 2027) == Days{"01-04", "01-18"});
    CHECK(days_open("week 1-7/3 Mo", 2027, 2027) == Days{"01-04", "01-25", "02-15"});
    CHECK(days_open("week 52-1 Mo", 2027, 2027) == Days{"01-04", "12-27"});
    CHECK(days_open("Jan week 2 Mo", 2027, 2027) == Days{"01-11"});
}

TEST_CASE("Easter is where the tables have it") {
    // Meeus, Astronomical Algorithms (1998), chapter 8, the years of its table of results (from memory): 1991, 1992,
    // 1993, 1954, 2000, 1818 (earliest), 1943.
    const std::map<int, year_month_day> published{
        {1991, 1991y / March / 31}, {1992, 1992y / April / 19}, {1993, 1993y / April / 11}, {1954, 1954y / April / 18},
        {2000, 2000y / April / 23}, {1818, 1818y / March / 22}, {1943, 1943y / April / 25}};
    for (const auto& [in, sunday] : published)
        CHECK(routing::hours::easter_sunday(year{in}) == sunday);
    for (int in = 1583; in < 4000; ++in) {
        const sys_days sunday = routing::hours::easter_sunday(year{in});
        REQUIRE(weekday{sunday} == Sunday);
        REQUIRE(sunday >= sys_days{year{in} / March / 22});
        REQUIRE(sunday <= sys_days{year{in} / April / 25});
    }
}

TEST_CASE("Easter as a date, with days before and after, and as end of a span") {
    // Section variable_date.
    CHECK(days_open("easter", 2027, 2027) == Days{"03-28"});
    CHECK(days_open("easter -2 days", 2027, 2027) == Days{"03-26"});
    CHECK(days_open("easter +1 day", 2027, 2027) == Days{"03-29"});
    CHECK(days_open("easter -2 days-easter +1 day", 2027, 2027) == Days{"03-26", "03-27", "03-28", "03-29"});
    CHECK(days_open("2027 easter", 2026, 2028) == Days{"2027-03-28"});
    CHECK(days_open("Mar 26-easter", 2027, 2027) == Days{"03-26", "03-27", "03-28"});
}

TEST_CASE("public and school holidays come from the table") {
    // Section holiday_sequence.
    const auto site = valley_with_holidays();
    CHECK(days_open("PH", 2027, 2027, site) == Days{"01-06", "03-26", "05-01", "08-15", "12-25"});
    CHECK(days_open("PH -1 day", 2027, 2027, site) == Days{"01-05", "03-25", "04-30", "08-14", "12-24"});
    CHECK(days_open("SH", 2027, 2027, site).size() == 40);
    CHECK_MESSAGE(days_open("SH Mo-Fr", 2027, 2027, site).size() == 30, "a blank: both");
    CHECK_MESSAGE(days_open("PH,Su", 2027, 2027, site).size() == 52 + 4, "a comma: either");
    CHECK(days_open("Su,PH", 2027, 2027, site).size() == 52 + 4);
    CHECK(told("Mo-Fr 10:00-12:00; PH off", "2027-01-05", 3, site) == "Tu 10:00-12:00, Th 10:00-12:00");
    CHECK(told("Mo-Su 10:00-12:00; PH 14:00-15:00", "2027-01-06", 1, site) == "We 14:00-15:00");
    CHECK_MESSAGE(told("PH off; Mo-Fr 10:00-12:00", "2027-01-05", 2, site) == "Tu 10:00-12:00, We 10:00-12:00?",
                  "by the specification the later rule opens the holiday");
    CHECK(told("PH off; Dec 25 10:00-12:00", "2027-12-25", 1, site) == "Sa 10:00-12:00");
    CHECK(told("PH 10:00-12:00; Mo-Sa 08:00-18:00", "2027-01-06", 1, site) ==
          "We 08:00-10:00?, We 10:00-12:00, We 12:00-18:00?");
}

TEST_CASE("without a table PH rules leave days that are often holidays unknown, others open with a proviso") {
    CHECK(told("Mo-Fr 10:00-12:00; PH off", "2027-01-05", 3) == "Tu 10:00-12:00!, We 10:00-12:00?, Th 10:00-12:00!");
    CHECK(told("Mo-Fr 10:00-12:00; PH 10:00-14:00", "2027-01-06", 1) == "We 10:00-12:00, We 12:00-14:00?");
    CHECK_MESSAGE(told("Mo-Fr 10:00-12:00; PH 10:00-14:00", "2027-01-05", 1) == "Tu 10:00-12:00",
                  "open either way: no proviso");
    CHECK_MESSAGE(told("Mo-Fr 10:00-12:00", "2027-01-06", 1) == "We 10:00-12:00", "no rule names PH");
    CHECK(told("PH 10:00-12:00", "2027-01-05", 2) == "We 10:00-12:00?");
    const auto hours = read_hours("Mo-Fr 10:00-12:00; PH off");
    CHECK(hours.names_public_holidays());
    CHECK_FALSE(hours.names_school_holidays());
}

TEST_CASE("without a table SH rules leave every day they bear on unknown") {
    CHECK(told("Mo-Fr 10:00-12:00; SH off", "2027-05-10", 2) == "Mo 10:00-12:00?, Tu 10:00-12:00?");
    CHECK(told("Mo-Fr 10:00-12:00; SH 10:00-14:00", "2027-05-10", 1) == "Mo 10:00-12:00, Mo 12:00-14:00?");
    CHECK(told("Mo-Fr 10:00-12:00; SH,PH off", "2027-01-06", 1) == "We 10:00-12:00?");
}

TEST_CASE("a table speaks for its years only") {
    const auto site = valley_with_holidays();
    CHECK(told("Mo-Fr 10:00-12:00; PH off", "2028-01-06", 1, site) == "Th 10:00-12:00?");
    CHECK(told("Mo-Fr 10:00-12:00; PH off", "2028-01-05", 1, site) == "We 10:00-12:00!");
    CHECK(told("Mo-Fr 10:00-12:00; PH off", "2027-12-08", 1, site) == "We 10:00-12:00");
}
