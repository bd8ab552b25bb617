#pragma once
/// The nearest hospital with an emergency ward of each place a plan films at.
///
///     plan.wards = nearest_wards(plan, shoot, region);
///
/// By van over every road that no closure shuts for the whole plan, toll roads and ferries too, whatever the crew
/// wishes; roads shut for a time count as open. Wards are hospitals the map tags `emergency=yes` (OSM wiki,
/// Key:emergency).

#include "geo/coordinate.hpp"
#include "geo/interval.hpp"

#include <string>
#include <vector>

namespace routing::shoot {

struct Plan;
struct Region;
struct Shoot;

struct NearestWard {
    std::string from{};      ///< name of the location
    bool known = false;      ///< false: the map has no ward a road leads to, and the rest is empty
    std::string id{};        ///< "node/123"
    std::string name{};      ///< of the hospital
    std::string phone{};     ///< as mapped
    geo::Coordinate at{};    ///< of the hospital
    geo::Seconds drive{0};   ///< from where the van stands
    geo::Metres length{0.0}; ///< by road
    friend bool operator==(const NearestWard&, const NearestWard&) = default;
};

/// One for each location filmed at, in the order of the plan. Throws geo::InputError for a closure that matches
/// nothing.
std::vector<NearestWard> nearest_wards(const Plan& plan, const Shoot& shoot, const Region& region);

} // namespace routing::shoot
