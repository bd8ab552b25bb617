#include "geo/sky/crossing_search.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using geo::sky::Crossing;
using geo::sky::PreciseInstant;
using geo::sky::PreciseSeconds;
using geo::sky::PreciseSpan;

namespace {

constexpr double day = 86400.0;

PreciseInstant at(double seconds) {
    return PreciseInstant{PreciseSeconds{1.8e9 + seconds}};
}

/// A day's wave whose top stands `height` above zero at `top`.
auto wave(double top, double height) {
    return [=](PreciseInstant when) {
        const double phase = 2.0 * 3.14159265358979 * ((when - at(top)).count()) / day;
        return 20.0 * (std::cos(phase) - 1.0) + height;
    };
}

} // namespace

TEST_CASE("a pair of crossings within an hour is found wherever it falls between the samples") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> top_time(0.0, 2.0 * day);
    for (int i = 0; i < 2000; ++i) {
        const double top = top_time(random);
        // Half the time above zero, from a second to an hour, and the height that makes it so.
        const double half = std::pow(10.0, std::uniform_real_distribution<double>(-0.3, 3.5)(random));
        const double height = 20.0 * (1.0 - std::cos(2.0 * 3.14159265358979 * half / day));
        const auto value = wave(top, height);
        CAPTURE(top);
        CAPTURE(half);
        const auto found = geo::sky::find_crossings(value, {at(top - 0.4 * day), at(top + 0.4 * day)});
        REQUIRE(found.size() == 2);
        CHECK(found[0].rising);
        CHECK(!found[1].rising);
        CHECK(std::abs((found[0].when - at(top - half)).count()) < 0.05);
        CHECK(std::abs((found[1].when - at(top + half)).count()) < 0.05);
        // Turned upside down the same pair is a dip below zero.
        const auto dip = geo::sky::find_crossings([&](PreciseInstant t) { return -value(t); },
                                                  {at(top - 0.4 * day), at(top + 0.4 * day)});
        REQUIRE(dip.size() == 2);
        CHECK(!dip[0].rising);
    }
}

TEST_CASE("a wave that stays just below zero has no crossing") {
    for (double top = 0.0; top < 3600.0; top += 97.0)
        CHECK(geo::sky::find_crossings(wave(top, -1e-6), {at(-day), at(day)}).empty());
}

TEST_CASE("crossings belong to the closed span, also when it is shorter than the step") {
    const auto line = [](PreciseInstant when) { return (when - at(1000.0)).count(); };
    CHECK(geo::sky::find_crossings(line, {at(1000.0), at(1000.0)}).size() == 1);
    CHECK(geo::sky::find_crossings(line, {at(0.0), at(999.0)}).empty());
    CHECK(geo::sky::find_crossings(line, {at(1001.0), at(1100.0)}).empty());
    const auto found = geo::sky::find_crossings(line, {at(990.0), at(1010.0)});
    REQUIRE(found.size() == 1);
    CHECK(found[0].rising);
}

TEST_CASE("turning points are the wave's tops and bottoms") {
    const auto turns = geo::sky::find_turning_points(wave(1234.5, 5.0), {at(-0.6 * day), at(1.2 * day)});
    REQUIRE(turns.size() == 4);
    for (int i = 0; i < 4; ++i)
        CHECK(std::abs((turns[static_cast<std::size_t>(i)] - at(1234.5 + (i - 1) * day / 2.0)).count()) < 1.0);
}
