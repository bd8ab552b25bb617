#include "regions/island.hpp"

#include <osmium/builder/osm_object_builder.hpp>
#include <osmium/io/pbf_output.hpp>
#include <osmium/io/writer.hpp>

namespace regions {
namespace {

constexpr const char* data_date = "2026-01-05T12:00:00Z";

osmium::Location location_of(Spot spot) {
    const geo::Coordinate place = to_coordinate(spot);
    return {place.longitude.value, place.latitude.value};
}

void mark(osmium::OSMObject& object, std::int64_t id) {
    object.set_id(id);
    object.set_version(1);
    object.set_visible(true);
    object.set_timestamp(osmium::Timestamp{data_date});
}

template <class Builder>
void add_tags(Builder& parent, const TagMap& tags) {
    if (tags.empty())
        return;
    osmium::builder::TagListBuilder builder{parent};
    for (const auto& [key, value] : tags)
        builder.add_tag(key, value);
}

osmium::item_type member_type(char type) {
    return type == 'n' ? osmium::item_type::node : type == 'w' ? osmium::item_type::way : osmium::item_type::relation;
}

osmium::memory::Buffer buffer_of(const MapDraft& map) {
    osmium::memory::Buffer buffer{1U << 22U, osmium::memory::Buffer::auto_grow::yes};
    for (const auto& [id, node] : map.nodes()) {
        if (!node.written)
            continue;
        {
            osmium::builder::NodeBuilder builder{buffer};
            mark(builder.object(), id);
            builder.object().set_location(location_of(node.at));
            builder.set_user("");
            add_tags(builder, node.tags);
        }
        buffer.commit();
    }
    for (const auto& [id, way] : map.ways()) {
        {
            osmium::builder::WayBuilder builder{buffer};
            mark(builder.object(), id);
            builder.set_user("");
            {
                osmium::builder::WayNodeListBuilder nodes{builder};
                for (const NodeId node : way.nodes)
                    nodes.add_node_ref(node);
            }
            add_tags(builder, way.tags);
        }
        buffer.commit();
    }
    for (const auto& [id, relation] : map.relations()) {
        {
            osmium::builder::RelationBuilder builder{buffer};
            mark(builder.object(), id);
            builder.set_user("");
            {
                osmium::builder::RelationMemberListBuilder members{builder};
                for (const Member& member : relation.members)
                    members.add_member(member_type(member.type), member.id, member.role);
            }
            add_tags(builder, relation.tags);
        }
        buffer.commit();
    }
    return buffer;
}

} // namespace

void write_extract(const Island& island, const std::filesystem::path& file) {
    osmium::io::Header header;
    header.set("generator", "dayweave make_island");
    header.set("timestamp", data_date);
    header.set("osmosis_replication_timestamp", data_date);
    header.set("sorting", "Type_then_ID");
    osmium::Box box;
    for (const auto& [id, node] : island.map.nodes())
        box.extend(location_of(node.at));
    header.add_box(box);
    // No user names, ids or changesets: nobody mapped this.
    const osmium::io::File target{file.string(), "pbf,add_metadata=version+timestamp"};
    osmium::io::Writer writer{target, header, osmium::io::overwrite::allow};
    writer(buffer_of(island.map));
    writer.close();
}

} // namespace regions
