#include "geo/sky/illuminance.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace geo::sky {

Lux clear_sky_illuminance(Degrees sun_altitude) {
    struct Piece {
        double from; ///< lowest altitude it holds for
        std::array<double, 4> coefficients;
    };
    // log10 E = a0 + a1 x + a2 x^2 + a3 x^3 with x the altitude over 90 degrees.
    static constexpr std::array<Piece, 6> pieces{{{20.0, {3.74, 3.97, -4.07, 1.47}},
                                                  {5.0, {3.05, 13.28, -45.98, 64.33}},
                                                  {-0.8, {2.88, 22.26, -207.64, 1034.30}},
                                                  {-5.0, {2.88, 21.81, -258.11, -858.36}},
                                                  {-12.0, {2.70, 12.17, -431.69, -1899.83}},
                                                  {-18.0, {13.84, 262.72, 1447.42, 2797.93}}}};
    const double altitude = std::clamp(sun_altitude.value, -18.0, 90.0);
    const auto piece = std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return altitude >= p.from; });
    const double x = altitude / 90.0;
    const auto& a = piece->coefficients;
    return {std::pow(10.0, a[0] + x * (a[1] + x * (a[2] + x * a[3])))};
}

double cloud_global_ratio(Okta cover) {
    return 1.0 - 0.75 * std::pow(std::clamp(cover.value, 0.0, 8.0) / 8.0, 3.4);
}

double cloud_diffuse_share(Okta cover) {
    const double covered = std::clamp(cover.value, 0.0, 8.0) / 8.0;
    return 0.3 + 0.7 * covered * covered;
}

double direct_share(Okta cover) {
    return cloud_global_ratio(cover) * (1.0 - cloud_diffuse_share(cover));
}

Lux illuminance(Degrees sun_altitude, Okta cover) {
    return cloud_global_ratio(cover) * clear_sky_illuminance(sun_altitude);
}

std::optional<double> shadow_length_ratio(Degrees sun_altitude) {
    if (!(sun_altitude.value > 0.0))
        return std::nullopt;
    return 1.0 / std::tan(sun_altitude.value * std::numbers::pi / 180.0);
}

} // namespace geo::sky
