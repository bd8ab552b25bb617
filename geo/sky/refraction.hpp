#pragma once
/// How much the air lifts what is low in the sky.
///
///     const geo::Degrees seen = sun.altitude + geo::sky::refraction_from_true(sun.altitude);
///
/// A mean over weathers. At the horizon real refraction strays: 379 timed sunrises and sunsets at Edmonton gave 0.669
/// +- 0.175 degrees, from 0.402 to 2.081 (Sampson et al., PASP 115:1256, 2003).

#include "geo/units.hpp"

namespace geo::sky {

using Hectopascals = Quantity<struct HectopascalUnit>;
using DegreesCelsius = Quantity<struct DegreeCelsiusUnit>;

/// Air at the observer; the default is the one both formulas are made for.
struct Air {
    Hectopascals pressure{1010.0};
    DegreesCelsius temperature{10.0};
};

/// Refraction to add to a true (airless) altitude; within 0.01 arcminutes of JPL Horizons' refracted tables. Held at
/// its value at -1 degree, 38.8 arcminutes, for everything lower. Never negative. Source: Saemundsson, Sky and
/// Telescope 72:70 (1986); Meeus, Astronomical Algorithms (1998), formula 16.4.
Degrees refraction_from_true(Degrees true_altitude, Air air = {});

/// Refraction to take from an altitude measured through the air; held for everything that stands truly below -1 degree.
/// Never negative. Undoes `refraction_from_true` to 0.1 arcminutes, below the horizon to 0.65.
/// Source: Bennett, Journal of Navigation 35:255 (1982); Meeus, formula 16.3.
Degrees refraction_from_apparent(Degrees apparent_altitude, Air air = {});

} // namespace geo::sky
