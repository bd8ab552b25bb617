#include "geo/geojson.hpp"

#include <boost/geometry/algorithms/area.hpp>
#include <boost/geometry/algorithms/correct.hpp>
#include <boost/geometry/algorithms/intersection.hpp>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>

namespace geo::geojson {

namespace {

using nlohmann::ordered_json;
namespace bg = boost::geometry;

void require_valid(Coordinate place) {
    if (!is_valid(place))
        throw std::domain_error("GeoJSON needs latitudes in -90..90 and longitudes in -180..180");
}

/// To 6 decimals by way of the decimal text, which to_chars rounds exactly; multiplying by a million would not.
double rounded(double degrees) {
    std::array<char, 32> text{};
    const char* end = std::to_chars(text.data(), text.data() + text.size(), degrees, std::chars_format::fixed, 6).ptr;
    double value = 0.0;
    std::from_chars(text.data(), end, value);
    return value + 0.0; // no -0
}

ordered_json position(double longitude, double latitude) {
    return ordered_json::array({rounded(longitude), rounded(latitude)});
}

ordered_json geometry(const char* type, ordered_json coordinates) {
    return {{"type", type}, {"coordinates", std::move(coordinates)}};
}

/// A point whose longitude goes on counting beyond +-180, so that neighbours lie the short way round from each other.
struct Unwrapped {
    double longitude;
    double latitude;
};

std::vector<Unwrapped> unwrapped(const std::vector<Coordinate>& points) {
    std::vector<Unwrapped> line;
    line.reserve(points.size());
    for (const Coordinate& place : points) {
        require_valid(place);
        // Half a turn exactly stays as written: nearbyint rounds it to the even 0.
        double turns = 0.0;
        if (!line.empty())
            turns = std::nearbyint((line.back().longitude - place.longitude.value) / 360.0);
        line.push_back({place.longitude.value + 360.0 * turns, place.latitude.value});
    }
    return line;
}

/// Whole turns to take from the points of a strip 360 degrees wide around `longitude` to have them in -180..180.
double turns_of(double longitude) {
    return std::floor((longitude + 180.0) / 360.0);
}

using FlatPoint = bg::model::d2::point_xy<double>;
using FlatPolygon = bg::model::polygon<FlatPoint, false>; // counter-clockwise
using FlatPolygons = bg::model::multi_polygon<FlatPolygon>;

ordered_json ring_of(const FlatPolygon& polygon, double turns) {
    ordered_json ring = ordered_json::array();
    for (const FlatPoint& corner : polygon.outer())
        ring.push_back(position(corner.x() - 360.0 * turns, corner.y()));
    return ring;
}

} // namespace

ordered_json point(Coordinate place) {
    require_valid(place);
    return geometry("Point", position(place.longitude.value, place.latitude.value));
}

ordered_json line(const std::vector<Coordinate>& points) {
    if (points.size() < 2)
        throw std::domain_error("a GeoJSON line needs two points");
    const std::vector<Unwrapped> path = unwrapped(points);
    ordered_json parts = ordered_json::array();
    ordered_json part = ordered_json::array();
    const auto finish_part = [&] {
        if (part.size() >= 2) // a line that starts on the antimeridian leaves one point behind
            parts.push_back(std::move(part));
        part = ordered_json::array();
    };
    // The line starts in -180..180; each crossing moves it into the next strip of 360 degrees.
    double turns = 0.0;
    part.push_back(position(path[0].longitude, path[0].latitude));
    for (std::size_t i = 1; i < path.size(); ++i) {
        const Unwrapped& from = path[i - 1];
        const Unwrapped& to = path[i];
        const double side = to.longitude > 360.0 * turns + 180.0   ? 1.0
                            : to.longitude < 360.0 * turns - 180.0 ? -1.0
                                                                   : 0.0;
        if (side != 0.0) {
            const double border = 360.0 * turns + side * 180.0;
            const double share = (border - from.longitude) / (to.longitude - from.longitude);
            const double latitude = from.latitude + share * (to.latitude - from.latitude);
            if (from.longitude != border)
                part.push_back(position(side * 180.0, latitude));
            finish_part();
            part.push_back(position(-side * 180.0, latitude));
            turns += side;
        }
        part.push_back(position(to.longitude - 360.0 * turns, to.latitude));
    }
    finish_part();
    if (parts.size() == 1)
        return geometry("LineString", std::move(parts[0]));
    return geometry("MultiLineString", std::move(parts));
}

ordered_json polygon(const std::vector<Coordinate>& ring) {
    std::vector<Coordinate> closed = ring;
    if (!closed.empty() && closed.front() != closed.back())
        closed.push_back(closed.front());
    if (closed.size() < 4)
        throw std::domain_error("a GeoJSON polygon needs three different points");
    const std::vector<Unwrapped> path = unwrapped(closed);
    if (path.front().longitude != path.back().longitude)
        throw std::domain_error("a GeoJSON polygon can't run round a pole");

    FlatPolygon flat;
    for (const Unwrapped& corner : path)
        flat.outer().emplace_back(corner.longitude, corner.latitude);
    bg::correct(flat);
    if (!(bg::area(flat) > 0.0))
        throw std::domain_error("a GeoJSON polygon needs an area");

    const auto [west, east] = std::minmax_element(
        path.begin(), path.end(), [](const Unwrapped& a, const Unwrapped& b) { return a.longitude < b.longitude; });
    const double first_turn = turns_of(west->longitude);
    // Touching the next strip with an edge or a corner is not crossing into it.
    const double last_turn = std::max(first_turn, std::ceil((east->longitude + 180.0) / 360.0) - 1.0);
    if (first_turn == last_turn)
        return geometry("Polygon", ordered_json::array({ring_of(flat, first_turn)}));

    ordered_json pieces = ordered_json::array();
    for (double turn = first_turn; turn <= last_turn; ++turn) {
        const bg::model::box<FlatPoint> strip({360.0 * turn - 180.0, -90.0}, {360.0 * turn + 180.0, 90.0});
        FlatPolygons inside;
        bg::intersection(flat, strip, inside);
        for (const FlatPolygon& piece : inside)
            pieces.push_back(ordered_json::array({ring_of(piece, turn)}));
    }
    return geometry("MultiPolygon", std::move(pieces));
}

ordered_json bounding_box(const std::vector<Coordinate>& points) {
    if (points.empty())
        throw std::domain_error("nothing has no bounding box");
    double south = 90.0;
    double north = -90.0;
    std::vector<double> longitudes;
    longitudes.reserve(points.size());
    for (const Coordinate& place : points) {
        require_valid(place);
        south = std::min(south, place.latitude.value);
        north = std::max(north, place.latitude.value);
        longitudes.push_back(place.longitude.value);
    }
    std::sort(longitudes.begin(), longitudes.end());
    // The box leaves out the widest empty stretch of longitude; a tie goes to the box that does not cross.
    double west = longitudes.front();
    double east = longitudes.back();
    double widest = west + 360.0 - east;
    for (std::size_t i = 1; i < longitudes.size(); ++i)
        if (longitudes[i] - longitudes[i - 1] > widest) {
            widest = longitudes[i] - longitudes[i - 1];
            west = longitudes[i];
            east = longitudes[i - 1];
        }
    return ordered_json::array({rounded(west), rounded(south), rounded(east), rounded(north)});
}

} // namespace geo::geojson
