#include "geo/light_window.hpp"

#include "geo/light_rule.hpp"

#include <algorithm>
#include <cassert>

namespace geo {

namespace {

using namespace std::chrono_literals;

/// One day of a place, with the span in which light is looked for.
struct Search {
    PlaceSky& sky;
    CivilDate date;
    const TimeZone& zone;
    const Surroundings& around;
    Interval civil;
    Interval span;
};

Intervals on_ground(Ground ground, Intervals spans, const Search& search) {
    if (ground == Ground::any)
        return spans;
    if (search.around.overcast)
        return {}; // no sun comes through
    if (!search.around.direct_sun)
        return ground == Ground::sun_clear ? spans : Intervals{}; // a flat horizon hides no risen sun
    const Intervals clear = search.around.direct_sun(search.span);
    return ground == Ground::sun_clear ? intersect(spans, clear) : without(spans, clear);
}

Intervals by_clock(const ClockRange& range, const Search& search) {
    using std::chrono::days;
    using std::chrono::sys_days;
    const auto instant = [&](int day, ClockTime time) {
        return instant_of(CivilDate{sys_days{search.date} + days{day}}, time, search.zone);
    };
    if (range.until >= range.from)
        return {{instant(0, range.from), instant(0, range.until)}};
    // Past midnight: the range that began the evening before still touches this day's morning.
    return clip(
        join({{instant(-1, range.from), instant(0, range.until)}, {instant(0, range.from), instant(1, range.until)}}),
        search.span);
}

std::optional<ClockRange> clock_of(const LightRequest& request) {
    if (const auto* clock = std::get_if<ClockRange>(&request))
        return *clock;
    const auto* wish = std::get_if<LightWish>(&request);
    return wish != nullptr ? wish->clock : std::nullopt;
}

Intervals spans_of(const LightRequest& request, const Search& search) {
    const LightRule rule = light_rule(request, search.around.overcast);
    Intervals spans = on_ground(rule.ground, sun_and_moon_spans(rule, search.sky, search.span), search);
    if (const auto clock = clock_of(request))
        spans = intersect(spans, by_clock(*clock, search));
    return narrowed(rule, search.sky, spans);
}

/// The next day's first instant is not this day's.
bool touches(const Interval& window, const Interval& civil) {
    return window.from < civil.until && (window.until > civil.from || window.from == civil.from);
}

bool covers(const Interval& window, const Interval& civil) {
    return window.from <= civil.from && window.until >= civil.until;
}

Interval with_margin(Interval civil) {
    return {civil.from - window_margin, civil.until + window_margin};
}

} // namespace

LightWindows light_windows(const std::vector<LightRequest>& any_of, PlaceSky& sky, CivilDate day, const TimeZone& zone,
                           const Surroundings& around) {
    const Interval civil = civil_day(day, zone);
    if (civil.length() == 0s) // the zone skipped this day
        return {};
    const Search search{sky, day, zone, around, civil, with_margin(civil)};
    assert(sky.span().from <= search.span.from && sky.span().until >= search.span.until);
    Intervals spans;
    for (const LightRequest& request : any_of)
        for (const Interval& span : spans_of(request, search))
            spans.push_back(span);

    LightWindows windows;
    for (const Interval& window : join(std::move(spans)))
        if (touches(window, civil))
            windows.intervals.push_back(window);
    const bool all_day = std::any_of(windows.intervals.begin(), windows.intervals.end(),
                                     [&](const Interval& window) { return covers(window, civil); });
    if (!windows.intervals.empty())
        windows.presence = all_day ? Presence::all_day : Presence::some;
    return windows;
}

LightWindows light_windows(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone, const Surroundings& around) {
    PlaceSky sky(place, elevation, with_margin(civil_day(day, zone)));
    return light_windows(any_of, sky, day, zone, around);
}

LightWindows light_windows(const LightRequest& request, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone, const Surroundings& around) {
    return light_windows(std::vector<LightRequest>{request}, place, elevation, day, zone, around);
}

} // namespace geo
