#include "geo/terrain/horizon.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace geo::terrain {

namespace {

constexpr double steps_per_degree = HorizonProfile::azimuths / 360.0;

/// In half degrees, 0 <= turn < 720.
double turn_of(Degrees azimuth) {
    const double turn = std::fmod(azimuth.value * steps_per_degree, static_cast<double>(HorizonProfile::azimuths));
    const double positive = turn < 0.0 ? turn + static_cast<double>(HorizonProfile::azimuths) : turn;
    return positive < static_cast<double>(HorizonProfile::azimuths) ? positive : 0.0;
}

std::size_t next(std::size_t index) {
    return index + 1 == HorizonProfile::azimuths ? 0 : index + 1;
}

} // namespace

HorizonProfile::HorizonProfile(std::vector<HorizonPoint> points, Metres eye_elevation, HorizonSettings settings)
    : points_(std::move(points)), eye_elevation_(eye_elevation), settings_(settings) {
    assert(points_.size() == azimuths);
}

HorizonProfile HorizonProfile::level(Degrees angle) {
    const HorizonSettings settings;
    return {std::vector<HorizonPoint>(azimuths, {angle, settings.range, settings.range}), settings.eye_height,
            settings};
}

Degrees HorizonProfile::angle(Degrees azimuth) const {
    const double turn = turn_of(azimuth);
    const auto index = static_cast<std::size_t>(turn);
    const double part = turn - static_cast<double>(index);
    const Degrees from = points_[index].angle;
    return from + part * (points_[next(index)].angle - from);
}

std::pair<Degrees, Degrees> HorizonProfile::lowest_and_highest(Degrees azimuth, Degrees half_width) const {
    // Linear between the azimuths: the extremes stand on them or at the ends.
    const std::array<Degrees, 2> ends{angle(azimuth - half_width), angle(azimuth + half_width)};
    std::pair<Degrees, Degrees> range{std::min(ends[0], ends[1]), std::max(ends[0], ends[1])};
    const double width = std::min(2.0 * half_width.value * steps_per_degree, static_cast<double>(azimuths));
    const double first = turn_of(azimuth - half_width);
    auto index = static_cast<std::size_t>(first);
    // Whole azimuths passed on the way from the first end to the other.
    const auto passed = static_cast<std::size_t>(std::floor(first + width) - std::floor(first));
    for (std::size_t n = 0; n < passed; ++n) {
        index = next(index);
        range.first = std::min(range.first, points_[index].angle);
        range.second = std::max(range.second, points_[index].angle);
    }
    return range;
}

Metres HorizonProfile::known_to(Degrees azimuth) const {
    const double turn = turn_of(azimuth);
    const auto index = static_cast<std::size_t>(turn);
    const Metres here = points_[index].known_to;
    return turn == static_cast<double>(index) ? here : std::min(here, points_[next(index)].known_to);
}

Metres HorizonProfile::ridge_distance(Degrees azimuth) const {
    const auto nearest = static_cast<std::size_t>(std::lround(turn_of(azimuth)));
    return points_[nearest % azimuths].distance;
}

Metres HorizonProfile::known_all_round() const {
    Metres least = settings_.range;
    for (const HorizonPoint& point : points_)
        least = std::min(least, point.known_to);
    return least;
}

} // namespace geo::terrain
