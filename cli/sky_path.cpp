#include "cli/sky_path.hpp"

#include "geo/sky/moon.hpp"
#include "geo/sky/moon_events.hpp"
#include "geo/sky/sun_events.hpp"
#include "geo/terrain/direct_sun.hpp"

namespace cli {

using geo::Interval;
using geo::Intervals;
using geo::sky::PreciseInstant;

namespace {

constexpr geo::Metres sea_level{0.0};

} // namespace

SkyPath::SkyPath(SkyBody body, geo::Coordinate place, std::shared_ptr<const geo::terrain::HorizonProfile> horizon)
    : body_(body), place_(place), horizon_(std::move(horizon)), observer_(place, sea_level) {}

geo::sky::SkyPosition SkyPath::at(PreciseInstant when) const {
    return observer_.view(body_ == SkyBody::sun ? geo::sky::sun_vector(when) : geo::sky::moon_vector(when), when);
}

Intervals SkyPath::risen(Interval span) const {
    if (body_ == SkyBody::moon)
        return geo::sky::moon_up(place_, sea_level, span);
    const geo::sky::SunLine line = geo::sky::HorizonRule::upper_limb;
    Intervals spans;
    geo::Instant from = span.from;
    bool up = geo::sky::SunView(place_, sea_level).height_above(line, geo::sky::precise(from)).value > 0.0;
    for (const auto& crossing : geo::sky::sun_crossings(place_, sea_level, line, span)) {
        if (up && !crossing.rising)
            spans.push_back({from, crossing.when});
        up = crossing.rising;
        from = crossing.when;
    }
    if (up)
        spans.push_back({from, span.until});
    return spans;
}

Intervals SkyPath::seen(Interval span) const {
    if (!horizon_)
        return risen(span);
    if (body_ == SkyBody::sun)
        return geo::terrain::direct_sun(place_, *horizon_, span).direct;
    const auto moon = [this](PreciseInstant when) {
        return geo::terrain::DiscSight{at(when), geo::sky::moon_semidiameter(geo::sky::moon_vector(when))};
    };
    return geo::terrain::above_terrain(moon, *horizon_, span);
}

} // namespace cli
