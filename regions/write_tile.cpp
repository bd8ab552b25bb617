#include "regions/island.hpp"

#include <cmath>
#include <fstream>
#include <stdexcept>

namespace regions {

std::vector<std::int16_t> tile_heights(const Terrain& terrain) {
    std::vector<std::int16_t> heights;
    heights.reserve(static_cast<std::size_t>(tile_samples) * tile_samples);
    for (int row = 0; row < tile_samples; ++row) {
        for (int column = 0; column < tile_samples; ++column) {
            const geo::Coordinate place{{tile_south + 1.0 - row / 1200.0}, {tile_west + column / 1200.0}};
            heights.push_back(static_cast<std::int16_t>(std::lround(terrain.height(to_spot(place)).value)));
        }
    }
    return heights;
}

void write_tile(const Island& island, const std::filesystem::path& file) {
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    for (const std::int16_t height : tile_heights(island.terrain)) {
        const auto bits = static_cast<std::uint16_t>(height);
        out.put(static_cast<char>(bits >> 8));
        out.put(static_cast<char>(bits & 0xFF));
    }
    out.close();
    if (!out)
        throw std::runtime_error("can't write " + file.string());
}

} // namespace regions
