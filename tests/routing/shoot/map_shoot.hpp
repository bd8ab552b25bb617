#pragma once
/// Shoots drawn at random on any map: locations on its roads, windows by the clock and by the sun, lunch and a bed from
/// its places.

#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <random>

namespace map_shoot {

/// One or two days (2027-06-12 on, UTC) with `scenes` scenes in all, a third of them musts.
routing::shoot::Shoot draw(const routing::shoot::Region& region, std::mt19937& random, int scenes, int days);

} // namespace map_shoot
