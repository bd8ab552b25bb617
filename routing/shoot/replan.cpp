#include "routing/shoot/replan.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/plan_builder.hpp"
#include "routing/shoot/plan_changes.hpp"
#include "routing/shoot/progress.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/solve_shoot.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace routing::shoot {

namespace {

void check_ids(const Shoot& shoot, const Changes& changes) {
    std::vector<geo::InputFault> faults;
    const auto check = [&](const std::vector<std::string>& ids, const char* option) {
        for (const std::string& id : ids) {
            if (std::any_of(shoot.scenes.begin(), shoot.scenes.end(), [&](const Scene& s) { return s.id == id; }))
                continue;
            std::string known;
            for (const Scene& scene : shoot.scenes)
                known += (known.empty() ? "" : ", ") + scene.id;
            faults.push_back({option, "", id, "is no scene of " + shoot.file, "known scenes: " + known});
        }
    };
    check(changes.done, "--done");
    check(changes.drop, "--drop");
    for (const std::string& id : changes.drop)
        if (std::find(changes.done.begin(), changes.done.end(), id) != changes.done.end())
            faults.push_back({"--drop", "", id, "is also given as --done", "give one of the two"});
    if (changes.late < minutes{0})
        faults.push_back({"--late", "", std::to_string(changes.late.count()), "is negative", "give minutes from 0"});
    if (!faults.empty())
        throw geo::InputError(faults);
}

std::vector<std::string> merged(std::vector<std::string> a, const std::vector<std::string>& b) {
    a.insert(a.end(), b.begin(), b.end());
    std::sort(a.begin(), a.end());
    a.erase(std::unique(a.begin(), a.end()), a.end());
    return a;
}

void check_drops(const Progress& progress, const Changes& changes) {
    std::vector<geo::InputFault> faults;
    for (const std::string& id : changes.drop)
        if (progress.scenes_done.contains(id))
            faults.push_back({"--drop", "", id, "is in the can already", "drop scenes that are still to be shot"});
    if (!faults.empty())
        throw geo::InputError(faults);
}

/// Scenes that will not be shot because the crew gave them up, or one they come after, with the reason.
std::map<std::uint32_t, std::string> scenes_left_out(const Shoot& shoot, const std::vector<std::string>& given_up,
                                                     const std::set<std::string>& done) {
    std::map<std::uint32_t, std::string> out;
    for (std::uint32_t n = 0; n < shoot.scenes.size(); ++n)
        if (std::binary_search(given_up.begin(), given_up.end(), shoot.scenes[n].id) &&
            !done.contains(shoot.scenes[n].id))
            out[n] = "given up by the crew";
    for (bool grows = true; grows;) {
        grows = false;
        for (std::uint32_t n = 0; n < shoot.scenes.size(); ++n)
            for (const std::uint32_t before : shoot.scenes[n].after)
                if (out.contains(before) && !out.contains(n) && !done.contains(shoot.scenes[n].id)) {
                    out[n] = "it comes after \"" + shoot.scenes[before].title + "\", which is given up";
                    grows = true;
                }
    }
    return out;
}

/// Sun angles of a scene that took longer than planned, and whether it ran past its light.
void renew_light(PlanStop& stop, const Shoot& shoot, const ShootDay& day) {
    const auto scene =
        std::find_if(shoot.scenes.begin(), shoot.scenes.end(), [&](const Scene& s) { return s.id == stop.id; });
    if (!stop.light || scene == shoot.scenes.end() || stop.option >= scene->options.size())
        return;
    const StopLight now = light_of(shoot, scene->options[stop.option], day, stop.start, stop.end);
    stop.light->altitude_end = now.altitude_end;
    stop.light->azimuth_end = now.azimuth_end;
    if (stop.end > stop.light->window.until)
        stop.notes.push_back("filming runs past its light");
}

/// When a crew that is `ready` may set off for a leg planned for `planned`, and still have it as it is told.
Instant earliest_leave(const Leg& leg, Instant ready, Instant planned) {
    if (ready >= planned)
        return ready;
    for (const ShutRoad& road : leg.shut_roads) {
        if (road.shut.until <= planned)
            ready = std::max(ready, road.shut.until);
        else if (road.shut.from < planned + leg.total)
            return planned;
    }
    return ready;
}

/// What is left of a shoot, planned from one way to go on.
struct Attempt {
    StopPoints points;
    Plan plan;
};

/// Musts lost, worth (negative), the end of the first day: less is better.
std::tuple<std::size_t, std::int64_t, Instant> loss_of(const Plan& plan) {
    const auto musts =
        std::count_if(plan.dropped.begin(), plan.dropped.end(), [](const Dropped& dropped) { return dropped.must; });
    return {static_cast<std::size_t>(musts), -plan.worth, plan.days.front().wrap};
}

/// Puts what is past of the running day before what was solved for the rest of it.
void join_running_day(PlanDay& day, const PlanDay& old_day, const Progress& progress) {
    if (!progress.past.empty()) {
        std::vector<PlanStop> stops = progress.past;
        auto rest = day.stops.begin();
        // The solver's start is where the crew is: the last past stop itself, the next one, or a spot on the road.
        if (rest != day.stops.end() && rest->role == StopRole::call) {
            const auto next = std::next(rest);
            const bool has_next = next != day.stops.end();
            if (progress.reached && has_next && next->at == progress.reached->at && next->leg.total <= Seconds{0}) {
                next->arrive = progress.reached->arrive;
                next->leg = progress.reached->leg;
                rest = next;
            } else {
                PlanStop& last = stops.back();
                const bool still_there = !progress.driven && last.at == progress.here;
                rest->role = StopRole::now;
                rest->kind = PlanStopKind::rest;
                rest->id = "here";
                rest->name = progress.here_text;
                rest->what = "now";
                rest->arrive = rest->start = rest->end = progress.free_from;
                if (progress.driven)
                    rest->leg = *progress.driven;
                PlanStop& from = still_there ? last : *rest;
                // On a running day nothing is gained by setting off late: leave when packed, wait at the next stop.
                // Unless the way is one that a closure leaves open at its hour only.
                const bool moves = has_next && (next->leg.total > Seconds{0} || !(next->at == from.at));
                const Instant ready = progress.free_from + (moves ? progress.pack : Seconds{0});
                const Instant leave = has_next ? earliest_leave(next->leg, ready, rest->leave) : ready;
                if (last.role != StopRole::call || leave > last.leave || !still_there)
                    from.leave = leave;
                from.leave_by = rest->leave_by;
                from.slack = from.leave_by - from.leave;
                if (has_next) {
                    const Instant arrive = from.leave + next->leg.total;
                    next->arrive = std::min(next->arrive, arrive);
                }
                if (still_there)
                    ++rest;
            }
        }
        stops.insert(stops.end(), rest, day.stops.end());
        day.stops = std::move(stops);
    }
    if (!progress.called && !old_day.stops.empty() && !day.stops.empty() && day.stops.front().role == StopRole::call) {
        const PlanStop& night = old_day.stops.front(); // the same bed or base as planned, under its name
        day.stops.front().kind = night.kind;
        day.stops.front().id = night.id;
        day.stops.front().name = night.name;
        day.stops.front().at = night.at;
    }
    day.drive = day.walk = Seconds{0};
    day.distance = geo::Metres{0.0};
    add_totals(day);
    if (progress.called)
        day.call = old_day.call;
}

} // namespace

Replan replan(const Shoot& as_planned, const Region& region, const Plan& old_plan, const Changes& changes,
              const PlanSettings& settings) {
    Shoot shoot = as_planned;
    check_ids(shoot, changes);
    std::vector<roads::Closure> closures = old_plan.closures;
    closures.insert(closures.end(), changes.closures.begin(), changes.closures.end());
    const std::vector<std::string> given_up = merged(old_plan.dropped_by_crew, changes.drop);

    const ClosedRoads shut = close_roads(shoot, closures, region);
    Progress progress = reckon_progress(shoot, old_plan, changes);
    progress.scenes_done.insert(old_plan.scenes_done.begin(), old_plan.scenes_done.end());
    check_drops(progress, changes);
    shoot.told_sky = old_plan.told_sky; // holds until told anew
    if (changes.sky == "any")
        shoot.told_sky.reset();
    else if (!changes.sky.empty())
        shoot.told_sky = ToldSky{changes.sky, shoot.days[progress.day].date};
    const std::map<std::uint32_t, std::string> out = scenes_left_out(shoot, given_up, progress.scenes_done);

    Running running;
    running.first_day = progress.day;
    if (progress.called)
        running.called_at = old_plan.days[progress.day].call;
    running.set_up = progress.set_up;
    running.set_up_ready = progress.set_up_ready;
    running.pack = progress.pack;
    running.meals_done = progress.meals_done;
    for (std::uint32_t n = 0; n < shoot.scenes.size(); ++n)
        running.scenes_out.push_back(progress.scenes_done.contains(shoot.scenes[n].id) || out.contains(n));
    Instant rested = progress.free_from;
    if (!progress.called && progress.day > 0 && !old_plan.days[progress.day - 1].stops.empty())
        rested = old_plan.days[progress.day - 1].wrap + Seconds{shoot.crew.turnaround};
    const auto solve_from = [&](bool stays) {
        Attempt attempt{
            gather_points(shoot, region, shut, CrewStart{progress.here, progress.van, progress.free_from, stays}), {}};
        running.start = *attempt.points.start;
        running.free_from = std::max(progress.free_from, rested);
        attempt.plan = solve_shoot(shoot, region, attempt.points, shut, running, settings);
        return attempt;
    };
    Attempt best = solve_from(false);
    if (best.points.way_out && !shut.timed.empty()) {
        Attempt staying = solve_from(true);
        if (loss_of(staying.plan) <= loss_of(best.plan)) // where it costs nothing nobody drives on a shut road
            best = std::move(staying);
    }
    const StopPoints& points = best.points;

    Replan result;
    result.plan = std::move(best.plan);
    result.plan.closures = closures;
    result.plan.dropped_by_crew = given_up;
    result.plan.scenes_done.assign(progress.scenes_done.begin(), progress.scenes_done.end());
    // What the crew gave up by its own will is no failure to keep every must.
    for (const auto& [scene, why] : out)
        result.plan.dropped.push_back(
            {shoot.scenes[scene].id, shoot.scenes[scene].title, shoot.scenes[scene].must, why});

    if (progress.in_progress)
        renew_light(progress.past.back(), shoot, shoot.days[progress.day]);
    join_running_day(result.plan.days.front(), old_plan.days[progress.day], progress);
    const PlanDay& today = result.plan.days.front();
    const Instant latest_wrap = working_span(shoot.days[progress.day], shoot.zone).until;
    if (!today.stops.empty() && today.wrap > latest_wrap)
        result.plan.warnings.push_back("the latest wrap, " + geo::clock_text(latest_wrap, shoot.zone) +
                                       ", can't be kept today");
    if (points.way_out)
        result.plan.warnings.push_back(
            "the crew stands on a shut road: " +
            std::to_string(std::chrono::ceil<minutes>(whole_seconds(points.way_out->path.time)).count()) +
            " min are reckoned to drive out to the nearest open road; if that can't be "
            "done, stay and ask");
    if (const StopPoint& start = points.points[*points.start]; start.cut_off)
        result.plan.warnings.push_back("the crew stands where closures on foot cut it off: " +
                                       std::to_string(std::chrono::ceil<minutes>(start.walk_back).count()) +
                                       " min are reckoned to walk out to the van; if that can't be done, stay and ask");
    std::vector<PlanDay> past_days(old_plan.days.begin(), old_plan.days.begin() + progress.day);
    for (PlanDay& day : past_days)
        for (PlanStop& stop : day.stops) {
            stop.done = true;
            stop.running = false;
        }
    result.plan.days.insert(result.plan.days.begin(), past_days.begin(), past_days.end());

    result.now_line = what_now(shoot, result.plan, progress, changes.now);
    result.rows = compare_plans(old_plan, result.plan);
    return result;
}

} // namespace routing::shoot
