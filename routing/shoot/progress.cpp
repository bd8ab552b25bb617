#include "routing/shoot/progress.hpp"

#include "geo/geodesic.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/scene_light.hpp"

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

/// The spot a share of the way along a line, by straight pieces.
geo::Coordinate along(const std::vector<geo::Coordinate>& line, double share) {
    geo::Metres whole{0.0};
    for (std::size_t n = 1; n < line.size(); ++n)
        whole += geo::distance(line[n - 1], line[n]);
    geo::Metres left = whole * std::clamp(share, 0.0, 1.0);
    for (std::size_t n = 1; n < line.size(); ++n) {
        const geo::Metres piece = geo::distance(line[n - 1], line[n]);
        if (left <= piece && piece.value > 0.0) {
            const double part = left.value / piece.value;
            const geo::Degrees east = geo::longitude_difference(line[n - 1].longitude, line[n].longitude);
            return {line[n - 1].latitude + (line[n].latitude - line[n - 1].latitude) * part,
                    line[n - 1].longitude + east * part};
        }
        left = left - piece;
    }
    return line.back();
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

Seconds setup_at(const Shoot& shoot, const PlanStop& stop) {
    for (const Scene& scene : shoot.scenes)
        if (scene.id == stop.id && stop.option < scene.options.size())
            return shoot.locations[scene.options[stop.option].location].setup;
    return Seconds{0};
}

void mark_done(Progress& progress, const PlanStop& stop) {
    if (stop.kind == PlanStopKind::scene)
        progress.scenes_done.insert(stop.id);
    if (stop.kind == PlanStopKind::meal)
        progress.meals_done.insert(stop.what);
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
    const bool has_start = stops.front().kind != PlanStopKind::scene && stops.front().kind != PlanStopKind::meal;
    if (changes.now < day.call || (!has_start && changes.now < stops.front().arrive)) {
        progress.here = changes.at.value_or(stops.front().at);
        progress.here_text = changes.at ? "where the crew is" : "at " + stops.front().name;
        return progress;
    }
    progress.called = true;
    std::size_t next = 0;
    if (has_start) {
        progress.past.push_back(stops[0]);
        progress.past.back().done = true;
        next = 1;
    }
    for (; next < stops.size(); ++next) {
        const PlanStop& stop = stops[next];
        if (next + 1 == stops.size() && stop.what == "wrap")
            break;
        const bool told_done = stop.kind == PlanStopKind::scene && contains(changes.done, stop.id);
        const bool broken_off = contains(changes.drop, stop.id);
        if (stop.end <= changes.now || (told_done && stop.start <= changes.now)) {
            progress.past.push_back(stop);
            progress.past.back().done = true;
            progress.past.back().end = std::min(stop.end, changes.now);
            mark_done(progress, stop);
            continue;
        }
        if (stop.start <= changes.now && is_at(changes, stop) && !broken_off) {
            progress.past.push_back(stop);
            PlanStop& running = progress.past.back();
            const Seconds packing = stop.leave > stop.end ? stop.leave - stop.end : Seconds{0};
            running.done = true;
            running.end = stop.end + changes.late;
            running.leave = running.end + packing;
            progress.in_progress = true;
            progress.here =
                changes.at && geo::distance(*changes.at, stop.van_at) > at_stop_within ? *changes.at : stop.at;
            progress.here_text = "at " + stop.name;
            progress.free_from = running.leave;
            mark_done(progress, stop);
            return progress;
        }
        break;
    }
    // Between stops, or waiting and setting up at the next one.
    const PlanStop& before = next > 0 ? stops[next - 1] : stops[0];
    const PlanStop& ahead = stops[std::min(next, stops.size() - 1)];
    if (changes.at) {
        progress.here = *changes.at;
        progress.here_text = "where the crew is";
        progress.set_up = ahead.kind == PlanStopKind::scene && ahead.arrive <= changes.now &&
                          geo::distance(*changes.at, ahead.at) <= at_stop_within;
        if (progress.set_up) {
            progress.here = ahead.at;
            progress.reached = ahead;
        }
    } else if (ahead.arrive <= changes.now) {
        progress.here = ahead.at;
        progress.here_text = "at " + ahead.name;
        progress.reached = ahead;
        progress.set_up = ahead.kind == PlanStopKind::scene;
    } else if (changes.now < before.leave || ahead.leg.line.size() < 2 || ahead.leg.total <= Seconds{0}) {
        progress.here = before.at;
        progress.here_text = "at " + before.name;
        progress.free_from = std::max(changes.now, before.leave) + changes.late;
    } else {
        const double share =
            static_cast<double>((changes.now - before.leave).count()) / static_cast<double>(ahead.leg.total.count());
        progress.here = along(ahead.leg.line, share);
        progress.here_text = "on the road to " + ahead.name + " (reckoned from the plan; give --at to be sure)";
    }
    if (progress.set_up)
        progress.set_up_ready = std::max(changes.now, ahead.arrive + setup_at(shoot, ahead)) + changes.late;
    return progress;
}

} // namespace routing::shoot
