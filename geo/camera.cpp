#include "geo/camera.hpp"

#include "geo/sky/refraction.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace geo {

namespace {

double radians(Degrees angle) {
    return angle.value * std::numbers::pi / 180.0;
}

Degrees field_of_view(Millimetres side, Millimetres focal_length) {
    return {2.0 * std::atan(side.value / (2.0 * focal_length.value)) * 180.0 / std::numbers::pi};
}

/// The sun's direction seen from the camera: along its axis, to the right, and up in the picture.
struct InCamera {
    double forward;
    double right;
    double up;
};

InCamera in_camera(sky::SkyPosition sun, Degrees facing, Degrees pitch) {
    const double beside = radians(relative_azimuth(sun.azimuth, facing));
    const double level = std::cos(radians(sun.altitude));
    const double height = std::sin(radians(sun.altitude));
    const double ahead = level * std::cos(beside);
    const double sine = std::sin(radians(pitch));
    const double cosine = std::cos(radians(pitch));
    return {ahead * cosine + height * sine, level * std::sin(beside), height * cosine - ahead * sine};
}

struct Margin {
    sky::SkyPosition sun;

    double operator()(const SunBeside& wish) const {
        const double cosine = std::cos(radians(relative_azimuth(sun.azimuth, wish.facing)));
        const double behind = cosine - std::cos(radians(wish.behind_within));
        const double front = std::cos(radians(wish.front_beyond)) - cosine;
        switch (wish.side) {
        case SunSide::behind:
            return behind;
        case SunSide::front:
            return front;
        case SunSide::side:
            break;
        }
        return std::min(-behind, -front);
    }
    double operator()(const AzimuthRange& wish) const {
        double width = std::fmod(wish.until.value - wish.from.value, 360.0);
        if (width < 0.0)
            width += 360.0;
        const Degrees middle{wish.from.value + width / 2.0};
        return std::cos(radians(relative_azimuth(sun.azimuth, middle))) - std::cos(radians({width / 2.0}));
    }
    double operator()(const SunInFrame& wish) const {
        // What the picture shows is the sun lifted by the air.
        const sky::SkyPosition seen{sun.altitude + sky::refraction_from_true(sun.altitude), sun.azimuth};
        const InCamera place = in_camera(seen, wish.facing, wish.pitch);
        const double half_width = wish.lens.sensor_width.value / (2.0 * wish.lens.focal_length.value);
        const double half_height = wish.lens.sensor_height.value / (2.0 * wish.lens.focal_length.value);
        return std::min(place.forward * half_width - std::abs(place.right),
                        place.forward * half_height - std::abs(place.up));
    }
};

} // namespace

Degrees relative_azimuth(Degrees sun_azimuth, Degrees facing) {
    const double difference = std::remainder(sun_azimuth.value - facing.value, 360.0);
    return {difference <= -180.0 ? 180.0 : difference};
}

Degrees horizontal_field_of_view(const Lens& lens) {
    return field_of_view(lens.sensor_width, lens.focal_length);
}

Degrees vertical_field_of_view(const Lens& lens) {
    return field_of_view(lens.sensor_height, lens.focal_length);
}

Degrees angle_from_axis(sky::SkyPosition sun, Degrees facing, Degrees pitch) {
    const InCamera place = in_camera(sun, facing, pitch);
    return {std::atan2(std::hypot(place.right, place.up), place.forward) * 180.0 / std::numbers::pi};
}

double margin(const SunDirection& wish, sky::SkyPosition sun) {
    return std::visit(Margin{sun}, wish);
}

} // namespace geo
