#pragma once
/// The order of elimination as bytes and back, for the prepared region file. All else of a hierarchy follows from it in
/// a fraction of the time.

#include "routing/roads/hierarchy/hierarchy.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace routing::roads::hierarchy {

std::vector<std::byte> store_order(const Hierarchy& shape);

/// Nothing when the bytes do not name each of `nodes` nodes once.
std::optional<std::vector<std::uint32_t>> restore_order(std::span<const std::byte> bytes, std::uint32_t nodes);

} // namespace routing::roads::hierarchy
