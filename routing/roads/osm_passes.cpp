#include "routing/roads/osm_passes.hpp"

#include "routing/roads/newest_version.hpp"
#include "routing/roads/outlines.hpp"

#include <algorithm>
#include <array>
#include <cstring>
#include <limits>

namespace routing::roads {
namespace {

Tags tags_of(const osmium::TagList& list) {
    std::vector<std::pair<std::string, std::string>> pairs;
    pairs.reserve(list.size());
    for (const osmium::Tag& tag : list)
        pairs.emplace_back(tag.key(), tag.value());
    return Tags{std::move(pairs)};
}

std::vector<OsmId> ids_of(const osmium::WayNodeList& list) {
    std::vector<OsmId> ids;
    ids.reserve(list.size());
    for (const osmium::NodeRef& node : list)
        ids.push_back(node.ref());
    return ids;
}

void sort_and_unique(std::vector<OsmId>& ids) {
    std::sort(ids.begin(), ids.end());
    ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
}

bool contains(const std::vector<OsmId>& sorted, OsmId id) {
    return std::binary_search(sorted.begin(), sorted.end(), id);
}

bool is_road(const osmium::TagList& tags) {
    return tags.has_key("highway") || tags.has_tag("route", "ferry");
}

/// Whether the road rules read this tag on a node.
bool is_road_node_key(const char* key) {
    constexpr std::array whole{"barrier", "highway",       "railway",  "ford",  "locked", "access",
                               "vehicle", "motor_vehicle", "motorcar", "goods", "hgv",    "foot"};
    constexpr std::array start{"maxheight", "maxwidth", "maxweight", "maxlength", "maxaxleload"};
    return std::any_of(whole.begin(), whole.end(), [key](const char* k) { return std::strcmp(key, k) == 0; }) ||
           std::any_of(start.begin(), start.end(),
                       [key](const char* k) { return std::strncmp(key, k, std::strlen(k)) == 0; });
}

bool has_road_node_tag(const osmium::TagList& tags) {
    return std::any_of(tags.begin(), tags.end(), [](const osmium::Tag& tag) { return is_road_node_key(tag.key()); });
}

OsmType type_of(osmium::item_type type) {
    switch (type) {
    case osmium::item_type::node:
        return OsmType::node;
    case osmium::item_type::way:
        return OsmType::way;
    default:
        return OsmType::relation;
    }
}

Restriction restriction_of(const osmium::Relation& relation) {
    Restriction restriction{relation.id(), {}, tags_of(relation.tags())};
    for (const osmium::RelationMember& member : relation.members())
        restriction.members.push_back({{type_of(member.type()), member.ref()}, member.role()});
    return restriction;
}

struct Area {
    OsmId id = 0;
    WantedArea area;
};

Area area_of(const osmium::Relation& relation, Tags tags) {
    Area area{relation.id(), {{OsmType::relation, relation.id()}, {}, {}, std::move(tags)}};
    for (const osmium::RelationMember& member : relation.members()) {
        if (member.type() != osmium::item_type::way)
            continue;
        // A role other than "inner" counts as outer: it is missing or misspelt often.
        auto& ways = std::strcmp(member.role(), "inner") == 0 ? area.area.inner : area.area.outer;
        ways.push_back(member.ref());
    }
    return area;
}

/// Finds ids in a sorted list, fastest when they come in rising order.
class IdFinder {
public:
    explicit IdFinder(const std::vector<OsmId>& sorted) : sorted_(sorted) {}

    /// Position, or the list's size.
    std::size_t find(OsmId id) {
        std::size_t begin = 0;
        std::size_t end = sorted_.size();
        if (at_ < sorted_.size() && sorted_[at_] <= id) {
            begin = at_;
            for (std::size_t step = 1; begin + step < end; step *= 2) {
                if (sorted_[begin + step] > id) {
                    end = begin + step;
                    break;
                }
                begin += step;
            }
        } else if (at_ < sorted_.size()) {
            end = at_;
        }
        const auto found = std::lower_bound(sorted_.begin() + static_cast<std::ptrdiff_t>(begin),
                                            sorted_.begin() + static_cast<std::ptrdiff_t>(end), id);
        const auto position = static_cast<std::size_t>(found - sorted_.begin());
        at_ = position;
        return position < sorted_.size() && sorted_[position] == id ? position : sorted_.size();
    }

private:
    const std::vector<OsmId>& sorted_;
    std::size_t at_ = 0;
};

} // namespace

std::optional<geo::Coordinate> NodePass::place_of(OsmId node) const {
    const auto at = std::lower_bound(ids.begin(), ids.end(), node);
    if (at == ids.end() || *at != node)
        return std::nullopt;
    const auto index = static_cast<std::size_t>(at - ids.begin());
    return found[index] ? std::optional{places[index]} : std::nullopt;
}

RelationPass read_relations(const OsmFile& file, const Wanted& wanted, ReadCounts& counts) {
    constexpr auto kind = osmium::osm_entity_bits::relation;
    std::vector<Picked<Restriction>> restrictions;
    std::vector<Picked<Area>> areas;
    RisingIds ids;
    file.for_each(kind, [&](const osmium::OSMObject& object) {
        ++counts.relations;
        ids.see(object.id());
        if (object.deleted())
            return;
        const auto& relation = static_cast<const osmium::Relation&>(object);
        const char* type = relation.tags()["type"];
        if (!type)
            return;
        if (std::strcmp(type, "restriction") == 0) {
            restrictions.push_back({relation.version(), restriction_of(relation)});
        } else if (std::strcmp(type, "multipolygon") == 0) {
            Tags tags = tags_of(relation.tags());
            if (wanted(tags))
                areas.push_back({relation.version(), area_of(relation, std::move(tags))});
        }
    });

    RelationPass pass;
    pass.restrictions = keep_newest(std::move(restrictions), ids, file, kind, counts.repeated_objects);
    for (Area& area : keep_newest(std::move(areas), ids, file, kind, counts.repeated_objects)) {
        pass.member_ways.insert(pass.member_ways.end(), area.area.outer.begin(), area.area.outer.end());
        pass.member_ways.insert(pass.member_ways.end(), area.area.inner.begin(), area.area.inner.end());
        pass.areas.push_back(std::move(area.area));
    }
    sort_and_unique(pass.member_ways);
    return pass;
}

WayPass read_ways(const OsmFile& file, const RelationPass& relations, const Wanted& wanted, ReadCounts& counts) {
    constexpr auto kind = osmium::osm_entity_bits::way;
    struct WayUse {
        OsmId id = 0;
        std::vector<OsmId> nodes;
        Tags tags;
        bool road = false, feature = false, member = false;
    };
    std::vector<Picked<WayUse>> picked;
    RisingIds ids;
    file.for_each(kind, [&](const osmium::OSMObject& object) {
        ++counts.ways;
        ids.see(object.id());
        if (object.deleted())
            return;
        const auto& way = static_cast<const osmium::Way&>(object);
        WayUse use;
        use.id = way.id();
        use.road = is_road(way.tags());
        use.member = contains(relations.member_ways, way.id());
        const bool is_ring = way.nodes().size() >= 4 && way.nodes().front().ref() == way.nodes().back().ref();
        if (use.road || (is_ring && !way.tags().empty())) {
            use.tags = tags_of(way.tags());
            use.feature = is_ring && wanted(use.tags);
        }
        if (!use.road && !use.feature && !use.member)
            return;
        use.nodes = ids_of(way.nodes());
        picked.push_back({way.version(), std::move(use)});
    });

    WayPass pass;
    for (WayUse& use : keep_newest(std::move(picked), ids, file, kind, counts.repeated_objects)) {
        if (use.member)
            pass.members.push_back({use.id, use.nodes});
        if (use.feature)
            pass.closed_ways.push_back({use.id, use.nodes, use.tags});
        if (use.road)
            pass.roads.push_back({use.id, std::move(use.nodes), std::move(use.tags)});
    }
    return pass;
}

namespace {

void add_nodes(const std::vector<OsmId>& nodes, std::vector<OsmId>& ids) {
    ids.insert(ids.end(), nodes.begin(), nodes.end());
}

NodePass nodes_to_read(const WayPass& ways) {
    NodePass pass;
    std::vector<OsmId> road_ids;
    for (const RoadWay& way : ways.roads)
        add_nodes(way.nodes, road_ids);
    sort_and_unique(road_ids);
    pass.ids = road_ids;
    for (const ClosedWay& way : ways.closed_ways)
        add_nodes(way.nodes, pass.ids);
    for (const WayNodes& way : ways.members)
        add_nodes(way.nodes, pass.ids);
    sort_and_unique(pass.ids);
    pass.places.resize(pass.ids.size());
    pass.found.resize(pass.ids.size());
    pass.on_road.resize(pass.ids.size());
    IdFinder finder{pass.ids};
    for (const OsmId id : road_ids)
        pass.on_road[finder.find(id)] = true;
    return pass;
}

NodePass read_nodes_once(const OsmFile& file, const WayPass& ways, const Wanted& wanted, ReadCounts& counts) {
    constexpr auto kind = osmium::osm_entity_bits::node;
    NodePass pass = nodes_to_read(ways);
    std::vector<std::uint32_t> newest(pass.ids.size(), 0); // version + 1; 0 is "not seen"
    std::vector<Picked<RoadNode>> road_nodes;
    struct NodeFeature {
        OsmId id = 0;
        Feature feature;
    };
    std::vector<Picked<NodeFeature>> features;
    IdFinder finder{pass.ids};
    RisingIds ids;
    file.for_each(kind, [&](const osmium::OSMObject& object) {
        ++counts.nodes;
        ids.see(object.id());
        const auto& node = static_cast<const osmium::Node&>(object);
        const bool valid = node.location().valid();
        if (!valid && !node.deleted())
            ++counts.invalid_locations;
        const geo::Coordinate place =
            valid ? geo::Coordinate{{node.location().lat_without_check()}, {node.location().lon_without_check()}}
                  : geo::Coordinate{};
        const std::size_t index = finder.find(node.id());
        const bool used = index < pass.ids.size();
        if (used && newest[index] != 0)
            ++counts.repeated_objects;
        if (used && node.version() + 1 > newest[index]) {
            newest[index] = node.version() + 1;
            pass.found[index] = valid && !node.deleted();
            pass.places[index] = place;
        }
        if (!valid || node.deleted() || node.tags().empty())
            return;
        if (used && pass.on_road[index] && has_road_node_tag(node.tags()))
            road_nodes.push_back({node.version(), {node.id(), tags_of(node.tags())}});
        Tags tags = tags_of(node.tags());
        if (wanted(tags))
            features.push_back({node.version(), {node.id(), {{OsmType::node, node.id()}, place, {}, std::move(tags)}}});
    });
    std::uint64_t counted_above = 0;
    pass.road_nodes = keep_newest(std::move(road_nodes), ids, file, kind, counted_above);
    for (NodeFeature& one : keep_newest(std::move(features), ids, file, kind, counts.repeated_objects))
        pass.features.push_back(std::move(one.feature));
    return pass;
}

} // namespace

NodePass read_nodes(OsmFile& file, const WayPass& ways, const Wanted& wanted, ReadCounts& counts) {
    const ReadCounts before = counts;
    try {
        return read_nodes_once(file, ways, wanted, counts);
    } catch (const osmium::invalid_location&) {
        file.read_around_bad_coordinates();
        counts = before;
    }
    return read_nodes_once(file, ways, wanted, counts);
}

namespace {

/// The places of a ring's nodes; nodes that are missing are left out and spoil `complete`.
std::vector<geo::Coordinate> places_of(const std::vector<OsmId>& ring, const NodePass& nodes, bool& complete) {
    std::vector<geo::Coordinate> places;
    for (const OsmId id : ring) {
        const auto place = nodes.place_of(id);
        if (place)
            places.push_back(*place);
        else
            complete = false;
    }
    return places;
}

geo::Coordinate mean_of(const std::vector<std::vector<geo::Coordinate>>& lines) {
    const geo::Coordinate origin = lines.front().front();
    double north = 0.0, east = 0.0, count = 0.0;
    for (const auto& line : lines)
        for (const geo::Coordinate place : line) {
            north += place.latitude.value - origin.latitude.value;
            east += geo::longitude_difference(origin.longitude, place.longitude).value;
            count += 1.0;
        }
    const geo::Degrees longitude =
        geo::longitude_difference({0.0}, {origin.longitude.value + east / count}); // back into -180..180
    return {{origin.latitude.value + north / count}, longitude};
}

std::optional<Feature> area_feature(const OsmObject& object, const Tags& tags,
                                    const std::vector<std::vector<OsmId>>& outer,
                                    const std::vector<std::vector<OsmId>>& inner, bool all_outer_there,
                                    const NodePass& nodes, ReadCounts& counts) {
    const JoinedRings joined = join_rings(outer);
    bool complete = all_outer_there && joined.complete && !joined.rings.empty();
    std::vector<std::vector<geo::Coordinate>> rings;
    for (const auto& ring : complete ? joined.rings : outer) {
        auto places = places_of(ring, nodes, complete);
        if (!places.empty())
            rings.push_back(std::move(places));
    }
    if (rings.empty()) {
        ++counts.broken_outlines;
        return std::nullopt;
    }
    Feature feature{object, {}, {}, tags};
    if (!complete) {
        ++counts.broken_outlines;
        feature.at = mean_of(rings);
        return feature;
    }
    for (const auto& ring : rings)
        feature.outline.insert(feature.outline.end(), ring.begin(), ring.end());
    for (const auto& ring : join_rings(inner).rings) {
        bool whole = true;
        auto places = places_of(ring, nodes, whole);
        if (whole)
            rings.push_back(std::move(places));
    }
    feature.at = point_inside(rings);
    return feature;
}

/// Nodes of those member ways that the file holds.
std::vector<std::vector<OsmId>> pieces_of(const std::vector<OsmId>& member_ids, const WayPass& ways) {
    std::vector<std::vector<OsmId>> pieces;
    for (const OsmId id : member_ids) {
        const auto way = std::lower_bound(ways.members.begin(), ways.members.end(), id,
                                          [](const WayNodes& w, OsmId wanted) { return w.id < wanted; });
        if (way != ways.members.end() && way->id == id)
            pieces.push_back(way->nodes);
    }
    return pieces;
}

} // namespace

std::vector<Feature> make_features(const RelationPass& relations, const WayPass& ways, const NodePass& nodes,
                                   ReadCounts& counts) {
    std::vector<Feature> features = nodes.features;
    for (const ClosedWay& way : ways.closed_ways)
        if (auto feature = area_feature({OsmType::way, way.id}, way.tags, {way.nodes}, {}, true, nodes, counts))
            features.push_back(std::move(*feature));
    for (const WantedArea& area : relations.areas) {
        const auto outer = pieces_of(area.outer, ways);
        const auto inner = pieces_of(area.inner, ways);
        const bool all_outer_there = outer.size() == area.outer.size();
        if (auto feature = area_feature(area.object, area.tags, outer, inner, all_outer_there, nodes, counts))
            features.push_back(std::move(*feature));
    }
    return features;
}

void keep_road_nodes(const NodePass& nodes, OsmExtract& extract) {
    for (std::size_t i = 0; i < nodes.ids.size(); ++i)
        if (nodes.on_road[i] && nodes.found[i]) {
            extract.node_ids.push_back(nodes.ids[i]);
            extract.node_places.push_back(nodes.places[i]);
        }
    extract.road_nodes = nodes.road_nodes;
    IdFinder finder{nodes.ids};
    for (const RoadWay& way : extract.roads)
        for (const OsmId id : way.nodes)
            extract.counts.missing_nodes += nodes.found[finder.find(id)] ? 0 : 1;
}

} // namespace routing::roads
