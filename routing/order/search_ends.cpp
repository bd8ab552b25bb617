#include "routing/order/search.hpp"

#include "routing/order/label_clock.hpp"

#include <algorithm>
#include <bit>

namespace routing::order {
namespace {

constexpr std::uint32_t no_parent = 0xFFFF'FFFF;

} // namespace

void Search::end_day(const Label& label, std::uint32_t day) {
    const DayPlan& plan = instance_.days[day];
    const Place& place = instance_.places[label.place];
    DayClock clock = clock_of(label);
    spend(clock, packing(place, plan));
    const Time longest = longest_way_home(label, day);
    for (const EndWay& end : detours_.to_end(day, Detours::straight, place)) {
        if (end.onward > longest)
            break; // the rest is farther
        if (!may_sleep(end))
            continue;
        take_leg(clock, end.onward, end.onward_by,
                 [&](const DayClock& home, Time travel) { wrap(label, day, home, 0, end, no_gap, travel); });
    }
    for (std::uint32_t g = 0; g < plan.gaps.size(); ++g) {
        if (!here_possible_[g])
            continue;
        const Gap& gap = plan.gaps[g];
        for (const EndWay& end : detours_.to_end(day, gap.there == 0 ? Detours::straight : g, place)) {
            if (end.there + end.onward > longest)
                break;
            if (!may_sleep(end))
                continue;
            take_leg(here_[g], end.there, end.there_by, [&](DayClock& by_meal, Time there) {
                if (!take_meals(by_meal, gap, end.hours, plan))
                    return;
                take_leg(by_meal, end.onward, end.onward_by, [&](const DayClock& home, Time onward) {
                    wrap(label, day, home, gap.here | gap.there, end, static_cast<std::uint16_t>(g), there + onward);
                });
            });
        }
    }
}

/// The longest way from here to the day's end that may lead to something better than the plan in hand.
Time Search::longest_way_home(const Label& label, std::uint32_t day) const {
    if (!to_beat_)
        return no_way;
    if (!part_.value.empty())
        return label.standing.value > to_beat_->value ? no_way : -1;
    const std::int64_t value = bounds_.value(label, day);
    if (value != to_beat_->value)
        return value > to_beat_->value ? no_way : -1;
    const std::int64_t least = bounds_.cost_ending(label, day, value);
    return least < to_beat_->cost ? (to_beat_->cost - least - 1) / pack_cost(instance_, 1, 1) : -1;
}

void Search::wrap(const Label& label, std::uint32_t day, const DayClock& clock, std::uint32_t taken, const EndWay& end,
                  std::uint16_t gap, Time travel) {
    const DayPlan& plan = instance_.days[day];
    const std::uint32_t pending = label.pending & ~taken;
    wrap_up(clock, pending, label.late & pending, plan.meals, plan.latest_wrap, [&](const WrapUp& up) {
        Label night = label;
        night.parent = static_cast<std::uint32_t>(trails_.size() - 1);
        night.step = static_cast<std::uint16_t>(end_step + end.end);
        night.gap = gap;
        night.via = static_cast<std::uint16_t>(end.via);
        night.standing.value -= missed_meal_unit * std::popcount(up.missed);
        night.standing.cost += cost_of(travel, up.clock.ready - plan.earliest_call);
        end_night(night, end.next_start, up.clock.ready + instance_.problem->turnaround.count());
    });
}

/// A day without visits: stay, or go straight to an end.
void Search::end_idle_day(const Label& label, std::uint32_t day) {
    const DayPlan& plan = instance_.days[day];
    const Place& place = instance_.places[label.place];
    // Late as it may be, the latest wrap is kept where some end allows it; else the crew goes to the nearest.
    const std::vector<EndWay>& ways = detours_.to_end(day, Detours::straight, place);
    Time nearest = no_way;
    for (const EndWay& end : ways)
        nearest = std::min(nearest, end.onward);
    DayClock leaving{label.ready, label.ready};
    spend(leaving, plan.pack_at_start);
    for (const EndWay& end : ways) {
        if (!may_sleep(end))
            continue;
        if (end.onward == 0 && !end.onward_by) {
            end_idle_day(label, day, end, 0, std::nullopt);
            continue;
        }
        take_leg(leaving, end.onward, end.onward_by, [&](const DayClock& home, Time travel) {
            if (home.ready <= plan.latest_wrap || end.onward <= nearest)
                end_idle_day(label, day, end, travel, home.ready);
        });
    }
}

/// `wrap`: nothing on a day off.
void Search::end_idle_day(const Label& label, std::uint32_t day, const EndWay& end, Time travel,
                          std::optional<Time> wrap) {
    Label night = label;
    night.parent = static_cast<std::uint32_t>(trails_.size() - 1);
    night.step = static_cast<std::uint16_t>(end_step + end.end);
    night.gap = no_gap;
    night.via = 0;
    if (wrap)
        night.standing.cost += cost_of(travel, *wrap - instance_.days[day].earliest_call);
    end_night(night, end.next_start, wrap ? *wrap + instance_.problem->turnaround.count() : Time{label.ready});
}

/// `rested`: from when the turnaround allows a call.
void Search::end_night(Label night, std::uint32_t next_start, Time rested) {
    const PartDay& today = part_.days[at_];
    if (today.carries_on) {
        const DayPlan& next = instance_.days[today.day + 1];
        night.place = static_cast<std::uint16_t>(next_start);
        night.ready = narrow(next.running ? next.earliest_call : std::max(next.earliest_call, rested));
        return start_day(at_ + 1, night);
    }
    if (today.required & ~night.done)
        return;
    const Time onward = today.onward.empty() ? 0 : today.onward[next_start];
    if (onward >= no_way || rested + onward > today.deadline)
        return;
    night.standing.cost += cost_of(onward, 0);
    if (at_ + 1 == part_.days.size())
        return finish(night, next_start, rested);
    const PartDay& next = part_.days[at_ + 1];
    night.place = static_cast<std::uint16_t>(next.place);
    night.ready = narrow(next.ready);
    night.done |= next.done;
    start_day(at_ + 1, night);
}

void Search::finish(const Label& label, std::uint32_t place, Time rested) {
    if (to_beat_ && !better(label.standing, *to_beat_))
        return;
    to_beat_ = label.standing;
    Plan plan{label.standing, {{label.step, label.gap, label.via}}, place, rested, label.done};
    for (std::uint32_t trail = label.parent; trails_[trail].parent != no_parent; trail = trails_[trail].parent)
        plan.moves.push_back(trails_[trail].move);
    std::reverse(plan.moves.begin(), plan.moves.end());
    best_ = std::move(plan);
}

} // namespace routing::order
