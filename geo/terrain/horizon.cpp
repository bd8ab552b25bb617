#include "geo/terrain/horizon.hpp"

#include "geo/local_frame.hpp"
#include "geo/terrain/sight_line.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace geo::terrain {

namespace {

constexpr double degrees_per_radian = 180.0 / std::numbers::pi;

/// The distances looked at, the same in every direction. What counts is the angle a step spans: steps grow with the
/// distance, and close by, where a metre is a degree, they are shorter than half a cell.
std::vector<double> sample_distances(double cell, double range) {
    constexpr double step_per_distance = 0.0025;
    constexpr double near_step_per_distance = 0.01;
    std::vector<double> distances;
    double s = cell / 2.0;
    while (s < range) {
        distances.push_back(s);
        s += std::max(std::min(cell / 2.0, near_step_per_distance * s), step_per_distance * s);
    }
    distances.push_back(range);
    return distances;
}

class Eye {
public:
    Eye(const ElevationSheet& sheet, Coordinate place, double elevation, double cell, const HorizonSettings& settings)
        : sheet_(sheet), place_(place), elevation_(elevation), settings_(settings),
          distances_(sample_distances(cell, settings.range.value)) {}

    HorizonPoint look(Degrees azimuth) const {
        Ray ray{SightLine(place_, azimuth, settings_.range),
                (1.0 - settings_.refraction) / (2.0 * radius_of_curvature(place_.latitude, azimuth).value)};
        std::vector<Look> looks;
        double known_to = settings_.range.value;
        for (std::size_t index = 0; index < distances_.size();) {
            const double s = distances_[index];
            const GroundSample ground = sheet_.sample(ray.line.at({s}));
            if (std::isnan(ground.height)) {
                known_to = std::min(known_to, index == 0 ? 0.0 : distances_[index - 1]);
                ++index;
                continue;
            }
            looks.push_back({index, tangent_of(ray, ground.height, s)});
            ray.raise(looks.back().tangent, s);
            index = next_that_matters(ray, ground, index);
        }
        climb_crests(ray, looks);
        dip_to_the_sea(ray);
        return {{std::atan(ray.best) * degrees_per_radian}, {ray.best_distance}, {known_to}};
    }

private:
    struct Ray {
        SightLine line;
        double drop = 0.0; ///< curvature and refraction, per squared metre
        double best = -std::numeric_limits<double>::infinity();
        double best_distance = 0.0;

        void raise(double tangent, double s) {
            if (tangent > best) {
                best = tangent;
                best_distance = s;
            }
        }
    };

    /// The ground at one of the distances.
    struct Look {
        std::size_t index;
        double tangent;
    };

    double tangent_of(const Ray& ray, double height, double s) const {
        return (height - elevation_) / s - ray.drop * s;
    }

    /// The first sample after `index` that is not surely too low: within the block only when the block's ceiling could
    /// stand above the best so far.
    std::size_t next_that_matters(const Ray& ray, const GroundSample& ground, std::size_t index) const {
        if (ground.surface == nullptr)
            return index + 1;
        const BlockSurvey block = ground.surface->block_around(ground.at);
        const double s = distances_[index];
        if (!block.all_known || tangent_of(ray, block.ceiling, s) > ray.best)
            return index + 1; // for ground above the eye the nearest place is the highest possible
        const double leaves = distance_out(ray, ground, block, s);
        if (block.ceiling < elevation_ && (block.ceiling - elevation_) / leaves - ray.drop * s > ray.best)
            return index + 1; // for ground below the eye the farthest is
        const auto past =
            std::upper_bound(distances_.begin() + static_cast<std::ptrdiff_t>(index), distances_.end(), leaves);
        return std::max(index + 1, static_cast<std::size_t>(past - distances_.begin()));
    }

    /// Where the line leaves the block, or a little before. Over a block the line bends by some centimetres; the
    /// ceiling takes in one cell around the block.
    static double distance_out(const Ray& ray, const GroundSample& ground, const BlockSurvey& block, double s) {
        const GridFrame& frame = ground.surface->frame();
        constexpr double ahead = 100.0;
        const Coordinate here = ray.line.at({s});
        const Coordinate there = ray.line.at({s + ahead});
        const double rows = (here.latitude.value - there.latitude.value) / frame.step_south.value / ahead;
        const double columns =
            longitude_difference(here.longitude, there.longitude).value / frame.step_east.value / ahead;
        const auto until = [](double at, double speed, double first, double last) {
            if (speed == 0.0)
                return std::numeric_limits<double>::infinity();
            return ((speed > 0.0 ? last : first) - at) / speed;
        };
        return s + std::min(until(ground.at.row, rows, block.first.row, block.last.row),
                            until(ground.at.column, columns, block.first.column, block.last.column));
    }

    /// Crests stand between samples: wherever the ground rises and falls again about as high as the best, the steps
    /// around are looked at again in eighths.
    void climb_crests(Ray& ray, const std::vector<Look>& looks) const {
        constexpr int parts = 8;
        const double best = ray.best;
        for (std::size_t n = 0; n < looks.size(); ++n) {
            const Look& look = looks[n];
            if ((n > 0 && looks[n - 1].tangent > look.tangent) ||
                (n + 1 < looks.size() && looks[n + 1].tangent > look.tangent))
                continue;
            const double from = distances_[look.index == 0 ? 0 : look.index - 1];
            const double until = distances_[std::min(look.index + 1, distances_.size() - 1)];
            // Flanks of 45 degrees on both sides lift the crest by half the way between samples.
            if (look.tangent < best - 0.5 * (until - from) / distances_[look.index])
                continue;
            for (int part = 1; part < 2 * parts; ++part) {
                const double s = from + (until - from) * part / (2.0 * parts);
                const GroundSample ground = sheet_.sample(ray.line.at({s}));
                if (!std::isnan(ground.height))
                    ray.raise(tangent_of(ray, ground.height, s), s);
            }
        }
    }

    /// No line of sight goes below the one that touches the sea: its tangent is the greatest of -elevation / s - drop
    /// s.
    void dip_to_the_sea(Ray& ray) const {
        if (elevation_ > 0.0) {
            const double dip = -2.0 * std::sqrt(elevation_ * ray.drop);
            if (dip > ray.best) {
                ray.best = dip;
                ray.best_distance = ray.drop > 0.0 ? std::sqrt(elevation_ / ray.drop) : 0.0;
            }
        } else if (std::isinf(ray.best)) {
            ray.best = 0.0; // in a hole below the sea with no ground known
        }
    }

    const ElevationSheet& sheet_;
    Coordinate place_;
    double elevation_;
    HorizonSettings settings_;
    std::vector<double> distances_;
};

/// The shorter side of a cell there.
double cell_side(const GroundSample& ground, const ElevationSheet& sheet, Coordinate place) {
    Degrees south = sheet.tiles().front().post_spacing;
    Degrees east = south;
    if (ground.surface != nullptr) {
        south = ground.surface->frame().step_south;
        east = ground.surface->frame().step_east;
    }
    const LocalFrame local(place);
    const LocalPoint origin = local.from(place);
    const Metres high = distance(local.from({place.latitude - south, place.longitude}), origin);
    const Metres wide = distance(local.from({place.latitude, place.longitude + east}), origin);
    // Beside the poles columns crowd; rows alone say how fine the ground is known.
    return std::max(std::min(high, wide), 0.25 * high).value;
}

} // namespace

Metres curvature_drop(Metres distance, Metres radius, double refraction) {
    return {distance.value * distance.value * (1.0 - refraction) / (2.0 * radius.value)};
}

Degrees sight_angle(Metres rise, Metres distance, Metres radius, double refraction) {
    const Metres seen = rise - curvature_drop(distance, radius, refraction);
    return {std::atan(seen.value / distance.value) * degrees_per_radian};
}

Metres radius_of_curvature(Degrees latitude, Degrees azimuth) {
    // WGS 84 axes: NGA.STND.0036 (2014).
    constexpr double equatorial_radius = 6378137.0;
    constexpr double flattening = 1.0 / 298.257223563;
    constexpr double eccentricity_squared = flattening * (2.0 - flattening);
    const double sine = std::sin(latitude.value / degrees_per_radian);
    const double w_squared = 1.0 - eccentricity_squared * sine * sine;
    const double prime_vertical = equatorial_radius / std::sqrt(w_squared);
    const double meridional = prime_vertical * (1.0 - eccentricity_squared) / w_squared;
    const double cosine_azimuth = std::cos(azimuth.value / degrees_per_radian);
    const double northward = cosine_azimuth * cosine_azimuth;
    return {1.0 / (northward / meridional + (1.0 - northward) / prime_vertical)};
}

std::optional<HorizonProfile> find_horizon(const ElevationSheet& sheet, Coordinate place, HorizonSettings settings) {
    if (!is_valid(place))
        throw std::domain_error("a horizon needs a latitude in [-90, 90] and a longitude in [-180, 180]");
    assert(settings.range > Metres{0.0});
    const GroundSample ground = sheet.sample(place);
    if (std::isnan(ground.height))
        return std::nullopt;
    const Metres elevation = Metres{static_cast<double>(ground.height)} + settings.eye_height;
    const Eye eye(sheet, place, elevation.value, cell_side(ground, sheet, place), settings);
    std::vector<HorizonPoint> points;
    points.reserve(HorizonProfile::azimuths);
    for (std::size_t index = 0; index < HorizonProfile::azimuths; ++index)
        points.push_back(eye.look({static_cast<double>(index) * 360.0 / HorizonProfile::azimuths}));
    return HorizonProfile(std::move(points), elevation, settings);
}

} // namespace geo::terrain
