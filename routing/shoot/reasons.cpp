#include "routing/shoot/reasons.hpp"

#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/sky_kinds.hpp"

#include <algorithm>
#include <limits>

namespace routing::shoot {

namespace {

using order::Instant;
using order::TravelMatrix;

/// Those in force for a time.
enum class Closures { kept, lifted };

std::string in_minutes(Seconds span) {
    const auto whole = std::chrono::ceil<minutes>(span).count();
    return std::to_string(whole) + " min";
}

/// Explains one dropped visit after the other.
class Explainer {
public:
    explicit Explainer(const ReasonInput& input) : input_(input), shoot_(input.shoot), problem_(input.order.problem) {}

    Dropped explain(std::uint32_t visit) const {
        const Scene& scene = scene_of(visit);
        Dropped dropped{scene.id, scene.title, scene.must, ""};
        if (auto why = no_light(visit); !why.empty())
            dropped.why = why;
        else if (why = no_road(visit); !why.empty())
            dropped.why = why;
        else if (why = missing_predecessor(visit); !why.empty())
            dropped.why = why;
        else if (out_of_time())
            dropped.why = "does not fit; the time limit left none to look into why";
        else if (why = fails_alone(visit); !why.empty())
            dropped.why = why;
        else if (why = excluded_by_one(visit); !why.empty())
            dropped.why = why;
        else
            dropped.why = cost_of_keeping(visit);
        return dropped;
    }

private:
    const Scene& scene_of(std::uint32_t visit) const { return shoot_.scenes[input_.order.scene_of_visit[visit]]; }
    std::string quoted(std::uint32_t visit) const { return "\"" + scene_of(visit).title + "\""; }
    std::string span_text(geo::Interval span) const {
        return geo::clock_text(span.from, shoot_.zone) + "–" + geo::clock_text(span.until, shoot_.zone);
    }
    /// A deadline: never rounded up.
    std::string by_clock(Instant when) const { return geo::clock_text(std::chrono::floor<minutes>(when), shoot_.zone); }
    std::string date_text(std::uint32_t day) const {
        return geo::to_string(shoot_.days[input_.order.day_of[day]].date);
    }
    bool single_day() const { return problem_.days.size() == 1; }

    // --- no light -------------------------------------------------------------------------------------------------

    /// Why no option has a window: for each day the nearest miss, the smallest one said.
    std::string no_light(std::uint32_t visit) const {
        for (const order::Option& option : problem_.visits[visit].options)
            if (!option.windows.empty())
                return "";
        if (const std::string wrong = wrong_sky(visit); !wrong.empty())
            return wrong;
        struct Miss {
            Seconds by{std::numeric_limits<std::int64_t>::max()};
            std::string text;
        } nearest;
        const auto consider = [&](Seconds by, std::string text) {
            if (by < nearest.by)
                nearest = {by, std::move(text)};
        };
        bool ever = false;
        for (const SceneOption& option : scene_of(visit).options) {
            const std::string light = light_text(option.light);
            for (std::uint32_t day = 0; day < problem_.days.size(); ++day) {
                const ShootDay& wish = shoot_.days[input_.order.day_of[day]];
                const geo::Interval span = working_span(wish, shoot_.zone);
                for (const geo::Interval& window : all_day_light(option, wish)) {
                    ever = true;
                    if (window.length() < option.length) {
                        consider(option.length - window.length(),
                                 light + " lasts " + in_minutes_down(window.length()) + " (" + span_text(window) +
                                     on(day) + "), the scene needs " + std::to_string(option.length.count()) +
                                     " min: " + in_minutes(option.length - window.length()) + " short");
                    } else if (window.from + option.length > span.until) {
                        consider(window.from + option.length - span.until,
                                 light + " (" + span_text(window) + on(day) + ") leaves too little time before the " +
                                     "latest wrap at " + geo::clock_text(span.until, shoot_.zone) + ": " +
                                     in_minutes(window.from + option.length - span.until) + " short");
                    } else if (window.until - option.length < span.from) {
                        consider(span.from - (window.until - option.length),
                                 light + " (" + span_text(window) + on(day) + ") is over too soon after the " +
                                     "earliest call at " + geo::clock_text(span.from, shoot_.zone) + ": " +
                                     in_minutes(span.from - (window.until - option.length)) + " short");
                    }
                }
            }
        }
        if (!ever)
            return light_text(scene_of(visit).options.front().light) + " never comes at " +
                   shoot_.locations[scene_of(visit).options.front().location].name +
                   (shoot_.locations[scene_of(visit).options.front().location].horizon ? ", the ground looked at,"
                                                                                       : "") +
                   (single_day() ? " on " + date_text(0) : " on any day of the shoot") +
                   (shoot_.told_sky ? " with the sky told, " + shoot_.told_sky->sky : "");
        if (nearest.text.empty() && !input_.order.left_out[visit].empty())
            return input_.order.left_out[visit];
        return nearest.text.empty() ? "its light is over before the crew is set up" : nearest.text;
    }

    /// Where the sky told for every day left suits no option.
    std::string wrong_sky(std::uint32_t visit) const {
        std::string wanted;
        for (const SceneOption& option : scene_of(visit).options) {
            for (const std::uint32_t day : input_.order.day_of) {
                const std::string* told = told_sky(shoot_, shoot_.days[day].date);
                if (told == nullptr || suits(option, *told))
                    return "";
            }
            wanted += (wanted.empty() ? "" : " or ") + sky_text(option);
        }
        return "no way to shoot it suits the sky told, " + shoot_.told_sky->sky + ": it wants " + wanted;
    }

    geo::Intervals all_day_light(const SceneOption& option, const ShootDay& day) const {
        return geo::light_windows(option.light, shoot_.locations[option.location].at, geo::Metres{0.0}, day.date,
                                  shoot_.zone, surroundings_of(shoot_, option, day.date))
            .intervals;
    }
    static std::string in_minutes_down(Seconds span) {
        return std::to_string(std::chrono::floor<minutes>(span).count()) + " min";
    }
    std::string on(std::uint32_t day) const { return single_day() ? "" : " on " + date_text(day); }

    // --- no road --------------------------------------------------------------------------------------------------

    /// True when some option can be reached from some day's start and left again.
    bool has_road(std::uint32_t visit, const TravelMatrix& travel) const {
        for (const order::Option& option : problem_.visits[visit].options) {
            for (const order::Day& day : problem_.days) {
                const bool in = !day.start || travel(*day.start, option.point) < TravelMatrix::unreachable;
                const bool out =
                    day.ends.empty() || std::any_of(day.ends.begin(), day.ends.end(), [&](order::Point end) {
                        return travel(option.point, end) < TravelMatrix::unreachable;
                    });
                if (in && out)
                    return true;
            }
        }
        return false;
    }

    /// From no day's start leads a way anywhere, other stops still reach each other, and it is the closures' doing.
    bool starts_are_shut_in() const {
        const auto leads = [](order::Point from, const TravelMatrix& travel, const auto& counts) {
            for (order::Point to = 0; to < travel.size; ++to)
                if (to != from && counts(to) && travel(from, to) < TravelMatrix::unreachable)
                    return true;
            return false;
        };
        const auto any = [](order::Point) { return true; };
        const auto is_shut_in = [&](const order::Day& day) {
            return day.start && !leads(*day.start, problem_.travel, any) && leads(*day.start, input_.open_travel, any);
        };
        const auto is_start = [&](order::Point point) {
            return std::any_of(problem_.days.begin(), problem_.days.end(),
                               [&](const order::Day& day) { return day.start == point; });
        };
        if (!std::all_of(problem_.days.begin(), problem_.days.end(), is_shut_in))
            return false;
        for (order::Point from = 0; from < problem_.travel.size; ++from)
            if (!is_start(from) && leads(from, problem_.travel, [&](order::Point to) { return !is_start(to); }))
                return true;
        return false;
    }

    std::string no_road(std::uint32_t visit) const {
        if (has_road(visit, problem_.travel))
            return "";
        const std::string name = shoot_.locations[scene_of(visit).options.front().location].name;
        const auto is_cut_off = [&](const order::Option& option) { return input_.points.points[option.point].cut_off; };
        const auto& options = problem_.visits[visit].options;
        if (std::all_of(options.begin(), options.end(), is_cut_off))
            return name + " is cut off on foot by the closures: no open path leads there in the time the crew walks";
        if (input_.open_travel.size > 0 && starts_are_shut_in())
            return "the closures leave no way out of where the day starts";
        if (input_.open_travel.size > 0 && has_road(visit, input_.open_travel))
            return name + " is cut off by the closures: no open road leads there and back";
        return "no road this vehicle may drive leads to " + name + " and back";
    }

    // --- alone, or with one other --------------------------------------------------------------------------------

    std::string missing_predecessor(std::uint32_t visit) const {
        for (const std::uint32_t before : problem_.visits[visit].after)
            if (std::binary_search(input_.solution.dropped.begin(), input_.solution.dropped.end(), before))
                return "it comes after " + quoted(before) + ", which is not in the plan";
        return "";
    }

    /// The problem cut down to some visits, without meals, all of them musts.
    order::Problem only(std::vector<std::uint32_t> visits, Closures closures) const {
        for (std::size_t n = 0; n < visits.size(); ++n) // predecessors come along
            for (const std::uint32_t before : problem_.visits[visits[n]].after)
                if (std::find(visits.begin(), visits.end(), before) == visits.end())
                    visits.push_back(before);
        order::Problem small;
        small.days = problem_.days;
        small.turnaround = problem_.turnaround;
        small.travel = problem_.travel;
        if (closures == Closures::kept)
            small.varying = problem_.varying;
        small.economy = problem_.economy;
        for (order::Day& day : small.days)
            day.meals.clear();
        for (const std::uint32_t number : visits) {
            order::Visit visit = problem_.visits[number];
            visit.must_weight = 1;
            visit.worth = 0;
            for (std::uint32_t& before : visit.after)
                before = static_cast<std::uint32_t>(std::find(visits.begin(), visits.end(), before) - visits.begin());
            small.visits.push_back(std::move(visit));
        }
        return small;
    }

    order::Solution re_solve(const order::Problem& problem) const {
        order::SolveLimits limits;
        limits.labels = input_.labels;
        if (input_.deadline)
            limits.time = std::max(Seconds{1}, std::chrono::duration_cast<Seconds>(*input_.deadline - now()));
        return order::solve(problem, limits);
    }
    static std::chrono::steady_clock::time_point now() { return std::chrono::steady_clock::now(); }
    bool out_of_time() const { return input_.deadline && now() >= *input_.deadline; }

    bool all_fit(const std::vector<std::uint32_t>& visits, Closures closures = Closures::kept) const {
        const order::Solution answer = re_solve(only(visits, closures));
        return answer.dropped.empty();
    }

    /// ", or with a wrap at 23:40" when that alone would do for a scene that closures keep out.
    std::string with_a_later_wrap(std::uint32_t visit) const {
        constexpr std::chrono::hours no_later_than{6};
        order::Problem longer = only({visit}, Closures::kept);
        for (order::Day& day : longer.days)
            day.latest_wrap += no_later_than;
        const order::Solution answer = re_solve(longer);
        if (!answer.dropped.empty())
            return "";
        for (const order::Stop& stop : answer.stops) {
            const geo::Interval hours = working_span(shoot_.days[input_.order.day_of[stop.day]], shoot_.zone);
            if (stop.kind == order::StopKind::end && stop.arrive > hours.until)
                return ", or with a wrap at " + geo::clock_text(std::chrono::ceil<minutes>(stop.arrive), shoot_.zone) +
                       on(stop.day);
        }
        return "";
    }

    /// By how much the nearest attempt fails, over options, days and windows: too late for the window, or too late
    /// back.
    std::string fails_alone(std::uint32_t visit) const {
        if (all_fit({visit}))
            return "";
        if (!problem_.varying.empty() && all_fit({visit}, Closures::lifted))
            return "can't be reached in its light, and left again, while roads are shut: without the closures for a "
                   "time it could" +
                   with_a_later_wrap(visit);
        struct Miss {
            Seconds by{std::numeric_limits<std::int64_t>::max()};
            std::string text;
        } nearest;
        const Scene& scene = scene_of(visit);
        for (std::size_t n = 0; n < problem_.visits[visit].options.size(); ++n) {
            const order::Option& option = problem_.visits[visit].options[n];
            const SceneOption& words = scene.options[input_.order.option_of_visit[visit][n]];
            for (std::uint32_t number = 0; number < problem_.days.size(); ++number) {
                const order::Day& day = problem_.days[number];
                Instant ready = day.earliest_call;
                if (day.start && problem_.travel(*day.start, option.point) >= TravelMatrix::unreachable)
                    continue;
                if (day.start)
                    ready += Seconds{problem_.travel(*day.start, option.point)} + option.setup;
                else
                    ready += option.setup;
                Seconds home{0};
                if (!day.ends.empty()) {
                    std::int32_t least = TravelMatrix::unreachable;
                    for (const order::Point end : day.ends)
                        least = std::min(least, problem_.travel(option.point, end));
                    home = Seconds{least};
                }
                const geo::Interval hours = working_span(shoot_.days[input_.order.day_of[number]], shoot_.zone);
                for (const order::TimeWindow& window : option.windows) {
                    if (window.latest < hours.from || window.earliest > hours.until)
                        continue; // another day's window
                    const Instant start = std::max(ready, window.earliest);
                    const Instant back = start + option.service + option.pack + home;
                    const geo::Interval light{window.earliest, window.latest + option.service};
                    const std::string name = light_text(words.light) + " (" + span_text(light) + on(number) + ")";
                    if (start > window.latest && start - window.latest < nearest.by)
                        nearest = {start - window.latest, name + ": ready at " + geo::clock_text(ready, shoot_.zone) +
                                                              " at the earliest, filming must start by " +
                                                              geo::clock_text(window.latest, shoot_.zone) + ": " +
                                                              in_minutes(start - window.latest) + " too late"};
                    else if (start <= window.latest && back > day.latest_wrap && back - day.latest_wrap < nearest.by)
                        nearest = {back - day.latest_wrap, name + ": back at " + geo::clock_text(back, shoot_.zone) +
                                                               " at the earliest, latest wrap is " +
                                                               geo::clock_text(day.latest_wrap, shoot_.zone) + ": " +
                                                               in_minutes(back - day.latest_wrap) + " too late"};
                }
            }
        }
        return nearest.text.empty() ? "can't be reached in its light within the days' working hours, even alone"
                                    : nearest.text;
    }

    /// Shortfall in minutes between two visits that can't both be had, over both orders and all windows.
    Seconds shortfall(std::uint32_t a, std::uint32_t b) const {
        Seconds least{std::numeric_limits<std::int64_t>::max()};
        const auto one_way = [&](const order::Visit& first, const order::Visit& second) {
            for (const order::Option& x : first.options)
                for (const order::Option& y : second.options) {
                    const std::int32_t travel = problem_.travel(x.point, y.point);
                    if (travel >= TravelMatrix::unreachable)
                        continue;
                    for (const order::TimeWindow& from : x.windows)
                        for (const order::TimeWindow& to : y.windows) {
                            const Seconds between =
                                x.point == y.point ? Seconds{0} : x.pack + Seconds{travel} + y.setup;
                            const Seconds late = from.earliest + x.service + between - to.latest;
                            if (late > Seconds{0})
                                least = std::min(least, late);
                        }
                }
        };
        one_way(problem_.visits[a], problem_.visits[b]);
        one_way(problem_.visits[b], problem_.visits[a]);
        return least;
    }

    std::string excluded_by_one(std::uint32_t visit) const {
        std::vector<std::uint32_t> kept;
        for (const order::Stop& stop : input_.solution.stops)
            if (stop.kind == order::StopKind::visit)
                kept.push_back(stop.index);
        std::sort(kept.begin(), kept.end());
        std::string names;
        Seconds least{std::numeric_limits<std::int64_t>::max()};
        for (const std::uint32_t other : kept) {
            if (all_fit({visit, other}))
                continue;
            names += (names.empty() ? "" : ", ") + quoted(other);
            least = std::min(least, shortfall(visit, other));
        }
        if (names.empty())
            return "";
        std::string text = "can't be combined with " + names;
        if (least < std::chrono::hours{24})
            text += ": " + in_minutes(least) + " short between them";
        return text;
    }

    /// Solves again with the scene forced in, and says what goes instead.
    std::string cost_of_keeping(std::uint32_t visit) const {
        order::Problem forced = problem_;
        std::int64_t everything = 1;
        for (const order::Visit& other : forced.visits)
            everything += other.must_weight;
        forced.visits[visit].must_weight += everything;
        const order::Solution answer = re_solve(forced);
        if (std::binary_search(answer.dropped.begin(), answer.dropped.end(), visit))
            return "does not fit beside the day's meals and beds";
        std::string musts, wishes;
        for (const std::uint32_t other : answer.dropped) {
            if (std::binary_search(input_.solution.dropped.begin(), input_.solution.dropped.end(), other))
                continue;
            std::string& list = scene_of(other).must ? musts : wishes;
            list += (list.empty() ? "" : ", ") + quoted(other);
            if (!scene_of(other).must)
                list += " (worth " + std::to_string(scene_of(other).worth) + ")";
        }
        std::string text = "fits only if something else goes: keeping it would cost ";
        if (!musts.empty())
            text += "the must " + musts + (wishes.empty() ? "" : " and ");
        text += wishes;
        const std::size_t meals = answer.missed_meals.size(), meals_before = input_.solution.missed_meals.size();
        if (meals > meals_before)
            text += std::string(musts.empty() && wishes.empty() ? "" : " and ") + "a meal";
        if (answer.proof == order::Proof::bounded)
            text += " (best found, not proven)";
        return text;
    }

    const ReasonInput& input_;
    const Shoot& shoot_;
    const order::Problem& problem_;
};

} // namespace

std::vector<Dropped> explain_dropped(const ReasonInput& input) {
    const Explainer explainer(input);
    std::vector<Dropped> reasons;
    for (const std::uint32_t visit : input.solution.dropped)
        reasons.push_back(explainer.explain(visit));
    return reasons;
}

} // namespace routing::shoot
