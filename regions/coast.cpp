#include "regions/coast.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

namespace regions {
namespace {

constexpr double step = 75.0;
constexpr int columns = 660; // 49.5 km
constexpr int rows = 420;    // 31.5 km
constexpr Spot corner{-23000.0, -15000.0};

/// An edge of the grid: the one going east (0) or north (1) from a lattice point.
struct GridEdge {
    int column;
    int row;
    int direction;
    friend auto operator<=>(const GridEdge&, const GridEdge&) = default;
};

class Tracer {
public:
    explicit Tracer(const Terrain& terrain) : depth_(static_cast<std::size_t>(columns + 1) * (rows + 1)) {
        for (int row = 0; row <= rows; ++row)
            for (int column = 0; column <= columns; ++column)
                depth_[index(column, row)] = terrain.inland(lattice_spot(column, row)).value;
    }

    std::vector<Line> rings() {
        for (int row = 0; row < rows; ++row)
            for (int column = 0; column < columns; ++column)
                add_cell(column, row);
        std::vector<Line> all;
        while (!next_.empty()) {
            Line ring;
            const GridEdge start = next_.begin()->first;
            GridEdge here = start;
            do {
                ring.push_back(crossing(here));
                const auto found = next_.find(here);
                here = found->second;
                next_.erase(found);
            } while (here != start);
            ring.push_back(ring.front());
            all.push_back(std::move(ring));
        }
        return all;
    }

private:
    static std::size_t index(int column, int row) {
        return static_cast<std::size_t>(row) * (columns + 1) + static_cast<std::size_t>(column);
    }
    static Spot lattice_spot(int column, int row) { return corner + Spot{step * column, step * row}; }

    Spot crossing(const GridEdge& edge) const {
        const int column = edge.column + (edge.direction == 0 ? 1 : 0);
        const int row = edge.row + (edge.direction == 1 ? 1 : 0);
        const double here = depth_[index(edge.column, edge.row)];
        const double there = depth_[index(column, row)];
        return between(lattice_spot(edge.column, edge.row), lattice_spot(column, row), here / (here - there));
    }

    /// Walks around a cell: a coast piece enters where land turns to water and leaves where water turns to land, so
    /// that the land stays on its left.
    void add_cell(int column, int row) {
        const std::array<bool, 4> land{depth_[index(column, row)] > 0.0, depth_[index(column + 1, row)] > 0.0,
                                       depth_[index(column + 1, row + 1)] > 0.0, depth_[index(column, row + 1)] > 0.0};
        const std::array<GridEdge, 4> edges{GridEdge{column, row, 0}, GridEdge{column + 1, row, 1},
                                            GridEdge{column, row + 1, 0}, GridEdge{column, row, 1}};
        for (std::size_t i = 0; i < 4; ++i) {
            if (!land[i] || land[(i + 1) % 4])
                continue;
            // Edge i: land then water, going round counter-clockwise. The next change back to land closes the piece.
            for (std::size_t k = 1; k < 4; ++k) {
                const std::size_t j = (i + k) % 4;
                if (!land[j] && land[(j + 1) % 4]) {
                    next_[edges[i]] = edges[j];
                    break;
                }
            }
        }
    }

    std::vector<double> depth_;
    std::map<GridEdge, GridEdge> next_;
};

} // namespace

double signed_area(const Line& ring) {
    double twice = 0.0;
    for (std::size_t i = 0; i + 1 < ring.size(); ++i)
        twice += cross(ring[i], ring[i + 1]);
    return 0.5 * twice;
}

std::vector<Line> trace_coast(const Terrain& terrain) {
    std::vector<Line> rings = Tracer(terrain).rings();
    std::erase_if(rings, [](const Line& ring) { return signed_area(ring) < 20000.0; });
    std::ranges::sort(rings, [](const Line& a, const Line& b) { return signed_area(a) > signed_area(b); });
    return rings;
}

} // namespace regions
