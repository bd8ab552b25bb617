#include "routing/shoot/meal_places.hpp"

#include "routing/shoot/site_hours.hpp"

#include <algorithm>

namespace routing::shoot {
namespace {

constexpr Seconds reach{15 * 60};

/// Those at least as long as a meal.
geo::Intervals long_enough(geo::Intervals spans, Seconds length) {
    std::erase_if(spans, [length](const geo::Interval& span) { return span.length() < length; });
    return spans;
}

std::vector<order::TimeWindow> windows(const geo::Intervals& spans) {
    std::vector<order::TimeWindow> open;
    for (const geo::Interval& span : spans)
        open.push_back({span.from, span.until});
    return open;
}

} // namespace

MealFinder::MealFinder(const Shoot& shoot, const Region& region, const StopPoints& points,
                       const order::TravelMatrix& travel)
    : shoot_(shoot), region_(region), points_(points), travel_(travel) {
    for (const std::uint32_t place : points.places) {
        const std::string& text = region.places[place].opening_hours;
        hours_.push_back(text.empty() ? std::nullopt : std::optional(hours::read_hours(text)));
    }
}

MealFinder::Open MealFinder::open_within(std::size_t place, order::TimeWindow within, Seconds length) const {
    const geo::Interval span{within.earliest, within.latest};
    if (!hours_[place])
        return {{}, long_enough({span}, length)};
    Open open;
    const hours::Site site = site_at(region_.places[points_.places[place]].at, shoot_);
    for (const hours::Stretch& stretch : hours_[place]->intervals(span, site)) {
        open.perhaps.push_back(stretch.time);
        if (stretch.state == hours::State::open)
            open.surely.push_back(stretch.time);
    }
    // Neighbours that differ in their comments alone are one span to eat in.
    return {long_enough(geo::join(std::move(open.surely)), length),
            long_enough(geo::join(std::move(open.perhaps)), length)};
}

bool MealFinder::is_near(order::Point place) const {
    const auto near = [&](order::Point from) { return travel_(from, place) <= reach.count(); };
    if ((points_.base && near(*points_.base)) || (points_.start && near(*points_.start)))
        return true;
    return std::any_of(points_.locations.begin(), points_.locations.end(),
                       [&](const auto& location) { return std::any_of(location.begin(), location.end(), near); });
}

MealPlaces MealFinder::places_for(const MealWish& wish, order::TimeWindow within) const {
    std::vector<std::optional<Open>> open(points_.places.size());
    bool sure_one_near = false;
    for (std::size_t n = 0; n < points_.places.size(); ++n) {
        const places::PlaceKind kind = region_.places[points_.places[n]].kind;
        if (std::find(wish.kinds.begin(), wish.kinds.end(), kind) == wish.kinds.end())
            continue;
        open[n] = open_within(n, within, wish.length);
        sure_one_near = sure_one_near || (!open[n]->surely.empty() && is_near(points_.point_of_place(n)));
    }
    MealPlaces found;
    for (std::size_t n = 0; n < open.size(); ++n) {
        if (!open[n])
            continue;
        const bool sure = !open[n]->surely.empty();
        if (!sure && (sure_one_near || open[n]->perhaps.empty()))
            continue;
        found.candidates.push_back(points_.point_of_place(n));
        if (hours_[n])
            found.hours.push_back({points_.point_of_place(n), windows(sure ? open[n]->surely : open[n]->perhaps)});
    }
    return found;
}

std::string hours_note(const places::Place& place, geo::Interval meal, const hours::Site& site) {
    if (place.opening_hours.empty())
        return "hours not known: call ahead";
    const std::vector<hours::Stretch> open = hours::read_hours(place.opening_hours).intervals(meal, site);
    const bool sure =
        std::all_of(open.begin(), open.end(), [](const auto& s) { return s.state == hours::State::open; });
    geo::Intervals covered;
    for (const hours::Stretch& stretch : open)
        covered.push_back(stretch.time);
    const std::string says = "the map says: " + place.opening_hours;
    if (geo::join(std::move(covered)) != geo::Intervals{meal})
        return "closed by the map: call ahead; " + says;
    if (!sure)
        return "hours not known for certain: call ahead; " + says;
    const bool holiday = std::any_of(open.begin(), open.end(), [](const auto& s) { return s.unless_holiday; });
    return std::string(holiday ? "open by the map, unless it is a public holiday; " : "open by the map; ") + says;
}

} // namespace routing::shoot
