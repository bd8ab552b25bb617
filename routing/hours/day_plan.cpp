#include "routing/hours/day_plan.hpp"

#include "routing/hours/rule_times.hpp"

#include <algorithm>
#include <functional>

namespace routing::hours {
namespace {

class DayPlanner {
public:
    DayPlanner(const std::vector<Rule>& rules, const std::vector<Doubts>& doubts, geo::CivilDate day, const Site& site,
               const DayKnowledge& known)
        : rules_(rules), doubts_(doubts), today_(day), yesterday_(std::chrono::sys_days{day} - std::chrono::days{1}),
          site_(site), known_(known), span_(geo::civil_day(day, site.zone)) {}

    std::vector<Piece> run() {
        if (span_.from == span_.until)
            return {};
        pieces_.push_back({.time = span_});
        for (std::size_t i = 0; i < rules_.size(); ++i) {
            const bool today = matches(rules_[i], today_, known_);
            const bool yesterday = matches(rules_[i], yesterday_, known_);
            if (!today && !yesterday)
                continue;
            if (rules_[i].separator != Separator::fallback)
                clear(i, today);
            lay(i, today, yesterday);
        }
        return std::move(pieces_);
    }

private:
    bool closes_day(std::size_t rule) const {
        return rules_[rule].state == State::closed && rules_[rule].times.empty();
    }

    /// What the rule takes away from earlier ones before it is laid over them.
    void clear(std::size_t rule, bool today) {
        const bool replaces = rules_[rule].separator == Separator::normal && rules_[rule].state != State::closed;
        if (!closes_day(rule) && !replaces)
            return;
        for (Piece& piece : pieces_) {
            if (!piece.rule || piece.state == State::closed)
                continue;
            if (piece.of_night_before)
                // Either the night's own day is replaced, which leaves open whether its end past midnight is; or the
                // night runs into a day that is.
                doubt(piece);
            else if (today && replaces && (doubts_[*piece.rule].shadowed || after_holiday(rule)))
                doubt(piece);
            else if (today && replaces)
                piece = {.time = piece.time};
        }
    }

    static void doubt(Piece& piece) {
        piece.was_open = piece.state == State::open;
        if (piece.was_open)
            piece.reason = Reason::disputed;
        piece.state = State::unknown;
    }

    void lay(std::size_t rule, bool today, bool yesterday) {
        std::vector<Claim> of_night = yesterday ? claims(rules_[rule], yesterday_, site_) : std::vector<Claim>{};
        std::vector<Claim> of_day = today ? claims(rules_[rule], today_, site_) : std::vector<Claim>{};
        if (!means(rule, yesterday_))
            dispute(of_night);
        if (!means(rule, today_))
            dispute(of_day);
        // The uncertain tails of both days first: what is certain lies over them.
        const auto uncertain = [&](const Claim& claim) {
            return claim.state == State::unknown && rules_[rule].state != State::unknown;
        };
        for (const bool first_pass : {true, false}) {
            for (const Claim& claim : of_night)
                if (uncertain(claim) == first_pass)
                    lay(rule, claim, true);
            for (const Claim& claim : of_day)
                if (uncertain(claim) == first_pass)
                    lay(rule, claim, false);
        }
    }

    static void dispute(std::vector<Claim>& claims) {
        for (Claim& claim : claims) {
            claim.state = State::unknown;
            claim.reason = Reason::disputed;
        }
    }

    /// Whether the writer surely meant the rule to hold on that day.
    bool means(std::size_t rule, geo::CivilDate day) const {
        const Doubts& doubts = doubts_[rule];
        return (!doubts.days_of || matches(rules_[*doubts.days_of], day, known_)) &&
               (!doubts.season_of || matches(rules_[*doubts.season_of].wide, day));
    }

    void lay(std::size_t rule, const Claim& claim, bool of_night) {
        const geo::Interval time{std::max(claim.time.from, span_.from), std::min(claim.time.until, span_.until)};
        if (time.from >= time.until)
            return;
        split(time.from);
        split(time.until);
        for (Piece& piece : pieces_) {
            if (piece.time.from < time.from || piece.time.until > time.until)
                continue;
            State state = claim.state;
            Reason reason = claim.reason;
            // A day off does not tell how the night before it ends.
            if (closes_day(rule) && piece.of_night_before && piece.state == State::unknown)
                continue;
            const bool told_closed = piece.rule && piece.state == State::closed;
            if (rules_[rule].separator == Separator::fallback) {
                if (piece.state != State::closed)
                    continue;
                if (told_closed && state == State::open) {
                    state = State::unknown;
                    reason = Reason::disputed;
                }
            } else if (state == State::open && !of_night &&
                       ((told_closed && doubts_[*piece.rule].shadowed) || (!piece.was_open && after_holiday(rule)))) {
                state = State::unknown;
                reason = Reason::disputed;
            }
            piece.state = state;
            piece.reason = reason;
            piece.rule = rule;
            piece.of_night_before = of_night;
            piece.was_open = false;
        }
    }

    /// "PH off; Mo-Fr 10:00-12:00": an earlier rule for today's holiday, and a later one that just names weekdays.
    bool after_holiday(std::size_t rule) const {
        if (!rules_[rule].holidays.empty() || !rules_[rule].wide.empty() || rules_[rule].separator != Separator::normal)
            return false;
        for (std::size_t earlier = 0; earlier < rule; ++earlier)
            if (matches(rules_[earlier].wide, today_) && matches_holiday(rules_[earlier], today_, known_) &&
                (!rules_[earlier].weekday_in_holiday || matches_day(rules_[earlier], today_, known_)))
                return true;
        return false;
    }

    void split(geo::Instant at) {
        for (std::size_t i = 0; i < pieces_.size(); ++i) {
            if (pieces_[i].time.from < at && at < pieces_[i].time.until) {
                Piece second = pieces_[i];
                second.time.from = at;
                pieces_[i].time.until = at;
                pieces_.insert(pieces_.begin() + static_cast<std::ptrdiff_t>(i) + 1, second);
                return;
            }
        }
    }

    const std::vector<Rule>& rules_;
    const std::vector<Doubts>& doubts_;
    geo::CivilDate today_;
    geo::CivilDate yesterday_;
    const Site& site_;
    const DayKnowledge& known_;
    geo::Interval span_;
    std::vector<Piece> pieces_;
};

} // namespace

std::vector<Piece> day_plan(const std::vector<Rule>& rules, const std::vector<Doubts>& doubts, geo::CivilDate day,
                            const Site& site, const DayKnowledge& known) {
    return DayPlanner(rules, doubts, day, site, known).run();
}

} // namespace routing::hours
