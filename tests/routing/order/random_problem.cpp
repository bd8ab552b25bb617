#include "random_problem.hpp"
#include "dice.hpp"

#include "routing/order/passages.hpp"

#include <algorithm>
#include <random>

namespace order_tests {

using namespace routing::order;

namespace {

constexpr Instant dawn{Seconds{1'800'000'000}};

TravelMatrix random_travel(Dice& dice, std::uint32_t points) {
    TravelMatrix travel{points, std::vector<std::int32_t>(std::size_t{points} * points)};
    const bool broken = dice.chance(30);
    std::vector<std::pair<int, int>> places;
    for (std::uint32_t p = 0; p < points; ++p)
        places.emplace_back(dice.roll(0, 8), dice.roll(0, 8));
    for (std::uint32_t a = 0; a < points; ++a)
        for (std::uint32_t b = 0; b < points; ++b) {
            const int distance =
                std::abs(places[a].first - places[b].first) + std::abs(places[a].second - places[b].second);
            std::int32_t& leg = travel.seconds[std::size_t{a} * points + b];
            leg = broken ? dice.roll(0, 14) : distance + dice.roll(0, 2);
            if (dice.chance(broken ? 8 : 2))
                leg = TravelMatrix::unreachable;
        }
    return travel;
}

std::vector<TimeWindow> random_windows(Dice& dice, const Family& family, Instant from, int length) {
    std::vector<TimeWindow> windows;
    const auto count = dice.roll(1, static_cast<int>(family.windows));
    int at = 0;
    for (int w = 0; w < count && at <= length; ++w) {
        const int opens = dice.roll(at, length);
        const int closes = dice.chance(15) ? opens : opens + dice.roll(0, family.window_length);
        windows.push_back({from + Seconds{opens}, from + Seconds{closes}});
        at = closes + dice.roll(0, 10);
    }
    return windows;
}

/// Hours for some of the candidates: none at all, one span or two, as long as the meal or not, often the same ones.
void add_hours(Dice& dice, Meal& meal, Instant from, int length) {
    std::vector<MealHours> known;
    for (const Point candidate : meal.candidates) {
        const bool twice = std::any_of(known.begin(), known.end(),
                                       [candidate](const MealHours& hours) { return hours.point == candidate; });
        if (twice || dice.chance(25))
            continue;
        MealHours hours{.point = candidate, .open = {}};
        int at = dice.roll(0, length / 2);
        for (auto spans = dice.roll(dice.chance(90) ? 1 : 0, 2); spans > 0; --spans) {
            const int closes = at + dice.roll(0, length / 3);
            hours.open.push_back({from + Seconds{at}, from + Seconds{closes}});
            at = closes + dice.roll(0, 10);
        }
        if (!known.empty() && dice.chance(30))
            hours.open = known.back().open;
        known.push_back(std::move(hours));
    }
    meal.hours = std::move(known);
}

Meal random_meal(Dice& dice, const Family& family, std::uint32_t points, Instant from, int opens, int closes) {
    Meal meal;
    meal.within = {from + Seconds{opens}, from + Seconds{closes}};
    meal.service = Seconds{dice.roll(0, 6)};
    meal.anywhere = family.carried_meals && dice.chance(50);
    const auto candidates = dice.roll(meal.anywhere ? 0 : 1, 3);
    for (int c = 0; c < candidates; ++c)
        meal.candidates.push_back(static_cast<Point>(dice.roll(0, static_cast<int>(points) - 1)));
    if (family.call_limits && dice.chance(60))
        meal.within_of_call = Seconds{dice.roll(0, 30)};
    if (family.meal_hours)
        add_hours(dice, meal, from, family.day_length);
    return meal;
}

/// Travel second by second from `from`: never less than `least`, and who leaves later arrives no earlier.
std::vector<std::int32_t> slow_hours(Dice& dice, std::int32_t least, int length) {
    std::vector<std::int32_t> seconds;
    std::int32_t now = least;
    for (int t = 0; t < length; ++t) {
        seconds.push_back(now);
        if (dice.chance(10))
            now += dice.roll(1, 8);
        else if (now > least && dice.chance(50))
            --now;
    }
    return seconds;
}

/// A road with a barrier shut for a time (or for good), and perhaps a way round it.
std::vector<Passage> shut_road(Dice& dice, std::int32_t least, Instant from, int length) {
    const Seconds to_barrier{dice.roll(0, least)};
    const Instant shut = from + Seconds{dice.roll(0, length)};
    const Instant open = shut + Seconds{dice.roll(1, 40)};
    std::vector<Passage> found;
    if (dice.chance(90))
        found.push_back({{Instant::min(), shut - to_barrier}, least});
    if (dice.chance(80))
        found.push_back({{open - to_barrier, Instant::max()}, least});
    if (dice.chance(60))
        found.push_back({{Instant::min(), Instant::max()}, least + dice.roll(0, 12)});
    return found;
}

std::vector<VaryingLeg> random_varying(Dice& dice, const TravelMatrix& travel, Instant from, int length) {
    std::vector<VaryingLeg> varying;
    const int share = dice.roll(5, 60);
    for (Point a = 0; a < travel.size; ++a)
        for (Point b = 0; b < travel.size; ++b) {
            if (a == b || travel(a, b) >= TravelMatrix::unreachable || !dice.chance(share))
                continue;
            const std::int32_t least = std::max(travel(a, b), 1);
            if (dice.chance(60)) {
                varying.push_back({a, b, shut_road(dice, least, from, length)});
                continue;
            }
            const std::vector<std::int32_t> seconds = slow_hours(dice, least, length + 1);
            const auto at = [&](Instant departure) {
                return seconds[static_cast<std::size_t>((departure - from).count())];
            };
            varying.push_back({a, b,
                               passages(at, {{from, from + Seconds{length}}}, {from, from + Seconds{length}},
                                        Seconds{dice.roll(1, 30)})});
        }
    return varying;
}

} // namespace

Problem random_problem(const Family& family, std::uint32_t seed) {
    Dice dice(seed);
    Problem problem;
    problem.economy = dice.chance(50) ? Economy::travel : Economy::wrap;
    const auto visits = dice.roll(static_cast<int>(family.visits_from), static_cast<int>(family.visits_to));
    const auto points = static_cast<std::uint32_t>(visits + 4);
    const auto any_point = [&] { return static_cast<Point>(dice.roll(0, static_cast<int>(points) - 1)); };
    problem.travel = random_travel(dice, points);
    problem.turnaround = Seconds{dice.roll(0, 25)};

    const int gap = 15; // between the days
    Instant from = dawn;
    for (std::uint32_t d = 0; d < family.days; ++d) {
        Day day;
        day.earliest_call = from;
        day.latest_wrap = from + Seconds{dice.roll(family.day_length / 2, family.day_length)};
        if (d == 0 ? !family.open_ends || dice.chance(60) : dice.chance(30))
            day.start = any_point();
        const auto ends = family.open_ends && dice.chance(40) ? 0 : family.days > 1 ? dice.roll(1, 3) : dice.roll(1, 2);
        for (int e = 0; e < ends; ++e)
            day.ends.push_back(any_point());
        int at = family.call_limits ? 0 : dice.roll(0, family.day_length / 3);
        for (std::uint32_t m = 0; m < family.meals && (m == 0 || dice.chance(60)); ++m) {
            const int closes = at + dice.roll(2, family.day_length / 2);
            day.meals.push_back(random_meal(dice, family, points, from, at, closes));
            at = dice.roll(at, closes);
        }
        if (d == 0 && family.running_day) {
            day.called_at = from - Seconds{dice.roll(0, 20)};
            day.set_up_at_start = day.start && dice.chance(70);
            if (day.set_up_at_start)
                day.pack_at_start = Seconds{dice.roll(0, 4)};
        }
        problem.days.push_back(std::move(day));
        from += Seconds{family.day_length + gap};
    }

    for (int v = 0; v < visits; ++v) {
        Visit visit;
        const auto options = dice.roll(1, static_cast<int>(family.options));
        for (int o = 0; o < options; ++o) {
            Option option;
            option.point = any_point();
            option.service = Seconds{dice.roll(0, 9)};
            option.setup = Seconds{dice.chance(50) ? dice.roll(0, 4) : 0};
            option.pack = Seconds{dice.chance(50) ? dice.roll(0, 4) : 0};
            const int length = static_cast<int>(family.days) * (family.day_length + gap) - gap;
            option.windows = random_windows(dice, family, dawn, length);
            visit.options.push_back(std::move(option));
        }
        if (dice.chance(40))
            visit.must_weight = dice.roll(1, 2);
        else
            visit.worth = dice.roll(0, 5);
        for (std::uint32_t before = 0; before < static_cast<std::uint32_t>(v); ++before)
            if (dice.chance(8))
                visit.after.push_back(before);
        problem.visits.push_back(std::move(visit));
    }
    if (family.varying)
        problem.varying = random_varying(dice, problem.travel, dawn, static_cast<int>((from - dawn).count()));
    return problem;
}

} // namespace order_tests
