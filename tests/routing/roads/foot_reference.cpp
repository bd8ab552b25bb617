#include "foot_reference.hpp"

#include "routing/roads/line_length.hpp"

#include <boost/geometry.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <string>

namespace support {

namespace roads = routing::roads;
namespace bg = boost::geometry;

namespace {

using Texts = std::set<std::string, std::less<>>;

/// Whether one item of the list opens; nothing when the key is not there.
std::optional<bool> opens(std::string_view list) {
    static const Texts open{"yes",    "designated", "official",    "permissive",
                            "public", "customers",  "destination", "discouraged"};
    if (list.empty())
        return std::nullopt;
    std::string item;
    for (const char letter : std::string(list) + ";")
        if (letter == ';') {
            if (open.contains(item))
                return true;
            item.clear();
        } else if (letter != ' ') {
            item += letter;
        }
    return false;
}

std::optional<bool> own_key(const roads::Tags& tags, const std::string& key, const std::string& direction) {
    const auto directed = opens(tags[key + direction]);
    return directed ? directed : opens(tags[key]);
}

bool may_walk(const roads::Tags& tags, bool forward) {
    static const Texts roads_and_paths{"trunk",          "trunk_link", "primary",       "primary_link", "secondary",
                                       "secondary_link", "tertiary",   "tertiary_link", "road",         "unclassified",
                                       "residential",    "service",    "living_street", "track",        "pedestrian",
                                       "footway",        "path",       "steps",         "corridor",     "platform",
                                       "bridleway",      "cycleway"};
    static const Texts only_by_foot_key{"motorway", "motorway_link", "busway"};
    static const Texts too_hard{"demanding_mountain_hiking", "alpine_hiking", "demanding_alpine_hiking",
                                "difficult_alpine_hiking"};
    const std::string_view highway = tags["highway"];
    const bool ordinary = roads_and_paths.contains(highway);
    if (!ordinary && !only_by_foot_key.contains(highway))
        return false;
    if (tags["area"] == "yes" && highway != "pedestrian" && highway != "footway" && highway != "path")
        return false;
    if (too_hard.contains(tags["sac_scale"]) || tags["ford"] == "boat" || tags["winter_road"] == "yes" ||
        tags["ice_road"] == "yes")
        return false;
    const std::string_view oneway = tags["oneway:foot"];
    if ((forward && (oneway == "-1" || oneway == "reverse")) || (!forward && (oneway == "yes" || oneway == "1")))
        return false;
    const std::string direction = forward ? ":forward" : ":backward";
    if (const auto foot = own_key(tags, "foot", direction))
        return *foot;
    return own_key(tags, "access", direction).value_or(true) && ordinary && tags["motorroad"] != "yes";
}

double seconds_a_metre(const roads::Tags& tags) {
    const double kilometres_per_hour =
        (tags["highway"] == "steps" ? 1.5 : 4.0) * (tags["sac_scale"] == "mountain_hiking" ? 0.75 : 1.0);
    return 3.6 / kilometres_per_hour;
}

bool is_shut(const roads::Tags& tags) {
    const std::string_view barrier = tags["barrier"];
    const bool stands_there = !barrier.empty() && barrier != "no";
    if (!stands_there && (tags.has("highway") || tags.has("railway")))
        return false;
    if (const auto foot = opens(tags["foot"]))
        return !*foot;
    if (!stands_there)
        return false;
    if (const auto access = opens(tags["access"]))
        return !*access;
    static const Texts passed{"cattle_grid", "entrance",   "toll_booth",   "border_control",
                              "bump_gate",   "sally_port", "gate",         "height_restrictor",
                              "swing_gate",  "wall",       "sliding_gate", "width_restrictor",
                              "wicket_gate", "fence",      "kissing_gate", "hampshire_gate",
                              "lift_gate",   "hedge",      "stile",        "full-height_turnstile",
                              "horse_stile", "turnstile",  "bollard",      "motorcycle_barrier",
                              "block",       "chain",      "rope",         "cycle_barrier",
                              "bus_trap",    "planter",    "log",          "jersey_barrier",
                              "debris",      "kerb",       "city_wall",    "retaining_wall",
                              "ditch",       "handrail",   "guard_rail"};
    return !passed.contains(barrier);
}

using Point = bg::model::d2::point_xy<double>;

Point flat(geo::Coordinate place) {
    return {place.longitude.value, place.latitude.value};
}

} // namespace

FootReference::FootReference(const roads::OsmExtract& extract, bool all_links) {
    std::set<roads::OsmId> shut;
    for (const roads::RoadNode& node : extract.road_nodes)
        if (is_shut(node.tags))
            shut.insert(node.id);
    shut_nodes = shut.size();

    std::map<std::pair<roads::OsmId, roads::OsmId>, double> steps;
    std::map<roads::OsmId, std::set<roads::OsmId>> ways_at;
    const auto step = [&](roads::OsmId a, roads::OsmId b, double seconds) {
        const auto [known, is_new] = steps.try_emplace({a, b}, seconds);
        known->second = std::min(known->second, seconds);
    };
    const auto metres = [&](roads::OsmId a, roads::OsmId b) {
        return roads::ground_distance(*extract.place_of(a), *extract.place_of(b)).value;
    };
    for (const roads::RoadWay& way : extract.roads) {
        const bool forward = may_walk(way.tags, true);
        const bool backward = may_walk(way.tags, false);
        if (!forward && !backward)
            continue;
        for (std::size_t i = 0; i + 1 < way.nodes.size(); ++i) {
            const roads::OsmId a = way.nodes[i];
            const roads::OsmId b = way.nodes[i + 1];
            if (a == b || !extract.place_of(a) || !extract.place_of(b))
                continue;
            ways_at[a].insert(way.id);
            ways_at[b].insert(way.id);
            const double seconds = metres(a, b) * seconds_a_metre(way.tags);
            if (forward && !shut.contains(a) && !shut.contains(b))
                step(a, b, seconds);
            if (backward && !shut.contains(a) && !shut.contains(b))
                step(b, a, seconds);
        }
    }
    for (const roads::RoadWay& way : extract.roads) {
        const std::string_view highway = way.tags["highway"];
        const bool square = highway == "pedestrian"
                                ? way.tags["area"] != "no"
                                : (highway == "footway" || highway == "path") && way.tags["area"] == "yes";
        const auto& rim = way.nodes;
        if (!square || rim.size() < 4 || rim.front() != rim.back() || !may_walk(way.tags, true) ||
            !may_walk(way.tags, false) ||
            std::any_of(rim.begin(), rim.end(), [&](roads::OsmId node) { return !extract.place_of(node); }))
            continue;
        bg::model::polygon<Point> outline;
        for (const roads::OsmId node : rim)
            outline.outer().push_back(flat(*extract.place_of(node)));
        bg::correct(outline);
        std::vector<std::size_t> entries;
        for (std::size_t i = 0; i + 1 < rim.size(); ++i)
            if (ways_at[rim[i]].size() > 1 && !shut.contains(rim[i]))
                entries.push_back(i);
        const bool crowded = entries.size() > 12;
        bool linked = false;
        for (const std::size_t i : entries)
            for (const std::size_t j : entries) {
                if (i >= j || j - i == 1 || j - i + 2 == rim.size())
                    continue;
                bg::model::linestring<Point> line{flat(*extract.place_of(rim[i])), flat(*extract.place_of(rim[j]))};
                if (!bg::covered_by(line, outline))
                    continue;
                linked = true;
                if (crowded && !all_links)
                    continue;
                const double seconds = metres(rim[i], rim[j]) * seconds_a_metre(way.tags);
                step(rim[i], rim[j], seconds);
                step(rim[j], rim[i], seconds);
            }
        squares += linked ? 1 : 0;
        crowded_squares += linked && crowded ? 1 : 0;
    }

    for (const auto& [ends, seconds] : steps) {
        nodes_.push_back(ends.first);
        nodes_.push_back(ends.second);
    }
    std::sort(nodes_.begin(), nodes_.end());
    nodes_.erase(std::unique(nodes_.begin(), nodes_.end()), nodes_.end());
    std::vector<std::pair<std::size_t, std::size_t>> edges;
    std::vector<Weight> weights;
    for (const auto& [ends, seconds] : steps) {
        edges.emplace_back(*index_of(ends.first), *index_of(ends.second));
        weights.push_back({seconds});
    }
    graph_.emplace(boost::edges_are_sorted, edges.begin(), edges.end(), weights.begin(), nodes_.size());
}

std::optional<std::size_t> FootReference::index_of(roads::OsmId node) const {
    const auto found = std::lower_bound(nodes_.begin(), nodes_.end(), node);
    if (found == nodes_.end() || *found != node)
        return std::nullopt;
    return static_cast<std::size_t>(found - nodes_.begin());
}

std::vector<double> FootReference::seconds_from(std::size_t node) const {
    std::vector<double> seconds(nodes_.size());
    const auto index = get(boost::vertex_index, *graph_);
    boost::dijkstra_shortest_paths(*graph_, node,
                                   boost::distance_map(make_iterator_property_map(seconds.begin(), index))
                                       .weight_map(get(&Weight::seconds, *graph_))
                                       .distance_inf(std::numeric_limits<double>::infinity()));
    return seconds;
}

} // namespace support
