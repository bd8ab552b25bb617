#pragma once
/// How fast a loaded crew walks on the level.
///
///     const Seconds in = walking_time(walk.time, shoot.crew.load_kg);
///
/// Tobler's hiking function (NCGIA Technical Report 93-1, 1993) gives 6 exp(-3.5 |S + 0.05|) km/h: 5.04 on the level. A
/// load slows it to what costs the same effort by the equation of Pandolf, Givoni and Goldman (J. Appl. Physiol. 43,
/// 1977), on a hard level path. Slopes: foot/slope_pace.

#include "routing/roads/network.hpp"

#include "geo/interval.hpp"

namespace routing::shoot {

/// Share of the free speed that is left under `load_kg` (0 to 60) for a walker of 75 kg: 1 without load, 0.90 with 15.
double load_factor(double load_kg);

/// The crew's time for a way that takes `at_map_pace` at the pace of the foot network (foot::flat_pace), rounded up.
geo::Seconds walking_time(roads::Milliseconds at_map_pace, double load_kg);

} // namespace routing::shoot
