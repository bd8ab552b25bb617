#include "routing/hours/rule_times.hpp"

#include "geo/sky/sun_events.hpp"

#include <algorithm>
#include <cmath>

namespace routing::hours {

using namespace std::chrono_literals;
using std::chrono::minutes;

namespace {

/// The earliest and the latest instant a point in time can mean; alike but for hours a clock change repeats.
struct Instants {
    geo::Instant first;
    geo::Instant last;
};

Instants clock_instants(geo::CivilDate day, minutes time, const geo::TimeZone& zone) {
    const geo::Instant first = geo::instant_of(day, time, zone);
    // Days begin and end at the first of two midnights; so do spans.
    if (time % 24h == 0min)
        return {first, first};
    const geo::Seconds before = geo::offset_at(first, zone);
    const geo::Seconds after = geo::offset_at(first + 24h, zone);
    const geo::Instant second = first + (before - after);
    // The first clock time of a repeated hour parts what is before from what is not in either run of the hour.
    const bool twice =
        after < before && geo::offset_at(second, zone) == after && geo::offset_at(second - 1s, zone) == after;
    return {first, twice ? second : first};
}

/// Opening at a clock time that is skipped may mean when the clock jumps, or as long after the last minute it showed.
Instants opening_instants(geo::CivilDate day, minutes time, const geo::TimeZone& zone) {
    const Instants clock = clock_instants(day, time, zone);
    const auto shown = clock.first + geo::offset_at(clock.first, zone);
    const auto wanted = geo::Instant{std::chrono::sys_days{day}} + time;
    if (shown == wanted)
        return clock;
    return {clock.first, wanted - geo::offset_at(clock.first - 1s, zone)};
}

geo::Instant local_noon(geo::CivilDate day, const Site& site) {
    // Noon by the mean sun, on the turn of the Earth that lies nearest the day's civil noon: where the zone's clock is
    // far from the sun's, as on Pacific islands, that is still the sun of this day.
    const auto civil = geo::instant_of(day, 12h, site.zone);
    const auto by_sun =
        geo::Instant{std::chrono::sys_days{day}} + 12h - geo::Seconds{std::llround(site.at.longitude.value * 240.0)};
    const auto turns = std::llround(static_cast<double>((civil - by_sun).count()) / 86400.0);
    return by_sun + geo::Seconds{turns * 86400};
}

/// The last rise before noon or the first setting after it; nothing when there is none that day.
std::optional<geo::Instant> sun_instant(DayEvent event, geo::CivilDate day, const Site& site) {
    using geo::Degrees;
    using geo::sky::HorizonRule;
    const bool rising = event == DayEvent::dawn || event == DayEvent::sunrise;
    const bool twilight = event == DayEvent::dawn || event == DayEvent::dusk;
    // Dawn and dusk are the ends of civil twilight (specification, symbol event).
    const geo::sky::SunLine line =
        twilight ? geo::sky::SunLine{Degrees{-6.0}} : geo::sky::SunLine{HorizonRule::upper_limb};
    const geo::Instant noon = local_noon(day, site);
    const geo::Interval half = rising ? geo::Interval{noon - 12h, noon} : geo::Interval{noon, noon + 12h};
    std::optional<geo::Instant> found;
    for (const auto& crossing : geo::sky::sun_crossings(site.at, geo::Metres{0.0}, line, half)) {
        if (crossing.rising != rising)
            continue;
        if (rising || !found)
            found = crossing.when;
    }
    return found;
}

enum class End { from, until };

std::optional<Instants> instants(const TimePoint& point, geo::CivilDate day, const Site& site, End end) {
    if (point.event == DayEvent::clock)
        return end == End::from ? opening_instants(day, point.minutes, site.zone)
                                : clock_instants(day, point.minutes, site.zone);
    const auto event = sun_instant(point.event, day, site);
    if (!event)
        return std::nullopt;
    return Instants{*event + point.minutes, *event + point.minutes};
}

class Collector {
public:
    Collector(const Rule& rule, geo::CivilDate day, const Site& site) : rule_(rule), day_(day), site_(site) {}

    std::vector<Claim> run() {
        for (const TimeSpan& span : rule_.times)
            add(span);
        std::stable_partition(claims_.begin(), claims_.end(), [this](const Claim& claim) {
            return claim.state == State::unknown && rule_.state != State::unknown;
        });
        return std::move(claims_);
    }

private:
    void claim(geo::Instant from, geo::Instant until, State state, Reason reason) {
        // A sun far behind the clock, moved by an offset, could else reach past the next day.
        until = std::min(until, geo::instant_of(day_, 48h, site_.zone));
        if (from < until)
            claims_.push_back({{from, until}, state, reason});
    }

    void add(const TimeSpan& span) {
        const auto from = instants(span.from, day_, site_, End::from);
        const geo::Interval civil = geo::civil_day(day_, site_.zone);
        if (!from) {
            claim(civil.from, civil.until, State::unknown, Reason::no_sun_event);
            return;
        }
        if (!span.until) {
            open_end(from->first, span.from.event == DayEvent::sunset || span.from.event == DayEvent::dusk);
            return;
        }
        auto until = instants(*span.until, day_, site_, End::until);
        if (!until) {
            claim(from->first, std::max(civil.until, from->first), State::unknown, Reason::no_sun_event);
            return;
        }
        const bool both_clock = span.from.event == DayEvent::clock && span.until->event == DayEvent::clock;
        const bool wraps = both_clock ? span.until->minutes <= span.from.minutes : until->first <= from->first;
        if (wraps) {
            until = instants(*span.until, geo::next_date(day_), site_, End::until);
            // "24:00-02:00": the end lies on the day the beginning lies on.
            if (both_clock && span.from.minutes == 24h)
                until = clock_instants(day_, span.until->minutes + 24h, site_.zone);
            if (!until) {
                claim(from->first, std::max(civil.until, from->first), State::unknown, Reason::no_sun_event);
                return;
            }
        }
        // "08:00-08:00" may be a whole day or a slip; "00:00-00:00" is a day.
        if (both_clock && span.from.minutes == span.until->minutes && span.from.minutes != 0min) {
            claim(from->first, until->first, State::unknown, Reason::disputed);
            return;
        }
        claim(from->first, std::min(from->last, until->last), State::unknown, Reason::clock_change);
        claim(from->last, until->first, rule_.state, Reason::stated);
        claim(std::max(until->first, from->first), until->last, State::unknown, Reason::clock_change);
        if (span.open_end)
            open_end(until->first, span.until->event == DayEvent::sunset || span.until->event == DayEvent::dusk);
    }

    /// How long "+" may go on is not specified. Taken (our choice): to midnight; in the evening ten hours, but at most
    /// to 07:00, and an hour when it is later than that; never into the rule's next span.
    void open_end(geo::Instant from, bool evening) {
        const geo::CivilDate tomorrow = geo::next_date(day_);
        geo::Instant until = geo::instant_of(tomorrow, 0h, site_.zone);
        if (evening || from >= geo::instant_of(day_, 17h, site_.zone))
            until = std::max(std::min(from + 10h, geo::instant_of(tomorrow, 7h, site_.zone)), from + 1h);
        for (const TimeSpan& other : rule_.times) {
            const auto next = instants(other.from, day_, site_, End::from);
            if (next && next->first > from)
                until = std::min(until, next->first);
        }
        claim(from, until, State::unknown, Reason::open_end);
    }

    const Rule& rule_;
    geo::CivilDate day_;
    const Site& site_;
    std::vector<Claim> claims_;
};

} // namespace

std::vector<Claim> claims(const Rule& rule, geo::CivilDate day, const Site& site) {
    if (rule.times.empty()) {
        const geo::Interval whole = geo::civil_day(day, site.zone);
        return whole.from < whole.until ? std::vector{Claim{whole, rule.state, Reason::stated}} : std::vector<Claim>{};
    }
    return Collector(rule, day, site).run();
}

} // namespace routing::hours
