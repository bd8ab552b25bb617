#pragma once
/// How a path under way stands to destination-only roads, which may begin or end it and never stand in its middle.
///
///     if (may_enter(state, edge.destination_only)) state = next_state(state, edge.destination_only);

#include <cstdint>

namespace routing::roads {

/// A lower state can do all a higher one can, and more.
enum class ZoneState : std::uint32_t {
    leaving = 0, ///< nothing but destination-only road so far
    open = 1,    ///< on road open to all
    entering = 2 ///< on the last stretch
};
constexpr std::uint32_t zone_states = 3;
constexpr std::uint32_t value(ZoneState state) {
    return static_cast<std::uint32_t>(state);
}

constexpr ZoneState first_state(bool destination_only) {
    return destination_only ? ZoneState::leaving : ZoneState::open;
}

constexpr bool may_enter(ZoneState state, bool destination_only) {
    return destination_only || state != ZoneState::entering;
}

constexpr ZoneState next_state(ZoneState state, bool destination_only) {
    if (!destination_only)
        return ZoneState::open;
    return state == ZoneState::leaving ? ZoneState::leaving : ZoneState::entering;
}

} // namespace routing::roads
