#pragma once
/// When a condition written as opening hours is true: the time part of "no @ (Mo-Fr 07:00-09:00)".
///
///     // motor_vehicle:conditional = "no @ (Mo-Fr 07:00-09:00); yes @ (Nov-Mar)"
///     const ConditionTimes shut = condition_times("Mo-Fr 07:00-09:00", span, site);
///     shut.surely_true   // closed to us in these
///     shut.unknown       // avoid, and say why; in the rest of the span the condition is surely false
///
///     // "(sunset-sunrise AND weight>3.5)": give each part on its own, join with geo::intersect.
///     is_time_condition("weight>3.5") // false: not for here
///
/// Source: OSM wiki, Conditional restrictions, "Condition" (opening_hours syntax).

#include "routing/hours/hours.hpp"

#include <string_view>

namespace routing::hours {

/// Disjoint, in order; half-open as in Stretch.
struct ConditionTimes {
    geo::Intervals surely_true;
    geo::Intervals unknown; ///< all of the span when the text is refused
};

/// "(Mo-Fr 07:00-09:00)" without its brackets; "(sunset-01:00)-(sunrise+01:00)" keeps them. Ends trimmed.
std::string_view without_brackets(std::string_view text);

/// Whether the text, brackets around it or not, reads as opening hours.
bool is_time_condition(std::string_view condition);

/// Brackets around the whole condition may stay. A time that holds unless the day is a holiday, which is not known,
/// counts as true.
ConditionTimes condition_times(std::string_view condition, geo::Interval span, const Site& site);

} // namespace routing::hours
