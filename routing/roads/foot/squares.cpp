#include "routing/roads/foot/squares.hpp"

#include "routing/roads/foot/foot_rules.hpp"
#include "routing/roads/line_length.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace routing::roads::foot {
namespace {

constexpr std::size_t most_entries_all_linked = 12;
constexpr std::size_t most_entries = 200;
constexpr double longest_detour = 1.1;

/// Longitude and latitude as a plane: inside and crossing do not depend on the scale of either axis.
struct Point {
    double east = 0.0;
    double north = 0.0;
};

/// Above 0 when c lies to the left of a-b.
double side(const Point& a, const Point& b, const Point& c) {
    return (b.east - a.east) * (c.north - a.north) - (b.north - a.north) * (c.east - a.east);
}

bool cross(const Point& a, const Point& b, const Point& c, const Point& d) {
    return side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
}

struct Entry {
    std::uint32_t junction = 0;
    std::size_t corner = 0;    ///< index in the rim
    double metres_along = 0.0; ///< the rim, from its start
};

struct Square {
    std::vector<std::uint32_t> nodes; ///< of the rim, the first again at the end
    std::vector<Point> rim;           ///< beside `nodes`
    std::vector<Entry> entries;       ///< along the rim
    double rim_metres = 0.0;
};

struct Link {
    double metres = 0.0;
    std::size_t from = 0; ///< index in Square::entries
    std::size_t to = 0;
    auto operator<=>(const Link&) const = default;
};

bool contains(const Square& square, const Point& place) {
    bool inside = false;
    for (std::size_t i = 0; i + 1 < square.rim.size(); ++i) {
        const Point& a = square.rim[i];
        const Point& b = square.rim[i + 1];
        if ((a.north > place.north) != (b.north > place.north) &&
            place.east < a.east + (b.east - a.east) * (place.north - a.north) / (b.north - a.north))
            inside = !inside;
    }
    return inside;
}

bool see_each_other(const Square& square, const Entry& a, const Entry& b) {
    const std::size_t apart = a.corner < b.corner ? b.corner - a.corner : a.corner - b.corner;
    if (apart <= 1 || apart + 2 == square.rim.size())
        return false; // the rim itself runs straight between them
    const Point& from = square.rim[a.corner];
    const Point& to = square.rim[b.corner];
    if (!contains(square, {(from.east + to.east) / 2.0, (from.north + to.north) / 2.0}))
        return false;
    for (std::size_t i = 0; i + 1 < square.rim.size(); ++i)
        if (cross(from, to, square.rim[i], square.rim[i + 1]))
            return false;
    return true;
}

/// Keeps of `links`, shortest first, those that shorten the way between their ends by more than the detour allowed.
std::vector<Link> thinned(const Square& square, const std::vector<Link>& links) {
    const std::size_t count = square.entries.size();
    std::vector<double> metres(count * count);
    for (std::size_t i = 0; i < count; ++i)
        for (std::size_t j = 0; j < count; ++j) {
            const double along = std::abs(square.entries[i].metres_along - square.entries[j].metres_along);
            metres[i * count + j] = std::min(along, square.rim_metres - along);
        }
    std::vector<Link> kept;
    for (const Link& link : links) {
        if (metres[link.from * count + link.to] <= longest_detour * link.metres)
            continue;
        kept.push_back(link);
        for (std::size_t i = 0; i < count; ++i)
            for (std::size_t j = 0; j < count; ++j) {
                const double over = std::min(metres[i * count + link.from] + metres[link.to * count + j],
                                             metres[i * count + link.to] + metres[link.from * count + j]) +
                                    link.metres;
                metres[i * count + j] = std::min(metres[i * count + j], over);
            }
    }
    return kept;
}

class SquareLinker {
public:
    SquareLinker(const OsmExtract& extract, const std::vector<WayRuling>& rulings, RoadPieces& roads,
                 BuildCounts& counts)
        : extract_(extract), rulings_(rulings), roads_(roads), counts_(counts),
          first_way_(roads.junctions.size(), none), is_shared_(roads.junctions.size(), false) {}

    void run() {
        for (const Piece& piece : roads_.pieces)
            for (const std::uint32_t junction : {piece.start, piece.end}) {
                if (first_way_[junction] == none)
                    first_way_[junction] = piece.way;
                else if (first_way_[junction] != piece.way)
                    is_shared_[junction] = true;
            }
        const std::size_t drawn = roads_.pieces.size();
        for (std::size_t begin = 0, end = 0; begin < drawn; begin = end) {
            const std::uint32_t way = roads_.pieces[begin].way;
            for (end = begin; end < drawn && roads_.pieces[end].way == way;)
                ++end;
            if (may_be_square(extract_.roads[way].tags) && rulings_[way].forward && rulings_[way].backward)
                link(way, begin, end);
        }
    }

private:
    std::uint32_t start_node(std::size_t piece) const { return roads_.shape_nodes[roads_.pieces[piece].shape_begin]; }
    std::uint32_t end_node(std::size_t piece) const { return roads_.shape_nodes[roads_.pieces[piece].shape_end - 1]; }

    bool is_ring(std::size_t begin, std::size_t end) const {
        for (std::size_t piece = begin; piece + 1 < end; ++piece)
            if (end_node(piece) != start_node(piece + 1))
                return false;
        return start_node(begin) == end_node(end - 1);
    }

    Square square_of(std::size_t begin, std::size_t end) const {
        Square square;
        for (std::size_t p = begin; p < end; ++p) {
            const Piece& piece = roads_.pieces[p];
            const auto known = [&](const Entry& entry) { return entry.junction == piece.start; };
            if (is_shared_[piece.start] && std::none_of(square.entries.begin(), square.entries.end(), known))
                square.entries.push_back({piece.start, square.nodes.size(), square.rim_metres});
            for (std::uint32_t i = piece.shape_begin; i + 1 < piece.shape_end; ++i)
                square.nodes.push_back(roads_.shape_nodes[i]);
            square.rim_metres += piece.metres;
        }
        square.nodes.push_back(square.nodes.front());
        const geo::Coordinate origin = extract_.node_places[square.nodes.front()];
        for (const std::uint32_t node : square.nodes) {
            const geo::Coordinate place = extract_.node_places[node];
            square.rim.push_back({geo::longitude_difference(origin.longitude, place.longitude).value,
                                  place.latitude.value - origin.latitude.value});
        }
        return square;
    }

    void link(std::uint32_t way, std::size_t begin, std::size_t end) {
        if (!is_ring(begin, end))
            return;
        const Square square = square_of(begin, end);
        if (extract_.roads[way].tags["area"] != "yes")
            ++counts_["closed pedestrian streets without area tag: taken as squares"];
        if (square.entries.size() > most_entries) {
            ++counts_["squares with more than 200 entries: not crossed"];
            return;
        }
        std::vector<Link> links;
        for (std::size_t i = 0; i < square.entries.size(); ++i)
            for (std::size_t j = i + 1; j < square.entries.size(); ++j)
                if (see_each_other(square, square.entries[i], square.entries[j]))
                    links.push_back({distance(square.entries[i], square.entries[j]), i, j});
        std::sort(links.begin(), links.end());
        if (square.entries.size() > most_entries_all_linked)
            links = thinned(square, links);
        for (const Link& one : links)
            add_piece(way, square.entries[one.from], square.entries[one.to], one.metres);
        if (!links.empty())
            ++counts_["squares crossed straight"];
    }

    double distance(const Entry& a, const Entry& b) const {
        return ground_distance(extract_.node_places[roads_.junctions[a.junction]],
                               extract_.node_places[roads_.junctions[b.junction]])
            .value;
    }

    void add_piece(std::uint32_t way, const Entry& from, const Entry& to, double metres) {
        Piece piece;
        piece.way = way;
        piece.start = from.junction;
        piece.end = to.junction;
        piece.shape_begin = static_cast<std::uint32_t>(roads_.shape_nodes.size());
        roads_.shape_nodes.push_back(roads_.junctions[from.junction]);
        roads_.shape_nodes.push_back(roads_.junctions[to.junction]);
        piece.shape_end = static_cast<std::uint32_t>(roads_.shape_nodes.size());
        piece.metres = metres;
        const double milliseconds = std::round(metres * 3600.0 / rulings_[way].forward_speed.value);
        piece.forward = piece.backward = static_cast<Milliseconds>(std::clamp(milliseconds, 1.0, closed - 1.0));
        piece.notes = rulings_[way].notes;
        roads_.pieces.push_back(piece);
    }

    const OsmExtract& extract_;
    const std::vector<WayRuling>& rulings_;
    RoadPieces& roads_;
    BuildCounts& counts_;
    std::vector<std::uint32_t> first_way_; ///< [junction]
    std::vector<bool> is_shared_;          ///< [junction]: pieces of two ways meet there
};

} // namespace

void add_square_links(const OsmExtract& extract, const std::vector<WayRuling>& rulings, RoadPieces& roads,
                      BuildCounts& counts) {
    SquareLinker{extract, rulings, roads, counts}.run();
}

} // namespace routing::roads::foot
