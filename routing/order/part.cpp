#include "routing/order/part.hpp"

namespace routing::order {

Part whole(const Instance& instance) {
    Part part{instance.visits == 64 ? ~VisitSet{0} : (VisitSet{1} << instance.visits) - 1, {}};
    for (std::uint32_t day = 0; day < instance.days.size(); ++day)
        part.days.push_back({.day = day, .carries_on = day + 1 < instance.days.size()});
    part.days.front().place = instance.first_start;
    part.days.front().ready = instance.days.front().earliest_call;
    return part;
}

bool may_follow(const Instance& instance, const Part& part, const Way& first, const Way& second) {
    const auto number = [&](const Way& way) { return static_cast<std::size_t>(&way - instance.ways.data()); };
    const Time between = first.point == second.point
                             ? 0
                             : first.pack + instance.arc(instance.places[first.place].from, second.to) + second.setup;
    for (const PartDay& part_day : part.days) {
        const DayPlan& day = instance.days[part_day.day];
        const std::size_t a = number(first);
        const std::size_t b = number(second);
        if (day.first_window[a] == day.first_window[a + 1] || day.first_window[b] == day.first_window[b + 1])
            continue;
        if (day.windows[day.first_window[a]].earliest + first.service + between <=
            day.windows[day.first_window[b + 1] - 1].latest)
            return true;
    }
    return false;
}

} // namespace routing::order
