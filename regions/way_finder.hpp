#pragma once
/// Where a road would go: the line over the ground that costs its builders least.
///
///     regions::WayFinder finder{terrain};
///     const auto line = finder.find(village, pass, regions::main_road);
///
/// Dijkstra on an 80 m grid with 16 directions; steepness costs, water and standing roads are barred, so valleys are
/// followed and steep flanks climbed in bends. O(n log n) in the 140,000 grid points; 0.1 s at worst.

#include "regions/spot.hpp"
#include "regions/terrain.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace regions {

/// What a builder minds.
struct RouteStyle {
    double fair_grade = 0.06;     ///< steepness that doubles the cost
    double worst_grade = 0.12;    ///< beyond it every metre costs 40 more
    double shore_distance = 60.0; ///< metres kept from the sea
    bool runs_downhill = false;   ///< a stream: climbing is what costs
    double sea_view = 0.0;        ///< extra cost, as a share, of ground far from the shore
    double wander = 0.0;          ///< metres the finished line may stray to and fro
};

inline constexpr RouteStyle main_road{0.045, 0.10, 90.0, false, 0.9, 22.0};
inline constexpr RouteStyle pass_road{0.07, 0.105, 90.0, false, 0.0, 5.0};
inline constexpr RouteStyle side_road{0.06, 0.13, 60.0, false, 0.0, 22.0};
inline constexpr RouteStyle farm_track{0.09, 0.18, 40.0, false, 0.0, 16.0};
inline constexpr RouteStyle foot_path{0.20, 0.45, 15.0, false, 0.0, 12.0};
inline constexpr RouteStyle stream{1.0, 9.0, -40.0, true, 0.0, 75.0};

class WayFinder {
public:
    /// Reads the ground's heights once.
    explicit WayFinder(const Terrain& terrain);

    /// Smoothed line from one spot to another that meets no standing road on the way (within 170 m of its two ends it
    /// may); nothing when water or roads shut every way.
    std::optional<Line> find(Spot from, Spot to, const RouteStyle& style) const;
    /// A later line may not cross this one.
    void occupy(const Line& line);

private:
    struct Cell {
        int column;
        int row;
    };
    Cell cell_at(Spot spot) const;
    Spot spot_of(std::size_t index) const;
    bool blocked(Spot from, Spot to, Spot start, Spot goal) const;

    std::vector<double> height_;
    std::vector<double> inland_;
    std::vector<std::uint8_t> occupied_; ///< on a grid twice as fine
};

} // namespace regions
