// Real extracts, optional data: counts against those taken from the same files by another program (osmium-tool 1.15.0),
// and bounds on what the rules leave of them.

#include "tests/routing/roads/map_text.hpp"

#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

using namespace roads_test;

namespace {

struct Expected {
    std::string file;
    std::string date;
    std::uint64_t nodes, ways, relations, highways, ferries, restrictions;
    std::uint64_t missing_least; ///< references to nodes not in the file: none but in the Helsinki cut
    double main_share;           ///< least share of graph nodes in the largest component
};

// highways, ferries, restrictions: counts of osmium-tool over the same files.
const Expected expected[] = {
    {"andorra-2023-05-02", "2023-05-02T20:16:04Z", 370798, 18909, 496, 6466, 0, 66, 0, 0.94},
    {"liechtenstein-2021-05-05", "2021-05-05T20:21:43Z", 270635, 28047, 871, 6970, 0, 85, 0, 0.94},
    {"monaco-2022-07-19", "2022-07-19T20:21:59Z", 27135, 4295, 255, 2475, 1, 43, 0, 0.80},
    {"helsinki-centre-2019-04", "", 24260, 5130, 620, 2650, 1, 45, 500, 0.80},
    {"andorra-2015-01-13", "2015-01-13T21:22:02Z", 94914, 4457, 120, 2277, 0, 13, 0, 0.97},
    {"liechtenstein-2013-08-03", "2013-08-03T19:00:02Z", 65733, 7121, 113, 2753, 0, 2, 0, 0.94},
};

void check_whole(const roads::RoadNetwork& network) {
    const std::uint32_t nodes = network.node_count();
    REQUIRE(network.first_arc.size() == nodes + 1);
    REQUIRE(network.first_arc.back() == network.arcs.size());
    REQUIRE(network.tail.size() == network.arcs.size());
    REQUIRE(network.first_edge_arc.size() == 2 * network.edges.size() + 1);
    bool whole = true;
    for (std::uint32_t n = 0; n < nodes; ++n)
        for (const roads::Arc& arc : network.arcs_from(roads::NodeIndex{n})) {
            const roads::Edge& edge = network.edges[roads::value(arc.edge)];
            const auto index = static_cast<std::size_t>(&arc - network.arcs.data());
            const auto shape = network.shape_of(edge);
            const auto head = network.node_place[roads::value(arc.head)];
            whole &= network.tail[index] == n && arc.time == (arc.forward ? edge.forward : edge.backward);
            whole &= arc.time >= 1 && arc.time < roads::closed && shape.size() >= 2;
            whole &= network.node_place[n] == (arc.forward ? shape.front() : shape.back());
            whole &= head == (arc.forward ? shape.back() : shape.front());
            whole &= std::isfinite(edge.metres) && edge.metres > 0.0F;
            // Nothing goes faster than 0.9 of the fastest limit that is read.
            whole &= edge.metres / (static_cast<double>(arc.time) / 1000.0) * 3.6 <= 136.0;
        }
    CHECK(whole);
    bool listed = true;
    for (std::uint32_t e = 0; e < network.edges.size(); ++e)
        for (const bool forward : {true, false}) {
            const auto arcs = network.arcs_along(roads::EdgeIndex{e}, forward);
            const bool open = (forward ? network.edges[e].forward : network.edges[e].backward) != roads::closed;
            listed &= open == !arcs.empty();
            for (const std::uint32_t a : arcs)
                listed &= roads::value(network.arcs[a].edge) == e && network.arcs[a].forward == forward;
        }
    CHECK(listed);
}

} // namespace

TEST_CASE("real extracts load with the counts another program finds") {
    roads::Vehicle van;
    van.height = geo::Metres{2.6};
    van.width = geo::Metres{2.1};
    van.weight = geo::Tonnes{3.4};
    for (const Expected& want : expected) {
        const auto file = support::shared_data("osm/" + want.file + ".osm.pbf");
        if (!file)
            return;
        CAPTURE(want.file);
        const auto extract =
            roads::read_extract(*file, [](const roads::Tags& tags) { return tags["amenity"] == "parking"; });
        CHECK(extract.data_date == want.date);
        CHECK(extract.counts.nodes == want.nodes);
        CHECK(extract.counts.ways == want.ways);
        CHECK(extract.counts.relations == want.relations);
        CHECK(extract.counts.road_ways == want.highways + want.ferries);
        CHECK(extract.counts.restrictions == want.restrictions);
        CHECK(extract.counts.invalid_locations == 0);
        CHECK(extract.counts.repeated_objects == 0);
        CHECK(extract.counts.missing_nodes >= want.missing_least);
        CHECK((extract.counts.missing_nodes == 0) == (want.missing_least == 0));

        const auto network = roads::build_network(extract, van);
        check_whole(network);
        REQUIRE(!network.component_size.empty());
        const double share = static_cast<double>(network.component_size[0]) / network.node_count();
        MESSAGE(want.file, ": ", network.node_count(), " nodes, ", network.arcs.size(), " arcs, main component ",
                100.0 * share, " %");
        CHECK(share >= want.main_share);
        CHECK(count_of(network, "turn restrictions kept") <= want.restrictions);
    }
}

TEST_CASE("restrictions over via ways are found where the map has them") {
    // Liechtenstein 2021 has 7 (osmium-tool); one of them leads over a way with more than one from member or closed.
    const auto file = support::shared_data("osm/liechtenstein-2021-05-05.osm.pbf");
    if (!file)
        return;
    const auto extract = roads::read_extract(*file, [](const roads::Tags&) { return false; });
    const auto network = roads::build_network(extract, {});
    CHECK(count_of(network, "turn restrictions kept, over via ways") >= 5);
    CHECK(count_of(network, "turn restrictions kept, over via ways") <= 7);
}

TEST_CASE("hours and seasons of real roads are read, and what can't be read is counted") {
    // The tags of the same files, listed by a program over libosmium alone: 16 ways with access:conditional, all of
    // them "destination @ ...", 11 residential or service roads and 5 unclassified; one ferry with a season, of which
    // the file holds no two nodes.
    std::uint64_t by_hour = 0, visitors = 0, refused = 0;
    std::set<std::string> rules;
    for (const Expected& want : expected) {
        const auto file = support::shared_data("osm/" + want.file + ".osm.pbf");
        if (!file)
            return;
        const auto extract = roads::read_extract(*file, [](const roads::Tags&) { return false; });
        const auto network = roads::build_network(extract, {});
        by_hour += count_of(network, "roads and gates with hours or a season: heeded by the hour");
        visitors += count_of(network, "local roads for visitors only at some hours: at all hours");
        refused += count_of(network, "access conditions not understood: taken as closed") +
                   count_of(network, "roads and gates whose opening hours can't be read: closed");
        for (const roads::TimeRule& rule : network.time_rules)
            rules.insert(to_text(rule));
    }
    MESSAGE(by_hour, " by the hour, ", visitors, " for visitors, ", refused, " refused");
    for (const std::string& rule : rules)
        MESSAGE(rule);
    CHECK(by_hour == 6);
    CHECK(visitors == 11);
    CHECK(refused == 0);
}
