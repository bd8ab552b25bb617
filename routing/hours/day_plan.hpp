#pragma once
/// One civil day's course of open, closed and unknown, from all rules.
///
///     for (const Piece& piece : day_plan(rules, doubts, day, site, DayKnowledge{site.holidays}))

#include "routing/hours/day_match.hpp"
#include "routing/hours/doubts.hpp"
#include "routing/hours/hours.hpp"

#include <optional>
#include <vector>

namespace routing::hours {

struct Piece {
    geo::Interval time;
    State state = State::closed;
    Reason reason = Reason::stated;
    std::optional<std::size_t> rule{}; ///< that decided; nothing when none speaks of the time
    bool of_night_before = false;      ///< reaches in from the day before
    bool was_open = false;             ///< unknown because a later rule may take the place of one that opened it
};

/// Pieces side by side from the day's first instant to its last, none of no length.
///
/// Rules are laid over each other in their order (specification, any_rule_separator). One after ";" first clears its
/// whole day; a closing rule with times closes just these. Left unknown instead of closed or open: what is cleared of a
/// night that began the day before, what is cleared of a shadowed rule, what a rule without days says of other days
/// than those of the rule before it, and what opens a day an earlier rule closed without being an exception to it.
std::vector<Piece> day_plan(const std::vector<Rule>& rules, const std::vector<Doubts>& doubts, geo::CivilDate day,
                            const Site& site, const DayKnowledge& known);

} // namespace routing::hours
