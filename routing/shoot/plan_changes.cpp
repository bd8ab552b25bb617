#include "routing/shoot/plan_changes.hpp"

#include <algorithm>
#include <map>

namespace routing::shoot {

namespace {

std::string in_minutes(Seconds span) {
    return std::to_string(std::chrono::ceil<minutes>(span).count()) + " min";
}

std::string title_of(const PlanStop& stop) {
    switch (stop.kind) {
    case PlanStopKind::scene:
        return "\"" + stop.what + "\" at " + stop.name;
    case PlanStopKind::meal:
        return stop.what + " at " + stop.name;
    case PlanStopKind::bed:
        return (stop.role == StopRole::wrap ? "night at " : "") + stop.name;
    case PlanStopKind::base:
    case PlanStopKind::rest:
        break;
    }
    return (stop.role == StopRole::wrap ? "wrap at " : "") + stop.name;
}

/// "filming starts 15:05", "lunch from 12:10", "arrive 19:40".
std::string then_what(const PlanStop& stop, const geo::TimeZone& zone) {
    switch (stop.kind) {
    case PlanStopKind::scene:
        return "\"" + stop.what + "\" starts " + geo::clock_text(std::chrono::ceil<minutes>(stop.start), zone);
    case PlanStopKind::meal:
        return stop.what + " from " + geo::clock_text(std::chrono::ceil<minutes>(stop.start), zone);
    case PlanStopKind::base:
    case PlanStopKind::bed:
    case PlanStopKind::rest:
        break;
    }
    return "arrive " + geo::clock_text(std::chrono::round<minutes>(stop.arrive), zone); // as the itinerary has it
}

/// One stop through both plans.
struct Key {
    PlanStopKind kind;
    std::string id;
    std::uint32_t day; ///< 0 for scenes: they may change days
    friend auto operator<=>(const Key&, const Key&) = default;
};

bool is_listed(const PlanStop& stop) {
    return stop.role == StopRole::stop || stop.role == StopRole::wrap;
}

Key key_of(const PlanStop& stop, std::uint32_t day) {
    if (stop.kind == PlanStopKind::scene)
        return {PlanStopKind::scene, stop.id, 0};
    if (stop.kind == PlanStopKind::meal)
        return {PlanStopKind::meal, stop.what, day};
    return {PlanStopKind::base, "wrap", day};
}

struct Found {
    const PlanStop* stop;
    std::uint32_t day;
};

std::map<Key, Found> index_stops(const Plan& plan) {
    std::map<Key, Found> found;
    for (std::uint32_t day = 0; day < plan.days.size(); ++day)
        for (const PlanStop& stop : plan.days[day].stops)
            if (is_listed(stop))
                found.emplace(key_of(stop, day), Found{&stop, day});
    return found;
}

/// To the minute, as the itinerary tells it.
Instant listed_time(const PlanStop& stop) {
    return stop.role == StopRole::wrap ? std::chrono::round<minutes>(stop.arrive)
                                       : std::chrono::ceil<minutes>(stop.start);
}

} // namespace

std::string what_now(const Shoot& shoot, const Plan& plan, const Progress& progress, Instant now) {
    const PlanDay& day = plan.days[progress.day];
    const auto clock = [&](Instant when) {
        const auto days = std::chrono::sys_days{geo::civil_date(when, shoot.zone)} - std::chrono::sys_days{day.date};
        return geo::clock_text(when, shoot.zone) + (days.count() > 0 ? " (+" + std::to_string(days.count()) + ")" : "");
    };
    // A deadline is never rounded up, a time things are ready never down.
    const auto by_clock = [&](Instant when) { return clock(std::chrono::floor<minutes>(when)); };
    const auto next = std::find_if(day.stops.begin(), day.stops.end(),
                                   [](const PlanStop& stop) { return !stop.is_begun() && is_listed(stop); });
    std::string line;
    if (progress.in_progress) {
        const PlanStop& running = progress.past.back();
        line = "Finish " + (running.kind == PlanStopKind::scene ? "\"" + running.what + "\"" : running.what) + " by " +
               clock(std::chrono::ceil<minutes>(running.end)) + ", then ";
    }
    const auto sentence = [&](const std::string& rest) {
        line += rest;
        if (line.front() >= 'a' && line.front() <= 'z')
            line.front() = static_cast<char>(line.front() - 'a' + 'A');
        return line;
    };
    const bool reached = progress.reached && next != day.stops.end() && next->id == progress.reached->id;
    if (next == day.stops.end() || (reached && next->role == StopRole::wrap))
        return sentence("nothing more is planned today.");
    if (next->role == StopRole::wrap && next->leg.total <= Seconds{0} && progress.called)
        return sentence("nothing more can be reached today; stay, or drive home as the roads allow.");
    if (!progress.called && next != day.stops.begin())
        line = "Call at " + by_clock(day.call) + "; ";
    if (next->leg.total <= Seconds{0} || reached || next == day.stops.begin())
        return sentence("stay at " + next->name + ": " + then_what(*next, shoot.zone) + ".");
    const PlanStop& from = *std::prev(next);
    const std::string leg =
        " for " + next->name + " (" + in_minutes(next->leg.total) +
        (next->leg.drive_out > Seconds{0} ? ", " + in_minutes(next->leg.drive_out) + " of it out of the shut road"
                                          : "") +
        "): ";
    if (from.leave_by < from.leave)
        return sentence("leave as soon as you can" + leg + then_what(*next, shoot.zone) + ", too late for the plan.");
    std::string leave = from.leave <= now ? "leave now" : "leave at " + by_clock(from.leave);
    if (from.leave_by - from.leave >= minutes{2})
        leave += ", by " + by_clock(from.leave_by) + " at the latest,";
    return sentence(leave + leg + then_what(*next, shoot.zone) + ".");
}

std::vector<ChangeRow> compare_plans(const Plan& old_plan, const Plan& new_plan) {
    const std::map<Key, Found> before = index_stops(old_plan);
    const std::map<Key, Found> after = index_stops(new_plan);
    std::vector<ChangeRow> rows;
    for (const auto& [key, now] : after) {
        if (now.stop->is_begun())
            continue;
        ChangeRow row{now.day, title_of(*now.stop), std::nullopt, listed_time(*now.stop), ""};
        if (const auto old = before.find(key); old == before.end()) {
            row.note = "new in the plan";
        } else {
            row.old_start = listed_time(*old->second.stop);
            if (old->second.day != now.day)
                row.note = "moved from " + geo::to_string(old_plan.days[old->second.day].date);
            else if (old->second.stop->name != now.stop->name)
                row.note = "was at " + old->second.stop->name;
        }
        rows.push_back(std::move(row));
    }
    std::sort(rows.begin(), rows.end(), [](const ChangeRow& a, const ChangeRow& b) {
        return a.new_start != b.new_start ? a.new_start < b.new_start : a.name < b.name;
    });
    std::vector<ChangeRow> gone;
    for (const auto& [key, old] : before) {
        if (old.stop->is_begun() || after.contains(key))
            continue;
        ChangeRow row{old.day, title_of(*old.stop), listed_time(*old.stop), std::nullopt, "no longer in the plan"};
        if (key.kind == PlanStopKind::scene) {
            if (std::find(new_plan.scenes_done.begin(), new_plan.scenes_done.end(), key.id) !=
                new_plan.scenes_done.end())
                row.note = "in the can";
            for (const Dropped& dropped : new_plan.dropped)
                if (dropped.scene == key.id)
                    row.note = "dropped: " + dropped.why;
        }
        gone.push_back(std::move(row));
    }
    std::sort(gone.begin(), gone.end(),
              [](const ChangeRow& a, const ChangeRow& b) { return a.old_start < b.old_start; });
    rows.insert(rows.end(), gone.begin(), gone.end());
    return rows;
}

} // namespace routing::shoot
