#pragma once
/// Where a walker may go and how fast on the flat: the rules for ways and nodes on foot.
///
///     Remarks remarks;
///     if (rule_way_on_foot(way.tags, remarks).drivable()) ...
///
/// Slope is not in these figures. Ferries are closed: a walk in takes none.

#include "routing/roads/node_rules.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/way_rules.hpp"

#include "geo/units.hpp"

namespace routing::roads::foot {

/// Walking pace on a flat path, with kit; our planning figure.
constexpr geo::KilometresPerHour flat_pace{4.0};

/// Keys that decide: `foot`, then `access`, then the class of the way; keys of vehicles and their one-ways say nothing.
/// `destination` and `customers` are open, since a walk in has its end there. `sac_scale` above mountain_hiking closes.
/// A way with area=yes is closed unless it may be a square. Notes: steps, ford, not in darkness, doubtful access.
/// Sources: OSM wiki, Key:highway, "OSM tags for routing/Access restrictions", Key:access, Key:sac_scale,
/// Key:trail_visibility, Key:motorroad.
WayRuling rule_way_on_foot(const Tags& tags, Remarks& remarks);

/// A barrier's own `foot` or `access` wins over its kind; nearly all kinds let walkers pass. A lock on a gate that is
/// open to walkers by its tags is a note. `foot` also counts on a node that is nothing else. No delays.
/// Sources: OSM wiki, Key:barrier and its values' pages.
NodeRuling rule_node_on_foot(const Tags& tags, Remarks& remarks);

/// Whether a closed way with these tags is a square that can be crossed: highway=pedestrian, or footway or path with
/// area=yes; not with area=no. Source: OSM wiki, Tag:highway=pedestrian, Key:area.
bool may_be_square(const Tags& tags);

} // namespace routing::roads::foot
