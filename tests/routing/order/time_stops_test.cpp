#include "random_problem.hpp"
#include "routing/order/solve.hpp"

#include <doctest/doctest.h>

using namespace order_tests;
using namespace routing::order;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr Instant noon{Seconds{1'778'000'000}};

/// Three points in a row, ten minutes apart; two visits, one of them with two windows; a lunch at point 1 or carried.
Problem small_day() {
    Problem problem;
    problem.travel = {3, {0, 600, 1200, 600, 0, 600, 1200, 600, 0}};
    problem.visits = {{{{1, minutes{20}, minutes{5}, minutes{5}, {{noon, noon + minutes{30}}}}}, 1, 0, {}},
                      {{{2,
                         minutes{20},
                         minutes{5},
                         minutes{5},
                         {{noon + minutes{30}, noon + minutes{50}}, {noon + minutes{70}, noon + minutes{100}}}}},
                       1,
                       0,
                       {0}}};
    problem.days = {{noon - hours{1}, noon + hours{3}, 0, {0}, {}, {}}};
    problem.days[0].meals = {{{noon, noon + hours{2}}, minutes{30}, {}, {1}, true}};
    return problem;
}

Stop stop(StopKind kind, Point point, std::uint32_t index = 0) {
    Stop made;
    made.kind = kind;
    made.point = point;
    made.index = index;
    return made;
}

std::vector<Stop> small_order() {
    return {stop(StopKind::start, 0), stop(StopKind::visit, 1, 0), stop(StopKind::visit, 2, 1), stop(StopKind::meal, 2),
            stop(StopKind::end, 0)};
}

std::vector<Stop> stripped(std::vector<Stop> stops) {
    for (Stop& each : stops) {
        Stop bare = stop(each.kind, each.point, each.index);
        bare.day = each.day;
        bare.option = each.option;
        each = bare;
    }
    return stops;
}

} // namespace

TEST_CASE("an order is timed by earliest starts, and back from the latest") {
    std::vector<Stop> stops = small_order();
    REQUIRE(time_stops(small_day(), stops));
    // Called 15 minutes before noon; visit 0 noon to 12:20, packed 12:25; at point 2 at 12:35, set up 12:40.
    CHECK(stops[0].leave == noon - minutes{15});
    CHECK(stops[1].start == noon);
    CHECK(stops[2].arrive == noon + minutes{35});
    CHECK(stops[2].start == noon + minutes{40});
    CHECK(stops[2].leave == noon + minutes{65});
    CHECK(stops[3].end == noon + minutes{95});
    CHECK(stops[4].arrive == noon + minutes{115});
    // Visit 1 stays in its first window: start by 12:50, so leave point 1 by 12:35, ten minutes from now.
    CHECK(stops[1].leave_by == noon + minutes{35});
    CHECK(stops[1].slack == minutes{10});
    CHECK(stops[0].slack == minutes{10}); // visit 0 by 12:10
    CHECK(stops[2].leave_by == noon + minutes{90});
    CHECK(stops[3].leave_by == noon + minutes{160});
    CHECK(stops[4].slack == minutes{65});
}

TEST_CASE("a later window is taken when the first is over") {
    Problem problem = small_day();
    problem.visits[0].options[0].service = minutes{40};
    problem.days[0].meals[0].within.latest = noon + minutes{150};
    std::vector<Stop> stops = small_order();
    REQUIRE(time_stops(problem, stops));
    CHECK(stops[2].start == noon + minutes{70});
    CHECK(stops[2].leave_by == noon + minutes{120}); // the meal that follows is over by 14:30
    CHECK(stops[1].leave_by == noon + minutes{80});  // set up by 13:35, done and packed by 14:00
    CHECK(stops[1].slack == minutes{35});
}

TEST_CASE("orders that break a rule are refused and left alone") {
    const Problem problem = small_day();
    const auto refused = [&](auto&& spoil) {
        std::vector<Stop> stops = small_order();
        spoil(stops);
        const std::vector<Stop> before = stops;
        CHECK(!time_stops(problem, stops));
        CHECK(stops == before);
    };
    refused([](auto& stops) { std::swap(stops[1], stops[2]); }); // visit 1 comes after visit 0
    refused([](auto& stops) { stops.erase(stops.begin() + 1); });
    refused([](auto& stops) { stops[2].index = 0; });
    refused([](auto& stops) { stops[2].index = 2; });
    refused([](auto& stops) { stops[2].option = 1; });
    refused([](auto& stops) { stops[2].point = 1; });
    refused([](auto& stops) { stops[3].point = 0; });
    refused([](auto& stops) { stops[3].index = 1; });
    refused([](auto& stops) { stops[4].point = 1; });
    refused([](auto& stops) { stops[0].point = 1; });
    refused([](auto& stops) { stops.pop_back(); });
    refused([](auto& stops) { stops.erase(stops.begin()); });
    refused([](auto& stops) { stops[4].day = 1; });
    refused([](auto& stops) { stops.insert(stops.begin() + 3, stop(StopKind::meal, 1)); });
    refused([](auto& stops) { stops.clear(); });

    Problem late = problem;
    late.visits[0].options[0].service = minutes{80};
    std::vector<Stop> stops = small_order();
    CHECK(!time_stops(late, stops)); // both windows of visit 1 are over
}

TEST_CASE("a solution's own order gets the solution's times") {
    for (std::uint32_t seed = 1; seed <= 300; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem({.days = 1 + seed % 3,
                                                .meals = 2,
                                                .windows = 3,
                                                .call_limits = true,
                                                .carried_meals = true,
                                                .open_ends = seed % 2 == 0},
                                               seed);
        const Solution solution = solve(problem);
        if (!solution.found)
            continue;
        std::vector<Stop> stops = stripped(solution.stops);
        REQUIRE(time_stops(problem, stops));
        CHECK(stops == solution.stops);
    }
}
