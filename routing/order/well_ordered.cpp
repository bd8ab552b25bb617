#include "routing/order/timed_order.hpp"

#include <algorithm>

namespace routing::order {
namespace {

bool contains(const std::vector<Point>& points, Point point) {
    return std::find(points.begin(), points.end(), point) != points.end();
}

/// Walks the stops once; each step answers whether they still fit.
class Walk {
public:
    Walk(const Problem& problem, const std::vector<Stop>& stops)
        : problem_(problem), stops_(stops), done_(problem.visits.size(), false) {}

    bool fits() {
        for (std::uint32_t day = 0; day < problem_.days.size(); ++day) {
            if (problem_.days[day].start)
                where_ = problem_.days[day].start;
            if (!fits_day(day))
                return false;
        }
        return next_ == stops_.size();
    }

private:
    bool fits_day(std::uint32_t number) {
        const Day& day = problem_.days[number];
        const std::size_t first = next_;
        while (next_ < stops_.size() && stops_[next_].day == number)
            ++next_;
        if (next_ == first)
            return !where_ && day.ends.empty(); // a day off nowhere
        if (next_ - first < 2 || stops_[first].kind != StopKind::start || stops_[next_ - 1].kind != StopKind::end)
            return false;
        const Stop& end = stops_[next_ - 1];
        const bool idle = next_ - first == 2;
        if (where_ ? stops_[first].point != *where_ : !meets(day, first))
            return false;
        at_ = stops_[first].point;
        meal_point_.reset();
        next_meal_ = 0;
        bool works = false;
        for (std::size_t i = first + 1; i + 1 < next_; ++i) {
            if (stops_[i].kind == StopKind::visit ? !fits_visit(stops_[i])
                                                  : stops_[i].kind != StopKind::meal || !fits_meal(day, stops_[i]))
                return false;
            works = works || stops_[i].kind == StopKind::visit;
        }
        where_ = end.point;
        return (works || idle) &&
               (day.ends.empty() ? end.point == meal_point_.value_or(at_) : contains(day.ends, end.point));
    }

    /// A day that starts nowhere starts at its first visit, meal point or end.
    bool meets(const Day& day, std::size_t first) const {
        const Point point = stops_[first].point;
        for (std::size_t i = first + 1; i < next_; ++i) {
            if (stops_[i].point != point)
                return false;
            if (stops_[i].kind != StopKind::meal)
                return true;
            if (stops_[i].index < day.meals.size() && contains(day.meals[stops_[i].index].candidates, point))
                return true;
        }
        return false;
    }

    bool fits_visit(const Stop& stop) {
        if (stop.index >= problem_.visits.size() || done_[stop.index])
            return false;
        const Visit& visit = problem_.visits[stop.index];
        if (stop.option >= visit.options.size() || visit.options[stop.option].point != stop.point)
            return false;
        for (const std::uint32_t before : visit.after)
            if (!done_[before])
                return false;
        done_[stop.index] = true;
        at_ = stop.point;
        meal_point_.reset();
        return true;
    }

    bool fits_meal(const Day& day, const Stop& stop) {
        if (stop.index >= day.meals.size() || stop.index < next_meal_)
            return false;
        next_meal_ = stop.index + 1;
        const Meal& meal = day.meals[stop.index];
        const bool carried = meal.anywhere && stop.point == meal_point_.value_or(at_);
        if (carried)
            return true;
        if (!contains(meal.candidates, stop.point) || (meal_point_ && *meal_point_ != stop.point))
            return false;
        meal_point_ = stop.point;
        return true;
    }

    const Problem& problem_;
    const std::vector<Stop>& stops_;
    std::vector<bool> done_;
    std::size_t next_ = 0;
    std::optional<Point> where_; ///< where the day starts; nothing: nowhere
    Point at_ = 0;               ///< last stop that was no meal
    std::optional<Point> meal_point_;
    std::uint32_t next_meal_ = 0;
};

} // namespace

bool is_well_ordered(const Problem& problem, const std::vector<Stop>& stops) {
    return Walk(problem, stops).fits();
}

} // namespace routing::order
