#include "routing/order/neighbourhoods.hpp"

#include "routing/order/unfold.hpp"

#include <algorithm>
#include <bit>
#include <functional>

namespace routing::order {
namespace {

constexpr std::uint32_t most_free = 26;   ///< visits set free on one day, dropped ones included
constexpr std::uint32_t extra_visits = 3; ///< dropped ones set free on several days, and one more with each effort
constexpr std::size_t fewest_nights = 6;
constexpr std::size_t more_nights = 3; ///< with each effort
constexpr std::size_t first_width = 64;
constexpr std::size_t width_growth = 4;
constexpr std::uint64_t first_labels = 60'000;   ///< for a part; four times as many with each effort
constexpr std::uint64_t plan_labels = 480'000;   ///< for a first plan, or a day of it
constexpr std::uint64_t must_labels = 4'000'000; ///< for a plan of the musts, if they are hard to fit
constexpr std::uint32_t most_effort = 1;         ///< before chance has a say
constexpr std::uint32_t most_idle_kicks = 100;   ///< one after another that change nothing

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

Improver::Improver(const Instance& instance, Detours& detours, const SearchLimits& limits, std::uint64_t seed)
    : instance_(instance), problem_(*instance.problem), detours_(detours), limits_(limits), random_(seed) {}

std::uint64_t Improver::next_random() {
    random_ += 0x9E3779B97F4A7C15ULL;
    return mix(random_);
}

bool Improver::is_stopped() const {
    return labels_ >= limits_.labels || (limits_.deadline && std::chrono::steady_clock::now() >= *limits_.deadline);
}

/// For one part of it all.
SearchLimits Improver::at_most(std::uint64_t labels) const {
    SearchLimits limits = limits_;
    limits.labels = std::min(limits_.labels - std::min(labels_, limits_.labels), labels);
    return limits;
}

/// Keeps the plan with these stops if it keeps the rules and is better than the one in hand.
bool Improver::take(const std::vector<Stop>& stops) {
    std::optional<TimedOrder> timed = time_order(problem_, stops);
    if (!timed || (plan_ && score_of(problem_, *timed) <= plan_->score()))
        return false;
    plan_.emplace(instance_, std::move(*timed));
    return true;
}

void Improver::plan_day_by_day() {
    std::vector<Stop> stops;
    PartDay start{.day = 0, .place = instance_.first_start, .ready = instance_.days.front().earliest_call};
    const VisitSet all = whole(instance_).free;
    for (std::uint32_t d = 0; d < instance_.days.size(); ++d) {
        start.day = d;
        Search search(instance_, detours_, {all & ~start.done, {start}}, at_most(plan_labels));
        search.run_idle();
        search.run(first_width, Ranking::ready);
        search.run(first_width, Ranking::cost);
        labels_ += search.labels();
        if (!search.best())
            return;
        const Plan& plan = *search.best();
        const std::vector<Stop> today = unfold(instance_, search.part(), plan.moves);
        stops.insert(stops.end(), today.begin(), today.end());
        if (d + 1 == instance_.days.size())
            break;
        const DayPlan& next = instance_.days[d + 1];
        start.place = plan.place;
        start.ready = next.running ? next.earliest_call : std::max(next.earliest_call, plan.ready);
        start.done = plan.done;
    }
    take(stops);
}

void Improver::plan_musts() {
    Part part = whole(instance_);
    part.free = 0;
    for (std::uint32_t v = 0; v < instance_.visits; ++v)
        if (problem_.visits[v].must_weight > 0)
            part.free |= bit(v) | instance_.before[v];
    choose_nights(instance_, part, fewest_nights, nullptr);
    std::int64_t all = 0;
    for (std::uint32_t v = 0; v < instance_.visits; ++v)
        all += problem_.visits[v].must_weight * must_unit;
    Search search(instance_, detours_, std::move(part), at_most(must_labels));
    bool complete = search.run(first_width, Ranking::ready).complete;
    for (std::size_t width = first_width * width_growth; !complete && !search.is_stopped(); width *= width_growth) {
        if (search.best() && search.best()->standing.value >= all)
            break; // where is not so important: it will be made better
        complete = search.run(width, Ranking::ready).complete;
    }
    labels_ += search.labels();
    if (search.best())
        take(unfold(instance_, search.part(), search.best()->moves));
}

/// Beams of growing width; true when the last has cut nothing.
bool Improver::search_part(Search& search) {
    bool complete = search.run(first_width, Ranking::ready).complete;
    Ranking ranking = Ranking::cost;
    for (std::size_t width = first_width; !complete && !search.is_stopped(); width *= width_growth) {
        complete = search.run(width, ranking).complete;
        ranking = ranking == Ranking::ready ? Ranking::cost : Ranking::ready;
    }
    return complete;
}

void Improver::improve() {
    if (!started_) {
        started_ = true;
        plan_musts();
        plan_day_by_day();
    }
    if (!plan_)
        return;
    climb(most_effort);
    for (std::uint32_t idle = 0; idle < most_idle_kicks && !is_stopped(); ++idle) {
        const HeldPlan best = *plan_;
        if (kick()) {
            climb(0);
            idle = 0;
        }
        if (plan_->score() <= best.score())
            plan_ = best;
    }
}

/// Rounds over the neighbourhoods until none helps.
void Improver::climb(std::uint32_t most) {
    for (std::uint32_t effort = 0; effort <= most;) {
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

/// Single days, then neighbours; with more effort any two, then any three in a row.
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
    Part part = plan_->part_of(days, free);
    choose_nights(instance_, part, fewest_nights + more_nights * effort, &*plan_);
    const Standing standing = plan_->standing_of(part);
    const std::uint64_t print = fingerprint(part, standing);
    const auto tried = tried_.find({days, free});
    if (tried != tried_.end() && tried->second == print)
        return false;
    Search search(instance_, detours_, std::move(part), at_most(first_labels << (2 * effort)));
    search.beat(standing);
    const bool complete = search_part(search);
    labels_ += search.labels() + 1; // a search that ends at once counts too: so improving comes to an end
    if (search.best() && take(plan_->with(search.part(), unfold(instance_, search.part(), search.best()->moves))))
        return true;
    if (complete)
        tried_[{days, free}] = print;
    return false;
}

/// Plans two days afresh, without some of their wishes and with some dropped ones: worse, perhaps, but elsewhere.
bool Improver::kick() {
    const auto count = static_cast<std::uint32_t>(instance_.days.size());
    const auto first = static_cast<std::uint32_t>(next_random() % count);
    auto second = static_cast<std::uint32_t>(next_random() % (count - 1));
    second += second >= first ? 1 : 0;
    const Days days = 1U << first | 1U << second;
    const Choice choice = choice_of(days);
    VisitSet free = 0;
    for (VisitSet rest = choice.done | choice.open; rest != 0; rest &= rest - 1) {
        const auto v = static_cast<std::uint32_t>(std::countr_zero(rest));
        const bool leave = next_random() % 3 == 0;
        if (choice.done & bit(v) ? problem_.visits[v].must_weight > 0 || !leave : leave)
            free |= bit(v);
    }
    if (free == choice.done)
        return false;
    Part part = plan_->part_of(days, free);
    choose_nights(instance_, part, fewest_nights, &*plan_);
    Search search(instance_, detours_, std::move(part), at_most(first_labels));
    search.run(first_width, Ranking::ready);
    search.run(first_width, Ranking::cost);
    labels_ += search.labels() + 1;
    if (!search.best())
        return false;
    const std::vector<Stop> stops = plan_->with(search.part(), unfold(instance_, search.part(), search.best()->moves));
    std::optional<TimedOrder> timed = time_order(problem_, stops);
    if (!timed)
        return false;
    plan_.emplace(instance_, std::move(*timed));
    return true;
}

/// What is done on the days, and what else could be.
Improver::Choice Improver::choice_of(Days days) const {
    Choice choice;
    VisitSet elsewhere = 0;
    for (std::uint32_t d = 0; d < instance_.days.size(); ++d) {
        (days >> d & 1U ? choice.done : elsewhere) |= plan_->done(d);
        if (days >> d & 1U)
            choice.open |= instance_.days[d].possible;
    }
    choice.open &= ~choice.done & ~elsewhere;
    return choice;
}

/// The visits of the days and, of those dropped, as many as there is room for: musts first, then by worth and chance.
VisitSet Improver::choose_free(Days days, std::uint32_t effort) {
    const Choice choice = choice_of(days);
    const bool one_day = std::has_single_bit(days);
    struct Candidate {
        std::int64_t must;
        std::uint64_t rank;
        std::uint32_t visit;
        auto operator<=>(const Candidate&) const = default;
    };
    std::vector<Candidate> candidates;
    for (VisitSet rest = choice.open & instance_.valued; rest != 0; rest &= rest - 1) {
        const auto v = static_cast<std::uint32_t>(std::countr_zero(rest));
        const auto worth = static_cast<std::uint64_t>(problem_.visits[v].worth);
        const std::uint64_t chance = one_day ? 1 : 32 + next_random() % 224;
        candidates.push_back({problem_.visits[v].must_weight, worth * chance, v});
    }
    std::sort(candidates.begin(), candidates.end(), std::greater<>());
    const auto own = static_cast<std::uint32_t>(std::popcount(choice.done));
    const std::uint32_t extra =
        one_day ? std::max(extra_visits, most_free - std::min(most_free, own)) : extra_visits + effort;
    VisitSet free = choice.done;
    for (std::size_t i = 0; i < candidates.size() && i < extra; ++i)
        free |= bit(candidates[i].visit) | (instance_.before[candidates[i].visit] & choice.open);
    return free;
}

} // namespace routing::order
