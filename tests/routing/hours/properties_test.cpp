/// What holds of every text, on real values and on made ones.

#include "routing/hours/condition.hpp"
#include "routing/hours/holidays.hpp"
#include "tests/routing/hours/told.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <random>
#include <string>
#include <vector>

using namespace geo::literals;
using namespace std::chrono;
using routing::hours::condition_times;
using routing::hours::Hours;
using routing::hours::read_hours;
using routing::hours::Site;
using routing::hours::State;
using routing::hours::Stretch;

namespace {

/// Ordered, disjoint, inside the span, open or unknown, each longer than zero, neighbours different.
bool well_formed(const std::vector<Stretch>& list, geo::Interval span) {
    geo::Instant reached = span.from;
    for (std::size_t i = 0; i < list.size(); ++i) {
        const Stretch& stretch = list[i];
        if (stretch.time.from < reached || stretch.time.from >= stretch.time.until || stretch.time.until > span.until ||
            stretch.state == State::closed)
            return false;
        if (i > 0 && list[i - 1].time.until == stretch.time.from && list[i - 1].state == stretch.state &&
            list[i - 1].reason == stretch.reason && list[i - 1].comment == stretch.comment &&
            list[i - 1].unless_holiday == stretch.unless_holiday)
            return false;
        reached = stretch.time.until;
    }
    return true;
}

State state_in(const std::vector<Stretch>& list, geo::Instant when) {
    for (const Stretch& stretch : list)
        if (stretch.time.from <= when && when < stretch.time.until)
            return stretch.state;
    return State::closed;
}

std::vector<std::string> real_values() {
    std::vector<std::string> values;
    if (const auto file = support::shared_data("opening_hours_values.txt")) {
        std::ifstream lines(*file);
        for (std::string line; std::getline(lines, line);)
            if (!line.empty() && line.front() != '#')
                values.push_back(line.substr(line.find('\t', line.find('\t') + 1) + 1));
    }
    return values;
}

std::vector<std::string> made_values() {
    return {"24/7",
            "Mo-Su 18:00-02:00; Fr 20:00-04:00; PH off",
            "Tu-Th 07:00-04:00; Fr-Su 09:00-17:00 || \"ring\"",
            "Nov-Feb: sunrise-sunset; Mar-Oct: 08:00-(sunset+01:00); Dec 24-26 off",
            "Mo-Fr 08:00-12:00; SH Mo-Fr 10:00-12:00; week 1-53/2 Sa 17:00+",
            "Su 02:00-03:00, 01:30-02:30, Sa[1] 22:00-26:30",
            "PH,Su 10:00-14:00; easter off; Mo-Sa 09:00-18:00",
            "not hours at all"};
}

/// A month about each clock change of 2027, and New Year.
std::vector<geo::Interval> spans(const Site& site) {
    const auto span = [&](geo::CivilDate first, int count) {
        return geo::Interval{geo::instant_of(first, 5h, site.zone),
                             geo::instant_of(geo::CivilDate{sys_days{first} + days{count}}, 13h, site.zone)};
    };
    return {span(2027y / March / 15, 28), span(2027y / October / 18, 28), span(2026y / December / 20, 25)};
}

void check_value(const std::string& value, const Site& site, std::mt19937_64& random, int instants) {
    const Hours hours = read_hours(value);
    const auto all = spans(site);
    std::vector<std::vector<Stretch>> found;
    for (const geo::Interval& span : all) {
        found.push_back(hours.intervals(span, site));
        CHECK_MESSAGE(well_formed(found.back(), span), value);
    }
    for (int i = 0; i < instants; ++i) {
        const std::size_t which = random() % all.size();
        const auto length = static_cast<std::uint64_t>(all[which].length().count());
        // Whole quarters of an hour as well: that is where states change.
        auto when = all[which].from + geo::Seconds{static_cast<std::int64_t>(random() % length)};
        if (i % 2 == 0)
            when = std::max(all[which].from, geo::Instant{when.time_since_epoch() / 900 * 900});
        REQUIRE_MESSAGE(hours.state_at(when, site).state == state_in(found[which], when), value);
    }
    // Asking for a part gives the part.
    const geo::Interval part{all[0].from + 100h + 17min, all[0].from + 190h + 3s};
    const auto cut = hours.intervals(part, site);
    CHECK(well_formed(cut, part));
    for (const Stretch& stretch : cut)
        CHECK(state_in(found[0], stretch.time.from) == stretch.state);
}

} // namespace

TEST_CASE("intervals are in order, disjoint and inside the span, and agree with state_at at 1,000 random instants") {
    std::mt19937_64 random(20270514);
    for (const char* zone : {"Europe/Vienna", "Atlantic/Azores", "Pacific/Auckland"}) {
        const Site site{.at = {48.2_deg, 16.37_deg}, .zone = geo::find_time_zone(zone).value(), .holidays = {}};
        for (const std::string& value : made_values())
            check_value(value, site, random, 1000);
    }
}

TEST_CASE("every value of the real extracts keeps the same properties") {
    std::mt19937_64 random(20270514);
    const Site site{.at = {48.2_deg, 16.37_deg}, .zone = geo::find_time_zone("Europe/Vienna").value(), .holidays = {}};
    for (const std::string& value : real_values())
        check_value(value, site, random, 1000);
}

TEST_CASE("any string of the syntax's words is read or refused, and what is read is judged in good order") {
    const std::vector<std::string> words{
        "Mo",  "Fr",    "Su-Tu", "[1]", "[-1]",   " PH",     " SH",    " +1 day", " -2 days", "Jan ",     "Feb 29",
        "Dec", " 24",   "-",     ",",   ", ",     "; ",      " || ",   "week ",   "53",       "easter",   "2027 ",
        "+",   "10:00", "22:30", "-",   "-02:00", "-26:00+", "sunset", "dawn-",   "(sunrise", "+01:00)",  " off",
        " ",   "24/7",  "\"x\"", ":",   "/2",     " open",   "2",      "9-17",    "pm",       " unknown", "-Jan 02"};
    std::mt19937_64 random(20270515);
    const Site site = hours_test::valley_with_holidays();
    const geo::Interval span{geo::instant_of(2027y / October / 25, 0s, site.zone),
                             geo::instant_of(2027y / November / 3, 7h, site.zone)};
    int read = 0;
    for (int i = 0; i < 60000; ++i) {
        std::string text;
        for (std::uint64_t count = 1 + random() % 7; count > 0; --count)
            text += words[random() % words.size()];
        const Hours hours = read_hours(text);
        REQUIRE(hours.rules().empty() == hours.refusal().has_value());
        if (hours.refusal())
            continue;
        ++read;
        REQUIRE_MESSAGE(well_formed(hours.intervals(span, site), span), text);
    }
    CHECK(read > 1000);
}

TEST_CASE("knowing the holidays never turns certain into its opposite but where the proviso was told") {
    const Site unknown = hours_test::valley();
    const Site known = hours_test::valley_with_holidays();
    const geo::Interval year{geo::civil_day(2027y / January / 1, known.zone).from,
                             geo::civil_day(2027y / December / 31, known.zone).until};
    for (const std::string& value : made_values()) {
        const auto before = read_hours(value).intervals(year, unknown);
        const auto after = read_hours(value).intervals(year, known);
        for (const Stretch& stretch : before)
            if (stretch.state == State::open && !stretch.unless_holiday)
                for (geo::Instant at = stretch.time.from; at < stretch.time.until; at += 30min)
                    REQUIRE_MESSAGE(state_in(after, at) == State::open, value);
    }
}

TEST_CASE("a condition is surely true, surely false or unknown") {
    const Site site = hours_test::valley();
    const geo::Interval day = geo::civil_day(2027y / May / 10, site.zone);
    const auto rush = condition_times("(Mo-Fr 07:00-09:00)", day, site);
    CHECK(rush.surely_true == geo::Intervals{{day.from + 7h, day.from + 9h}});
    CHECK(rush.unknown.empty());
    CHECK(condition_times("Nov-May", day, site).surely_true == geo::Intervals{day});
    CHECK(condition_times("Jun-Oct", day, site).surely_true.empty());
    CHECK(condition_times("wet", day, site).unknown == geo::Intervals{day});
    const auto evening = condition_times("17:00-19:00+", day, site);
    CHECK(evening.surely_true == geo::Intervals{{day.from + 17h, day.from + 19h}});
    CHECK(evening.unknown == geo::Intervals{{day.from, day.from + 5h}, {day.from + 19h, day.until}});
    CHECK(condition_times("(sunrise-01:00)-(sunset+01:00)", day, site).surely_true.size() == 1);
    CHECK(condition_times("((sunset-01:00)-(sunrise+01:00))", day, site).surely_true.size() == 2);
    CHECK_MESSAGE(condition_times("Mo 10:00-12:00; PH off", day, site).surely_true.size() == 1,
                  "a day that is hardly a holiday");
}

TEST_CASE("a condition on other things than time is told from one on time") {
    using routing::hours::is_time_condition;
    for (const char* time : {"Mo-Fr 07:00-09:00", "(sunset-sunrise)", "Nov-May", "2027 Jun 01-2027 Sep 15", "24/7"})
        CHECK_MESSAGE(is_time_condition(time), time);
    for (const char* other : {"weight>3.5", "wet", "destination", "(snow)", "", "axles>=3"})
        CHECK_MESSAGE(!is_time_condition(other), other);
}

TEST_CASE("a holiday table answers for the days it covers") {
    using routing::hours::is_public_holiday;
    using routing::hours::is_school_holiday;
    auto table = hours_test::valley_with_holidays().holidays;
    CHECK(is_public_holiday(table, 2027y / May / 1) == true);
    CHECK(is_public_holiday(table, 2027y / May / 2) == false);
    CHECK(is_public_holiday(table, 2028y / May / 1) == std::nullopt);
    CHECK(is_school_holiday(table, 2027y / August / 20) == true);
    CHECK(is_school_holiday(table, 2027y / August / 21) == false);
    table.school_known = false;
    CHECK(is_school_holiday(table, 2027y / August / 20) == std::nullopt);
    CHECK(is_public_holiday({}, 2027y / May / 1) == std::nullopt);
}
