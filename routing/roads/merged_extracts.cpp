#include "routing/roads/merged_extracts.hpp"

#include <algorithm>
#include <cassert>
#include <iterator>
#include <numeric>
#include <tuple>

namespace routing::roads {
namespace {

ReadCounts sum_of(const std::vector<OsmExtract>& extracts) {
    ReadCounts sum;
    for (const OsmExtract& extract : extracts) {
        sum.nodes += extract.counts.nodes;
        sum.ways += extract.counts.ways;
        sum.relations += extract.counts.relations;
        sum.invalid_locations += extract.counts.invalid_locations;
        sum.repeated_objects += extract.counts.repeated_objects;
        sum.broken_outlines += extract.counts.broken_outlines;
    }
    return sum;
}

/// All items of one kind, sorted by `key`; of equal keys the one from the extract that stands first.
template <class Item, class Key>
std::vector<Item> merged(std::vector<OsmExtract>& extracts, std::vector<Item> OsmExtract::*items, const Key& key) {
    std::vector<Item> all;
    for (OsmExtract& extract : extracts)
        std::move((extract.*items).begin(), (extract.*items).end(), std::back_inserter(all));
    std::stable_sort(all.begin(), all.end(), [&](const Item& a, const Item& b) { return key(a) < key(b); });
    all.erase(std::unique(all.begin(), all.end(), [&](const Item& a, const Item& b) { return !(key(a) < key(b)); }),
              all.end());
    return all;
}

void merge_nodes(const std::vector<OsmExtract>& extracts, OsmExtract& whole) {
    struct Node {
        OsmId id;
        geo::Coordinate place;
    };
    std::vector<Node> nodes;
    for (const OsmExtract& extract : extracts)
        for (std::size_t n = 0; n < extract.node_ids.size(); ++n)
            nodes.push_back({extract.node_ids[n], extract.node_places[n]});
    std::stable_sort(nodes.begin(), nodes.end(), [](const Node& a, const Node& b) { return a.id < b.id; });
    for (const Node& node : nodes) {
        if (!whole.node_ids.empty() && whole.node_ids.back() == node.id)
            continue;
        whole.node_ids.push_back(node.id);
        whole.node_places.push_back(node.place);
    }
}

std::uint64_t missing_nodes(const OsmExtract& extract) {
    std::uint64_t missing = 0;
    for (const RoadWay& way : extract.roads)
        missing += static_cast<std::uint64_t>(std::count_if(way.nodes.begin(), way.nodes.end(), [&](OsmId node) {
            return !std::binary_search(extract.node_ids.begin(), extract.node_ids.end(), node);
        }));
    return missing;
}

} // namespace

OsmExtract merge_extracts(std::vector<OsmExtract> extracts) {
    assert(!extracts.empty());
    if (extracts.size() == 1)
        return std::move(extracts.front());
    OsmExtract whole;
    whole.file = extracts.front().file;
    std::stable_sort(extracts.begin(), extracts.end(),
                     [](const OsmExtract& a, const OsmExtract& b) { return a.data_date > b.data_date; });
    whole.data_date = extracts.back().data_date;
    whole.counts = sum_of(extracts);
    merge_nodes(extracts, whole);
    whole.road_nodes = merged(extracts, &OsmExtract::road_nodes, [](const RoadNode& node) { return node.id; });
    whole.roads = merged(extracts, &OsmExtract::roads, [](const RoadWay& way) { return way.id; });
    whole.restrictions =
        merged(extracts, &OsmExtract::restrictions, [](const Restriction& restriction) { return restriction.id; });
    // A whole outline goes before a clipped one of the same area.
    std::vector<OsmExtract> by_outline(2);
    for (OsmExtract& extract : extracts)
        for (Feature& feature : extract.features)
            by_outline[feature.outline.empty() ? 1 : 0].features.push_back(std::move(feature));
    whole.features = merged(by_outline, &OsmExtract::features, [](const Feature& feature) { return feature.object; });
    whole.box = box_around(whole.node_places);
    whole.counts.missing_nodes = missing_nodes(whole);
    whole.counts.road_ways = whole.roads.size();
    whole.counts.restrictions = whole.restrictions.size();
    whole.counts.features = whole.features.size();
    return whole;
}

} // namespace routing::roads
