#include "routing/order/bounds.hpp"

#include <algorithm>
#include <bit>
#include <numeric>

namespace routing::order {
namespace {

constexpr std::int64_t worst_cost = INT64_MAX;

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

Bounds::Bounds(const Instance& instance) : instance_(instance) {
    const std::uint32_t n = instance.visits;
    const auto ways_of = [&](std::uint32_t v) {
        return std::pair(instance.ways.begin() + instance.first_way[v],
                         instance.ways.begin() + instance.first_way[v + 1]);
    };
    ways_in_.resize(n);
    least_service_.assign(n, no_way);
    for (std::uint32_t v = 0; v < n; ++v) {
        const auto [first, last] = ways_of(v);
        for (auto way = first; way != last; ++way)
            least_service_[v] = std::min(least_service_[v], way->service);
        for (std::uint32_t u = 0; u < n; ++u) {
            Time least = no_way;
            const auto [from_first, from_last] = ways_of(u);
            for (auto from = from_first; from != from_last && u != v; ++from)
                for (auto way = first; way != last; ++way)
                    least = std::min(least, instance.arc(instance.places[from->place].from, way->to));
            if (least < no_way)
                ways_in_[v].push_back({least, u});
        }
        std::stable_sort(ways_in_[v].begin(), ways_in_[v].end(),
                         [](const WayIn& a, const WayIn& b) { return a.travel < b.travel; });
    }

    place_in_.assign(instance.places.size() * n, no_way);
    for (std::size_t p = 0; p < instance.places.size(); ++p)
        for (const Way& way : instance.ways) {
            Time& least = place_in_[p * n + way.visit];
            least = std::min(least, instance.arc(instance.places[p].from, way.to));
        }

    // Any start place may begin any later day: a bound, and close enough.
    std::vector<Time> any_start(n, no_way);
    for (std::size_t p = 0; p < instance.places.size(); ++p)
        for (std::uint32_t v = 0; v < n && instance.places[p].start; ++v)
            if (!instance.places[p].nowhere || instance.first_start == instance.nowhere)
                any_start[v] = std::min(any_start[v], place_in_[p * n + v]);
    const std::size_t days = instance.days.size();
    start_in_.assign(days * n, no_way);
    visit_end_.assign(days * n, no_way);
    later_room_.assign(days, 0);
    for (std::size_t d = days; d-- > 0;) {
        if (d + 1 < days) {
            std::copy(any_start.begin(), any_start.end(), start_in_.begin() + static_cast<std::ptrdiff_t>(d * n));
            later_room_[d] = later_room_[d + 1] +
                             std::max<Time>(0, instance.days[d + 1].latest_wrap - instance.days[d + 1].earliest_call);
        }
        for (const Way& way : instance.ways) {
            Time& least = visit_end_[d * n + way.visit];
            least = std::min(least, instance.end_arc[d][instance.places[way.place].from]);
        }
    }

    for (std::uint32_t v = 0; v < n; ++v) {
        const Time way_in = std::min(any_start[v], ways_in_[v].empty() ? no_way : ways_in_[v].front().travel);
        need_.push_back(least_service_[v] + (way_in < no_way ? way_in : 0));
    }
    const auto sort_by_rate = [&](std::vector<std::uint32_t>& order, auto gain) {
        order.resize(n);
        std::iota(order.begin(), order.end(), 0U);
        // Cross-multiplied: gains stay below 2^31 and needs below 2^24.
        std::stable_sort(order.begin(), order.end(),
                         [&](std::uint32_t a, std::uint32_t b) { return gain(a) * need_[b] > gain(b) * need_[a]; });
    };
    const std::vector<Visit>& visits = instance.problem->visits;
    sort_by_rate(by_must_rate_, [&](std::uint32_t v) { return visits[v].must_weight; });
    sort_by_rate(by_worth_rate_, [&](std::uint32_t v) { return visits[v].worth; });
}

std::int64_t Bounds::open_value(VisitSet open) const {
    std::int64_t sum = 0;
    for_each_visit(open, [&](std::uint32_t v) { sum += instance_.value[v]; });
    return sum;
}

Time Bounds::minutes_left(const Label& label, std::uint32_t day) const {
    return std::max<Time>(0, instance_.days[day].latest_wrap - label.ready) + later_room_[day];
}

template <class Part>
std::int64_t Bounds::fill(const std::vector<std::uint32_t>& by_rate, VisitSet open, Time room, Part part) const {
    std::int64_t gained = 0;
    for (const std::uint32_t v : by_rate) {
        if (!(open >> v & 1U))
            continue;
        const std::int64_t gain = part(instance_.problem->visits[v]);
        if (need_[v] > room)
            return gained + gain * room / need_[v];
        room -= need_[v];
        gained += gain;
    }
    return gained;
}

std::int64_t Bounds::value(const Label& label, std::uint32_t day) const {
    const VisitSet open = ~label.settled & instance_.valued;
    const Time room = minutes_left(label, day);
    Time need = 0;
    for_each_visit(open, [&](std::uint32_t v) { need += need_[v]; });
    if (need <= room)
        return label.standing.value + open_value(open);
    return label.standing.value +
           must_unit * fill(by_must_rate_, open, room, [](const Visit& visit) { return visit.must_weight; }) +
           fill(by_worth_rate_, open, room, [](const Visit& visit) { return visit.worth; });
}

std::int64_t Bounds::cost(const Label& label, std::uint32_t day, std::int64_t value) const {
    VisitSet certain = ~label.settled & instance_.valued;
    if (value < label.standing.value + open_value(certain))
        certain = 0; // not all of it can be had: which, is open
    const std::uint32_t n = instance_.visits;
    const VisitSet open = n == 64 ? ~label.settled : ~label.settled & ((VisitSet{1} << n) - 1);
    const Place& place = instance_.places[label.place];
    Time travel = 0;
    Time service = 0;
    bool possible = true;
    for_each_visit(certain, [&](std::uint32_t v) {
        Time way_in = std::min(place_in_[std::size_t{label.place} * n + v], start_in_[std::size_t{day} * n + v]);
        for (const WayIn& way : ways_in_[v]) {
            if (way.travel >= way_in)
                break;
            if (open >> way.from & 1U)
                way_in = way.travel;
        }
        possible = possible && way_in < no_way;
        travel += way_in;
        service += least_service_[v];
    });
    if (!possible)
        return worst_cost;
    // The end of this day; a day that has not begun may turn out a day off.
    Time to_end = place.start ? 0 : instance_.end_arc[day][place.from];
    for_each_visit(open, [&](std::uint32_t v) { to_end = std::min(to_end, visit_end_[std::size_t{day} * n + v]); });
    travel += to_end;
    const bool begun = !place.start;
    Time wrap = certain != 0 || begun ? travel + service : 0;
    if (begun || (certain != 0 && day + 1 == instance_.days.size()))
        wrap += label.ready - instance_.days[day].earliest_call;
    return label.standing.cost + pack_cost(instance_, travel, wrap);
}

} // namespace routing::order
