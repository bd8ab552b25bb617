#include "routing/shoot/progress.hpp"

#include "geo/geodesic.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/stop_points.hpp"

#include <algorithm>

namespace routing::shoot {

namespace {

/// A crew this near to a stop is at it (walks from the van included).
constexpr geo::Metres at_stop_within{500.0};

bool contains(const std::vector<std::string>& list, const std::string& id) {
    return std::find(list.begin(), list.end(), id) != list.end();
}

bool is_at(const Changes& changes, const PlanStop& stop) {
    return !changes.at || geo::distance(*changes.at, stop.at) <= at_stop_within ||
           geo::distance(*changes.at, stop.van_at) <= at_stop_within;
}

/// The first `share` of a line, by straight pieces; at least its first point.
std::vector<geo::Coordinate> first_part(const std::vector<geo::Coordinate>& line, double share) {
    geo::Metres whole{0.0};
    for (std::size_t n = 1; n < line.size(); ++n)
        whole += geo::distance(line[n - 1], line[n]);
    geo::Metres left = whole * std::clamp(share, 0.0, 1.0);
    std::vector<geo::Coordinate> part{line.front()};
    for (std::size_t n = 1; n < line.size(); ++n) {
        const geo::Metres piece = geo::distance(line[n - 1], line[n]);
        if (left <= piece) {
            part.push_back(geo::point_along(line[n - 1], line[n], left));
            break;
        }
        part.push_back(line[n]);
        left = left - piece;
    }
    return part;
}

/// The first day not over at `now`; the night after a day belongs to the next one.
std::uint32_t day_at(const Shoot& shoot, const Plan& plan, const Changes& changes) {
    for (std::uint32_t day = 0; day < plan.days.size(); ++day) {
        const geo::Interval span = working_span(shoot.days[day], shoot.zone);
        const Instant over = plan.days[day].stops.empty() ? span.from : plan.days[day].wrap + changes.late;
        if (changes.now < over)
            return day;
    }
    // After the last planned wrap, but still inside the last day's hours: there may be time for something dropped.
    const auto last = static_cast<std::uint32_t>(plan.days.size() - 1);
    if (changes.now <= working_span(shoot.days[last], shoot.zone).until)
        return last;
    throw geo::InputError(
        {{"--now", "", geo::iso_text(changes.now, shoot.zone), "is after the last day of the plan",
          "give a time before " + geo::iso_text(working_span(shoot.days[last], shoot.zone).until, shoot.zone)}});
}

/// Where a scene's stop is filmed; nothing for other stops.
const Location* location_of(const Shoot& shoot, const PlanStop& stop) {
    for (const Scene& scene : shoot.scenes)
        if (stop.kind == PlanStopKind::scene && scene.id == stop.id && stop.option < scene.options.size())
            return &shoot.locations[scene.options[stop.option].location];
    return nullptr;
}

void stand_at(Progress& progress, const PlanStop& stop) {
    progress.here = stop.at;
    progress.here_text = "at " + stop.name;
    progress.van = stop.van_at;
}

/// The crew stands set up at a scene's location: filming goes on from `ready`, leaving takes `pack`.
void stand_set_up(Progress& progress, const PlanStop& stop, Instant ready, Seconds pack) {
    stand_at(progress, stop);
    progress.set_up = true;
    progress.set_up_ready = ready;
    progress.pack = pack;
}

void mark_done(Progress& progress, const PlanStop& stop) {
    if (stop.kind == PlanStopKind::scene)
        progress.scenes_done.insert(stop.id);
    if (stop.kind == PlanStopKind::meal)
        progress.meals_done.insert(stop.what);
}

/// A stop that `now` falls into: goes on, `late` longer, unless the crew is elsewhere or breaks it off. False when the
/// crew is elsewhere.
bool take_in_progress(Progress& progress, const Shoot& shoot, const PlanStop& stop, const Changes& changes) {
    if (!is_at(changes, stop))
        return false;
    const Location* location = location_of(shoot, stop);
    const Seconds pack = location ? Seconds{location->pack} : Seconds{0};
    if (contains(changes.drop, stop.id)) {
        stand_set_up(progress, stop, progress.free_from, pack);
        progress.driven = stop.leg;
        return true;
    }
    progress.past.push_back(stop);
    PlanStop& running = progress.past.back();
    running.running = true;
    running.end = stop.end + changes.late;
    running.leave = running.end + pack;
    progress.in_progress = true;
    progress.free_from = running.end;
    stand_at(progress, stop);
    if (location)
        stand_set_up(progress, stop, running.end, pack);
    mark_done(progress, stop);
    return true;
}

/// The crew has left `before` and the leg's own walk to the van is over: as far along the leg as the plan has them.
void reckon_on_the_road(Progress& progress, const PlanStop& before, const PlanStop& ahead, Instant now) {
    const OnFoot& out = ahead.leg.walk_out;
    const Seconds walk = out.time;
    const Seconds driving = now - before.leave - walk;
    if (driving <= Seconds{0} || ahead.leg.line.size() < 2 || ahead.leg.van <= Seconds{0}) {
        // Still on foot to the van: the leg counts from where it began.
        stand_at(progress, before);
        progress.free_from -= now - before.leave;
        return;
    }
    const double share =
        std::min(1.0, static_cast<double>(driving.count()) / static_cast<double>(ahead.leg.van.count()));
    Leg driven;
    driven.line = first_part(ahead.leg.line, share);
    driven.walk_out = out;
    driven.van = std::min(driving, ahead.leg.van);
    driven.total = driven.van + driven.walk();
    driven.length = ahead.leg.length * share;
    progress.here = driven.line.back();
    progress.driven = driven;
    progress.here_text = "on the road to " + ahead.name + " (reckoned from the plan; give --at to be sure)";
}

/// After the past stops: packing at the last one, on the way to the next, or waiting and setting up there.
void reckon_between(Progress& progress, const Shoot& shoot, const PlanStop& before, const PlanStop& ahead,
                    const Changes& changes) {
    const Location* behind = location_of(shoot, before);
    const bool before_is_last = !progress.past.empty() && progress.past.back().id == before.id;
    if (behind && before_is_last && changes.now < before.leave && is_at(changes, before)) {
        // Finished early or just now: still to pack, as far as that has not been done.
        const Seconds left = changes.now < before.end ? Seconds{behind->pack} : before.leave - changes.now;
        stand_set_up(progress, before, progress.free_from, std::min(left, Seconds{behind->pack}));
        return;
    }
    const Location* there = location_of(shoot, ahead);
    const bool reached = ahead.arrive <= changes.now && (!changes.at || is_at(changes, ahead));
    if (reached) {
        progress.reached = ahead;
        progress.driven = ahead.leg;
        stand_at(progress, ahead);
        if (there)
            stand_set_up(progress, ahead, std::max(changes.now, ahead.arrive + there->setup) + changes.late,
                         Seconds{there->pack});
    } else if (changes.at) {
        progress.here = *changes.at;
        progress.here_text = "where the crew is";
    } else if (changes.now < before.leave) {
        stand_at(progress, before);
        progress.free_from = before.leave + changes.late;
    } else {
        reckon_on_the_road(progress, before, ahead, changes.now);
    }
}

} // namespace

Progress reckon_progress(const Shoot& shoot, const Plan& plan, const Changes& changes) {
    Progress progress;
    progress.day = day_at(shoot, plan, changes);
    progress.scenes_done.insert(changes.done.begin(), changes.done.end());
    for (std::uint32_t day = 0; day < progress.day; ++day)
        for (const PlanStop& stop : plan.days[day].stops)
            if (stop.kind == PlanStopKind::scene)
                progress.scenes_done.insert(stop.id);

    const PlanDay& day = plan.days[progress.day];
    const std::vector<PlanStop>& stops = day.stops;
    progress.free_from = changes.now + changes.late;
    if (stops.empty()) {
        progress.here = changes.at.value_or(shoot.base ? shoot.base->at : shoot.locations.front().at);
        progress.here_text = changes.at ? "where the crew is" : "at the unit base";
        return progress;
    }
    if (changes.now < day.call) {
        progress.here = changes.at.value_or(stops.front().at);
        progress.here_text = changes.at ? "where the crew is" : "at " + stops.front().name;
        return progress;
    }
    progress.called = true;
    progress.past.push_back(stops.front());
    progress.past.back().done = true;
    std::size_t next = 1;
    for (; next < stops.size() && stops[next].role != StopRole::wrap; ++next) {
        const PlanStop& stop = stops[next];
        if (stop.role == StopRole::stop && stop.start > changes.now)
            break;
        const bool told_done = stop.kind == PlanStopKind::scene && contains(changes.done, stop.id);
        if (stop.end > changes.now && !told_done) {
            if (take_in_progress(progress, shoot, stop, changes))
                return progress;
            break;
        }
        progress.past.push_back(stop);
        progress.past.back().done = true;
        progress.past.back().running = false;
        progress.past.back().end = std::min(stop.end, changes.now);
        mark_done(progress, stop);
    }
    reckon_between(progress, shoot, stops[next - 1], stops[std::min(next, stops.size() - 1)], changes);
    return progress;
}

} // namespace routing::shoot
