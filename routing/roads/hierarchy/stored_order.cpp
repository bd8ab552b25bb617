#include "routing/roads/hierarchy/stored_order.hpp"

#include "geo/byte_stream.hpp"

namespace routing::roads::hierarchy {

std::vector<std::byte> store_order(const Hierarchy& shape) {
    std::vector<std::uint32_t> order(shape.rank.size());
    for (std::uint32_t node = 0; node < order.size(); ++node)
        order[shape.rank[node]] = node;
    geo::ByteWriter writer;
    writer.put_all(order);
    return writer.take();
}

std::optional<std::vector<std::uint32_t>> restore_order(std::span<const std::byte> bytes, std::uint32_t nodes) {
    geo::ByteReader reader(bytes);
    auto order = reader.all<std::uint32_t>();
    if (!reader.ended_well() || order.size() != nodes)
        return std::nullopt;
    std::vector<bool> met(nodes, false);
    for (const std::uint32_t node : order) {
        if (node >= nodes || met[node])
            return std::nullopt;
        met[node] = true;
    }
    return order;
}

} // namespace routing::roads::hierarchy
