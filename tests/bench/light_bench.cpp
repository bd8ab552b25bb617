/// Light windows of ten places over two weeks: every name, by one look at the sky a place; beside it the plain way, sun
/// and moon computed by ERFA for every minute. Figures are means of several rounds.
///
///     bench_light

#include "geo/light_window.hpp"
#include "geo/sky/moon.hpp"
#include "geo/sky/sun.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <random>
#include <thread>
#include <vector>

namespace {

using geo::CivilDate;
using geo::Coordinate;
using geo::Instant;

constexpr int days = 14;
constexpr int places_asked = 10;
const geo::Metres sea_level{0.0};

template <class Work>
double milliseconds_of(Work work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

std::vector<Coordinate> draw_places() {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> latitude(-65.0, 65.0);
    std::uniform_real_distribution<double> longitude(-180.0, 180.0);
    std::vector<Coordinate> places;
    for (int n = 0; n < places_asked; ++n)
        places.push_back({{latitude(random)}, {longitude(random)}});
    return places;
}

CivilDate day_after(CivilDate first, int n) {
    return std::chrono::sys_days{first} + std::chrono::days{n};
}

/// All windows of all names on all days.
std::size_t windows_of(Coordinate place, CivilDate first, const geo::TimeZone& zone) {
    geo::PlaceSky sky(place, sea_level,
                      {geo::civil_day(first, zone).from - geo::window_margin,
                       geo::civil_day(day_after(first, days - 1), zone).until + geo::window_margin});
    std::size_t found = 0;
    for (int n = 0; n < days; ++n)
        for (const geo::LightName name : geo::light_names())
            found += geo::light_windows({name}, sky, day_after(first, n), zone).intervals.size();
    return found;
}

/// Sun and moon at one minute, nothing interpolated.
double computed_look(const geo::sky::Observer& observer, Instant when) {
    const auto precise = geo::sky::precise(when);
    const auto terrestrial = geo::sky::terrestrial_time(precise);
    return observer.view(geo::sky::computed_sun_vector(terrestrial), precise).altitude.value +
           observer.view(geo::sky::computed_moon_vector(terrestrial), precise).altitude.value;
}

int measure() {
    const auto zone = *geo::find_time_zone("UTC");
    const auto places = draw_places();
    const CivilDate first = *geo::parse_date("2027-05-14");

    std::size_t found = 0;
    const auto all = [&] {
        for (const Coordinate& place : places)
            found += windows_of(place, first, zone);
    };
    // A thread of its own has no places of sun and moon yet.
    double cold = 0.0;
    std::thread([&] { cold = milliseconds_of(all); }).join();
    all();
    constexpr int rounds = 20;
    std::vector<double> warm;
    for (int round = 0; round < rounds; ++round)
        warm.push_back(milliseconds_of(all));
    std::sort(warm.begin(), warm.end());
    std::printf("%d days x %d places, %zu names, %zu windows a round\n", days, places_asked, geo::light_names().size(),
                found / (rounds + 2));
    std::printf("  all windows: %.1f ms from nothing, %.1f ms (median) with sun and moon known\n", cold,
                warm[warm.size() / 2]);

    // The plain way needs each minute of each day and of half a day either side; every 97th is enough to time.
    const geo::sky::Observer observer(places[0], sea_level);
    constexpr int minutes = (days + 1) * 1440;
    int looks = 0;
    double sum = 0.0;
    const double sampled = milliseconds_of([&] {
        for (int minute = 0; minute < minutes; minute += 97, ++looks)
            sum += computed_look(observer, Instant{std::chrono::sys_days{first}} + std::chrono::minutes{minute});
    });
    const double each = sampled / looks;
    const double plain = each * minutes * places_asked;
    std::printf("  plain: %.0f us a look at sun and moon (%d timed, sum %.3f), %.0f ms for every minute: %.0f x from "
                "nothing, %.0f x after; %.0f x from nothing if all places shared each minute's look\n",
                each * 1000.0, looks, sum, plain, plain / cold, plain / warm[warm.size() / 2],
                plain / places_asked / cold);

    // One look interpolated, same instants.
    double fast_sum = 0.0;
    const double fast = milliseconds_of([&] {
        for (int minute = 0; minute < minutes; ++minute) {
            const auto when = geo::sky::precise(Instant{std::chrono::sys_days{first}} + std::chrono::minutes{minute});
            fast_sum += observer.view(geo::sky::sun_vector(when), when).altitude.value +
                        observer.view(geo::sky::moon_vector(when), when).altitude.value;
        }
    });
    std::printf("  interpolated: %.2f us a look (sum %.3f)\n", fast / minutes * 1000.0, fast_sum);
    return 0;
}

} // namespace

int main() {
    try {
        return measure();
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
}
