#pragma once
/// The ground round a shoot's locations: what its elevation tiles hide of the sky.
///
///     find_horizons(shoot, Prepared::use);
///     for (const Location& location : shoot.locations) if (location.horizon) ...

#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

namespace routing::shoot {

/// Gives each location the horizon that the shoot's tiles make there, kept in a folder beside the first map file with
/// Prepared::use. Adds to the shoot's warnings where the ground is not known, or not far enough, or a horizon can't be
/// kept. Does nothing for a shoot without tiles. Throws geo::InputError naming every tile that can't be read.
void find_horizons(Shoot& shoot, Prepared prepared);

/// Spans of `span` in which the sun shines on a location over the ground; `span` cut at nothing where the horizon is
/// flat or not known.
geo::Surroundings surroundings_of(const Location& location);
/// The same for any spot; a null horizon is flat.
geo::Surroundings surroundings_of(geo::Coordinate at, std::shared_ptr<const geo::terrain::HorizonProfile> horizon);

} // namespace routing::shoot
