#include "routing/roads/node_rules.hpp"

#include "routing/roads/barrier.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/size_limit.hpp"

#include <array>
#include <utility>

namespace routing::roads {
namespace {

struct DelayRow {
    std::string_view key;
    std::string_view value;
    std::string_view direction_key; ///< says which direction is meant; both when it is absent
    int seconds;
};

// Our planning figures, no source.
constexpr DelayRow traffic_signals{"highway", "traffic_signals", "traffic_signals:direction", 15};
constexpr std::array delays{
    DelayRow{"railway", "level_crossing", "", 20},
    DelayRow{"highway", "stop", "direction", 5},
    DelayRow{"highway", "give_way", "direction", 3},
    DelayRow{"ford", "yes", "", 30},
};

NodeDelay delay_of(const DelayRow& row, const Tags& tags) {
    if (tags[row.key] != row.value)
        return {};
    const std::string_view direction = row.direction_key.empty() ? std::string_view{} : tags[row.direction_key];
    return {geo::Seconds{direction == "backward" ? 0 : row.seconds},
            geo::Seconds{direction == "forward" ? 0 : row.seconds}};
}

} // namespace

NodeRuling rule_node(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    NodeRuling ruling;
    BarrierRuling barrier = read_barrier(tags, vehicle, remarks);
    ruling.access = barrier.access;
    ruling.is_barrier = tags.has("barrier") && tags["barrier"] != "no";
    ruling.notes = barrier.notes;
    ruling.time_rules = std::move(barrier.time_rules);
    ruling.other = {barrier.delay, barrier.delay};
    for (const Direction direction : {Direction::forward, Direction::backward}) {
        const SizeRuling size = read_size_limits(tags, direction, vehicle, remarks);
        ruling.notes |= size.notes;
        if (!size.passable) {
            ruling.access = Access::forbidden;
            ruling.is_barrier = true;
        }
    }
    ruling.signals = delay_of(traffic_signals, tags);
    for (const DelayRow& row : delays) {
        const NodeDelay delay = delay_of(row, tags);
        ruling.other.forward += delay.forward;
        ruling.other.backward += delay.backward;
    }
    if (tags["ford"] == "yes")
        ruling.notes |= note_ford;
    return ruling;
}

} // namespace routing::roads
