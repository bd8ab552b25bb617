#include "routing/roads/rule_times.hpp"

#include "routing/hours/condition.hpp"
#include "routing/roads/conditional.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace routing::roads {
namespace {

struct Season {
    std::string_view name;
    std::string_view months; ///< surely
    std::string_view around; ///< months that may belong to it, with those that surely do
    std::string_view south_months, south_around;
};

constexpr std::array seasons{
    Season{"spring", "Mar-May", "Feb-Jun", "Sep-Nov", "Aug-Dec"},
    Season{"summer", "Jun-Aug", "May-Sep", "Dec-Feb", "Nov-Mar"},
    Season{"autumn", "Sep-Nov", "Aug-Dec", "Mar-May", "Feb-Jun"},
    Season{"winter", "Dec-Feb", "Oct-Apr", "Jun-Aug", "Apr-Oct"},
};

constexpr double tropic = 23.44; // degrees

/// When a clause surely holds, and when it may.
struct Holding {
    geo::Intervals surely;
    geo::Intervals maybe; ///< with `surely`
};

Holding times_of(std::string_view text, geo::Interval span, const hours::Site& site) {
    const auto season = std::find_if(seasons.begin(), seasons.end(), [&](const Season& s) { return s.name == text; });
    if (season == seasons.end()) {
        hours::ConditionTimes times = hours::condition_times(text, span, site);
        geo::Intervals maybe = times.surely_true;
        maybe.insert(maybe.end(), times.unknown.begin(), times.unknown.end());
        return {std::move(times.surely_true), geo::join(std::move(maybe))};
    }
    const double latitude = site.at.latitude.value;
    if (std::abs(latitude) < tropic)
        return {{}, {span}};
    const bool south = latitude < 0.0;
    return {hours::condition_times(south ? season->south_months : season->months, span, site).surely_true,
            hours::condition_times(south ? season->south_around : season->around, span, site).surely_true};
}

Holding times_of(const TimedClause& clause, geo::Interval span, const hours::Site& site) {
    Holding all{{span}, {span}};
    for (const std::string& text : clause.when) {
        const Holding one = times_of(text, span, site);
        all = {geo::intersect(all.surely, one.surely), geo::intersect(all.maybe, one.maybe)};
    }
    // Spans that only touch meet in an instant.
    for (geo::Intervals* list : {&all.surely, &all.maybe})
        std::erase_if(*list, [](const geo::Interval& one) { return one.from == one.until; });
    return all;
}

geo::Intervals with(geo::Intervals list, const geo::Intervals& more) {
    list.insert(list.end(), more.begin(), more.end());
    return geo::join(std::move(list));
}

} // namespace

RuleTimes shut_by_rule(const TimeRule& rule, geo::Interval span, const hours::Site& site) {
    geo::Intervals shut, surely_shut;
    if (!rule.open)
        shut = surely_shut = {span};
    for (const TimedClause& clause : rule.clauses) {
        const Holding holds = times_of(clause, span, site);
        if (clause.open) {
            shut = geo::without(shut, holds.surely);
            surely_shut = geo::without(surely_shut, holds.maybe);
        } else {
            shut = with(std::move(shut), holds.maybe);
            surely_shut = with(std::move(surely_shut), holds.surely);
        }
    }
    return {shut, geo::without(shut, surely_shut)};
}

bool depends_on_place(const TimeRule& rule) {
    constexpr std::array of_the_sun{"sunrise", "sunset", "dawn", "dusk"};
    return std::any_of(rule.clauses.begin(), rule.clauses.end(), [&](const TimedClause& clause) {
        return std::any_of(clause.when.begin(), clause.when.end(), [&](const std::string& text) {
            const std::string lower = lower_case(text);
            return is_season(text) || std::any_of(of_the_sun.begin(), of_the_sun.end(), [&](const char* word) {
                       return lower.find(word) != std::string::npos;
                   });
        });
    });
}

std::string to_text(const TimeRule& rule) {
    std::string text = rule.open ? "open" : "shut";
    for (const TimedClause& clause : rule.clauses) {
        text += clause.open ? "; open @ (" : "; shut @ (";
        for (std::size_t n = 0; n < clause.when.size(); ++n)
            text += (n > 0 ? " AND " : "") + clause.when[n];
        text += ")";
    }
    return text;
}

} // namespace routing::roads
