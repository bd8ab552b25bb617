#include "routing/order/search.hpp"

#include "routing/order/label_clock.hpp"

#include <algorithm>
#include <bit>

namespace routing::order {
namespace {

constexpr std::uint32_t no_parent = 0xFFFF'FFFF;

VisitSet bit(std::uint32_t visit) {
    return VisitSet{1} << visit;
}

} // namespace

Search::Search(const Instance& instance, Detours& detours, Part part, const SearchLimits& limits)
    : instance_(instance), part_(std::move(part)), limits_(limits), bounds_(instance, part_), detours_(detours),
      later_(instance.days.size(), 0) {
    VisitSet later = 0;
    for (std::size_t i = part_.days.size(); i-- > 0;) {
        later_[part_.days[i].day] = later;
        later |= instance.days[part_.days[i].day].possible;
        required_ |= part_.days[i].required;
    }
}

void Search::set_limits(const SearchLimits& limits) {
    limits_ = limits;
    stopped_ = false;
}

void Search::run_idle() {
    limited_ = false;
    Label root;
    root.settled = ~VisitSet{0};
    run_from(root, 0, Ranking::ready);
    grown_ = 0;
}

RunResult Search::run(std::size_t width, Ranking ranking) {
    limited_ = true;
    Label root;
    root.settled = ~part_.free;
    run_from(root, width, ranking);
    return result_;
}

void Search::run_from(Label root, std::size_t width, Ranking ranking) {
    result_ = {true, std::nullopt, 0, 0};
    trails_.clear();
    root.parent = no_parent;
    root.place = static_cast<std::uint16_t>(part_.days.front().place);
    root.ready = narrow(part_.days.front().ready);
    root.done = part_.days.front().done;
    start_day(0, root);
    for (const std::uint32_t place : part_.days.front().other_places) {
        root.place = static_cast<std::uint16_t>(place);
        start_day(0, root);
    }

    for (at_ = 0; at_ < part_.days.size(); ++at_) {
        const std::uint32_t day = part_.days[at_].day;
        for (std::size_t settled = 0; settled < today_.size(); ++settled) {
            Layer& layer = today_[settled];
            for (const std::uint32_t i : choose(layer, day, width, ranking)) {
                const Label& label = layer.labels()[i];
                if (should_stop()) {
                    note_open(label, day);
                } else {
                    ++result_.extended;
                    extend(label, day);
                }
            }
            held_ -= layer.labels().size();
            layer.clear();
        }
        std::swap(today_, tomorrow_);
    }
}

bool Search::should_stop() {
    if (!limited_)
        return false;
    if (stopped_ || grown_ >= limits_.labels || held_ >= limits_.labels_held)
        return stopped_ = true;
    if (limits_.deadline && ++looked_at_ % 256 == 0)
        stopped_ = std::chrono::steady_clock::now() >= *limits_.deadline;
    return stopped_;
}

/// The living, not hopeless labels of a layer, at most `width` of them, in the order they came.
std::vector<std::uint32_t> Search::choose(const Layer& layer, std::uint32_t day, std::size_t width, Ranking ranking) {
    struct Ranked {
        std::int64_t value;
        std::int64_t first;
        std::int64_t second;
        std::uint32_t number;
        auto operator<=>(const Ranked&) const = default;
    };
    std::vector<Ranked> ranked;
    for (std::uint32_t i = 0; i < layer.labels().size(); ++i) {
        const Label& label = layer.labels()[i];
        if (!Layer::is_alive(label) || hopeless(label, day))
            continue;
        const std::int64_t ready = label.ready;
        const std::int64_t cost = label.standing.cost;
        const bool by_ready = ranking == Ranking::ready;
        ranked.push_back({-bounds_.value(label, day), by_ready ? ready : cost, by_ready ? cost : ready, i});
    }
    if (width > 0 && ranked.size() > width) {
        std::nth_element(ranked.begin(), ranked.begin() + static_cast<std::ptrdiff_t>(width), ranked.end());
        for (std::size_t i = width; i < ranked.size(); ++i)
            note_open(layer.labels()[ranked[i].number], day);
        result_.cut += ranked.size() - width;
        ranked.resize(width);
    }
    std::vector<std::uint32_t> chosen;
    for (const Ranked& label : ranked)
        chosen.push_back(label.number);
    std::sort(chosen.begin(), chosen.end());
    return chosen;
}

void Search::note_open(const Label& label, std::uint32_t day) {
    result_.complete = false;
    const std::int64_t value = bounds_.value(label, day);
    const Standing reach{value, bounds_.cost(label, day, value)};
    if (!result_.missed || better(reach, *result_.missed))
        result_.missed = reach;
}

bool Search::hopeless(const Label& label, std::uint32_t day) const {
    if (label.settled & ~label.done & required_)
        return true;
    if (!to_beat_)
        return false;
    const std::int64_t value = bounds_.value(label, day);
    if (value != to_beat_->value)
        return value < to_beat_->value;
    return bounds_.cost(label, day, value) >= to_beat_->cost;
}

void Search::insert(Layers& layers, const Label& label) {
    if (layers[static_cast<std::size_t>(std::popcount(label.settled))].insert(label))
        ++held_;
}

/// `label` is already at its place, ready for the earliest call the night allows.
void Search::start_day(std::size_t at, Label label) {
    const std::uint32_t day = part_.days[at].day;
    const DayPlan& plan = instance_.days[day];
    label.pending = static_cast<std::uint8_t>(((1U << plan.meals.size()) - 1U) & ~part_.days[at].waived);
    label.late = label.pending;
    label.next_meal = 0;
    label.busy = 0;
    label.latest_call = narrow(call_at(label.ready, plan.latest_wrap).latest_call);
    for (std::uint32_t m = 0; m < plan.meals.size(); ++m) {
        if (plan.meals[m].free_call <= label.ready)
            label.pending = static_cast<std::uint8_t>(label.pending & ~(1U << m));
        if (plan.meals[m].free_call > plan.latest_wrap)
            label.late = static_cast<std::uint8_t>(label.late & ~(1U << m));
    }
    label.late &= label.pending;
    forget_call(label, day);
    settle_unreachable(label, day);
    ++grown_;
    if (!hopeless(label, day))
        insert(at == 0 ? today_ : tomorrow_, label);
}

/// Marks visits that can't be started any more, today or later, and those that come after one of them.
void Search::settle_unreachable(Label& label, std::uint32_t day) const {
    const DayPlan& plan = instance_.days[day];
    const std::uint32_t n = instance_.visits;
    const std::int32_t* deadline = plan.deadline.data() + std::size_t{label.place} * n;
    VisitSet lost = label.settled & ~label.done;
    const VisitSet open = n == 64 ? ~label.settled : ~label.settled & (bit(n) - 1);
    for (VisitSet rest = open & ~later_[day]; rest != 0; rest &= rest - 1) {
        const auto v = static_cast<std::uint32_t>(std::countr_zero(rest));
        if (label.ready > deadline[v])
            lost |= bit(v);
    }
    for (VisitSet rest = open & ~lost; rest != 0; rest &= rest - 1) {
        const auto v = static_cast<std::uint32_t>(std::countr_zero(rest));
        if (instance_.before[v] & lost & ~label.done)
            lost |= bit(v);
    }
    label.settled |= lost;
}

/// Accounts for pending meals whose fate is decided.
void Search::settle_meals(Label& label, std::uint32_t day) const {
    const std::vector<MealRule>& meals = instance_.days[day].meals;
    const Time free = std::min<Time>(label.latest_call, Time{label.ready} - label.busy);
    for (std::uint32_t m = 0; m < meals.size(); ++m) {
        const auto meal = static_cast<std::uint8_t>(1U << m);
        if (label.late & meal) {
            if (meals[m].free_call <= free) {
                label.pending = static_cast<std::uint8_t>(label.pending & ~meal);
                label.late = static_cast<std::uint8_t>(label.late & ~meal);
            } else if (meals[m].free_call > label.latest_call) {
                label.late = static_cast<std::uint8_t>(label.late & ~meal);
            }
        }
        if ((label.pending & meal) && !(label.late & meal) && label.ready > meals[m].free_wrap) {
            label.pending = static_cast<std::uint8_t>(label.pending & ~meal);
            label.standing.value -= missed_meal_unit;
        }
    }
    while (label.next_meal < meals.size() && label.ready > meals[label.next_meal].latest_start)
        ++label.next_meal;
    forget_call(label, day);
}

/// Forgets how far the call may move when no limit asks for it any more: labels then compare by time alone.
void Search::forget_call(Label& label, std::uint32_t day) const {
    const std::vector<MealRule>& meals = instance_.days[day].meals;
    bool open = false;
    for (std::uint32_t m = label.next_meal; m < meals.size(); ++m)
        open = open || meals[m].within_of_call < no_limit;
    if (!open && label.late == 0) {
        label.busy = 0;
        label.latest_call = call_is_free;
    }
}

void Search::extend(const Label& label, std::uint32_t day) {
    const DayPlan& plan = instance_.days[day];
    const Place& place = instance_.places[label.place];
    trails_.push_back({{label.step, label.gap, label.via}, label.parent});

    here_.assign(plan.gaps.size(), clock_of(label));
    here_possible_.assign(plan.gaps.size(), true);
    for (std::size_t g = 0; g < plan.gaps.size(); ++g) {
        const Gap& gap = plan.gaps[g];
        spend(here_[g], packing(place, plan));
        bool possible = gap.first >= label.next_meal;
        for (std::uint32_t m = 0; m < plan.meals.size() && possible; ++m)
            possible = !(gap.here >> m & 1U) || take_meal(here_[g], plan.meals[m]);
        here_possible_[g] = possible;
    }
    for (std::size_t w = 0; w < instance_.ways.size(); ++w) {
        const Way& way = instance_.ways[w];
        const bool open = !(label.settled >> way.visit & 1U) && plan.first_window[w] < plan.first_window[w + 1] &&
                          (instance_.before[way.visit] & ~label.done) == 0;
        if (open)
            extend_to(label, day, way, w);
    }
    if (place.start)
        end_idle_day(label, day);
    else
        end_day(label, day);
}

void Search::extend_to(const Label& label, std::uint32_t day, const Way& way, std::size_t way_number) {
    const DayPlan& plan = instance_.days[day];
    const Place& place = instance_.places[label.place];
    const Time straight = instance_.leg_between(place.from, way.to);
    const auto step = static_cast<std::uint16_t>(way_number);

    DayClock clock = clock_of(label);
    const bool keep_set_up = (!place.start || plan.set_up_at_start) && !place.nowhere && place.point == way.point;
    if (!keep_set_up)
        spend(clock, packing(place, plan));
    const Departures* departures = instance_.departures_between(place.from, way.to);
    const auto go_straight = [&](const DayClock& leaving, Move move, bool set_up) {
        if (straight < no_way)
            take_leg(leaving, straight, departures, [&](const DayClock& there, Time travel) {
                arrive(label, day, there, way_number, travel, move, set_up);
            });
    };
    go_straight(clock, {step, no_gap, 0}, keep_set_up);
    for (std::uint32_t g = 0; g < plan.gaps.size(); ++g) {
        if (!here_possible_[g])
            continue;
        const Gap& gap = plan.gaps[g];
        const auto number = static_cast<std::uint16_t>(g);
        if (gap.there == 0) {
            go_straight(here_[g], {step, number, 0}, false);
            continue;
        }
        for (const Detour& detour : detours_.between(day, g, place, way.to))
            take_leg(here_[g], detour.there, detour.there_by, [&](DayClock& by_meal, Time there) {
                if (!take_meals(by_meal, gap, detour.hours, plan))
                    return;
                take_leg(by_meal, detour.onward, detour.onward_by, [&](const DayClock& arrived, Time onward) {
                    arrive(label, day, arrived, way_number, there + onward,
                           {step, number, static_cast<std::uint16_t>(detour.point)}, false);
                });
            });
    }
}

/// The crew has arrived for a visit: one label for each window worth starting in.
void Search::arrive(const Label& label, std::uint32_t day, DayClock clock, std::size_t way_number, Time travel,
                    Move move, bool keep_set_up) {
    const DayPlan& plan = instance_.days[day];
    const Way& way = instance_.ways[way_number];
    if (!keep_set_up)
        spend(clock, way.setup);
    for (std::uint32_t w = plan.first_window[way_number]; w < plan.first_window[way_number + 1]; ++w) {
        if (clock.ready > plan.windows[w].latest)
            continue;
        DayClock served = clock;
        start_within(served, plan.windows[w].earliest, plan.windows[w].latest);
        spend(served, way.service);

        Label grown = label;
        grown.parent = static_cast<std::uint32_t>(trails_.size() - 1);
        grown.done |= bit(way.visit);
        grown.settled |= bit(way.visit);
        grown.standing.value += bounds_.value_of(way.visit);
        grown.standing.cost += cost_of(travel, 0);
        grown.place = static_cast<std::uint16_t>(way.place);
        grown.step = move.step;
        grown.gap = move.gap;
        grown.via = move.via;
        grown.ready = narrow(served.ready);
        grown.busy = narrow(served.busy);
        grown.latest_call = narrow(served.latest_call);
        if (move.gap != no_gap) {
            const Gap& gap = plan.gaps[move.gap];
            grown.next_meal = static_cast<std::uint8_t>(gap.last + 1);
            grown.pending = static_cast<std::uint8_t>(grown.pending & ~(gap.here | gap.there));
            grown.late &= grown.pending;
        }
        settle_meals(grown, day);
        settle_unreachable(grown, day);
        ++grown_;
        if (!hopeless(grown, day))
            insert(today_, grown);
        // A later window can only help by leaving the call more room.
        if (clock.latest_call == no_limit || served.latest_call >= clock.latest_call)
            break;
    }
}

} // namespace routing::order
