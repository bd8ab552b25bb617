#include "routing/shoot/plan_check_legs.hpp"

#include "geo/geodesic.hpp"
#include "geo/sky/sun.hpp"
#include "geo/terrain/horizon_cache.hpp"
#include "routing/roads/closure.hpp"
#include "routing/roads/foot/walk_finder.hpp"
#include "routing/roads/shortest_path.hpp"
#include "routing/roads/timed/timed_reference.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/walking_pace.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <memory>

namespace routing::shoot {

namespace {

/// Times are told in whole seconds, places to a centimetre.
constexpr Seconds rounding{1};
/// A van this near to a road stands on it.
constexpr geo::Metres on_the_road{0.5};
constexpr std::size_t roads_at_a_junction = 8;
constexpr geo::Metres same_place{1.0};

/// The plan's own figures, docs/roads.md: no walk below 30 m; an estimated one is 1.4 times the straight line at 4
/// km/h.
constexpr geo::Metres walk_from{30.0};
constexpr double detour_on_foot = 1.4;
constexpr double metres_a_second = 4.0 / 3.6;
constexpr Seconds farthest_walk{6 * 3600};
/// Darkness: the sun below -6 degrees; then a third more time, and a second (night_walks.hpp).
constexpr double dark_below = -6.0;
constexpr double near_the_edge = 0.3; // degrees: told times are seconds off
constexpr Seconds short_walk{60};

bool same_spot(geo::Coordinate a, geo::Coordinate b) {
    return geo::distance(a, b) < same_place;
}

Seconds rounded_up(roads::Milliseconds time) {
    return Seconds{static_cast<std::int64_t>(std::ceil(static_cast<double>(time) / 1000.0))};
}

bool holds(const std::vector<Seconds>& possible, Seconds told) {
    return std::any_of(possible.begin(), possible.end(),
                       [&](Seconds time) { return std::chrono::abs(time - told) <= rounding; });
}

/// The one nearest to what is told, for a message.
Seconds nearest(const std::vector<Seconds>& possible, Seconds told) {
    return *std::min_element(possible.begin(), possible.end(), [&](Seconds a, Seconds b) {
        return std::chrono::abs(a - told) < std::chrono::abs(b - told);
    });
}

enum class Dark { no, perhaps, yes };

Dark darkness(geo::Coordinate at, Instant from, Instant until) {
    Dark dark = Dark::no;
    for (const Instant when : {from, until}) {
        const double altitude = geo::sky::sun_position(at, geo::Metres{0.0}, when).altitude.value;
        if (altitude < dark_below - near_the_edge)
            return Dark::yes;
        if (altitude < dark_below + near_the_edge)
            dark = Dark::perhaps;
    }
    return dark;
}

Seconds in_the_dark(Seconds walk) {
    return walk < short_walk ? walk : walk + Seconds{walk.count() / 3 + 1};
}

/// What is shut, by the shoot file and by what re-plans took in.
struct Shut {
    roads::ClosedEdges for_good;
    std::vector<roads::timed::TimedClosure> timed;
    roads::ClosedEdges foot;
};

class LegCheck {
public:
    LegCheck(const Plan& plan, const Shoot& shoot, const Region& region, PlanFaults& faults)
        : plan_(plan), shoot_(shoot), region_(region), faults_(faults), roads_(*region.network) {
        hours_ = working_span(shoot.days.front(), shoot.zone);
        for (const ShootDay& day : shoot.days) {
            const geo::Interval span = working_span(day, shoot.zone);
            hours_ = {std::min(hours_.from, span.from), std::max(hours_.until, span.until)};
        }
        before_ = shut_by({&shoot.closures});
        now_ = shut_by({&shoot.closures, &plan.closures});
        if (shoot.ground)
            slopes_.emplace(region.foot->network(), shoot.ground->sheet());
        walks_.emplace(region.foot->network(), region.foot->index(), now_.foot, slopes_ ? &*slopes_ : nullptr);
    }

    void check() {
        choose_wishes();
        for (std::size_t day = 0; day < plan_.days.size(); ++day)
            for (std::size_t n = 1; n < plan_.days[day].stops.size(); ++n) {
                if (is_past(plan_.days[day].stops[n]))
                    continue;
                check_parts(day, n);
                check_road(day, n);
                check_walks(day, n);
                check_line(day, n);
            }
    }

private:
    static bool is_past(const PlanStop& stop) { return stop.is_begun() || stop.role == StopRole::now; }

    Shut shut_by(const std::vector<const std::vector<roads::Closure>*>& lists) const {
        Shoot bare = shoot_;
        bare.closures.clear();
        const ClosedRoads by_map = close_roads(bare, {}, region_); // hours and seasons of the roads themselves
        Shut shut{by_map.edges, by_map.timed, by_map.foot};
        for (const auto* closures : lists)
            for (const roads::Closure& closure : *closures) {
                const geo::Interval span{closure.from.value_or(roads::timed::since_ever),
                                         closure.until.value_or(roads::timed::for_ever)};
                if (span.until <= hours_.from || span.from >= hours_.until)
                    continue;
                if (closure.van) {
                    const auto match = roads::match_closure(*region_.network, region_.index, closure);
                    if (closure.from || closure.until)
                        shut.timed.push_back({match.edges, span});
                    else
                        roads::close(shut.for_good, *region_.network, match);
                }
                if (closure.foot) // walks are not reckoned by the hour
                    roads::close(shut.foot, region_.foot->network(),
                                 roads::match_closure(region_.foot->network(), region_.foot->index(), closure));
            }
        return shut;
    }

    /// With the roads that the crew would rather not use, but for the wishes in `aside` (bits of AvoidedKind).
    roads::ClosedEdges with_wishes(const Shut& shut, std::uint8_t aside) const {
        std::uint16_t notes = roads::note_none;
        for (const AvoidedKind kind : shoot_.crew.avoid)
            if ((aside >> static_cast<unsigned>(kind) & 1) == 0)
                notes |= kind == AvoidedKind::tolls     ? roads::note_toll
                         : kind == AvoidedKind::ferries ? roads::note_ferry
                                                        : roads::note_unpaved;
        roads::ClosedEdges edges = shut.for_good;
        if (notes == roads::note_none)
            return edges;
        edges.resize(region_.network->edges.size(), false);
        for (std::size_t n = 0; n < edges.size(); ++n)
            if ((region_.network->edges[n].notes & notes) != 0)
                edges[n] = true;
        return edges;
    }

    /// A van at a junction stands on one of several roads, and the plan does not say which.
    std::vector<roads::RoadPoint> roads_at(geo::Coordinate van) const {
        return region_.index.nearest_edges(van, roads_at_a_junction, on_the_road);
    }

    /// What the van may take; none when there is no way.
    std::vector<Seconds> road_times(const PlanStop& from, const PlanStop& to, const Shut& shut,
                                    const roads::ClosedEdges& closed) {
        const auto starts = roads_at(from.van_at);
        const auto ends = roads_at(to.van_at);
        std::vector<roads::Milliseconds> times;
        if (shut.timed.empty()) {
            times = roads_.travel_times(starts, ends, closed);
        } else {
            const roads::timed::ShutTimes shut_times(region_.network->edges.size(), shut.timed);
            roads::timed::TimedReference search(*region_.network, shut_times);
            for (const roads::RoadPoint& start : starts)
                for (const roads::Milliseconds time :
                     search.travel_times(start, ends, from.leave + to.leg.walk_out.time, closed))
                    times.push_back(time);
        }
        std::vector<Seconds> possible;
        for (const roads::Milliseconds time : times)
            if (time < roads::closed)
                possible.push_back(rounded_up(time));
        return possible;
    }

    /// A leg already under way keeps what held before the last closures.
    std::vector<Seconds> possible_times(const PlanStop& from, const PlanStop& to, std::uint8_t aside) {
        std::vector<Seconds> possible = road_times(from, to, now_, with_wishes(now_, aside));
        if (is_past(from) && !plan_.closures.empty())
            for (const Seconds time : road_times(from, to, before_, with_wishes(before_, aside)))
                possible.push_back(time);
        return possible;
    }

    static bool stays(const PlanStop& from, const PlanStop& to) {
        return to.leg.total == Seconds{0} && same_spot(from.at, to.at) && same_spot(from.van_at, to.van_at);
    }

    /// Whether a search can say how long the van takes.
    static bool can_be_searched(const PlanStop& from, const PlanStop& to) {
        return !is_past(to) && !stays(from, to) && to.leg.drive_out == Seconds{0};
    }

    /// At the wheel and waiting for roads to reopen.
    static Seconds on_the_way(const Leg& leg) { return leg.total - leg.walk(); }

    std::size_t wrong_legs(std::uint8_t aside) {
        std::size_t wrong = 0;
        for (const PlanDay& day : plan_.days)
            for (std::size_t n = 1; n < day.stops.size(); ++n)
                if (can_be_searched(day.stops[n - 1], day.stops[n]) &&
                    !holds(possible_times(day.stops[n - 1], day.stops[n], aside), on_the_way(day.stops[n].leg)))
                    ++wrong;
        return wrong;
    }

    void choose_wishes() {
        std::uint8_t wished = 0;
        for (const AvoidedKind kind : shoot_.crew.avoid)
            wished |= static_cast<std::uint8_t>(1U << static_cast<unsigned>(kind));
        if (wished == 0)
            return;
        std::size_t fewest = wrong_legs(0);
        for (int size = 1; size <= std::popcount(wished); ++size)
            for (std::uint8_t aside = 1; aside < 8; ++aside)
                if (fewest > 0 && (aside & ~wished) == 0 && std::popcount(aside) == size)
                    if (const std::size_t wrong = wrong_legs(aside); wrong < fewest) {
                        fewest = wrong;
                        aside_ = aside;
                    }
    }

    void check_parts(std::size_t day, std::size_t n) {
        const Leg& leg = plan_.days[day].stops[n].leg;
        if (leg.total < leg.van + leg.walk())
            faults_.at_stop(day, n, "leg/seconds", PlanFaults::text(leg.total),
                            "is less than its driving and walking together",
                            "at least " + PlanFaults::text(leg.van + leg.walk()));
        Seconds waits{0};
        for (const RoadWait& wait : leg.waits)
            waits += wait.until - wait.from;
        const Seconds told = leg.total - leg.van - leg.walk();
        // Each wait is told from and until whole seconds.
        const Seconds off{2 * static_cast<std::int64_t>(leg.waits.size())};
        if (std::chrono::abs(told - waits) > off && told >= Seconds{0})
            faults_.at_stop(day, n, "leg/van_seconds", PlanFaults::text(leg.van),
                            "leaves another wait on the road than its waits tell",
                            PlanFaults::text(leg.total - leg.walk() - waits));
        if (leg.drive_out > leg.van)
            faults_.at_stop(day, n, "leg/drive_out_seconds", PlanFaults::text(leg.drive_out),
                            "is more than all its driving", "at most " + PlanFaults::text(leg.van));
    }

    void check_road(std::size_t day, std::size_t n) {
        const PlanStop& from = plan_.days[day].stops[n - 1];
        const PlanStop& to = plan_.days[day].stops[n];
        if (stays(from, to))
            return;
        for (const PlanStop* stop : {&from, &to})
            if (roads_at(stop->van_at).empty())
                return faults_.at_stop(day, stop == &from ? n - 1 : n, "van_at", "",
                                       "is on no road that the van may use", "a place on such a road");
        if (to.leg.drive_out > Seconds{0})
            return check_drive_out(day, n);
        const Seconds told = on_the_way(to.leg);
        const std::vector<Seconds> possible = possible_times(from, to, aside_);
        if (possible.empty())
            faults_.at_stop(day, n, "leg/seconds", PlanFaults::text(to.leg.total), "is a leg where no open road leads",
                            "another stop, or none");
        else if (!holds(possible, told))
            faults_.at_stop(day, n, "leg/seconds", PlanFaults::text(to.leg.total),
                            told < nearest(possible, told) ? "is less than the quickest way takes"
                                                           : "is more than the quickest way takes",
                            PlanFaults::text(nearest(possible, told) + to.leg.walk()) +
                                ", van_seconds and waits together " + PlanFaults::text(nearest(possible, told)));
    }

    /// Where the open roads are reached is not told: it is no quicker than were nothing shut.
    void check_drive_out(std::size_t day, std::size_t n) {
        const PlanStop& from = plan_.days[day].stops[n - 1];
        const PlanStop& to = plan_.days[day].stops[n];
        const auto times = roads_.travel_times(roads_at(from.van_at), roads_at(to.van_at));
        const auto least = std::min_element(times.begin(), times.end());
        if (least != times.end() && *least < roads::closed && rounded_up(*least) > on_the_way(to.leg) + rounding)
            faults_.at_stop(day, n, "leg/seconds", PlanFaults::text(to.leg.total),
                            "is less than the quickest way takes were nothing shut",
                            "at least " + PlanFaults::text(rounded_up(*least) + to.leg.walk()));
    }

    bool is_at_a_location(const PlanStop& stop) const {
        if (stop.kind == PlanStopKind::base || stop.kind == PlanStopKind::bed)
            return false;
        return std::any_of(shoot_.locations.begin(), shoot_.locations.end(),
                           [&](const Location& location) { return same_spot(location.at, stop.at); });
    }

    static Seconds estimated_walk(const PlanStop& stop) {
        const double straight = geo::distance(stop.at, stop.van_at).value;
        return straight < walk_from.value
                   ? Seconds{0}
                   : Seconds{static_cast<std::int64_t>(std::ceil(straight * detour_on_foot / metres_a_second))};
    }

    /// Between van and stop by day: the way in, or back. Several where the plan does not say enough.
    std::vector<Seconds> walk_times(const PlanStop& stop, bool back) {
        std::vector<Seconds> times;
        const geo::Metres straight = geo::distance(stop.at, stop.van_at);
        if (!is_at_a_location(stop) || straight < walk_from)
            times.push_back(estimated_walk(stop));
        if (std::abs((straight - walk_from).value) < 0.05) // told to a centimetre
            times.push_back(Seconds{0});
        if (stop.kind == PlanStopKind::rest)
            times.push_back(Seconds{0}); // the van is with the crew
        if (is_at_a_location(stop) && straight >= walk_from) {
            const auto walk = walks_->walks(stop.at, {stop.van_at}, farthest_walk).front();
            if (walk)
                times.push_back(walking_time(back ? walk->time_back : walk->time, shoot_.crew.load_kg));
            if (!walk || !now_.foot.empty())
                times.push_back(estimated_walk(stop));
        }
        return times;
    }

    /// Those in the dark too, or alone, for a scene's walk. `spare`: so much of it falls into time in hand.
    static std::vector<Seconds> by_hour(std::vector<Seconds> by_day, Dark dark, bool surely) {
        std::vector<Seconds> times;
        for (const Seconds time : by_day) {
            if (dark != Dark::yes || !surely)
                times.push_back(time);
            if (dark != Dark::no)
                times.push_back(in_the_dark(time));
        }
        return times;
    }

    void check_walks(std::size_t day, std::size_t n) {
        const PlanStop& from = plan_.days[day].stops[n - 1];
        const PlanStop& to = plan_.days[day].stops[n];
        if (stays(from, to))
            return;
        const auto check = [&](const char* member, const std::vector<Seconds>& possible, Seconds told) {
            if (!holds(possible, told))
                faults_.at_stop(day, n, std::string("leg/") + member + "/seconds", PlanFaults::text(told),
                                "is not what the way on foot takes", PlanFaults::text(nearest(possible, told)));
        };
        const Seconds out = to.leg.walk_out.time;
        if (!is_past(from)) {
            const bool packs = from.kind == PlanStopKind::scene && leaves_at_once(from);
            check("walk_out", by_hour(walk_times(from, true), darkness(from.at, from.leave, from.leave + out), packs),
                  out);
        }
        const Seconds in = to.leg.walk_in.time;
        const std::vector<Seconds> by_day = walk_times(to, false);
        const Seconds in_hand = to.start - to.arrive - setup_of(to);
        const bool hurries = to.kind == PlanStopKind::scene && in_hand < in_the_dark(in) - in;
        check("walk_in", by_hour(by_day, darkness(to.at, to.arrive - in, to.arrive), hurries), in);
        if (to.kind == PlanStopKind::scene && nearest(by_day, in) > Seconds{shoot_.crew.max_walk} + rounding)
            faults_.at_stop(day, n, "van_at", PlanFaults::text(nearest(by_day, in)), "is farther than the crew walks",
                            "a place within " + PlanFaults::text(Seconds{shoot_.crew.max_walk}));
    }

    const Location* location_of(const PlanStop& stop) const {
        for (const Scene& scene : shoot_.scenes)
            if (stop.kind == PlanStopKind::scene && scene.id == stop.id && stop.option < scene.options.size())
                return &shoot_.locations[scene.options[stop.option].location];
        return nullptr;
    }
    Seconds setup_of(const PlanStop& stop) const {
        const Location* location = location_of(stop);
        return location != nullptr ? Seconds{location->setup} : Seconds{0};
    }
    bool leaves_at_once(const PlanStop& stop) const {
        const Location* location = location_of(stop);
        return location != nullptr && stop.leave - stop.end <= Seconds{location->pack} + rounding;
    }

    void check_line(std::size_t day, std::size_t n) {
        const PlanStop& from = plan_.days[day].stops[n - 1];
        const PlanStop& to = plan_.days[day].stops[n];
        const Leg& leg = to.leg;
        geo::Metres drawn{0.0};
        for (std::size_t k = 1; k < leg.line.size(); ++k)
            drawn += geo::distance(leg.line[k - 1], leg.line[k]);
        if (std::abs((drawn - leg.length).value) > 1.0 + drawn.value * 1e-3)
            faults_.at_stop(day, n, "leg/metres", PlanFaults::text(leg.length), "is not as long as its line",
                            PlanFaults::text(drawn));
        constexpr geo::Metres as_drawn{2.0};
        if (leg.line.empty() || (geo::distance(leg.line.front(), from.van_at) < as_drawn &&
                                 geo::distance(leg.line.back(), to.van_at) < as_drawn))
            return;
        faults_.at_stop(day, n, "leg/line", "", "does not lead from where the van stood to where it is left",
                        "the way driven");
    }

    const Plan& plan_;
    const Shoot& shoot_;
    const Region& region_;
    PlanFaults& faults_;
    roads::PathFinder roads_;
    geo::Interval hours_;
    Shut before_, now_;
    std::uint8_t aside_ = 0; ///< wishes on roads set aside
    std::optional<roads::foot::SlopePace> slopes_;
    std::optional<roads::foot::WalkFinder> walks_;
};

} // namespace

void check_legs(const Plan& plan, const Shoot& shoot, const Region& region, PlanFaults& faults) {
    LegCheck(plan, shoot, region, faults).check();
}

} // namespace routing::shoot
