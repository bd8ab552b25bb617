#include "geo/place_sky.hpp"

#include <algorithm>

namespace geo {

namespace {

using sky::PreciseInstant;
using sky::PreciseSpan;

/// What was found before for this key, else what `find` finds now.
template <class Key, class Find>
const PlaceSky::Instants& remembered(std::deque<std::pair<Key, PlaceSky::Instants>>& found, const Key& key, Find find) {
    const auto known = std::find_if(found.begin(), found.end(), [&](const auto& entry) { return entry.first == key; });
    if (known != found.end())
        return known->second;
    return found.emplace_back(key, find()).second;
}

PlaceSky::Instants instants(const std::vector<sky::Crossing>& crossings) {
    PlaceSky::Instants when;
    when.reserve(crossings.size());
    for (const sky::Crossing& crossing : crossings)
        when.push_back(crossing.when);
    return when;
}

sky::Samples lowered(sky::Samples samples, Degrees by) {
    for (double& value : samples.values)
        value -= by.value;
    return samples;
}

} // namespace

PlaceSky::PlaceSky(Coordinate place, Metres elevation, Interval span)
    : sun_(place, elevation), moon_(place, elevation), span_(span) {}

PreciseSpan PlaceSky::precise_span() const {
    return {sky::precise(span_.from), sky::precise(span_.until)};
}

const sky::Samples& PlaceSky::sun_altitudes() {
    if (!sun_altitudes_)
        sun_altitudes_ = sky::take_samples([&](PreciseInstant t) { return sun_.altitude(t).value; }, precise_span());
    return *sun_altitudes_;
}

const PlaceSky::Instants& PlaceSky::sun_crossings(const sky::SunLine& line) {
    return remembered(sun_crossings_, line, [&] {
        const auto height = [&](PreciseInstant t) { return sun_.height_above(line, t).value; };
        const auto* altitude = std::get_if<Degrees>(&line);
        // No sun reaches beyond these, and a line that is never crossed is quickly told.
        if (altitude != nullptr && (altitude->value <= -90.0 || altitude->value >= 90.0))
            return Instants{};
        const auto samples =
            altitude != nullptr ? lowered(sun_altitudes(), *altitude) : sky::take_samples(height, precise_span());
        return instants(sky::find_crossings(height, samples, precise_span()));
    });
}

const PlaceSky::Instants& PlaceSky::sun_turns() {
    if (!sun_turns_)
        sun_turns_ = sky::find_turning_points([&](PreciseInstant t) { return sun_.altitude(t).value; }, sun_altitudes(),
                                              precise_span());
    return *sun_turns_;
}

const PlaceSky::Instants& PlaceSky::moonrises_and_sets() {
    if (!moonrises_)
        moonrises_ = instants(
            sky::find_crossings([&](PreciseInstant t) { return moon_.height_above_horizon(t).value; }, precise_span()));
    return *moonrises_;
}

const PlaceSky::Instants& PlaceSky::moon_crossings(Degrees altitude) {
    return remembered(moon_crossings_, altitude, [&] {
        return instants(sky::find_crossings([&](PreciseInstant t) { return (moon_.altitude(t) - altitude).value; },
                                            precise_span()));
    });
}

const PlaceSky::Instants& PlaceSky::moon_lit_crossings(double fraction) {
    return remembered(moon_lit_, fraction, [&] {
        return instants(sky::find_crossings(
            [&](PreciseInstant t) { return sky::moon_illumination(t).fraction - fraction; }, precise_span()));
    });
}

} // namespace geo
