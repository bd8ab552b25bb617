// TimedFinder against TimedReference, and both against PathFinder, on the town map and the optional extracts.

#include "geo/local_time.hpp"
#include "prepared_maps.hpp"
#include "routing/roads/rule_times.hpp"
#include "routing/roads/timed/roads_in_play.hpp"
#include "routing/roads/timed/timed_finder.hpp"
#include "routing/roads/timed/timed_legs.hpp"
#include "routing/roads/timed/timed_reference.hpp"
#include "timed_walk.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <iterator>
#include <optional>

using namespace routing::roads;
using namespace routing::roads::timed;
namespace hierarchy = routing::roads::hierarchy;
using support::PreparedMap;

namespace {

constexpr geo::Instant noon{geo::Seconds{1'700'000'000}};

geo::Instant random_instant(support::Dice& dice, int seconds_around_noon) {
    return noon + geo::Seconds{static_cast<std::int64_t>(dice.below(2 * seconds_around_noon)) - seconds_around_noon};
}

/// Every second one lies on the way between two of the points: a road nobody would take changes nothing when shut.
std::vector<TimedClosure> random_closures(const PreparedMap& map, support::Dice& dice, PathFinder& paths,
                                          const std::vector<RoadPoint>& from, const std::vector<RoadPoint>& to,
                                          int count) {
    std::vector<TimedClosure> closures;
    for (int n = 0; n < count; ++n) {
        TimedClosure closure{{support::random_edge(map.network, dice)}, {random_instant(dice, 3600), {}}};
        closure.shut.until = closure.shut.from + geo::Seconds{30 + dice.below(5400)};
        if (n % 2 == 0) {
            const auto path = paths.quickest_path(from[dice.below(static_cast<std::uint32_t>(from.size()))],
                                                  to[dice.below(static_cast<std::uint32_t>(to.size()))]);
            if (path && !path->pieces.empty()) {
                closure.edges.clear();
                std::size_t piece = dice.below(static_cast<std::uint32_t>(path->pieces.size()));
                for (int stretch = 0; stretch < 3 && piece < path->pieces.size(); ++stretch, ++piece)
                    closure.edges.push_back(path->pieces[piece].edge);
            }
        }
        closures.push_back(closure);
    }
    return closures;
}

std::vector<TimedClosure> all_of(const std::vector<EdgeIndex>& edges, geo::Interval shut) {
    return {{edges, shut}};
}

/// Every two minutes for four hours: outside the unsettled departures a leg takes one time from one span to the next.
void check_settled(TimedLegs& legs, std::size_t from, std::size_t to, std::size_t& seen) {
    const geo::Intervals spans = legs.unsettled(from, to);
    std::optional<Milliseconds> stays;
    std::size_t gap = 0;
    for (geo::Instant departure = noon - geo::Seconds{7200}; departure <= noon + geo::Seconds{7200};
         departure += geo::Seconds{113}) {
        const auto next =
            std::find_if(spans.begin(), spans.end(), [&](const geo::Interval& span) { return departure < span.until; });
        if (next != spans.end() && departure > next->from)
            continue;
        const auto now_in = static_cast<std::size_t>(next - spans.begin());
        if (now_in != gap)
            stays.reset();
        gap = now_in;
        const Milliseconds time = legs.time(from, to, departure);
        if (stays)
            REQUIRE(time == *stays);
        seen += stays ? 1 : 0;
        stays = time;
    }
}

} // namespace

TEST_CASE("2,000 random pairs of each extract, 1 and 20 roads shut for a time: as plain Dijkstra's, paths drivable") {
    for (const auto& map : support::prepared_maps()) {
        CAPTURE(map->name);
        support::Dice dice(2021);
        PathFinder paths(map->network);
        ShutTimes shut;
        TimedReference reference(map->network, shut);
        hierarchy::Metric metric(map->shape, map->network, {});
        TimedFinder finder(metric, shut);
        int found = 0;
        int waited = 0;
        int longer = 0;
        for (int round = 0; round < 20; ++round) {
            const auto from = support::random_points(map->network, dice, 10);
            auto to = support::random_points(map->network, dice, 9);
            to.push_back(support::on(map->network, from[0].edge, dice.share()));
            const auto closures = random_closures(*map, dice, paths, from, to, round % 2 == 0 ? 1 : 20);
            shut = ShutTimes(map->network.edges.size(), closures);
            // Roads shut for good as well, in every fourth round.
            const auto shut_for_good = support::random_edges(map->network, dice, round % 4 == 3 ? 20 : 0);
            const ClosedEdges closed_edges = support::flags(map->network, shut_for_good);
            metric.shut(shut_for_good);
            for (const RoadPoint& start : from) {
                const geo::Instant departure = random_instant(dice, 3600);
                const auto times = reference.travel_times(start, to, departure, closed_edges);
                for (std::size_t i = 0; i < to.size(); ++i) {
                    const auto path = finder.quickest(start, to[i], departure);
                    REQUIRE((path ? path->time : closed) == times[i]);
                    REQUIRE(finder.searched_time(start, to[i], departure).value_or(closed) == times[i]);
                    if (!path)
                        continue;
                    ++found;
                    waited += path->waits.empty() ? 0 : 1;
                    longer += path->time > finder.path_without_closures(start, to[i])->time ? 1 : 0;
                    REQUIRE(support::timed_fault_of(map->network, map->rules, start, to[i], *path, closures, departure,
                                                    closed_edges) == "");
                }
                const auto plain = reference.quickest(start, to[0], departure, closed_edges);
                REQUIRE((plain ? plain->time : closed) == times[0]);
                if (plain)
                    REQUIRE(support::timed_fault_of(map->network, map->rules, start, to[0], *plain, closures, departure,
                                                    closed_edges) == "");
            }
            metric.reopen();
        }
        CHECK(found > 1000);
        CHECK(longer > 50);
        CHECK(waited > 10);
    }
}

TEST_CASE("a closure long past or far ahead changes nothing, one without beginning and end shuts the road for good") {
    for (const auto& map : support::prepared_maps()) {
        CAPTURE(map->name);
        support::Dice dice(77);
        PathFinder paths(map->network);
        const hierarchy::Metric metric(map->shape, map->network, {});
        for (int round = 0; round < 4; ++round) {
            const auto from = support::random_points(map->network, dice, 5);
            const auto to = support::random_points(map->network, dice, 5);
            const auto edges = support::random_edges(map->network, dice, 200);
            const auto open_times = paths.travel_times(from, to);
            const auto shut_times = paths.travel_times(from, to, support::flags(map->network, edges));
            const auto agrees = [&](geo::Interval when, const std::vector<Milliseconds>& times) {
                const ShutTimes shut(map->network.edges.size(), all_of(edges, when));
                TimedReference reference(map->network, shut);
                TimedFinder finder(metric, shut);
                for (std::size_t i = 0; i < from.size(); ++i) {
                    const std::vector<Milliseconds> row(times.begin() + static_cast<std::ptrdiff_t>(i * to.size()),
                                                        times.begin() +
                                                            static_cast<std::ptrdiff_t>((i + 1) * to.size()));
                    REQUIRE(reference.travel_times(from[i], to, noon) == row);
                    for (std::size_t j = 0; j < to.size(); ++j) {
                        REQUIRE(finder.travel_time(from[i], to[j], noon).value_or(closed) == row[j]);
                        REQUIRE(finder.searched_time(from[i], to[j], noon).value_or(closed) == row[j]);
                    }
                }
            };
            agrees({since_ever, noon - geo::Seconds{86400}}, open_times);
            agrees({noon + geo::Seconds{20 * 86400}, for_ever}, open_times);
            agrees({since_ever, for_ever}, shut_times);
        }
    }
}

TEST_CASE("timed legs tell every departure's time as plain Dijkstra does") {
    for (const auto& map : support::prepared_maps()) {
        CAPTURE(map->name);
        support::Dice dice(12);
        PathFinder paths(map->network);
        hierarchy::Metric metric(map->shape, map->network, {});
        std::size_t asked = 0, settled = 0, inside = 0, exact = 0, kept = 0;
        for (int round = 0; round < 8; ++round) {
            const auto stops = support::random_points(map->network, dice, 8);
            const auto closures = random_closures(*map, dice, paths, stops, stops, round % 2 == 0 ? 1 : 10);
            const ShutTimes shut(map->network.edges.size(), closures);
            TimedLegs legs(metric, shut, stops, stops);
            if (ShutRoadGraph::suits(map->network, shut.edges_ever_shut()))
                REQUIRE(legs.is_exact());
            for (std::size_t i = 0; i < stops.size(); ++i)
                for (std::size_t j = 0; j < stops.size(); ++j)
                    check_settled(legs, i, j, kept);
            TimedReference reference(map->network, shut);
            for (int hour = 0; hour < 6; ++hour) {
                const geo::Instant departure = random_instant(dice, 5400);
                for (std::size_t i = 0; i < stops.size(); ++i) {
                    const auto row = reference.travel_times(stops[i], stops, departure);
                    for (std::size_t j = 0; j < stops.size(); ++j) {
                        const auto spans = legs.unsettled(i, j);
                        const bool is_inside = std::any_of(spans.begin(), spans.end(), [&](const geo::Interval& span) {
                            return span.from < departure && departure < span.until;
                        });
                        ++asked;
                        settled += legs.is_settled(i, j) ? 1 : 0;
                        inside += is_inside ? 1 : 0;
                        exact += legs.is_exact() ? 1 : 0;
                        REQUIRE(legs.time(i, j, departure) >= row[j]);
                        if (legs.is_exact())
                            REQUIRE(legs.time(i, j, departure) == row[j]);
                        REQUIRE(legs.least_time(i, j) <= row[j]);
                        REQUIRE(legs.longest_time(i, j) >= row[j]);
                    }
                }
            }
        }
        CHECK(kept > 0);
        CHECK(settled > asked / 4);
        CHECK(exact > asked / 8);
        CHECK(inside > 0);
    }
}

TEST_CASE("of many roads shut for a time only those in play count, and the times stay plain Dijkstra's") {
    for (const auto& map : support::prepared_maps()) {
        CAPTURE(map->name);
        support::Dice dice(31);
        hierarchy::Metric metric(map->shape, map->network, {});
        std::size_t exact = 0, ever_shut = 0, in_play = 0, longer = 0, kept = 0;
        for (int round = 0; round < 4; ++round) {
            const auto stops = support::random_points(map->network, dice, 5);
            std::vector<TimedClosure> closures;
            for (const EdgeIndex edge : support::random_edges(map->network, dice, 400)) {
                closures.push_back({{edge}, {random_instant(dice, 3600), {}}});
                closures.back().shut.until = closures.back().shut.from + geo::Seconds{600 + dice.below(5400)};
            }
            const ShutTimes shut(map->network.edges.size(), closures);
            hierarchy::TravelTable table(metric);
            const auto open_times = table.times(stops, stops);
            const auto few = roads_in_play(metric, shut, stops, stops, ShutRoadGraph::most_arcs);
            ever_shut += shut.edges_ever_shut().size();
            in_play += few.size();
            REQUIRE(few.size() <= shut.edges_ever_shut().size());
            TimedLegs legs(metric, shut, stops, stops);
            exact += legs.is_exact() ? 1 : 0;
            for (std::size_t i = 0; i < stops.size(); ++i)
                for (std::size_t j = 0; j < stops.size(); ++j)
                    check_settled(legs, i, j, kept);
            // What is not in play shut for good: the same times, by another way of reckoning.
            std::vector<EdgeIndex> others;
            std::set_difference(shut.edges_ever_shut().begin(), shut.edges_ever_shut().end(), few.begin(), few.end(),
                                std::back_inserter(others));
            const ClosedEdges closed_edges = support::flags(map->network, others);
            TimedReference reference(map->network, shut);
            for (int hour = 0; hour < 3; ++hour) {
                const geo::Instant departure = random_instant(dice, 5400);
                for (std::size_t i = 0; i < stops.size(); ++i) {
                    const auto row = reference.travel_times(stops[i], stops, departure);
                    REQUIRE(reference.travel_times(stops[i], stops, departure, closed_edges) == row);
                    for (std::size_t j = 0; j < stops.size(); ++j) {
                        longer += row[j] > open_times[i * stops.size() + j] ? 1 : 0;
                        REQUIRE(legs.time(i, j, departure) >= row[j]);
                        if (legs.is_exact())
                            REQUIRE(legs.time(i, j, departure) == row[j]);
                    }
                }
            }
        }
        CHECK(kept > 1000);
        CHECK(exact >= 3); // of four rounds, with up to 400 roads shut
        CHECK(in_play < ever_shut);
        CHECK(longer > 0);
        MESSAGE(map->name, ": ", in_play, " of ", ever_shut, " roads in play, ", exact, " of 4 exact, ", longer,
                " legs longer");
    }
}

TEST_CASE("legs under the hours that a real map itself gives its roads are as plain Dijkstra's") {
    // A week from Monday, 3 May 2021, on a clock.
    const geo::Instant monday{std::chrono::sys_days{std::chrono::year{2021} / 5 / 3}};
    const geo::Interval week{monday, monday + geo::Seconds{7 * 86400}};
    const geo::TimeZone zone = *geo::find_time_zone("Europe/Vaduz");
    for (const auto& map : support::prepared_maps()) {
        if (map->network.edge_time_rules.empty())
            continue;
        CAPTURE(map->name);
        std::vector<TimedClosure> closures;
        support::Dice dice(53);
        auto stops = support::random_points(map->network, dice, 4);
        for (const EdgeTimeRule& row : map->network.edge_time_rules) {
            const Edge& edge = map->network.edges[value(row.edge)];
            const routing::hours::Site site{map->network.shape_of(edge).front(), zone, {}};
            for (const geo::Interval& shut : shut_by_rule(map->network.time_rules[row.rule], week, site).shut)
                closures.push_back({{row.edge}, shut});
            // A stop on each road that meets it, so that some way leads over it.
            for (const bool forward : {true, false})
                for (const std::uint32_t along : map->network.arcs_along(row.edge, forward))
                    for (const Arc& arc : map->network.arcs_from(map->network.arcs[along].head))
                        if (arc.edge != row.edge && stops.size() < 24)
                            stops.push_back(support::on(map->network, arc.edge, dice.share()));
        }
        const ShutTimes shut(map->network.edges.size(), closures);
        hierarchy::Metric metric(map->shape, map->network, {});
        TimedLegs legs(metric, shut, stops, stops);
        TimedReference reference(map->network, shut);
        std::size_t longer = 0;
        for (int hour = 0; hour < 24; ++hour) {
            const geo::Instant departure = monday + geo::Seconds{hour * 3600 + dice.below(3600)};
            for (std::size_t i = 0; i < stops.size(); ++i) {
                const auto row = reference.travel_times(stops[i], stops, departure);
                for (std::size_t j = 0; j < stops.size(); ++j) {
                    longer += row[j] > legs.least_time(i, j) ? 1 : 0;
                    REQUIRE(legs.time(i, j, departure) >= row[j]);
                    if (legs.is_exact())
                        REQUIRE(legs.time(i, j, departure) == row[j]);
                }
            }
        }
        MESSAGE(map->name, ": ", map->network.edge_time_rules.size(), " stretches under ",
                map->network.time_rules.size(), " rules, ", shut.edges_ever_shut().size(), " ever shut that week, ",
                longer, " legs longer, exact ", legs.is_exact());
    }
}
