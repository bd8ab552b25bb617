#include "routing/shoot/closed_roads.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/scene_light.hpp"

#include <algorithm>

namespace routing::shoot {

namespace {

std::string candidate_list(const std::vector<std::string>& candidates) {
    std::string list;
    for (const std::string& candidate : candidates)
        list += (list.empty() ? "" : ", ") + candidate;
    return list.empty() ? "no road is near: check the coordinates" : "nearest: " + list;
}

/// From the first day's earliest call to the last day's latest wrap.
geo::Interval hours_of(const Shoot& shoot) {
    geo::Interval hours = working_span(shoot.days.front(), shoot.zone);
    for (const ShootDay& day : shoot.days) {
        const geo::Interval span = working_span(day, shoot.zone);
        hours = {std::min(hours.from, span.from), std::max(hours.until, span.until)};
    }
    return hours;
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
    const auto apply = [&](const roads::Closure& closure, const std::string& file, const std::string& field) {
        const roads::ClosureMatch match = roads::match_closure(*region.network, region.index, closure);
        if (!match.problem.empty()) {
            faults.push_back({file, field, closure.label, "matches no road of " + region.file + ": " + match.problem,
                              candidate_list(match.candidates)});
            return;
        }
        const geo::Interval span{closure.from.value_or(roads::timed::since_ever),
                                 closure.until.value_or(roads::timed::for_ever)};
        const std::string when = hours_text(closure, shoot.zone);
        if (span.from <= hours.from && span.until >= hours.until) {
            roads::close(shut.edges, *region.network, match);
            shut.descriptions.push_back("closed for the whole plan: " + match.description);
        } else if (span.until <= hours.from || span.from >= hours.until) {
            shut.descriptions.push_back("closed outside the hours of this shoot, " + when + ": " + match.description);
        } else {
            shut.timed.push_back({match.edges, span});
            shut.descriptions.push_back("closed " + when + ": " + match.description);
        }
    };
    for (std::size_t n = 0; n < shoot.closures.size(); ++n)
        apply(shoot.closures[n], shoot.file, "/closures/" + std::to_string(n));
    for (const roads::Closure& closure : extra)
        apply(closure, "--close", "");
    if (!faults.empty())
        throw geo::InputError(faults);
    return shut;
}

roads::ClosedEdges shut_at(const ClosedRoads& shut, Instant when, const roads::RoadNetwork& network) {
    return with_timed(shut, network, [&](const geo::Interval& span) { return span.from <= when && when < span.until; });
}

roads::ClosedEdges ever_shut(const ClosedRoads& shut, const roads::RoadNetwork& network) {
    return with_timed(shut, network, [](const geo::Interval&) { return true; });
}

} // namespace routing::shoot
