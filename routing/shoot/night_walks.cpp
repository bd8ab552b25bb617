#include "routing/shoot/night_walks.hpp"

#include "geo/place_sky.hpp"
#include "geo/sky/sun.hpp"
#include "routing/roads/network.hpp"
#include "routing/shoot/scene_light.hpp"

#include <algorithm>

namespace routing::shoot {

namespace {

constexpr geo::Degrees dark_below{-6.0};
constexpr double night_pace = 0.75; // of the pace by day
constexpr Seconds a_few_steps{60};

/// Starts from which the walk touches darkness: it begins `from` and ends `until` after the start (before: negative).
geo::Intervals touching(const geo::Intervals& dark, Seconds from, Seconds until) {
    geo::Intervals starts;
    for (const geo::Interval& span : dark)
        starts.push_back({span.from - until, span.until - from});
    return geo::join(std::move(starts));
}

bool holds(const geo::Intervals& list, Instant when) {
    return std::any_of(list.begin(), list.end(),
                       [&](const geo::Interval& span) { return span.from <= when && when < span.until; });
}

} // namespace

bool is_dark(geo::Coordinate at, Instant when) {
    return geo::sky::sun_position(at, geo::Metres{0.0}, when).altitude < dark_below;
}

Seconds more_in_the_dark(Seconds walk) {
    if (walk < a_few_steps)
        return Seconds{0};
    return Seconds{static_cast<std::int64_t>(static_cast<double>(walk.count()) * (1.0 / night_pace - 1.0)) + 1};
}

NightWalks::NightWalks(const Shoot& shoot, const std::vector<std::uint32_t>& days) : shoot_(shoot) {
    constexpr std::chrono::hours aside{24}; // walks and filming reach beyond the working hours
    span_ = working_span(shoot.days[days.front()], shoot.zone);
    for (const std::uint32_t day : days) {
        const geo::Interval hours = working_span(shoot.days[day], shoot.zone);
        span_ = {std::min(span_.from, hours.from), std::max(span_.until, hours.until)};
    }
    span_ = {span_.from - aside, span_.until + aside};
}

const geo::Intervals& NightWalks::dark_at(std::uint32_t location) {
    const auto [known, added] = dark_.try_emplace(location);
    if (!added)
        return known->second;
    geo::PlaceSky sky(shoot_.locations[location].at, geo::Metres{0.0}, span_);
    bool dark = is_dark(shoot_.locations[location].at, span_.from);
    Instant from = span_.from;
    for (const geo::sky::PreciseInstant crossing : sky.sun_crossings(dark_below)) {
        const Instant when = geo::sky::rounded(crossing);
        if (dark)
            known->second.push_back({from, when});
        from = when;
        dark = !dark;
    }
    if (dark)
        known->second.push_back({from, span_.until});
    return known->second;
}

std::vector<NightStart> NightWalks::split(const std::vector<order::TimeWindow>& windows, const SceneOption& option,
                                          const StopPoint& point) {
    const Location& location = shoot_.locations[option.location];
    const Seconds more_in = more_in_the_dark(point.walk.time);
    const Seconds more_out = more_in_the_dark(point.walk_back);
    if (more_in == Seconds{0} && more_out == Seconds{0})
        return {{windows, Seconds{0}, Seconds{0}}};

    const geo::Intervals& dark = dark_at(option.location);
    const Seconds set_up{location.setup};
    const Seconds filmed = Seconds{option.length} + Seconds{location.pack};
    const geo::Intervals dark_in = touching(dark, -(set_up + point.walk.time + more_in), -set_up);
    const geo::Intervals dark_out = touching(dark, filmed, filmed + point.walk_back + more_out);
    const bool not_in_the_dark = (point.walk.notes & roads::note_not_in_darkness) != 0 && !location.walk_in_darkness;

    std::vector<Instant> cuts;
    for (const geo::Intervals* list : {&dark_in, &dark_out})
        for (const geo::Interval& span : *list) {
            cuts.push_back(span.from);
            cuts.push_back(span.until);
        }
    std::sort(cuts.begin(), cuts.end());

    NightStart parts[2][2];
    const auto add = [&](Instant from, Instant until, Instant inside) {
        const bool in = holds(dark_in, inside);
        const bool out = holds(dark_out, inside);
        if ((in || out) && not_in_the_dark)
            return;
        parts[in][out].windows.push_back({from, until});
    };
    for (const order::TimeWindow& window : windows) {
        Instant from = window.earliest;
        for (const Instant cut : cuts)
            if (cut > from && cut <= window.latest) {
                add(from, cut - Seconds{1}, from);
                from = cut;
            }
        add(from, window.latest, from);
    }
    std::vector<NightStart> starts;
    for (const bool in : {false, true})
        for (const bool out : {false, true})
            if (!parts[in][out].windows.empty())
                starts.push_back(
                    {std::move(parts[in][out].windows), in ? more_in : Seconds{0}, out ? more_out : Seconds{0}});
    return starts;
}

} // namespace routing::shoot
