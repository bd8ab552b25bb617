#include "cli/check_report.hpp"

#include "cli/clock_words.hpp"
#include "cli/fault_list.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/site_hours.hpp"

namespace cli {

using routing::shoot::Region;
using routing::shoot::SceneOption;
using routing::shoot::Shoot;
using routing::shoot::ShootDay;
using routing::shoot::StopPoint;
using routing::shoot::StopPoints;

namespace {

std::string locations_table(const Shoot& shoot, const StopPoints& points) {
    MarkdownTable table(
        {{"Location"}, {"Name"}, {"Van"}, {"Van at"}, {"Walk", Align::right}, {"On foot", Align::right}});
    for (std::size_t n = 0; n < shoot.locations.size(); ++n) {
        for (const auto number : points.locations[n]) {
            const StopPoint& point = points.points[number];
            const bool walks = point.walk.time.count() > 0;
            table.add_row({escape_markdown(shoot.locations[n].id), escape_markdown(shoot.locations[n].name),
                           point.car_park.empty() ? "beside the road" : escape_markdown(point.car_park),
                           degrees_text(point.road.at), length_text(point.walk.length),
                           !walks            ? "none"
                           : point.estimated ? "about " + span_text(point.walk.time) + ", no path known"
                                             : span_text(point.walk.time)});
        }
    }
    return table.text();
}

std::string windows_table(const Shoot& shoot) {
    MarkdownTable table({{"Scene"}, {"At"}, {"Light"}, {"min", Align::right}, {"Day"}, {"Windows in working hours"}});
    for (const auto& scene : shoot.scenes) {
        for (const SceneOption& option : scene.options) {
            for (const ShootDay& day : shoot.days)
                table.add_row({escape_markdown(scene.id), escape_markdown(shoot.locations[option.location].id),
                               escape_markdown(routing::shoot::light_text(option.light)),
                               std::to_string(option.length.count()), geo::to_string(day.date),
                               option_windows_text(shoot, option, day)});
        }
    }
    return table.text();
}

} // namespace

MapCheck check_map(const Shoot& shoot, const Region& region) {
    FaultList faults;
    StopPoints points;
    routing::shoot::ClosedRoads shut;
    faults.collect([&] { shut = routing::shoot::close_roads(shoot, {}, region); });
    faults.collect([&] { points = routing::shoot::gather_points(shoot, region, shut, std::nullopt); });
    faults.throw_if_any();
    return {std::move(points), std::move(shut.descriptions)};
}

namespace {

/// Whether the location is open for the whole of the scene at some time in the window.
bool is_open_for(const Shoot& shoot, const SceneOption& option, const geo::Interval& window) {
    const auto& location = shoot.locations[option.location];
    const geo::Intervals open =
        routing::shoot::open_hours(shoot, location, {window.from - location.setup, window.until + location.pack});
    return std::any_of(open.begin(), open.end(), [&](const geo::Interval& hours) {
        return hours.length() >= location.setup + option.length + location.pack;
    });
}

} // namespace

std::string option_windows_text(const Shoot& shoot, const SceneOption& option, const ShootDay& day) {
    const geo::Intervals windows = routing::shoot::light_in_day(shoot, option, day);
    if (windows.empty()) {
        const auto place = shoot.locations[option.location].at;
        const auto all = geo::light_windows(option.light, place, geo::Metres{0.0}, day.date, shoot.zone,
                                            routing::shoot::surroundings_of(shoot, option, day.date));
        return all.presence == geo::Presence::never ? "never" : "never within working hours";
    }
    std::string text;
    for (const geo::Interval& window : windows)
        text += (text.empty() ? "" : ", ") + window_text(window, day.date, shoot.zone) +
                (window.length() < option.length       ? " (too short)"
                 : !is_open_for(shoot, option, window) ? " (closed then)"
                                                       : "");
    return text;
}

std::string check_report(const Shoot& shoot, const MapCheck& map) {
    std::string text =
        "# " + escape_markdown(shoot.title) + "\n\nNo faults. " + count_text(shoot.locations.size(), "location") +
        ", " + count_text(shoot.scenes.size(), "scene") + ", " + count_text(shoot.days.size(), "day") + ".\n\n" +
        locations_table(shoot, map.points) + "\n" + windows_table(shoot) + "\nTimes of " +
        escape_markdown(shoot.zone_name) + "; " + (shoot.warnings.empty() ? "no warnings.\n" : "warnings:\n\n");
    for (const std::string& warning : shoot.warnings)
        text += "- " + escape_markdown(warning) + "\n";
    if (!map.closures.empty())
        text += "\nClosures:\n\n";
    for (const std::string& closure : map.closures)
        text += "- " + escape_markdown(closure) + "\n";
    return text;
}

} // namespace cli
