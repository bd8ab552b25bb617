/// Horizons and direct sun: how long, and how far from plainer ways of finding them; a difference beyond what
/// docs/terrain.md states ends the program with 1.
///
///     bench_horizon [TILE.hgt]     default: the three arc second tile N47E009 of the optional data; without it, hills
///                                  made by formula

#include "geo/geodesic.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/sky/sun.hpp"
#include "geo/terrain/direct_sun.hpp"
#include "geo/terrain/horizon.hpp"
#include "geo/terrain/horizon_cache.hpp"
#include "geo/terrain/sight_line.hpp"
#include "tests/geo/terrain/ray_cast.hpp"
#include "tests/geo/terrain/tile_fixtures.hpp"
#include "tests/support/data_file.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <exception>
#include <random>

namespace {

using namespace geo::terrain;
using namespace std::chrono_literals;
using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Metres;

constexpr Instant new_year{geo::Seconds{1'798'761'600}}; // 2027-01-01

template <class Work>
double milliseconds_of(Work work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

std::vector<Coordinate> places_in(const GridFrame& frame, std::size_t count) {
    std::mt19937 random(20270514);
    std::uniform_real_distribution<double> part(0.05, 0.95);
    std::vector<Coordinate> places;
    while (places.size() < count) {
        const double down = part(random);
        places.push_back(frame.place(down * static_cast<double>(frame.rows - 1),
                                     part(random) * static_cast<double>(frame.columns - 1)));
    }
    return places;
}

/// Three posts for each post: the ground of a sheet with a little roughness of its own.
void write_finer(const std::filesystem::path& file, const ElevationSheet& sheet) {
    const GridFrame fine{{9.0}, {48.0}, {1.0 / 3600.0}, {1.0 / 3600.0}, 3601, 3601};
    support::write_hgt(file, 3601, [&](std::size_t row, std::size_t column) {
        const auto height = sheet.height(fine.place(static_cast<double>(row), static_cast<double>(column)));
        return height.value_or(Metres{0.0}).value + static_cast<double>((row * 31 + column * 17) % 7);
    });
}

/// Every sample by its own Karney geodesic, on the step rule, nothing passed over.
double plain_angle(const ElevationSheet& sheet, Coordinate place, Degrees azimuth, double cell) {
    const double eye = sheet.height(place).value().value + 1.7;
    const double radius = radius_of_curvature(place.latitude, azimuth).value;
    double best = -1.0;
    double s = cell / 2.0;
    while (s <= 60000.0) {
        if (const auto height = sheet.height(geo::destination(place, azimuth, {s})))
            best = std::max(best, (height->value - eye) / s - s * 0.87 / (2.0 * radius));
        s += std::max(cell / 2.0, 0.0025 * s);
    }
    return best;
}

void time_profiles(const char* what, const std::filesystem::path& file, std::size_t count) {
    std::optional<ElevationSheet> sheet;
    const double open = milliseconds_of([&] { sheet = read_elevation_sheet({file}); });
    const GridFrame frame = read_elevation_tile(file).frame();
    double slowest = 0.0;
    double sum = 0.0;
    for (const Coordinate place : places_in(frame, count)) {
        const double one = milliseconds_of([&] { (void)find_horizon(*sheet, place); });
        sum += one;
        slowest = std::max(slowest, one);
    }
    std::printf("%s: opened in %.1f ms; a horizon in %.1f ms (mean of %zu), slowest %.1f\n", what, open,
                sum / static_cast<double>(count), count, slowest);
    const Coordinate place = places_in(frame, 1).front();
    const double cell = geo::distance(place, {place.latitude, place.longitude + frame.step_east}).value;
    double made = 0.0;
    const double plain = milliseconds_of([&] {
        for (int azimuth = 0; azimuth < 360; azimuth += 4) // every eighth direction
            made += plain_angle(*sheet, place, {static_cast<double>(azimuth)}, cell);
    });
    std::printf("  plain geodesics at every step: %.0f ms (90 directions x 8; %.3f)\n", 8.0 * plain, made);
}

/// All azimuths of 50 places against a ray cast ten times as close.
bool compare_horizons(const ElevationSheet& sheet, const GridFrame& frame) {
    double worst = 0.0;
    double worst_near = 0.0;
    double sum = 0.0;
    std::size_t count = 0;
    for (const Coordinate place : places_in(frame, 50)) {
        const auto horizon = find_horizon(sheet, place);
        const double cell = geo::distance(place, {place.latitude, place.longitude + frame.step_east}).value;
        for (std::size_t index = 0; index < HorizonProfile::azimuths; ++index) {
            const Degrees azimuth{static_cast<double>(index) / 2.0};
            const SightLine line(place, azimuth, {60000.0});
            const auto dense = support::cast_ray(sheet, place, azimuth, cell, [&](double s) { return line.at({s}); });
            const double off = std::abs(dense.angle.value - horizon->points()[index].angle.value);
            double& record = dense.distance < Metres{2000.0} ? worst_near : worst;
            record = std::max(record, off);
            sum += off;
            ++count;
        }
    }
    std::printf("against rays 10 x as close, %zu directions: mean %.4f degrees, worst %.4f, under 2 km %.4f\n", count,
                sum / static_cast<double>(count), worst, worst_near);
    return worst <= 0.05 && worst_near <= 0.1;
}

/// First and last sun of a day: from the profile, and by a ray in the sun's own direction every minute.
void compare_sun(const ElevationSheet& sheet, const GridFrame& frame, std::size_t place_count) {
    std::vector<double> apart;
    int one_has_none = 0;
    for (const Coordinate place : places_in(frame, place_count)) {
        const auto horizon = find_horizon(sheet, place);
        const auto path = sun_path(place, horizon->eye_elevation());
        const double cell = geo::distance(place, {place.latitude, place.longitude + frame.step_east}).value;
        for (int month = 0; month < 12; ++month) {
            const Instant midnight = new_year + (14 + 30 * month) * 24h;
            const auto sun = direct_sun(path, *horizon, {midnight, midnight + 24h});
            std::optional<Instant> first;
            std::optional<Instant> last;
            for (Instant when = midnight; when < midnight + 24h; when += 1min) {
                const auto sight = path(geo::sky::precise(when));
                if (sight.centre.altitude < Degrees{-2.0})
                    continue;
                const Degrees limb = sight.centre.altitude + sight.semidiameter;
                const SightLine line(place, sight.centre.azimuth, {60000.0});
                const auto ground =
                    support::cast_ray(sheet, place, sight.centre.azimuth, cell, [&](double s) { return line.at({s}); });
                if (limb + geo::sky::refraction_from_true(limb) <= ground.angle)
                    continue;
                first = first.value_or(when);
                last = when;
            }
            if (!first || sun.direct.empty()) {
                one_has_none += first.has_value() != !sun.direct.empty() ? 1 : 0;
                continue;
            }
            for (const auto& [looked, found] :
                 {std::pair{*first, sun.direct.front().from}, {*last, sun.direct.back().until}})
                apart.push_back(std::abs(static_cast<double>((looked - found).count())));
        }
    }
    std::sort(apart.begin(), apart.end());
    const auto share_over = [&](double seconds) {
        const auto over = apart.end() - std::upper_bound(apart.begin(), apart.end(), seconds);
        return 100.0 * static_cast<double>(over) / static_cast<double>(apart.size());
    };
    std::printf("first and last sun against a ray in the sun's own direction every minute, %zu events: median %.0f s, "
                "over 60 s %.1f %%, over 120 s %.1f %%, worst %.0f s; days only one has sun: %d\n",
                apart.size(), apart[apart.size() / 2], share_over(60.0), share_over(120.0), apart.back(), one_has_none);
}

void time_sun(const std::filesystem::path& file, const GridFrame& frame) {
    const support::TileFolder folder;
    const auto places = places_in(frame, 10);
    HorizonCache making({file}, folder.path());
    const double made = milliseconds_of([&] {
        for (const Coordinate place : places)
            (void)making.at(place);
    });
    std::size_t spans = 0;
    double read = 0.0;
    const double sun = milliseconds_of([&] {
        HorizonCache cache({file}, folder.path());
        for (const Coordinate place : places) {
            std::optional<HorizonProfile> horizon;
            read += milliseconds_of([&] { horizon = cache.at(place); });
            for (int day = 0; day < 14; ++day)
                spans += direct_sun(place, *horizon, {new_year + day * 24h, new_year + (day + 1) * 24h}).direct.size();
        }
    });
    std::printf("10 places: horizons made in %.0f ms; direct sun of 14 days with kept horizons in %.1f ms, of it "
                "reading them %.1f ms (%zu spans)\n",
                made, sun, read, spans);
    const geo::sky::Observer observer(places[0], {0.0});
    double altitude = 0.0;
    const double day = milliseconds_of([&] {
        for (int minute = 0; minute < 1440; ++minute) {
            const auto when = geo::sky::precise(new_year + minute * 1min);
            altitude +=
                observer.view(geo::sky::computed_sun_vector(geo::sky::terrestrial_time(when)), when).altitude.value;
        }
    });
    std::printf("  the series itself every minute of one day: %.0f ms, x 140 = %.0f ms (%.1f)\n", day, 140.0 * day,
                altitude);
}

} // namespace

int main(int count, char** arguments) {
    try {
        const support::TileFolder folder;
        std::filesystem::path file =
            count > 1 ? std::filesystem::path(arguments[1]) : support::data_file("dem/N47E009.hgt");
        if (!std::filesystem::exists(file)) {
            file = folder / "N47E009.hgt";
            support::write_hgt(file, 1201, [](std::size_t row, std::size_t column) {
                const auto x = static_cast<double>(column);
                const auto y = static_cast<double>(row);
                return 1200.0 + 700.0 * std::sin(x / 40.0) * std::cos(y / 55.0) + 200.0 * std::sin((x + y) / 9.0);
            });
        }
        std::printf("%s\n", file.filename().c_str());
        const auto sheet = read_elevation_sheet({file});
        const GridFrame frame = read_elevation_tile(file).frame();
        time_profiles("as given", file, 20);
        if (frame.west == Degrees{9.0} && frame.rows == 1201) {
            std::filesystem::create_directory(folder / "finer");
            write_finer(folder / "finer/N47E009.hgt", sheet);
            time_profiles("three times as fine, 1 arc second", folder / "finer/N47E009.hgt", 20);
        }
        time_sun(file, frame);
        const bool close = compare_horizons(sheet, frame);
        compare_sun(sheet, frame, 20);
        return close ? 0 : 1;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
}
