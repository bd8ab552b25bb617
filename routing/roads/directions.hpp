#pragma once
/// What to tell the driver along a path: where to turn, onto which road, for how far.
///
///     for (const Instruction& step : directions(network, *path))
///         say(step.turn, step.name, step.length);
///
/// A turn is the angle between the last 20 m driven before it and the first 20 m after it (less where the road told of
/// is shorter), as straight lines on a flat map. Something is said where the name changes, a ferry begins or ends, or
/// the turn is more than slight; a road that bends between junctions, or keeps its name and bears to a side, is not
/// worth a word. A roundabout is one instruction with the road it is left by; who begins a trip on one is told the
/// turn.

#include "routing/roads/network.hpp"
#include "routing/roads/shortest_path.hpp"

#include <string>
#include <vector>

namespace routing::roads {

/// Our figures: straight on up to 20 degrees, bear to 45, turn to 120, sharp to 170, from there on turn round. Going
/// back along the edge one came by is turning round whatever its shape.
enum class Turn : std::uint8_t {
    set_off, ///< the first instruction: `heading` tells which way
    straight_on,
    bear_left,
    bear_right,
    turn_left,
    turn_right,
    sharp_left,
    sharp_right,
    turn_round,
    board_ferry,
    roundabout ///< into it and out by `exit`
};

/// Compass eighths, clockwise from north.
enum class Heading : std::uint8_t { north, north_east, east, south_east, south, south_west, west, north_west };

struct Instruction {
    Turn turn = Turn::set_off;        ///< at the beginning of the stretch
    Heading heading = Heading::north; ///< of its first 20 m
    std::string name;                 ///< empty for an unnamed road
    geo::Metres length;
    Milliseconds time = 0; ///< a ferry's boarding and waiting included
    std::uint16_t notes = note_none;
    /// At a roundabout: which of the ways out a van may take, the first met is 1; 0 when the path ends on the ring.
    int exit = 0;
};

/// The turn a change of direction amounts to; `angle` to the right positive, -180 to 180.
Turn turn_of(geo::Degrees angle);
/// The eighth a bearing lies in; any angle, clockwise from north.
Heading heading_of(geo::Degrees bearing);

/// In order of driving; lengths and times add up to the path's. An unnamed stretch under 30 m (a junction's inside)
/// joins the stretch before it, or the one after it at the start, and the turn is then taken over it. None for a path
/// of no length.
std::vector<Instruction> directions(const RoadNetwork& network, const Path& path);

} // namespace routing::roads
