#pragma once
/// A road network as bytes and back, for the prepared region file.
///
///     const auto bytes = store_network(network);
///     if (const auto again = restore_network(bytes)) ...   // equal to `network`, value for value

#include "routing/roads/network.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace routing::roads {

std::vector<std::byte> store_network(const RoadNetwork& network);

/// Nothing when the bytes are no network. Every index is checked, so that what is given never leads outside its arrays.
/// O(size).
std::optional<RoadNetwork> restore_network(std::span<const std::byte> bytes);

/// All that tells one vehicle from another; two vehicles with the same bytes get the same network.
std::vector<std::byte> vehicle_bytes(const Vehicle& vehicle);

} // namespace routing::roads
