#include "routing/order/worth_bound.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace routing::order {
namespace {

constexpr std::int64_t most_value = std::int64_t{1} << 30; ///< of all visits together, well below a missed meal
constexpr std::int64_t most_unit = 1000;                   ///< of one point of worth
constexpr std::uint64_t day_labels = 200'000;              ///< for a day; one not solved to the end still has its bound
constexpr std::uint32_t price_steps = 100;                 ///< for minutes
constexpr std::size_t first_width = 64;
constexpr std::size_t width_growth = 8;
constexpr std::uint32_t patience = 4; ///< steps without gain before they get shorter
constexpr double shortest_step = 0.02;
constexpr double momentum = 0.5; ///< of the last step, kept in the next

/// Whether no way is longer than one by way of a visit or a meal.
bool is_straight_shortest(const Instance& instance) {
    const Problem& problem = *instance.problem;
    if (!problem.varying.empty())
        return false;
    std::vector<bool> between(problem.travel.size, false);
    for (const Point point : instance.to_points)
        between[point] = true;
    for (const Day& day : problem.days)
        for (const Meal& meal : day.meals)
            for (const Point point : meal.candidates)
                between[point] = true;
    for (Point by = 0; by < problem.travel.size; ++by)
        for (Point from = 0; from < problem.travel.size && between[by]; ++from)
            for (Point to = 0; to < problem.travel.size; ++to)
                if (leg(problem.travel, from, to) > leg(problem.travel, from, by) + leg(problem.travel, by, to))
                    return false;
    return true;
}

class VisitPrices {
public:
    VisitPrices(const Instance& instance, Detours& detours, VisitSet done, const SearchLimits& limits)
        : instance_(instance), detours_(detours), limits_(limits), trims_(is_straight_shortest(instance)) {
        std::int64_t total = 1;
        for (const Visit& visit : instance.problem->visits)
            total += visit.worth;
        unit_ = std::clamp<std::int64_t>(most_value / 4 / total, 1, most_unit);
        dearest_ = most_value / (2 * std::max<std::int64_t>(1, instance.visits));
        for (const DayPlan& day : instance.days)
            paid_ |= day.possible;
        for (std::uint32_t v = 0; v < instance.visits; ++v)
            if (instance.problem->visits[v].must_weight == 0)
                paid_ &= ~(VisitSet{1} << v);
        // High ones make the first days easy.
        for (std::uint32_t v = 0; v < instance.visits; ++v)
            price_.push_back(paid_ >> v & 1U ? -std::min(dearest_, total * unit_ / (2 * instance.visits))
                                             : (done >> v & 1U ? most_of(v) * 6 / 10 : 0));
        push_.assign(instance.visits, 0);
    }

    WorthBound run(std::int64_t known) {
        const std::int64_t goal = known * unit_;
        std::int64_t least = INT64_MAX;
        std::vector<std::int64_t> best = price_;
        std::vector<int> best_taken;
        double reach = 0.7;
        std::uint32_t idle = 0;
        while (labels_ < limits_.labels && reach > shortest_step) {
            const std::int64_t bound = evaluate();
            if (stopped_)
                break;
            if (bound < least) {
                least = bound;
                best = price_;
                best_taken = taken_;
                idle = 0;
            } else if (++idle == patience) {
                reach /= 2;
                idle = 0;
                price_ = best;
                taken_ = best_taken;
                push_.assign(push_.size(), 0);
            }
            if (least < goal + unit_ || !step(reach * static_cast<double>(std::min(bound, 2 * least) - goal)))
                break;
        }
        return {least == INT64_MAX ? std::nullopt : std::optional(least / unit_), labels_};
    }

private:
    std::int64_t most_of(std::uint32_t v) const { return instance_.problem->visits[v].worth * unit_; }
    std::int64_t evaluate();
    Part day_alone(std::uint32_t day) const;
    bool step(double length);

    const Instance& instance_;
    Detours& detours_;
    const SearchLimits limits_;
    const bool trims_; ///< days may do without visits that bring nothing
    std::int64_t unit_ = 1;
    std::int64_t dearest_ = 0;
    VisitSet paid_ = 0;               ///< musts that can be done at all
    std::vector<std::int64_t> price_; ///< of each visit; of a must, less what it is paid
    std::vector<double> push_;        ///< where the price of each is going
    std::vector<int> taken_;          ///< by how many days
    std::uint64_t labels_ = 0;
    bool stopped_ = false;
};

/// The day with all that could be done on it, from wherever the night before may be spent.
Part VisitPrices::day_alone(std::uint32_t day) const {
    Part part;
    PartDay today{.day = day, .ready = instance_.days[day].earliest_call, .done = ~VisitSet{0}};
    if (const auto& start = instance_.problem->days[day].start) {
        today.place = instance_.start_place[*start];
    } else {
        today.place = instance_.first_start;
        for (std::uint32_t place = 0; place < instance_.places.size() && day > 0; ++place)
            if (instance_.places[place].start && !instance_.places[place].nowhere)
                today.other_places.push_back(place);
    }
    if (trims_) {
        // Without a visit between them two meals may not both be had: at most one that needs a place stays due.
        std::optional<std::uint32_t> kept;
        const std::vector<MealRule>& meals = instance_.days[day].meals;
        for (std::uint32_t m = 0; m < meals.size(); ++m)
            if (!meals[m].anywhere && (!kept || meals[m].service > meals[*kept].service))
                kept = m;
        for (std::uint32_t m = 0; m < meals.size(); ++m)
            if (!meals[m].anywhere && m != kept)
                today.waived = static_cast<std::uint8_t>(today.waived | 1U << m);
    }
    part.days.push_back(std::move(today));
    for (std::uint32_t v = 0; v < instance_.visits; ++v) {
        part.value.push_back(std::max<std::int64_t>(0, most_of(v) - price_[v]));
        if (part.value[v] > 0 || !trims_)
            part.free |= instance_.days[day].possible & VisitSet{1} << v;
    }
    return part;
}

std::int64_t VisitPrices::evaluate() {
    taken_.assign(instance_.visits, 0);
    std::int64_t sum = 0;
    for (const std::int64_t price : price_)
        sum += price;
    for (std::uint32_t day = 0; day < instance_.days.size(); ++day) {
        SearchLimits limits = limits_;
        limits.labels = day_labels;
        Search search(instance_, detours_, day_alone(day), limits);
        search.beat({0, 0});
        std::int64_t missed = INT64_MAX;
        bool complete = false;
        for (std::size_t width = first_width; !complete && !search.is_stopped(); width *= width_growth) {
            const RunResult run = search.run(width, Ranking::ready);
            complete = run.complete;
            if (!complete && width == first_width)
                search.price_minutes(price_steps, search.best() ? search.best()->standing.value : 0);
            if (!complete)
                missed = std::min(missed, run.missed->value);
        }
        labels_ += search.labels() + 1;
        if (limits_.deadline && std::chrono::steady_clock::now() >= *limits_.deadline)
            stopped_ = true;
        const std::int64_t found = search.best() ? search.best()->standing.value : 0;
        sum += complete ? found : std::max(found, missed);
        if (search.best())
            for (const Move& move : search.best()->moves)
                if (move.step < end_step)
                    ++taken_[instance_.ways[move.step].visit];
    }
    return sum;
}

/// Along the subgradient, so far that the bound would fall by `length` if nothing else changed; false if there is none.
bool VisitPrices::step(double length) {
    const auto most = [&](std::uint32_t v) { return most_of(v); };
    const auto least = [&](std::uint32_t v) { return paid_ >> v & 1U ? most(v) - dearest_ : std::int64_t{0}; };
    double square = 0;
    for (std::uint32_t v = 0; v < instance_.visits; ++v) {
        push_[v] = momentum * push_[v] + taken_[v] - 1;
        if ((push_[v] > 0 && price_[v] >= most(v)) || (push_[v] < 0 && price_[v] <= least(v)))
            push_[v] = 0;
        square += push_[v] * push_[v];
    }
    if (square == 0)
        return false;
    for (std::uint32_t v = 0; v < instance_.visits; ++v)
        price_[v] = std::clamp<std::int64_t>(price_[v] + std::llround(length / square * push_[v]), least(v), most(v));
    return true;
}

} // namespace

WorthBound bound_worth(const Instance& instance, Detours& detours, VisitSet done, const SearchLimits& limits) {
    std::int64_t known = 0;
    for (std::uint32_t v = 0; v < instance.visits; ++v)
        known += done >> v & 1U ? instance.problem->visits[v].worth : 0;
    return VisitPrices(instance, detours, done, limits).run(known);
}

} // namespace routing::order
