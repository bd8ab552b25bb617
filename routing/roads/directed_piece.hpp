#pragma once
/// A piece of road in one driving direction, as one number: 2 * piece, plus 1 against the drawing order.

#include "routing/roads/road_pieces.hpp"

#include <cstdint>

namespace routing::roads {

using DirectedPiece = std::uint32_t;

constexpr DirectedPiece directed(std::uint32_t piece, bool forward) {
    return 2 * piece + (forward ? 0U : 1U);
}
constexpr std::uint32_t piece_of(DirectedPiece d) {
    return d / 2;
}
constexpr bool is_forward(DirectedPiece d) {
    return d % 2 == 0;
}
inline std::uint32_t tail_of(const RoadPieces& roads, DirectedPiece d) {
    const Piece& piece = roads.pieces[piece_of(d)];
    return is_forward(d) ? piece.start : piece.end;
}
inline std::uint32_t head_of(const RoadPieces& roads, DirectedPiece d) {
    const Piece& piece = roads.pieces[piece_of(d)];
    return is_forward(d) ? piece.end : piece.start;
}
inline bool is_open(const RoadPieces& roads, DirectedPiece d) {
    const Piece& piece = roads.pieces[piece_of(d)];
    return (is_forward(d) ? piece.forward : piece.backward) != closed;
}

} // namespace routing::roads
