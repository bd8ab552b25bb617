#include "cli/place_hours.hpp"

#include "cli/clock_words.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/site_hours.hpp"

#include <algorithm>

namespace cli {

using routing::hours::State;
using routing::hours::Stretch;
using routing::places::Place;
using routing::shoot::Shoot;

namespace {

constexpr geo::Seconds looked_ahead = std::chrono::hours{24};

/// As a crew reads it: neighbours of one state, whatever their comments, are one.
std::vector<Stretch> joined(std::vector<Stretch> stretches) {
    std::vector<Stretch> list;
    for (Stretch& stretch : stretches) {
        if (!list.empty() && list.back().state == stretch.state && list.back().time.until == stretch.time.from &&
            list.back().unless_holiday == stretch.unless_holiday)
            list.back().time.until = stretch.time.until;
        else
            list.push_back(std::move(stretch));
    }
    return list;
}

std::vector<Stretch> stretches_in(const Place& place, geo::Interval span, const Shoot& shoot) {
    if (place.opening_hours.empty())
        return {Stretch{.time = span, .state = State::unknown}};
    return joined(
        routing::hours::read_hours(place.opening_hours).intervals(span, routing::shoot::site_at(place.at, shoot)));
}

std::string day_words(const HoursOfDay& day, const geo::TimeZone& zone) {
    std::string text;
    for (const Stretch& stretch : day.stretches) {
        text += (text.empty() ? "" : ", ") + std::string(stretch.state == State::open ? "open " : "not known ") +
                (stretch.time == day.span ? "all day"
                                          : time_text(stretch.time.from, day.date, zone, RoundTo::later) + "–" +
                                                time_text(stretch.time.until, day.date, zone, RoundTo::earlier)) +
                (stretch.unless_holiday ? " unless it is a public holiday" : "");
    }
    return text.empty() ? "closed" : text;
}

} // namespace

std::vector<HoursOfDay> hours_of_days(const Place& place, const Shoot& shoot) {
    std::vector<HoursOfDay> days;
    for (const auto& day : shoot.days) {
        const geo::Interval span = routing::shoot::working_span(day, shoot.zone);
        days.push_back({day.date, span, stretches_in(place, span, shoot)});
    }
    return days;
}

std::string hours_on_days(const Place& place, const Shoot& shoot) {
    if (place.opening_hours.empty())
        return "not on the map";
    const std::vector<HoursOfDay> days = hours_of_days(place, shoot);
    std::vector<std::string> words;
    for (const HoursOfDay& day : days)
        words.push_back(day_words(day, shoot.zone));
    if (words.size() == 1)
        return words.front();
    if (std::all_of(words.begin(), words.end(), [&](const std::string& word) { return word == words.front(); }))
        return "each day " + words.front();
    std::string text;
    for (std::size_t n = 0; n < days.size(); ++n)
        text += (text.empty() ? "" : "; ") + geo::to_string(days[n].date) + " " + words[n];
    return text;
}

const char* state_word(State state) {
    return state == State::open ? "open" : state == State::closed ? "closed" : "unknown";
}

State state_at(const Place& place, geo::Instant when, const Shoot& shoot) {
    if (place.opening_hours.empty())
        return State::unknown;
    return routing::hours::read_hours(place.opening_hours)
        .state_at(when, routing::shoot::site_at(place.at, shoot))
        .state;
}

std::string state_text(const Place& place, geo::Instant when, const Shoot& shoot) {
    const State state = state_at(place, when, shoot);
    if (place.opening_hours.empty() || state == State::unknown)
        return "not known";
    const geo::Interval span{when, when + looked_ahead};
    const std::vector<Stretch> ahead = stretches_in(place, span, shoot);
    geo::Instant until = span.until;
    std::string unless;
    if (state == State::open && !ahead.empty()) {
        until = when; // through neighbours that hold unless it is a holiday
        for (const Stretch& stretch : ahead) {
            if (stretch.state != State::open || stretch.time.from > until)
                break;
            until = stretch.time.until;
            unless = stretch.unless_holiday ? " unless it is a public holiday" : unless;
        }
    } else if (state == State::closed && !ahead.empty()) {
        until = ahead.front().time.from;
    }
    const std::string word = state_word(state);
    if (until >= span.until)
        return word + unless;
    return word + " until " +
           time_text(until, geo::civil_date(when, shoot.zone), shoot.zone,
                     state == State::open ? RoundTo::earlier : RoundTo::later) +
           unless;
}

} // namespace cli
