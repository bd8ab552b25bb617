#include "cli/clock_words.hpp"
#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/read_shoot.hpp"
#include "cli/shoot_parts.hpp"

#include <algorithm>
#include <array>

namespace cli {

using routing::shoot::DayEdge;
using routing::shoot::ShootDay;

namespace {

/// A day as far as it could be read.
struct DayDraft {
    Field field;
    std::optional<geo::CivilDate> date;
    std::optional<geo::ClockTime> call, wrap;
    std::optional<DayEdge> start, end;
};

std::optional<DayEdge> read_edge(const Members& members, std::string_view key, const DayFrame& frame) {
    static const std::array<std::string, 3> names{"base", "bed", "anywhere"};
    const auto field = members.find(key);
    const auto text = field ? field->text("write base, bed or anywhere") : std::nullopt;
    if (!text)
        return std::nullopt;
    const auto found = std::find(names.begin(), names.end(), *text);
    if (found == names.end()) {
        field->fault("is no place for a day to " + std::string(key), "write base, bed or anywhere");
        return std::nullopt;
    }
    const auto edge = static_cast<DayEdge>(found - names.begin());
    if (edge == DayEdge::base && !frame.has_base) {
        field->fault("needs a base, and the shoot names none",
                     "add \"base\": {\"name\": ..., \"at\": ...} to the file");
        return std::nullopt;
    }
    if (edge == DayEdge::bed && !frame.has_lodging) {
        field->fault("needs a bed, and the shoot asks for none", R"(add "lodging": {"where": "find"} to the file)");
        return std::nullopt;
    }
    return edge;
}

DayDraft read_day(const Field& field, const DayFrame& frame) {
    const Members members = field.object({"date", "earliest_call", "latest_wrap", "start", "end"});
    DayDraft day{field, {}, {}, {}, {}, {}};
    if (const auto date = members.need("date", "write a date, YYYY-MM-DD"))
        day.date = read_date(*date);
    if (const auto call = members.need("earliest_call", "write the time of day, HH:MM"))
        day.call = read_clock(*call);
    if (const auto wrap =
            members.need("latest_wrap", "write the time of day, HH:MM; not later than the call is the next date"))
        day.wrap = read_clock(*wrap);
    day.start = read_edge(members, "start", frame);
    day.end = read_edge(members, "end", frame);
    return day;
}

geo::Instant wrap_of(const DayDraft& day, const geo::TimeZone& zone) {
    const geo::CivilDate date = *day.wrap > *day.call ? *day.date : geo::next_date(*day.date);
    return geo::instant_of(date, *day.wrap, zone);
}

void check_order(const DayDraft& before, const DayDraft& day, const geo::TimeZone& zone) {
    if (!before.date || !day.date)
        return;
    const Field date(*day.field.value().find("date"), day.field.pointer() + "/date", day.field.faults());
    if (*day.date == *before.date) {
        date.fault("stands twice", "give each day once");
    } else if (*day.date < *before.date) {
        date.fault("comes before " + geo::to_string(*before.date), "put the days in order of time");
    } else if (before.call && before.wrap && day.call &&
               wrap_of(before, zone) > geo::instant_of(*day.date, *day.call, zone)) {
        const Field call(*day.field.value().find("earliest_call"), day.field.pointer() + "/earliest_call",
                         day.field.faults());
        call.fault("is before the latest wrap of the day before, " + time_text(wrap_of(before, zone), *day.date, zone),
                   "call later or wrap the day before earlier");
    }
}

void check_span(const DayDraft& first, const DayDraft& day, const geo::TimeZone& zone) {
    if (!first.date || !first.call || !day.date || !day.call || !day.wrap)
        return;
    if (wrap_of(day, zone) - geo::instant_of(*first.date, *first.call, zone) <= span_limit)
        return;
    const Field date(*day.field.value().find("date"), day.field.pointer() + "/date", day.field.faults());
    date.fault("wraps more than " + std::to_string(std::chrono::floor<std::chrono::days>(span_limit).count()) +
                   " days after the first call, on " + geo::to_string(*first.date),
               "split the shoot");
}

/// Defaults: the first day starts at the base, or anywhere without one; a day ends at the base when it is the last or
/// no lodging is asked for, else in a bed; the next day starts where the day before ended.
void settle_edges(std::vector<DayDraft>& days, const DayFrame& frame) {
    const DayEdge home = frame.has_base ? DayEdge::base : DayEdge::anywhere;
    for (std::size_t n = 0; n < days.size(); ++n) {
        DayDraft& day = days[n];
        const bool last = n + 1 == days.size();
        const DayEdge before = n == 0 ? home : *days[n - 1].end;
        if (!day.end)
            day.end = frame.has_lodging && (!last || !frame.has_base) ? DayEdge::bed : home;
        if (day.start == DayEdge::bed && (n == 0 || before != DayEdge::bed)) {
            const Field start(*day.field.value().find("start"), day.field.pointer() + "/start", day.field.faults());
            start.fault(n == 0 ? "can't be: no night comes before the first day"
                               : "can't be: the day before does not end in a bed",
                        n == 0 ? "write base or anywhere"
                               : "let the day before end in a bed, or write base or anywhere");
        }
        if (day.start == DayEdge::base && n > 0 && before == DayEdge::bed) {
            const Field start(*day.field.value().find("start"), day.field.pointer() + "/start", day.field.faults());
            start.fault("leaves the way from last night's bed to the base unplanned", "write bed, or leave it out");
        }
        if (!day.start)
            day.start = before;
    }
}

} // namespace

std::vector<ShootDay> read_days(const Field& field, const DayFrame& frame, const geo::TimeZone& zone) {
    const auto items = field.filled_list("days");
    if (!items)
        return {};
    if (items->size() > day_limit) {
        field.fault("holds " + std::to_string(items->size()) + " days",
                    "give at most " + std::to_string(day_limit) + ", or split the shoot");
        return {};
    }
    std::vector<DayDraft> drafts;
    for (const Field& item : *items) {
        drafts.push_back(read_day(item, frame));
        if (drafts.size() > 1)
            check_order(drafts[drafts.size() - 2], drafts.back(), zone);
        check_span(drafts.front(), drafts.back(), zone);
    }
    settle_edges(drafts, frame);

    std::vector<ShootDay> days;
    for (const DayDraft& draft : drafts) {
        if (draft.date && draft.call && draft.wrap)
            days.push_back({*draft.date, *draft.call, *draft.wrap, *draft.start, *draft.end});
    }
    return days;
}

} // namespace cli
