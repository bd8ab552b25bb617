#include "regions/terrain.hpp"

#include "regions/random.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace regions {
namespace {

constexpr std::uint64_t seed = 0x0DE1;

/// 0 below 0, 1 above 1, smooth between.
double eased(double t) {
    const double x = std::clamp(t, 0.0, 1.0);
    return x * x * x * (x * (x * 6.0 - 15.0) + 10.0);
}

double lattice(std::int64_t column, std::int64_t row, std::uint64_t layer) {
    const std::uint64_t bits =
        scramble(scramble(static_cast<std::uint64_t>(column) ^ scramble(layer)) ^ static_cast<std::uint64_t>(row));
    return 2.0 * unit_share(bits) - 1.0;
}

double one_octave(double x, double y, std::uint64_t layer) {
    const double left = std::floor(x);
    const double low = std::floor(y);
    const auto column = static_cast<std::int64_t>(left);
    const auto row = static_cast<std::int64_t>(low);
    const double u = eased(x - left);
    const double v = eased(y - low);
    const double south = lattice(column, row, layer) * (1.0 - u) + lattice(column + 1, row, layer) * u;
    const double north = lattice(column, row + 1, layer) * (1.0 - u) + lattice(column + 1, row + 1, layer) * u;
    return south * (1.0 - v) + north * v;
}

/// A bite into the land (depth > 0) or a nose of land (depth < 0), fading with distance.
struct Bay {
    Spot centre;
    double radius;
    double depth;
};

constexpr std::array bays{
    Bay{{-14200.0, -8600.0}, 1500.0, 3000.0},  Bay{{-18200.0, 2600.0}, 2300.0, -2600.0},
    Bay{{-12600.0, 8800.0}, 1500.0, 2100.0},   Bay{{-15200.0, 6700.0}, 1500.0, -2900.0},
    Bay{{-5200.0, 12200.0}, 1700.0, -1900.0},  Bay{{1600.0, 12000.0}, 1500.0, 2400.0},
    Bay{{7400.0, 11000.0}, 1600.0, -1700.0},   Bay{{12400.0, 9400.0}, 1100.0, 1900.0},
    Bay{{17400.0, 5600.0}, 1700.0, -2600.0},   Bay{{18300.0, -600.0}, 1900.0, 2700.0},
    Bay{{15600.0, -7000.0}, 1500.0, -2000.0},  Bay{{9200.0, -11000.0}, 1300.0, 2200.0},
    Bay{{3600.0, -12400.0}, 1500.0, -1700.0},  Bay{{-1200.0, -12200.0}, 1700.0, 2300.0},
    Bay{{-7600.0, -11900.0}, 1800.0, -2100.0}, Bay{{-17600.0, -3000.0}, 1100.0, 1700.0},
};

/// Crest line with a height at each corner.
struct Crest {
    struct Corner {
        Spot at;
        double height;
    };
    std::vector<Corner> corners;
    double half_width; ///< where the flank is down to half the crest's height
};

const std::vector<Crest>& crests() {
    static const std::vector<Crest> all{
        // the spine, west to east; the low corner in the middle is the pass
        {{{{-13600, 300}, 260},
          {{-10800, 1300}, 640},
          {{-8200, 500}, 930},
          {{-5600, 1300}, 810},
          {{-2900, 1900}, 1090},
          {{-1000, 900}, 840},
          {{600, 700}, 575},
          {{2400, 1500}, 870},
          {{4600, 1100}, 1000},
          {{7100, 2200}, 790},
          {{9600, 2900}, 905},
          {{12200, 3700}, 430},
          {{14600, 4600}, 170}},
         1500.0},
        // spurs; the valleys lie between them
        {{{{-8200, 500}, 900}, {{-9000, -2600}, 560}, {{-8900, -5200}, 330}, {{-9600, -7600}, 120}}, 950.0},
        {{{{-5600, 1300}, 780}, {{-5300, -1900}, 610}, {{-4300, -5000}, 390}, {{-4700, -8400}, 150}}, 900.0},
        {{{{-2900, 1900}, 1050}, {{-3600, 4900}, 620}, {{-4300, 8300}, 240}}, 900.0},
        {{{{-8200, 500}, 900}, {{-8300, 3700}, 560}, {{-8900, 6900}, 250}}, 900.0},
        {{{{-10800, 1300}, 620}, {{-12500, 3800}, 380}, {{-14300, 6000}, 210}}, 800.0},
        {{{{-10800, 1300}, 620}, {{-12800, -1500}, 340}, {{-14600, -3600}, 170}}, 800.0},
        {{{{2400, 1500}, 840}, {{3000, 4600}, 520}, {{3700, 7800}, 200}}, 900.0},
        {{{{4600, 1100}, 960}, {{3400, -2300}, 640}, {{3500, -5600}, 380}, {{2900, -8600}, 140}}, 950.0},
        {{{{7100, 2200}, 760}, {{7400, -900}, 520}, {{8300, -4300}, 360}, {{8600, -7600}, 130}}, 900.0},
        {{{{9600, 2900}, 880}, {{8900, 5600}, 430}, {{9500, 8000}, 180}}, 850.0},
        {{{{9600, 2900}, 880}, {{12000, 300}, 420}, {{13200, -2800}, 240}, {{13400, -5400}, 110}}, 900.0},
    };
    return all;
}

struct NamedSummit {
    std::string_view name;
    Spot near;
};
constexpr std::array named_summits{
    NamedSummit{"Dorn Kessim", {-2900, 1900}}, NamedSummit{"Dorn Ulvara", {4600, 1100}},
    NamedSummit{"Dorn Haspe", {-8200, 500}},   NamedSummit{"Sella Nuir", {9600, 2900}},
    NamedSummit{"Tarn Obrek", {-10800, 1300}}, NamedSummit{"Dorn Fiskel", {-3600, 4900}},
    NamedSummit{"Tarn Wesk", {3400, -2300}},
};
constexpr Spot pass_corner{600, 700};

constexpr Spot islet_centre{20600, -7600};

} // namespace

double noise(Spot spot, double size, int octaves, std::uint64_t layer) {
    double sum = 0.0;
    double weight = 1.0;
    double total = 0.0;
    for (int octave = 0; octave < octaves; ++octave) {
        // Each octave is shifted, or all lattices would meet at the centre and show there.
        sum += weight * one_octave(spot.east / size + 17.3 * octave, spot.north / size - 9.1 * octave,
                                   seed + layer * 64 + static_cast<std::uint64_t>(octave));
        total += weight;
        weight *= 0.5;
        size *= 0.47;
    }
    return sum / total;
}

geo::Metres Terrain::inland(Spot spot) const {
    const double east = spot.east / 17200.0;
    const double north = spot.north / 10900.0;
    double depth = (1.0 - std::sqrt(east * east + north * north)) * 11000.0;
    depth += 2300.0 * noise(spot, 6500.0, 3, 1) + 420.0 * noise(spot, 900.0, 3, 2);
    for (const Bay& bay : bays) {
        const Spot off = spot - bay.centre;
        const double fade = 1.0 + dot(off, off) / (bay.radius * bay.radius);
        depth -= bay.depth / (fade * fade);
    }
    const Spot off{(spot.east - islet_centre.east) / 1900.0, (spot.north - islet_centre.north) / 1250.0};
    const double islet = (1.0 - std::sqrt(dot(off, off))) * 1300.0 + 330.0 * noise(spot, 1100.0, 3, 3);
    return {std::max(depth, islet)};
}

double Terrain::mountain(Spot place) const {
    // Crests drawn as straight pieces are bent by noise, and valleys with them.
    const Spot spot = place + Spot{650.0 * noise(place, 2900.0, 3, 7), 650.0 * noise(place, 2900.0, 3, 8)};
    double highest = 0.0;
    for (const Crest& crest : crests()) {
        for (std::size_t i = 0; i + 1 < crest.corners.size(); ++i) {
            const auto& from = crest.corners[i];
            const auto& to = crest.corners[i + 1];
            const LinePoint foot = nearest_on({from.at, to.at}, spot);
            const double height = from.height + (to.height - from.height) * eased(foot.share);
            const double away = foot.away / crest.half_width;
            highest = std::max(highest, height / (1.0 + away * away));
        }
    }
    return highest;
}

geo::Metres Terrain::height(Spot spot) const {
    const double depth = inland(spot).value;
    if (depth <= 0.0)
        return {0.0};
    // Cliffs on some coasts, beaches on others.
    const double cliff = 4.0 + 46.0 * eased(0.5 + 1.6 * noise(spot, 4200.0, 2, 4));
    double height = cliff * eased(depth / 160.0) + 45.0 * depth / (depth + 2500.0);
    const double rise = mountain(spot) * eased(depth / 2600.0);
    height += rise * (1.0 + 0.20 * noise(spot, 1500.0, 4, 5));
    height += (34.0 * noise(spot, 1300.0, 3, 6) + 12.0) * eased(depth / 700.0);
    for (const Pad& pad : pads_) {
        const double share = 1.0 - eased((distance(spot, pad.centre) - 0.55 * pad.radius) / pad.radius);
        const double level = pad.level * eased((depth + 60.0) / 420.0);
        height = height + (level - height) * share;
    }
    return {std::max(height, 0.5)};
}

Spot Terrain::landfall(Spot direction, geo::Metres depth) const {
    const Spot inward = unit(direction);
    for (double away = 24000.0; away > 0.0; away -= 20.0)
        if (inland(away * inward).value >= depth.value)
            return away * inward;
    return {};
}

void Terrain::add_pad(Spot centre, geo::Metres radius, geo::Metres level) {
    pads_.push_back({centre, radius.value, level.value < 0.0 ? height(centre).value : level.value});
}

Terrain::Terrain() {
    for (const NamedSummit& summit : named_summits) {
        Summit found{summit.name, summit.near, 0.0};
        for (int column = -20; column <= 20; ++column) {
            for (int row = -20; row <= 20; ++row) {
                const Spot here = summit.near + Spot{30.0 * column, 30.0 * row};
                if (const double high = height(here).value; high > found.height)
                    found = {summit.name, here, high};
            }
        }
        summits_.push_back(found);
    }
    // Along the spine the crest dips at the pass; across it the ground falls off both ways. Highest point of each
    // crossing, then the lowest of those: the saddle.
    double lowest = 1e9;
    for (int along = -20; along <= 20; ++along) {
        Spot top{};
        double top_height = -1.0;
        for (int across = -20; across <= 20; ++across) {
            const Spot here = pass_corner + Spot{30.0 * along, 30.0 * across};
            if (const double high = height(here).value; high > top_height) {
                top_height = high;
                top = here;
            }
        }
        if (top_height < lowest) {
            lowest = top_height;
            pass_ = top;
        }
    }
}

} // namespace regions
