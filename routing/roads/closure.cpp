#include "routing/roads/closure.hpp"

#include "geo/nearest_name.hpp"

#include "routing/roads/drawn_line.hpp"
#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/road_name.hpp"

#include <boost/geometry.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

namespace routing::roads {

namespace bg = boost::geometry;

namespace {

// Our figures, see closure.hpp.
constexpr geo::Metres farthest_name{2000.0};
constexpr geo::Metres bridged_gap{50.0};
constexpr geo::Metres candidate_range{20000.0};
/// Roads near a drawn line are looked for within the first of these that holds any.
constexpr geo::Metres line_candidate_ranges[] = {{100.0}, {1000.0}, {5000.0}, candidate_range};
constexpr std::size_t most_candidates = 5;
constexpr std::size_t most_names = 3;

std::string decimal(double number, int digits) {
    char text[64];
    const auto end = std::to_chars(text, text + sizeof text, number, std::chars_format::fixed, digits).ptr;
    return {text, end};
}

/// "320 m", "4.2 km"
std::string length_text(geo::Metres length) {
    return length.value < 999.5 ? decimal(length.value, 0) + " m" : decimal(length.value / 1000.0, 1) + " km";
}

std::string place_text(geo::Coordinate place) {
    return decimal(place.latitude.value, 5) + ", " + decimal(place.longitude.value, 5);
}

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
    return std::to_string(count) + " " + (count == 1 ? one : many);
}

bool is_open(const Edge& edge) {
    return edge.forward < closed || edge.backward < closed;
}

/// The names of the edges, longest road first: "Ridge Road, Mill Lane and 2 more"; empty when none has one.
std::string names_text(const RoadNetwork& network, const std::vector<EdgeIndex>& edges) {
    std::map<std::string, double> metres;
    for (const EdgeIndex index : edges) {
        const Edge& edge = network.edges[value(index)];
        if (!network.name_of(edge).empty())
            metres[network.name_of(edge)] += static_cast<double>(edge.metres);
    }
    std::vector<std::pair<std::string, double>> names(metres.begin(), metres.end());
    std::stable_sort(names.begin(), names.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
    std::string text;
    for (std::size_t i = 0; i < std::min(names.size(), most_names); ++i)
        text += (i ? ", " : "") + names[i].first;
    if (names.size() > most_names)
        text += " and " + std::to_string(names.size() - most_names) + " more";
    return text;
}

/// "title (names), 4.2 km in 7 pieces"; the names alone when there is no title.
std::string describe(const RoadNetwork& network, const std::vector<EdgeIndex>& edges, const std::string& title) {
    if (edges.empty())
        return "";
    const std::string names = names_text(network, edges);
    std::string text = title;
    if (title.empty())
        text = names;
    else if (!names.empty())
        text += " (" + names + ")";
    geo::Metres length;
    for (const EdgeIndex edge : edges)
        length += geo::Metres{static_cast<double>(network.edges[value(edge)].metres)};
    return text + ", " + length_text(length) + " in " + counted(edges.size(), "piece", "pieces");
}

geo::Metres distance_to_edge(const RoadNetwork& network, EdgeIndex edge, const SpacePoint& place) {
    const auto shape = network.shape_of(network.edges[value(edge)]);
    geo::Metres least = distance(place, in_space(shape.front()));
    for (std::size_t i = 1; i < shape.size(); ++i)
        least = std::min(least, nearest_on_segment(place, in_space(shape[i - 1]), in_space(shape[i])).distance);
    return least;
}

/// A road and how far away it is.
using RoadAway = std::pair<geo::Metres, EdgeIndex>;

/// The nearest ways as candidates: "Ridge Road (way 12), 300 m away". `roads` in order of distance.
std::vector<std::string> way_texts(const RoadNetwork& network, const std::vector<RoadAway>& roads) {
    std::vector<std::string> texts;
    std::set<OsmId> ways;
    for (const auto& [away, index] : roads) {
        const Edge& edge = network.edges[value(index)];
        if (texts.size() == most_candidates || !ways.insert(edge.way).second)
            continue;
        const std::string way = "way " + std::to_string(edge.way);
        const std::string& name = network.name_of(edge);
        texts.push_back((name.empty() ? way : name + " (" + way + ")") + ", " + length_text(away) + " away");
    }
    return texts;
}

std::vector<std::string> roads_near(const RoadNetwork& network, const SnapIndex& index, geo::Coordinate place) {
    std::vector<RoadAway> roads;
    for (const RoadPoint& point : index.nearest_edges(place, 10 * most_candidates, candidate_range))
        roads.emplace_back(point.moved, point.edge);
    return way_texts(network, roads);
}

/// Parts of `edges` that hang together, by shared or nearly shared ends; each in order of index.
std::vector<std::vector<EdgeIndex>> connected_stretches(const RoadNetwork& network,
                                                        const std::vector<EdgeIndex>& edges) {
    std::vector<std::size_t> group(edges.size());
    std::iota(group.begin(), group.end(), std::size_t{0});
    const auto root = [&](std::size_t i) {
        while (group[i] != i)
            i = group[i] = group[group[i]];
        return i;
    };
    std::vector<std::pair<SpacePoint, std::size_t>> ends;
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const auto shape = network.shape_of(network.edges[value(edges[i])]);
        ends.emplace_back(in_space(shape.front()), i);
        ends.emplace_back(in_space(shape.back()), i);
    }
    std::sort(ends.begin(), ends.end(), [](const auto& a, const auto& b) { return a.first.x < b.first.x; });
    for (std::size_t i = 0; i < ends.size(); ++i)
        for (std::size_t j = i + 1; j < ends.size() && ends[j].first.x - ends[i].first.x <= bridged_gap.value; ++j)
            if (distance(ends[i].first, ends[j].first) <= bridged_gap)
                group[root(ends[j].second)] = root(ends[i].second);
    std::map<std::size_t, std::vector<EdgeIndex>> stretches;
    for (std::size_t i = 0; i < edges.size(); ++i)
        stretches[root(i)].push_back(edges[i]);
    std::vector<std::vector<EdgeIndex>> result;
    for (auto& [unused, stretch] : stretches)
        result.push_back(std::move(stretch));
    return result;
}

/// A road name on the map and how well it does for the one asked for.
struct NameCandidate {
    std::size_t edits = 0;
    geo::Metres distance; ///< from the place asked for; 0 without one
    std::string name;
};

/// Names spelt nearly alike first, then names of roads near the place.
std::vector<std::string> name_candidates(const RoadNetwork& network, const RoadNamed& wanted) {
    const RoadName spelling(wanted.name);
    const std::size_t alike = std::max<std::size_t>(2, wanted.name.size() / 4);
    std::map<std::uint32_t, geo::Metres> distances;
    const std::optional<SpacePoint> near = wanted.near ? std::optional(in_space(*wanted.near)) : std::nullopt;
    for (std::uint32_t i = 0; i < network.edges.size(); ++i) {
        const Edge& edge = network.edges[i];
        if (edge.name == 0 || !is_open(edge))
            continue;
        const geo::Metres away = near ? distance_to_edge(network, EdgeIndex{i}, *near) : geo::Metres{};
        const auto [known, added] = distances.emplace(edge.name, away);
        if (!added)
            known->second = std::min(known->second, away);
    }
    std::vector<NameCandidate> names;
    for (const auto& [name, away] : distances) {
        const std::size_t edits = spelling.edits_to(network.names[name]);
        if (edits <= alike || (near && away <= candidate_range))
            names.push_back({std::min(edits, alike + 1), away, network.names[name]});
    }
    std::sort(names.begin(), names.end(), [](const NameCandidate& a, const NameCandidate& b) {
        return std::tie(a.edits, a.distance, a.name) < std::tie(b.edits, b.distance, b.name);
    });
    std::vector<std::string> texts;
    for (std::size_t i = 0; i < std::min(names.size(), most_candidates); ++i)
        texts.push_back(names[i].name + (near ? ", " + length_text(names[i].distance) + " away" : ""));
    return texts;
}

ClosureMatch match(const RoadNetwork& network, const SnapIndex&, const RoadNamed& wanted) {
    const RoadName name(wanted.name);
    std::vector<NameMatch> matches;
    for (const std::string& mapped : network.names)
        matches.push_back(name.matches(mapped));
    ClosureMatch result;
    for (const NameMatch kind : {NameMatch::exact, NameMatch::without_accents, NameMatch::without_marks}) {
        for (std::uint32_t i = 0; i < network.edges.size() && kind != NameMatch::no; ++i)
            if (is_open(network.edges[i]) && matches[network.edges[i].name] == kind)
                result.edges.push_back(EdgeIndex{i});
        if (!result.edges.empty())
            break;
    }
    result.problem = result.edges.empty() ? "no road is named \"" + wanted.name + "\"" : "";
    if (wanted.near && !result.edges.empty()) {
        const SpacePoint place = in_space(*wanted.near);
        std::vector<EdgeIndex> nearest;
        geo::Metres least = farthest_name;
        for (const auto& stretch : connected_stretches(network, result.edges))
            for (const EdgeIndex edge : stretch)
                if (const geo::Metres away = distance_to_edge(network, edge, place); away < least) {
                    least = away;
                    nearest = stretch;
                }
        result.edges = nearest;
        if (nearest.empty())
            result.problem = "no road named \"" + wanted.name + "\" lies within " + length_text(farthest_name) +
                             " of " + place_text(*wanted.near);
    }
    if (!result.problem.empty())
        result.candidates = name_candidates(network, wanted);
    result.description = describe(network, result.edges, "");
    return result;
}

/// Ids that differ from `wanted` by one or two digits, as a slip of the finger leaves them.
std::vector<std::string> way_candidates(const RoadNetwork& network, OsmId wanted) {
    std::map<OsmId, std::uint32_t> ways;
    for (std::uint32_t i = 0; i < network.edges.size(); ++i)
        if (is_open(network.edges[i]))
            ways.emplace(network.edges[i].way, i);
    std::vector<std::pair<std::size_t, OsmId>> alike;
    for (const auto& [way, edge] : ways)
        if (const std::size_t edits = geo::edit_distance(std::to_string(way), std::to_string(wanted)); edits <= 2)
            alike.emplace_back(edits, way);
    std::sort(alike.begin(), alike.end());
    std::vector<std::string> texts;
    for (std::size_t i = 0; i < std::min(alike.size(), most_candidates); ++i) {
        const std::string& name = network.name_of(network.edges[ways[alike[i].second]]);
        texts.push_back("way " + std::to_string(alike[i].second) + (name.empty() ? "" : " (" + name + ")"));
    }
    return texts;
}

ClosureMatch match(const RoadNetwork& network, const SnapIndex&, const Ways& wanted) {
    const std::set<OsmId> ids(wanted.ids.begin(), wanted.ids.end());
    std::set<OsmId> missing = ids;
    ClosureMatch result;
    for (std::uint32_t i = 0; i < network.edges.size(); ++i) {
        const Edge& edge = network.edges[i];
        if (ids.contains(edge.way) && is_open(edge)) {
            missing.erase(edge.way);
            result.edges.push_back(EdgeIndex{i});
        }
    }
    if (ids.empty())
        result.problem = "no way id is given";
    for (const OsmId way : missing) {
        result.problem += (result.problem.empty() ? "nothing open to it is way " : ", way ") + std::to_string(way);
        for (const std::string& candidate : way_candidates(network, way))
            if (result.candidates.size() < most_candidates &&
                std::find(result.candidates.begin(), result.candidates.end(), candidate) == result.candidates.end())
                result.candidates.push_back(candidate);
    }
    const std::size_t found = ids.size() - missing.size();
    const OsmId first = result.edges.empty() ? 0 : network.edges[value(result.edges.front())].way;
    result.description =
        describe(network, result.edges, found == 1 ? "way " + std::to_string(first) : counted(found, "way", "ways"));
    return result;
}

std::vector<EdgeIndex> edges_near(const RoadNetwork& network, const DrawnLine& line, geo::Metres margin) {
    std::vector<EdgeIndex> edges;
    for (std::uint32_t i = 0; i < network.edges.size(); ++i)
        if (is_open(network.edges[i]) && line.comes_within(network.shape_of(network.edges[i]), margin))
            edges.push_back(EdgeIndex{i});
    return edges;
}

std::vector<std::string> roads_near(const RoadNetwork& network, const DrawnLine& line) {
    std::vector<RoadAway> roads;
    for (const geo::Metres range : line_candidate_ranges) {
        for (const EdgeIndex edge : edges_near(network, line, range))
            roads.emplace_back(line.distance_from(network.shape_of(network.edges[value(edge)])), edge);
        if (!roads.empty())
            break;
    }
    std::sort(roads.begin(), roads.end());
    return way_texts(network, roads);
}

ClosureMatch match(const RoadNetwork& network, const SnapIndex&, const Line& wanted) {
    ClosureMatch result;
    if (!has_length(wanted.points)) {
        result.problem = "a line needs two different points or more";
        return result;
    }
    const DrawnLine line(wanted.points);
    result.edges = edges_near(network, line, line_margin);
    if (result.edges.empty()) {
        result.problem = "no road crosses the line or comes within " + length_text(line_margin) + " of it";
        result.candidates = roads_near(network, line);
    }
    result.description = describe(network, result.edges, "line of " + std::to_string(wanted.points.size()) + " points");
    return result;
}

// Whether lines meet and points lie inside does not change when degrees are read as plane coordinates, since roads and
// areas both run straight in longitude and latitude.
using PlanePoint = bg::model::d2::point_xy<double>;
using PlaneLine = bg::model::linestring<PlanePoint>;
using PlaneRing = bg::model::ring<PlanePoint>;
using PlaneBox = bg::model::box<PlanePoint>;

/// Longitudes run on from `origin` without a jump at the 180th meridian.
PlaneLine plane_line(std::span<const geo::Coordinate> line, geo::Degrees origin) {
    PlaneLine result;
    geo::Degrees before = origin;
    double x = 0.0;
    for (const geo::Coordinate place : line) {
        x += geo::longitude_difference(before, place.longitude).value;
        before = place.longitude;
        result.emplace_back(x, place.latitude.value);
    }
    return result;
}

std::size_t different_points(const std::vector<geo::Coordinate>& ring) {
    std::set<std::pair<double, double>> points;
    for (const geo::Coordinate place : ring)
        points.emplace(place.latitude.value, place.longitude.value);
    return points.size();
}

geo::Coordinate middle_of(const PlaneLine& ring, geo::Degrees origin) {
    const auto box = bg::return_envelope<PlaneBox>(ring);
    const auto centre = bg::return_centroid<PlanePoint>(box);
    const geo::Degrees longitude = geo::longitude_difference({0.0}, origin + geo::Degrees{centre.x()});
    return {{centre.y()}, longitude};
}

ClosureMatch match(const RoadNetwork& network, const SnapIndex& index, const Area& area) {
    ClosureMatch result;
    if (different_points(area.ring) < 3) {
        result.problem = "an area needs three different points or more";
        return result;
    }
    const geo::Degrees origin = area.ring.front().longitude;
    PlaneLine outline = plane_line(area.ring, origin);
    PlaneRing ring(outline.begin(), outline.end());
    bg::correct(ring);
    outline.push_back(outline.front());
    const auto box = bg::return_envelope<PlaneBox>(ring);
    for (std::uint32_t i = 0; i < network.edges.size(); ++i) {
        const Edge& edge = network.edges[i];
        if (!is_open(edge))
            continue;
        const PlaneLine line = plane_line(network.shape_of(edge), origin);
        if (!bg::intersects(bg::return_envelope<PlaneBox>(line), box))
            continue;
        // A road that never crosses the outline is inside with all of it or with none.
        if (bg::intersects(line, outline) || bg::covered_by(line.front(), ring))
            result.edges.push_back(EdgeIndex{i});
    }
    if (result.edges.empty()) {
        result.problem = "no road touches the area";
        result.candidates = roads_near(network, index, middle_of(outline, origin));
    }
    result.description =
        describe(network, result.edges, "area of " + std::to_string(different_points(area.ring)) + " points");
    return result;
}

ClosureMatch match(const RoadNetwork& network, const SnapIndex& index, const Circle& circle) {
    ClosureMatch result;
    result.edges = index.edges_within(circle.centre, circle.radius);
    const std::string where = length_text(circle.radius) + " of " + place_text(circle.centre);
    if (result.edges.empty()) {
        result.problem = "no road comes within " + where;
        result.candidates = roads_near(network, index, circle.centre);
    }
    result.description = describe(network, result.edges, "within " + where);
    return result;
}

} // namespace

ClosureMatch match_closure(const RoadNetwork& network, const SnapIndex& index, const Closure& closure) {
    return std::visit([&](const auto& where) { return match(network, index, where); }, closure.where);
}

void close(ClosedEdges& closed_edges, const RoadNetwork& network, const ClosureMatch& match) {
    closed_edges.resize(network.edges.size(), false);
    for (const EdgeIndex edge : match.edges)
        closed_edges[value(edge)] = true;
}

} // namespace routing::roads
