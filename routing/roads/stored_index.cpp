#include "routing/roads/stored_index.hpp"

#include "geo/byte_stream.hpp"

#include <algorithm>

namespace routing::roads {

static_assert(sizeof(SpaceBox) == 24, "no padding");

std::vector<std::byte> store_index(const SnapParts& parts) {
    geo::ByteWriter writer;
    writer.put_all(parts.boxes.edges);
    writer.put_all(parts.boxes.boxes);
    writer.put_all(parts.usable);
    return writer.take();
}

std::optional<SnapParts> restore_index(std::span<const std::byte> bytes, const RoadNetwork& network) {
    geo::ByteReader reader(bytes);
    SnapParts parts;
    parts.boxes.edges = reader.all<std::uint32_t>();
    parts.boxes.boxes = reader.all<SpaceBox>();
    parts.usable = reader.all<std::uint8_t>();
    const bool sound = reader.ended_well() && parts.boxes.boxes.size() == box_count(parts.boxes.edges.size()) &&
                       parts.usable.size() == network.edges.size() &&
                       std::all_of(parts.boxes.edges.begin(), parts.boxes.edges.end(),
                                   [&](std::uint32_t edge) { return edge < network.edges.size(); });
    if (!sound)
        return std::nullopt;
    return parts;
}

} // namespace routing::roads
