#pragma once
/// A big map made of shifted copies of a small one, a grid of tiles joined to their neighbours by a few roads.
///
///     const OsmExtract big = bench::mosaic(extract, 5); // 25 tiles

#include "routing/roads/osm_extract.hpp"

namespace bench {

/// `side` x `side` copies without features. Each tile is joined to the next one east and north by the roads nearest to
/// three points of their common border, as plain primary roads.
routing::roads::OsmExtract mosaic(const routing::roads::OsmExtract& tile, int side);

} // namespace bench
