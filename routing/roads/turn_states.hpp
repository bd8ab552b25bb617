#pragma once
/// Turns forbidden sequences of road pieces into a plain graph with some junctions split.
///
/// A driver's state at a junction is the longest beginning of a forbidden sequence that ends with the pieces just
/// driven; a graph node is a junction with such a state. That is the automaton of A. V. Aho, M. J. Corasick, "Efficient
/// string matching", Communications of the ACM 18(6), 1975, over road pieces. Most junctions have the empty state only.
/// Size: one node more for each place in a sequence but its last, O(total length of the sequences x degree) arcs.

#include "routing/roads/directed_piece.hpp"
#include "routing/roads/road_pieces.hpp"
#include "routing/roads/turn_bans.hpp"

#include <cstdint>
#include <vector>

namespace routing::roads {

struct TurnGraph {
    struct Arc {
        std::uint32_t tail = 0;
        std::uint32_t head = 0;
        DirectedPiece along = 0;
    };
    std::vector<std::uint32_t> junction; ///< of each node; the plain nodes first, one a junction, then the split ones
    std::vector<Arc> arcs;
    /// Of each directed piece: the node that a driver comes to who began the trip on it, with no turn behind.
    std::vector<std::uint32_t> head_at_start;
    /// Plain nodes that nothing arrives at and whose arcs all have a like from another copy.
    std::vector<bool> needless;
};

TurnGraph split_junctions(const RoadPieces& roads, const std::vector<ForbiddenSequence>& bans);

} // namespace routing::roads
