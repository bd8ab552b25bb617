#include "routing/hours/hours.hpp"

#include "routing/hours/day_plan.hpp"
#include "routing/hours/reader.hpp"

#include <algorithm>
#include <cassert>

namespace routing::hours {
namespace {

constexpr std::size_t longest_text = 2000;

bool names(const std::vector<Rule>& rules, bool school) {
    return std::any_of(rules.begin(), rules.end(), [school](const Rule& rule) {
        return std::any_of(rule.holidays.begin(), rule.holidays.end(),
                           [school](const HolidayDay& holiday) { return holiday.school == school; });
    });
}

const Piece& piece_at(const std::vector<Piece>& pieces, geo::Instant when) {
    return *std::find_if(pieces.begin(), pieces.end(), [when](const Piece& piece) { return when < piece.time.until; });
}

/// The course under the likeliest assumption, beside those under the others that can be true.
struct Courses {
    std::vector<Piece> base;
    std::vector<std::vector<Piece>> likely;   ///< where these differ, nobody knows
    std::vector<std::vector<Piece>> unlikely; ///< where these differ, the base holds with a proviso
};

std::vector<geo::Instant> borders(const Courses& courses) {
    std::vector<geo::Instant> all;
    const auto add = [&](const std::vector<Piece>& pieces) {
        for (const Piece& piece : pieces) {
            all.push_back(piece.time.from);
            all.push_back(piece.time.until);
        }
    };
    add(courses.base);
    for (const auto& pieces : courses.likely)
        add(pieces);
    for (const auto& pieces : courses.unlikely)
        add(pieces);
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

bool differs_in_any(const std::vector<std::vector<Piece>>& courses, geo::Instant when, State state) {
    return std::any_of(courses.begin(), courses.end(),
                       [&](const std::vector<Piece>& pieces) { return piece_at(pieces, when).state != state; });
}

bool alike(const Stretch& a, const Stretch& b) {
    return a.state == b.state && a.reason == b.reason && a.comment == b.comment && a.unless_holiday == b.unless_holiday;
}

/// Adds a stretch, joined to the one before where they touch and say the same.
void append(std::vector<Stretch>& list, Stretch next) {
    if (!list.empty() && list.back().time.until == next.time.from && alike(list.back(), next))
        list.back().time.until = next.time.until;
    else
        list.push_back(std::move(next));
}

} // namespace

Hours read_hours(std::string_view text) {
    Hours hours;
    hours.text_ = text;
    try {
        if (text.size() > longest_text)
            throw Refusal{longest_text, "the text is longer than 2,000 bytes"};
        Reader reader(text);
        hours.rules_ = reader.rules();
        hours.remarks_ = reader.remarks();
    } catch (const Refusal& refusal) {
        hours.refusal_ = refusal;
    }
    return hours;
}

bool Hours::names_public_holidays() const {
    return names(rules_, false);
}

bool Hours::names_school_holidays() const {
    return names(rules_, true);
}

std::vector<Stretch> Hours::of_day(geo::CivilDate day, const Site& site, const std::vector<Doubts>& doubts) const {
    using Public = DayKnowledge::Public;
    const auto plan = [&](Public assume_public, bool assume_school) {
        return day_plan(rules_, doubts, day, site, {site.holidays, assume_public, assume_school});
    };
    Courses courses{.base = plan(Public::none, false), .likely = {}, .unlikely = {}};
    if (courses.base.empty())
        return {};
    const bool schools = names_school_holidays();
    if (schools)
        courses.likely.push_back(plan(Public::none, true));
    if (names_public_holidays()) {
        courses.likely.push_back(plan(Public::likely, false));
        courses.unlikely.push_back(plan(Public::all, false));
        if (schools)
            courses.likely.push_back(plan(Public::likely, true));
    }
    std::vector<Stretch> stretches;
    const std::vector<geo::Instant> border = borders(courses);
    for (std::size_t i = 0; i + 1 < border.size(); ++i) {
        const Piece& base = piece_at(courses.base, border[i]);
        Stretch stretch{.time = {border[i], border[i + 1]}, .state = base.state, .reason = base.reason};
        if (base.rule) {
            stretch.comment = rules_[*base.rule].comment;
            stretch.rule = *base.rule;
        }
        if (differs_in_any(courses.likely, border[i], base.state)) {
            stretch.state = State::unknown;
            stretch.reason = Reason::holiday;
        } else {
            stretch.unless_holiday = differs_in_any(courses.unlikely, border[i], base.state);
        }
        if (stretch.state != State::closed)
            append(stretches, std::move(stretch));
    }
    return stretches;
}

std::vector<Stretch> Hours::intervals(geo::Interval span, const Site& site) const {
    assert(span.from <= span.until);
    std::vector<Stretch> all;
    if (span.from == span.until)
        return all;
    if (refusal_) {
        all.push_back({.time = span, .state = State::unknown, .reason = Reason::unreadable, .comment = text_});
        return all;
    }
    const std::vector<Doubts> doubts = find_doubts(rules_);
    const geo::CivilDate last = geo::civil_date(span.until, site.zone);
    for (geo::CivilDate day = geo::civil_date(span.from, site.zone); day <= last; day = geo::next_date(day)) {
        for (Stretch& stretch : of_day(day, site, doubts)) {
            stretch.time = {std::max(stretch.time.from, span.from), std::min(stretch.time.until, span.until)};
            if (stretch.time.from < stretch.time.until)
                append(all, std::move(stretch));
        }
    }
    return all;
}

Judged Hours::state_at(geo::Instant when, const Site& site) const {
    const auto found = intervals({when, when + geo::Seconds{1}}, site);
    if (found.empty())
        return {};
    const Stretch& stretch = found.front();
    return {stretch.state, stretch.reason, stretch.comment, stretch.unless_holiday};
}

} // namespace routing::hours
