#pragma once
/// The parts of a road index as bytes and back, for the prepared region file.
///
///     const auto bytes = store_index(index.parts());
///     if (auto parts = restore_index(bytes, network)) const SnapIndex again(network, std::move(*parts));

#include "routing/roads/snap.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace routing::roads {

std::vector<std::byte> store_index(const SnapParts& parts);

/// Nothing when the bytes can't be the index of this network: what is given never leads outside its arrays.
std::optional<SnapParts> restore_index(std::span<const std::byte> bytes, const RoadNetwork& network);

} // namespace routing::roads
