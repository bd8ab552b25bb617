#pragma once
/// Sun and moon over one place for a span of days, sampled once and asked many times.
///
///     geo::PlaceSky sky(arch, 0_m, {monday, friday});
///     for (const geo::LightName name : geo::light_names())
///         geo::light_windows({name}, sky, day, zone);
///
/// Remembers each line's crossings once found; so all names over two weeks cost little more than one. Not to be shared
/// by threads while asked.

#include "geo/interval.hpp"
#include "geo/sky/crossing_search.hpp"
#include "geo/sky/moon_view.hpp"
#include "geo/sky/sun_view.hpp"

#include <deque>
#include <optional>
#include <utility>
#include <vector>

namespace geo {

class PlaceSky {
public:
    using Instants = std::vector<sky::PreciseInstant>;

    /// Throws std::domain_error for an invalid coordinate or an elevation that is not finite.
    PlaceSky(Coordinate place, Metres elevation, Interval span);

    const sky::SunView& sun() const { return sun_; }
    const sky::MoonView& moon() const { return moon_; }
    Interval span() const { return span_; }

    /// All within the span, in order of time.
    const Instants& sun_crossings(const sky::SunLine& line);
    const Instants& sun_turns();
    const Instants& moonrises_and_sets();
    const Instants& moon_crossings(Degrees altitude);
    /// When the illuminated fraction passes a value.
    const Instants& moon_lit_crossings(double fraction);

private:
    template <class Key>
    using Found = std::deque<std::pair<Key, Instants>>; // what is handed out stays where it is

    sky::PreciseSpan precise_span() const;
    const sky::Samples& sun_altitudes();

    sky::SunView sun_;
    sky::MoonView moon_;
    Interval span_;
    std::optional<sky::Samples> sun_altitudes_;
    std::optional<Instants> sun_turns_;
    std::optional<Instants> moonrises_;
    Found<sky::SunLine> sun_crossings_;
    Found<Degrees> moon_crossings_;
    Found<double> moon_lit_;
};

} // namespace geo
