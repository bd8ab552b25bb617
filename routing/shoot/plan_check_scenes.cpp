#include "routing/shoot/plan_check_scenes.hpp"

#include "geo/geodesic.hpp"
#include "geo/sky/sun.hpp"
#include "routing/hours/hours.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/site_hours.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace routing::shoot {

namespace {

constexpr Seconds rounding{1};
constexpr geo::Metres same_place{1.0};
/// Two reckonings of one window may part by this much.
constexpr Seconds window_rounding{2};
/// Angles are told to 0.01 degrees, instants to the second: 0.005 each of rounding and of the sun's way.
constexpr double angle_rounding = 0.02;

bool same_spot(geo::Coordinate a, geo::Coordinate b) {
    return geo::distance(a, b) < same_place;
}

/// All spans of the option's light that touch the days from the one before `day` to the one after.
geo::Intervals light_around(const Shoot& shoot, const SceneOption& option, geo::CivilDate day) {
    const geo::Coordinate at = shoot.locations[option.location].at;
    geo::Intervals light;
    for (const int days : {-1, 0, 1}) {
        const geo::CivilDate date{std::chrono::sys_days{day} + std::chrono::days{days}};
        const auto windows = geo::light_windows(option.light, at, geo::Metres{0.0}, date, shoot.zone,
                                                surroundings_of(shoot, option, day));
        light.insert(light.end(), windows.intervals.begin(), windows.intervals.end());
    }
    return geo::join(std::move(light));
}

/// The span of the list that holds most of `wanted`, for a message.
const geo::Interval* nearest_span(const geo::Intervals& list, geo::Interval wanted) {
    const geo::Interval* best = nullptr;
    Seconds most = Seconds::min();
    for (const geo::Interval& span : list) // below zero: how far it lies off
        if (const Seconds common = std::min(span.until, wanted.until) - std::max(span.from, wanted.from);
            common > most) {
            most = common;
            best = &span;
        }
    return best;
}

class SceneCheck {
public:
    SceneCheck(const Plan& plan, const Shoot& shoot, PlanFaults& faults)
        : plan_(plan), shoot_(shoot), faults_(faults) {}

    void check() {
        for (std::size_t day = 0; day < plan_.days.size(); ++day)
            for (std::size_t n = 0; n < plan_.days[day].stops.size(); ++n)
                if (plan_.days[day].stops[n].kind == PlanStopKind::scene)
                    check_stop(day, n);
        check_presence();
        check_result();
    }

private:
    const Scene* scene_of(const std::string& id) const {
        for (const Scene& scene : shoot_.scenes)
            if (scene.id == id)
                return &scene;
        return nullptr;
    }

    void check_stop(std::size_t day, std::size_t n) {
        const PlanStop& stop = plan_.days[day].stops[n];
        const Scene* scene = scene_of(stop.id);
        if (scene == nullptr)
            return faults_.at_stop(day, n, "id", stop.id, "is no scene of the shoot", "the id of a scene");
        if (stop.option >= scene->options.size())
            return faults_.at_stop(day, n, "option", std::to_string(stop.option), "is no option of the scene",
                                   "less than " + std::to_string(scene->options.size()));
        if (const auto [first, added] = shot_.try_emplace(stop.id, shot_.size()); !added)
            faults_.at_stop(day, n, "id", stop.id, "is shot a second time", "left out here or there");
        if (stop.must != scene->must)
            faults_.at_stop(day, n, "must", stop.must ? "true" : "false", "is not what the shoot says",
                            scene->must ? "true" : "false");
        for (const std::uint32_t before : scene->after)
            if (const std::string& id = shoot_.scenes[before].id; !shot_.contains(id) && !is_done(id))
                faults_.at_stop(day, n, "id", stop.id, "is shot before scene " + id + ", which comes first",
                                "behind " + id);
        if (stop.is_begun())
            return; // as it really went
        const SceneOption& option = scene->options[stop.option];
        const Location& location = shoot_.locations[option.location];
        if (!same_spot(stop.at, location.at))
            faults_.at_stop(day, n, "at", "", "is not where location " + location.id + " is", "the location's own at");
        if (stop.end - stop.start != Seconds{option.length})
            faults_.at_stop(day, n, "end", faults_.text(stop.end),
                            "does not leave the " + std::to_string(option.length.count()) + " min of filming",
                            faults_.text(stop.start + option.length));
        check_limits(day, n, *scene);
        check_site(day, n, location);
        check_light(day, n, option);
    }

    bool is_done(const std::string& id) const {
        return std::find(plan_.scenes_done.begin(), plan_.scenes_done.end(), id) != plan_.scenes_done.end();
    }

    void check_limits(std::size_t day, std::size_t n, const Scene& scene) {
        const PlanStop& stop = plan_.days[day].stops[n];
        if (scene.not_before && stop.start < *scene.not_before)
            faults_.at_stop(day, n, "start", faults_.text(stop.start), "is before the scene's not_before",
                            faults_.text(*scene.not_before) + " or later");
        if (scene.not_after && stop.end > *scene.not_after)
            faults_.at_stop(day, n, "end", faults_.text(stop.end), "is after the scene's not_after",
                            faults_.text(*scene.not_after) + " or earlier");
    }

    /// Set-up and packing, which fall away between scenes shot in a row at one spot, and opening hours.
    void check_site(std::size_t day, std::size_t n, const Location& location) {
        const auto& stops = plan_.days[day].stops;
        const PlanStop& stop = stops[n];
        const auto is_neighbour = [&](std::size_t other) {
            return other < stops.size() && stops[other].kind == PlanStopKind::scene &&
                   same_spot(stops[other].at, stop.at) && same_spot(stops[other].van_at, stop.van_at);
        };
        const bool set_up = n > 0 && is_neighbour(n - 1);
        const bool stays = is_neighbour(n + 1);
        // A crew found at the spot by a re-plan may stand set up already.
        const bool was_there =
            n > 0 && (stops[n - 1].is_begun() || stops[n - 1].role == StopRole::now) && stop.leg.total == Seconds{0};
        const Seconds setup = set_up || was_there ? Seconds{0} : Seconds{location.setup};
        const Seconds pack = stays ? Seconds{0} : Seconds{location.pack};
        if (setup > Seconds{0} && stop.start - stop.arrive < setup)
            faults_.at_stop(day, n, "start", faults_.text(stop.start),
                            "leaves less than the " + std::to_string(location.setup.count()) + " min of set-up",
                            faults_.text(stop.arrive + setup) + " or later");
        if (pack > Seconds{0} && stop.leave - stop.end < pack)
            faults_.at_stop(day, n, "leave", faults_.text(stop.leave),
                            "leaves less than the " + std::to_string(location.pack.count()) + " min of packing",
                            faults_.text(stop.end + pack) + " or later");
        if (location.open.empty())
            return;
        const geo::Interval there{stop.start - setup, stop.end + pack};
        geo::Intervals open;
        for (const hours::Stretch& stretch :
             hours::read_hours(location.open)
                 .intervals({there.from - std::chrono::hours{24}, there.until + std::chrono::hours{24}},
                            site_at(location.at, shoot_)))
            if (stretch.state == hours::State::open)
                open.push_back(stretch.time);
        open = geo::join(std::move(open));
        check_inside(day, n, there, open, Seconds{0},
                     "with set-up and packing, lies outside the location's hours (" + location.open + ")");
    }

    void check_light(std::size_t day, std::size_t n, const SceneOption& option) {
        const PlanStop& stop = plan_.days[day].stops[n];
        const geo::Intervals light = light_around(shoot_, option, geo::civil_date(stop.start, shoot_.zone));
        check_inside(day, n, {stop.start, stop.end}, light, window_rounding,
                     "is outside its light (" + light_text(option.light) + ")");
        if (!stop.light)
            return faults_.at_stop(day, n, "light", "", "is missing", "the light the scene is shot in");
        const geo::Interval told = stop.light->window;
        if (told.from > stop.start || told.until < stop.end)
            faults_.at_stop(day, n, "light", faults_.text(told.from) + " to " + faults_.text(told.until),
                            "does not hold the filming",
                            faults_.text(stop.start) + " or earlier to " + faults_.text(stop.end) + " or later");
        else if (const geo::Interval* span = nearest_span(light, told); span == nullptr ||
                                                                        told.from < span->from - window_rounding ||
                                                                        told.until > span->until + window_rounding)
            faults_.at_stop(day, n, "light", faults_.text(told.from) + " to " + faults_.text(told.until),
                            "is longer than that light lasts",
                            span == nullptr
                                ? "another time: there is none"
                                : "within " + faults_.text(span->from) + " and " + faults_.text(span->until));
        check_sun(day, n, "light/sun_altitude/0", stop.start, stop.light->altitude_start, true);
        check_sun(day, n, "light/sun_altitude/1", stop.end, stop.light->altitude_end, true);
        check_sun(day, n, "light/sun_azimuth/0", stop.start, stop.light->azimuth_start, false);
        check_sun(day, n, "light/sun_azimuth/1", stop.end, stop.light->azimuth_end, false);
    }

    void check_sun(std::size_t day, std::size_t n, const char* member, Instant when, geo::Degrees told, bool altitude) {
        const PlanStop& stop = plan_.days[day].stops[n];
        const geo::sky::SkyPosition sun = geo::sky::sun_position(stop.at, geo::Metres{0.0}, when);
        const geo::Degrees should = altitude ? sun.altitude : sun.azimuth;
        const double turn = std::remainder(told.value - should.value, 360.0);
        // Near the zenith a centimetre turns the azimuth a lot.
        const double allowed =
            altitude ? angle_rounding : angle_rounding / std::max(0.01, std::cos(sun.altitude.value * 0.0174533));
        if (std::abs(turn) > allowed)
            faults_.at_stop(day, n, member, PlanFaults::text(told), "is not where the sun stands then",
                            PlanFaults::text(should));
    }

    void check_inside(std::size_t day, std::size_t n, geo::Interval wanted, const geo::Intervals& list, Seconds slack,
                      const std::string& problem) {
        const PlanStop& stop = plan_.days[day].stops[n];
        const geo::Interval* span = nearest_span(list, wanted);
        if (span == nullptr)
            return faults_.at_stop(day, n, "start", faults_.text(stop.start), problem, "another day");
        const Instant from = span->from + (stop.start - wanted.from);
        const Instant until = span->until - (wanted.until - stop.end);
        if (wanted.until < span->from || wanted.from > span->until)
            return faults_.at_stop(day, n, "start", faults_.text(stop.start), problem,
                                   "from " + faults_.text(from) + ", ending by " + faults_.text(until));
        if (wanted.from < span->from - slack)
            faults_.at_stop(day, n, "start", faults_.text(stop.start), problem, faults_.text(from) + " or later");
        if (wanted.until > span->until + slack)
            faults_.at_stop(day, n, "end", faults_.text(stop.end), problem, faults_.text(until) + " or earlier");
    }

    void check_presence() {
        std::map<std::string, std::size_t> dropped;
        for (std::size_t n = 0; n < plan_.dropped.size(); ++n) {
            const Dropped& told = plan_.dropped[n];
            const std::string field = "/dropped/" + std::to_string(n);
            if (scene_of(told.scene) == nullptr)
                faults_.in_plan(field + "/scene", told.scene, "is no scene of the shoot", "the id of a scene");
            if (told.why.empty())
                faults_.in_plan(field + "/why", "", "gives no reason for leaving out " + told.scene, "the reason");
            if (shot_.contains(told.scene))
                faults_.in_plan(field + "/scene", told.scene, "is among the stops too", "in one of the two");
            if (!dropped.emplace(told.scene, n).second)
                faults_.in_plan(field + "/scene", told.scene, "stands here a second time", "once");
            if (const Scene* scene = scene_of(told.scene); scene != nullptr && scene->must != told.must)
                faults_.in_plan(field + "/must", told.must ? "true" : "false", "is not what the shoot says",
                                scene->must ? "true" : "false");
        }
        for (const Scene& scene : shoot_.scenes)
            if (!shot_.contains(scene.id) && !is_done(scene.id) && !dropped.contains(scene.id))
                faults_.in_plan("/days", scene.id,
                                std::string("is a ") + (scene.must ? "must" : "wish") +
                                    " scene neither among the stops nor left out with a reason",
                                "among the stops, or under /dropped with the reason");
    }

    /// Given up by the crew, or after one that is.
    std::set<std::string> given_up() const {
        std::set<std::string> out(plan_.dropped_by_crew.begin(), plan_.dropped_by_crew.end());
        for (bool grows = true; grows;) {
            grows = false;
            for (const Scene& scene : shoot_.scenes)
                for (const std::uint32_t before : scene.after)
                    if (out.contains(shoot_.scenes[before].id) && out.insert(scene.id).second)
                        grows = true;
        }
        return out;
    }

    void check_result() {
        const std::set<std::string> out = given_up();
        const bool lost = std::any_of(shoot_.scenes.begin(), shoot_.scenes.end(), [&](const Scene& scene) {
            return scene.must && !shot_.contains(scene.id) && !is_done(scene.id) && !out.contains(scene.id);
        });
        if (lost != (plan_.result == PlanResult::partial))
            faults_.in_plan("/result", "",
                            lost ? "is not \"partial\", and a must scene is left out"
                                 : "is \"partial\", and no must scene is left out",
                            lost ? "partial" : "optimal or feasible");
        const bool whole = plan_.scenes_done.empty() && plan_.dropped_by_crew.empty(); // worth is of what is solved
        std::int64_t worth = 0;
        for (const Scene& scene : shoot_.scenes)
            if (!scene.must && shot_.contains(scene.id))
                worth += scene.worth;
        const bool begun = std::any_of(plan_.days.begin(), plan_.days.end(), [](const PlanDay& day) {
            return std::any_of(day.stops.begin(), day.stops.end(),
                               [](const PlanStop& stop) { return stop.is_begun() || stop.role == StopRole::now; });
        });
        if (whole && !begun && worth != plan_.worth)
            faults_.in_plan("/proof/worth", std::to_string(plan_.worth),
                            "is not what the wishes among the stops are worth", std::to_string(worth));
    }

    const Plan& plan_;
    const Shoot& shoot_;
    PlanFaults& faults_;
    std::map<std::string, std::size_t> shot_; ///< by id, in the order of the plan
};

} // namespace

void check_scenes(const Plan& plan, const Shoot& shoot, PlanFaults& faults) {
    SceneCheck(plan, shoot, faults).check();
}

} // namespace routing::shoot
