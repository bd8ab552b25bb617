#include "routing/order/label.hpp"

namespace routing::order {
namespace {

bool same_state(const Label& a, const Label& b) {
    return a.settled == b.settled && a.place == b.place && a.pending == b.pending && a.late == b.late &&
           a.next_meal == b.next_meal;
}

std::uint64_t hash_state(const Label& label) {
    // Finalizer of MurmurHash3 (Austin Appleby, public domain).
    std::uint64_t h = label.settled * 0x9E3779B97F4A7C15ULL;
    h ^= std::uint64_t{label.place} << 24U | std::uint64_t{label.pending} << 16U | std::uint64_t{label.late} << 8U |
         label.next_meal;
    h = (h ^ (h >> 33U)) * 0xFF51AFD7ED558CCDULL;
    h = (h ^ (h >> 33U)) * 0xC4CEB9FE1A85EC53ULL;
    return h ^ (h >> 33U);
}

bool dominates(const Label& a, const Label& b) {
    return a.ready <= b.ready && !better(b.standing, a.standing) && a.busy <= b.busy && a.latest_call >= b.latest_call;
}

} // namespace

std::size_t Layer::find_slot(const Label& label) const {
    const std::size_t mask = heads_.size() - 1;
    std::size_t slot = hash_state(label) & mask;
    while (heads_[slot] != none && !same_state(labels_[heads_[slot]], label))
        slot = (slot + 1) & mask;
    return slot;
}

bool Layer::insert(const Label& label) {
    if (heads_.size() < 2 * (states_ + 1))
        grow();
    const std::size_t slot = find_slot(label);
    const std::uint32_t head = heads_[slot];
    for (std::uint32_t i = head; i != none; i = labels_[i].next)
        if (dominates(labels_[i], label))
            return false;
    std::uint32_t* link = &heads_[slot];
    for (std::uint32_t i = head; i != none;) {
        Label& other = labels_[i];
        const std::uint32_t next = other.next;
        if (dominates(label, other)) {
            *link = next;
            other.place = dropped;
        } else {
            link = &other.next;
        }
        i = next;
    }
    if (head == none)
        ++states_;
    Label& added = labels_.emplace_back(label);
    added.next = heads_[slot];
    heads_[slot] = static_cast<std::uint32_t>(labels_.size() - 1);
    return true;
}

void Layer::grow() {
    std::vector<std::uint32_t> old = std::move(heads_);
    heads_.assign(old.empty() ? 16 : 2 * old.size(), none);
    for (const std::uint32_t head : old)
        if (head != none)
            heads_[find_slot(labels_[head])] = head;
}

void Layer::clear() {
    labels_ = {};
    heads_ = {};
    states_ = 0;
}

} // namespace routing::order
