#pragma once
/// Walks a path piece by piece and says what is wrong with it.

#include "edge_based_reference.hpp"
#include "routing/roads/directions.hpp"
#include "routing/roads/edge_geometry.hpp"

#include <cmath>
#include <string>

namespace support {

/// Empty when the path is one a van could drive: pieces meet at junctions, directions open, no edge shut, no forbidden
/// turn, destination-only road at the ends only, times and lengths adding up, line unbroken and ending at the points.
inline std::string fault_of(const roads::RoadNetwork& network, const TurnRules& rules, const roads::RoadPoint& from,
                            const roads::RoadPoint& to, const roads::Path& path,
                            const roads::ClosedEdges& closed_edges = {}) {
    const EdgeEnds ends = edge_ends(network);
    const TurnReferee referee(rules, ends);
    Progress progress;
    roads::Milliseconds time = 0;
    double metres = 0.0;
    std::string zones;
    for (std::size_t i = 0; i < path.pieces.size(); ++i) {
        const roads::PathPiece& piece = path.pieces[i];
        const roads::Edge& edge = network.edges[value(piece.edge)];
        const std::string here = "piece " + std::to_string(i) + " on way " + std::to_string(edge.way) + " ";
        if ((piece.forward ? edge.forward : edge.backward) >= roads::closed)
            return here + "runs against the open direction";
        if (!closed_edges.empty() && closed_edges[value(piece.edge)])
            return here + "runs on a shut road";
        if (!(piece.from_fraction < piece.to_fraction))
            return here + "has no length";
        if ((i > 0 && piece.from_fraction != 0.0) || (i + 1 < path.pieces.size() && piece.to_fraction != 1.0))
            return here + "starts or ends in mid-road inside the path";
        time += roads::piece_time(network, piece);
        metres += static_cast<double>(edge.metres) * (piece.to_fraction - piece.from_fraction);
        if (zones.empty() || zones.back() != (edge.destination_only ? 'd' : 'o'))
            zones += edge.destination_only ? 'd' : 'o';
        const Direction direction = direction_of(piece.edge, piece.forward);
        if (i == 0) {
            progress = referee.begin(direction);
            continue;
        }
        const Direction before = direction_of(path.pieces[i - 1].edge, path.pieces[i - 1].forward);
        if (end_of(ends, before) != start_of(ends, direction))
            return here + "does not start where the one before ends";
        if (!referee.turn(progress, before, direction))
            return here + "is entered by a forbidden turn at node " + std::to_string(start_of(ends, direction));
    }
    if (zones.find("odo") != std::string::npos)
        return "destination-only road in the middle: " + zones;
    if (time != path.time)
        return "piece times add up to " + std::to_string(time) + ", not " + std::to_string(path.time);
    if (std::abs(metres - path.length.value) > 0.01)
        return "piece lengths add up to " + std::to_string(metres) + ", not " + std::to_string(path.length.value);
    const auto line = roads::path_line(network, path);
    if (path.pieces.empty())
        return line.empty() ? "" : "a path of no length has a line";
    if (roads::distance(line.front(), from.at) > geo::Metres{0.01} ||
        roads::distance(line.back(), to.at) > geo::Metres{0.01})
        return "the line does not run from point to point";
    if (std::abs(roads::line_length(line).value - metres) > 0.05 + metres * 1e-3)
        return "the line is " + std::to_string(roads::line_length(line).value) + " m, the path " +
               std::to_string(metres);
    const auto add_up = [&](const auto& stretches) {
        double length = 0.0;
        roads::Milliseconds sum = 0;
        for (const auto& stretch : stretches) {
            length += stretch.length.value;
            sum += stretch.time;
        }
        return sum == path.time && std::abs(length - metres) <= 0.01;
    };
    if (!add_up(roads::road_stretches(network, path)))
        return "road names do not add up to the path";
    if (!add_up(roads::directions(network, path)))
        return "directions do not add up to the path";
    return "";
}

} // namespace support
