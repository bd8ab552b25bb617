#pragma once
/// Geometry as GeoJSON (RFC 7946). The only place that knows its longitude-first order.
///
///     feature["geometry"] = geo::geojson::line(road);
///     feature["bbox"] = geo::geojson::bounding_box(road);
///
/// WGS 84, no `crs`. Numbers are rounded, exactly, to 6 decimals (0.1 m); write the document with `geo::json_text` to
/// have them print so. Every function throws std::domain_error for a coordinate that is not finite or off the globe, so
/// that NaN can't reach a map.

#include "geo/coordinate.hpp"

#include <nlohmann/json_fwd.hpp>

#include <vector>

namespace geo::geojson {

/// Point.
nlohmann::ordered_json point(Coordinate place);

/// LineString; where it crosses the antimeridian, a MultiLineString cut there (section 3.1.9). Neighbouring points are
/// joined the short way round. Throws std::domain_error for fewer than two points.
nlohmann::ordered_json line(const std::vector<Coordinate>& points);

/// Polygon of one ring, given open or closed and either way round; written closed and counter-clockwise (section
/// 3.1.6). Where it crosses the antimeridian, a MultiPolygon cut there. Throws std::domain_error for fewer than three
/// different points, a ring without area, or one that runs round a pole.
nlohmann::ordered_json polygon(const std::vector<Coordinate>& ring);

/// [west, south, east, north], the narrowest box that holds all points; west > east where it crosses the antimeridian
/// (section 5.2). Throws std::domain_error when there are none.
nlohmann::ordered_json bounding_box(const std::vector<Coordinate>& points);

} // namespace geo::geojson
