#pragma once
/// Time scales and how far the Earth has turned.
///
///     const auto theta = geo::sky::earth_rotation_angle(t);
///
/// UT1 is taken equal to UTC (at most 0.9 s, 13.5 arcseconds, by agreement on leap seconds). TT = UTC + 69.184 s since
/// 2017; later instants get the last leap second ERFA knows, and its "dubious year" warning is no fault. All angles 0
/// to 360. Source: IAU 2006/2000A by ERFA 2.0.

#include "geo/sky/precise_instant.hpp"

namespace geo::sky {

/// A date in two parts whose sum is the Julian Date; kept apart for precision.
struct JulianDate {
    double whole = 0.0;
    double fraction = 0.0;
};

JulianDate terrestrial_time(PreciseInstant when);

/// TT minus UTC.
PreciseSeconds terrestrial_minus_utc(PreciseInstant when);

/// Universal time as a Julian Date, UT1 = UTC.
JulianDate universal_time(PreciseInstant when);

/// Angle from the celestial intermediate origin to the Greenwich meridian.
Degrees earth_rotation_angle(PreciseInstant when);

/// Greenwich mean sidereal time.
Degrees mean_sidereal_time(PreciseInstant when);

/// Greenwich apparent sidereal time.
Degrees apparent_sidereal_time(PreciseInstant when);

/// Short-period wobble of the Earth's axis.
struct Nutation {
    Degrees longitude;
    Degrees obliquity;
};
Nutation nutation(PreciseInstant when);

} // namespace geo::sky
