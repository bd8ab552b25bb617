#pragma once
/// Where a crew can eat, sleep, fill up, park or get help, as the map tells it.
///
///     const auto extract = roads::read_extract("map.osm.pbf", places::is_place);
///     const auto all = places::find_places(extract);
///     const auto care = places::serving(places::Need::care, all);   // emergency wards first

#include "geo/coordinate.hpp"
#include "routing/places/place_kind.hpp"
#include "routing/roads/osm_extract.hpp"

#include <string>
#include <vector>

namespace routing::places {

struct Place {
    roads::OsmObject object;
    PlaceKind kind{};
    std::string name;          ///< raw text from the map, or the kind in words when unnamed; escape on output
    geo::Coordinate at;        ///< of an area the reader's point; the caller moves it to the road
    std::string opening_hours; ///< as mapped, not judged yet
    std::string phone;
    std::string website;    ///< as mapped: `website`, else `contact:website`, else `url`
    bool emergency = false; ///< hospital with an emergency ward (emergency=yes)
};

/// True for objects worth keeping while the extract is read.
bool is_place(const roads::Tags& tags);

/// Sorted by (type, id, kind): an object of two kinds gives two places. Out-of-use and private ones are left out
/// (kinds_of).
///
/// Several objects for one place are merged: same kind, same `name`, and the point of one lies inside the area of the
/// other; or, when they have a name, a node and the other object lie within 30 m (our figure: about the width of a
/// building; common practice, no source). The area stays, before it a multipolygon, and takes hours, telephone and
/// website from the others where it has none itself. Name: `name`, else `ref`, else "unnamed café" and the like; never
/// the brand.
std::vector<Place> find_places(const roads::OsmExtract& extract);

/// Those that serve `need`, in the order given, hospitals with an emergency ward before all others.
std::vector<Place> serving(Need need, const std::vector<Place>& places);

} // namespace routing::places
