#include "tests/routing/roads/map_text.hpp"

#include <doctest/doctest.h>

#include <map>
#include <queue>
#include <random>
#include <set>

using namespace roads_test;

namespace {

const Pairs street{{"highway", "residential"}};

Pairs rule(const std::string& kind) {
    return {{"type", "restriction"}, {"restriction", kind}};
}

/// A crossing: 1 west, 2 north, 3 east, 4 south of node 5; ways 10 + arm. Each arm leads on to node 10 + arm.
MapText crossing() {
    MapText map;
    map.node(5, 0.0, 0.0).node(1, 0.0, -0.001).node(2, 0.001, 0.0).node(3, 0.0, 0.001).node(4, -0.001, 0.0);
    for (int arm = 1; arm <= 4; ++arm)
        map.way(10 + arm, {arm, 5}, street);
    return map;
}

MapText crossing_with(const std::vector<Member>& members, const Pairs& tags) {
    MapText map = crossing();
    map.relation(100, members, tags);
    return map;
}

/// Exits from the crossing that a driver coming in by `arm` has: the arms' outer nodes, the own one for a U-turn.
std::set<roads::OsmId> exits_of(const roads::RoadNetwork& network, roads::OsmId arm) {
    std::set<roads::OsmId> exits;
    for (std::uint32_t e = 0; e < network.edges.size(); ++e)
        for (const bool forward : {true, false})
            for (const std::uint32_t a : network.arcs_along(roads::EdgeIndex{e}, forward)) {
                const roads::Arc& arc = network.arcs[a];
                if (network.node_osm[network.tail[a]] != arm || network.node_osm[roads::value(arc.head)] != 5)
                    continue;
                for (const roads::Arc& next : network.arcs_from(arc.head))
                    exits.insert(network.node_osm[roads::value(next.head)]);
            }
    return exits;
}

} // namespace

TEST_CASE("without restrictions every exit is free, the U-turn too") {
    const auto network = crossing().network();
    CHECK(exits_of(network, 1) == std::set<roads::OsmId>{1, 2, 3, 4});
    CHECK(network.node_count() == 5);
}

TEST_CASE("no_left_turn binds that one turn only, whatever the members' order") {
    for (const auto& members : {std::vector<Member>{{"way", 11, "from"}, {"node", 5, "via"}, {"way", 12, "to"}},
                                std::vector<Member>{{"way", 11, "from"}, {"way", 12, "to"}, {"node", 5, "via"}},
                                std::vector<Member>{{"node", 5, "via"}, {"way", 12, "to"}, {"way", 11, "from"}}}) {
        const auto network = crossing_with(members, rule("no_left_turn")).network();
        CHECK(exits_of(network, 1) == std::set<roads::OsmId>{1, 3, 4});
        CHECK(exits_of(network, 2) == std::set<roads::OsmId>{1, 2, 3, 4});
        CHECK(exits_of(network, 3) == std::set<roads::OsmId>{1, 2, 3, 4});
        CHECK(network.node_count() == 6); // one copy for the one arrival bound
        CHECK(network.component_size[0] == 6);
        CHECK(count_of(network, "turn restrictions kept") == 1);
    }
}

TEST_CASE("only_straight_on forbids all else, for those who come from there") {
    const auto network =
        crossing_with({{"way", 11, "from"}, {"node", 5, "via"}, {"way", 13, "to"}}, rule("only_straight_on")).network();
    CHECK(exits_of(network, 1) == std::set<roads::OsmId>{3});
    CHECK(exits_of(network, 3) == std::set<roads::OsmId>{1, 2, 3, 4});
}

TEST_CASE("no_u_turn forbids turning back on one way") {
    const auto network =
        crossing_with({{"way", 11, "from"}, {"node", 5, "via"}, {"way", 11, "to"}}, rule("no_u_turn")).network();
    CHECK(exits_of(network, 1) == std::set<roads::OsmId>{2, 3, 4});
}

TEST_CASE("no_entry has many from, no_exit many to") {
    const auto entry = crossing_with({{"way", 11, "from"}, {"way", 12, "from"}, {"node", 5, "via"}, {"way", 13, "to"}},
                                     rule("no_entry"))
                           .network();
    CHECK(exits_of(entry, 1) == std::set<roads::OsmId>{1, 2, 4});
    CHECK(exits_of(entry, 2) == std::set<roads::OsmId>{1, 2, 4});
    CHECK(exits_of(entry, 4) == std::set<roads::OsmId>{1, 2, 3, 4});
    const auto exit =
        crossing_with({{"way", 11, "from"}, {"node", 5, "via"}, {"way", 12, "to"}, {"way", 13, "to"}}, rule("no_exit"))
            .network();
    CHECK(exits_of(exit, 1) == std::set<roads::OsmId>{1, 4});
}

TEST_CASE("several restrictions at one junction add up") {
    MapText map = crossing();
    map.relation(100, {{"way", 11, "from"}, {"node", 5, "via"}, {"way", 12, "to"}}, rule("no_left_turn"));
    map.relation(101, {{"way", 11, "from"}, {"node", 5, "via"}, {"way", 14, "to"}}, rule("no_right_turn"));
    map.relation(102, {{"way", 13, "from"}, {"node", 5, "via"}, {"way", 11, "to"}}, rule("only_straight_on"));
    const auto network = map.network();
    CHECK(exits_of(network, 1) == std::set<roads::OsmId>{1, 3});
    CHECK(exits_of(network, 3) == std::set<roads::OsmId>{1});
    CHECK(network.node_count() == 7);
}

TEST_CASE("restrictions that make no sense never take a road away") {
    // atlas-checks PR 612, atlas PR 87 (D19).
    const auto all = std::set<roads::OsmId>{1, 2, 3, 4};
    const auto check = [&](MapText map, const std::string& reason) {
        const auto network = map.network();
        CHECK(exits_of(network, 1) == all);
        CHECK(count_of(network, reason) == 1);
        CHECK(network.node_count() == 5);
    };
    check(crossing_with({{"node", 5, "via"}, {"way", 12, "to"}}, rule("only_left_turn")),
          "restrictions ignored: no from member");
    check(crossing_with({{"way", 11, "from"}, {"node", 1, "via"}, {"way", 12, "to"}}, rule("only_left_turn")),
          "restrictions ignored: members do not meet at their ends");
    check(crossing_with({{"way", 11, "from"}, {"node", 5, "via"}, {"way", 99, "to"}}, rule("only_left_turn")),
          "restrictions ignored: a member way is not in the file");
    check(crossing_with({{"way", 11, "from"}, {"node", 77, "via"}, {"way", 12, "to"}}, rule("only_left_turn")),
          "restrictions ignored: members do not meet at their ends");
}

TEST_CASE("a restriction with more via ways than can be is ignored at once") {
    MapText map = crossing();
    std::vector<Member> members{{"way", 11, "from"}, {"way", 12, "to"}};
    for (int i = 0; i < 40; ++i) {
        map.way(200 + i, {5, 1 + i % 4}, street);
        members.push_back({"way", 200 + i, "via"});
    }
    map.relation(100, members, rule("no_left_turn"));
    CHECK(count_of(map.network(), "restrictions ignored: more via ways than any real one has") == 1);
}

TEST_CASE("an only restriction whose exit is closed binds nobody") {
    MapText map;
    map.node(5, 0.0, 0.0).node(1, 0.0, -0.001).node(2, 0.001, 0.0).node(3, 0.0, 0.001);
    map.way(11, {1, 5}, street).way(12, {2, 5}, street).way(13, {3, 5}, {{"highway", "residential"}, {"access", "no"}});
    map.relation(100, {{"way", 11, "from"}, {"node", 5, "via"}, {"way", 13, "to"}}, rule("only_straight_on"));
    const auto network = map.network();
    CHECK(exits_of(network, 1) == std::set<roads::OsmId>{1, 2});
    CHECK(count_of(network, "restrictions without effect: a member is closed to the vehicle") == 1);
}

TEST_CASE("a via node in the middle of the from way is ignored") {
    MapText map;
    map.node(5, 0.0, 0.0).node(1, 0.0, -0.001).node(3, 0.0, 0.001).node(2, 0.001, 0.0);
    map.way(11, {1, 5, 3}, street).way(12, {2, 5}, street);
    map.relation(100, {{"way", 11, "from"}, {"node", 5, "via"}, {"way", 12, "to"}}, rule("no_left_turn"));
    const auto network = map.network();
    CHECK(exits_of(network, 1) == std::set<roads::OsmId>{1, 2, 3});
    CHECK(count_of(network, "restrictions ignored: members do not meet at their ends") == 1);
}

TEST_CASE("a restriction over a via way binds the whole sequence and nothing else") {
    // West 1, 2 -> 5 - 6 -> 3, 4 east: no U-turn from 2 over 5-6 back to 4.
    MapText map;
    map.node(5, 0.0, 0.0).node(6, 0.0, 0.001).node(1, -0.001, 0.0).node(2, 0.001, 0.0);
    map.node(3, -0.001, 0.001).node(4, 0.001, 0.001);
    map.way(11, {1, 5}, street).way(12, {2, 5}, street).way(20, {5, 6}, street);
    map.way(13, {6, 3}, street).way(14, {6, 4}, street);
    map.relation(100, {{"way", 14, "to"}, {"way", 20, "via"}, {"way", 12, "from"}}, rule("no_u_turn"));
    const auto network = map.network();
    CHECK(count_of(network, "turn restrictions kept, over via ways") == 1);
    // From the other arm, and to the other arm, the way is free and direct.
    const auto direct = drive(network, 1, 4);
    CHECK(direct == drive(network, 1, 3));
    CHECK(drive(network, 2, 3) == direct);
    // From 2 to 4 only by a detour: down an arm and back.
    REQUIRE(drive(network, 2, 4));
    CHECK(*drive(network, 2, 4) > *direct);
    CHECK(network.component_size[0] == network.node_count());
}

namespace {

/// A random town on a grid, each street one way of two nodes, and random restrictions on it.
struct Town {
    struct Street {
        int from = 0, to = 0;
        bool oneway = false;
    };
    int size = 0;
    std::vector<Street> streets;
    struct Sign {
        bool only = false;
        int from = 0;
        std::vector<int> via; ///< streets; empty: the node between
        int to = 0;
        int node = 0;
    };
    std::vector<Sign> signs;
};

Town random_town(std::mt19937& random) {
    Town town;
    town.size = 3;
    for (int y = 0; y < town.size; ++y)
        for (int x = 0; x < town.size; ++x) {
            if (x + 1 < town.size && random() % 8 != 0)
                town.streets.push_back({y * town.size + x, y * town.size + x + 1, random() % 4 == 0});
            if (y + 1 < town.size && random() % 8 != 0)
                town.streets.push_back({y * town.size + x, (y + 1) * town.size + x, random() % 4 == 0});
        }
    const auto other_end = [&](int along, int node) {
        return town.streets[along].from == node ? town.streets[along].to : town.streets[along].from;
    };
    const auto streets_at = [&](int node) {
        std::vector<int> found;
        for (int s = 0; s < static_cast<int>(town.streets.size()); ++s)
            if (town.streets[s].from == node || town.streets[s].to == node)
                found.push_back(s);
        return found;
    };
    for (int i = 0; i < 6; ++i) {
        Town::Sign sign;
        sign.only = random() % 3 == 0;
        sign.from = static_cast<int>(random() % town.streets.size());
        sign.node = random() % 2 ? town.streets[sign.from].from : town.streets[sign.from].to;
        int node = sign.node;
        int last = sign.from;
        for (auto length = random() % 3; length > 0; --length) {
            const auto choices = streets_at(node);
            const int via = choices[random() % choices.size()];
            if (via == last || via == sign.from || std::count(sign.via.begin(), sign.via.end(), via))
                break;
            sign.via.push_back(via);
            last = via;
            node = other_end(via, node);
        }
        const auto choices = streets_at(node);
        sign.to = choices[random() % choices.size()];
        if (sign.via.empty() || std::count(sign.via.begin(), sign.via.end(), sign.to) == 0)
            town.signs.push_back(sign);
    }
    return town;
}

MapText map_of(const Town& town) {
    MapText map;
    for (int n = 0; n < town.size * town.size; ++n)
        map.node(n + 1, 0.001 * (n / town.size) + 1e-5 * n * n, 0.001 * (n % town.size));
    for (std::size_t s = 0; s < town.streets.size(); ++s) {
        Pairs tags = street;
        if (town.streets[s].oneway)
            tags.emplace_back("oneway", "yes");
        map.way(100 + static_cast<int>(s), {town.streets[s].from + 1, town.streets[s].to + 1}, tags);
    }
    int id = 1000;
    for (const Town::Sign& sign : town.signs) {
        std::vector<Member> members{{"way", 100 + sign.from, "from"}, {"way", 100 + sign.to, "to"}};
        for (auto via = sign.via.rbegin(); via != sign.via.rend(); ++via) // any order will do
            members.push_back({"way", 100 + *via, "via"});
        if (sign.via.empty())
            members.push_back({"node", sign.node + 1, "via"});
        map.relation(id++, members, rule(sign.only ? "only_straight_on" : "no_straight_on"));
    }
    return map;
}

/// A street driven in one direction.
struct Move {
    int street = 0;
    bool forward = true;
    auto operator<=>(const Move&) const = default;
};

/// The oracle: judges whole sequences of moves by reading the signs as sentences. Knows nothing of states or copies.
class Oracle {
public:
    explicit Oracle(const Town& town) : town_(town) {
        for (const Town::Sign& sign : town.signs)
            if (auto chain = chain_of(sign); !chain.empty())
                chains_.push_back({sign.only, chain, sign.to});
    }

    std::vector<Move> moves_from(int node) const {
        std::vector<Move> moves;
        for (int s = 0; s < static_cast<int>(town_.streets.size()); ++s) {
            if (town_.streets[s].from == node)
                moves.push_back({s, true});
            if (town_.streets[s].to == node && !town_.streets[s].oneway)
                moves.push_back({s, false});
        }
        return moves;
    }
    int head(Move m) const { return m.forward ? town_.streets[m.street].to : town_.streets[m.street].from; }
    int tail(Move m) const { return m.forward ? town_.streets[m.street].from : town_.streets[m.street].to; }
    bool open(Move m) const { return m.forward || !town_.streets[m.street].oneway; }

    /// May `next` follow `driven`?
    bool allows(const std::vector<Move>& driven, Move next) const {
        for (const auto& [only, chain, to] : chains_)
            for (std::size_t length = 1; length <= chain.size(); ++length) {
                const std::vector<Move> start(chain.begin(), chain.begin() + static_cast<std::ptrdiff_t>(length));
                if (driven.size() < length || !std::equal(start.rbegin(), start.rend(), driven.rbegin()))
                    continue;
                const bool is_last = length == chain.size();
                if (!only && is_last && next.street == to)
                    return false;
                if (only && (is_last ? next.street != to : next != chain[length]))
                    return false;
            }
        return true;
    }

private:
    struct Chain {
        bool only;
        std::vector<Move> moves; ///< from and via
        int to;
    };

    std::vector<Move> chain_of(const Town::Sign& sign) const {
        std::vector<Move> chain{{sign.from, town_.streets[sign.from].to == sign.node}};
        for (const int via : sign.via)
            chain.push_back({via, town_.streets[via].from == head(chain.back())});
        const Move last{sign.to, town_.streets[sign.to].from == head(chain.back())};
        const bool drivable = open(last) && std::all_of(chain.begin(), chain.end(), [&](Move m) { return open(m); });
        return drivable ? chain : std::vector<Move>{};
    }

    const Town& town_;
    std::vector<Chain> chains_;
};

/// Shortest legal times from each move to each other, over histories of up to four moves.
std::map<Move, std::map<Move, std::uint64_t>> oracle_times(const Town& town,
                                                           const std::map<Move, std::uint64_t>& cost) {
    const Oracle oracle{town};
    std::map<Move, std::map<Move, std::uint64_t>> result;
    for (const auto& [start, ignored] : cost) {
        using Entry = std::pair<std::uint64_t, std::vector<Move>>;
        std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
        std::set<std::vector<Move>> done;
        open.push({0, {start}});
        while (!open.empty()) {
            const auto [time, driven] = open.top();
            open.pop();
            if (!done.insert(driven).second)
                continue;
            result[start].try_emplace(driven.back(), time);
            for (const Move next : oracle.moves_from(oracle.head(driven.back()))) {
                if (!oracle.allows(driven, next))
                    continue;
                std::vector<Move> longer = driven;
                longer.push_back(next);
                if (longer.size() > 4)
                    longer.erase(longer.begin());
                open.push({time + cost.at(next), longer});
            }
        }
    }
    return result;
}

/// The same from the network: from the end of one edge to the end of another.
std::uint64_t network_time(const roads::RoadNetwork& network, std::uint32_t start_node, roads::EdgeIndex goal,
                           bool goal_forward) {
    std::vector<std::uint64_t> time(network.node_count(), ~0ULL);
    using Entry = std::pair<std::uint64_t, std::uint32_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    time[start_node] = 0;
    open.push({0, start_node});
    std::uint64_t best = ~0ULL;
    while (!open.empty()) {
        const auto [now, node] = open.top();
        open.pop();
        if (now > time[node])
            continue;
        for (const roads::Arc& arc : network.arcs_from(roads::NodeIndex{node})) {
            const std::uint64_t later = now + arc.time;
            if (arc.edge == goal && arc.forward == goal_forward)
                best = std::min(best, later);
            if (later < time[roads::value(arc.head)]) {
                time[roads::value(arc.head)] = later;
                open.push({later, roads::value(arc.head)});
            }
        }
    }
    return best;
}

} // namespace

TEST_CASE("in random towns the split graph permits exactly what the signs do, via ways included") {
    std::mt19937 random{1975};
    std::uint64_t pairs = 0, over_via = 0, kept = 0;
    for (int round = 0; round < 150; ++round) {
        const Town town = random_town(random);
        const auto network = map_of(town).network();
        over_via += count_of(network, "turn restrictions kept, over via ways");
        kept += count_of(network, "turn restrictions kept");
        // Restrictions must not be lost, nor be more than there are.
        std::map<Move, std::uint64_t> cost;
        std::map<Move, std::pair<std::uint32_t, bool>> edge_of;
        for (std::uint32_t e = 0; e < network.edges.size(); ++e)
            for (const bool forward : {true, false}) {
                const auto& edge = network.edges[e];
                const roads::Milliseconds time = forward ? edge.forward : edge.backward;
                const Move move{static_cast<int>(edge.way - 100), forward};
                edge_of[move] = {e, forward};
                if (time != roads::closed)
                    cost[move] = time;
            }
        const auto want = oracle_times(town, cost);
        for (const auto& [start, times] : want) {
            const auto arcs = network.arcs_along(roads::EdgeIndex{edge_of[start].first}, start.forward);
            if (arcs.empty()) {
                FAIL("an open edge without arc");
                continue;
            }
            const std::uint32_t node = roads::value(network.arcs[arcs.front()].head);
            for (const auto& [goal, time] : cost) {
                if (goal == start)
                    continue; // there and back again differs from staying
                ++pairs;
                const auto found = times.find(goal);
                const std::uint64_t expected = found == times.end() ? ~0ULL : found->second;
                const std::uint64_t got =
                    network_time(network, node, roads::EdgeIndex{edge_of[goal].first}, goal.forward);
                if (got != expected)
                    CHECK(got == expected);
            }
        }
    }
    MESSAGE(pairs, " pairs of streets compared, ", kept, " node restrictions, ", over_via, " over via ways");
    CHECK(pairs > 30'000);
    CHECK(over_via > 100);
    CHECK(kept > 100);
}

TEST_CASE("the same map in another order of objects gives the same network") {
    std::mt19937 random{3};
    const Town town = random_town(random);
    const auto straight = map_of(town);
    // Turn the file's lines round: relations first, ids falling.
    std::vector<std::string> lines;
    std::string xml = straight.xml();
    for (std::size_t begin = 0, end; (end = xml.find('\n', begin)) != std::string::npos; begin = end + 1)
        lines.push_back(xml.substr(begin, end - begin));
    MapText turned;
    for (std::size_t i = lines.size() - 1; i-- > 2;)
        turned.raw(lines[i]);
    const auto a = straight.network();
    const auto b = turned.network();
    CHECK(a.node_osm == b.node_osm);
    CHECK(a.first_arc == b.first_arc);
    CHECK(a.tail == b.tail);
    CHECK(a.counts == b.counts);
    REQUIRE(a.arcs.size() == b.arcs.size());
    for (std::size_t i = 0; i < a.arcs.size(); ++i) {
        CHECK(a.arcs[i].head == b.arcs[i].head);
        CHECK(a.arcs[i].time == b.arcs[i].time);
    }
}
