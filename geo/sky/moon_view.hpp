#pragma once
/// The moon from one place, asked many times over.
///
///     const geo::sky::MoonView view(arch, 40_m);
///     view.altitude(t), view.height_above_horizon(t)

#include "geo/sky/moon.hpp"

namespace geo::sky {

class MoonView {
public:
    /// Throws std::domain_error for an invalid coordinate or an elevation that is not finite.
    MoonView(Coordinate place, Metres elevation) : observer_(place, elevation) {}

    /// Airless altitude of the centre.
    Degrees altitude(PreciseInstant when) const;
    /// How far the centre stands above the line of moonrise and moonset, -(34' + semidiameter): the upper limb on a
    /// flat horizon at sea level seen through standard air. Source: Astronomical Almanac, glossary (moonrise),
    /// which gives the same as a geocentric zenith distance.
    Degrees height_above_horizon(PreciseInstant when) const;

private:
    Observer observer_;
};

} // namespace geo::sky
