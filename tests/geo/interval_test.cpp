#include "geo/interval.hpp"

#include <doctest/doctest.h>

using geo::Instant;
using geo::Interval;
using geo::Intervals;
using geo::Seconds;

namespace {
Interval span(int from, int until) {
    return {Instant{Seconds{from}}, Instant{Seconds{until}}};
}
} // namespace

TEST_CASE("clipping keeps what lies inside, a single instant too") {
    const Intervals list{span(0, 10), span(20, 30), span(40, 50)};
    CHECK(geo::clip(list, span(5, 20)) == Intervals{span(5, 10), span(20, 20)});
    CHECK(geo::clip(list, span(11, 19)).empty());
}

TEST_CASE("intersecting two lists gives what lies in both") {
    CHECK(geo::intersect({span(0, 10), span(20, 30)}, {span(5, 25)}) == Intervals{span(5, 10), span(20, 25)});
}

TEST_CASE("taking spans out of others leaves what lies outside them") {
    const Intervals list{span(0, 10), span(20, 30)};
    CHECK(geo::without(list, {}) == list);
    CHECK(geo::without(list, {span(-5, 2), span(4, 6), span(9, 22), span(30, 40)}) ==
          Intervals{span(2, 4), span(6, 9), span(22, 30)});
    CHECK(geo::without(list, {span(0, 30)}).empty());
    CHECK(geo::without({span(5, 5)}, {}).empty());
}

TEST_CASE("joining merges overlapping and touching spans in any order") {
    CHECK(geo::join({span(20, 30), span(0, 10), span(10, 12), span(25, 28)}) == Intervals{span(0, 12), span(20, 30)});
}
