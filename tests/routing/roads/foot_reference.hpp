#pragma once
/// Walking times read from the raw extract a second time, by plain rules of the tests' own: Boost.Graph's Dijkstra from
/// map node to map node, without pieces or junctions. Sources: OSM wiki, the pages named in foot_rules.hpp.

#include "routing/roads/osm_extract.hpp"

#include <boost/graph/compressed_sparse_row_graph.hpp>

#include <optional>
#include <utility>
#include <vector>

namespace support {

class FootReference {
public:
    /// `all_links`: every pair of entries of every square is joined where the straight line stays inside; else not
    /// those of squares with more than 12 entries.
    FootReference(const routing::roads::OsmExtract& extract, bool all_links);

    /// Place of a node in the answers; nothing for one that is shut or on no way open to walkers.
    std::optional<std::size_t> index_of(routing::roads::OsmId node) const;
    /// Seconds to every node, infinite where walkers can't come.
    std::vector<double> seconds_from(std::size_t node) const;

    std::size_t squares = 0; ///< with at least one link
    std::size_t crowded_squares = 0;
    std::size_t shut_nodes = 0;

private:
    struct Weight {
        double seconds = 0.0;
    };
    using Graph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, Weight>;

    std::vector<routing::roads::OsmId> nodes_; ///< sorted
    std::optional<Graph> graph_;
};

} // namespace support
