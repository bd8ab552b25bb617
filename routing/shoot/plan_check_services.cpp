#include "routing/shoot/plan_check_services.hpp"

#include "geo/geodesic.hpp"
#include "routing/hours/hours.hpp"
#include "routing/places/place_kind.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/site_hours.hpp"

#include <algorithm>
#include <set>

namespace routing::shoot {

namespace {

constexpr geo::Metres same_place{1.0};

bool is_running(const PlanDay& day) {
    return std::any_of(day.stops.begin(), day.stops.end(),
                       [](const PlanStop& stop) { return stop.is_begun() || stop.role == StopRole::now; });
}

std::string kinds_text(const std::vector<places::PlaceKind>& kinds) {
    std::string text;
    for (const places::PlaceKind kind : kinds)
        text += (text.empty() ? "" : " or ") + std::string(places::in_words(kind));
    return text;
}

class ServiceCheck {
public:
    ServiceCheck(const Plan& plan, const Shoot& shoot, const Region& region, PlanFaults& faults)
        : plan_(plan), shoot_(shoot), region_(region), faults_(faults) {}

    void check() {
        for (std::size_t day = 0; day < plan_.days.size() && day < shoot_.days.size(); ++day) {
            std::set<std::string> taken;
            for (std::size_t n = 0; n < plan_.days[day].stops.size(); ++n) {
                const PlanStop& stop = plan_.days[day].stops[n];
                if (stop.kind == PlanStopKind::meal && !taken.insert(stop.what).second)
                    faults_.at_stop(day, n, "what", stop.what, "is taken a second time that day", "once a day");
                if (stop.is_begun())
                    continue;
                if (stop.kind == PlanStopKind::meal)
                    check_meal(day, n);
                if (stop.kind == PlanStopKind::bed && stop.role == StopRole::wrap)
                    check_bed(day, n);
            }
            check_missed(day, taken);
        }
    }

private:
    geo::Interval span_of(const MealWish& wish, std::size_t day) const {
        const geo::CivilDate date = plan_.days[day].date;
        const auto on = [&](geo::CivilDate first) {
            return geo::Interval{
                geo::instant_of(first, wish.from, shoot_.zone),
                geo::instant_of(wish.until > wish.from ? first : geo::next_date(first), wish.until, shoot_.zone)};
        };
        // On a night shoot a meal after midnight belongs to the night that began the evening before.
        const geo::Interval span = on(date);
        return span.until <= working_span(shoot_.days[day], shoot_.zone).from ? on(geo::next_date(date)) : span;
    }

    void check_meal(std::size_t day, std::size_t n) {
        const PlanStop& stop = plan_.days[day].stops[n];
        const auto wish = std::find_if(shoot_.meals.begin(), shoot_.meals.end(),
                                       [&](const MealWish& meal) { return meal.name == stop.what; });
        if (wish == shoot_.meals.end())
            return faults_.at_stop(day, n, "what", stop.what, "is no meal of the shoot", "the name of a meal");
        if (stop.end - stop.start != Seconds{wish->length})
            faults_.at_stop(day, n, "end", faults_.text(stop.end),
                            "does not leave the " + std::to_string(wish->length.count()) + " min of the meal",
                            faults_.text(stop.start + wish->length));
        const geo::Interval within = span_of(*wish, day);
        if (stop.start < within.from)
            faults_.at_stop(day, n, "start", faults_.text(stop.start), "is before the meal's hours",
                            faults_.text(within.from) + " or later");
        if (stop.end > within.until)
            faults_.at_stop(day, n, "end", faults_.text(stop.end), "is after the meal's hours",
                            faults_.text(within.until) + " or earlier");
        const Instant call = plan_.days[day].call;
        if (wish->within_of_call && stop.start > call + *wish->within_of_call)
            faults_.at_stop(day, n, "start", faults_.text(stop.start), "is too long after the call",
                            faults_.text(call + *wish->within_of_call) + " or earlier");
        switch (wish->where) {
        case MealWhere::packed:
            if (n > 0 && geo::distance(stop.at, plan_.days[day].stops[n - 1].at) > same_place)
                faults_.at_stop(day, n, "at", "", "is not where the crew is with the food it carries",
                                "the place of the stop before");
            break;
        case MealWhere::fixed:
            if (geo::distance(stop.at, wish->fixed.at) > same_place)
                faults_.at_stop(day, n, "at", "", "is not the place the shoot names", wish->fixed.name);
            break;
        case MealWhere::find:
            if (const places::Place* place = check_place(day, n, wish->kinds))
                check_open(day, n, *place);
            break;
        }
    }

    /// The place of the map a stop names; tells what is wrong with it.
    const places::Place* check_place(std::size_t day, std::size_t n, const std::vector<places::PlaceKind>& kinds) {
        static const char* const types[] = {"node/", "way/", "relation/"};
        const PlanStop& stop = plan_.days[day].stops[n];
        const places::Place* found = nullptr;
        for (const places::Place& place : region_.places)
            if (types[static_cast<std::size_t>(place.object.type)] + std::to_string(place.object.id) == stop.id) {
                found = &place; // one object can be places of several kinds
                if (std::find(kinds.begin(), kinds.end(), place.kind) != kinds.end())
                    break;
            }
        if (found == nullptr)
            faults_.at_stop(day, n, "id", stop.id, "is no place of the map", "a " + kinds_text(kinds));
        else if (std::find(kinds.begin(), kinds.end(), found->kind) == kinds.end())
            faults_.at_stop(day, n, "id", stop.id, "is a " + std::string(places::in_words(found->kind)) + " by the map",
                            "a " + kinds_text(kinds));
        else if (geo::distance(found->at, stop.at) > same_place)
            faults_.at_stop(day, n, "at", "", "is not where the map has that place", "its place on the map");
        else
            return found;
        return nullptr;
    }

    /// Hours that are not known are told as such, and pass.
    void check_open(std::size_t day, std::size_t n, const places::Place& place) {
        const PlanStop& stop = plan_.days[day].stops[n];
        if (place.opening_hours.empty())
            return;
        geo::Intervals not_closed;
        for (const hours::Stretch& stretch :
             hours::read_hours(place.opening_hours).intervals({stop.start, stop.end}, site_at(place.at, shoot_)))
            not_closed.push_back(stretch.time);
        not_closed = geo::join(std::move(not_closed));
        if (not_closed == geo::Intervals{{stop.start, stop.end}})
            return;
        const Instant closed =
            not_closed.empty() || not_closed.front().from > stop.start ? stop.start : not_closed.front().until;
        faults_.at_stop(day, n, "start", faults_.text(stop.start),
                        "has the crew eat while the map says closed, at " + faults_.text(closed),
                        "inside the hours " + place.opening_hours);
    }

    void check_bed(std::size_t day, std::size_t n) {
        const PlanStop& stop = plan_.days[day].stops[n];
        if (!shoot_.lodging || shoot_.days[day].end != DayEdge::bed)
            return faults_.at_stop(day, n, "kind", "bed", "is not where the shoot has this day end",
                                   shoot_.days[day].end == DayEdge::base ? "base" : "rest");
        if (shoot_.lodging->find) {
            if (stop.id.find('/') != std::string::npos) // no bed on the map: told as a warning, at the last stop
                check_place(day, n, shoot_.lodging->kinds);
        } else if (geo::distance(stop.at, shoot_.lodging->fixed.at) > same_place) {
            faults_.at_stop(day, n, "at", "", "is not the lodging the shoot names", shoot_.lodging->fixed.name);
        }
    }

    /// On a working day a meal is taken, or a warning names it and the day.
    void check_missed(std::size_t day, const std::set<std::string>& taken) {
        const PlanDay& told = plan_.days[day];
        const bool works = std::any_of(told.stops.begin(), told.stops.end(),
                                       [](const PlanStop& stop) { return stop.kind == PlanStopKind::scene; });
        if (!works || is_running(told))
            return;
        const std::string date = geo::to_string(told.date);
        for (const MealWish& wish : shoot_.meals)
            if (!taken.contains(wish.name) &&
                std::none_of(plan_.warnings.begin(), plan_.warnings.end(), [&](const std::string& warning) {
                    return warning.starts_with(wish.name) && warning.find(date) != std::string::npos;
                }))
                faults_.at_day(day, "stops", wish.name, "is a meal neither among the stops nor told to be left out",
                               "a stop, or a warning that says why not");
    }

    const Plan& plan_;
    const Shoot& shoot_;
    const Region& region_;
    PlanFaults& faults_;
};

} // namespace

void check_services(const Plan& plan, const Shoot& shoot, const Region& region, PlanFaults& faults) {
    ServiceCheck(plan, shoot, region, faults).check();
}

} // namespace routing::shoot
