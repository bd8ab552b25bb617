/// Rules and how they stand to each other. Sections named are those of the OSM wiki page
/// Key:opening_hours/specification (version 0.7.4).

#include "tests/routing/hours/told.hpp"

#include <doctest/doctest.h>

using hours_test::told;
using hours_test::valley_with_holidays;

// 10 May 2027 is a Monday.
constexpr const char* monday = "2027-05-10";

TEST_CASE("a rule without days holds every day, one without times the whole day") {
    // Section selector_sequence; small_range_selectors.
    CHECK(told("10:00-12:00", monday, 2) == "Mo 10:00-12:00, Tu 10:00-12:00");
    CHECK(told("Tu", monday, 7) == "Tu 00:00-24:00");
    CHECK(told("Tu-We", monday, 7) == "Tu 00:00-We 24:00");
    CHECK(told("open", monday, 2) == "Mo 00:00-Tu 24:00");
    CHECK(told("off", monday, 7) == "closed");
}

TEST_CASE("24/7 is always") {
    // Section selector_sequence, "24/7".
    CHECK(told("24/7", monday, 7) == "Mo 00:00-Su 24:00");
    CHECK(told("24/7 closed \"works\"", monday, 7) == "closed");
    CHECK(told("24/7; Su off", monday, 7) == "Mo 00:00-Sa 24:00");
    CHECK(told("24/7; Su 10:00-12:00", "2027-05-15", 2) == "Sa 00:00-24:00, Su 10:00-12:00");
}

TEST_CASE("a rule after a semicolon takes the place of its whole days") {
    // Section normal_rule_separator.
    CHECK(told("Mo-Fr 08:00-12:00; We 14:00-16:00", "2027-05-11", 3) ==
          "Tu 08:00-12:00, We 14:00-16:00, Th 08:00-12:00");
    CHECK(told("10:00-18:00; Jun 10:00-20:00", "2027-05-31", 2) == "Mo 10:00-18:00, Tu 10:00-20:00");
    CHECK_MESSAGE(told("Mo 08:00-12:00; Mo-Su unknown \"ring\"", monday, 1) == "Mo 00:00-24:00?",
                  "unknown replaces as open does");
}

TEST_CASE("a rule after a comma adds to its days") {
    // Section additional_rule_separator.
    CHECK(told("Mo-Fr 08:00-12:00, We 14:00-16:00", "2027-05-11", 3) ==
          "Tu 08:00-12:00, We 08:00-12:00, We 14:00-16:00, Th 08:00-12:00");
    CHECK(told("Mo 08:00-12:00, Mo 10:00-14:00", monday, 1) == "Mo 08:00-14:00");
    CHECK_MESSAGE(told("Mo 08:00-18:00, Mo 12:00-14:00 unknown", monday, 1) ==
                      "Mo 08:00-12:00, Mo 12:00-14:00?, Mo 14:00-18:00",
                  "the later rule decides where both speak");
    CHECK(told("Mo-Fr 08:00-12:00, We off", "2027-05-12", 2) == "Th 08:00-12:00");
}

TEST_CASE("a rule after two bars holds where nothing is open or unknown") {
    // Section fallback_rule_separator.
    CHECK(told("Mo 10:00-12:00 || \"on appointment\"", monday, 1) ==
          "Mo 00:00-10:00?, Mo 10:00-12:00, Mo 12:00-24:00?");
    CHECK(told("Mo 10:00-12:00 || Mo 11:00-14:00", monday, 2) == "Mo 10:00-14:00");
    CHECK(told("Mo 10:00-12:00 unknown || Mo 11:00-14:00", monday, 2) == "Mo 10:00-12:00?, Mo 12:00-14:00");
    CHECK_MESSAGE(told("10:00-12:00; We off || 10:00-14:00", "2027-05-12", 1) == "We 10:00-14:00?",
                  "told to be closed, and open by the fallback: not certain");
    CHECK(told("10:00-12:00 || off", monday, 1) == "Mo 10:00-12:00");
}

TEST_CASE("off and closed shut their days, with times only these") {
    // Section rule_modifier, closed.
    CHECK(told("Mo-Fr 08:00-18:00; We off", "2027-05-11", 3) == "Tu 08:00-18:00, Th 08:00-18:00");
    CHECK(told("Mo-Fr 08:00-18:00; We closed", "2027-05-11", 3) == "Tu 08:00-18:00, Th 08:00-18:00");
    CHECK(told("Mo-Fr 08:00-18:00; We 12:00-14:00 off", "2027-05-12", 1) == "We 08:00-12:00, We 14:00-18:00");
    CHECK(told("08:00-18:00; 12:00-13:00 off", monday, 1) == "Mo 08:00-12:00, Mo 13:00-18:00");
}

TEST_CASE("unknown, and a comment without a word for the state, are unknown; open with a comment is open") {
    // Section rule_modifier; comment.
    CHECK(told("Mo 10:00-12:00 unknown", monday, 1) == "Mo 10:00-12:00?");
    CHECK(told("Mo 10:00-12:00 unknown \"ring\"", monday, 1) == "Mo 10:00-12:00?");
    CHECK(told("Mo 10:00-12:00 \"ring\"", monday, 1) == "Mo 10:00-12:00?");
    CHECK(told("Mo 10:00-12:00 open \"kitchen\"", monday, 1) == "Mo 10:00-12:00");
    CHECK(told("\"on request\"", monday, 1) == "Mo 00:00-24:00?");
    CHECK(told("08:00-18:00; Sa,Su \"On request\"", "2027-05-14", 2) == "Fr 08:00-18:00, Sa 00:00-24:00?");
}

TEST_CASE("the comment of the rule that decided is handed on") {
    using namespace std::chrono;
    const auto site = hours_test::valley();
    const auto hours = routing::hours::read_hours("Mo-Fr 11:00-15:00 open \"Lunch\"; Mo 17:00-22:00 \"ring; first\"");
    REQUIRE_FALSE(hours.refusal());
    const auto tuesday = geo::instant_of(2027y / May / 11, 12h, site.zone);
    CHECK(hours.state_at(tuesday, site).comment == "Lunch");
    CHECK(hours.state_at(tuesday + 6h, site).state == routing::hours::State::closed);
    const auto evening = geo::instant_of(2027y / May / 10, 18h, site.zone);
    CHECK(hours.state_at(evening, site).comment == "ring; first");
    CHECK(hours.state_at(evening, site).state == routing::hours::State::unknown);
    CHECK(hours.intervals({evening, evening + 1h}, site).at(0).rule == 1);
}

TEST_CASE("a colon may stand after dates and after weekdays; a comment in place of dates is for people to judge") {
    // Section separator_for_readability; wide_range_selectors, comment.
    CHECK(told("Jun-Aug: Mo-Fr 10:00-12:00", "2027-06-01", 1) == "Tu 10:00-12:00");
    CHECK(told("Jun-Aug: Mo-Fr 10:00-12:00", monday, 1) == "closed");
    CHECK(told("Mo-Fr: 10:00-12:00", monday, 1) == "Mo 10:00-12:00");
    CHECK(told("week 19: 10:00-12:00", monday, 1) == "Mo 10:00-12:00");
    CHECK(told("\"after a call\": 10:00-12:00", monday, 1) == "Mo 10:00-12:00?");
    CHECK(told("\"after a call\": 10:00-12:00 open", monday, 1) == "Mo 10:00-12:00?");
    CHECK(told("\"in winter\": off", monday, 1) == "closed");
    const auto hours = routing::hours::read_hours("\"after a call\": Mo 10:00-12:00 \"kitchen\"");
    CHECK(hours.rules().at(0).comment == "after a call; kitchen");
}

// Where the specification and the likely intent part.

TEST_CASE("a rule that later ones wholly replace leaves its times unknown") {
    CHECK(told("Mo-Fr 08:00-12:00; Mo-Fr 14:00-18:00", monday, 1) == "Mo 08:00-12:00?, Mo 14:00-18:00");
    CHECK(told("Mo-Tu, Fr 09:00-18:00; Mo-Fr 20:15-22:00", "2027-05-12", 3) ==
          "We 20:15-22:00, Th 20:15-22:00, Fr 09:00-18:00?, Fr 20:15-22:00");
    CHECK_MESSAGE(told("Mo-Fr 08:00-11:45; Mo-Th 13:30-17:00; Fr 13:30-16:00", "2027-05-13", 2) ==
                      "Th 08:00-11:45?, Th 13:30-17:00, Fr 08:00-11:45?, Fr 13:30-16:00",
                  "by two rules together");
    CHECK_MESSAGE(told("Sa[1] 10:00-12:00; Sa 14:00-16:00", "2027-05-01", 1) == "Sa 10:00-12:00?, Sa 14:00-16:00",
                  "an exception before the rule");
    CHECK_MESSAGE(told("Jun: 10:00-18:00; Jun: Mo-Su 11:00-20:00", "2027-06-01", 1) ==
                      "Tu 10:00-11:00?, Tu 11:00-20:00",
                  "in the same part of the year");
    CHECK_MESSAGE(told("Mo-Fr 10:00-18:00; Th 11:00-20:00", "2027-05-13", 1) == "Th 11:00-20:00",
                  "an exception after the rule is plain");
    CHECK_MESSAGE(told("10:00-18:00; Jun: 10:00-20:00", "2027-06-01", 1) == "Tu 10:00-20:00", "a season too");
}

TEST_CASE("a day that is off and reopened by a later rule is unknown, unless that is an exception") {
    CHECK(told("We off; Mo-Fr 10:00-12:00", "2027-05-11", 2) == "Tu 10:00-12:00, We 10:00-12:00?");
    CHECK(told("Mo-Fr 12:00-13:00 off; Mo-Fr 10:00-18:00", monday, 1) ==
          "Mo 10:00-12:00, Mo 12:00-13:00?, Mo 13:00-18:00");
    CHECK(told("Dec off; Dec 24 10:00-14:00", "2027-12-23", 2) == "Fr 10:00-14:00");
    CHECK(told("Mo-Su off; We 10:00-12:00", "2027-05-11", 2) == "We 10:00-12:00");
}

TEST_CASE("times alone after a rule with days are certain on these days only") {
    CHECK(told("Mo-Fr 10:00-12:00;13:30-17:00", "2027-05-14", 2) == "Fr 10:00-12:00?, Fr 13:30-17:00, Sa 13:30-17:00?");
    CHECK(told("09:00-19:00; Su 11:00-13:00", "2027-05-15", 2) == "Sa 09:00-19:00, Su 11:00-13:00");
}

TEST_CASE("a rule added with a comma to a season is certain in the season only") {
    CHECK(told("Jun-Aug: Mo-Fr 10:00-18:00, Sa 10:00-14:00", "2027-06-04", 2) == "Fr 10:00-18:00, Sa 10:00-14:00");
    CHECK(told("Jun-Aug: Mo-Fr 10:00-18:00, Sa 10:00-14:00", "2027-05-15", 1) == "Sa 10:00-14:00?");
    CHECK(told("Jun-Aug: Mo-Fr 10:00-18:00; Sa 10:00-14:00", "2027-05-15", 1) == "Sa 10:00-14:00");
}
