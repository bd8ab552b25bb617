#include "routing/roads/road_pieces.hpp"

#include "routing/roads/ferry.hpp"
#include "routing/roads/line_length.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace routing::roads {
namespace {

constexpr double signals_merge_metres = 30.0; // one junction's lights are mapped as several nodes

/// Nodes of a way's unbroken parts, as indices into the extract's node table.
using Part = std::vector<std::uint32_t>;

void count_all(const Remarks& remarks, BuildCounts& counts) {
    for (const std::string_view remark : remarks)
        ++counts[std::string{remark}];
}

class Cutter {
public:
    Cutter(const OsmExtract& extract, const std::vector<WayRuling>& rulings, BuildCounts& counts)
        : extract_(extract), rulings_(rulings), counts_(counts), uses_(extract.node_ids.size()),
          ruling_of_(extract.node_ids.size(), none), junction_of_(extract.node_ids.size(), none) {
        result_.same_node.resize(extract.node_ids.size());
        std::iota(result_.same_node.begin(), result_.same_node.end(), 0U);
    }

    RoadPieces run(const NodeRule& rule_node) {
        find_parts();
        join_zero_lengths();
        rule_nodes(rule_node);
        count_uses();
        for (std::uint32_t way = 0; way < rulings_.size(); ++way)
            cut_way(way);
        limit_to_destination();
        add_time_rules();
        return std::move(result_);
    }

private:
    struct NodeHere {
        std::uint32_t node = 0;
        double metres = 0.0; ///< from the part's start
        double forward_delay = 0.0;
        double backward_delay = 0.0;
    };

    void find_parts() {
        parts_.resize(rulings_.size());
        std::size_t hint = 0;
        for (std::uint32_t way = 0; way < rulings_.size(); ++way) {
            if (!rulings_[way].drivable())
                continue;
            Part part;
            const auto end_part = [&] {
                if (part.size() >= 2)
                    parts_[way].push_back(std::move(part));
                part.clear();
            };
            bool holes = false;
            for (const OsmId id : extract_.roads[way].nodes) {
                const std::uint32_t node = index_of(id, hint);
                if (node == none) {
                    end_part();
                    holes = true;
                } else {
                    part.push_back(node);
                }
            }
            end_part();
            if (holes)
                ++counts_["roads cut where nodes are missing"];
        }
    }

    std::uint32_t index_of(OsmId id, std::size_t& hint) const {
        const auto& ids = extract_.node_ids;
        // Neighbours along a way often have neighbouring ids.
        if (hint + 1 < ids.size() && ids[hint + 1] == id)
            return static_cast<std::uint32_t>(++hint);
        const auto found = std::lower_bound(ids.begin(), ids.end(), id);
        if (found == ids.end() || *found != id)
            return none;
        hint = static_cast<std::size_t>(found - ids.begin());
        return static_cast<std::uint32_t>(hint);
    }

    /// Two nodes of one way at one place are one node; then no edge has length zero, and no speed divides by it.
    void join_zero_lengths() {
        for (const auto& way_parts : parts_)
            for (const Part& part : way_parts)
                for (std::size_t i = 0; i + 1 < part.size(); ++i)
                    if (part[i] != part[i + 1] && extract_.node_places[part[i]] == extract_.node_places[part[i + 1]])
                        join(part[i], part[i + 1]);
        for (auto& way_parts : parts_) {
            for (Part& part : way_parts) {
                for (std::uint32_t& node : part)
                    node = representative(node);
                part.erase(std::unique(part.begin(), part.end()), part.end());
            }
            std::erase_if(way_parts, [](const Part& part) { return part.size() < 2; });
        }
        for (std::uint32_t node = 0; node < result_.same_node.size(); ++node)
            result_.same_node[node] = representative(node);
        for (std::uint32_t way = 0; way < rulings_.size(); ++way)
            if (rulings_[way].drivable() && parts_[way].empty())
                ++counts_["roads without two different nodes: left out"];
    }

    std::uint32_t representative(std::uint32_t node) {
        auto& same = result_.same_node;
        while (same[node] != node)
            node = same[node] = same[same[node]];
        return node;
    }

    void join(std::uint32_t a, std::uint32_t b) {
        a = representative(a);
        b = representative(b);
        if (a == b)
            return;
        result_.same_node[std::max(a, b)] = std::min(a, b);
        ++counts_["zero-length road stretches: ends joined"];
    }

    void rule_nodes(const NodeRule& rule_node) {
        std::size_t hint = 0;
        for (const RoadNode& road_node : extract_.road_nodes) {
            std::uint32_t node = index_of(road_node.id, hint);
            if (node == none)
                continue;
            node = result_.same_node[node];
            Remarks remarks;
            const NodeRuling ruling = rule_node(road_node.tags, remarks);
            pending_remarks_.emplace_back(node, remarks);
            if (ruling_of_[node] == none) {
                ruling_of_[node] = static_cast<std::uint32_t>(node_rulings_.size());
                node_rulings_.push_back(ruling);
                continue;
            }
            NodeRuling& both = node_rulings_[ruling_of_[node]];
            both.access = std::max(both.access, ruling.access);
            both.is_barrier |= ruling.is_barrier;
            both.notes |= ruling.notes;
            both.time_rules.insert(both.time_rules.end(), ruling.time_rules.begin(), ruling.time_rules.end());
            both.other.forward += ruling.other.forward;
            both.other.backward += ruling.other.backward;
            both.signals.forward = std::max(both.signals.forward, ruling.signals.forward);
            both.signals.backward = std::max(both.signals.backward, ruling.signals.backward);
        }
    }

    const NodeRuling& ruling_at(std::uint32_t node) const {
        static const NodeRuling nothing{};
        return ruling_of_[node] == none ? nothing : node_rulings_[ruling_of_[node]];
    }

    void count_uses() {
        const auto use = [this](std::uint32_t node, int times) {
            uses_[node] = static_cast<std::uint8_t>(std::min(3, uses_[node] + times));
        };
        for (const auto& way_parts : parts_)
            for (const Part& part : way_parts) {
                for (std::size_t i = 0; i < part.size(); ++i)
                    use(part[i], i == 0 || i + 1 == part.size() ? 1 : 2);
                // A part's end is a junction even where nothing else meets it.
                ends_.push_back(part.front());
                ends_.push_back(part.back());
            }
        std::sort(ends_.begin(), ends_.end());
        ends_.erase(std::unique(ends_.begin(), ends_.end()), ends_.end());
        // Said only for nodes that can be come to.
        for (const auto& [node, remarks] : pending_remarks_)
            if (uses_[node] > 0)
                count_all(remarks, counts_);
        for (std::uint32_t node = 0; node < uses_.size(); ++node)
            if (uses_[node] > 2 && ruling_at(node).is_barrier)
                ++counts_["barriers on a junction: applied to every turn there"];
    }

    /// `uses_` counts piece ends that would meet at the node: 2 in the middle of a way.
    bool is_junction(const Part& part, std::size_t i) const {
        const std::uint32_t node = part[i];
        return i == 0 || i + 1 == part.size() || uses_[node] > 2 || ruling_at(node).is_barrier ||
               std::binary_search(ends_.begin(), ends_.end(), node);
    }

    std::uint32_t junction_at(std::uint32_t node) {
        const auto next = static_cast<std::uint32_t>(result_.junctions.size());
        const bool shut = ruling_at(node).access == Access::forbidden;
        if (!shut && junction_of_[node] != none)
            return junction_of_[node];
        junction_of_[node] = next;
        result_.junctions.push_back(node);
        return next;
    }

    std::vector<NodeHere> measure(const Part& part) const {
        std::vector<NodeHere> line(part.size());
        for (std::size_t i = 0; i < part.size(); ++i) {
            const NodeRuling& ruling = ruling_at(part[i]);
            line[i].node = part[i];
            line[i].forward_delay = static_cast<double>(ruling.other.forward.count());
            line[i].backward_delay = static_cast<double>(ruling.other.backward.count());
            if (i > 0)
                line[i].metres =
                    line[i - 1].metres +
                    ground_distance(extract_.node_places[part[i - 1]], extract_.node_places[part[i]]).value;
        }
        double last = -signals_merge_metres;
        for (auto at = line.begin(); at != line.end(); ++at) {
            const auto seconds = static_cast<double>(ruling_at(at->node).signals.forward.count());
            if (seconds > 0.0 && at->metres - last >= signals_merge_metres) {
                at->forward_delay += seconds;
                last = at->metres;
            }
        }
        last = line.back().metres + signals_merge_metres;
        for (auto at = line.rbegin(); at != line.rend(); ++at) {
            const auto seconds = static_cast<double>(ruling_at(at->node).signals.backward.count());
            if (seconds > 0.0 && last - at->metres >= signals_merge_metres) {
                at->backward_delay += seconds;
                last = at->metres;
            }
        }
        return line;
    }

    void cut_way(std::uint32_t way) {
        std::vector<std::vector<NodeHere>> lines;
        double way_metres = 0.0;
        for (const Part& part : parts_[way]) {
            lines.push_back(measure(part));
            way_metres += lines.back().back().metres;
        }
        FerryRuling ferry;
        if (rulings_[way].ferry && !lines.empty()) {
            Remarks remarks;
            ferry = read_ferry(extract_.roads[way].tags, geo::Metres{way_metres}, remarks);
            count_all(remarks, counts_);
        }
        for (std::size_t p = 0; p < lines.size(); ++p) {
            std::size_t begin = 0;
            for (std::size_t i = 1; i < lines[p].size(); ++i)
                if (is_junction(parts_[way][p], i)) {
                    add_piece(way, lines[p], begin, i, way_metres, ferry);
                    begin = i;
                }
        }
    }

    void add_piece(std::uint32_t way, const std::vector<NodeHere>& line, std::size_t begin, std::size_t end,
                   double way_metres, const FerryRuling& ferry) {
        const WayRuling& ruling = rulings_[way];
        Piece piece;
        piece.way = way;
        piece.metres = line[end].metres - line[begin].metres;
        piece.notes = ruling.notes;
        piece.destination_only = ruling.destination_only;
        piece.start = junction_at(line[begin].node);
        piece.end = junction_at(line[end].node);
        piece.shape_begin = static_cast<std::uint32_t>(result_.shape_nodes.size());
        double forward_delay = 0.0;
        double backward_delay = 0.0;
        for (std::size_t i = begin; i <= end; ++i) {
            result_.shape_nodes.push_back(line[i].node);
            piece.notes |= ruling_at(line[i].node).notes;
            // Who passes a node pays there once: on arriving.
            forward_delay += i > begin ? line[i].forward_delay : 0.0;
            backward_delay += i < end ? line[i].backward_delay : 0.0;
        }
        piece.shape_end = static_cast<std::uint32_t>(result_.shape_nodes.size());
        // At a pole, different places can be 0 m apart.
        const double share = way_metres > 0.0 ? piece.metres / way_metres : 0.0;
        const double extra = share * static_cast<double>(ruling.extra.count());
        double forward_seconds = 0.0;
        double backward_seconds = 0.0;
        if (!ruling.ferry) {
            forward_seconds = ruling.forward ? piece.metres * 3.6 / ruling.forward_speed.value : 0.0;
            backward_seconds = ruling.backward ? piece.metres * 3.6 / ruling.backward_speed.value : 0.0;
        } else {
            forward_seconds = backward_seconds = share * static_cast<double>(ferry.under_way.count());
            // Boarding is paid where the van comes from land, on either end.
            forward_delay += meets_land(line[begin].node) ? static_cast<double>(ferry.boarding.count()) : 0.0;
            backward_delay += meets_land(line[end].node) ? static_cast<double>(ferry.boarding.count()) : 0.0;
        }
        if (ruling.forward)
            piece.forward = crossing_time(forward_seconds + extra + forward_delay);
        if (ruling.backward)
            piece.backward = crossing_time(backward_seconds + extra + backward_delay);
        result_.pieces.push_back(piece);
    }

    static Milliseconds crossing_time(double seconds) {
        const double milliseconds = std::round(seconds * 1000.0);
        return static_cast<Milliseconds>(std::clamp(milliseconds, 1.0, static_cast<double>(closed - 1)));
    }

    bool meets_land(std::uint32_t node) {
        if (land_.empty()) {
            land_.resize(extract_.node_ids.size());
            for (std::uint32_t way = 0; way < rulings_.size(); ++way)
                if (!rulings_[way].ferry)
                    for (const Part& part : parts_[way])
                        for (const std::uint32_t n : part)
                            land_[n] = true;
        }
        return land_[node];
    }

    /// Barriers open to visitors only: the pieces on both sides become destination-only. At a junction that would shut
    /// through roads, so there it is only a note.
    void limit_to_destination() {
        for (Piece& piece : result_.pieces)
            for (const std::uint32_t junction : {piece.start, piece.end}) {
                const std::uint32_t node = result_.junctions[junction];
                if (ruling_at(node).access != Access::destination_only)
                    continue;
                if (uses_[node] > 2)
                    piece.notes |= note_doubtful_access;
                else
                    piece.destination_only = true;
            }
    }

    void add_time_rules() {
        for (std::uint32_t way = 0; way < rulings_.size(); ++way)
            if (!parts_[way].empty())
                for (const TimeRule& rule : rulings_[way].time_rules)
                    result_.way_rules.emplace_back(way, rule);
        std::map<std::uint32_t, std::vector<std::uint32_t>> pieces_at; // by node of a gate with hours
        for (std::uint32_t p = 0; p < result_.pieces.size(); ++p) {
            const std::uint32_t start = result_.junctions[result_.pieces[p].start];
            const std::uint32_t end = result_.junctions[result_.pieces[p].end];
            for (const std::uint32_t node : {start, end})
                if (!ruling_at(node).time_rules.empty() && (node == start || start != end))
                    pieces_at[node].push_back(p);
        }
        for (auto& [node, pieces] : pieces_at) {
            // Who passes the gate drives two of them; the longest is left open to stops on it that need not pass.
            const auto longer = [this](auto a, auto b) { return result_.pieces[a].metres > result_.pieces[b].metres; };
            std::stable_sort(pieces.begin(), pieces.end(), longer);
            for (std::size_t n = pieces.size() > 1 ? 1 : 0; n < pieces.size(); ++n)
                for (const TimeRule& rule : ruling_at(node).time_rules)
                    result_.piece_rules.emplace_back(pieces[n], rule);
        }
        std::sort(result_.piece_rules.begin(), result_.piece_rules.end());
    }

    const OsmExtract& extract_;
    const std::vector<WayRuling>& rulings_;
    BuildCounts& counts_;
    RoadPieces result_;
    std::vector<std::vector<Part>> parts_; ///< beside rulings_
    std::vector<std::uint8_t> uses_;       ///< piece ends that meet at a node, up to 3
    std::vector<std::uint32_t> ends_;      ///< nodes where a part ends; sorted
    std::vector<std::uint32_t> ruling_of_;
    std::vector<NodeRuling> node_rulings_;
    std::vector<std::pair<std::uint32_t, Remarks>> pending_remarks_;
    std::vector<std::uint32_t> junction_of_;
    std::vector<bool> land_;
};

} // namespace

RoadPieces cut_roads(const OsmExtract& extract, const std::vector<WayRuling>& rulings, const NodeRule& rule_node,
                     BuildCounts& counts) {
    return Cutter{extract, rulings, counts}.run(rule_node);
}

} // namespace routing::roads
