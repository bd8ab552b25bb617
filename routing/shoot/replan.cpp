#include "routing/shoot/replan.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/plan_builder.hpp"
#include "routing/shoot/plan_changes.hpp"
#include "routing/shoot/progress.hpp"
#include "routing/shoot/solve_shoot.hpp"

#include <algorithm>

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

/// Puts what is past of the running day before what was solved for the rest of it.
void join_running_day(PlanDay& day, const PlanDay& old_day, const Progress& progress) {
    if (!progress.past.empty()) {
        std::vector<PlanStop> stops = progress.past;
        auto rest = day.stops.begin();
        // The solver's start is where the crew is: the last past stop itself, or a spot on the road.
        if (rest != day.stops.end() && rest->what == "call") {
            PlanStop& last = stops.back();
            const bool still_there = last.at == progress.here || last.van_at == rest->van_at;
            const Instant leave_by = rest->leave_by;
            if (still_there) {
                ++rest;
            } else {
                rest->kind = PlanStopKind::rest;
                rest->id = "here";
                rest->name = progress.here_text;
                rest->what = "now";
                rest->arrive = rest->start = rest->end = progress.free_from;
            }
            // On a running day nothing is gained by setting off late: leave when free, wait at the next stop.
            PlanStop& from = still_there ? last : *rest;
            from.leave = progress.free_from;
            from.leave_by = leave_by;
            from.slack = leave_by - from.leave;
            if (const auto next = still_there ? rest : std::next(rest); next != day.stops.end())
                next->arrive = std::min(next->arrive, from.leave + next->leg.total);
        }
        // Waiting where the next stop is to be: no stop of its own, and the way there has been driven.
        if (progress.reached && rest != day.stops.end() && rest->what == "now" && std::next(rest) != day.stops.end() &&
            std::next(rest)->at == progress.reached->at) {
            ++rest;
            rest->arrive = progress.reached->arrive;
            rest->leg = progress.reached->leg;
        }
        stops.insert(stops.end(), rest, day.stops.end());
        day.stops = std::move(stops);
    }
    if (!progress.called && !old_day.stops.empty() && !day.stops.empty() && day.stops.front().what == "call") {
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

Replan replan(const Shoot& shoot, const Region& region, const Plan& old_plan, const Changes& changes,
              const PlanSettings& settings) {
    check_ids(shoot, changes);
    std::vector<roads::Closure> closures = old_plan.closures;
    closures.insert(closures.end(), changes.closures.begin(), changes.closures.end());
    const std::vector<std::string> given_up = merged(old_plan.dropped_by_crew, changes.drop);
    Changes all = changes;
    all.done = merged(old_plan.scenes_done, changes.done);

    const ClosedRoads shut = close_roads(shoot, closures, region);
    const Progress progress = reckon_progress(shoot, old_plan, all);
    const StopPoints points = gather_points(shoot, region, shut.edges, progress.here);

    Running running;
    running.first_day = progress.day;
    running.start = *points.start;
    running.free_from = progress.free_from;
    if (progress.called)
        running.called_at = old_plan.days[progress.day].call;
    else if (progress.day > 0 && !old_plan.days[progress.day - 1].stops.empty())
        running.free_from =
            std::max(running.free_from, old_plan.days[progress.day - 1].wrap + Seconds{shoot.crew.turnaround});
    running.set_up = progress.set_up;
    running.set_up_ready = progress.set_up_ready;
    running.meals_done = progress.meals_done;
    for (const Scene& scene : shoot.scenes)
        running.scenes_out.push_back(progress.scenes_done.contains(scene.id) ||
                                     std::binary_search(given_up.begin(), given_up.end(), scene.id));

    Replan result;
    result.plan = solve_shoot(shoot, region, points, shut, running, settings);
    result.plan.closures = closures;
    result.plan.dropped_by_crew = given_up;
    result.plan.scenes_done.assign(progress.scenes_done.begin(), progress.scenes_done.end());
    for (const Scene& scene : shoot.scenes)
        if (std::binary_search(given_up.begin(), given_up.end(), scene.id))
            result.plan.dropped.push_back({scene.id, scene.title, scene.must, "given up by the crew"});
    if (std::any_of(result.plan.dropped.begin(), result.plan.dropped.end(), [](const Dropped& d) { return d.must; }))
        result.plan.result = PlanResult::partial;

    join_running_day(result.plan.days.front(), old_plan.days[progress.day], progress);
    std::vector<PlanDay> past_days(old_plan.days.begin(), old_plan.days.begin() + progress.day);
    for (PlanDay& day : past_days)
        for (PlanStop& stop : day.stops)
            stop.done = true;
    result.plan.days.insert(result.plan.days.begin(), past_days.begin(), past_days.end());

    result.now_line = what_now(shoot, result.plan, progress, changes.now);
    result.rows = compare_plans(old_plan, result.plan);
    return result;
}

} // namespace routing::shoot
