#include "routing/shoot/plan_check.hpp"

#include "geo/geodesic.hpp"
#include "routing/shoot/plan_check_legs.hpp"
#include "routing/shoot/plan_check_scenes.hpp"
#include "routing/shoot/plan_check_services.hpp"
#include "routing/shoot/scene_light.hpp"

#include <algorithm>
#include <cmath>

namespace routing::shoot {

namespace {

constexpr Seconds rounding{1};
constexpr geo::Metres same_place{1.0};

bool same_spot(geo::Coordinate a, geo::Coordinate b) {
    return geo::distance(a, b) < same_place;
}

bool is_past(const PlanStop& stop) {
    return stop.is_begun() || stop.role == StopRole::now;
}

bool is_running(const PlanDay& day) {
    return std::any_of(day.stops.begin(), day.stops.end(), is_past);
}

/// The crew neither moves nor works: no call, no wrap.
bool is_day_off(const PlanDay& day) {
    return std::all_of(day.stops.begin(), day.stops.end(), [](const PlanStop& stop) {
        return stop.role != StopRole::stop && stop.leg.total == Seconds{0};
    });
}

class DayCheck {
public:
    DayCheck(const Plan& plan, const Shoot& shoot, PlanFaults& faults) : plan_(plan), shoot_(shoot), faults_(faults) {}

    void check() {
        for (std::size_t day = 0; day < plan_.days.size(); ++day) {
            if (plan_.days[day].stops.empty())
                continue;
            check_times(day);
            check_totals(day);
            check_leave_by(day);
            check_ends(day);
            if (!is_day_off(plan_.days[day]))
                check_hours(day);
        }
    }

private:
    void check_times(std::size_t day) {
        const auto& stops = plan_.days[day].stops;
        for (std::size_t n = 0; n < stops.size(); ++n) {
            const PlanStop& stop = stops[n];
            const auto follows = [&](Instant before, Instant after, const char* member, const char* than) {
                if (after < before)
                    faults_.at_stop(day, n, member, faults_.text(after), std::string("is before its ") + than,
                                    faults_.text(before) + " or later");
            };
            follows(stop.arrive, stop.start, "start", "arrive");
            follows(stop.start, stop.end, "end", "start");
            follows(stop.end, stop.leave, "leave", "end");
            if (n == 0)
                continue;
            const PlanStop& before = stops[n - 1];
            if (is_past(stop)) {
                if (stop.arrive < before.arrive)
                    faults_.at_stop(day, n, "arrive", faults_.text(stop.arrive), "is before the stop before it",
                                    faults_.text(before.arrive) + " or later");
                continue;
            }
            const Instant due = before.leave + stop.leg.total;
            if (std::chrono::abs(stop.arrive - due) > rounding)
                faults_.at_stop(day, n, "arrive", faults_.text(stop.arrive),
                                "is not when the stop before is left and the leg here is done", faults_.text(due));
        }
    }

    void check_totals(std::size_t day) {
        const PlanDay& told = plan_.days[day];
        Seconds drive{0}, walk{0};
        geo::Metres distance{0.0};
        for (const PlanStop& stop : told.stops) {
            drive += stop.leg.van;
            walk += stop.leg.walk();
            distance += stop.leg.length;
        }
        const auto sum = [&](const char* member, const auto& is, const auto& should, bool wrong) {
            if (wrong)
                faults_.at_day(day, member, PlanFaults::text(is), "is not the sum of its legs",
                               PlanFaults::text(should));
        };
        sum("drive_seconds", told.drive, drive, told.drive != drive);
        sum("walk_seconds", told.walk, walk, told.walk != walk);
        // Each is told to 0.1 m.
        const double off = 0.05 * static_cast<double>(told.stops.size() + 1) + 1e-6;
        sum("metres", told.distance, distance, std::abs((told.distance - distance).value) > off);
        const PlanStop& first = told.stops.front();
        const Instant call = first.role == StopRole::call ? first.leave : first.arrive;
        if (!is_running(told) && first.role == StopRole::call && told.call != call)
            faults_.at_day(day, "call", faults_.text(told.call), "is not when the first stop is left",
                           faults_.text(call));
        if (told.wrap != told.stops.back().arrive)
            faults_.at_day(day, "wrap", faults_.text(told.wrap), "is not when the last stop is reached",
                           faults_.text(told.stops.back().arrive));
    }

    /// Leaving at leave_by must still allow the next stop to be left by its own.
    void check_leave_by(std::size_t day) {
        const auto& stops = plan_.days[day].stops;
        const Instant latest = working_span(shoot_.days[day], shoot_.zone).until;
        for (std::size_t n = 0; n < stops.size(); ++n) {
            const PlanStop& stop = stops[n];
            if (is_past(stop) && n + 1 < stops.size() && is_past(stops[n + 1]))
                continue;
            if (stop.is_begun() || is_late(day))
                continue;
            if (stop.slack != stop.leave_by - stop.leave)
                faults_.at_stop(day, n, "slack_seconds", PlanFaults::text(stop.slack),
                                "is not the time from leave to leave_by", PlanFaults::text(stop.leave_by - stop.leave));
            if (stop.leave_by < stop.leave)
                faults_.at_stop(day, n, "leave_by", faults_.text(stop.leave_by), "is before the stop is left",
                                faults_.text(stop.leave) + " or later");
            if (n + 1 == stops.size())
                continue;
            const PlanStop& next = stops[n + 1];
            const Seconds leg = next.leg.total;
            const bool last = n + 2 == stops.size() && next.role == StopRole::wrap;
            // Whoever waits for a road to reopen leaves later than it is packed up.
            const Seconds there = (next.end - next.start) + std::min(next.leave - next.end, packing_of(next));
            const Instant bound = last ? latest - leg : next.leave_by - there - leg;
            if (stop.leave_by > bound + rounding)
                faults_.at_stop(day, n, "leave_by", faults_.text(stop.leave_by),
                                last ? "is too late for the latest wrap" : "is too late for the stop after it",
                                faults_.text(bound) + " or earlier");
        }
    }

    Seconds packing_of(const PlanStop& stop) const {
        for (const Scene& scene : shoot_.scenes)
            if (stop.kind == PlanStopKind::scene && scene.id == stop.id && stop.option < scene.options.size())
                return shoot_.locations[scene.options[stop.option].location].pack;
        return Seconds{0};
    }

    /// A running day can be too late already; then the plan says so.
    bool is_late(std::size_t day) const {
        return is_running(plan_.days[day]) && says({"the latest wrap", "can't be kept"});
    }

    bool says(const std::vector<std::string>& parts) const {
        return std::any_of(plan_.warnings.begin(), plan_.warnings.end(), [&](const std::string& warning) {
            return std::all_of(parts.begin(), parts.end(),
                               [&](const std::string& part) { return warning.find(part) != std::string::npos; });
        });
    }

    void check_hours(std::size_t day) {
        const PlanDay& told = plan_.days[day];
        const geo::Interval span = working_span(shoot_.days[day], shoot_.zone);
        if (!is_running(told) && told.call < span.from)
            faults_.at_day(day, "call", faults_.text(told.call), "is before the earliest call",
                           faults_.text(span.from) + " or later");
        if (told.wrap > span.until && !is_late(day))
            faults_.at_day(day, "wrap", faults_.text(told.wrap), "is after the latest wrap",
                           faults_.text(span.until) + " or earlier");
        for (std::size_t before = day; before-- > 0 && !is_running(told);) {
            const PlanDay& night = plan_.days[before];
            if (night.stops.empty() || is_day_off(night))
                continue;
            const Instant rested = night.wrap + Seconds{shoot_.crew.turnaround};
            if (told.call < rested)
                faults_.at_day(day, "call", faults_.text(told.call), "leaves too little rest after the wrap before",
                               faults_.text(rested) + " or later");
            break;
        }
    }

    void check_ends(std::size_t day) {
        const auto& stops = plan_.days[day].stops;
        const ShootDay& wish = shoot_.days[day];
        if (!is_past(stops.front()) && !is_running(plan_.days[day])) {
            if (wish.start == DayEdge::base && shoot_.base && !same_spot(stops.front().at, shoot_.base->at))
                faults_.at_stop(day, 0, "at", "", "is not the base, where the day starts", shoot_.base->name);
            if (wish.start == DayEdge::bed && day > 0 && !plan_.days[day - 1].stops.empty() &&
                !same_spot(stops.front().at, plan_.days[day - 1].stops.back().at))
                faults_.at_stop(day, 0, "at", "", "is not where the night was spent",
                                plan_.days[day - 1].stops.back().name);
        }
        const PlanStop& last = stops.back();
        const std::string date = geo::to_string(plan_.days[day].date);
        if (is_past(last) || says({"cut off by the closures on " + date}))
            return;
        if (wish.end == DayEdge::base && shoot_.base && !same_spot(last.at, shoot_.base->at))
            faults_.at_stop(day, stops.size() - 1, "at", "", "is not the base, where the day ends", shoot_.base->name);
        if (wish.end == DayEdge::bed && last.kind != PlanStopKind::bed)
            faults_.at_stop(day, stops.size() - 1, "kind", "", "is no bed, and the day ends at one", "bed");
    }

    const Plan& plan_;
    const Shoot& shoot_;
    PlanFaults& faults_;
};

} // namespace

std::vector<PlanFault> check_plan(const Plan& plan, const Shoot& as_filed, const Region& region) {
    Shoot shoot = as_filed;
    shoot.told_sky = plan.told_sky;
    PlanFaults faults(plan, shoot.zone);
    DayCheck(plan, shoot, faults).check();
    check_scenes(plan, shoot, faults);
    check_services(plan, shoot, region, faults);
    check_legs(plan, shoot, region, faults);
    return faults.take();
}

} // namespace routing::shoot
