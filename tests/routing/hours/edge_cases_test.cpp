/// Cases seen in public reports on opening hours, each with its kind: a night cut at midnight, the sun that does not
/// set, a process in another zone.

#include "tests/routing/hours/told.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

using hours_test::told;
using hours_test::valley;
using namespace geo::literals;
using namespace std::chrono;
using routing::hours::read_hours;
using routing::hours::Reason;
using routing::hours::Site;
using routing::hours::State;

namespace {

/// The process in another time zone, as long as this lives.
class ProcessZone {
public:
    explicit ProcessZone(const char* zone) {
        if (const char* before = std::getenv("TZ"))
            before_ = before;
        setenv("TZ", zone, 1);
        tzset();
    }
    ~ProcessZone() {
        if (before_.empty())
            unsetenv("TZ");
        else
            setenv("TZ", before_.c_str(), 1);
        tzset();
    }
    ProcessZone(const ProcessZone&) = delete;
    ProcessZone& operator=(const ProcessZone&) = delete;

private:
    std::string before_;
};

} // namespace

TEST_CASE("D21: a semicolon replaces Wednesday, a comma adds to it, and the rule that decided is told") {
    CHECK(told("Mo-Fr 08:00-12:00; We 14:00-16:00", "2027-05-12", 1) == "We 14:00-16:00");
    CHECK(told("Mo-Fr 08:00-12:00, We 14:00-16:00", "2027-05-12", 1) == "We 08:00-12:00, We 14:00-16:00");
    const Site site = valley();
    const auto day = geo::civil_day(2027y / May / 12, site.zone);
    const auto added = read_hours("Mo-Fr 08:00-12:00, We 14:00-16:00").intervals(day, site);
    REQUIRE(added.size() == 2);
    CHECK(added[0].rule == 0);
    CHECK(added[1].rule == 1);
    CHECK(read_hours("Mo-Fr 08:00-12:00; We 14:00-16:00").intervals(day, site).at(0).rule == 1);
}

TEST_CASE("D22: what another rule cuts off a night at midnight is unknown") {
    // Friday 14 May 2027.
    CHECK(told("Tu-Th 07:00-04:00; Fr-Su 09:00-17:00", "2027-05-13", 2) ==
          "Th 00:00-04:00, Th 07:00-24:00, Fr 00:00-04:00?, Fr 09:00-17:00");
    CHECK_MESSAGE(told("Tu-Th 07:00-04:00, Fr-Su 09:00-17:00", "2027-05-14", 1) == "Fr 00:00-04:00, Fr 09:00-17:00",
                  "a comma cuts nothing");
    CHECK_MESSAGE(told("Mo-Su 18:00-02:00; Fr off", "2027-05-14", 2) ==
                      "Fr 00:00-02:00?, Sa 00:00-02:00?, Sa 18:00-24:00",
                  "by a day off; and the end of that day's own night");
    CHECK_MESSAGE(told("Mo-Su 18:00-02:00; Fr 18:00-20:00", "2027-05-14", 2) ==
                      "Fr 00:00-02:00?, Fr 18:00-20:00, Sa 00:00-02:00?, Sa 18:00-24:00",
                  "by shorter hours");
    CHECK_MESSAGE(told("Mo-Su 12:00-02:00; Fr 12:00-04:00", "2027-05-14", 2) ==
                      "Fr 00:00-02:00?, Fr 12:00-Sa 04:00, Sa 12:00-24:00",
                  "longer hours decide their own night");
    CHECK_MESSAGE(told("We-Sa 21:00-04:00; PH off", "2027-05-01", 1, hours_test::valley_with_holidays()) ==
                      "Sa 00:00-04:00?",
                  "by a holiday");
    CHECK_MESSAGE(told("Fr 22:00-03:00; Sa 22:00-04:00", "2027-05-15", 1) == "Sa 00:00-03:00?, Sa 22:00-24:00",
                  "by the next night");
    CHECK_MESSAGE(told("Sa 10:00-12:00; Fr 22:00-03:00", "2027-05-15", 1) == "Sa 00:00-03:00, Sa 10:00-12:00",
                  "a later rule's night is not cut");
    CHECK(told("Mo-Su 18:00-02:00; Sa 00:00-01:00 off", "2027-05-15", 1) == "Sa 01:00-02:00, Sa 18:00-24:00");
}

TEST_CASE("D23: an open end is never of no length, and never certain") {
    CHECK(told("17:00+", "2027-05-10", 1) == "Mo 00:00-03:00?, Mo 17:00-24:00?");
    CHECK(told("17:00-23:00+", "2027-05-10", 1) == "Mo 00:00-07:00?, Mo 17:00-23:00, Mo 23:00-24:00?");
    for (int hour = 0; hour < 24; ++hour) {
        const std::string start = (hour < 10 ? "0" : "") + std::to_string(hour) + ":30+";
        const Site site = valley();
        const auto day = geo::civil_day(2027y / May / 10, site.zone);
        const auto found = read_hours("Mo " + start).intervals({day.from, day.until + 24h}, site);
        REQUIRE(found.size() == 1);
        CHECK(found[0].state == State::unknown);
        CHECK(found[0].reason == Reason::open_end);
        CHECK(found[0].time.length() >= 30min);
    }
    const Site site = valley();
    const auto day = geo::civil_day(2027y / May / 10, site.zone);
    CHECK_MESSAGE(read_hours("sunset+").intervals(day, site).size() == 2, "after sunset too");
}

TEST_CASE("D24: holidays that nobody knows make days unknown, and nothing throws") {
    CHECK(told("PH off", "2027-01-06", 1) == "closed");
    CHECK(told("SH off", "2027-05-10", 1) == "closed");
    CHECK(told("Mo-Su 10:00-12:00; PH off", "2027-12-25", 1) == "Sa 10:00-12:00?");
    CHECK(told("Mo-Su 10:00-12:00; SH off", "2027-05-10", 1) == "Mo 10:00-12:00?");
    const Site site = valley();
    const auto noon = geo::instant_of(2027y / December / 25, 11h, site.zone);
    CHECK(read_hours("Mo-Su 10:00-12:00; PH off").state_at(noon, site).reason == Reason::holiday);
    CHECK(read_hours("Mo-Su 10:00-12:00; PH off").state_at(noon - 48h, site).unless_holiday);
}

TEST_CASE("D25: polar day and polar night end in unknown, and every walk advances") {
    for (const double latitude : {69.65, 78.22, -77.85, 89.9, -90.0, 66.6}) {
        const Site pole{.at = {geo::Degrees{latitude}, 18.96_deg},
                        .zone = geo::find_time_zone("Europe/Oslo").value(),
                        .holidays = {}};
        for (const char* text : {"sunrise-sunset", "sunset-sunrise", "dawn-dusk", "(sunrise-01:00)-(sunset+01:00)",
                                 "10:00-sunset", "sunset+", "Mo-Fr sunrise-18:00; Sa,Su sunset-23:00"}) {
            const geo::Interval year{geo::civil_day(2027y / January / 1, pole.zone).from,
                                     geo::civil_day(2027y / December / 31, pole.zone).until};
            geo::Instant reached = year.from;
            bool unknown = false;
            for (const auto& stretch : read_hours(text).intervals(year, pole)) {
                CHECK(stretch.time.from >= reached);
                CHECK(stretch.time.until > stretch.time.from);
                reached = stretch.time.until;
                unknown = unknown || stretch.reason == Reason::no_sun_event;
            }
            CHECK(reached <= year.until);
            CHECK_MESSAGE((unknown || latitude == 66.6), text << " at " << latitude);
        }
    }
}

TEST_CASE("D26: sun times differ between places, and are nowhere 06:00 to 18:00") {
    const auto sunrise = [](double latitude, double longitude, const char* zone) {
        const Site site{.at = {geo::Degrees{latitude}, geo::Degrees{longitude}},
                        .zone = geo::find_time_zone(zone).value(),
                        .holidays = {}};
        const auto day = geo::civil_day(2027y / January / 1, site.zone);
        return read_hours("sunrise-sunset").intervals(day, site).at(0).time.from - day.from;
    };
    // New Year's morning: later the farther north, and summer south of the equator.
    const auto valley_rise = sunrise(47.14, 9.52, "Europe/Vaduz");
    const auto north_rise = sunrise(59.9, 10.75, "Europe/Oslo");
    const auto south_rise = sunrise(-35.0, 149.0, "Australia/Sydney");
    CHECK(valley_rise > 7h + 30min);
    CHECK(north_rise > valley_rise + 30min);
    CHECK(south_rise < 6h + 30min);
    for (const auto rise : {valley_rise, north_rise, south_rise})
        CHECK(rise != 6h);
}

TEST_CASE("D27: the process's time zone changes nothing") {
    const std::vector<std::string> texts{"Mo-Fr 09:00-17:00", "22:00-02:00", "sunrise-sunset", "Su 02:00-03:00",
                                         "17:00+"};
    for (const std::string& text : texts) {
        std::vector<std::string> answers;
        for (const char* zone : {"UTC", "Pacific/Auckland", "America/St_Johns", "Europe/Vaduz"}) {
            const ProcessZone process(zone);
            answers.push_back(told(text, "2027-03-26", 4));
        }
        for (const std::string& answer : answers)
            CHECK(answer == answers.front());
    }
}

TEST_CASE("D28: Sunday off after 24/7 is off; 29 February is a day of leap years; a skipped hour is empty") {
    CHECK(told("24/7; Su off", "2027-05-15", 3) == "Sa 00:00-24:00, Mo 00:00-24:00");
    CHECK(told("Feb 29 10:00-12:00", "2027-02-28", 2) == "closed");
    CHECK(told("Feb 29 10:00-12:00", "2028-02-28", 3) == "Tu 10:00-12:00");
    CHECK(told("Su 02:00-03:00", "2027-03-28", 7) == "closed");
    CHECK(told("Su 02:00-03:00", "2027-04-04", 1) == "Su 02:00-03:00");
    CHECK(told("Su 02:15-02:45", "2027-03-28", 7) == "closed");
}

TEST_CASE("D29: sloppy texts are read, unreadable ones are unknown and hand on the original") {
    CHECK(told("Mo-We: 10:00-19:00", "2027-05-10", 1) == "Mo 10:00-19:00");
    CHECK(told("Mon-Fri 10:00-19:00", "2027-05-10", 1) == "Mo 10:00-19:00");
    CHECK(told("9-17", "2027-05-10", 1) == "Mo 09:00-17:00");
    CHECK(told("Mo 08.30-12.00", "2027-05-10", 1) == "Mo 08:30-12:00");
    CHECK(told("Mo,Do,Fr 10:00-12:00", "2027-05-13", 1) == "Th 10:00-12:00");
    CHECK(told("Mo\xE2\x80\x93"
               "Fr 10:00-12:00;",
               "2027-05-10", 1) == "Mo 10:00-12:00");
    CHECK(told("noon to late", "2027-05-10", 2) == "Mo 00:00-Tu 24:00?");
    const Site site = valley();
    const auto day = geo::civil_day(2027y / May / 10, site.zone);
    const auto unread = read_hours("noon to late").intervals(day, site);
    REQUIRE(unread.size() == 1);
    CHECK(unread[0].reason == Reason::unreadable);
    CHECK(unread[0].comment == "noon to late");
    CHECK(unread[0].time == day);
}
