#pragma once
/// route.geojson: stops and legs on a map, RFC 7946.

#include "routing/shoot/plan.hpp"

#include <string>

namespace cli {

/// A FeatureCollection with bbox: each stop a Point, each leg that was driven a LineString, day by day in order of
/// time. Properties in docs/plan-file.md.
std::string write_route(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot);

} // namespace cli
