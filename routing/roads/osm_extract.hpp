#pragma once
/// What one OpenStreetMap file holds that we use: roads, restrictions, and features other rooms asked for. Raw tags, no
/// judgement; rules are applied by network_builder.
///
///     const auto extract = routing::roads::read_extract("map.osm.pbf", places::is_place_tag);

#include "geo/coordinate.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace routing::roads {

using OsmId = std::int64_t; ///< negative ids (hand-drawn data) are legal

/// Tags of one object, sorted by key.
class Tags {
public:
    Tags() = default;
    explicit Tags(std::vector<std::pair<std::string, std::string>> pairs);
    /// Empty when the key is absent.
    std::string_view operator[](std::string_view key) const;
    bool has(std::string_view key) const { return !(*this)[key].empty(); }
    const std::vector<std::pair<std::string, std::string>>& all() const { return pairs_; }

private:
    std::vector<std::pair<std::string, std::string>> pairs_;
};

enum class OsmType : std::uint8_t { node, way, relation };

struct OsmObject {
    OsmType type = OsmType::node;
    OsmId id = 0;
    friend auto operator<=>(const OsmObject&, const OsmObject&) = default;
};

/// A node on a road that carries a tag the road rules read (barrier, signals, crossing ...).
struct RoadNode {
    OsmId id = 0;
    Tags tags;
};

struct RoadWay {
    OsmId id = 0;
    std::vector<OsmId> nodes;
    Tags tags;
};

struct RestrictionMember {
    OsmObject object;
    std::string role;
};

struct Restriction {
    OsmId id = 0;
    std::vector<RestrictionMember> members;
    Tags tags;
};

/// A tagged thing to stop at: a node, a closed way or a multipolygon.
struct Feature {
    OsmObject object;
    geo::Coordinate at;                            ///< the node, or a point inside or at the middle of the outline
    std::vector<geo::Coordinate> outline;          ///< outer ring(s) one after the other; empty for a node
    Tags tags;
};

/// Counts of what was read and what was passed over, printed by the command line.
struct ReadCounts {
    std::uint64_t nodes = 0, ways = 0, relations = 0;
    std::uint64_t road_ways = 0, restrictions = 0, features = 0;
    std::uint64_t invalid_locations = 0; ///< nodes dropped, outside -90..90, -180..180
    std::uint64_t missing_nodes = 0;     ///< references of road ways to nodes not in the file
    std::uint64_t repeated_objects = 0;  ///< same id seen again (newest version kept)
};

struct Box {
    geo::Coordinate south_west;
    geo::Coordinate north_east;
};

/// One extract as read. `node_ids` is sorted; `node_places` runs beside it.
struct OsmExtract {
    std::filesystem::path file;
    std::string data_date; ///< from the header, ISO 8601; empty when the file does not say
    std::optional<Box> box; ///< of the road nodes read
    std::vector<OsmId> node_ids;
    std::vector<geo::Coordinate> node_places;
    std::vector<RoadNode> road_nodes; ///< sorted by id
    std::vector<RoadWay> roads;       ///< sorted by id; highway=* and ferries
    std::vector<Restriction> restrictions;
    std::vector<Feature> features;    ///< sorted by (type, id)
    ReadCounts counts;

    /// Nothing when the file does not hold the node.
    std::optional<geo::Coordinate> place_of(OsmId node) const;
};

/// Reads .osm.pbf, .osm, .osm.gz, .osm.bz2 in two passes. `wanted` says which tagged objects become features.
/// Throws geo::InputError (file, field, problem, mend) for a missing, unreadable, broken, truncated or empty file.
OsmExtract read_extract(const std::filesystem::path& file, const std::function<bool(const Tags&)>& wanted);

} // namespace routing::roads
