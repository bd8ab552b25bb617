#include "routing/roads/turn_bans.hpp"

#include "routing/roads/restriction.hpp"

#include <algorithm>
#include <optional>
#include <set>

namespace routing::roads {
namespace {

/// Their order is found by trying; a relation made to be slow must not be.
constexpr std::size_t most_via_ways = 8;

/// Open directed pieces that leave each junction.
class Departures {
public:
    explicit Departures(const RoadPieces& roads) : first_(roads.junctions.size() + 1, 0) {
        const auto count = static_cast<DirectedPiece>(2 * roads.pieces.size());
        for (DirectedPiece d = 0; d < count; ++d)
            if (is_open(roads, d))
                ++first_[tail_of(roads, d) + 1];
        for (std::size_t j = 0; j + 1 < first_.size(); ++j)
            first_[j + 1] += first_[j];
        std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
        list_.resize(first_.back());
        for (DirectedPiece d = 0; d < count; ++d)
            if (is_open(roads, d))
                list_[next[tail_of(roads, d)]++] = d;
    }
    std::span<const DirectedPiece> from(std::uint32_t junction) const {
        return {list_.data() + first_[junction], list_.data() + first_[junction + 1]};
    }

private:
    std::vector<std::uint32_t> first_;
    std::vector<DirectedPiece> list_;
};

class BanFinder {
public:
    BanFinder(const OsmExtract& extract, const RoadPieces& roads)
        : extract_(extract), roads_(roads), departures_(roads) {}

    /// Adds the sequences of one relation; gives what kept it from having an effect, or null.
    const char* add(const TurnRestriction& turn, std::vector<ForbiddenSequence>& bans) {
        if (turn.via_ways.size() > most_via_ways)
            return "restrictions ignored: more via ways than any real one has";
        for (const auto* members : {&turn.from, &turn.via_ways, &turn.to})
            for (const OsmId id : *members)
                if (way_index(id) == none)
                    return "restrictions ignored: a member way is not in the file";
        std::set<ForbiddenSequence> approaches; // from and all via pieces
        bool meets = false;
        for (const OsmId from : turn.from)
            for (const std::uint32_t node : end_nodes(from)) {
                if (turn.via_node && (node_index(*turn.via_node) == none || node != node_index(*turn.via_node)))
                    continue;
                collect_approaches(turn, from, node, approaches, meets);
            }
        if (!meets)
            return "restrictions ignored: members do not meet at their ends";
        bool effect = false;
        for (const ForbiddenSequence& approach : approaches)
            effect |= turn.rule == TurnRule::forbidden ? forbid_exit(turn, approach, bans)
                                                       : forbid_other_exits(turn, approach, bans);
        return effect ? nullptr : "restrictions without effect: a member is closed to the vehicle";
    }

private:
    std::uint32_t way_index(OsmId id) const {
        const auto way = std::lower_bound(extract_.roads.begin(), extract_.roads.end(), id,
                                          [](const RoadWay& w, OsmId wanted) { return w.id < wanted; });
        return way != extract_.roads.end() && way->id == id ? static_cast<std::uint32_t>(way - extract_.roads.begin())
                                                            : none;
    }

    std::uint32_t node_index(OsmId id) const {
        const auto node = std::lower_bound(extract_.node_ids.begin(), extract_.node_ids.end(), id);
        return node != extract_.node_ids.end() && *node == id
                   ? roads_.same_node[static_cast<std::size_t>(node - extract_.node_ids.begin())]
                   : none;
    }

    /// First and last node of the way, each once; missing ones left out.
    std::vector<std::uint32_t> end_nodes(OsmId way) const {
        const auto& nodes = extract_.roads[way_index(way)].nodes;
        std::vector<std::uint32_t> ends;
        if (nodes.empty())
            return ends;
        for (const OsmId id : {nodes.front(), nodes.back()})
            if (const std::uint32_t node = node_index(id);
                node != none && std::find(ends.begin(), ends.end(), node) == ends.end())
                ends.push_back(node);
        return ends;
    }

    std::span<const Piece> pieces_of(OsmId way) const {
        const std::uint32_t index = way_index(way);
        const auto begin = std::lower_bound(roads_.pieces.begin(), roads_.pieces.end(), index,
                                            [](const Piece& piece, std::uint32_t w) { return piece.way < w; });
        const auto end = std::upper_bound(begin, roads_.pieces.end(), index,
                                          [](std::uint32_t w, const Piece& piece) { return w < piece.way; });
        return {begin, end};
    }

    std::uint32_t node_of(std::uint32_t junction) const { return roads_.junctions[junction]; }

    /// Open directed pieces of `way` whose head (arriving) or tail lies at `node`.
    std::vector<DirectedPiece> at_node(OsmId way, std::uint32_t node, bool arriving) const {
        std::vector<DirectedPiece> found;
        for (const Piece& piece : pieces_of(way))
            for (const bool forward : {true, false}) {
                const DirectedPiece d = directed(static_cast<std::uint32_t>(&piece - roads_.pieces.data()), forward);
                const std::uint32_t junction = arriving ? head_of(roads_, d) : tail_of(roads_, d);
                if (is_open(roads_, d) && node_of(junction) == node)
                    found.push_back(d);
            }
        return found;
    }

    /// The whole of `way` driven from `node` to its other end; empty when it is closed or broken somewhere.
    ForbiddenSequence whole_way(OsmId way, std::uint32_t node) const {
        const auto pieces = pieces_of(way);
        const auto first = static_cast<std::uint32_t>(pieces.data() - roads_.pieces.data());
        ForbiddenSequence run;
        if (pieces.empty())
            return run;
        const bool forward = node_of(pieces.front().start) == node;
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            const std::size_t at = forward ? i : pieces.size() - 1 - i;
            const DirectedPiece d = directed(first + static_cast<std::uint32_t>(at), forward);
            if (!is_open(roads_, d) || (!run.empty() && head_of(roads_, run.back()) != tail_of(roads_, d)))
                return {};
            run.push_back(d);
        }
        return run;
    }

    bool ends_at(const std::vector<OsmId>& ways, std::uint32_t node) const {
        return std::any_of(ways.begin(), ways.end(), [&](OsmId way) {
            const auto ends = end_nodes(way);
            return std::find(ends.begin(), ends.end(), node) != ends.end();
        });
    }

    /// All ways to drive from `from` over the via members, in whatever order they connect, to an end of a `to` way.
    void collect_approaches(const TurnRestriction& turn, OsmId from, std::uint32_t node,
                            std::set<ForbiddenSequence>& approaches, bool& meets) const {
        for (const DirectedPiece arrival : at_node(from, node, true))
            follow(turn, {arrival}, node, turn.via_ways, approaches, meets);
        // Closed members still tell whether the relation is well formed.
        if (!meets) {
            std::set<std::uint32_t> reached{node};
            for (std::size_t i = 0; i < turn.via_ways.size(); ++i)
                for (const OsmId way : turn.via_ways)
                    if (const auto ends = end_nodes(way); ends.size() == 2)
                        for (const int side : {0, 1})
                            if (reached.contains(ends[side]))
                                reached.insert(ends[1 - side]);
            meets = std::any_of(reached.begin(), reached.end(), [&](std::uint32_t n) { return ends_at(turn.to, n); });
        }
    }

    void follow(const TurnRestriction& turn, const ForbiddenSequence& so_far, std::uint32_t node,
                const std::vector<OsmId>& left, std::set<ForbiddenSequence>& approaches, bool& meets) const {
        if (left.empty()) {
            if (ends_at(turn.to, node)) {
                meets = true;
                approaches.insert(so_far);
            }
            return;
        }
        for (std::size_t i = 0; i < left.size(); ++i) {
            const auto ends = end_nodes(left[i]);
            if (ends.size() != 2 || (ends[0] != node && ends[1] != node))
                continue;
            const ForbiddenSequence run = whole_way(left[i], node);
            if (run.empty() || tail_of(roads_, run.front()) != head_of(roads_, so_far.back()))
                continue;
            ForbiddenSequence longer = so_far;
            longer.insert(longer.end(), run.begin(), run.end());
            std::vector<OsmId> fewer = left;
            fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
            follow(turn, longer, ends[0] == node ? ends[1] : ends[0], fewer, approaches, meets);
        }
    }

    std::vector<DirectedPiece> exits(const TurnRestriction& turn, const ForbiddenSequence& approach) const {
        const std::uint32_t junction = head_of(roads_, approach.back());
        std::vector<DirectedPiece> found;
        for (const OsmId to : turn.to)
            for (const DirectedPiece d : at_node(to, node_of(junction), false))
                if (tail_of(roads_, d) == junction)
                    found.push_back(d);
        return found;
    }

    bool forbid_exit(const TurnRestriction& turn, const ForbiddenSequence& approach,
                     std::vector<ForbiddenSequence>& bans) const {
        const auto forbidden = exits(turn, approach);
        for (const DirectedPiece d : forbidden) {
            bans.push_back(approach);
            bans.back().push_back(d);
        }
        return !forbidden.empty();
    }

    bool forbid_other_exits(const TurnRestriction& turn, const ForbiddenSequence& approach,
                            std::vector<ForbiddenSequence>& bans) const {
        const auto allowed = exits(turn, approach);
        if (allowed.empty())
            return false;
        // At each junction along the via ways, not at the last one only.
        for (std::size_t length = 1; length <= approach.size(); ++length) {
            const ForbiddenSequence start(approach.begin(), approach.begin() + static_cast<std::ptrdiff_t>(length));
            for (const DirectedPiece d : departures_.from(head_of(roads_, start.back()))) {
                const bool is_allowed = length < approach.size()
                                            ? d == approach[length]
                                            : std::find(allowed.begin(), allowed.end(), d) != allowed.end();
                if (!is_allowed) {
                    bans.push_back(start);
                    bans.back().push_back(d);
                }
            }
        }
        return true;
    }

    const OsmExtract& extract_;
    const RoadPieces& roads_;
    Departures departures_;
};

} // namespace

std::vector<ForbiddenSequence> find_turn_bans(const OsmExtract& extract, const RoadPieces& roads,
                                              const Vehicle& vehicle, BuildCounts& counts) {
    BanFinder finder{extract, roads};
    std::vector<ForbiddenSequence> bans;
    for (const Restriction& relation : extract.restrictions) {
        Remarks remarks;
        const auto turn = read_restriction(relation, vehicle, remarks);
        for (const std::string_view remark : remarks)
            ++counts[std::string{remark}];
        if (!turn)
            continue;
        if (const char* reason = finder.add(*turn, bans))
            ++counts[reason];
        else
            ++counts[turn->via_ways.empty() ? "turn restrictions kept" : "turn restrictions kept, over via ways"];
    }
    std::sort(bans.begin(), bans.end());
    bans.erase(std::unique(bans.begin(), bans.end()), bans.end());
    return bans;
}

} // namespace routing::roads
