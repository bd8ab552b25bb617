#include "routing/order/detours.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace routing::order {
namespace {

Time leg_from(const TravelMatrix& travel, const Place& from, Point to) {
    return from.nowhere ? 0 : leg(travel, from.point, to);
}

const Departures* departures_from(const VaryingLegs& varying, const Place& from, Point to) {
    return from.nowhere || from.point == to ? nullptr : varying.between(from.point, to);
}

bool varies(const Detour& detour) {
    return detour.there_by || detour.onward_by;
}

bool varies(const EndWay& end) {
    return end.there_by || end.onward_by;
}

} // namespace

Detours::Detours(const Instance& instance) : instance_(instance), rows_(instance.end_arc.front().size()) {
    std::uint32_t gaps = 0;
    for (const DayPlan& day : instance.days) {
        first_gap_.push_back(gaps);
        gaps += static_cast<std::uint32_t>(day.gaps.size());
    }
    between_.resize(std::size_t{gaps} * rows_ * instance.to_points.size());
    to_end_.resize((gaps + instance.days.size()) * rows_);
}

const std::vector<Detour>& Detours::between(std::uint32_t day, std::uint32_t gap, const Place& from, std::uint32_t to) {
    auto& known = between_[(std::size_t{first_gap_[day] + gap} * rows_ + from.from) * instance_.to_points.size() + to];
    if (!known)
        known = by_meal(instance_.days[day].gaps[gap], from, instance_.to_points[to]);
    return *known;
}

std::vector<Detour> Detours::by_meal(const Gap& gap, const Place& from, Point to) const {
    const TravelMatrix& travel = instance_.problem->travel;
    const VaryingLegs& varying = instance_.varying;
    std::vector<Detour> all;
    for (const auto& [point, hours] : gap.points)
        all.push_back({leg_from(travel, from, point), leg(travel, point, to), point,
                       departures_from(varying, from, point), departures_from(varying, {.point = point}, to), hours});
    std::vector<std::size_t> sorted(all.size());
    for (std::size_t i = 0; i < sorted.size(); ++i)
        sorted[i] = i;
    std::sort(sorted.begin(), sorted.end(), [&](std::size_t a, std::size_t b) {
        return std::tuple(all[a].there, all[a].onward, a) < std::tuple(all[b].there, all[b].onward, b);
    });
    std::vector<std::size_t> kept;
    std::vector<Time> least_onward(gap.hours.size(), no_way); // by hours; the first, any hour, puts out all others
    for (const std::size_t i : sorted) {
        Time& least = least_onward[all[i].hours];
        if (all[i].there >= no_way || all[i].onward >= std::min(least, least_onward.front()))
            continue;
        if (!varies(all[i]))
            least = all[i].onward;
        kept.push_back(i);
    }
    std::sort(kept.begin(), kept.end());
    std::vector<Detour> found;
    for (const std::size_t i : kept)
        found.push_back(all[i]);
    return found;
}

const std::vector<EndWay>& Detours::to_end(std::uint32_t day, std::uint32_t gap, const Place& from) {
    const std::size_t list = gap == straight ? first_gap_.back() + instance_.days.back().gaps.size() + day
                                             : std::size_t{first_gap_[day] + gap};
    auto& known = to_end_[list * rows_ + from.from];
    if (!known)
        known = keep_useful(day, all_ends(day, gap == straight ? nullptr : &instance_.days[day].gaps[gap], from));
    return *known;
}

std::vector<EndWay> Detours::all_ends(std::uint32_t day, const Gap* gap, const Place& from) const {
    const TravelMatrix& travel = instance_.problem->travel;
    const DayPlan& plan = instance_.days[day];
    const auto next_start = [&](const Place& where) {
        if (day + 1 == instance_.days.size())
            return Instance::no_place;
        if (!plan.carries)
            return plan.fixed_start;
        return where.nowhere ? instance_.nowhere : instance_.start_place[where.point];
    };
    const VaryingLegs& varying = instance_.varying;
    std::vector<EndWay> found;
    if (!gap) {
        if (plan.ends.empty())
            found.push_back({0, 0, 0, where_it_is, next_start(from)});
        for (std::uint32_t e = 0; e < plan.ends.size(); ++e)
            if (const Time onward = leg_from(travel, from, plan.ends[e]); onward < no_way)
                found.push_back({0, onward, 0, e, next_start({.point = plan.ends[e]}), nullptr,
                                 departures_from(varying, from, plan.ends[e])});
        return found;
    }
    for (std::uint32_t e = 0; e < plan.ends.size(); ++e)
        for (const Detour& detour : by_meal(*gap, from, plan.ends[e]))
            found.push_back({detour.there, detour.onward, detour.point, e, next_start({.point = plan.ends[e]}),
                             detour.there_by, detour.onward_by, detour.hours});
    if (plan.ends.empty())
        for (const auto& [point, hours] : gap->points)
            if (const Time there = leg_from(travel, from, point); there < no_way)
                found.push_back({there, 0, point, where_it_is, next_start({.point = point}),
                                 departures_from(varying, from, point), nullptr, hours});
    return found;
}

std::vector<EndWay> Detours::keep_useful(std::uint32_t day, std::vector<EndWay> ways) const {
    if (ways.size() < 2)
        return ways;
    std::sort(ways.begin(), ways.end(), [](const EndWay& a, const EndWay& b) {
        return std::tuple(a.there, a.onward, a.end, a.via) < std::tuple(b.there, b.onward, b.end, b.via);
    });
    const bool carries = instance_.days[day].carries;
    const auto night = [&](std::size_t i) { return instance_.places[ways[i].next_start].point; };
    std::vector<std::uint32_t> stays(ways.size(), 0);
    for (std::size_t i = 0; carries && i < ways.size(); ++i)
        stays[i] = may_stay(day, night(i));

    std::vector<bool> useful(ways.size(), false);
    std::vector<Time> after(ways.size(), 0);
    std::vector<bool> varying(ways.size(), false); // some leg of it: no match for others, but they may be for it
    for (std::size_t i = 0; i < ways.size(); ++i)
        varying[i] = varies(ways[i]);
    // Ways come in order of `there`: one is useful unless an earlier one of its kind is no farther in the other two.
    // For each kind (where one may stay on, hours), onward -> least `after` so far: falling as onward grows.
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::map<Time, Time>> least_after;
    const auto mark_useful = [&] {
        least_after.clear();
        for (std::size_t i = 0; i < ways.size(); ++i) {
            if (after[i] >= no_way)
                continue;
            const std::map<Time, Time>& any_hour = least_after[{stays[i], 0}];
            const auto known = any_hour.upper_bound(ways[i].onward);
            if (known != any_hour.begin() && std::prev(known)->second <= after[i])
                continue;
            std::map<Time, Time>& steps = least_after[{stays[i], ways[i].hours}];
            auto next = steps.upper_bound(ways[i].onward);
            if (next != steps.begin() && std::prev(next)->second <= after[i])
                continue;
            useful[i] = true;
            if (varying[i])
                continue;
            while (next != steps.end() && next->second >= after[i])
                next = steps.erase(next);
            steps[ways[i].onward] = after[i];
        }
    };
    mark_useful(); // nothing comes after
    const auto all_useful = [&] { return std::find(useful.begin(), useful.end(), false) == useful.end(); };
    for (const auto& [use, only_an_end] : carries ? next_points(day) : std::map<Point, bool>{}) {
        if (all_useful())
            break;
        // Going to an end where one already is would be staying, which is no use of its own.
        for (std::size_t i = 0; i < ways.size(); ++i) {
            after[i] = only_an_end && night(i) == use ? no_way : leg(instance_.problem->travel, night(i), use);
            varying[i] = varies(ways[i]) || instance_.varying.between(night(i), use);
        }
        mark_useful();
    }
    std::vector<EndWay> kept;
    for (std::size_t i = 0; i < ways.size(); ++i)
        if (useful[i])
            kept.push_back(ways[i]);
    std::stable_sort(kept.begin(), kept.end(),
                     [](const EndWay& a, const EndWay& b) { return a.there + a.onward < b.there + b.onward; });
    return kept;
}

std::map<Point, bool> Detours::next_points(std::uint32_t day) const {
    std::map<Point, bool> points;
    for (std::size_t d = day + 1; d < instance_.days.size(); ++d) {
        for (const Point end : instance_.days[d].ends)
            points.try_emplace(end, true);
        for (const Gap& gap : instance_.days[d].gaps)
            for (const GapPoint& candidate : gap.points)
                points[candidate.point] = false;
    }
    for (const Point point : instance_.to_points)
        points[point] = false;
    return points;
}

std::uint32_t Detours::may_stay(std::uint32_t day, Point point) const {
    std::uint32_t stays = 0;
    for (std::size_t d = day + 1; d < instance_.days.size(); ++d) {
        const std::vector<Point>& ends = instance_.days[d].ends;
        if (ends.empty() || std::find(ends.begin(), ends.end(), point) != ends.end())
            stays |= 1U << d;
    }
    return stays;
}

} // namespace routing::order
