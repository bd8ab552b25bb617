#pragma once
/// Several extracts as one map: neighbours that meet or overlap.
///
///     const OsmExtract map = merge_extracts({read_extract("east.osm.pbf", wanted), read_extract("west.osm.pbf",
///     wanted)});

#include "routing/roads/osm_extract.hpp"

#include <vector>

namespace routing::roads {

/// Each object once. Where extracts hold the same id, the one whose data are newer wins (no date counts as oldest), of
/// equal dates the one named first; an area whose outline is whole wins over one that was clipped. A way that was
/// clipped in one extract is whole again as soon as another holds its nodes. Counts are those of all files together,
/// `missing_nodes` what is missing still; `file` is that of the first, `data_date` the oldest. At least one extract.
OsmExtract merge_extracts(std::vector<OsmExtract> extracts);

} // namespace routing::roads
