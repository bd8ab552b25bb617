#include "check_plan.hpp"

#include "geo/geodesic.hpp"
#include "geo/sky/sun.hpp"
#include "routing/hours/hours.hpp"
#include "routing/roads/rule_times.hpp"
#include "routing/roads/shortest_path.hpp"
#include "routing/roads/timed/timed_reference.hpp"

#include <algorithm>
#include <cmath>
#include <map>

using namespace routing::shoot;
using geo::Instant;
using geo::Seconds;

namespace {

/// True when the request's light is there at `when`, straight from its definition.
bool has_light(const geo::LightRequest& request, geo::Coordinate at, Instant when, const geo::TimeZone& zone) {
    if (const auto* clock = std::get_if<geo::ClockRange>(&request)) {
        // Compared as a clock shows it; a range past midnight wraps.
        const Instant local = when + geo::offset_at(when, zone);
        const Seconds time = local - std::chrono::floor<std::chrono::days>(local);
        return clock->until > clock->from ? time >= clock->from && time <= clock->until
                                          : time >= clock->from || time <= clock->until;
    }
    std::optional<geo::SunAltitudeRange> range;
    if (const auto* name = std::get_if<geo::LightName>(&request)) {
        range = geo::sun_range(*name);
        if (!range)
            return true;
    } else {
        range = std::get<geo::SunAltitudeRange>(request);
    }
    const double altitude = geo::sky::sun_position(at, geo::Metres{0.0}, when).altitude.value;
    const double later = geo::sky::sun_position(at, geo::Metres{0.0}, when + Seconds{30}).altitude.value;
    // 0.01 degrees: windows end on whole seconds, and the disc's size changes over the year.
    if (altitude < range->low.value - 0.01 || altitude > range->high.value + 0.01)
        return false;
    const bool climbing = later > altitude;
    const bool turning = std::abs(later - altitude) < 0.002;
    return !range->when || turning || climbing == (*range->when == geo::HalfDay::morning);
}

class Judge {
public:
    Judge(const Plan& plan, const Shoot& shoot, const Region& region) : plan_(plan), shoot_(shoot), region_(region) {
        for (const auto* closures : {&shoot.closures, &plan.closures})
            for (const routing::roads::Closure& closure : *closures) {
                const auto match = routing::roads::match_closure(*region.network, region.index, closure);
                if (closure.from || closure.until)
                    timed_.push_back({match.edges,
                                      {closure.from.value_or(routing::roads::timed::since_ever),
                                       closure.until.value_or(routing::roads::timed::for_ever)}});
                else
                    routing::roads::close(shut_for_good_, *region.network, match);
            }
        add_hours_of_roads();
    }

    std::vector<std::string> judge() {
        check_scenes_once();
        std::map<std::string, std::size_t> order;
        for (std::size_t day = 0; day < plan_.days.size(); ++day) {
            for (const PlanStop& stop : plan_.days[day].stops)
                if (stop.kind == PlanStopKind::scene)
                    order.emplace(stop.id, order.size());
            if (!plan_.days[day].stops.empty())
                check_day(day);
        }
        for (const Scene& scene : shoot_.scenes)
            for (const std::uint32_t before : scene.after)
                if (order.contains(scene.id) &&
                    (!order.contains(shoot_.scenes[before].id) || order[shoot_.scenes[before].id] > order[scene.id]))
                    fault(scene.id + " stands before " + shoot_.scenes[before].id);
        return faults_;
    }

private:
    /// What the rules of the map shut from midnight to midnight, a day around the shoot, edge by edge.
    void add_hours_of_roads() {
        const geo::CivilDate first = shoot_.days.front().date, last = shoot_.days.back().date;
        const geo::Interval span{geo::instant_of(first, std::chrono::hours{0}, shoot_.zone) - std::chrono::days{1},
                                 geo::instant_of(last, std::chrono::hours{0}, shoot_.zone) + std::chrono::days{3}};
        for (const auto& row : region_.network->edge_time_rules) {
            const auto& edge = region_.network->edges[routing::roads::value(row.edge)];
            const routing::hours::Site site{region_.network->shape_of(edge).front(), shoot_.zone, {}};
            for (const geo::Interval& shut :
                 routing::roads::shut_by_rule(region_.network->time_rules[row.rule], span, site).shut)
                timed_.push_back({{row.edge}, shut});
        }
    }

    void fault(const std::string& text) { faults_.push_back(text); }

    void check_scenes_once() {
        std::map<std::string, int> seen;
        for (const PlanDay& day : plan_.days)
            for (const PlanStop& stop : day.stops)
                if (stop.kind == PlanStopKind::scene)
                    ++seen[stop.id];
        for (const Dropped& dropped : plan_.dropped) {
            ++seen[dropped.scene];
            if (dropped.why.empty())
                fault(dropped.scene + " dropped without a reason");
        }
        for (const Scene& scene : shoot_.scenes)
            if (seen[scene.id] != 1)
                fault(scene.id + " stands " + std::to_string(seen[scene.id]) + " times in stops and dropped");
    }

    void check_scene(const PlanStop& stop, bool neighbour_before, bool neighbour_after) {
        const auto scene =
            std::find_if(shoot_.scenes.begin(), shoot_.scenes.end(), [&](const Scene& s) { return s.id == stop.id; });
        const SceneOption& option = scene->options.at(stop.option);
        const Location& location = shoot_.locations[option.location];
        if (!(stop.at == location.at))
            fault(stop.id + " is at another place");
        if (stop.end - stop.start != option.length)
            fault(stop.id + " is not filmed for its minutes");
        if (!neighbour_before && stop.start - stop.arrive < location.setup)
            fault(stop.id + " has no time to set up");
        if (!neighbour_after && stop.leave - stop.end < location.pack)
            fault(stop.id + " has no time to pack");
        for (Instant when = stop.start; when <= stop.end; when += Seconds{30})
            if (std::none_of(option.light.begin(), option.light.end(), [&](const geo::LightRequest& request) {
                    return has_light(request, location.at, when, shoot_.zone);
                })) {
                fault(stop.id + " is filmed without its light at " + geo::iso_text(when, shoot_.zone));
                break;
            }
    }

    void check_leg(const PlanStop& from, const PlanStop& to) {
        if (to.arrive - from.leave < to.leg.total)
            fault(to.id + " is reached sooner than its leg takes");
        if (to.leg.total != to.leg.van + to.leg.wait + to.leg.walk())
            fault(to.id + ": van, waits and walk do not add up");
        const auto start = region_.index.nearest(from.van_at, geo::Metres{50.0});
        const auto end = region_.index.nearest(to.van_at, geo::Metres{50.0});
        if (!start || !end)
            return fault(to.id + ": the van stands off the road");
        const auto path = routing::roads::quickest_path(*region_.network, *start, *end);
        // Closures make legs longer, never shorter; a van point on two roads may snap to the other one.
        if (path && Seconds{path->time / 1000} > to.leg.van + Seconds{2})
            fault(to.id + ": its leg is quicker than the quickest path");
        if (!timed_.empty() && !to.done)
            check_hours(from, to, *start, *end);
        geo::Metres drawn{0.0};
        for (std::size_t n = 1; n < to.leg.line.size(); ++n)
            drawn += geo::distance(to.leg.line[n - 1], to.leg.line[n]);
        if (std::abs(drawn.value - to.leg.length.value) > 1.0 + drawn.value * 1e-3)
            fault(to.id + ": the leg's line is not as long as said");
    }

    /// Nobody plans a meal at a place while the map says that it is closed, minute by minute.
    void check_open(const PlanStop& meal) {
        const auto place =
            std::find_if(region_.places.begin(), region_.places.end(), [&](const routing::places::Place& p) {
                return meal.id.ends_with("/" + std::to_string(p.object.id)) && p.at == meal.at;
            });
        if (place == region_.places.end()) {
            fault(meal.what + " is at no place of the map");
            return;
        }
        if (place->opening_hours.empty())
            return;
        const routing::hours::Hours hours = routing::hours::read_hours(place->opening_hours);
        const routing::hours::Site site{.at = place->at, .zone = shoot_.zone, .holidays = {}};
        for (Instant when = meal.start; when < meal.end; when += std::chrono::minutes{1})
            if (hours.state_at(when, site).state == routing::hours::State::closed)
                fault(meal.what + " is at a closed place");
    }

    /// Roads shut for a time: the van is on the road when plain Dijkstra from node to node says it can be, no sooner.
    void check_hours(const PlanStop& from, const PlanStop& to, const routing::roads::RoadPoint& start,
                     const routing::roads::RoadPoint& end) {
        const routing::roads::timed::ShutTimes shut(region_.network->edges.size(), timed_);
        const Instant departure = from.leave + to.leg.walk_out.time;
        routing::roads::timed::TimedReference reference(*region_.network, shut);
        const Seconds told = to.leg.van + to.leg.wait;
        std::string found;
        // A point on a junction lies on several roads, and the plan does not say which the van stands on.
        for (const routing::roads::RoadPoint& first : roads_at(start))
            for (const routing::roads::RoadPoint& last : roads_at(end)) {
                const auto way = reference.quickest(first, last, departure, shut_for_good_);
                if (way && told >= Seconds{way->time / 1000} - Seconds{2} &&
                    told <= Seconds{way->time / 1000} + Seconds{2})
                    return;
                found += way ? " " + std::to_string(way->time / 1000) : " none";
            }
        fault(to.id + ": " + std::to_string(told.count()) + " s on the road, at that hour it takes" + found);
    }

    std::vector<routing::roads::RoadPoint> roads_at(const routing::roads::RoadPoint& point) const {
        return region_.index.nearest_edges(point.at, 8, geo::Metres{1.0});
    }

    void check_meals(const PlanDay& day, std::size_t number) {
        for (const PlanStop& stop : day.stops) {
            if (stop.kind != PlanStopKind::meal)
                continue;
            const auto wish = std::find_if(shoot_.meals.begin(), shoot_.meals.end(),
                                           [&](const MealWish& w) { return w.name == stop.what; });
            if (wish == shoot_.meals.end()) {
                fault(stop.what + " is no meal of the shoot");
                continue;
            }
            if (stop.end - stop.start != wish->length)
                fault(stop.what + " is not as long as asked");
            const geo::CivilDate date =
                wish->until <= shoot_.days[number].earliest_call ? geo::next_date(day.date) : day.date;
            const geo::CivilDate until_date = wish->until > wish->from ? date : geo::next_date(date);
            if (stop.start < geo::instant_of(date, wish->from, shoot_.zone) ||
                stop.end > geo::instant_of(until_date, wish->until, shoot_.zone))
                fault(stop.what + " lies outside its window");
            if (wish->where == MealWhere::find)
                check_open(stop);
            if (wish->within_of_call && stop.start - day.call > *wish->within_of_call)
                fault(stop.what + " comes too long after the call");
        }
    }

    void check_day(std::size_t number) {
        const PlanDay& day = plan_.days[number];
        const ShootDay& wish = shoot_.days[number];
        const Instant earliest = geo::instant_of(wish.date, wish.earliest_call, shoot_.zone);
        Instant latest = geo::instant_of(wish.date, wish.latest_wrap, shoot_.zone);
        if (wish.latest_wrap <= wish.earliest_call)
            latest = geo::instant_of(geo::CivilDate{std::chrono::sys_days{wish.date} + std::chrono::days{1}},
                                     wish.latest_wrap, shoot_.zone);
        if (day.call < earliest)
            fault("the call comes too early");
        if (day.wrap > latest)
            fault("the wrap comes too late");
        if (number > 0 && !plan_.days[number - 1].stops.empty() &&
            day.call - plan_.days[number - 1].wrap < shoot_.crew.turnaround)
            fault("too little rest between wrap and call");
        if (wish.start == DayEdge::base && !(day.stops.front().at == shoot_.base->at))
            fault("the day does not start at base");
        if (wish.end == DayEdge::base && !(day.stops.back().at == shoot_.base->at))
            fault("the day does not end at base");
        if (wish.start == DayEdge::bed && number > 0 && !plan_.days[number - 1].stops.empty() &&
            !(day.stops.front().at == plan_.days[number - 1].stops.back().at))
            fault("the day does not start where the night was spent");
        Seconds drive{0}, walk{0};
        for (std::size_t n = 0; n < day.stops.size(); ++n) {
            const PlanStop& stop = day.stops[n];
            drive += stop.leg.van;
            walk += stop.leg.walk();
            const bool neighbour_before =
                n > 0 && day.stops[n - 1].kind == PlanStopKind::scene && day.stops[n - 1].at == stop.at;
            const bool neighbour_after = n + 1 < day.stops.size() && day.stops[n + 1].kind == PlanStopKind::scene &&
                                         day.stops[n + 1].at == stop.at;
            if (stop.kind == PlanStopKind::scene)
                check_scene(stop, neighbour_before, neighbour_after);
            if (!(stop.arrive <= stop.start && stop.start <= stop.end && stop.end <= stop.leave))
                fault(stop.id + ": its times do not follow each other");
            if (n == 0)
                continue;
            check_leg(day.stops[n - 1], stop);
            check_leave_by(day.stops[n - 1], stop, latest);
        }
        if (drive != day.drive || walk != day.walk)
            fault("the day's totals are not the sum of its legs");
        check_meals(day, number);
    }

    Seconds packing(const PlanStop& stop) const {
        for (const Scene& scene : shoot_.scenes)
            if (stop.kind == PlanStopKind::scene && scene.id == stop.id)
                return shoot_.locations[scene.options.at(stop.option).location].pack;
        return Seconds{0};
    }

    /// Leaving at leave_by must still allow the next stop to be left by its own leave_by, and a minute later must not
    /// be allowed by everything (not checked: other stops may bind).
    void check_leave_by(const PlanStop& from, const PlanStop& to, Instant latest_wrap) {
        if (from.slack != from.leave_by - from.leave || from.slack < Seconds{0})
            fault(from.id + ": slack is not leave-by minus leaving");
        // Whoever waits for a road to reopen leaves later than it is packed up.
        const Seconds stay = std::min(to.leave - to.end, packing(to)) + (to.end - to.start);
        const Instant earliest_done = from.leave_by + to.leg.total + stay;
        const bool last = to.what == "wrap" || to.kind == PlanStopKind::base;
        if (last ? from.leave_by + to.leg.total > latest_wrap : earliest_done > to.leave_by)
            fault(from.id + ": leaving at its leave-by is too late for " + to.id);
    }

    std::vector<routing::roads::timed::TimedClosure> timed_;
    routing::roads::ClosedEdges shut_for_good_;
    const Plan& plan_;
    const Shoot& shoot_;
    const Region& region_;
    std::vector<std::string> faults_;
};

} // namespace

std::vector<std::string> faults_of(const Plan& plan, const Shoot& shoot, const Region& region) {
    return Judge(plan, shoot, region).judge();
}
