#include "routing/shoot/avoided_roads.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace routing::shoot {

namespace {

/// Roads this near to each other meet at one spot.
constexpr geo::Metres same_spot_within{1.0};
constexpr std::size_t edges_at_junction = 16;

/// Sets of AvoidedKind as bits, fewest first, else in the documented order.
constexpr std::array<std::uint8_t, 8> sets_by_size{0b000, 0b001, 0b010, 0b100, 0b011, 0b101, 0b110, 0b111};
constexpr std::array<std::uint16_t, 3> note_of_kind{roads::note_toll, roads::note_ferry, roads::note_unpaved};
constexpr std::array<const char*, 3> words_of_kind{"toll roads", "ferries", "unpaved roads"};

std::uint16_t notes_of(std::uint8_t kinds) {
    std::uint16_t notes = roads::note_none;
    for (std::size_t kind = 0; kind < note_of_kind.size(); ++kind)
        if ((kinds >> kind & 1) != 0)
            notes |= note_of_kind[kind];
    return notes;
}

std::uint8_t kinds_of(const Crew& crew) {
    std::uint8_t kinds = 0;
    for (const AvoidedKind kind : crew.avoid)
        kinds |= static_cast<std::uint8_t>(1U << static_cast<unsigned>(kind));
    return kinds;
}

/// What the shoot must be able to reach and leave: one point, or any of several.
struct NeededStop {
    std::string name;
    std::vector<order::Point> points;
};

std::vector<NeededStop> needed_stops(const Shoot& shoot, const Region& region, const StopPoints& points) {
    const auto any_day = [&](DayEdge edge) {
        return std::any_of(shoot.days.begin(), shoot.days.end(),
                           [&](const ShootDay& day) { return day.start == edge || day.end == edge; });
    };
    std::vector<NeededStop> stops;
    if (points.base && any_day(DayEdge::base))
        stops.push_back({shoot.base->name, {*points.base}});
    for (std::uint32_t n = 0; n < shoot.locations.size(); ++n) {
        const bool used = std::any_of(shoot.scenes.begin(), shoot.scenes.end(), [&](const Scene& scene) {
            return std::any_of(scene.options.begin(), scene.options.end(),
                               [&](const SceneOption& option) { return option.location == n; });
        });
        if (used)
            stops.push_back({shoot.locations[n].name, points.locations[n]});
    }
    for (std::size_t n = 0; n < shoot.meals.size(); ++n)
        if (points.fixed_meals[n])
            stops.push_back({shoot.meals[n].fixed.name, {*points.fixed_meals[n]}});
    if (shoot.lodging && any_day(DayEdge::bed)) {
        NeededStop bed{"a bed for the night", {}};
        if (points.fixed_bed)
            bed = {shoot.lodging->fixed.name, {*points.fixed_bed}};
        const std::vector<places::PlaceKind>& kinds = shoot.lodging->kinds;
        for (std::size_t n = 0; n < points.places.size() && !points.fixed_bed; ++n)
            if (std::find(kinds.begin(), kinds.end(), region.places[points.places[n]].kind) != kinds.end())
                bed.points.push_back(points.point_of_place(n));
        if (!bed.points.empty())
            stops.push_back(std::move(bed));
    }
    const bool at_a_stop = std::any_of(stops.begin(), stops.end(), [&](const NeededStop& stop) {
        return stop.points.size() == 1 && stop.points.front() == points.start;
    });
    if (points.start && !at_a_stop)
        stops.push_back({"where the crew is", {*points.start}});
    return stops;
}

/// Tries sets of wishes on one shoot.
class WishTrials {
public:
    WishTrials(const Shoot& shoot, const Region& region, const StopPoints& points, const ClosedRoads& shut)
        : region_(region), points_(points), closures_(shut.edges), stops_(needed_stops(shoot, region, points)),
          open_(travel_matrix(points, {region.hierarchy, *region.network, closures_})) {}

    /// Closures, and the roads of these kinds.
    roads::ClosedEdges shut_with(std::uint8_t kinds) const {
        roads::ClosedEdges shut = closures_;
        if (kinds == 0)
            return shut;
        shut.resize(region_.network->edges.size(), false);
        for (std::size_t n = 0; n < shut.size(); ++n)
            if ((region_.network->edges[n].notes & notes_of(kinds)) != 0)
                shut[n] = true;
        return shut;
    }

    /// The points, those at a junction of an avoided road and another moved to the other.
    StopPoints points_with(std::uint8_t kinds, const roads::ClosedEdges& shut) const {
        StopPoints moved = points_;
        for (StopPoint& point : moved.points) {
            if (!is_avoided(point, kinds))
                continue;
            for (roads::RoadPoint other :
                 region_.index.nearest_edges(point.road.at, edges_at_junction, same_spot_within)) {
                if (shut[roads::value(other.edge)] || !region_.index.is_round_trip(other.edge))
                    continue;
                other.moved = point.road.moved;
                other.passed_over_nearer = point.road.passed_over_nearer;
                point.road = other;
                break;
            }
        }
        return moved;
    }

    /// Names of the stops that these wishes cut off from others; none when every way between stops is still there.
    std::vector<std::string> cut_off_by(std::uint8_t kinds) const {
        const roads::ClosedEdges shut = shut_with(kinds);
        const StopPoints moved = points_with(kinds, shut);
        const order::TravelMatrix travel = travel_matrix(moved, {region_.hierarchy, *region_.network, shut});
        const auto parted = [&](const NeededStop& a, const NeededStop& b) {
            return (leads(a, b, open_) && !leads(a, b, travel)) || (leads(b, a, open_) && !leads(b, a, travel));
        };
        // Named as seen from base or else the first stop, unless that stands on an avoided road: then it is to blame.
        std::vector<const NeededStop*> from;
        for (const NeededStop& stop : stops_)
            from.push_back(&stop);
        std::stable_partition(from.begin(), from.end(), [&](const NeededStop* stop) {
            return std::any_of(stop->points.begin(), stop->points.end(),
                               [&](order::Point point) { return !is_avoided(moved.points[point], kinds); });
        });
        std::vector<bool> cut(from.size(), false);
        for (std::size_t a = 0; a < from.size(); ++a)
            for (std::size_t b = a + 1; b < from.size() && !cut[a]; ++b)
                cut[b] = cut[b] || parted(*from[a], *from[b]);
        std::vector<std::string> names;
        for (const NeededStop& stop : stops_)
            for (std::size_t n = 0; n < from.size(); ++n)
                if (from[n] == &stop && cut[n])
                    names.push_back(stop.name);
        return names;
    }

private:
    bool is_avoided(const StopPoint& point, std::uint8_t kinds) const {
        return (region_.network->edges[roads::value(point.road.edge)].notes & notes_of(kinds)) != 0;
    }
    static bool leads(const NeededStop& from, const NeededStop& to, const order::TravelMatrix& travel) {
        return std::any_of(from.points.begin(), from.points.end(), [&](order::Point a) {
            return std::any_of(to.points.begin(), to.points.end(),
                               [&](order::Point b) { return travel(a, b) < order::TravelMatrix::unreachable; });
        });
    }

    const Region& region_;
    const StopPoints& points_;
    const roads::ClosedEdges& closures_;
    std::vector<NeededStop> stops_;
    order::TravelMatrix open_; ///< with nothing shut but by closures
};

std::string list_text(const std::vector<std::string>& names) {
    std::string text;
    for (std::size_t n = 0; n < names.size(); ++n)
        text += (n == 0 ? "" : n + 1 == names.size() ? " and " : ", ") + names[n];
    return text;
}

} // namespace

std::uint16_t avoided_notes(const Crew& crew) {
    return notes_of(kinds_of(crew));
}

AvoidedRoads avoid_roads(const Shoot& shoot, const Region& region, const StopPoints& points, const ClosedRoads& shut) {
    const std::uint8_t wished = kinds_of(shoot.crew);
    if (wished == 0)
        return {shut.edges, points, {}};

    const WishTrials trials(shoot, region, points, shut);
    // Without any wish nothing is cut off, so the search ends at the latest with all of them set aside.
    const auto aside = *std::find_if(sets_by_size.begin(), sets_by_size.end(), [&](std::uint8_t set) {
        return (set & ~wished) == 0 && trials.cut_off_by(static_cast<std::uint8_t>(wished & ~set)).empty();
    });
    const auto kept = static_cast<std::uint8_t>(wished & ~aside);
    AvoidedRoads result;
    result.shut = trials.shut_with(kept);
    result.points = trials.points_with(kept, result.shut);
    for (std::size_t kind = 0; kind < words_of_kind.size(); ++kind) {
        const auto one = static_cast<std::uint8_t>(1U << kind);
        if ((aside & one) != 0)
            result.warnings.push_back(std::string("the wish to avoid ") + words_of_kind[kind] +
                                      " is set aside for the whole plan: no other way to and from " +
                                      list_text(trials.cut_off_by(static_cast<std::uint8_t>(kept | one))));
    }
    return result;
}

} // namespace routing::shoot
