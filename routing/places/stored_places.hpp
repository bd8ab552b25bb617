#pragma once
/// Places as bytes and back, for the prepared region file.

#include "routing/places/place.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace routing::places {

std::vector<std::byte> store_places(const std::vector<Place>& places);

/// Equal to what was stored, in the same order; nothing when the bytes are no places.
std::optional<std::vector<Place>> restore_places(std::span<const std::byte> bytes);

} // namespace routing::places
