#include "cli/cautions.hpp"

#include "cli/clock_words.hpp"
#include "cli/number_text.hpp"

#include <algorithm>

namespace cli {

using namespace std::chrono_literals;
using routing::shoot::Plan;
using routing::shoot::PlanDay;
using routing::shoot::PlanStop;
using routing::shoot::PlanStopKind;

namespace {

/// Driving between midnight and six on the clock of any date it touches.
bool drives_by_night(geo::Interval drive, const geo::TimeZone& zone) {
    for (const geo::Instant end : {drive.from, drive.until}) {
        const geo::CivilDate date = geo::civil_date(end, zone);
        const geo::Instant midnight = geo::instant_of(date, 0h, zone), six = geo::instant_of(date, 6h, zone);
        if (drive.from < six && drive.until > midnight)
            return true;
    }
    return false;
}

void add_driving(std::vector<std::string>& lines, const PlanDay& day, const geo::TimeZone& zone) {
    bool night_told = false;
    for (std::size_t n = 1; n < day.stops.size(); ++n) {
        const PlanStop& stop = day.stops[n];
        const geo::Instant leave = day.stops[n - 1].leave;
        if (stop.is_begun() || stop.leg.van <= 0s)
            continue;
        if (!night_told && drives_by_night({leave, leave + stop.leg.total}, zone)) {
            lines.push_back(day_text(day.date) + ": driving between midnight and six (leaving " +
                            time_text(leave, day.date, zone) +
                            "), when drivers fall asleep most easily. Let who slept drive.");
            night_told = true;
        }
        if (stop.leg.van > 2h)
            lines.push_back(day_text(day.date) + ": " + span_text(stop.leg.van) + " at the wheel to " + stop.name +
                            ". Stop for 15 min every two hours; the plan has no such stop in it.");
    }
}

bool any_stop(const Plan& plan, bool (*holds)(const PlanStop&)) {
    return std::any_of(plan.days.begin(), plan.days.end(),
                       [&](const PlanDay& day) { return std::any_of(day.stops.begin(), day.stops.end(), holds); });
}

bool is_found_on_map(const PlanStop& stop) {
    return (stop.kind == PlanStopKind::meal || stop.kind == PlanStopKind::bed) &&
           stop.id.find('/') != std::string::npos;
}

bool crosses_by_ferry(const PlanStop& stop) {
    return std::any_of(stop.leg.roads.begin(), stop.leg.roads.end(),
                       [](const auto& road) { return (road.notes & routing::roads::note_ferry) != 0; });
}

} // namespace

std::vector<std::string> cautions(const Plan& plan, const routing::shoot::Shoot& shoot) {
    const geo::TimeZone& zone = shoot.zone;
    const bool knows_ground = std::all_of(shoot.locations.begin(), shoot.locations.end(),
                                          [](const auto& location) { return location.horizon != nullptr; });
    std::vector<std::string> lines;
    for (const PlanDay& day : plan.days) {
        if (day.wrap - day.call > 13h)
            lines.push_back(day_text(day.date) + " is " + span_text(day.wrap - day.call) +
                            " long from call to wrap. Nobody should drive tired: share the wheel or sleep nearer.");
        add_driving(lines, day, zone);
    }
    if (any_stop(plan, crosses_by_ferry))
        lines.emplace_back("Ferries are reckoned without their timetable: look it up.");
    if (any_stop(plan, is_found_on_map))
        lines.emplace_back(
            "Opening hours are the map's, which may be old, and free rooms were not checked: ring first.");
    if (any_stop(plan, [](const PlanStop& stop) { return stop.leg.walk() > 0s; }))
        lines.push_back(
            std::string(shoot.ground ? "Ways on foot are reckoned by the slope of the elevation tiles: ground "
                                       "and weather take longer."
                                     : "Ways on foot are reckoned as level: climbs, ground and weather take "
                                       "longer.") +
            " Look at the way in by day, tell somebody where you go, and leave the van only where signs allow "
            "it.");
    if (any_stop(plan, [](const PlanStop& stop) { return stop.light.has_value(); }))
        lines.emplace_back(
            knows_ground
                ? "Light is reckoned over the ground of the elevation tiles and in clear air. Trees, houses and "
                  "clouds take it away, and refraction moves a low sun by a minute or more."
                : "Light is reckoned for a flat horizon and clear air. Hills and clouds take it away, and "
                  "refraction moves a low sun by a minute or more.");
    lines.emplace_back("Local rules, signs, weather and tide tables win over this plan.");
    return lines;
}

} // namespace cli
