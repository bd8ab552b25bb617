#include "routing/roads/directions.hpp"

#include "geo/local_frame.hpp"
#include "routing/roads/edge_geometry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace routing::roads {

namespace {

/// Long enough to see past a corner drawn with a chamfer, short enough to stay at the junction. Our figure.
constexpr double window_metres = 20.0;
/// As in road_stretches.
constexpr geo::Metres short_connector{30.0};

/// Pieces [begin, end) of a path that belong together.
struct Run {
    std::size_t begin = 0;
    std::size_t end = 0;
    std::size_t core_end = 0; ///< where a short connector at its end begins; the turn out of it is taken from there
};

class Teller {
public:
    Teller(const RoadNetwork& network, const Path& path) : network_(network), path_(path) {}

    std::vector<Instruction> tell() const {
        std::vector<Instruction> told;
        Run before;
        for (const Run& stretch : runs()) {
            const geo::Degrees heading = bearing_out(stretch);
            Instruction next{Turn::set_off, heading_of(heading), name(stretch), {}, 0, note_none};
            for (std::size_t i = stretch.begin; i < stretch.end; ++i) {
                next.length += piece_length(network_, path_.pieces[i]);
                next.time += piece_time(network_, path_.pieces[i]);
                next.notes = static_cast<std::uint16_t>(next.notes | edge(i).notes);
            }
            if (!told.empty())
                next.turn = turn_between(before, stretch);
            else if (is_ferry(stretch.begin))
                next.turn = Turn::board_ferry;
            // One that set off on a ring was never told of it.
            const bool round_it = !told.empty() && told.back().turn == Turn::roundabout && is_ring(before.begin);
            if (round_it) {
                told.back().exit = is_ring(stretch.begin) ? 0 : exits_on_ring(before.begin);
                told.back().name = next.name;
            }
            if (round_it ||
                (!told.empty() && goes_on(told.back(), next, is_ferry(before.begin), is_ferry(stretch.begin)))) {
                told.back().length += next.length;
                told.back().time += next.time;
                told.back().notes = static_cast<std::uint16_t>(told.back().notes | next.notes);
            } else {
                told.push_back(next);
            }
            before = stretch;
        }
        return told;
    }

private:
    const Edge& edge(std::size_t piece) const { return network_.edges[value(path_.pieces[piece].edge)]; }
    bool is_ferry(std::size_t piece) const { return (edge(piece).notes & note_ferry) != 0; }
    bool is_ring(std::size_t piece) const { return edge(piece).roundabout; }
    bool is_plain_unnamed(std::size_t piece) const {
        return edge(piece).name == 0 && !is_ferry(piece) && !is_ring(piece);
    }
    /// Ways out met on the ring that the path leaves after `last`, the one taken included.
    int exits_on_ring(std::size_t last) const {
        std::size_t first = last;
        while (first > 0 && is_ring(first - 1))
            --first;
        int exits = 1;
        for (std::size_t piece = first; piece < last; ++piece) {
            const auto along = network_.arcs_along(path_.pieces[piece].edge, path_.pieces[piece].forward);
            for (const Arc& arc : network_.arcs_from(network_.arcs[along.front()].head))
                exits += arc.time < closed && !network_.edges[value(arc.edge)].roundabout ? 1 : 0;
        }
        return exits;
    }
    bool is_reversal(std::size_t piece) const {
        return piece > 0 && path_.pieces[piece].edge == path_.pieces[piece - 1].edge &&
               path_.pieces[piece].forward != path_.pieces[piece - 1].forward;
    }
    /// A run that begins with a connector (only the path's first one does) is called by what follows it.
    const std::string& name(const Run& run) const { return network_.name_of(edge(run.core_end - 1)); }

    /// Stretches of one edge each, with short connectors joined to the one before.
    std::vector<Run> runs() const {
        std::vector<Run> all;
        for (std::size_t i = 0; i < path_.pieces.size();) {
            std::size_t end = i + 1;
            geo::Metres length = piece_length(network_, path_.pieces[i]);
            const bool unnamed = is_plain_unnamed(i);
            for (; unnamed && end < path_.pieces.size() && is_plain_unnamed(end) && !is_reversal(end); ++end)
                length += piece_length(network_, path_.pieces[end]);
            if (unnamed && length < short_connector && !all.empty() && !is_ferry(i - 1) && !is_ring(i - 1) &&
                !is_reversal(i))
                all.back().end = end;
            else if (unnamed && length < short_connector && all.empty() && end < path_.pieces.size() &&
                     !is_ferry(end) && !is_ring(end) && !is_reversal(end)) {
                all.push_back({0, end + 1, end + 1});
                ++end;
            } else {
                for (std::size_t piece = i; piece < end; ++piece)
                    all.push_back({piece, piece + 1, piece + 1});
            }
            i = end;
        }
        return all;
    }

    static bool goes_on(const Instruction& last, const Instruction& next, bool afloat, bool next_afloat) {
        const bool slight = next.turn == Turn::straight_on || next.turn == Turn::bear_left ||
                            next.turn == Turn::bear_right || next.turn == Turn::board_ferry;
        return last.name == next.name && slight && afloat == next_afloat;
    }

    Turn turn_between(const Run& from, const Run& to) const {
        if (is_ferry(to.begin))
            return Turn::board_ferry;
        if (is_ring(to.begin) && !is_ring(from.begin))
            return Turn::roundabout;
        if (is_reversal(to.begin))
            return Turn::turn_round;
        const double angle = bearing_out(to).value - bearing_in(from).value;
        return turn_of({std::remainder(angle, 360.0)});
    }

    std::vector<geo::Coordinate> line(std::size_t index) const {
        const PathPiece& piece = path_.pieces[index];
        const double from = piece.forward ? piece.from_fraction : 1.0 - piece.from_fraction;
        const double to = piece.forward ? piece.to_fraction : 1.0 - piece.to_fraction;
        return line_on_edge(network_, piece.edge, from, to);
    }

    /// Whether the road told of goes on from one piece to the next, for looking along it.
    bool same_road(std::size_t piece, std::size_t next) const {
        return edge(piece).name == edge(next).name && is_ferry(piece) == is_ferry(next) &&
               !is_reversal(std::max(piece, next));
    }

    geo::Degrees bearing_out(const Run& run) const {
        std::vector<geo::Coordinate> seen = line(run.begin);
        for (std::size_t i = run.begin; i + 1 < path_.pieces.size() && line_length(seen).value < window_metres &&
                                        (i + 1 < run.end || same_road(i, i + 1));
             ++i) {
            const auto more = line(i + 1);
            seen.insert(seen.end(), more.begin(), more.end());
        }
        return bearing_from_start(seen);
    }

    geo::Degrees bearing_in(const Run& run) const {
        const auto backwards = [&](std::size_t piece) {
            auto points = line(piece);
            std::reverse(points.begin(), points.end());
            return points;
        };
        std::size_t i = run.core_end - 1;
        std::vector<geo::Coordinate> seen = backwards(i);
        for (; i > 0 && line_length(seen).value < window_metres && same_road(i, i - 1); --i) {
            const auto more = backwards(i - 1);
            seen.insert(seen.end(), more.begin(), more.end());
        }
        return {bearing_from_start(seen).value + 180.0};
    }

    /// Bearing from the first point to the one 20 m along the line, or to its end; clockwise from north.
    static geo::Degrees bearing_from_start(const std::vector<geo::Coordinate>& seen) {
        const geo::LocalFrame frame(seen.front());
        double left = window_metres;
        geo::LocalPoint at{};
        for (std::size_t i = 1; i < seen.size() && left > 0.0; ++i) {
            const geo::LocalPoint next = frame.from(seen[i]);
            const double step = geo::distance(at, next).value;
            const double share = step > left ? left / step : 1.0;
            at = {at.east + share * (next.east - at.east), at.north + share * (next.north - at.north)};
            left -= step;
        }
        return {std::atan2(at.east.value, at.north.value) * 180.0 / std::numbers::pi};
    }

    const RoadNetwork& network_;
    const Path& path_;
};

} // namespace

Turn turn_of(geo::Degrees angle) {
    const double size = std::abs(angle.value);
    const bool right = angle.value > 0.0;
    if (size <= 20.0)
        return Turn::straight_on;
    if (size <= 45.0)
        return right ? Turn::bear_right : Turn::bear_left;
    if (size <= 120.0)
        return right ? Turn::turn_right : Turn::turn_left;
    if (size <= 170.0)
        return right ? Turn::sharp_right : Turn::sharp_left;
    return Turn::turn_round;
}

Heading heading_of(geo::Degrees bearing) {
    const auto eighths = static_cast<int>(std::lround(std::remainder(bearing.value, 360.0) / 45.0));
    return static_cast<Heading>((eighths + 8) % 8);
}

std::vector<Instruction> directions(const RoadNetwork& network, const Path& path) {
    return Teller(network, path).tell();
}

} // namespace routing::roads
