#include "routing/order/unfold.hpp"

#include <optional>

namespace routing::order {
namespace {

class Unfolding {
public:
    Unfolding(const Instance& instance, const Part& part)
        : instance_(instance), problem_(*instance.problem), part_(part) {}

    std::vector<Stop> run(const std::vector<Move>& moves) {
        begin_day();
        for (const Move& move : moves)
            add(move);
        return std::move(stops_);
    }

private:
    void begin_day() {
        if (at_ == part_.days.size())
            return;
        const bool carried = at_ > 0 && part_.days[at_ - 1].carries_on;
        const PartDay& today = part_.days[at_];
        day_ = today.day;
        if (problem_.days[day_].start)
            where_ = problem_.days[day_].start;
        else if (!carried)
            where_ = instance_.places[today.place].nowhere ? std::nullopt
                                                           : std::optional<Point>(instance_.places[today.place].point);
        start_is_open_ = true;
    }

    void add(const Move& move) {
        const bool is_end = move.step >= end_step;
        const std::uint32_t end = is_end ? move.step - end_step : 0U;
        const DayPlan& plan = instance_.days[day_];
        const Gap* gap = move.gap == no_gap ? nullptr : &plan.gaps[move.gap];
        std::optional<Point> to;
        if (!is_end)
            to = instance_.ways[move.step].point;
        else if (end != Detours::where_it_is)
            to = plan.ends[end];
        const std::optional<Point> by = gap && gap->there != 0 ? std::optional<Point>(move.via) : std::nullopt;

        if (!where_)
            where_ = by ? by : to; // the crew meets there
        if (start_is_open_ && where_)
            stops_.push_back({.kind = StopKind::start, .day = day_, .point = *where_});
        start_is_open_ = false;
        if (gap) {
            add_meals(gap->here, *where_);
            if (by)
                where_ = by;
            add_meals(gap->there, *where_);
        }
        if (to)
            where_ = to;
        if (!is_end) {
            const Way& way = instance_.ways[move.step];
            stops_.push_back({.day = day_, .index = way.visit, .option = way.option, .point = way.point});
            return;
        }
        if (where_)
            stops_.push_back({.kind = StopKind::end, .day = day_, .point = *where_});
        ++at_;
        begin_day();
    }

    void add_meals(std::uint32_t meals, Point point) {
        for (std::uint32_t m = 0; meals >> m != 0; ++m)
            if (meals >> m & 1U)
                stops_.push_back({.kind = StopKind::meal, .day = day_, .index = m, .point = point});
    }

    const Instance& instance_;
    const Problem& problem_;
    const Part& part_;
    std::vector<Stop> stops_;
    std::size_t at_ = 0; ///< position in the part
    std::uint32_t day_ = 0;
    std::optional<Point> where_;
    bool start_is_open_ = false;
};

} // namespace

std::vector<Stop> unfold(const Instance& instance, const Part& part, const std::vector<Move>& moves) {
    return Unfolding(instance, part).run(moves);
}

} // namespace routing::order
