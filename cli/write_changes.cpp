#include "cli/write_changes.hpp"

#include "cli/clock_words.hpp"
#include "cli/closure_words.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

namespace cli {

using routing::shoot::ChangeRow;
using routing::shoot::Changes;
using routing::shoot::Replan;
using routing::shoot::Shoot;

namespace {

std::string shift_text(const ChangeRow& row) {
    if (!row.old_start)
        return "new";
    if (!row.new_start)
        return "out";
    const geo::Seconds shift = *row.new_start - *row.old_start;
    const std::string text = span_text(shift);
    if (text == "0 min")
        return "same";
    return shift.count() > 0 ? "+" + text : text;
}

std::string list_items(const std::vector<std::string>& items) {
    std::string text;
    for (const std::string& item : items)
        text += (text.empty() ? "" : ", ") + escape_markdown(item);
    return text;
}

/// What the crew told, so that the page stands for itself.
std::string told_text(const Changes& changes, const geo::TimeZone& zone) {
    std::string text =
        "Told at " + day_text(geo::civil_date(changes.now, zone)) + " " + geo::clock_text(changes.now, zone);
    if (changes.at)
        text += "; crew at " + fixed_text(changes.at->latitude.value, 5) + ", " +
                fixed_text(changes.at->longitude.value, 5);
    if (changes.late.count() > 0)
        text += "; " + span_text(changes.late) + " late";
    std::vector<std::string> closed;
    for (const auto& closure : changes.closures)
        closed.push_back(closure_text(closure, zone));
    if (!closed.empty())
        text += "; closed: " + list_items(closed);
    if (!changes.sky.empty())
        text += "; sky for the rest of the day: " + escape_markdown(changes.sky);
    if (!changes.done.empty())
        text += "; done: " + list_items(changes.done);
    if (!changes.drop.empty())
        text += "; given up: " + list_items(changes.drop);
    return text + ".\n";
}

} // namespace

std::string write_changes(const Replan& replan, const Shoot& shoot, const Changes& changes) {
    std::string text = escape_markdown(replan.now_line) + "\n\n# Changes to " + escape_markdown(shoot.title) + "\n\n" +
                       told_text(changes, shoot.zone) + "\n";
    MarkdownTable table({{"Day"}, {"Stop"}, {"Was"}, {"Is"}, {"Shift", Align::right}, {"Note"}});
    for (const ChangeRow& row : replan.rows) {
        const bool known_day = row.day < replan.plan.days.size();
        const geo::CivilDate day =
            known_day ? replan.plan.days[row.day].date : geo::civil_date(changes.now, shoot.zone);
        const auto time = [&](const std::optional<geo::Instant>& when) {
            return when ? time_text(*when, day, shoot.zone, RoundTo::later) : std::string("none");
        };
        table.add_row({geo::to_string(day), escape_markdown(row.name), time(row.old_start), time(row.new_start),
                       shift_text(row), escape_markdown(row.note)});
    }
    text += table.empty() ? "No stop changes.\n" : table.text();
    if (!replan.plan.dropped.empty()) {
        text += "\nLeft out:\n\n";
        for (const auto& scene : replan.plan.dropped)
            text += "- " + escape_markdown(scene.title.empty() ? scene.scene : scene.title) +
                    (scene.must ? " (must): " : " (wish): ") + escape_markdown(scene.why) + "\n";
    }
    return text;
}

} // namespace cli
