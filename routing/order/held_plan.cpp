#include "routing/order/held_plan.hpp"

#include "routing/order/bounds.hpp"

#include <algorithm>
#include <bit>

namespace routing::order {

HeldPlan::HeldPlan(const Instance& instance, TimedOrder timed)
    : instance_(&instance), timed_(std::move(timed)), score_(score_of(*instance.problem, timed_)) {
    days_.assign(instance_->days.size(), {});
    std::vector<Time> travel(days_.size(), 0);
    const std::vector<Stop>& stops = timed_.stops;
    for (std::size_t i = 0; i < stops.size(); ++i) {
        DayState& day = days_[stops[i].day];
        if (day.count++ == 0)
            day.first = i;
        if (stops[i].kind == StopKind::visit) {
            day.done |= VisitSet{1} << stops[i].index;
            day.standing.value += instance_->value[stops[i].index];
        }
        travel[stops[i].day] += stops[i].travel_in;
    }
    for (const auto& [day, meal] : timed_.missed_meals)
        days_[day].standing.value -= missed_meal_unit;
    Time rested = instance_->days.front().earliest_call;
    for (std::size_t d = 0; d < days_.size(); ++d) {
        DayState& day = days_[d];
        const DayPlan& plan = instance_->days[d];
        day.ready = plan.running ? plan.earliest_call : std::max(plan.earliest_call, rested);
        day.off = day.count == 0 || (day.count == 2 && stops[day.first].point == stops[day.first + 1].point);
        rested = day.ready;
        if (!day.off) {
            const Time wrap = since(instance_->origin, stops[day.first + day.count - 1].arrive);
            day.call = since(instance_->origin, stops[day.first].leave) - plan.pack_at_start;
            day.standing.cost = pack_cost(*instance_, travel[d], wrap - plan.earliest_call);
            rested = wrap + instance_->problem->turnaround.count();
        }
    }
}

Part HeldPlan::part_of(Days days, VisitSet free) const {
    Part part{free, {}};
    VisitSet fixed = 0;
    for (std::uint32_t d = 0; d < days_.size(); ++d) {
        if (!(days >> d & 1U)) {
            fixed |= days_[d].done;
            continue;
        }
        PartDay today{.day = d, .done = fixed};
        today.place = d == 0 ? instance_->first_start : place_after(d - 1);
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

std::uint32_t HeldPlan::place_after(std::uint32_t day) const {
    if (!instance_->days[day].carries)
        return instance_->days[day].fixed_start;
    const DayState& state = days_[day];
    if (state.count == 0)
        return instance_->nowhere;
    return instance_->start_place[timed_.stops[state.first + state.count - 1].point];
}

/// What the days after an open one, up to the next open one, ask of its night.
void HeldPlan::fix_night(PartDay& today, std::uint32_t next_part_day, VisitSet free) const {
    for (std::uint32_t d = today.day + 1; d < next_part_day; ++d)
        for (VisitSet rest = days_[d].done; rest != 0; rest &= rest - 1)
            today.required |= instance_->before[static_cast<std::size_t>(std::countr_zero(rest))] & free;
    const std::uint32_t tomorrow = today.day + 1;
    if (tomorrow == days_.size())
        return;
    std::uint32_t next = tomorrow; // at work
    while (next < days_.size() && days_[next].off)
        ++next;
    const bool works = next < days_.size() && !instance_->days[next].running;
    if (works)
        today.deadline = days_[next].call;
    if (!instance_->days[today.day].carries)
        return;
    const std::uint32_t planned = place_after(today.day);
    today.onward.assign(instance_->places.size(), no_way);
    today.onward[planned] = 0;
    if (!works || next != tomorrow || days_[next].count == 2 || !instance_->varying.empty())
        return;
    const Stop& start = timed_.stops[days_[next].first];
    const Stop& first = timed_.stops[days_[next].first + 1];
    if (first.point == start.point || instance_->places[planned].nowhere)
        return;
    // Another bed will do if the crew is at the first stop no later than planned, and not called too early for it.
    const DayPlan& plan = instance_->days[next];
    today.deadline = since(instance_->origin, first.arrive) - plan.pack_at_start;
    const Time earliest = earliest_call(next);
    for (Point point = 0; point < instance_->start_place.size(); ++point) {
        const std::uint32_t place = instance_->start_place[point];
        if (place == Instance::no_place || point == first.point)
            continue;
        const Time onward = leg(instance_->problem->travel, point, first.point);
        today.onward[place] = earliest + onward <= today.deadline ? onward : no_way;
    }
}

/// Called no earlier, a day of the plan keeps its limits that count from the call, and misses no meal more.
Time HeldPlan::earliest_call(std::uint32_t day) const {
    const DayPlan& plan = instance_->days[day];
    Time earliest = plan.earliest_call;
    std::uint32_t open = (1U << plan.meals.size()) - 1U;
    for (std::size_t i = days_[day].first; i < days_[day].first + days_[day].count; ++i) {
        const Stop& stop = timed_.stops[i];
        if (stop.kind != StopKind::meal)
            continue;
        open &= ~(1U << stop.index);
        if (const Time within = plan.meals[stop.index].within_of_call; within < no_limit)
            earliest = std::max(earliest, since(instance_->origin, stop.start) - within);
    }
    for (std::uint32_t m = 0; m < plan.meals.size(); ++m)
        if ((open >> m & 1U) && plan.meals[m].free_call <= days_[day].call)
            earliest = std::max(earliest, plan.meals[m].free_call);
    return earliest;
}

Standing HeldPlan::standing_of(const Part& part) const {
    Standing sum;
    for (const PartDay& today : part.days) {
        sum.value += days_[today.day].standing.value;
        sum.cost += days_[today.day].standing.cost;
        if (!today.carries_on && !today.onward.empty())
            sum.cost += pack_cost(*instance_, today.onward[place_after(today.day)], 0);
    }
    return sum;
}

std::vector<Stop> HeldPlan::with(const Part& part, const std::vector<Stop>& fresh) const {
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
        const auto old = timed_.stops.begin() + static_cast<std::ptrdiff_t>(days_[d].first);
        stops.insert(stops.end(), old, old + static_cast<std::ptrdiff_t>(days_[d].count));
        if (d > 0 && days_[d].count > 0 && instance_->days[d - 1].carries && first > 0)
            stops[first].point = stops[first - 1].point; // where the night is spent now
    }
    return stops;
}

void choose_nights(const Instance& instance, Part& part, std::size_t most, const HeldPlan* plan_in_hand) {
    const auto points_on = [&](std::uint32_t day) {
        std::vector<Point> points;
        for (const Way& way : instance.ways)
            if (part.free & instance.days[day].possible & VisitSet{1} << way.visit)
                points.push_back(way.point);
        return points;
    };
    for (PartDay& today : part.days) {
        const DayPlan& plan = instance.days[today.day];
        if (!today.carries_on || !plan.carries || plan.ends.size() <= most)
            continue;
        std::vector<std::uint32_t> votes(plan.ends.size(), 0);
        for (const Point before : points_on(today.day))
            for (const Point after : points_on(today.day + 1)) {
                std::size_t best = 0;
                Time least = 2 * no_way + 1;
                for (std::size_t e = 0; e < plan.ends.size(); ++e) {
                    const Time way = leg(instance.problem->travel, before, plan.ends[e]) +
                                     leg(instance.problem->travel, plan.ends[e], after);
                    if (way < least) {
                        least = way;
                        best = e;
                    }
                }
                ++votes[best];
            }
        std::vector<std::size_t> order(votes.size());
        for (std::size_t e = 0; e < order.size(); ++e)
            order[e] = e;
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return votes[a] > votes[b]; });
        today.nights.assign(instance.places.size(), false);
        for (std::size_t i = 0; i < most; ++i)
            today.nights[instance.start_place[plan.ends[order[i]]]] = true;
        if (!plan_in_hand)
            continue;
        today.nights[plan_in_hand->place_after(today.day)] = true;
        if (today.day > 0)
            today.nights[plan_in_hand->place_after(today.day - 1)] = true;
    }
}

} // namespace routing::order
