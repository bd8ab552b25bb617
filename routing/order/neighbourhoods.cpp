#include "routing/order/neighbourhoods.hpp"

#include "routing/order/unfold.hpp"

#include <algorithm>
#include <bit>

namespace routing::order {
namespace {

constexpr std::uint32_t most_free = 26;  ///< visits set free at once, unless the days hold more
constexpr std::uint32_t least_extra = 6; ///< dropped ones among them, at least, if there are
constexpr std::size_t first_width = 64;
constexpr std::size_t width_growth = 4;
constexpr std::uint64_t first_labels = 60'000; ///< a part, the first time round
constexpr std::uint32_t most_effort = 7;

VisitSet bit(std::uint32_t visit) {
    return VisitSet{1} << visit;
}

std::uint64_t mix(std::uint64_t x) {
    // Finalizer of splitmix64 (Sebastiano Vigna, public domain).
    x = (x ^ (x >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    x = (x ^ (x >> 27U)) * 0x94D049BB133111EBULL;
    return x ^ (x >> 31U);
}

/// Parts alike in all a search looks at, days and visits aside, have equal ones.
std::uint64_t fingerprint(const Part& part, const Standing& standing) {
    std::uint64_t print = 0;
    const auto add = [&](auto value) {
        print = mix(print + static_cast<std::uint64_t>(value) + 0x9E3779B97F4A7C15ULL);
    };
    add(standing.value);
    add(standing.cost);
    for (const PartDay& day : part.days) {
        add(day.place);
        add(day.ready);
        add(day.done);
        add(day.required);
        add(day.deadline);
        for (const Time onward : day.onward)
            add(onward);
    }
    return print;
}

} // namespace

Score score_of(const Problem& problem, const TimedOrder& timed) {
    Score score;
    for (const Stop& stop : timed.stops)
        if (stop.kind == StopKind::visit) {
            score.must_weight += problem.visits[stop.index].must_weight;
            score.worth += problem.visits[stop.index].worth;
        }
    score.meals = -static_cast<std::int64_t>(timed.missed_meals.size());
    score.economy = -timed.travel;
    score.last = -timed.wrap;
    if (problem.economy == Economy::wrap)
        std::swap(score.economy, score.last);
    return score;
}

Improver::Improver(const Instance& instance, Detours& detours, const SearchLimits& limits, std::uint64_t seed)
    : instance_(instance), problem_(*instance.problem), detours_(detours), limits_(limits), random_(seed) {}

std::uint64_t Improver::next_random() {
    random_ += 0x9E3779B97F4A7C15ULL;
    return mix(random_);
}

bool Improver::is_stopped() const {
    return labels_ >= limits_.labels || (limits_.deadline && std::chrono::steady_clock::now() >= *limits_.deadline);
}

void Improver::offer(const std::vector<Stop>& stops) {
    take(stops);
}

/// Keeps the plan with these stops if it keeps the rules and is the best.
bool Improver::take(std::vector<Stop> stops) {
    std::optional<TimedOrder> timed = time_order(problem_, stops);
    if (!timed)
        return false;
    const Score score = score_of(problem_, *timed);
    if (best_ && score <= score_)
        return false;
    best_ = std::move(timed);
    score_ = score;
    describe();
    return true;
}

/// What the parts need to know about the plan in hand.
void Improver::describe() {
    days_.assign(instance_.days.size(), {});
    std::vector<Time> travel(days_.size(), 0);
    const std::vector<Stop>& stops = best_->stops;
    for (std::size_t i = 0; i < stops.size(); ++i) {
        DayState& day = days_[stops[i].day];
        if (day.count++ == 0)
            day.first = i;
        if (stops[i].kind == StopKind::visit) {
            day.done |= bit(stops[i].index);
            day.standing.value += instance_.value[stops[i].index];
        }
        travel[stops[i].day] += stops[i].travel_in;
    }
    for (const auto& [day, meal] : best_->missed_meals)
        days_[day].standing.value -= missed_meal_unit;
    Time rested = instance_.days.front().earliest_call;
    for (std::size_t d = 0; d < days_.size(); ++d) {
        DayState& day = days_[d];
        const DayPlan& plan = instance_.days[d];
        day.ready = plan.running ? plan.earliest_call : std::max(plan.earliest_call, rested);
        day.off = day.count == 0 || (day.count == 2 && stops[day.first].point == stops[day.first + 1].point);
        rested = day.ready;
        if (!day.off) {
            const Time wrap = since(instance_.origin, stops[day.first + day.count - 1].arrive);
            day.call = since(instance_.origin, stops[day.first].leave) - plan.pack_at_start;
            day.standing.cost = pack_cost(instance_, travel[d], wrap - plan.earliest_call);
            rested = wrap + problem_.turnaround.count();
        }
        day.rested = rested;
    }
}

void Improver::plan_day_by_day() {
    std::vector<Stop> stops;
    PartDay start{.day = 0, .place = instance_.first_start, .ready = instance_.days.front().earliest_call};
    const Part all = whole(instance_);
    for (std::uint32_t d = 0; d < instance_.days.size(); ++d) {
        start.day = d;
        const Part part{all.free & ~start.done, {start}};
        SearchLimits limits = limits_;
        limits.labels = std::min(limits_.labels, 8 * first_labels);
        Search search(instance_, detours_, part, limits);
        search.run_idle();
        search.run(first_width, Ranking::ready);
        search.run(first_width, Ranking::cost);
        labels_ += search.labels();
        if (!search.best())
            return;
        const Plan& plan = *search.best();
        for (Stop& stop : unfold(instance_, part, plan.moves))
            stops.push_back(stop);
        if (d + 1 == instance_.days.size())
            break;
        const DayPlan& next = instance_.days[d + 1];
        start.place = plan.place;
        start.ready = next.running ? next.earliest_call : std::max(next.earliest_call, plan.ready);
        start.done = plan.done;
    }
    take(std::move(stops));
}

void Improver::improve() {
    if (!best_)
        return;
    for (std::uint32_t effort = 0; effort <= most_effort && !is_stopped();) {
        bool helped = false;
        for (const Days days : neighbourhoods(effort)) {
            if (is_stopped())
                return;
            helped = try_days(days, effort) || helped;
        }
        if (!helped)
            ++effort;
    }
}

/// Single days, then neighbours; with more effort any two, then any three.
std::vector<Improver::Days> Improver::neighbourhoods(std::uint32_t effort) const {
    const auto count = static_cast<std::uint32_t>(instance_.days.size());
    std::vector<Days> found;
    for (std::uint32_t d = 0; d < count; ++d)
        found.push_back(1U << d);
    for (std::uint32_t gap = 1; gap < count && (gap == 1 || effort > 0); ++gap)
        for (std::uint32_t d = 0; d + gap < count; ++d)
            found.push_back(1U << d | 1U << (d + gap));
    for (std::uint32_t d = 0; d + 2 < count && effort > 1; ++d)
        found.push_back(7U << d);
    return found;
}

bool Improver::try_days(Days days, std::uint32_t effort) {
    const VisitSet free = choose_free(days, effort);
    const Part part = make_part(days, free);
    const Standing standing = standing_of(part);
    const std::uint64_t print = fingerprint(part, standing);
    const auto [tried, is_new] = tried_.try_emplace({days, free}, print);
    if (!is_new && tried->second == print)
        return false;
    tried_.erase(tried);
    SearchLimits limits = limits_;
    limits.labels = std::min(limits_.labels - labels_, first_labels << (2 * effort));
    Search search(instance_, detours_, part, limits);
    search.beat(standing);
    bool complete = search.run(first_width, Ranking::ready).complete;
    Ranking ranking = Ranking::cost;
    for (std::size_t width = first_width; !complete && !search.is_stopped(); width *= width_growth) {
        complete = search.run(width, ranking).complete;
        ranking = ranking == Ranking::ready ? Ranking::cost : Ranking::ready;
    }
    labels_ += search.labels() + 1; // a search that ends at once counts too: so improving comes to an end
    if (search.best() && splice(part, search.best()->moves))
        return true;
    if (complete)
        tried_.emplace(std::pair(days, free), print);
    return false;
}

/// The visits of the days and, of those dropped, as many as there is room for: musts first, then by worth and chance.
VisitSet Improver::choose_free(Days days, std::uint32_t effort) {
    VisitSet done = 0;
    VisitSet elsewhere = 0;
    VisitSet possible = 0;
    for (std::uint32_t d = 0; d < days_.size(); ++d) {
        (days >> d & 1U ? done : elsewhere) |= days_[d].done;
        if (days >> d & 1U)
            possible |= instance_.days[d].possible;
    }
    struct Candidate {
        std::int64_t must;
        std::uint64_t rank;
        std::uint32_t visit;
        auto operator<=>(const Candidate&) const = default;
    };
    std::vector<Candidate> candidates;
    for (std::uint32_t v = 0; v < instance_.visits; ++v) {
        if (!(possible & ~done & ~elsewhere & instance_.valued & bit(v)))
            continue;
        const auto worth = static_cast<std::uint64_t>(problem_.visits[v].worth);
        const std::uint64_t chance = effort == 0 ? 128 : 32 + next_random() % 224;
        candidates.push_back({problem_.visits[v].must_weight, worth * chance, v});
    }
    std::sort(candidates.begin(), candidates.end(), std::greater<>());
    const auto own = static_cast<std::uint32_t>(std::popcount(done));
    const std::size_t extra = std::max(least_extra, most_free - std::min(most_free, own));
    for (std::size_t i = 0; i < candidates.size() && i < extra; ++i)
        done |= bit(candidates[i].visit);
    return done;
}

Part Improver::make_part(Days days, VisitSet free) const {
    Part part{free, {}};
    VisitSet fixed = 0;
    for (std::uint32_t d = 0; d < days_.size(); ++d) {
        if (!(days >> d & 1U)) {
            fixed |= days_[d].done;
            continue;
        }
        PartDay today{.day = d, .done = fixed};
        today.place = d == 0 ? instance_.first_start : place_after(d - 1);
        today.ready = days_[d].ready;
        today.carries_on = days >> d >> 1U & 1U;
        if (!today.carries_on) {
            const Days later = days & ~((2U << d) - 1U);
            fix_night(today,
                      later == 0 ? static_cast<std::uint32_t>(days_.size())
                                 : static_cast<std::uint32_t>(std::countr_zero(later)),
                      free);
        }
        part.days.push_back(std::move(today));
    }
    return part;
}

/// The place the day after `day` starts at, as planned.
std::uint32_t Improver::place_after(std::uint32_t day) const {
    if (!instance_.days[day].carries)
        return instance_.days[day].fixed_start;
    const DayState& state = days_[day];
    if (state.count == 0)
        return instance_.nowhere;
    return instance_.start_place[best_->stops[state.first + state.count - 1].point];
}

/// What the days after an open one, up to the next open one, ask of its night.
void Improver::fix_night(PartDay& today, std::uint32_t next_part_day, VisitSet free) const {
    for (std::uint32_t d = today.day + 1; d < next_part_day; ++d)
        for (VisitSet rest = days_[d].done; rest != 0; rest &= rest - 1)
            today.required |= instance_.before[static_cast<std::size_t>(std::countr_zero(rest))] & free;
    const std::uint32_t tomorrow = today.day + 1;
    if (tomorrow == days_.size())
        return;
    std::uint32_t next = tomorrow; // at work
    while (next < days_.size() && days_[next].off)
        ++next;
    const bool works = next < days_.size() && !instance_.days[next].running;
    if (works)
        today.deadline = days_[next].call;
    if (!instance_.days[today.day].carries)
        return;
    const std::uint32_t planned = place_after(today.day);
    today.onward.assign(instance_.places.size(), no_way);
    today.onward[planned] = 0;
    if (!works || next != tomorrow || days_[next].count == 2 || !instance_.varying.empty())
        return;
    const Stop& start = best_->stops[days_[next].first];
    const Stop& first = best_->stops[days_[next].first + 1];
    if (first.point == start.point || instance_.places[planned].nowhere)
        return;
    // Another bed will do if the crew is at the first stop no later than planned, and not called too early for it.
    const DayPlan& plan = instance_.days[next];
    today.deadline = since(instance_.origin, first.arrive) - plan.pack_at_start;
    const Time earliest = earliest_call(next);
    for (Point point = 0; point < instance_.start_place.size(); ++point) {
        const std::uint32_t place = instance_.start_place[point];
        if (place == Instance::no_place || point == first.point)
            continue;
        const Time onward = leg(problem_.travel, point, first.point);
        today.onward[place] = earliest + onward <= today.deadline ? onward : no_way;
    }
}

/// Called no earlier, a day of the plan keeps its limits that count from the call, and misses no meal more.
Time Improver::earliest_call(std::uint32_t day) const {
    const DayPlan& plan = instance_.days[day];
    Time earliest = plan.earliest_call;
    std::uint32_t open = (1U << plan.meals.size()) - 1U;
    for (std::size_t i = days_[day].first; i < days_[day].first + days_[day].count; ++i) {
        const Stop& stop = best_->stops[i];
        if (stop.kind != StopKind::meal)
            continue;
        open &= ~(1U << stop.index);
        if (const Time within = plan.meals[stop.index].within_of_call; within < no_limit)
            earliest = std::max(earliest, since(instance_.origin, stop.start) - within);
    }
    for (std::uint32_t m = 0; m < plan.meals.size(); ++m)
        if ((open >> m & 1U) && plan.meals[m].free_call <= days_[day].call)
            earliest = std::max(earliest, plan.meals[m].free_call);
    return earliest;
}

/// What the part has now, to be beaten.
Standing Improver::standing_of(const Part& part) const {
    Standing sum;
    for (const PartDay& today : part.days) {
        sum.value += days_[today.day].standing.value;
        sum.cost += days_[today.day].standing.cost;
        if (!today.carries_on && !today.onward.empty())
            sum.cost += pack_cost(instance_, today.onward[place_after(today.day)], 0);
    }
    return sum;
}

/// Puts the part's days into the plan, if that makes it better.
bool Improver::splice(const Part& part, const std::vector<Move>& moves) {
    const std::vector<Stop> fresh = unfold(instance_, part, moves);
    std::vector<Stop> stops;
    auto next = fresh.begin();
    std::size_t at = 0;
    for (std::uint32_t d = 0; d < days_.size(); ++d) {
        if (at < part.days.size() && part.days[at].day == d) {
            ++at;
            for (; next != fresh.end() && next->day == d; ++next)
                stops.push_back(*next);
            continue;
        }
        const std::size_t first = stops.size();
        const auto old = best_->stops.begin() + static_cast<std::ptrdiff_t>(days_[d].first);
        stops.insert(stops.end(), old, old + static_cast<std::ptrdiff_t>(days_[d].count));
        if (d > 0 && days_[d].count > 0 && instance_.days[d - 1].carries && first > 0)
            stops[first].point = stops[first - 1].point; // where the night is spent now
    }
    return take(std::move(stops));
}

} // namespace routing::order
