#include "routing/order/bounds.hpp"

#include "routing/order/assignment.hpp"

#include <algorithm>
#include <bit>
#include <span>

namespace routing::order {
namespace {

constexpr std::int64_t worst_cost = INT64_MAX;
constexpr Time none = Time{1} << 60;
/// Costs are packed in 31 and 32 bits.
constexpr Time most_of_a_level = (Time{1} << 31) - 1;

template <class Use>
void for_each_visit(VisitSet set, Use use) {
    for (; set != 0; set &= set - 1)
        use(static_cast<std::uint32_t>(std::countr_zero(set)));
}

} // namespace

std::int64_t pack_cost(const Instance& instance, Time travel, Time wrap) {
    return instance.problem->economy == Economy::travel ? travel * (Time{1} << 32) + wrap
                                                        : wrap * (Time{1} << 32) + travel;
}

Bounds::Bounds(const Instance& instance, const Part& part)
    : instance_(instance), part_(part), last_day_(part.days.back().day) {
    for (std::uint32_t v = 0; v < instance.visits; ++v) {
        const Visit& visit = instance.problem->visits[v];
        must_.push_back(part.value.empty() ? visit.must_weight : 0);
        worth_.push_back(part.value.empty() ? visit.worth : part.value[v]);
        value_.push_back(must_[v] * must_unit + worth_[v]);
        if (value_[v] > 0)
            valued_ |= VisitSet{1} << v;
    }
    find_ways_in();
    find_needs();
    price_leaving();
    find_edges_of_days();
}

void Bounds::find_ways_in() {
    const std::uint32_t n = instance_.visits;
    const auto ways_of = [&](std::uint32_t v) {
        return std::span(instance_.ways)
            .subspan(instance_.first_way[v], instance_.first_way[v + 1] - instance_.first_way[v]);
    };
    ways_in_.resize(n);
    for_each_visit(part_.free, [&](std::uint32_t v) {
        for_each_visit(part_.free, [&](std::uint32_t u) {
            Time least = no_way;
            if (u != v)
                for (const Way& from : ways_of(u))
                    for (const Way& way : ways_of(v))
                        if (may_follow(instance_, part_, from, way))
                            least = std::min(least, instance_.arc(instance_.places[from.place].from, way.to));
            if (least < no_way)
                ways_in_[v].push_back({least, u});
        });
    });

    place_in_.assign(instance_.places.size() * n, no_way);
    for (std::size_t p = 0; p < instance_.places.size(); ++p)
        for (const Way& way : instance_.ways) {
            if (!(part_.free >> way.visit & 1U))
                continue;
            Time& least = place_in_[p * n + way.visit];
            least = std::min(least, instance_.arc(instance_.places[p].from, way.to));
        }
    // Any start may begin any day: a bound, and close enough.
    start_in_.assign(n, no_way);
    for (std::size_t p = 0; p < instance_.places.size(); ++p)
        for (std::uint32_t v = 0; v < n && instance_.places[p].start; ++v)
            if (!instance_.places[p].nowhere || instance_.first_start == instance_.nowhere)
                start_in_[v] = std::min(start_in_[v], place_in_[p * n + v]);
}

void Bounds::find_needs() {
    const std::uint32_t n = instance_.visits;
    least_service_.assign(n, no_way);
    for (const Way& way : instance_.ways)
        least_service_[way.visit] = std::min(least_service_[way.visit], way.service);
    for (std::uint32_t v = 0; v < n; ++v) {
        Time way_in = start_in_[v];
        for (const WayIn& way : ways_in_[v])
            way_in = std::min(way_in, way.cost);
        need_.push_back(least_service_[v] + (way_in < no_way ? way_in : 0));
    }
    const auto sort_by_rate = [&](std::vector<std::uint32_t>& order, auto gain) {
        for_each_visit(part_.free, [&](std::uint32_t v) { order.push_back(v); });
        std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
            if (need_[a] == 0 || need_[b] == 0) // these always fit
                return need_[a] == 0 && need_[b] != 0;
            return gain(a) * need_[b] > gain(b) * need_[a]; // gains below 2^31, needs below 2^24
        });
    };
    sort_by_rate(by_must_rate_, [&](std::uint32_t v) { return must_[v]; });
    sort_by_rate(by_worth_rate_, [&](std::uint32_t v) { return worth_[v]; });
    later_room_.assign(instance_.days.size(), 0);
    for (std::size_t i = part_.days.size() - 1; i > 0; --i) {
        const std::uint32_t d = part_.days[i].day;
        later_room_[part_.days[i - 1].day] =
            later_room_[d] + std::max<Time>(0, instance_.days[d].latest_wrap - instance_.days[d].earliest_call);
    }
}

/// Prices of the assignment in which each visit, and one start, is followed by a visit or an end of its own.
void Bounds::price_leaving() {
    std::vector<std::uint32_t> row(instance_.visits, 0); // visit -> its row
    std::size_t rows = 0;
    Time longest = 0;
    const auto note = [&](Time travel) { longest = std::max(longest, travel < no_way ? travel : 0); };
    for_each_visit(part_.free, [&](std::uint32_t v) {
        row[v] = static_cast<std::uint32_t>(rows++);
        note(start_in_[v]);
        for (const WayIn& way : ways_in_[v])
            note(way.cost);
    });
    for (const PartDay& day : part_.days)
        for (const Time travel : instance_.end_arc[day.day])
            note(travel);
    // Where there is no way: dear, but not so dear that one such place drowns all other prices.
    const std::size_t size = rows + 1;
    std::vector<Time> costs(size * size, 4 * longest + 1);
    for_each_visit(part_.free, [&](std::uint32_t v) {
        costs[rows * size + row[v]] = std::min(costs[rows * size + row[v]], start_in_[v]);
        for (const WayIn& way : ways_in_[v])
            costs[row[way.from] * size + row[v]] = way.cost;
    });
    for (const Way& way : instance_.ways)
        for (const PartDay& day : part_.days) {
            if (!(part_.free >> way.visit & 1U))
                continue;
            Time& cost = costs[row[way.visit] * size + rows];
            cost = std::min(cost, instance_.end_arc[day.day][instance_.places[way.place].from]);
        }
    // The start's own is left out: days that may or may not be used can't be priced.
    const std::vector<Time> prices = row_prices(costs, size);
    leaving_.assign(instance_.visits, 0);
    for_each_visit(part_.free, [&](std::uint32_t v) { leaving_[v] = prices[row[v]]; });
    for (auto& ways : ways_in_) {
        for (WayIn& way : ways)
            way.cost -= leaving_[way.from];
        std::stable_sort(ways.begin(), ways.end(), [](const WayIn& a, const WayIn& b) { return a.cost < b.cost; });
    }
    place_leaving_.assign(instance_.places.size(), 0);
    for (const Way& way : instance_.ways)
        if (part_.free >> way.visit & 1U)
            place_leaving_[way.place] = leaving_[way.visit];
}

void Bounds::find_edges_of_days() {
    const std::uint32_t n = instance_.visits;
    const std::size_t days = instance_.days.size();
    visit_end_.assign(days * n, no_way);
    later_ends_.assign(days, 0);
    for (std::size_t i = part_.days.size(); i-- > 0;) {
        const std::uint32_t d = part_.days[i].day;
        Time least = 0;
        for (const Way& way : instance_.ways) {
            if (!(part_.free >> way.visit & 1U))
                continue;
            Time& cost = visit_end_[d * n + way.visit];
            cost = std::min(cost, instance_.end_arc[d][instance_.places[way.place].from] - leaving_[way.visit]);
            least = std::min(least, cost);
        }
        if (i > 0)
            later_ends_[part_.days[i - 1].day] = later_ends_[d] + least;
    }
}

std::int64_t Bounds::open_value(VisitSet open) const {
    std::int64_t sum = 0;
    for_each_visit(open, [&](std::uint32_t v) { sum += value_[v]; });
    return sum;
}

Time Bounds::minutes_left(const Label& label, std::uint32_t day) const {
    return std::max<Time>(0, instance_.days[day].latest_wrap - label.ready) + later_room_[day];
}

/// The most of `gain` that fits, the last visit in part.
std::int64_t Bounds::fill(const std::vector<std::uint32_t>& by_rate, VisitSet open, Time room,
                          const std::vector<std::int64_t>& gains) const {
    std::int64_t gained = 0;
    for (const std::uint32_t v : by_rate) {
        if (!(open >> v & 1U))
            continue;
        const std::int64_t gain = gains[v];
        if (need_[v] > room)
            return gained + gain * room / need_[v];
        room -= need_[v];
        gained += gain;
    }
    return gained;
}

void Bounds::price_minutes(std::uint32_t steps, std::int64_t target) {
    prices_.emplace(instance_, part_);
    prices_->improve(steps, target);
}

std::int64_t Bounds::value(const Label& label, std::uint32_t day) const {
    const std::int64_t by_room = value_by_room(label, day);
    return prices_ ? std::min(by_room, prices_->value(label, day)) : by_room;
}

std::int64_t Bounds::value_by_room(const Label& label, std::uint32_t day) const {
    const VisitSet open = ~label.settled & valued_;
    const Time room = minutes_left(label, day);
    Time need = 0;
    for_each_visit(open, [&](std::uint32_t v) { need += need_[v]; });
    if (need <= room)
        return label.standing.value + open_value(open);
    return label.standing.value + must_unit * fill(by_must_rate_, open, room, must_) +
           fill(by_worth_rate_, open, room, worth_);
}

Bounds::WaysIn Bounds::ways_in(VisitSet open, const Time* place_in, Time leaving_place, const Time* start_in) const {
    WaysIn sum;
    for_each_visit(open, [&](std::uint32_t v) {
        Time cheapest = none;
        if (place_in && place_in[v] < no_way)
            cheapest = place_in[v] - leaving_place;
        if (start_in && start_in[v] < no_way)
            cheapest = std::min(cheapest, start_in[v]);
        for (const WayIn& way : ways_in_[v]) {
            if (way.cost >= cheapest)
                break;
            if (open >> way.from & 1U)
                cheapest = way.cost;
        }
        if (valued_ >> v & 1U) {
            sum.possible = sum.possible && cheapest < none;
            sum.travel += cheapest + leaving_[v];
            sum.service += least_service_[v];
        } else {
            sum.travel += std::min<Time>(0, cheapest + leaving_[v]); // on the way only if it saves travel
        }
    });
    return sum;
}

VisitSet Bounds::open_visits(const Label& label) const {
    return instance_.visits == 64 ? ~label.settled : ~label.settled & ((VisitSet{1} << instance_.visits) - 1);
}

bool Bounds::needs_all(const Label& label, std::int64_t value) const {
    const VisitSet certain = open_visits(label) & valued_;
    return certain != 0 && value >= label.standing.value + open_value(certain);
}

std::int64_t Bounds::cost_with(const Label& label, Time travel, Time wrap) const {
    const Time spent = label.standing.cost >> 32U;
    const auto held = [&](Time more) { return std::clamp<Time>(more, 0, most_of_a_level - spent); };
    return label.standing.cost + pack_cost(instance_, held(travel), held(wrap));
}

std::int64_t Bounds::cost(const Label& label, std::uint32_t day, std::int64_t value) const {
    const bool begun = !instance_.places[label.place].start;
    const bool last_day = day == last_day_;
    const Time so_far = label.ready - instance_.days[day].earliest_call;
    if (!needs_all(label, value)) // which visits are done, is open
        return cost_with(label, 0, begun ? so_far : 0);

    const VisitSet open = open_visits(label);
    const Time leaving_place = place_leaving_[label.place];
    const WaysIn in = ways_in(open, place_in_.data() + std::size_t{label.place} * instance_.visits, leaving_place,
                              last_day ? nullptr : start_in_.data());
    if (!in.possible)
        return worst_cost;
    Time to_end = instance_.end_arc[day][instance_.places[label.place].from] - leaving_place;
    for_each_visit(
        open, [&](std::uint32_t v) { to_end = std::min(to_end, visit_end_[std::size_t{day} * instance_.visits + v]); });
    // A day that has not begun may turn out a day off.
    const Time travel =
        leaving_place + in.travel + (begun || last_day ? to_end : std::min<Time>(0, to_end)) + later_ends_[day];
    return cost_with(label, travel, travel + in.service + (begun || last_day ? so_far : 0));
}

std::int64_t Bounds::cost_ending(const Label& label, std::uint32_t day, std::int64_t value) const {
    const Time so_far = label.ready - instance_.days[day].earliest_call;
    if (!needs_all(label, value))
        return cost_with(label, 0, so_far);
    if (day == last_day_)
        return worst_cost;
    const WaysIn in = ways_in(open_visits(label), nullptr, 0, start_in_.data());
    if (!in.possible)
        return worst_cost;
    const Time travel = in.travel + later_ends_[day];
    return cost_with(label, travel, travel + in.service + so_far);
}

} // namespace routing::order
