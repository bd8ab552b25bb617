#include "both_judges.hpp"
#include "small_world.hpp"

#include "routing/roads/shortest_path.hpp"
#include "routing/shoot/planner.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <tuple>

using namespace routing::shoot;
using geo::Instant;
using geo::Seconds;
using std::chrono::minutes;

namespace {

int draw(std::mt19937& random, int low, int high) { // not std::uniform_int_distribution: its draws differ by library
    return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
}

/// 3 to 8 scenes by the clock with one or two windows, some musts, a lunch at the café, in the bag, or none.
Shoot random_shoot(std::mt19937& random) {
    Shoot shoot = small_world::empty_shoot();
    shoot.days[0].latest_wrap = std::chrono::hours{draw(random, 14, 20)};
    const int scenes = draw(random, 3, 8);
    for (int n = 0; n < scenes; ++n) {
        const bool must = draw(random, 0, 2) == 0;
        const int from = draw(random, 6, 16);
        small_world::add_scene(shoot, "s" + std::to_string(n), draw(random, 0, 30), 5 * draw(random, 3, 18),
                               small_world::clock(from, from + draw(random, 1, 3)), must,
                               must ? 0 : draw(random, 1, 100));
        if (draw(random, 0, 1) == 0) {
            const int again = draw(random, 8, 18);
            shoot.scenes.back().options[0].light.push_back(small_world::clock(again, again + 1));
        }
        shoot.locations.back().setup = minutes{5 * draw(random, 0, 3)};
        shoot.locations.back().pack = minutes{5 * draw(random, 0, 2)};
    }
    if (const int kind = draw(random, 0, 2); kind > 0) {
        const int from = draw(random, 10, 12);
        shoot.meals = {
            small_world::lunch(std::chrono::hours{from}, std::chrono::hours{from + draw(random, 2, 3)}, kind == 2)};
    }
    return shoot;
}

/// Musts, meals missed (negative), worth, travel (negative), wrap (negative): larger is better.
using Value = std::tuple<std::int64_t, std::int64_t, std::int64_t, std::int64_t, std::int64_t>;

/// Tries every order of every subset, and every place for the meal. Windows: the first that still fits, as nothing is
/// gained by waiting for a later one.
class BruteForce {
public:
    BruteForce(const Shoot& shoot, const Region& region) : shoot_(shoot) {
        add_point(region, shoot.base->at);
        for (const Location& location : shoot.locations)
            add_point(region, location.at);
        const auto cafe = std::find_if(region.places.begin(), region.places.end(), [](const auto& place) {
            return place.kind == routing::places::PlaceKind::cafe;
        });
        add_point(region, cafe->at);
        const std::vector<routing::roads::Milliseconds> times =
            routing::roads::travel_times(*region.network, road_, road_);
        for (std::size_t from = 0; from < road_.size(); ++from)
            for (std::size_t to = 0; to < road_.size(); ++to)
                travel_.push_back(
                    from == to ? 0 : walk_[from] + (times[from * road_.size() + to] + 999) / 1000 + walk_[to]);
        const auto day = shoot.days[0].date;
        open_ = geo::instant_of(day, shoot.days[0].earliest_call, shoot.zone);
        shut_ = geo::instant_of(day, shoot.days[0].latest_wrap, shoot.zone);
        for (const Scene& scene : shoot.scenes) {
            windows_.emplace_back();
            // Overlapping windows join: filming may run through both.
            geo::Intervals spans;
            for (const geo::LightRequest& light : scene.options[0].light) {
                const auto clock = std::get<geo::ClockRange>(light);
                spans.push_back(
                    {geo::instant_of(day, clock.from, shoot.zone), geo::instant_of(day, clock.until, shoot.zone)});
            }
            for (geo::Interval span : geo::join(spans)) {
                span.from = std::max(span.from, open_);
                span.until = std::min(span.until, shut_);
                if (span.from + scene.options[0].length <= span.until)
                    windows_.back().push_back({span.from, span.until - scene.options[0].length});
            }
        }
    }

    Value best() {
        used_.assign(shoot_.scenes.size(), false);
        extend(0, open_, 0, shoot_.meals.empty(), 0, 0, false, open_);
        // Called so late that the crew has eaten before: the first scenes may have to start later than they could.
        if (!shoot_.meals.empty())
            extend(0, std::max(open_, meal_from() + shoot_.meals[0].length), 0, true, 0, 0, false, open_);
        return best_;
    }

private:
    void add_point(const Region& region, geo::Coordinate at) {
        road_.push_back(*region.index.nearest(at, geo::Metres{1000.0}));
        const double straight = std::hypot((at.latitude.value - road_.back().at.latitude.value) * 110574.0,
                                           (at.longitude.value - road_.back().at.longitude.value) * 111319.5);
        walk_.push_back(straight < 30.0 ? 0 : static_cast<std::int64_t>(std::ceil(straight * 1.4 / (4.0 / 3.6))));
    }
    std::int64_t travel(std::size_t from, std::size_t to) const { return travel_[from * road_.size() + to]; }

    /// `here` was left ready at `ready`; `call` is when the crew left base, known after the first stop.
    void extend(std::size_t here, Instant ready, std::int64_t driven, bool fed, std::int64_t musts, std::int64_t worth,
                bool moved, Instant call) {
        finish(here, ready, driven, fed, musts, worth, moved, call);
        for (std::size_t scene = 0; scene < shoot_.scenes.size(); ++scene) {
            if (used_[scene])
                continue;
            const SceneOption& option = shoot_.scenes[scene].options[0];
            const Location& location = shoot_.locations[option.location];
            const std::int64_t leg = travel(here, scene + 1);
            const Instant set_up = ready + Seconds{leg} + location.setup;
            for (const auto& [earliest, latest] : windows_[scene]) {
                const Instant start = std::max(set_up, earliest);
                if (start > latest)
                    continue;
                used_[scene] = true;
                extend(scene + 1, start + option.length + location.pack, driven + leg, fed,
                       musts + (shoot_.scenes[scene].must ? 1 : 0),
                       worth + (shoot_.scenes[scene].must ? 0 : shoot_.scenes[scene].worth), true,
                       moved ? call : start - location.setup - Seconds{leg});
                used_[scene] = false;
                break;
            }
        }
        if (!fed && !shoot_.meals.empty()) {
            const MealWish& meal = shoot_.meals[0];
            const std::size_t where = meal.where == MealWhere::find ? road_.size() - 1 : here;
            const Instant start = std::max(ready + Seconds{travel(here, where)}, meal_from());
            if (start + meal.length <= meal_until())
                extend(where, start + meal.length, driven + travel(here, where), true, musts, worth, true,
                       moved ? call : start - Seconds{travel(here, where)});
        }
    }

    Instant meal_from() const { return geo::instant_of(shoot_.days[0].date, shoot_.meals[0].from, shoot_.zone); }
    Instant meal_until() const { return geo::instant_of(shoot_.days[0].date, shoot_.meals[0].until, shoot_.zone); }

    void finish(std::size_t here, Instant ready, std::int64_t driven, bool fed, std::int64_t musts, std::int64_t worth,
                bool moved, Instant call) {
        const std::int64_t leg = travel(here, 0);
        const Instant wrap = ready + Seconds{leg};
        if (wrap > shut_)
            return;
        std::int64_t missed = 0;
        if (!fed && moved) {
            const bool off_before = wrap + shoot_.meals[0].length <= meal_until();
            const bool off_after = meal_from() + shoot_.meals[0].length <= call;
            missed = off_before || off_after ? 0 : 1;
        }
        best_ = std::max(best_, Value{musts, -missed, worth, -(driven + leg), -(wrap - open_).count()});
    }

    const Shoot& shoot_;
    std::vector<routing::roads::RoadPoint> road_;
    std::vector<std::int64_t> walk_, travel_;
    std::vector<std::vector<std::pair<Instant, Instant>>> windows_;
    Instant open_, shut_;
    std::vector<bool> used_;
    Value best_{-1, 0, 0, 0, 0};
};

Value value_of(const Plan& plan, const Shoot& shoot) {
    std::int64_t musts = 0, worth = 0, missed = 0;
    for (const PlanStop& stop : plan.days[0].stops)
        for (const Scene& scene : shoot.scenes)
            if (stop.kind == PlanStopKind::scene && stop.id == scene.id) {
                musts += scene.must ? 1 : 0;
                worth += scene.must ? 0 : scene.worth;
            }
    for (const std::string& warning : plan.warnings)
        missed += warning.find("could not be fitted in") != std::string::npos ? 1 : 0;
    const PlanDay& day = plan.days[0];
    const Instant open = geo::instant_of(shoot.days[0].date, shoot.days[0].earliest_call, shoot.zone);
    const std::int64_t wrap = day.stops.empty() ? 0 : -(day.wrap - open).count();
    return {musts, -missed, worth, -(day.drive + day.walk).count(), wrap};
}

} // namespace

TEST_CASE("1,000 random small shoots are planned as well as trying everything, and every plan holds") {
    const Region region = small_world::load();
    std::mt19937 random(20270320);
    int dropped = 0, meals = 0;
    for (int n = 0; n < 1000; ++n) {
        const Shoot shoot = random_shoot(random);
        const Plan plan = plan_shoot(shoot, region, {});
        CAPTURE(n);
        CHECK(plan.proven);
        const Value ours = value_of(plan, shoot);
        const Value brute = BruteForce(shoot, region).best();
        CHECK(std::get<0>(ours) == std::get<0>(brute));
        CHECK(std::get<1>(ours) == std::get<1>(brute));
        CHECK(std::get<2>(ours) == std::get<2>(brute));
        CHECK(std::get<3>(ours) == std::get<3>(brute));
        CHECK(std::get<4>(ours) == std::get<4>(brute));
        for (const std::string& fault : faults_by_both(plan, shoot, region))
            FAIL_CHECK(fault);
        dropped += plan.dropped.empty() ? 0 : 1;
        meals += std::any_of(plan.days[0].stops.begin(), plan.days[0].stops.end(),
                             [](const PlanStop& stop) { return stop.kind == PlanStopKind::meal; });
    }
    // The draw is worth its name only if many shoots are tight and many have a meal.
    CHECK(dropped > 200);
    CHECK(meals > 200);
}
