#pragma once
/// The words plan.json uses for the kinds and results of a plan; reader and writer share them.

#include "routing/shoot/plan.hpp"

#include <array>
#include <string>
#include <string_view>

namespace cli {

/// In the order of routing::shoot::PlanStopKind.
constexpr std::array<std::string_view, 5> stop_kind_words{"base", "scene", "meal", "bed", "rest"};
/// In the order of routing::shoot::StopRole.
constexpr std::array<std::string_view, 4> stop_role_words{"stop", "call", "wrap", "now"};
/// In the order of routing::shoot::PlanResult.
constexpr std::array<std::string_view, 3> result_words{"optimal", "feasible", "partial"};

struct TurnWord {
    std::string_view word; ///< in files
    std::string_view say;  ///< to the driver, before the road's name
};
/// In the order of routing::roads::Turn.
constexpr std::array<TurnWord, 11> turn_words{{
    {"set_off", "set off"},
    {"straight_on", "straight on"},
    {"bear_left", "bear left"},
    {"bear_right", "bear right"},
    {"turn_left", "left"},
    {"turn_right", "right"},
    {"sharp_left", "sharp left"},
    {"sharp_right", "sharp right"},
    {"turn_round", "turn round"},
    {"board_ferry", "ferry"},
    {"roundabout", "roundabout"},
}};
/// In the order of routing::roads::Heading.
constexpr std::array<std::string_view, 8> heading_words{"north", "north-east", "east", "south-east",
                                                        "south", "south-west", "west", "north-west"};

struct RoadNoteWord {
    routing::roads::EdgeNote note;
    std::string_view word; ///< in files
    std::string_view say;  ///< to the driver
};
constexpr std::array<RoadNoteWord, 11> road_note_words{{
    {routing::roads::note_toll, "toll", "toll"},
    {routing::roads::note_gate, "gate", "gate (may be locked)"},
    {routing::roads::note_ford, "ford", "ford (look before driving in)"},
    {routing::roads::note_unpaved, "unpaved", "unpaved"},
    {routing::roads::note_track, "track", "track"},
    {routing::roads::note_ferry, "ferry", "ferry (timetable not checked)"},
    {routing::roads::note_steep, "steep", "steep"},
    {routing::roads::note_doubtful_access, "doubtful_access", "access not clear on the map: read the sign"},
    {routing::roads::note_low_clearance, "low_clearance", "signed size limit: compare with the van"},
    {routing::roads::note_steps, "steps", "steps"},
    {routing::roads::note_not_in_darkness, "not_in_darkness", "path hard to see: not in darkness"},
}};

/// A driven line in one text: "lat,lon lat,lon ...", six decimals.
std::string line_text(const std::vector<geo::Coordinate>& line);
/// Nothing when the text is no such line.
std::optional<std::vector<geo::Coordinate>> parse_line(std::string_view text);

} // namespace cli
