#pragma once
/// How bright it is out of doors, and how long shadows are: estimates for choosing a time, not for metering.
///
///     const geo::sky::Lux light = geo::sky::illuminance(sun.altitude, geo::sky::Okta{4.0});

#include "geo/units.hpp"

#include <optional>

namespace geo::sky {

using Lux = Quantity<struct LuxUnit>;
/// Eighths of the sky covered by cloud, 0 to 8.
using Okta = Quantity<struct OktaUnit>;

/// Light of sun and sky on level ground under a clear sky, by the true altitude of the sun's centre; below -18 degrees
/// the value there, 0.0006 lx (stars and airglow vary more than that). A few percent good where the sky is clean and
/// the ground dark. Source: Seidelmann (ed.), Explanatory Supplement to the Astronomical Almanac (1992), after Janiczek
/// and DeYoung, USNO Circular 171 (1987).
Lux clear_sky_illuminance(Degrees sun_altitude);

/// What cloud leaves of the clear sky's light, 1 to 0.25; of which so much is diffuse, 0.3 to 1. Means over all kinds
/// of cloud: thin cirrus takes less, storm cloud more. Clamped to 0 to 8 okta.
/// Source: Kasten and Czeplak, Solar Energy 24:177 (1980), from memory.
double cloud_global_ratio(Okta cover);
double cloud_diffuse_share(Okta cover);

/// What comes straight from the sun under cloud, as a share of all the light a clear sky gives: 0.7 when clear, 0.49 at
/// 4 okta, 0.22 at 6, none at 8.
double direct_share(Okta cover);

/// Under cloud. The reduction is that of the sun's radiation, used below the horizon too for want of a better one.
Lux illuminance(Degrees sun_altitude, Okta cover);

/// Length of a shadow on level ground over the height of what throws it; nothing while the sun is not above the
/// horizon.
std::optional<double> shadow_length_ratio(Degrees sun_altitude);

} // namespace geo::sky
