#pragma once
/// When a road may be driven, as far as the map says so by the hour, the date or the season.
///
///     // motor_vehicle=yes, motor_vehicle:conditional=no @ (Mo-Fr 07:00-09:00); yes @ (Jul-Aug)
///     const TimeRule rule{true, {{false, {"Mo-Fr 07:00-09:00"}}, {true, {"Jul-Aug"}}}};
///     shut_by_rule(rule, span, site).shut     // rule_times.hpp

#include <compare>
#include <string>
#include <vector>

namespace routing::roads {

struct TimedClause {
    bool open = false;
    std::vector<std::string> when; ///< all must hold: opening hours that were read without refusal, or a season's name
    friend auto operator<=>(const TimedClause&, const TimedClause&) = default;
};

/// Open or shut, unless a clause holds; of several that hold the last.
struct TimeRule {
    bool open = true;
    std::vector<TimedClause> clauses;
    friend auto operator<=>(const TimeRule&, const TimeRule&) = default;
};

/// "open; shut @ (Mo-Fr 07:00-09:00); open @ (Jul-Aug)"
std::string to_text(const TimeRule& rule);

} // namespace routing::roads
