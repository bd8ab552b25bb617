#include "routing/roads/outlines.hpp"

#include <algorithm>
#include <cassert>
#include <optional>

namespace routing::roads {
namespace {

struct PieceEnd {
    OsmId node = 0;
    std::size_t piece = 0;
    friend auto operator<=>(const PieceEnd&, const PieceEnd&) = default;
};

/// A corner in degrees east and north of the area's first corner.
struct Offset {
    double east = 0.0;
    double north = 0.0;
};

std::vector<double> crossings_of_parallel(const std::vector<std::vector<Offset>>& rings, double north) {
    std::vector<double> crossings;
    for (const auto& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Offset a = ring[i];
            const Offset b = ring[(i + 1) % ring.size()];
            if ((a.north > north) != (b.north > north))
                crossings.push_back(a.east + (north - a.north) / (b.north - a.north) * (b.east - a.east));
        }
    std::sort(crossings.begin(), crossings.end());
    return crossings;
}

std::optional<Offset> middle_of_widest_stretch(const std::vector<std::vector<Offset>>& rings, double north) {
    const std::vector<double> crossings = crossings_of_parallel(rings, north);
    std::optional<Offset> widest;
    double width = 0.0;
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
        if (crossings[i + 1] - crossings[i] > width) {
            width = crossings[i + 1] - crossings[i];
            widest = Offset{(crossings[i] + crossings[i + 1]) / 2.0, north};
        }
    return widest;
}

} // namespace

JoinedRings join_rings(const std::vector<std::vector<OsmId>>& pieces) {
    std::vector<PieceEnd> ends;
    for (std::size_t i = 0; i < pieces.size(); ++i)
        if (!pieces[i].empty()) {
            ends.push_back({pieces[i].front(), i});
            ends.push_back({pieces[i].back(), i});
        }
    std::sort(ends.begin(), ends.end());

    JoinedRings result;
    std::vector<bool> used(pieces.size(), false);
    for (std::size_t first = 0; first < pieces.size(); ++first) {
        if (used[first] || pieces[first].size() < 2)
            continue;
        used[first] = true;
        std::vector<OsmId> ring = pieces[first];
        while (ring.front() != ring.back()) {
            auto next = std::lower_bound(ends.begin(), ends.end(), PieceEnd{ring.back(), 0});
            while (next != ends.end() && next->node == ring.back() && used[next->piece])
                ++next;
            if (next == ends.end() || next->node != ring.back())
                break;
            used[next->piece] = true;
            const auto& piece = pieces[next->piece];
            if (piece.front() == ring.back())
                ring.insert(ring.end(), piece.begin() + 1, piece.end());
            else
                ring.insert(ring.end(), piece.rbegin() + 1, piece.rend());
        }
        if (ring.front() == ring.back() && ring.size() >= 4)
            result.rings.push_back(std::move(ring));
        else
            result.complete = false;
    }
    return result;
}

geo::Coordinate point_inside(const std::vector<std::vector<geo::Coordinate>>& rings) {
    std::optional<geo::Coordinate> origin;
    std::vector<std::vector<Offset>> local;
    std::vector<double> norths;
    Offset sum;
    for (const auto& ring : rings) {
        auto& offsets = local.emplace_back();
        for (const geo::Coordinate corner : ring) {
            if (!origin)
                origin = corner;
            offsets.push_back({geo::longitude_difference(origin->longitude, corner.longitude).value,
                               corner.latitude.value - origin->latitude.value});
            norths.push_back(offsets.back().north);
            sum.east += offsets.back().east;
            sum.north += offsets.back().north;
        }
    }
    assert(origin);
    const auto count = static_cast<double>(norths.size());
    Offset inside{sum.east / count, sum.north / count};

    // Between two corners' parallels, never on one: there a crossing could count twice.
    std::sort(norths.begin(), norths.end());
    norths.erase(std::unique(norths.begin(), norths.end()), norths.end());
    const double middle = (norths.front() + norths.back()) / 2.0;
    const auto above = std::upper_bound(norths.begin(), norths.end(), middle);
    if (above != norths.begin() && above != norths.end())
        if (const auto stretch = middle_of_widest_stretch(local, (*(above - 1) + *above) / 2.0))
            inside = *stretch;

    double longitude = origin->longitude.value + inside.east;
    if (longitude > 180.0)
        longitude -= 360.0;
    if (longitude < -180.0)
        longitude += 360.0;
    return {{origin->latitude.value + inside.north}, {longitude}};
}

} // namespace routing::roads
