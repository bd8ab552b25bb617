#pragma once
/// The invented ground: where there is land and how high it is, as a plain function of place.
///
///     const regions::Terrain terrain;
///     const geo::Metres height = terrain.height({0.0, 3000.0});
///
/// A shore field (an ellipse bent by noise, with bays and headlands put in by hand) says what is land; a spine with
/// spurs, softened by noise, says how high. Villages stand on levelled ground. Same figures on every machine.

#include "geo/units.hpp"
#include "regions/spot.hpp"

#include <cstdint>
#include <string_view>
#include <vector>

namespace regions {

/// Ground levelled for a village.
struct Pad {
    Spot centre;
    double radius = 0.0; ///< metres
    double level = 0.0;  ///< metres above the sea at the centre
};

/// A summit of the spine, put where the noise left the highest ground.
struct Summit {
    std::string_view name;
    Spot at;
    double height = 0.0; ///< metres
};

class Terrain {
public:
    Terrain();

    /// Metres above the sea; 0 on water.
    geo::Metres height(Spot spot) const;
    bool is_land(Spot spot) const { return inland(spot).value > 0.0; }
    /// Roughly how far inland: positive on land, negative at sea, 0 on the coastline.
    geo::Metres inland(Spot spot) const;

    /// First place with `depth` metres inland when walking from the open sea towards the centre.
    Spot landfall(Spot direction, geo::Metres depth) const;
    /// Levels the ground around a place; `level` below zero means the height it has.
    void add_pad(Spot centre, geo::Metres radius, geo::Metres level);

    /// The lowest point of the crest between the two summits beside the pass.
    Spot pass() const { return pass_; }
    const std::vector<Summit>& summits() const { return summits_; }

private:
    double mountain(Spot place) const;
    std::vector<Pad> pads_;
    std::vector<Summit> summits_;
    Spot pass_;
};

/// Smooth noise in [-1, 1] with features of about `size` metres, `octaves` finer copies added.
double noise(Spot spot, double size, int octaves, std::uint64_t seed);

} // namespace regions
