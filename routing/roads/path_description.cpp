#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/shortest_path.hpp"

#include <algorithm>

namespace routing::roads {

namespace {

/// Our figure: shorter unnamed stretches are not worth a line to a driver.
constexpr geo::Metres short_connector{30.0};

void absorb(RoadStretch& into, const RoadStretch& other) {
    into.length += other.length;
    into.time += other.time;
    into.notes = static_cast<std::uint16_t>(into.notes | other.notes);
}

/// Appends, or joins the last stretch when the name stays.
void append(std::vector<RoadStretch>& stretches, const RoadStretch& stretch) {
    if (!stretches.empty() && stretches.back().name == stretch.name)
        absorb(stretches.back(), stretch);
    else
        stretches.push_back(stretch);
}

bool is_short_connector(const RoadStretch& stretch) {
    return stretch.name.empty() && stretch.length < short_connector;
}

} // namespace

std::vector<geo::Coordinate> path_line(const RoadNetwork& network, const Path& path) {
    std::vector<geo::Coordinate> line;
    for (const PathPiece& piece : path.pieces) {
        const double from = piece.forward ? piece.from_fraction : 1.0 - piece.from_fraction;
        const double to = piece.forward ? piece.to_fraction : 1.0 - piece.to_fraction;
        for (const geo::Coordinate place : line_on_edge(network, piece.edge, from, to))
            if (line.empty() || line.back() != place)
                line.push_back(place);
    }
    return line;
}

std::vector<RoadStretch> road_stretches(const RoadNetwork& network, const Path& path) {
    std::vector<RoadStretch> named;
    for (const PathPiece& piece : path.pieces) {
        const Edge& edge = network.edges[value(piece.edge)];
        append(named, {network.name_of(edge), piece_length(network, piece), piece_time(network, piece), edge.notes});
    }
    std::vector<RoadStretch> merged;
    for (const RoadStretch& stretch : named) {
        if (!merged.empty() && is_short_connector(stretch))
            absorb(merged.back(), stretch);
        else
            append(merged, stretch);
    }
    if (merged.size() > 1 && is_short_connector(merged.front())) {
        absorb(merged[1], merged.front());
        merged.erase(merged.begin());
    }
    return merged;
}

} // namespace routing::roads
