#include "cli/find_light.hpp"

#include "cli/light_day.hpp"
#include "geo/light_window.hpp"
#include "geo/sky/crossing_search.hpp"
#include "geo/terrain/direct_sun.hpp"

#include <algorithm>

namespace cli {

namespace {

using geo::Interval;
using geo::Intervals;
using geo::sky::PreciseInstant;
using geo::sky::SkyPosition;
using namespace std::chrono_literals;

constexpr geo::Metres sea_level{0.0};

Interval around(Interval civil, geo::Seconds margin) {
    return {civil.from - margin, civil.until + margin};
}

bool has_bearing(const std::optional<geo::AzimuthRange>& range, SkyPosition position) {
    return !range || geo::margin(*range, position) >= 0.0;
}

/// Beginnings or ends of being seen. The day before and the day after tell whether it stays up round the clock.
std::vector<geo::Instant> moments(const RiseOrSet& wish, const SkyPath& path, Interval civil) {
    const Interval span = around(civil, 24h);
    const Intervals seen = path.seen(span);
    Intervals up = path.risen(span);
    up.insert(up.end(), seen.begin(), seen.end()); // from a summit it is seen before it has risen
    std::vector<geo::Instant> found;
    for (const Interval& period : geo::join(std::move(up))) {
        const Intervals sights = geo::clip(seen, period);
        if (sights.empty())
            continue;
        if (period.length() < 24h)
            found.push_back(wish.rising ? sights.front().from : sights.back().until);
        else
            for (const Interval& sight : sights)
                found.push_back(wish.rising ? sight.from : sight.until);
    }
    std::erase_if(found, [&](geo::Instant when) { return when < civil.from || when >= civil.until; });
    return found;
}

/// Where `value` is not below zero.
Intervals spans_where(const geo::sky::ValueOverTime& value, Interval span) {
    Intervals spans;
    geo::Instant from = span.from;
    bool holds = value(geo::sky::precise(from)) >= 0.0;
    const geo::sky::PreciseSpan precise{geo::sky::precise(span.from), geo::sky::precise(span.until)};
    for (const auto& crossing : geo::sky::find_crossings(value, precise, geo::sky::five_minutes)) {
        const geo::Instant when = geo::sky::rounded(crossing.when);
        if (holds && !crossing.rising)
            spans.push_back({from, when});
        holds = crossing.rising;
        from = when;
    }
    if (holds)
        spans.push_back({from, span.until});
    return spans;
}

Intervals seen_spans(const BodySeen& wish, const std::optional<geo::AzimuthRange>& bearing, const SkyPath& path,
                     Interval span) {
    Intervals spans = path.seen(span);
    if (wish.above)
        spans = geo::intersect(
            spans, spans_where([&](PreciseInstant t) { return (path.at(t).altitude - *wish.above).value; }, span));
    if (wish.below)
        spans = geo::intersect(
            spans, spans_where([&](PreciseInstant t) { return (*wish.below - path.at(t).altitude).value; }, span));
    if (bearing)
        spans = geo::intersect(spans,
                               spans_where([&](PreciseInstant t) { return geo::margin(*bearing, path.at(t)); }, span));
    return spans;
}

bool is_of_the_sun(geo::LightName name) {
    const auto range = geo::sun_range(name);
    return range && range->high.value > -12.0;
}

/// Windows that were followed to the end of the search are cut at the day's own end.
Interval cut_to_day(Interval window, Interval civil) {
    if (window.from <= civil.from - geo::window_margin)
        window.from = civil.from;
    if (window.until >= civil.until + geo::window_margin)
        window.until = civil.until;
    return window;
}

class Finder {
public:
    Finder(const FindWish& wish, const FindPlace& place, const geo::TimeZone& zone)
        : wish_(wish), place_(place), zone_(zone), body_(body_of(wish)), path_(body_, place.at, place.horizon) {
        if (place.horizon)
            around_.direct_sun = [this](Interval span) {
                return geo::terrain::direct_sun(place_.at, *place_.horizon, span).direct;
            };
    }

    std::vector<FoundLight> on(geo::CivilDate date) const {
        const Interval civil = geo::civil_day(date, zone_);
        if (civil.length() == 0s)
            return {};
        std::vector<FoundLight> found;
        for (const Interval& window : windows(date, civil)) {
            FoundLight hit{date, cut_to_day(window, civil), {}, {}};
            const auto* name = std::get_if<geo::LightName>(&wish_.what);
            if (hit.window.length() < wish_.at_least)
                continue;
            if (name == nullptr || is_of_the_sun(*name))
                hit.azimuths = {path_.at(hit.window.from).azimuth, path_.at(hit.window.until).azimuth};
            if (name != nullptr)
                hit.best = best_minute_of(light_wish(*name), place_.at, hit.window);
            found.push_back(hit);
        }
        return found;
    }

private:
    static SkyBody body_of(const FindWish& wish) {
        if (const auto* moment = std::get_if<RiseOrSet>(&wish.what))
            return moment->body;
        const auto* seen = std::get_if<BodySeen>(&wish.what);
        return seen != nullptr ? seen->body : SkyBody::sun;
    }

    geo::LightWish light_wish(geo::LightName name) const {
        geo::LightWish light;
        light.name = name;
        if (wish_.bearing)
            light.direction = *wish_.bearing;
        return light;
    }

    Intervals windows(geo::CivilDate date, Interval civil) const {
        Intervals list;
        if (const auto* moment = std::get_if<RiseOrSet>(&wish_.what)) {
            for (const geo::Instant when : moments(*moment, path_, civil))
                if (has_bearing(wish_.bearing, path_.at(when)))
                    list.push_back({when, when});
        } else if (const auto* seen = std::get_if<BodySeen>(&wish_.what)) {
            for (const Interval& window : seen_spans(*seen, wish_.bearing, path_, around(civil, geo::window_margin)))
                if (window.from < civil.until && window.until > civil.from)
                    list.push_back(window);
        } else {
            const geo::LightRequest request = light_wish(std::get<geo::LightName>(wish_.what));
            list = geo::light_windows(request, place_.at, sea_level, date, zone_, around_).intervals;
        }
        return list;
    }

    const FindWish& wish_;
    const FindPlace& place_;
    const geo::TimeZone& zone_;
    SkyBody body_;
    SkyPath path_;
    geo::Surroundings around_;
};

} // namespace

std::vector<FoundLight> find_light(const FindWish& wish, const FindPlace& place,
                                   const std::vector<geo::CivilDate>& dates, const geo::TimeZone& zone) {
    const Finder finder(wish, place, zone);
    std::vector<FoundLight> found;
    for (const geo::CivilDate date : dates)
        for (FoundLight& hit : finder.on(date)) {
            const bool is_listed = std::any_of(found.begin(), found.end(), [&](const FoundLight& earlier) {
                return earlier.date != hit.date && earlier.window == hit.window;
            });
            if (!is_listed)
                found.push_back(std::move(hit));
        }
    return found;
}

} // namespace cli
