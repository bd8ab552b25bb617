#include "routing/shoot/region.hpp"

#include "geo/byte_stream.hpp"
#include "geo/input_error.hpp"
#include "routing/places/stored_places.hpp"
#include "routing/roads/hierarchy/stored_order.hpp"
#include "routing/roads/region_file.hpp"
#include "routing/roads/stored_network.hpp"

#include <cstdio>

namespace routing::shoot {

namespace {

constexpr const char* network_section = "network";
constexpr const char* order_section = "order";
constexpr const char* places_section = "places";
constexpr const char* map_section = "map";

/// A clash costs a rebuild, no more: the file holds the whole vehicle.
std::string short_key(const std::vector<std::byte>& bytes) {
    std::string text(9, '\0');
    std::snprintf(text.data(), text.size(), "%08x", static_cast<unsigned>(roads::checksum(bytes)));
    text.resize(8);
    return text;
}

/// Counts, box and date of the extract.
std::vector<std::byte> store_map(const Region& region) {
    geo::ByteWriter writer;
    writer.put(region.read_counts);
    writer.put(std::uint64_t{region.box ? 1U : 0U});
    writer.put(region.box ? *region.box : roads::Box{});
    writer.put_text(region.data_date);
    return writer.take();
}

bool restore_map(std::span<const std::byte> bytes, Region& region) {
    geo::ByteReader reader(bytes);
    region.read_counts = reader.get<roads::ReadCounts>();
    const auto has_box = reader.get<std::uint64_t>();
    const auto box = reader.get<roads::Box>();
    region.data_date = reader.text();
    if (has_box == 1)
        region.box = box;
    return reader.ended_well() && has_box <= 1 && geo::is_valid(box.south_west) && geo::is_valid(box.north_east);
}

/// Nothing when a section is missing or holds what can't be; `reason` then says which.
std::optional<Region> restore(const std::string& file, const roads::RegionFile& prepared, std::string& reason) {
    auto network = roads::restore_network(prepared.section(network_section));
    const auto refuse = [&reason](const char* section) {
        reason = std::string("section ") + section + " holds what can't be";
        return std::nullopt;
    };
    if (!network || network->arcs.empty())
        return refuse(network_section);
    const auto order = roads::hierarchy::restore_order(prepared.section(order_section), network->node_count());
    if (!order)
        return refuse(order_section);
    auto places = places::restore_places(prepared.section(places_section));
    if (!places)
        return refuse(places_section);
    auto kept = std::make_unique<const roads::RoadNetwork>(std::move(*network));
    roads::hierarchy::Hierarchy hierarchy = roads::hierarchy::build_hierarchy(*kept, *order);
    roads::SnapIndex index(*kept);
    Region region{file, std::move(kept), std::move(hierarchy), std::move(index), std::move(*places), {}, {}, {}, false,
                  {}};
    if (!restore_map(prepared.section(map_section), region))
        return refuse(map_section);
    return region;
}

/// Empty when the file was made from this extract, by these rules, for this vehicle.
std::string misfit(const roads::RegionKey& key, const roads::FileIdentity& extract, const std::string& file,
                   const std::vector<std::byte>& vehicle) {
    if (key.rules_version != roads::road_rules_version)
        return "was made by other road rules";
    if (key.vehicle != vehicle)
        return "was made for another vehicle";
    if (key.extract.size != extract.size)
        return "was made from another extract";
    // A copied or touched extract has another time and the same content.
    if (key.extract.changed != extract.changed && roads::checksum_of(file) != key.extract.checksum)
        return "was made from another extract";
    return "";
}

Region build_region(const std::string& file, const roads::Vehicle& vehicle) {
    const roads::OsmExtract extract = roads::read_extract(file, places::is_place);
    auto network = std::make_unique<const roads::RoadNetwork>(roads::build_network(extract, vehicle));
    if (network->arcs.empty())
        throw geo::InputError({{file, "", "", "holds no road this vehicle may drive",
                                "use an extract with highway ways, or check /crew/vehicle"}});
    roads::hierarchy::Hierarchy hierarchy =
        roads::hierarchy::build_hierarchy(*network, roads::hierarchy::elimination_order(*network));
    roads::SnapIndex index(*network);
    return {file,
            std::move(network),
            std::move(hierarchy),
            std::move(index),
            places::find_places(extract),
            extract.counts,
            extract.box,
            extract.data_date,
            false,
            {}};
}

/// Why the file was not written, or nothing.
std::optional<std::string> write_prepared(const std::filesystem::path& path, const Region& region,
                                          const roads::FileIdentity& before, std::vector<std::byte> vehicle) {
    roads::RegionKey key{before, roads::road_rules_version, std::move(vehicle)};
    const auto sum = roads::checksum_of(region.file);
    if (!sum || roads::look_at(region.file) != before)
        return "the extract changed meanwhile";
    key.extract.checksum = *sum;
    return roads::write_region_file(path, key,
                                    {{network_section, roads::store_network(*region.network)},
                                     {order_section, roads::hierarchy::store_order(region.hierarchy)},
                                     {places_section, places::store_places(region.places)},
                                     {map_section, store_map(region)}});
}

} // namespace

std::filesystem::path prepared_path(const std::string& file, const roads::Vehicle& vehicle) {
    return file + "." + short_key(roads::vehicle_bytes(vehicle)) + ".prepared";
}

Region load_region(const std::string& file, const roads::Vehicle& vehicle, Prepared prepared) {
    const auto extract = prepared == Prepared::use ? roads::look_at(file) : std::nullopt;
    if (!extract)
        return build_region(file, vehicle);
    const auto path = prepared_path(file, vehicle);
    const auto bytes = roads::vehicle_bytes(vehicle);
    auto opened = roads::open_region_file(path);
    std::string reason = opened.file ? misfit(opened.file->key(), *extract, file, bytes) : opened.reason;
    if (reason.empty()) {
        if (auto region = restore(file, *opened.file, reason)) {
            region->has_prepared = true;
            region->prepared_note = "read " + path.string();
            return std::move(*region);
        }
    }
    Region region = build_region(file, vehicle);
    const auto failure = write_prepared(path, region, *extract, bytes);
    region.has_prepared = !failure;
    region.prepared_note = failure ? path.string() + " can't be written: " + *failure
                                   : "made " + path.string() + ": what was there " + reason;
    if (!failure && reason == "is not there")
        region.prepared_note = "made " + path.string();
    return region;
}

Region read_prepared(const std::string& prepared) {
    const auto opened = roads::open_region_file(prepared);
    std::string reason = opened.reason;
    if (opened.file && opened.file->key().rules_version != roads::road_rules_version)
        reason = "was made by other road rules";
    else if (opened.file) {
        if (auto region = restore(prepared, *opened.file, reason))
            return std::move(*region);
    }
    throw geo::InputError({{prepared, "", "", reason, "make it again: dayweave region prepare EXTRACT"}});
}

} // namespace routing::shoot
