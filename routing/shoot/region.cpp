#include "routing/shoot/region.hpp"

#include "geo/byte_stream.hpp"
#include "geo/input_error.hpp"
#include "routing/places/stored_places.hpp"
#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/hierarchy/stored_order.hpp"
#include "routing/roads/merged_extracts.hpp"
#include "routing/roads/region_file.hpp"
#include "routing/roads/stored_index.hpp"
#include "routing/roads/stored_network.hpp"

#include <algorithm>
#include <cstdio>
#include <iterator>
#include <span>

namespace routing::shoot {

namespace {

constexpr const char* network_section = "network";
constexpr const char* index_section = "index";
constexpr const char* foot_section = "foot";
constexpr const char* foot_index_section = "foot index";
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

/// "east.osm.pbf and west.osm.pbf"
std::string names_of(const std::vector<std::string>& files) {
    std::string names;
    for (const std::string& file : files)
        names += (names.empty() ? "" : " and ") + file;
    return names;
}

/// One value for the times and one for the contents of all; a single file's are its own.
std::uint64_t joined(const std::vector<std::uint64_t>& values) {
    return values.size() == 1 ? values.front() : roads::checksum(std::as_bytes(std::span(values)));
}

/// Sizes added up, times of change joined; nothing when one is no plain file.
std::optional<roads::FileIdentity> look_at(const std::vector<std::string>& files) {
    roads::FileIdentity all;
    std::vector<std::uint64_t> times;
    for (const std::string& file : files) {
        const auto one = roads::look_at(file);
        if (!one)
            return std::nullopt;
        all.size += one->size;
        times.push_back(static_cast<std::uint64_t>(one->changed));
    }
    all.changed = static_cast<std::int64_t>(joined(times));
    return all;
}

std::optional<std::uint64_t> checksum_of(const std::vector<std::string>& files) {
    std::vector<std::uint64_t> sums;
    for (const std::string& file : files) {
        const auto sum = roads::checksum_of(file);
        if (!sum)
            return std::nullopt;
        sums.push_back(*sum);
    }
    return joined(sums);
}

/// Counts, box and date of the extract.
std::vector<std::byte> store_map(const Region& region) {
    geo::ByteWriter writer;
    writer.put(region.read_counts);
    writer.put(std::uint64_t{region.box ? 1U : 0U});
    writer.put(region.box ? *region.box : roads::Box{});
    writer.put_text(region.data_date);
    writer.put(std::uint64_t{region.foot_has_hours ? 1U : 0U});
    return writer.take();
}

bool restore_map(std::span<const std::byte> bytes, Region& region) {
    geo::ByteReader reader(bytes);
    region.read_counts = reader.get<roads::ReadCounts>();
    const auto has_box = reader.get<std::uint64_t>();
    const auto box = reader.get<roads::Box>();
    region.data_date = reader.text();
    const auto hours = reader.get<std::uint64_t>();
    region.foot_has_hours = hours == 1;
    if (has_box == 1)
        region.box = box;
    return reader.ended_well() && has_box <= 1 && hours <= 1 && geo::is_valid(box.south_west) &&
           geo::is_valid(box.north_east);
}

roads::OsmExtract read_extracts(const std::vector<std::string>& files, const PrepareWatch& watch, double share) {
    std::vector<roads::OsmExtract> extracts;
    for (const std::string& file : files) {
        if (watch)
            watch("reading " + file, share * static_cast<double>(extracts.size()) / static_cast<double>(files.size()));
        extracts.push_back(roads::read_extract(file, places::is_place));
    }
    return roads::merge_extracts(std::move(extracts));
}

FootWays::Parts with_index(roads::RoadNetwork network) {
    roads::SnapParts index = roads::find_snap_parts(network);
    return {std::move(network), std::move(index)};
}

std::optional<FootWays::Parts> restore_foot(const roads::RegionFile& prepared) {
    auto network = roads::restore_network(prepared.section(foot_section));
    if (!network)
        return std::nullopt;
    auto index = roads::restore_index(prepared.section(foot_index_section), *network);
    if (!index)
        return std::nullopt;
    return FootWays::Parts{std::move(*network), std::move(*index)};
}

/// Nothing when a section is missing, damaged or holds what can't be; `reason` then says which. The ways on foot are
/// looked at when first asked for, and `otherwise` serves where they can't be had.
std::optional<Region> restore(const std::string& file, const roads::RegionFile& prepared, std::string& reason,
                              const FootWays::Find& otherwise) {
    const auto refuse = [&reason](const char* section) {
        reason = std::string("section ") + section + " is damaged";
        return std::nullopt;
    };
    auto network = roads::restore_network(prepared.section(network_section));
    if (!network || network->arcs.empty())
        return refuse(network_section);
    const auto order = roads::hierarchy::restore_order(prepared.section(order_section), network->node_count());
    if (!order)
        return refuse(order_section);
    auto parts = roads::restore_index(prepared.section(index_section), *network);
    if (!parts)
        return refuse(index_section);
    auto places = places::restore_places(prepared.section(places_section));
    if (!places)
        return refuse(places_section);
    auto kept = std::make_unique<const roads::RoadNetwork>(std::move(*network));
    roads::hierarchy::Hierarchy hierarchy = roads::hierarchy::build_hierarchy(*kept, *order);
    roads::SnapIndex index(*kept, std::move(*parts));
    auto foot = std::make_unique<const FootWays>([prepared, otherwise] {
        auto stored = restore_foot(prepared);
        return stored ? std::move(*stored) : otherwise();
    });
    Region region{file,
                  std::move(kept),
                  std::move(foot),
                  std::move(hierarchy),
                  std::move(index),
                  std::move(*places),
                  {},
                  {},
                  {},
                  false,
                  false,
                  {}};
    if (!restore_map(prepared.section(map_section), region))
        return refuse(map_section);
    return region;
}

/// Empty when the file was made from this extract, by these rules, for this vehicle.
std::string misfit(const roads::RegionKey& key, const roads::FileIdentity& extract,
                   const std::vector<std::string>& files, const std::vector<std::byte>& vehicle) {
    if (key.rules_version != roads::road_rules_version)
        return "was made by other road rules";
    if (key.vehicle != vehicle)
        return "was made for another vehicle";
    if (key.extract.size != extract.size)
        return "was made from another extract";
    // A copied or touched extract has another time and the same content.
    if (key.extract.changed != extract.changed && checksum_of(files) != key.extract.checksum)
        return "was made from another extract";
    return "";
}

Region build_region(const std::vector<std::string>& files, const roads::Vehicle& vehicle, const PrepareWatch& watch) {
    // Shares of the time measured on a map of a million junctions.
    constexpr double roads_from = 0.45, order_from = 0.6, foot_from = 0.85;
    const auto tell = [&](const std::string& stage, double share) {
        if (watch)
            watch(stage, share);
    };
    const roads::OsmExtract extract = read_extracts(files, watch, roads_from);
    tell("roads", roads_from);
    const std::string file = names_of(files);
    auto network = std::make_unique<const roads::RoadNetwork>(roads::build_network(extract, vehicle));
    if (network->arcs.empty())
        throw geo::InputError({{file, "", "", "holds no road this vehicle may drive",
                                "use an extract with highway ways, or check /crew/vehicle"}});
    tell("quick ways", order_from);
    roads::hierarchy::Hierarchy hierarchy =
        roads::hierarchy::build_hierarchy(*network, roads::hierarchy::elimination_order(*network));
    tell("paths and places", foot_from);
    roads::SnapIndex index(*network);
    auto foot = std::make_shared<FootWays::Parts>(with_index(roads::foot::build_foot_network(extract)));
    Region region{file,
                  std::move(network),
                  std::make_unique<const FootWays>([foot] {
                      return FootWays::Parts{std::move(foot->network), std::move(foot->index)};
                  }),
                  std::move(hierarchy),
                  std::move(index),
                  places::find_places(extract),
                  extract.counts,
                  extract.box,
                  extract.data_date,
                  !foot->network.time_rules.empty(),
                  false,
                  {}};
    tell("done", 1.0);
    return region;
}

/// Why the file was not written, or nothing.
std::optional<std::string> write_prepared(const std::filesystem::path& path, const Region& region,
                                          const std::vector<std::string>& files, const roads::FileIdentity& before,
                                          std::vector<std::byte> vehicle) {
    roads::RegionKey key{before, roads::road_rules_version, std::move(vehicle)};
    const auto sum = checksum_of(files);
    if (!sum || look_at(files) != before)
        return "the extract changed meanwhile";
    key.extract.checksum = *sum;
    return roads::write_region_file(path, key,
                                    {{network_section, roads::store_network(*region.network)},
                                     {index_section, roads::store_index(region.index.parts())},
                                     {foot_section, roads::store_network(region.foot->network())},
                                     {foot_index_section, roads::store_index(region.foot->index().parts())},
                                     {order_section, roads::hierarchy::store_order(region.hierarchy)},
                                     {places_section, places::store_places(region.places)},
                                     {map_section, store_map(region)}});
}

} // namespace

std::filesystem::path prepared_path(const std::vector<std::string>& files, const roads::Vehicle& vehicle) {
    std::vector<std::byte> key = roads::vehicle_bytes(vehicle);
    for (std::size_t n = 1; n < files.size(); ++n)
        std::transform(files[n].begin(), files[n].end(), std::back_inserter(key),
                       [](char letter) { return static_cast<std::byte>(letter); });
    return files.front() + "." + short_key(key) + ".prepared";
}

std::filesystem::path prepared_path(const std::string& file, const roads::Vehicle& vehicle) {
    return prepared_path(std::vector{file}, vehicle);
}

Region load_region(const std::string& file, const roads::Vehicle& vehicle, Prepared prepared) {
    return load_region(std::vector{file}, vehicle, prepared);
}

Region load_region(const std::vector<std::string>& files, const roads::Vehicle& vehicle, Prepared prepared,
                   const PrepareWatch& watch) {
    const auto extract = prepared == Prepared::use ? look_at(files) : std::nullopt;
    if (!extract)
        return build_region(files, vehicle, watch);
    const std::string file = names_of(files);
    const auto path = prepared_path(files, vehicle);
    const auto bytes = roads::vehicle_bytes(vehicle);
    auto opened = roads::open_region_file(path, roads::SectionCheck::when_asked);
    std::string reason = opened.file ? misfit(opened.file->key(), *extract, files, bytes) : opened.reason;
    if (reason.empty()) {
        const auto foot_again = [files, path] {
            std::error_code ignored; // damaged where it was not looked at: the next load makes it again
            std::filesystem::remove(path, ignored);
            return with_index(roads::foot::build_foot_network(read_extracts(files, {}, 0.0)));
        };
        if (auto region = restore(file, *opened.file, reason, foot_again)) {
            region->has_prepared = true;
            region->prepared_note = "read " + path.string();
            return std::move(*region);
        }
    }
    Region region = build_region(files, vehicle, watch);
    const auto failure = write_prepared(path, region, files, *extract, bytes);
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
        const auto no_foot = [prepared]() -> FootWays::Parts {
            throw geo::InputError({{prepared, "", "", std::string("section ") + foot_section + " holds what can't be",
                                    "make it again: dayweave region prepare EXTRACT"}});
        };
        if (auto region = restore(prepared, *opened.file, reason, no_foot))
            return std::move(*region);
    }
    throw geo::InputError({{prepared, "", "", reason, "make it again: dayweave region prepare EXTRACT"}});
}

} // namespace routing::shoot
