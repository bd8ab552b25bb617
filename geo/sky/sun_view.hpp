#pragma once
/// The sun from one place, asked many times over.
///
///     const geo::sky::SunView view(arch, 40_m);
///     view.altitude(t), view.height_above(geo::sky::HorizonRule::upper_limb, t)

#include "geo/sky/observer.hpp"
#include "geo/sky/sun.hpp"

#include <variant>

namespace geo::sky {

/// What is called sunrise and sunset. Flat horizon at sea level, standard air: no dip, no hills.
enum class HorizonRule {
    upper_limb, ///< centre at -(34' + true semidiameter): the disc's upper limb on the refracted horizon
    fixed_50    ///< centre at -50', the almanacs' textbook rule (34' refraction + 16' semidiameter)
};

/// What the sun's centre can cross: an airless altitude, or the line of sunrise and sunset.
using SunLine = std::variant<Degrees, HorizonRule>;

/// One look at the sun: airless altitude of its centre, and its size.
struct SunLook {
    Degrees altitude;
    Degrees semidiameter;
};

/// How far the centre stands above the line, negative below.
Degrees height_above(const SunLine& line, const SunLook& sun);

class SunView {
public:
    /// Throws std::domain_error for an invalid coordinate or an elevation that is not finite.
    SunView(Coordinate place, Metres elevation) : observer_(place, elevation) {}

    /// Centre of the disc, airless.
    SkyPosition position(PreciseInstant when) const { return observer_.view(sun_vector(when), when); }
    SunLook look(PreciseInstant when) const;
    /// Airless altitude of the centre.
    Degrees altitude(PreciseInstant when) const;
    /// How far the centre stands above the line, negative below.
    Degrees height_above(const SunLine& line, PreciseInstant when) const;

private:
    Observer observer_;
};

} // namespace geo::sky
