#pragma once
/// Where a meal can be had on a day, by the opening hours on the map.
///
///     MealFinder finder(shoot, region, points, travel);
///     const MealPlaces found = finder.places_for(wish, within);
///     found.candidates, found.hours          // into order::Meal
///     hours_note(place, when, site_at(place.at, shoot)) // "open by the map: Mo-Su 09:00-17:00"
///
/// A place whose hours are not known is a candidate only on days when none that is surely open for the meal lies within
/// reach: 15 min by van from the base or a location (our figure; common practice, no source). It then counts at the
/// hours it may be open, and the plan says "hours not known: call ahead". Where public holidays
/// are not known (Shoot::holidays), a place that is open unless it is one counts as open, and the plan says so
/// (docs/opening_hours.md).

#include "geo/interval.hpp"
#include "routing/hours/hours.hpp"
#include "routing/order/problem.hpp"
#include "routing/shoot/stop_points.hpp"

#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

struct MealPlaces {
    std::vector<order::Point> candidates;
    std::vector<order::MealHours> hours; ///< of every candidate that is not open at any hour
};

class MealFinder {
public:
    /// Everything given must outlive it. Cost: each place's hours are read once.
    MealFinder(const Shoot& shoot, const Region& region, const StopPoints& points, const order::TravelMatrix& travel);

    /// Places of the kinds wished for where the whole meal can lie inside `within`.
    MealPlaces places_for(const MealWish& wish, order::TimeWindow within) const;

private:
    /// When a place is surely open, and when it may be, each span at least as long as the meal.
    struct Open {
        geo::Intervals surely;
        geo::Intervals perhaps; ///< `surely` included
    };
    Open open_within(std::size_t place, order::TimeWindow within, Seconds length) const;
    bool is_near(order::Point place) const;

    const Shoot& shoot_;
    const Region& region_;
    const StopPoints& points_;
    const order::TravelMatrix& travel_;
    std::vector<std::optional<hours::Hours>> hours_; ///< by place of `points`; nothing where the map has none
};

/// What the crew should know of the place's hours while it eats there.
std::string hours_note(const places::Place& place, geo::Interval meal, const hours::Site& site);

} // namespace routing::shoot
