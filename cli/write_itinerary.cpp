#include "cli/write_itinerary.hpp"

#include "cli/cautions.hpp"
#include "cli/clock_words.hpp"
#include "cli/emergency_words.hpp"
#include "cli/leg_words.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_words.hpp"

#include <algorithm>
#include <set>

namespace cli {

using routing::shoot::Leg;
using routing::shoot::Plan;
using routing::shoot::PlanDay;
using routing::shoot::PlanResult;
using routing::shoot::PlanStop;
using routing::shoot::PlanStopKind;
using routing::shoot::Shoot;
using routing::shoot::StopRole;

namespace {

std::string scene_count(const Plan& plan, const Shoot& shoot) {
    std::set<std::string> in(plan.scenes_done.begin(), plan.scenes_done.end());
    for (const PlanDay& day : plan.days) {
        for (const PlanStop& stop : day.stops) {
            if (stop.kind == PlanStopKind::scene)
                in.insert(stop.id);
        }
    }
    return std::to_string(in.size()) + " of " + count_text(shoot.scenes.size(), "scene");
}

std::string totals_text(const Plan& plan) {
    geo::Seconds drive{0};
    geo::Metres distance{0.0};
    for (const PlanDay& day : plan.days) {
        drive += day.drive;
        distance += day.distance;
    }
    return "driving " + span_text(drive) + ", " + length_text(distance);
}

std::string result_text(const Plan& plan) {
    const std::string unproven = "the best order found, not proven best" +
                                 (plan.bound_text.empty() ? "" : " (" + one_line(plan.bound_text) + ")");
    if (plan.result == PlanResult::partial) {
        std::size_t lost = 0;
        for (const auto& dropped : plan.dropped)
            lost += dropped.must ? 1 : 0;
        return "Not every must can be kept: " + count_text(lost, "must scene") +
               " left out, reasons below. The rest is " +
               (plan.proven ? "proven: no order keeps more." : unproven + ".");
    }
    const bool gave_up = std::any_of(plan.dropped.begin(), plan.dropped.end(), [](const auto& d) { return d.must; });
    return std::string(gave_up ? "Every must scene the crew has not given up is in. " : "Every must scene is in. ") +
           (plan.proven ? std::string("Proven: no order does better.") : "This is " + unproven + ".");
}

std::string what_text(const PlanStop& stop) {
    std::string text = escape_markdown(stop.what);
    if (stop.kind == PlanStopKind::bed)
        text += text.empty() ? "bed" : ", bed";
    if (stop.kind == PlanStopKind::scene && !stop.must)
        text += " (wish)";
    return stop.done ? text + " (done)" : stop.running ? text + " (at it now)" : text;
}

std::string light_cell(const PlanStop& stop) {
    if (!stop.light)
        return "";
    const std::string from = angle_text(stop.light->altitude_start);
    const std::string until = angle_text(stop.light->altitude_end);
    return escape_markdown(stop.light->name) + ", sun " + (from == until ? from : from + " → " + until);
}

/// When filming, a meal or a rest begins, never before the crew is ready and never before the light.
std::string start_text(const PlanDay& day, const PlanStop& stop, const geo::TimeZone& zone) {
    return time_text(stop.start, day.date, zone, RoundTo::later);
}

/// The end moves later with the start, so that the length stays whole, unless there is no slack for that.
std::string end_text(const PlanDay& day, const PlanStop& stop, const geo::TimeZone& zone) {
    const geo::Seconds later = std::chrono::ceil<std::chrono::minutes>(stop.end) - stop.end;
    return time_text(stop.end, day.date, zone, later <= stop.slack ? RoundTo::later : RoundTo::earlier);
}

void add_stop_row(MarkdownTable& table, const PlanDay& day, const PlanStop& stop, const geo::TimeZone& zone) {
    const auto time = [&](geo::Instant when, RoundTo round = RoundTo::nearest) {
        return time_text(when, day.date, zone, round);
    };
    const std::string slack = spare_text(stop.slack);
    const std::string place = escape_markdown(stop.name);
    // Where a day starts, or a re-plan found the crew, the time that matters is when it leaves.
    if (stop.role == StopRole::call || stop.role == StopRole::now) {
        table.add_row({time(stop.leave, RoundTo::earlier), "", place, what_text(stop), "", "",
                       time(stop.leave_by, RoundTo::earlier), slack});
    } else if (stop.role == StopRole::wrap) {
        table.add_row({time(stop.arrive), "", place, what_text(stop), "", "", "", slack});
    } else {
        const auto minutes = std::chrono::round<std::chrono::minutes>(stop.end - stop.start).count();
        table.add_row({time(stop.arrive), start_text(day, stop, zone) + "–" + end_text(day, stop, zone), place,
                       what_text(stop), light_cell(stop), std::to_string(minutes),
                       time(stop.leave_by, RoundTo::earlier), slack});
    }
}

std::string day_table(const PlanDay& day, const geo::TimeZone& zone) {
    MarkdownTable table({{"Time"},
                         {"Start–End"},
                         {"Place"},
                         {"What"},
                         {"Light"},
                         {"min", Align::right},
                         {"Leave by"},
                         {"Slack", Align::right}});
    for (const PlanStop& stop : day.stops)
        add_stop_row(table, day, stop, zone);
    return table.text();
}

std::string walk_text(const routing::shoot::OnFoot& walk) {
    std::string climb;
    constexpr double worth_telling = 5.0; // metres
    if (walk.climb && (walk.climb->up + walk.climb->down).value >= worth_telling)
        climb = ", " + fixed_text(walk.climb->up.value, 0) + " m up, " + fixed_text(walk.climb->down.value, 0) +
                " m down, steepest " + fixed_text(100.0 * walk.climb->steepest, 0) + "%";
    std::string paths; // what the feet should know
    for (const RoadNoteWord& word : road_note_words)
        if ((walk.notes & (routing::roads::note_steps | routing::roads::note_not_in_darkness) & word.note) != 0)
            paths += "; " + std::string(word.say);
    return (walk.line.empty() ? "about " : "") + span_text(walk.time) + " (" + length_text(walk.length) + climb +
           paths + ")";
}

std::string leg_line(const PlanDay& day, const PlanStop& from, const PlanStop& to, const geo::TimeZone& zone) {
    const Leg& leg = to.leg;
    const std::string back_to_van =
        leg.walk_out.time.count() > 0 ? walk_text(leg.walk_out) + " on foot back to the van, then " : "";
    std::string line = time_text(from.leave, day.date, zone, RoundTo::earlier) + " → " +
                       time_text(from.leave + leg.total, day.date, zone) + " " + escape_markdown(from.name) + " → " +
                       escape_markdown(to.name) + ": " + back_to_van + length_text(leg.length) + ", " +
                       span_text(leg.van) + " by van";
    const std::string directions = directions_text(leg);
    if (const std::string roads = directions.empty() ? roads_text(leg) : directions; !roads.empty())
        line += ": " +
                (leg.drive_out.count() > 0 ? "first " + span_text(leg.drive_out) + " out of the shut road, "
                                           : std::string()) +
                roads;
    if (leg.walk_in.time.count() > 0)
        line += "; then leave the van " +
                (to.parking.empty() ? std::string("beside the road") : "at " + escape_markdown(to.parking)) + " at " +
                degrees_text(to.van_at) + " and walk in " + walk_text(leg.walk_in);
    if (const std::string closings = closing_text(leg, from.leave, day.date, zone); !closings.empty())
        line += ". **Closure**: " + closings;
    if (const std::string mind = mind_text(leg); !mind.empty())
        line += ". Mind: " + mind;
    return line + ".";
}

std::string day_ways(const PlanDay& day, const geo::TimeZone& zone) {
    std::string text;
    std::size_t number = 0;
    for (std::size_t n = 1; n < day.stops.size(); ++n) {
        const PlanStop& stop = day.stops[n];
        if (std::chrono::round<std::chrono::minutes>(stop.leg.total).count() > 0 || stop.leg.length.value >= 10.0)
            text += std::to_string(++number) + ". " + leg_line(day, day.stops[n - 1], stop, zone) + "\n";
    }
    return text;
}

/// Gaps worth knowing about: an hour or more between arriving and starting, set-up included.
std::string time_in_hand(const PlanDay& day, const geo::TimeZone& zone) {
    std::string text;
    for (const PlanStop& stop : day.stops) {
        const geo::Seconds gap = stop.start - stop.arrive;
        if (gap >= std::chrono::hours{1})
            text += (text.empty() ? "" : "; ") + span_text(gap) + " at " + escape_markdown(stop.name) + " (" +
                    time_text(stop.arrive, day.date, zone, RoundTo::later) + "–" + start_text(day, stop, zone) + ")";
    }
    return text;
}

std::string day_notes(const PlanDay& day, const geo::TimeZone& zone) {
    std::string text;
    for (const PlanStop& stop : day.stops) {
        std::string note;
        if (stop.light) {
            note = "light " + window_text(stop.light->window, day.date, zone) + ", sun towards " +
                   fixed_text(stop.light->azimuth_start.value, 0) + "° → " +
                   fixed_text(stop.light->azimuth_end.value, 0) + "°";
        }
        for (const std::string& own : stop.notes) {
            std::string sentence = escape_markdown(own);
            if (sentence.ends_with('.'))
                sentence.pop_back();
            note += (note.empty() ? "" : "; ") + sentence;
        }
        if (!note.empty())
            text += "- " + stop_words(stop) + ": " + note + ".\n";
    }
    return text;
}

/// The crew neither moves nor works.
bool is_day_off(const PlanDay& day) {
    return std::all_of(day.stops.begin(), day.stops.end(),
                       [](const PlanStop& stop) { return stop.role != StopRole::stop && stop.leg.total.count() == 0; });
}

std::string day_text_block(const Plan& plan, const PlanDay& day, const geo::TimeZone& zone) {
    std::string text = "\n## ";
    if (plan.days.size() > 1)
        text += "Day " + std::to_string(&day - plan.days.data() + 1) + " of " + std::to_string(plan.days.size()) + ": ";
    text += day_text(day.date) + "\n\n";
    if (day.stops.empty())
        return text + "Nothing is planned on this day.\n";
    if (is_day_off(day))
        return text + "A day off: nothing is planned; the crew stays at " + escape_markdown(day.stops.back().name) +
               ".\n";
    text += "Call " + time_text(day.call, day.date, zone, RoundTo::earlier) + ", wrap " +
            time_text(day.wrap, day.date, zone) + ": " + span_text(day.wrap - day.call) + " on duty, driving " +
            span_text(day.drive) + ", " + length_text(day.distance);
    if (day.walk.count() > 0)
        text += ", on foot about " + span_text(day.walk);
    text += ".\n\n" + day_table(day, zone);
    if (const std::string gaps = time_in_hand(day, zone); !gaps.empty())
        text += "\nTime in hand, set-up included: " + gaps + ".\n";
    if (const std::string ways = day_ways(day, zone); !ways.empty())
        text += "\nWays:\n\n" + ways;
    if (const std::string notes = day_notes(day, zone); !notes.empty())
        text += "\nNotes:\n\n" + notes;
    return text;
}

std::string dropped_text(const Plan& plan) {
    std::string text;
    for (const auto& scene : plan.dropped)
        text += "- " + escape_markdown(scene.title.empty() ? scene.scene : scene.title) +
                (scene.must ? " (must): " : " (wish): ") + escape_markdown(scene.why) + "\n";
    return text.empty() ? "" : "\n## Left out\n\n" + text;
}

std::string list_text(const std::string& heading, const std::vector<std::string>& lines) {
    if (lines.empty())
        return "";
    std::string text = "\n## " + heading + "\n\n";
    for (const std::string& line : lines)
        text += "- " + escape_markdown(line) + "\n";
    return text;
}

std::string source_text(const Shoot& shoot, const PlanSource& source) {
    std::string text = "\nTimes of " + escape_markdown(shoot.zone_name) + ", zone rules " +
                       escape_markdown(source.zone_database) + ". Map data " + attribution;
    if (!source.map_date.empty())
        text += ", as of " + escape_markdown(source.map_date);
    return text + ". Made by dayweave " + source.version + ".\n";
}

} // namespace

std::string stop_words(const PlanStop& stop) {
    if (stop.what.empty() || stop.what == stop.name)
        return escape_markdown(stop.name);
    return escape_markdown(stop.name) + ", " + escape_markdown(stop.what);
}

std::string write_itinerary(const Plan& plan, const Shoot& shoot, const PlanSource& source) {
    std::string text = "# " + escape_markdown(shoot.title) + "\n\n" + result_text(plan) + "\n" +
                       scene_count(plan, shoot) + ", " + totals_text(plan) + ".\n";
    for (const PlanDay& day : plan.days)
        text += day_text_block(plan, day, shoot.zone);
    text += dropped_text(plan);
    text += emergency_text(plan.wards);
    text += list_text("Warnings", plan.warnings);
    text += list_text("Cautions", cautions(plan, shoot));
    return text + source_text(shoot, source);
}

} // namespace cli
