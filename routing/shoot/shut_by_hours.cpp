#include "routing/shoot/shut_by_hours.hpp"

#include "routing/roads/rule_times.hpp"
#include "routing/shoot/site_hours.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace routing::shoot {

namespace {

using geo::Intervals;

constexpr geo::Seconds around{24 * 3600};

bool overlap(const Intervals& a, const Intervals& b) {
    const Intervals both = geo::intersect(a, b);
    return std::any_of(both.begin(), both.end(), [](const geo::Interval& one) { return one.from < one.until; });
}

/// Where a rule is judged: the same for all places within a tenth of a degree, or anywhere.
struct Cell {
    int latitude = 0, longitude = 0;
    friend auto operator<=>(const Cell&, const Cell&) = default;
};

class Judge {
public:
    Judge(const roads::RoadNetwork& network, const Intervals& working, const Shoot& shoot)
        : network_(network), shoot_(shoot), span_{working.front().from - around, working.back().until + around} {
        for (const roads::TimeRule& rule : network.time_rules)
            depends_on_place_.push_back(roads::depends_on_place(rule));
    }

    const roads::RuleTimes& times_of(const roads::EdgeTimeRule& row) {
        const geo::Coordinate at = network_.shape_of(network_.edges[roads::value(row.edge)]).front();
        Cell cell;
        if (depends_on_place_[row.rule])
            cell = {static_cast<int>(std::floor(at.latitude.value * 10.0)),
                    static_cast<int>(std::floor(at.longitude.value * 10.0))};
        const auto [known, is_new] = known_.try_emplace({row.rule, cell});
        if (is_new)
            known->second = roads::shut_by_rule(network_.time_rules[row.rule], span_, site_at(at, shoot_));
        return known->second;
    }

    /// What is shut at the edge of what was judged stays so beyond it.
    geo::Interval told(geo::Interval shut) const {
        return {shut.from <= span_.from ? roads::timed::since_ever : shut.from,
                shut.until >= span_.until ? roads::timed::for_ever : shut.until};
    }

private:
    const roads::RoadNetwork& network_;
    const Shoot& shoot_;
    geo::Interval span_;
    std::vector<bool> depends_on_place_; ///< by rule
    std::map<std::pair<std::uint32_t, Cell>, roads::RuleTimes> known_;
};

} // namespace

ShutByHours shut_by_hours(const roads::RoadNetwork& network, const Intervals& working, const Shoot& shoot) {
    ShutByHours result;
    if (network.edge_time_rules.empty())
        return result;
    Judge judge(network, working, shoot);
    std::map<std::pair<geo::Instant, geo::Instant>, std::vector<roads::EdgeIndex>> timed;
    std::set<roads::OsmId> unsure;
    const auto& rows = network.edge_time_rules;
    for (std::size_t begin = 0, end = 0; begin < rows.size(); begin = end) {
        const roads::EdgeIndex edge = rows[begin].edge;
        Intervals shut;
        bool is_unsure = false;
        for (end = begin; end < rows.size() && rows[end].edge == edge; ++end) {
            const roads::RuleTimes& times = judge.times_of(rows[end]);
            shut.insert(shut.end(), times.shut.begin(), times.shut.end());
            is_unsure |= overlap(times.unsure, working);
        }
        shut = geo::join(std::move(shut));
        if (!overlap(shut, working))
            continue;
        if (is_unsure)
            unsure.insert(network.edges[roads::value(edge)].way);
        if (geo::without(working, shut).empty()) {
            result.throughout.push_back(edge);
            continue;
        }
        for (const geo::Interval& one : shut) {
            const geo::Interval told = judge.told(one);
            timed[{told.from, told.until}].push_back(edge);
        }
    }
    for (auto& [span, edges] : timed)
        result.timed.push_back({std::move(edges), {span.first, span.second}});
    result.unsure_roads = unsure.size();
    return result;
}

} // namespace routing::shoot
