#include "regions/way_finder.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <queue>
#include <utility>

namespace regions {
namespace {

constexpr double step = 80.0;
constexpr int columns = 590;
constexpr int rows = 370;
constexpr Spot corner{-23000.0, -14800.0};
constexpr double fine = step / 2.0;
constexpr double free_radius = 170.0;

constexpr std::array<std::pair<int, int>, 16> moves{{{1, 0},
                                                     {0, 1},
                                                     {-1, 0},
                                                     {0, -1},
                                                     {1, 1},
                                                     {-1, 1},
                                                     {-1, -1},
                                                     {1, -1},
                                                     {2, 1},
                                                     {1, 2},
                                                     {-1, 2},
                                                     {-2, 1},
                                                     {-2, -1},
                                                     {-1, -2},
                                                     {1, -2},
                                                     {2, -1}}};

double cost_of(double run, double climb, const RouteStyle& style) {
    if (style.runs_downhill)
        return run + (climb > 0.0 ? 80.0 * climb : 0.0);
    const double grade = std::abs(climb) / run;
    const double strain = grade / style.fair_grade;
    const double excess = std::max(0.0, grade - style.worst_grade) / style.worst_grade;
    return run * (1.0 + strain * strain + 40.0 * excess);
}

std::size_t fine_index(Spot spot) {
    const auto column = static_cast<std::int64_t>(std::floor((spot.east - corner.east) / fine));
    const auto row = static_cast<std::int64_t>(std::floor((spot.north - corner.north) / fine));
    return static_cast<std::size_t>(std::clamp<std::int64_t>(row, 0, 2 * rows - 1) * (2 * columns) +
                                    std::clamp<std::int64_t>(column, 0, 2 * columns - 1));
}

/// Bends a line to and fro, less near its ends, so that flat ground does not make it a ruler's.
Line wandering(const Line& line, double reach) {
    constexpr double spacing = 45.0;
    Line fine_line;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const int pieces = 1 + static_cast<int>(distance(line[i], line[i + 1]) / spacing);
        for (int k = 0; k < pieces; ++k)
            fine_line.push_back(between(line[i], line[i + 1], static_cast<double>(k) / pieces));
    }
    fine_line.push_back(line.back());
    for (std::size_t i = 1; i + 1 < fine_line.size(); ++i) {
        const Spot at = fine_line[i];
        const double end = std::min({distance(at, line.front()), distance(at, line.back()), 300.0}) / 300.0;
        fine_line[i] = at + (2.0 * reach * end) * Spot{noise(at, 420.0, 2, 21), noise(at, 420.0, 2, 22)};
    }
    return fine_line;
}

} // namespace

WayFinder::WayFinder(const Terrain& terrain)
    : height_(static_cast<std::size_t>(columns) * rows), inland_(height_.size()),
      occupied_(static_cast<std::size_t>(4) * columns * rows, 0) {
    for (std::size_t i = 0; i < height_.size(); ++i) {
        inland_[i] = terrain.inland(spot_of(i)).value;
        height_[i] = inland_[i] > 0.0 ? terrain.height(spot_of(i)).value : 0.0;
    }
}

WayFinder::Cell WayFinder::cell_at(Spot spot) const {
    return {std::clamp(static_cast<int>(std::lround((spot.east - corner.east) / step)), 0, columns - 1),
            std::clamp(static_cast<int>(std::lround((spot.north - corner.north) / step)), 0, rows - 1)};
}

Spot WayFinder::spot_of(std::size_t index) const {
    return corner + Spot{step * static_cast<double>(index % columns), step * static_cast<double>(index / columns)};
}

void WayFinder::occupy(const Line& line) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const int pieces = 1 + static_cast<int>(distance(line[i], line[i + 1]) / 10.0);
        for (int k = 0; k <= pieces; ++k)
            occupied_[fine_index(between(line[i], line[i + 1], static_cast<double>(k) / pieces))] = 1;
    }
}

bool WayFinder::blocked(Spot from, Spot to, Spot start, Spot goal) const {
    constexpr int samples = 6;
    for (int k = 1; k <= samples; ++k) {
        const Spot here = between(from, to, static_cast<double>(k) / samples);
        if (occupied_[fine_index(here)] != 0 && distance(here, start) > free_radius &&
            distance(here, goal) > free_radius)
            return true;
    }
    return false;
}

std::optional<Line> WayFinder::find(Spot from, Spot to, const RouteStyle& style) const {
    const auto index_of = [](Cell cell) { return static_cast<std::size_t>(cell.row) * columns + cell.column; };
    const std::size_t start = index_of(cell_at(from));
    const std::size_t goal = index_of(cell_at(to));
    std::vector<double> cost(height_.size(), std::numeric_limits<double>::infinity());
    std::vector<std::size_t> before(height_.size(), start);
    using Entry = std::pair<double, std::size_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    cost[start] = 0.0;
    open.emplace(0.0, start);
    while (!open.empty()) {
        const auto [so_far, here] = open.top();
        open.pop();
        if (here == goal)
            break;
        if (so_far > cost[here])
            continue;
        const int column = static_cast<int>(here % columns);
        const int row = static_cast<int>(here / columns);
        const Spot here_spot = spot_of(here);
        for (const auto& [east, north] : moves) {
            const Cell next_cell{column + east, row + north};
            if (next_cell.column < 0 || next_cell.column >= columns || next_cell.row < 0 || next_cell.row >= rows)
                continue;
            const std::size_t next = index_of(next_cell);
            const Spot next_spot = spot_of(next);
            if (next != goal && inland_[next] < style.shore_distance && distance(next_spot, from) > free_radius &&
                distance(next_spot, to) > free_radius)
                continue;
            if (next != goal && inland_[next] <= 0.0 && style.shore_distance >= 0.0)
                continue;
            const double run = step * std::sqrt(static_cast<double>(east * east + north * north));
            const double far = std::clamp((inland_[next] - 700.0) / 1500.0, 0.0, 1.0);
            const double total =
                so_far + cost_of(run, height_[next] - height_[here], style) + run * style.sea_view * far;
            if (total >= cost[next] || blocked(here_spot, next_spot, from, to))
                continue;
            cost[next] = total;
            before[next] = here;
            open.emplace(total, next);
        }
    }
    if (cost[goal] == std::numeric_limits<double>::infinity())
        return std::nullopt;
    Line line{to};
    for (std::size_t here = goal; here != start; here = before[here])
        if (distance(spot_of(here), to) > step && distance(spot_of(here), from) > step)
            line.push_back(spot_of(here));
    line.push_back(from);
    std::ranges::reverse(line);
    return thinned(wandering(rounded(line), style.wander), 3.0);
}

} // namespace regions
