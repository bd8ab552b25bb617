#include "routing/order/minute_prices.hpp"

#include <algorithm>
#include <bit>
#include <cmath>

namespace routing::order {
namespace {

constexpr std::int64_t never = INT64_MAX / 4;
constexpr std::int64_t most_units = std::int64_t{1} << 50; ///< all visits together
constexpr std::int64_t most_worth_unit = std::int64_t{1} << 20;
constexpr std::int64_t dearest = std::int64_t{1} << 38; ///< second; a month of them stays far from overflow

} // namespace

std::size_t MinutePrices::DayPrices::slot_of(Time when) const {
    return static_cast<std::size_t>(std::clamp(when, begin, end) - begin) / slot;
}

std::int64_t MinutePrices::DayPrices::before(Time when) const {
    const Time held = std::clamp(when, begin, end);
    const std::size_t s = slot_of(held);
    return sum[s] + price[s] * (held - begin - static_cast<Time>(s) * slot);
}

MinutePrices::MinutePrices(const Instance& instance, const Part& part) : instance_(instance), part_(part) {
    const auto worth_of = [&](std::uint32_t v) {
        return part.value.empty() ? instance.problem->visits[v].worth : part.value[v];
    };
    const auto weight_of = [&](std::uint32_t v) {
        return part.value.empty() ? instance.problem->visits[v].must_weight : 0;
    };
    std::int64_t worth = 1;
    std::int64_t musts = 1;
    for (std::uint32_t v = 0; v < instance.visits; ++v) {
        worth += worth_of(v);
        musts += weight_of(v);
    }
    if (worth <= most_units / musts) {
        worth_unit_ = std::min(most_worth_unit, most_units / musts / worth);
        must_unit_ = worth * worth_unit_;
    }
    for (std::uint32_t v = 0; v < instance.visits; ++v)
        gain_.push_back(weight_of(v) * must_unit_ + worth_of(v) * worth_unit_);
    days_.resize(instance.days.size());
    for (const PartDay& today : part.days) {
        DayPrices& day = days_[today.day];
        day.begin = instance.days[today.day].earliest_call;
        day.end = std::max(day.begin, instance.days[today.day].latest_wrap);
        day.price.assign(day.slot_of(day.end) + 1, 0);
        sum_up(day);
    }
    waived_.assign(instance.days.size(), 0);
    for (const PartDay& today : part.days)
        waived_[today.day] = today.waived;
    find_margins();
}

void MinutePrices::sum_up(DayPrices& day) const {
    day.sum.resize(day.price.size());
    std::int64_t sum = 0;
    for (std::size_t s = 0; s < day.price.size(); ++s) {
        day.sum[s] = sum;
        sum += day.price[s] * slot;
    }
}

/// How much of the way to its neighbours is a visit's own: of two that follow each other, at most the way between.
void MinutePrices::find_margins() {
    const std::vector<Way>& ways = instance_.ways;
    before_.assign(ways.size(), 0);
    after_.assign(ways.size(), 0);
    place_after_.assign(instance_.places.size(), no_way);
    const auto between = [&](const Way& a, const Way& b) {
        if (a.point == b.point)
            return Time{0};
        return a.pack + instance_.arc(instance_.places[a.place].from, b.to) + b.setup;
    };
    std::vector<std::vector<std::uint32_t>> followed(ways.size());
    for (std::uint32_t a = 0; a < ways.size(); ++a) {
        if (!is_free(ways[a].visit))
            continue;
        Time least = no_way;
        for (const PartDay& today : part_.days)
            least = std::min(least, ways[a].pack + instance_.end_arc[today.day][instance_.places[ways[a].place].from]);
        for (std::uint32_t b = 0; b < ways.size(); ++b)
            if (is_free(ways[b].visit) && ways[a].visit != ways[b].visit &&
                may_follow(instance_, part_, ways[a], ways[b])) {
                least = std::min(least, between(ways[a], ways[b]));
                followed[b].push_back(a);
            }
        after_[a] = least < no_way ? least : 0;
        Time& place = place_after_[ways[a].place];
        place = std::min(place, after_[a]);
    }
    for (std::uint32_t b = 0; b < ways.size(); ++b) {
        if (!is_free(ways[b].visit))
            continue;
        Time least = no_way;
        for (const Place& place : instance_.places) {
            if (!place.start)
                continue;
            const bool set_up = place.set_up && !place.nowhere && place.point == ways[b].point;
            least = std::min(least, set_up ? 0 : instance_.arc(place.from, ways[b].to) + ways[b].setup);
        }
        for (const std::uint32_t a : followed[b])
            least = std::min(least, between(ways[a], ways[b]) - after_[a]);
        before_[b] = least < no_way ? std::max<Time>(least, 0) : 0;
        most_before_ = std::max(most_before_, before_[b]);
        most_after_ = std::max(most_after_, after_[b]);
    }
    for (Time& after : place_after_)
        after = after < no_way ? after : 0;
}

void MinutePrices::start_from(const MinutePrices& other) {
    for (const PartDay& today : part_.days) {
        DayPrices& day = days_[today.day];
        if (other.days_[today.day].price.size() == day.price.size())
            day.price = other.days_[today.day].price;
        sum_up(day);
    }
}

/// Gives `use` the stretches of `length` among which the cheapest that begins in [earliest, latest] is found, whatever
/// slot it is to begin in: begins and price.
template <class Use>
void MinutePrices::for_each_start(std::uint32_t day, Time earliest, Time latest, Time length, Use use) const {
    const DayPrices& prices = days_[day];
    const auto give = [&](Time at) { use(at, prices.before(at + length) - prices.before(at)); };
    give(earliest);
    // Between two of these the price of a stretch changes evenly: one of them is the cheapest.
    const Time offset = ((length % slot) + slot) % slot;
    Time border = prices.begin + ((earliest - prices.begin) / slot) * slot;
    for (; border <= latest; border += slot) {
        if (border > earliest) {
            if (border - 1 > earliest)
                give(border - 1); // as good as the border for whoever may begin in the slot before
            give(border);
        }
        if (const Time inner = border + slot - offset; offset != 0 && inner > earliest && inner < latest)
            give(inner);
    }
    if (latest > earliest)
        give(latest);
}

MinutePrices::Stretch MinutePrices::cheapest_meal(std::uint32_t day, std::uint32_t meal) const {
    const MealRule& rule = instance_.days[day].meals[meal];
    const DayPrices& prices = days_[day];
    // Pushed aside by the ways that its neighbours own.
    const Time earliest = std::max(prices.begin, rule.earliest - most_before_);
    const Time latest = std::min(prices.end, rule.latest_start + most_after_);
    Stretch cheapest{never, day, earliest, earliest};
    if (earliest <= latest)
        for_each_start(day, earliest, latest, rule.service, [&](Time at, std::int64_t price) {
            if (price < cheapest.price)
                cheapest = {price, day, at, at + rule.service};
        });
    return cheapest;
}

/// The prices of the minutes a day has, at most: called and wrapped so that some meals are not due, the others taken.
MinutePrices::Income MinutePrices::income(std::uint32_t day) const {
    const std::vector<MealRule>& meals = instance_.days[day].meals;
    const DayPrices& prices = days_[day];
    std::vector<Stretch> cheapest;
    for (std::uint32_t m = 0; m < meals.size(); ++m)
        cheapest.push_back(cheapest_meal(day, m));
    std::vector<Time> froms{prices.begin};
    std::vector<Time> untils{prices.end};
    for (const MealRule& meal : meals) {
        if (meal.free_call > prices.begin && meal.free_call < prices.end)
            froms.push_back(meal.free_call);
        if (meal.free_wrap > prices.begin && meal.free_wrap < prices.end)
            untils.push_back(meal.free_wrap);
    }
    Income best; // a day off
    best.from = best.until = prices.begin;
    for (const Time from : froms)
        for (const Time until : untils) {
            if (from >= until)
                continue;
            Income found{prices.before(until) - prices.before(from), from, until, {}};
            for (std::uint32_t m = 0; m < meals.size(); ++m)
                if (!(waived_[day] >> m & 1U) && meals[m].free_call > from && meals[m].free_wrap < until &&
                    cheapest[m].price < never) {
                    found.sum -= cheapest[m].price;
                    found.meals.push_back(cheapest[m]);
                }
            if (found.sum > best.sum)
                best = std::move(found);
        }
    return best;
}

std::int64_t MinutePrices::evaluate(std::vector<std::vector<double>>& use) const {
    const auto take = [&](std::uint32_t day, Time from, Time until, double sign) {
        const DayPrices& prices = days_[day];
        from = std::clamp(from, prices.begin, prices.end);
        until = std::clamp(until, prices.begin, prices.end);
        for (std::size_t s = prices.slot_of(from); s <= prices.slot_of(until); ++s) {
            const Time begin = prices.begin + static_cast<Time>(s) * slot;
            const Time shared = std::min(until, begin + slot) - std::max(from, begin);
            use[day][s] += sign * static_cast<double>(std::max<Time>(shared, 0)) / static_cast<double>(slot);
        }
    };
    std::int64_t sum = 0;
    for (const PartDay& today : part_.days) {
        use[today.day].assign(days_[today.day].price.size(), 0.0);
        const Income day = income(today.day);
        sum += day.sum;
        take(today.day, day.from, day.until, -1);
        for (const Stretch& meal : day.meals)
            take(today.day, meal.begin, meal.end, 1);
    }
    for (std::uint32_t v = 0; v < instance_.visits; ++v) {
        if (!is_free(v) || gain_[v] == 0)
            continue;
        Stretch cheapest{gain_[v], 0, 0, 0};
        for (std::uint32_t w = instance_.first_way[v]; w < instance_.first_way[v + 1]; ++w) {
            const Time length = before_[w] + instance_.ways[w].service + after_[w];
            for (const PartDay& today : part_.days) {
                const DayPlan& plan = instance_.days[today.day];
                for (std::uint32_t i = plan.first_window[w]; i < plan.first_window[w + 1]; ++i)
                    for_each_start(today.day, plan.windows[i].earliest - before_[w],
                                   plan.windows[i].latest - before_[w], length, [&](Time at, std::int64_t price) {
                                       if (price < cheapest.price)
                                           cheapest = {price, today.day, at, at + length};
                                   });
            }
        }
        if (cheapest.price >= gain_[v])
            continue;
        sum += gain_[v] - cheapest.price;
        take(cheapest.day, cheapest.begin, cheapest.end, 1);
    }
    return sum;
}

void MinutePrices::improve(std::uint32_t steps, std::int64_t target) {
    if (worth_unit_ == 0)
        return;
    std::vector<std::vector<double>> use(days_.size());
    std::vector<DayPrices> best = days_;
    root_ = never;
    const std::int64_t worth = target & (missed_meal_unit - 1);
    const std::int64_t musts = (target - worth + must_unit - 1) / must_unit;
    const std::int64_t goal = musts * must_unit_ + worth * worth_unit_;
    double reach = 1.0;
    std::uint32_t idle = 0;
    for (std::uint32_t step = 0; step <= steps; ++step) {
        const std::int64_t bound = evaluate(use);
        if (bound < root_) {
            root_ = bound;
            best = days_;
            idle = 0;
        } else if (++idle == 8) {
            reach /= 2;
            idle = 0;
            days_ = best;
            continue;
        }
        double square = 0;
        for (const PartDay& today : part_.days)
            for (std::size_t s = 0; s < use[today.day].size(); ++s)
                if (use[today.day][s] > 0 || days_[today.day].price[s] > 0)
                    square += use[today.day][s] * use[today.day][s];
        if (square == 0 || bound <= goal)
            break;
        const double length = reach * static_cast<double>(bound - goal) / square / static_cast<double>(slot);
        for (const PartDay& today : part_.days) {
            DayPrices& day = days_[today.day];
            for (std::size_t s = 0; s < day.price.size(); ++s) {
                const double price = static_cast<double>(day.price[s]) + length * use[today.day][s];
                day.price[s] = std::llround(std::clamp(price, 0.0, static_cast<double>(dearest)));
            }
            sum_up(day);
        }
    }
    days_ = best;
    fill_tables();
}

void MinutePrices::fill_tables() {
    const std::uint32_t n = instance_.visits;
    best_.assign(days_.size(), {});
    meal_.assign(days_.size(), {});
    later_income_.assign(days_.size(), 0);
    later_minutes_.assign(days_.size(), 0);
    std::vector<std::int64_t> later(n, 0); // most gained on a later day
    std::int64_t later_income = 0;
    std::int64_t later_minutes = 0;
    for (std::size_t i = part_.days.size(); i-- > 0;) {
        const std::uint32_t d = part_.days[i].day;
        const DayPrices& prices = days_[d];
        const DayPlan& plan = instance_.days[d];
        const std::size_t slots = prices.price.size();
        std::vector<std::int64_t>& best = best_[d];
        best.assign(slots * n, 0);
        for (std::uint32_t w = 0; w < instance_.ways.size(); ++w) {
            const Way& way = instance_.ways[w];
            if (!is_free(way.visit))
                continue;
            const Time length = before_[w] + way.service + after_[w];
            for (std::uint32_t k = plan.first_window[w]; k < plan.first_window[w + 1]; ++k)
                for_each_start(d, plan.windows[k].earliest - before_[w], plan.windows[k].latest - before_[w], length,
                               [&](Time at, std::int64_t price) {
                                   std::int64_t& most = best[prices.slot_of(at) * n + way.visit];
                                   most = std::max(most, gain_[way.visit] - price);
                               });
        }
        for (std::size_t s = slots; s-- > 0;)
            for (std::uint32_t v = 0; v < n; ++v)
                best[s * n + v] = std::max(best[s * n + v], s + 1 < slots ? best[(s + 1) * n + v] : later[v]);
        std::copy_n(best.begin(), n, later.begin());

        for (std::uint32_t m = 0; m < plan.meals.size(); ++m) {
            std::vector<std::int64_t>& least = meal_[d].emplace_back(slots, never);
            const Time earliest = std::max(prices.begin, plan.meals[m].earliest - most_before_);
            const Time latest = std::min(prices.end, plan.meals[m].latest_start + most_after_);
            if (earliest <= latest)
                for_each_start(d, earliest, latest, plan.meals[m].service, [&](Time at, std::int64_t price) {
                    std::int64_t& here = least[prices.slot_of(at)];
                    here = std::min(here, price);
                });
            for (std::size_t s = slots - 1; s-- > 0;)
                least[s] = std::min(least[s], least[s + 1]);
        }
        later_income_[d] = later_income;
        later_income += income(d).sum;
        later_minutes_[d] = later_minutes;
        later_minutes += prices.before(prices.end);
    }
    root_unfed_ = root_ - later_income + later_minutes;
}

std::int64_t MinutePrices::value() const {
    return worth_unit_ == 0 ? INT64_MAX : std::max(to_value(root_), to_value(root_unfed_) - missed_meal_unit);
}

std::int64_t MinutePrices::to_value(std::int64_t gained) const {
    const std::int64_t musts = gained / must_unit_;
    return musts * must_unit + (gained - musts * must_unit_) / worth_unit_;
}

std::int64_t MinutePrices::value(const Label& label, std::uint32_t day) const {
    if (worth_unit_ == 0)
        return INT64_MAX;
    const DayPrices& prices = days_[day];
    const Place& place = instance_.places[label.place];
    const Time from = label.ready + (place.start ? 0 : place_after_[label.place]);
    const std::size_t s = prices.slot_of(from);
    std::int64_t gained = 0;
    const std::int64_t* best = best_[day].data() + s * instance_.visits;
    for (VisitSet open = ~label.settled & part_.free; open != 0; open &= open - 1)
        gained += best[std::countr_zero(open)];
    const std::int64_t passed = prices.before(from);
    const std::int64_t all = prices.before(prices.end) - passed;
    // Due meals are taken, or escaped by an early wrap, or missed.
    const std::vector<MealRule>& meals = instance_.days[day].meals;
    const std::uint32_t due = label.pending & ~label.late;
    std::int64_t taken = 0;
    std::int64_t most = -1;
    for (std::uint32_t m = 0; m <= meals.size(); ++m) { // the first that is escaped
        if (m < meals.size() && !(due >> m & 1U))
            continue;
        const std::int64_t until =
            m < meals.size() ? std::max<std::int64_t>(0, prices.before(meals[m].free_wrap) - passed) : all;
        most = std::max(most, until - taken);
        if (m == meals.size())
            break;
        const std::int64_t price = m < label.next_meal ? never : meal_[day][m][s];
        if (price >= never)
            break; // can't be taken
        taken += price;
    }
    const std::int64_t fed = to_value(gained + later_income_[day] + std::max<std::int64_t>(most, 0));
    const std::int64_t unfed = to_value(gained + later_minutes_[day] + all) - missed_meal_unit;
    return label.standing.value + std::max(fed, unfed);
}

} // namespace routing::order
