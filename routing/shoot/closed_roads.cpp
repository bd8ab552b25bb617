#include "routing/shoot/closed_roads.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/shut_by_hours.hpp"

#include <algorithm>
#include <set>

namespace routing::shoot {

namespace {

std::string candidate_list(const roads::Closure& closure, const std::vector<std::string>& candidates) {
    std::string list;
    for (const std::string& candidate : candidates)
        list += (list.empty() ? "" : ", ") + candidate;
    const auto* named = std::get_if<roads::RoadNamed>(&closure.where);
    const std::string none = named != nullptr && !named->near
                                 ? "no road has a name like it: check the spelling; behind the name may stand for van "
                                   "or foot, and times"
                                 : "no road is near: check the coordinates";
    return list.empty() ? none : "nearest: " + list;
}

/// Against the hours of a shoot.
enum class Holds { never, for_a_time, always };

/// From the first day's earliest call to the last day's latest wrap.
geo::Interval hours_of(const Shoot& shoot) {
    geo::Interval hours = working_span(shoot.days.front(), shoot.zone);
    for (const ShootDay& day : shoot.days) {
        const geo::Interval span = working_span(day, shoot.zone);
        hours = {std::min(hours.from, span.from), std::max(hours.until, span.until)};
    }
    return hours;
}

/// From earliest call to latest wrap, day by day.
geo::Intervals working_hours(const Shoot& shoot) {
    geo::Intervals hours;
    for (const ShootDay& day : shoot.days)
        hours.push_back(working_span(day, shoot.zone));
    return geo::join(std::move(hours));
}

std::size_t count_ways(const std::vector<roads::EdgeIndex>& edges, const roads::RoadNetwork& network) {
    std::set<roads::OsmId> ways;
    for (const roads::EdgeIndex edge : edges)
        ways.insert(network.edges[roads::value(edge)].way);
    return ways.size();
}

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::vector<roads::EdgeIndex> edges_of(const std::vector<roads::timed::TimedClosure>& closures) {
    std::vector<roads::EdgeIndex> edges;
    for (const roads::timed::TimedClosure& closure : closures)
        edges.insert(edges.end(), closure.edges.begin(), closure.edges.end());
    return edges;
}

void shut_edges(roads::ClosedEdges& closed, const std::vector<roads::EdgeIndex>& edges,
                const roads::RoadNetwork& network) {
    if (edges.empty())
        return;
    closed.resize(network.edges.size(), false);
    for (const roads::EdgeIndex edge : edges)
        closed[roads::value(edge)] = true;
}

/// Hours, dates and seasons of the map itself.
void shut_by_map(const Shoot& shoot, const Region& region, ClosedRoads& shut) {
    const geo::Intervals working = working_hours(shoot);
    const ShutByHours van = shut_by_hours(*region.network, working, shoot);
    shut_edges(shut.edges, van.throughout, *region.network);
    shut.timed.insert(shut.timed.end(), van.timed.begin(), van.timed.end());
    const std::size_t throughout = count_ways(van.throughout, *region.network);
    const std::size_t for_a_time = count_ways(edges_of(van.timed), *region.network);
    if (throughout + for_a_time > 0)
        shut.descriptions.push_back(
            "shut by hours or seasons on the map: " + counted(throughout, "road", "roads") + " for the whole plan, " +
            counted(for_a_time, "road", "roads") + " for a part of it, told with each leg that meets one" +
            (van.unsure_roads > 0 ? "; " + std::to_string(van.unsure_roads) + " of them in hours that are not sure"
                                  : "") +
            "; heed the signs on the spot");
    if (!region.foot_has_hours)
        return;
    ShutByHours foot = shut_by_hours(region.foot->network(), working, shoot);
    const std::vector<roads::EdgeIndex> at_some_hours = edges_of(foot.timed);
    foot.throughout.insert(foot.throughout.end(), at_some_hours.begin(), at_some_hours.end());
    shut_edges(shut.foot, foot.throughout, region.foot->network());
    if (!foot.throughout.empty())
        shut.descriptions.push_back("kept off on foot for the whole plan, shut by hours or seasons on the map: " +
                                    counted(count_ways(foot.throughout, region.foot->network()), "path", "paths"));
}

/// With those shut for a time whose time `counts`.
template <class Counts>
roads::ClosedEdges with_timed(const ClosedRoads& shut, const roads::RoadNetwork& network, const Counts& counts) {
    roads::ClosedEdges edges = shut.edges;
    for (const roads::timed::TimedClosure& closure : shut.timed)
        if (counts(closure.shut)) {
            edges.resize(network.edges.size(), false);
            for (const roads::EdgeIndex edge : closure.edges)
                edges[roads::value(edge)] = true;
        }
    return edges;
}

std::string day_and_clock(Instant when, const geo::TimeZone& zone) {
    return geo::to_string(geo::civil_date(when, zone)) + " " + geo::clock_text(when, zone);
}

} // namespace

std::string hours_text(const roads::Closure& closure, const geo::TimeZone& zone) {
    if (!closure.from && !closure.until)
        return "";
    if (!closure.until)
        return "from " + day_and_clock(*closure.from, zone);
    if (!closure.from)
        return "until " + day_and_clock(*closure.until, zone);
    const bool one_day = geo::civil_date(*closure.from, zone) == geo::civil_date(*closure.until, zone);
    return day_and_clock(*closure.from, zone) + " to " +
           (one_day ? geo::clock_text(*closure.until, zone) : day_and_clock(*closure.until, zone));
}

ClosedRoads close_roads(const Shoot& shoot, const std::vector<roads::Closure>& extra, const Region& region) {
    ClosedRoads shut;
    std::vector<geo::InputFault> faults;
    const geo::Interval hours = hours_of(shoot);
    const auto shut_on_foot = [&](const roads::ClosureMatch& match, const std::string& when, Holds holds) {
        if (holds != Holds::never)
            roads::close(shut.foot, region.foot->network(), match);
        shut.descriptions.push_back((holds == Holds::always ? "closed on foot for the whole plan: "
                                     : holds == Holds::never
                                         ? "closed on foot outside the hours of this shoot, " + when + ": "
                                         : "closed on foot " + when + ", and kept off for the whole plan: ") +
                                    match.description);
    };
    const auto shut_for_van = [&](const roads::ClosureMatch& match, const geo::Interval& span, const std::string& when,
                                  Holds holds) {
        if (holds == Holds::always)
            roads::close(shut.edges, *region.network, match);
        else if (holds == Holds::for_a_time)
            shut.timed.push_back({match.edges, span});
        shut.descriptions.push_back((holds == Holds::always  ? "closed for the whole plan: "
                                     : holds == Holds::never ? "closed outside the hours of this shoot, " + when + ": "
                                                             : "closed " + when + ": ") +
                                    match.description);
    };
    const auto apply = [&](const roads::Closure& closure, const std::string& file, const std::string& field) {
        const geo::Interval span{closure.from.value_or(roads::timed::since_ever),
                                 closure.until.value_or(roads::timed::for_ever)};
        const std::string when = hours_text(closure, shoot.zone);
        const Holds holds = span.from <= hours.from && span.until >= hours.until   ? Holds::always
                            : span.until <= hours.from || span.from >= hours.until ? Holds::never
                                                                                   : Holds::for_a_time;
        std::vector<roads::ClosureMatch> missed;
        bool matched = false; // by what the van drives or by what the crew walks: either will do
        const auto use = [&](roads::ClosureMatch match, const auto& shut_it) {
            if (!match.problem.empty())
                return missed.push_back(std::move(match));
            matched = true;
            shut_it(match);
        };
        if (closure.van)
            use(roads::match_closure(*region.network, region.index, closure),
                [&](const roads::ClosureMatch& match) { shut_for_van(match, span, when, holds); });
        if (closure.foot) {
            use(roads::match_closure(region.foot->network(), region.foot->index(), closure),
                [&](const roads::ClosureMatch& match) { shut_on_foot(match, when, holds); });
        }
        if (!matched)
            faults.push_back({file, field, closure.label,
                              std::string("matches no ") +
                                  (closure.foot ? closure.van ? "road or path" : "path that may be walked" : "road") +
                                  " of " + region.file + ": " + missed.front().problem,
                              candidate_list(closure, missed.front().candidates)});
    };
    for (std::size_t n = 0; n < shoot.closures.size(); ++n)
        apply(shoot.closures[n], shoot.file, "/closures/" + std::to_string(n));
    for (const roads::Closure& closure : extra)
        apply(closure, "--close", "");
    if (!faults.empty())
        throw geo::InputError(faults);
    shut_by_map(shoot, region, shut);
    return shut;
}

roads::ClosedEdges shut_at(const ClosedRoads& shut, Instant when, const roads::RoadNetwork& network) {
    return with_timed(shut, network, [&](const geo::Interval& span) { return span.from <= when && when < span.until; });
}

roads::ClosedEdges ever_shut(const ClosedRoads& shut, const roads::RoadNetwork& network) {
    return with_timed(shut, network, [](const geo::Interval&) { return true; });
}

} // namespace routing::shoot
