#include "geo/light_window.hpp"

#include "geo/light_definition.hpp"
#include "geo/sky/crossing_search.hpp"

#include <algorithm>

namespace geo {

namespace {

using namespace std::chrono_literals;
using sky::PreciseInstant;

/// How far beyond the civil day windows are followed.
constexpr Seconds margin = 12h;

/// One place and day, with the span in which light is looked for.
struct Search {
    Coordinate place;
    Metres elevation;
    CivilDate date;
    const TimeZone& zone;
    Interval civil;
    Interval span;
};

/// Between two cuts the sun stays on one side of both lines and, where the half of the day matters, keeps climbing or
/// sinking; so one look at each piece decides.
Intervals in_band(const SunBand& band, const Search& search) {
    const sky::SunView view(search.place, search.elevation);
    const sky::PreciseSpan span{sky::precise(search.span.from), sky::precise(search.span.until)};
    const auto altitude = [&](PreciseInstant when) { return view.altitude(when).value; };

    std::vector<PreciseInstant> cuts{span.from, span.until};
    for (const auto& line : {band.low, band.high}) {
        const auto height = [&](PreciseInstant when) { return view.height_above(line, when).value; };
        for (const sky::Crossing& crossing : sky::find_crossings(height, span))
            cuts.push_back(crossing.when);
    }
    if (band.when)
        for (const PreciseInstant turn : sky::find_turning_points(altitude, span))
            cuts.push_back(turn);
    std::sort(cuts.begin(), cuts.end());

    Intervals pieces;
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        const PreciseInstant from = cuts[i - 1];
        const PreciseInstant until = cuts[i];
        const PreciseInstant middle = from + (until - from) / 2.0;
        const bool right_half =
            !band.when || (altitude(until) > altitude(from) ? HalfDay::morning : HalfDay::evening) == *band.when;
        if (from < until && right_half && view.height_above(band.low, middle) >= Degrees{0.0} &&
            view.height_above(band.high, middle) <= Degrees{0.0})
            pieces.push_back({sky::rounded(from), sky::rounded(until)});
    }
    return join(pieces);
}

Intervals spans_of(LightName name, const Search& search) {
    const auto& band = light_definition(name).band;
    return band ? in_band(*band, search) : Intervals{search.span};
}

Intervals spans_of(const SunAltitudeRange& range, const Search& search) {
    return in_band({range.low, range.high, range.when}, search);
}

Intervals spans_of(const ClockRange& range, const Search& search) {
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

/// The next day's first instant is not this day's.
bool touches(const Interval& window, const Interval& civil) {
    return window.from < civil.until && (window.until > civil.from || window.from == civil.from);
}

bool covers(const Interval& window, const Interval& civil) {
    return window.from <= civil.from && window.until >= civil.until;
}

} // namespace

LightWindows light_windows(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone) {
    const Interval civil = civil_day(day, zone);
    if (civil.length() == 0s) // the zone skipped this day
        return {};
    const Search search{place, elevation, day, zone, civil, {civil.from - margin, civil.until + margin}};
    Intervals spans;
    for (const LightRequest& request : any_of)
        for (const Interval& span : std::visit([&](const auto& wanted) { return spans_of(wanted, search); }, request))
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

LightWindows light_windows(const LightRequest& request, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone) {
    return light_windows(std::vector<LightRequest>{request}, place, elevation, day, zone);
}

} // namespace geo
