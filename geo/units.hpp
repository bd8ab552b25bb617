#pragma once
/// Quantities that carry their unit in the type, so that a length can't be added to an angle.
///
///     geo::Metres gap = 120.0_m + 3.5_m;
///     geo::Degrees low = -4.0_deg;

#include <chrono>
#include <compare>

namespace geo {

/// A number in one unit; quantities of one unit add, scale and compare.
template <class Unit>
struct Quantity {
    double value = 0.0;

    friend constexpr auto operator<=>(Quantity, Quantity) = default;
    friend constexpr Quantity operator+(Quantity a, Quantity b) { return {a.value + b.value}; }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return {a.value - b.value}; }
    friend constexpr Quantity operator-(Quantity a) { return {-a.value}; }
    friend constexpr Quantity operator*(Quantity a, double factor) { return {a.value * factor}; }
    friend constexpr Quantity operator*(double factor, Quantity a) { return {factor * a.value}; }
    friend constexpr Quantity operator/(Quantity a, double divisor) { return {a.value / divisor}; }
    constexpr Quantity& operator+=(Quantity other) {
        value += other.value;
        return *this;
    }
};

using Metres = Quantity<struct MetreUnit>;
using Degrees = Quantity<struct DegreeUnit>;
using Tonnes = Quantity<struct TonneUnit>;
using KilometresPerHour = Quantity<struct KilometrePerHourUnit>;

/// Whole seconds: what plans are counted in.
using Seconds = std::chrono::seconds;
/// An instant in UTC.
using Instant = std::chrono::sys_seconds;

inline namespace literals {
constexpr Metres operator""_m(long double v) {
    return {static_cast<double>(v)};
}
constexpr Metres operator""_m(unsigned long long v) {
    return {static_cast<double>(v)};
}
constexpr Degrees operator""_deg(long double v) {
    return {static_cast<double>(v)};
}
constexpr Degrees operator""_deg(unsigned long long v) {
    return {static_cast<double>(v)};
}
constexpr KilometresPerHour operator""_kmh(long double v) {
    return {static_cast<double>(v)};
}
constexpr KilometresPerHour operator""_kmh(unsigned long long v) {
    return {static_cast<double>(v)};
}
} // namespace literals

} // namespace geo
