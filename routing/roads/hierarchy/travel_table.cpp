#include "routing/roads/hierarchy/travel_table.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

namespace routing::roads::hierarchy {

namespace {

/// Along the one edge both points lie on, in that direction; `closed` when the target lies behind.
Milliseconds time_along(const Edge& edge, const RoadPoint& from, const RoadPoint& to, bool forward) {
    const Milliseconds crossing = forward ? edge.forward : edge.backward;
    const double start = driven_fraction(from, forward);
    const double end = driven_fraction(to, forward);
    if (crossing >= closed || end < start)
        return closed;
    return time_to_fraction(crossing, end) - time_to_fraction(crossing, start);
}

struct Entry {
    std::uint32_t bucket;
    std::uint32_t target;
    Milliseconds time;
};

} // namespace

TravelTable::TravelTable(const Metric& metric)
    : metric_(metric), ends_(metric.network()), time_at_(metric.shape().size(), closed),
      listed_(metric.shape().size(), false), bucket_(metric.shape().size(), none) {}

std::vector<LegEnd> TravelTable::departures(const RoadPoint& from) const {
    return ends_.departures(from, [this](EdgeIndex edge) { return metric_.is_shut(edge); });
}

std::vector<LegEnd> TravelTable::arrivals(const RoadPoint& to) const {
    return ends_.arrivals(to, [this](EdgeIndex edge) { return metric_.is_shut(edge); });
}

TravelTable::Half TravelTable::climb(const std::vector<LegEnd>& ends, Way way, bool tops_only) {
    const Hierarchy& shape = metric_.shape();
    Half half;
    for (const LegEnd& end : ends) {
        const auto middle = static_cast<std::ptrdiff_t>(half.ranks.size());
        for (Rank at = shape.rank[end.node]; at != none && !listed_[at]; at = shape.parent[at]) {
            listed_[at] = true;
            half.ranks.push_back(at);
        }
        std::inplace_merge(half.ranks.begin(), half.ranks.begin() + middle, half.ranks.end());
    }
    for (const Rank rank : half.ranks)
        listed_[rank] = false;
    for (const LegEnd& end : ends)
        time_at_[shape.rank[end.node]] = std::min(time_at_[shape.rank[end.node]], end.time);
    for (const Rank rank : half.ranks) {
        const Milliseconds time = time_at_[rank];
        if (time >= closed)
            continue;
        for (UpArc arc = shape.first[rank]; arc < shape.first[rank + 1]; ++arc) {
            const Milliseconds on = time + (way == Way::up ? metric_.up(arc) : metric_.down(arc));
            time_at_[shape.head[arc]] = std::min(time_at_[shape.head[arc]], on);
        }
    }
    half.times.reserve(half.ranks.size());
    for (const Rank rank : half.ranks) {
        Milliseconds time = time_at_[rank];
        // Reached sooner by way of a higher node: no quickest way has its top here.
        for (UpArc arc = shape.first[rank]; tops_only && time < closed && arc < shape.first[rank + 1]; ++arc)
            if (time_at_[shape.head[arc]] + (way == Way::up ? metric_.down(arc) : metric_.up(arc)) < time)
                time = closed;
        half.times.push_back(time);
    }
    for (const Rank rank : half.ranks)
        time_at_[rank] = closed;
    return half;
}

std::vector<Milliseconds> TravelTable::times(const std::vector<RoadPoint>& sources,
                                             const std::vector<RoadPoint>& targets) {
    std::vector<std::vector<LegEnd>> starts, finishes;
    for (const RoadPoint& source : sources)
        starts.push_back(departures(source));
    for (const RoadPoint& target : targets)
        finishes.push_back(arrivals(target));
    std::vector<Milliseconds> table = times_over(starts, finishes);
    std::size_t cell = 0;
    for (const RoadPoint& source : sources)
        for (const RoadPoint& target : targets) {
            table[cell] = std::min(table[cell], time_on_one_edge(source, target));
            ++cell;
        }
    return table;
}

std::vector<Milliseconds> TravelTable::times_over(const std::vector<std::vector<LegEnd>>& sources,
                                                  const std::vector<std::vector<LegEnd>>& targets) {
    std::vector<Entry> entries;
    std::vector<Rank> marked;
    for (std::uint32_t target = 0; target < targets.size(); ++target) {
        const Half half = climb(targets[target], Way::down, true);
        for (std::size_t i = 0; i < half.ranks.size(); ++i) {
            if (half.times[i] >= closed)
                continue;
            std::uint32_t& bucket = bucket_[half.ranks[i]];
            if (bucket == none) {
                bucket = static_cast<std::uint32_t>(marked.size());
                marked.push_back(half.ranks[i]);
            }
            entries.push_back({bucket, target, half.times[i]});
        }
    }
    std::vector<std::uint32_t> first(marked.size() + 1, 0);
    for (const Entry& entry : entries)
        ++first[entry.bucket + 1];
    std::partial_sum(first.begin(), first.end(), first.begin());
    std::vector<Entry> sorted(entries.size());
    std::vector<std::uint32_t> next(first.begin(), first.end() - 1);
    for (const Entry& entry : entries)
        sorted[next[entry.bucket]++] = entry;

    std::vector<Milliseconds> table(sources.size() * targets.size(), closed);
    for (std::size_t source = 0; source < sources.size(); ++source) {
        Milliseconds* const row = table.data() + source * targets.size();
        const Half half = climb(sources[source], Way::up, true);
        for (std::size_t i = 0; i < half.ranks.size(); ++i) {
            const std::uint32_t bucket = half.times[i] < closed ? bucket_[half.ranks[i]] : none;
            if (bucket == none)
                continue;
            for (std::uint32_t e = first[bucket]; e < first[bucket + 1]; ++e)
                row[sorted[e].target] = std::min(row[sorted[e].target], half.times[i] + sorted[e].time);
        }
    }
    for (const Rank rank : marked)
        bucket_[rank] = none;
    return table;
}

/// Without leaving the edge both lie on; `closed` when there is no such way.
Milliseconds TravelTable::time_on_one_edge(const RoadPoint& from, const RoadPoint& to) const {
    if (from.edge != to.edge)
        return closed;
    if (from.fraction == to.fraction)
        return 0;
    if (metric_.is_shut(from.edge))
        return closed;
    const Edge& edge = metric_.network().edges[value(from.edge)];
    return std::min(time_along(edge, from, to, true), time_along(edge, from, to, false));
}

void TravelTable::unpack(UpArc arc, Way way, std::vector<std::uint32_t>& network_arcs) const {
    const Hierarchy& shape = metric_.shape();
    const Milliseconds time = way == Way::up ? metric_.up(arc) : metric_.down(arc);
    for (const std::uint32_t input : shape.inputs_of(2 * arc + static_cast<std::uint32_t>(way)))
        if (metric_.own_time(input) == time) {
            network_arcs.push_back(input);
            return;
        }
    const Rank low = shape.tail[arc];
    for (std::uint32_t i = shape.first_below[low]; i < shape.first_below[low + 1]; ++i) {
        const UpArc to_low = shape.below[i];
        const UpArc to_high = shape.between(shape.tail[to_low], shape.head[arc]);
        if (to_high == none)
            continue;
        const UpArc down_first = way == Way::up ? to_low : to_high;
        const UpArc then_up = way == Way::up ? to_high : to_low;
        if (metric_.down(down_first) + metric_.up(then_up) == time) {
            unpack(down_first, Way::down, network_arcs);
            unpack(then_up, Way::up, network_arcs);
            return;
        }
    }
    assert(false && "an up-arc's time comes from a road or from below");
}

/// From the top of a half down to one of its ends: up-arcs in that order, and the end's position in `ends`.
std::uint32_t TravelTable::descend(Rank top, const std::vector<LegEnd>& ends, const Half& half, Way way,
                                   std::vector<UpArc>& up_arcs) const {
    const Hierarchy& shape = metric_.shape();
    const auto time_of = [&half](Rank rank) {
        const auto found = std::lower_bound(half.ranks.begin(), half.ranks.end(), rank);
        return found != half.ranks.end() && *found == rank
                   ? half.times[static_cast<std::size_t>(found - half.ranks.begin())]
                   : closed;
    };
    for (Rank at = top;;) {
        const Milliseconds time = time_of(at);
        for (std::uint32_t end = 0; end < ends.size(); ++end)
            if (shape.rank[ends[end].node] == at && ends[end].time == time)
                return end;
        UpArc from_below = none;
        for (std::uint32_t i = shape.first_below[at]; i < shape.first_below[at + 1] && from_below == none; ++i) {
            const UpArc arc = shape.below[i];
            const Milliseconds below = time_of(shape.tail[arc]);
            if (below < closed && below + (way == Way::up ? metric_.up(arc) : metric_.down(arc)) == time)
                from_below = arc;
        }
        assert(from_below != none && "a time comes from an end or from below");
        up_arcs.push_back(from_below);
        at = shape.tail[from_below];
    }
}

std::optional<Path> TravelTable::quickest_path(const RoadPoint& from, const RoadPoint& to) {
    const std::vector<LegEnd> starts = departures(from);
    const std::vector<LegEnd> finishes = arrivals(to);
    const Half out = climb(starts, Way::up, false);
    const Half in = climb(finishes, Way::down, false);
    Milliseconds best = closed;
    Rank top = none;
    for (std::size_t i = 0, j = 0; i < out.ranks.size() && j < in.ranks.size();) {
        if (out.ranks[i] != in.ranks[j]) {
            ++(out.ranks[i] < in.ranks[j] ? i : j);
            continue;
        }
        if (out.times[i] + in.times[j] < best) {
            best = out.times[i] + in.times[j];
            top = out.ranks[i];
        }
        ++i;
        ++j;
    }
    Path path;
    if (const Milliseconds along = time_on_one_edge(from, to); along < closed && along <= best) {
        path.time = along;
        if (from.fraction != to.fraction) {
            const bool forward = time_along(metric_.network().edges[value(from.edge)], from, to, true) == along;
            path.pieces.push_back({from.edge, forward, driven_fraction(from, forward), driven_fraction(to, forward)});
        }
    } else if (top != none) {
        path.time = best;
        path.pieces = pieces_over(top, from, to, starts, out, finishes, in);
    } else {
        return std::nullopt;
    }
    std::erase_if(path.pieces, [](const PathPiece& piece) { return piece.from_fraction == piece.to_fraction; });
    for (const PathPiece& piece : path.pieces)
        path.length += piece_length(metric_.network(), piece);
    return path;
}

std::vector<PathPiece> TravelTable::pieces_over(Rank top, const RoadPoint& from, const RoadPoint& to,
                                                const std::vector<LegEnd>& starts, const Half& out,
                                                const std::vector<LegEnd>& finishes, const Half& in) const {
    std::vector<UpArc> climbed;
    std::vector<UpArc> descended;
    std::uint32_t start = descend(top, starts, out, Way::up, climbed);
    std::uint32_t finish = descend(top, finishes, in, Way::down, descended);

    std::vector<std::uint32_t> arcs; // between the two points' own edges
    for (; starts[start].next != none; start = starts[start].next)
        arcs.push_back(starts[start].arc);
    std::reverse(arcs.begin(), arcs.end());
    for (auto arc = climbed.rbegin(); arc != climbed.rend(); ++arc)
        unpack(*arc, Way::up, arcs);
    for (const UpArc arc : descended)
        unpack(arc, Way::down, arcs);
    for (; finishes[finish].next != none; finish = finishes[finish].next)
        arcs.push_back(finishes[finish].arc);

    const auto& network_arcs = metric_.network().arcs;
    const bool sets_off_forward = network_arcs[starts[start].arc].forward;
    const bool arrives_forward = network_arcs[finishes[finish].arc].forward;
    std::vector<PathPiece> pieces{{from.edge, sets_off_forward, driven_fraction(from, sets_off_forward), 1.0}};
    for (const std::uint32_t arc : arcs)
        pieces.push_back({network_arcs[arc].edge, network_arcs[arc].forward, 0.0, 1.0});
    pieces.push_back({to.edge, arrives_forward, 0.0, driven_fraction(to, arrives_forward)});
    return pieces;
}

} // namespace routing::roads::hierarchy
