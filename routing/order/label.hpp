#pragma once
/// Labels: partial plans, and the layers that hold them while the search goes from fewer to more settled visits.
///
/// Two labels in the same state (place, settled visits, meals still open) differ in what they have gained and spent, in
/// when they are ready, and, while a limit on the call is open, in how much the call may still move. One that is no
/// worse in all of it dominates: whatever the other can still do, it can do too, by waiting (Desaulniers' and Feillet's
/// elementary labelling: Feillet et al. 2004; unreachable visits count as settled).

#include "routing/order/instance.hpp"

#include <cstdint>
#include <vector>

namespace routing::order {

/// What has been gained and spent; more value is better, then less cost.
struct Standing {
    std::int64_t value = 0; ///< must_unit * musts - missed_meal_unit * meals missed + worth
    std::int64_t cost = 0;  ///< first economy level * 2^32 + the other
};

inline bool better(const Standing& a, const Standing& b) {
    return a.value != b.value ? a.value > b.value : a.cost < b.cost;
}

inline constexpr std::int32_t call_is_free = INT32_MAX;

/// Small: they are moved by the million.
struct Label {
    VisitSet done = 0;
    VisitSet settled = 0; ///< done, or no longer possible
    Standing standing;
    std::int32_t ready = 0; ///< at the start of a day: the earliest call; else end of service, packing still to come
    std::int32_t busy = 0;  ///< see DayClock; 0 and `call_is_free` while no limit on the call is open
    std::int32_t latest_call = 0;
    std::uint32_t parent = 0; ///< trail of the label this one grew from
    std::uint32_t next = 0;   ///< next label in the same state
    std::uint16_t place = 0;
    std::uint16_t step = 0;     ///< way taken, or `end_step` + number of the end
    std::uint16_t gap = 0;      ///< meals taken on the way here
    std::uint16_t via = 0;      ///< meal point on the way here
    std::uint8_t pending = 0;   ///< meals not taken and not accounted for (bits)
    std::uint8_t late = 0;      ///< of these, the ones a later call may still make not due
    std::uint8_t next_meal = 0; ///< meals before this one can't be taken any more
};
static_assert(sizeof(Label) <= 72);

inline constexpr std::uint16_t end_step = 0x8000;
inline constexpr std::uint16_t no_gap = 0xFFFF;

/// All labels with one number of settled visits on one day, no one dominated by another.
class Layer {
public:
    /// Keeps `label` unless one there dominates it; drops those it dominates. Of equals the first stays.
    bool insert(const Label& label);
    /// Every label ever inserted, dropped ones included; see `is_alive`.
    const std::vector<Label>& labels() const { return labels_; }
    static bool is_alive(const Label& label) { return label.place != dropped; }
    void clear();

private:
    static constexpr std::uint16_t dropped = 0xFFFF;
    static constexpr std::uint32_t none = 0xFFFF'FFFF;
    std::size_t find_slot(const Label& label) const;
    void grow();

    std::vector<Label> labels_;
    std::vector<std::uint32_t> heads_; ///< open addressing; the first label of each state
    std::size_t states_ = 0;
};

} // namespace routing::order
