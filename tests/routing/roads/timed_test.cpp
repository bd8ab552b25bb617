// Closures in force for a time, on networks drawn by hand and at random.

#include "dice.hpp"
#include "hand_network.hpp"
#include "routing/roads/hierarchy/hierarchy.hpp"
#include "routing/roads/timed/timed_finder.hpp"
#include "routing/roads/timed/timed_legs.hpp"
#include "routing/roads/timed/timed_reference.hpp"
#include "routing/roads/zone_state.hpp"
#include "timed_walk.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <numeric>

using namespace routing::roads;
using namespace routing::roads::timed;
namespace hierarchy = routing::roads::hierarchy;
using support::HandNetwork;
using support::on;

namespace {

constexpr geo::Instant noon{geo::Seconds{1'700'000'000}};

geo::Instant after(std::int64_t seconds) {
    return noon + geo::Seconds{seconds};
}

TimedClosure shut(EdgeIndex edge, std::int64_t from, std::int64_t until) {
    return {{edge}, {after(from), after(until)}};
}

hierarchy::Hierarchy hierarchy_of(const RoadNetwork& network) {
    std::vector<std::uint32_t> order(network.node_count());
    std::iota(order.begin(), order.end(), 0);
    return hierarchy::build_hierarchy(network, order);
}

/// Asks both finders, wants one answer that can be driven, and gives TimedFinder's.
std::optional<TimedPath> ask(const HandNetwork& map, const std::vector<TimedClosure>& closures, const RoadPoint& from,
                             const RoadPoint& to, geo::Instant departure = noon) {
    const RoadNetwork network = map.network();
    const ShutTimes shut_times(network.edges.size(), closures);
    const hierarchy::Hierarchy shape = hierarchy_of(network);
    const hierarchy::Metric metric(shape, network, {});
    TimedFinder finder(metric, shut_times);
    const auto path = finder.quickest(from, to, departure);
    const auto reference = TimedReference(network, shut_times).quickest(from, to, departure);
    REQUIRE(path.has_value() == reference.has_value());
    CHECK(finder.travel_time(from, to, departure) == (path ? std::optional(path->time) : std::nullopt));
    if (!path)
        return path;
    CHECK(path->time == reference->time);
    CHECK(support::timed_fault_of(network, map.rules(), from, to, *path, closures, departure) == "");
    CHECK(support::timed_fault_of(network, map.rules(), from, to, *reference, closures, departure) == "");
    return path;
}

/// "0+ wait 80 1+": edges in order of driving, + in drawing order, and seconds waited.
std::string story(const std::optional<TimedPath>& path) {
    if (!path)
        return "none";
    std::string text;
    const auto waits_before = [&](std::size_t piece) {
        for (const Wait& wait : path->waits)
            if (wait.piece == piece)
                text += "wait " + std::to_string((wait.until - wait.from).count() / 1000) + " ";
    };
    for (std::size_t i = 0; i < path->pieces.size(); ++i) {
        waits_before(i);
        text += std::to_string(value(path->pieces[i].edge)) + (path->pieces[i].forward ? "+ " : "- ");
    }
    waits_before(path->pieces.size());
    return text + "in " + std::to_string(path->time / 1000);
}

/// A pass between two junctions, 60 s, with a way round it, 200 s; both ends of the leg are 50 s from the pass.
struct PassMap {
    HandNetwork map;
    EdgeIndex before, pass, round, behind;
    RoadPoint from, to;

    PassMap() {
        const auto s = map.junction(-35.0, -20.00);
        const auto a = map.junction(-35.0, -20.01);
        const auto b = map.junction(-35.0, -20.02);
        const auto t = map.junction(-35.0, -20.03);
        before = map.road(s, a, {.seconds = 100});
        pass = map.road(a, b, {.seconds = 60});
        round = map.road(a, b, {.seconds = 200, .between = {{{-35.01}, {-20.015}}}});
        behind = map.road(b, t, {.seconds = 100});
        const RoadNetwork network = map.network();
        from = on(network, before, 0.5);
        to = on(network, behind, 0.5);
    }
    std::string leg(const std::vector<TimedClosure>& closures, std::int64_t departure = 0) const {
        return story(ask(map, closures, from, to, after(departure)));
    }
};

} // namespace

TEST_CASE("a road shut for a time may be driven until it shuts and from when it reopens") {
    const PassMap map;
    CHECK(map.leg({}) == "0+ 1+ 3+ in 160");
    // The van is on the pass from 50 to 110 s after it leaves.
    CHECK(map.leg({shut(map.pass, 110, 5000)}) == "0+ 1+ 3+ in 160");
    CHECK(map.leg({shut(map.pass, 109, 5000)}) == "0+ 2+ 3+ in 300");
    CHECK(map.leg({shut(map.pass, -5000, 50)}) == "0+ 1+ 3+ in 160");
    CHECK(map.leg({shut(map.pass, -5000, 51)}) == "0+ wait 1 1+ 3+ in 161");
    CHECK(map.leg({shut(map.pass, 70, 70)}) == "0+ 1+ 3+ in 160"); // of no length: shuts nothing
}

TEST_CASE("a road that shuts while it would be crossed is waited for when the way round takes longer") {
    const PassMap map;
    CHECK(map.leg({shut(map.pass, 100, 130)}) == "0+ wait 80 1+ 3+ in 240");
    CHECK(map.leg({shut(map.pass, 100, 189)}) == "0+ wait 139 1+ 3+ in 299");
    CHECK(map.leg({shut(map.pass, 100, 191)}) == "0+ 2+ 3+ in 300");
    CHECK(map.leg({shut(map.pass, 100, 130), shut(map.round, 0, 4000)}) == "0+ wait 80 1+ 3+ in 240");
}

TEST_CASE("a second closure counts when the road can't be crossed between the two") {
    const PassMap map;
    CHECK(map.leg({shut(map.pass, 190, 220), shut(map.pass, 100, 130)}) == "0+ wait 80 1+ 3+ in 240");
    CHECK(map.leg({shut(map.pass, 100, 130), shut(map.pass, 189, 195)}) == "0+ 2+ 3+ in 300");
    CHECK(map.leg({shut(map.pass, 100, 110), shut(map.pass, 130, 140)}) == "0+ wait 90 1+ 3+ in 250");
    CHECK(map.leg({shut(map.pass, 100, 110), shut(map.pass, 110, 120)}) == "0+ wait 70 1+ 3+ in 230");
    CHECK(map.leg({shut(map.pass, 100, 150), shut(map.pass, 90, 120)}) == "0+ wait 100 1+ 3+ in 260");
}

TEST_CASE("shut times of a road are merged, in order, whatever the order given") {
    const ShutTimes times(4, {shut(EdgeIndex{2}, 50, 60),
                              shut(EdgeIndex{0}, 5, 5),
                              shut(EdgeIndex{2}, 10, 20),
                              shut(EdgeIndex{2}, 20, 30),
                              {{EdgeIndex{3}, EdgeIndex{2}}, {after(55), for_ever}}});
    CHECK(times.edges_ever_shut() == std::vector{EdgeIndex{2}, EdgeIndex{3}});
    CHECK(times.shut_times_of(EdgeIndex{2}) == geo::Intervals{{after(10), after(30)}, {after(50), for_ever}});
    CHECK(times.shut_times_of(EdgeIndex{3}) == geo::Intervals{{after(55), for_ever}});
    CHECK(times.shut_times_of(EdgeIndex{0}).empty());
    CHECK_FALSE(times.is_ever_shut(EdgeIndex{0}));
    CHECK_FALSE(ShutTimes{}.is_ever_shut(EdgeIndex{3}));
    const ShutTimes far(1, {{{EdgeIndex{0}}, {geo::Instant::min(), geo::Instant::max()}}});
    CHECK(far.shut_times_of(EdgeIndex{0}) == geo::Intervals{{since_ever, for_ever}});
}

TEST_CASE("of the roads the points stand on, the part driven counts") {
    const PassMap map;
    CHECK(map.leg({shut(map.before, 50, 80)}) == "0+ 1+ 3+ in 160");
    CHECK(map.leg({shut(map.before, 49, 80)}) == "wait 80 0+ 1+ 3+ in 240");
    CHECK(map.leg({shut(map.before, -10, 80)}) == "wait 80 0+ 1+ 3+ in 240");
    CHECK(map.leg({shut(map.behind, 160, 170)}) == "0+ 1+ 3+ in 160");
    CHECK(map.leg({shut(map.behind, 159, 170)}) == "0+ 1+ wait 60 3+ in 220");
    CHECK(map.leg({shut(map.before, -10, 80), shut(map.behind, 239, 250)}) == "wait 80 0+ 1+ wait 60 3+ in 300");
}

TEST_CASE("a point at the very end of a shut road is left and reached when the road reopens") {
    PassMap map;
    const RoadNetwork network = map.map.network();
    map.from = on(network, map.before, 1.0);
    CHECK(map.leg({shut(map.before, -10, 80)}) == "wait 80 1+ 3+ in 190");
    CHECK(map.leg({shut(map.before, -10, 80), shut(map.pass, 130, 150)}) == "wait 150 1+ 3+ in 260");
    map.to = on(network, map.behind, 0.0);
    CHECK(map.leg({shut(map.behind, 50, 90)}) == "1+ wait 30 in 90");
    CHECK(map.leg({shut(map.behind, 60, 90)}) == "1+ in 60");
}

TEST_CASE("two points on one road shut for a time") {
    PassMap map;
    const RoadNetwork network = map.map.network();
    map.from = on(network, map.pass, 0.25);
    map.to = on(network, map.pass, 0.75);
    CHECK(map.leg({shut(map.pass, 30, 80)}) == "1+ in 30");
    CHECK(map.leg({shut(map.pass, 29, 80)}) == "wait 80 1+ in 110");
    map.to = map.from;
    CHECK(map.leg({shut(map.pass, -10, 80)}) == "in 0");
}

TEST_CASE("a destination-only road is no way round a closure, but may open or end a leg") {
    HandNetwork map;
    const auto s = map.junction(-35.0, -20.00);
    const auto a = map.junction(-35.0, -20.01);
    const auto b = map.junction(-35.0, -20.02);
    const auto t = map.junction(-35.0, -20.03);
    const auto before = map.road(s, a, {.seconds = 100});
    const auto pass = map.road(a, b, {.seconds = 60});
    const auto lane = map.road(a, b, {.seconds = 80, .destination_only = true, .between = {{{-35.01}, {-20.015}}}});
    const auto behind = map.road(b, t, {.seconds = 100});
    const RoadNetwork network = map.network();
    const auto from = on(network, before, 0.5);
    const auto to = on(network, behind, 0.5);
    CHECK(story(ask(map, {shut(pass, 0, 600)}, from, to)) == "0+ wait 550 1+ 3+ in 710");
    CHECK(story(ask(map, {shut(pass, 0, 600)}, from, on(network, lane, 0.75))) == "0+ 2+ in 110");
    CHECK(story(ask(map, {shut(pass, 0, 600)}, on(network, lane, 0.25), to)) == "2+ 3+ in 110");
    CHECK(story(ask(map, {shut(lane, 0, 200)}, on(network, lane, 0.25), to)) == "wait 200 2+ 3+ in 310");
    // Shut where no leg begins or ends it is nobody's way, and legs are told exactly; else they are not.
    const hierarchy::Hierarchy shape = hierarchy_of(network);
    hierarchy::Metric metric(shape, network, {});
    const ShutTimes both(network.edges.size(), {shut(pass, 0, 600), shut(lane, 0, 600)});
    TimedLegs past(metric, both, {from}, {to});
    CHECK(past.is_exact());
    CHECK(past.time(0, 0, noon) == 710'000);
    CHECK_FALSE(TimedLegs(metric, both, {from}, {on(network, lane, 0.75)}).is_exact());
    // The far end of the lane, when its near end can't be used.
    CHECK(story(ask(map, {}, from, on(network, lane, 0.95))) == "0+ 1+ 2- in 114");
    CHECK(story(ask(map, {shut(pass, 0, 600)}, from, on(network, lane, 0.95))) == "0+ 2+ in 126");
}

TEST_CASE("a road shut for ever is no way; nor is a wait of twelve days and more") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.00);
    const auto b = map.junction(-35.0, -20.01);
    const auto c = map.junction(-35.0, -20.02);
    const auto first = map.road(a, b);
    const auto second = map.road(b, c);
    const RoadNetwork network = map.network();
    const auto from = on(network, first, 0.0);
    const auto to = on(network, second, 1.0);
    CHECK(story(ask(map, {{{second}, {since_ever, for_ever}}}, from, to)) == "none");
    CHECK(story(ask(map, {{{second}, {noon, for_ever}}}, from, to)) == "none");
    CHECK(story(ask(map, {{{second}, {since_ever, after(100)}}}, from, to)) == "0+ wait 40 1+ in 160");
    CHECK(story(ask(map, {shut(second, 0, 13 * 86400)}, from, to)) == "none");
    CHECK(story(ask(map, {shut(second, 0, 11 * 86400)}, from, to)) == "0+ wait 950340 1+ in 950460");
}

namespace {

struct RandomMap {
    HandNetwork map;
    RoadNetwork network;
    std::vector<TimedClosure> closures;
};

RandomMap random_map(support::Dice& dice) {
    RandomMap random;
    for (int n = 0; n < 7; ++n)
        random.map.junction(-35.0 - 0.01 * dice.share(), -20.0 - 0.01 * dice.share());
    std::vector<std::pair<OsmId, OsmId>> ends;
    for (int n = 0; n < 11; ++n) {
        const OsmId from = dice.below(7);
        const OsmId to = (from + 1 + dice.below(6)) % 7;
        random.map.road(from, to,
                        {.seconds = 1.0 + dice.below(60000) / 1000.0,
                         .open = dice.one_in(5) ? support::Ways::forward : support::Ways::both,
                         .destination_only = dice.one_in(4)});
        ends.emplace_back(from, to);
    }
    for (std::uint32_t from = 0; from < ends.size(); ++from)
        for (std::uint32_t to = 0; to < ends.size(); ++to)
            if ((ends[to].first == ends[from].second || ends[to].second == ends[from].second) && dice.one_in(12))
                random.map.forbid(EdgeIndex{from}, ends[from].second, EdgeIndex{to});
    random.network = random.map.network();
    for (int n = 0; n < 6; ++n) {
        const std::int64_t from = dice.below(200);
        random.closures.push_back(shut(EdgeIndex{dice.below(11)}, from, from + dice.below(120)));
    }
    return random;
}

/// The least time over all paths that come to no node twice.
class EveryPath {
public:
    EveryPath(const RandomMap& random, const RoadPoint& from, const RoadPoint& to, geo::Instant departure)
        : map_(random), to_(to), departure_(departure), met_(random.network.node_count(), false) {
        const bool zone = map_.network.edges[value(from.edge)].destination_only;
        if (from.edge == to.edge && from.fraction == to.fraction)
            best_ = 0;
        for (const bool forward : {true, false})
            for (const std::uint32_t arc : map_.network.arcs_along(from.edge, forward)) {
                const double start = driven_fraction(from, forward);
                arrive(from.edge, forward, start, departure);
                go_on(value(map_.network.arcs[arc].head), first_state(zone),
                      driven({from.edge, forward, start, 1.0}, departure));
            }
    }
    std::optional<Milliseconds> best() const { return best_; }

private:
    FineInstant driven(const PathPiece& piece, FineInstant at) const {
        const std::chrono::milliseconds time{piece_time(map_.network, piece)};
        for (bool waited = true; waited;) {
            waited = false;
            for (const TimedClosure& closure : map_.closures)
                if (closure.edges.front() == piece.edge && closure.shut.from < closure.shut.until &&
                    at + time > closure.shut.from && at < closure.shut.until) {
                    at = closure.shut.until;
                    waited = true;
                }
        }
        return at + time;
    }
    void arrive(EdgeIndex edge, bool forward, double start, FineInstant at) {
        const double end = driven_fraction(to_, forward);
        if (edge != to_.edge || end < start)
            return;
        const auto time = static_cast<Milliseconds>((driven({edge, forward, start, end}, at) - departure_).count());
        best_ = std::min(best_.value_or(time), time);
    }
    void go_on(std::uint32_t node, ZoneState state, FineInstant at) {
        if (met_[node])
            return;
        met_[node] = true;
        for (const Arc& arc : map_.network.arcs_from(NodeIndex{node})) {
            const bool zone = map_.network.edges[value(arc.edge)].destination_only;
            if (!may_enter(state, zone))
                continue;
            arrive(arc.edge, arc.forward, 0.0, at);
            go_on(value(arc.head), next_state(state, zone), driven({arc.edge, arc.forward, 0.0, 1.0}, at));
        }
        met_[node] = false;
    }

    const RandomMap& map_;
    RoadPoint to_;
    geo::Instant departure_;
    std::vector<bool> met_;
    std::optional<Milliseconds> best_;
};

} // namespace

TEST_CASE(
    "on random networks both finders are as quick as the best of all paths, and who leaves later arrives no earlier") {
    support::Dice dice(1969);
    int waited = 0;
    int longer = 0;
    int exact = 0;
    for (int round = 0; round < 120; ++round) {
        CAPTURE(round);
        const RandomMap random = random_map(dice);
        const ShutTimes shut_times(random.network.edges.size(), random.closures);
        const hierarchy::Hierarchy shape = hierarchy_of(random.network);
        hierarchy::Metric metric(shape, random.network, {});
        TimedFinder finder(metric, shut_times);
        TimedReference reference(random.network, shut_times);
        const support::TurnRules rules = random.map.rules();
        const auto end = [&] { return dice.one_in(5) ? dice.below(2) : dice.share(); };
        const RoadPoint from = on(random.network, EdgeIndex{dice.below(11)}, end());
        const RoadPoint to = on(random.network, EdgeIndex{dice.below(11)}, end());
        const auto open_path = finder.path_without_closures(from, to);
        TimedLegs legs(metric, shut_times, {from}, {to});
        exact += legs.is_exact() ? 1 : 0;
        std::int64_t last_arrival = std::numeric_limits<std::int64_t>::min();
        for (std::int64_t start = -60; start < 330; start += 9) {
            CAPTURE(start);
            const auto best = EveryPath(random, from, to, after(start)).best();
            const auto quickest = finder.quickest(from, to, after(start));
            REQUIRE(finder.travel_time(from, to, after(start)) == best);
            REQUIRE(reference.travel_times(from, {to}, after(start)).front() == best.value_or(closed));
            REQUIRE(finder.searched_time(from, to, after(start)) == best);
            if (legs.is_exact())
                REQUIRE(legs.time(0, 0, after(start)) == best.value_or(closed));
            else
                REQUIRE(legs.time(0, 0, after(start)) >= best.value_or(closed));
            REQUIRE(quickest.has_value() == best.has_value());
            if (!best)
                continue;
            REQUIRE(quickest->time == *best);
            REQUIRE(support::timed_fault_of(random.network, rules, from, to, *quickest, random.closures,
                                            after(start)) == "");
            const auto plain = reference.quickest(from, to, after(start));
            REQUIRE(support::timed_fault_of(random.network, rules, from, to, *plain, random.closures, after(start)) ==
                    "");
            REQUIRE(1000 * start + *best >= last_arrival);
            last_arrival = 1000 * start + *best;
            waited += quickest->waits.empty() ? 0 : 1;
            longer += *best > open_path->time ? 1 : 0;
        }
    }
    CHECK(exact > 40);
    CHECK(waited > 200);
    CHECK(longer - waited > 50); // a way round taken
}
