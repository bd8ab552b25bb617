#pragma once
/// Whether a rule speaks of a day.
///
///     if (matches(rule, day, DayKnowledge{table}))

#include "routing/hours/holidays.hpp"
#include "routing/hours/rules.hpp"

namespace routing::hours {

/// What to take for granted about days the table does not cover.
struct DayKnowledge {
    enum class Public { none, likely, all };
    const Holidays& table;
    Public assume_public = Public::none; ///< `likely`: the days of is_often_public_holiday
    bool assume_school = false;
};

bool matches(const WideSelectors& wide, geo::CivilDate day);
/// Its weekdays and holidays; true when it names none.
bool matches_day(const Rule& rule, geo::CivilDate day, const DayKnowledge& known);
/// Its holidays alone; false when it names none.
bool matches_holiday(const Rule& rule, geo::CivilDate day, const DayKnowledge& known);
inline bool matches(const Rule& rule, geo::CivilDate day, const DayKnowledge& known) {
    return matches(rule.wide, day) && matches_day(rule, day, known);
}

} // namespace routing::hours
