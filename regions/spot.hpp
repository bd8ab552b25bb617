#pragma once
/// Flat map coordinates of the invented island, and the way from them to latitude and longitude.
///
///     const geo::Coordinate there = regions::to_coordinate({1200.0, -350.0});

#include "geo/coordinate.hpp"

#include <cmath>
#include <vector>

namespace regions {

/// Metres east and north of the island's centre.
struct Spot {
    double east = 0.0;
    double north = 0.0;
    friend constexpr bool operator==(const Spot&, const Spot&) = default;
    friend constexpr Spot operator+(Spot a, Spot b) { return {a.east + b.east, a.north + b.north}; }
    friend constexpr Spot operator-(Spot a, Spot b) { return {a.east - b.east, a.north - b.north}; }
    friend constexpr Spot operator*(double factor, Spot a) { return {factor * a.east, factor * a.north}; }
};

using Line = std::vector<Spot>;

constexpr double dot(Spot a, Spot b) {
    return a.east * b.east + a.north * b.north;
}
constexpr double cross(Spot a, Spot b) {
    return a.east * b.north - a.north * b.east;
}
inline double length(Spot a) {
    return std::sqrt(dot(a, a));
}
inline double distance(Spot a, Spot b) {
    return length(b - a);
}
inline Spot unit(Spot a) {
    return (1.0 / length(a)) * a;
}
constexpr Spot left_of(Spot a) {
    return {-a.north, a.east};
}
constexpr Spot between(Spot a, Spot b, double share) {
    return a + share * (b - a);
}

/// The island's centre, in open ocean: the nearest land is more than 700 km away.
constexpr geo::Coordinate island_centre{{46.5}, {-27.5}};
/// Length of a degree on WGS 84 at 46.5 degrees north (usual cosine series, from memory; good to a metre).
constexpr double metres_per_degree_north = 111161.1;
constexpr double metres_per_degree_east = 76762.7;

constexpr geo::Coordinate to_coordinate(Spot spot) {
    return {{island_centre.latitude.value + spot.north / metres_per_degree_north},
            {island_centre.longitude.value + spot.east / metres_per_degree_east}};
}
constexpr Spot to_spot(geo::Coordinate place) {
    return {(place.longitude.value - island_centre.longitude.value) * metres_per_degree_east,
            (place.latitude.value - island_centre.latitude.value) * metres_per_degree_north};
}

/// Nearest point of a line and where it lies.
struct LinePoint {
    std::size_t segment = 0;
    double share = 0.0; ///< of that segment
    Spot at;
    double away = 0.0; ///< metres
};
LinePoint nearest_on(const Line& line, Spot spot);

/// Where two segments cross properly: shares along each, ends included within 1e-9; nothing when parallel.
bool segments_cross(Spot a, Spot b, Spot c, Spot d, double& share_ab, double& share_cd);

/// Cuts corners twice (Chaikin 1974, from memory), ends kept.
Line rounded(const Line& line);
/// Leaves out points nearer than `tolerance` metres to the chord (Douglas and Peucker 1973), ends kept.
Line thinned(const Line& line, double tolerance);

} // namespace regions
