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
    geo::Coordinate at;                   ///< the node, or a point inside the area
    std::vector<geo::Coordinate> outline; ///< outer ring(s) one after the other, each closed; empty for a node and for
                                          ///< an area whose outline is broken (then `at` is the mean of what there is)
    Tags tags;
};

/// Counts of what was read and what was passed over, printed by the command line.
struct ReadCounts {
    std::uint64_t nodes = 0, ways = 0, relations = 0;
    std::uint64_t road_ways = 0, restrictions = 0, features = 0;
    std::uint64_t invalid_locations = 0; ///< nodes dropped, outside -90..90, -180..180
    std::uint64_t missing_nodes = 0;     ///< references of road ways to nodes not in the file
    std::uint64_t repeated_objects = 0;  ///< objects we use seen again under their id (newest version kept)
    std::uint64_t broken_outlines = 0;   ///< areas wanted as features whose outline can't be closed from the file
};

struct Box {
    geo::Coordinate south_west;
    geo::Coordinate north_east;
};

/// The narrower of the two boxes that hold all places: the plain one, or one across longitude 180. Nothing for none.
std::optional<Box> box_around(const std::vector<geo::Coordinate>& places);

/// One extract as read. `node_ids` is sorted; `node_places` runs beside it.
struct OsmExtract {
    std::filesystem::path file;
    std::string data_date;  ///< from the header, ISO 8601; empty when the file does not say
    std::optional<Box> box; ///< of the road nodes read; west > east when it crosses longitude 180
    std::vector<OsmId> node_ids;
    std::vector<geo::Coordinate> node_places;
    std::vector<RoadNode> road_nodes; ///< sorted by id
    std::vector<RoadWay> roads;       ///< sorted by id; highway=* and ferries
    std::vector<Restriction> restrictions;
    std::vector<Feature> features; ///< sorted by (type, id)
    ReadCounts counts;

    /// Nothing when the file does not hold the node.
    std::optional<geo::Coordinate> place_of(OsmId node) const;
};

/// Reads .osm.pbf (zlib, lz4 or plain blocks), .osm, .osm.gz, .osm.bz2 and the history files .osh*; of an object's
/// versions only the newest counts, and nothing if that one is deleted. Objects may stand in any order.
/// `wanted` says which tagged objects become features.
///
/// Goes over the file once a type of object - relations, ways, nodes - since a multipolygon's ways are known only after
/// the relations and a way's nodes only after the ways; each time only that type is decoded, so that the sum costs
/// about what two full passes do. Files whose ids are not in rising order cost one pass more a type.
///
/// Throws geo::InputError (file, problem, mend) for a missing, unreadable, broken, truncated or empty file.
OsmExtract read_extract(const std::filesystem::path& file, const std::function<bool(const Tags&)>& wanted);

} // namespace routing::roads
