#include "geo/units.hpp"

#include <doctest/doctest.h>

using namespace geo::literals;

namespace {
template <class A, class B>
concept addable = requires(A a, B b) {
    a + b;
};
} // namespace

TEST_CASE("quantities of one unit add and compare, of two units do not") {
    static_assert(addable<geo::Metres, geo::Metres>);
    static_assert(!addable<geo::Metres, geo::Degrees>);
    static_assert(!addable<geo::Metres, double>);
    CHECK(2_m + 3.5_m == 5.5_m);
    CHECK(-4_deg < 6_deg);
    CHECK(10_m / 4.0 == 2.5_m);
}
