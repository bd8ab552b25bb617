#pragma once
/// Opening hours as mapped in OpenStreetMap, judged in three states: open, closed, or unknown.
///
///     const Hours hours = read_hours("Mo-Fr 09:00-17:00; PH off");
///     const Site site{{47.14_deg, 9.52_deg}, *geo::find_time_zone("Europe/Vaduz"), {}};
///     for (const Stretch& stretch : hours.intervals(day, site))   // closed between them
///         stretch.time, stretch.state, stretch.comment
///     hours.state_at(lunch, site).state == State::open
///
/// Open means: the text surely says so. Where it leaves something to chance, where the specification and what people
/// mean by the same words part, or where holidays are needed and not known, the answer is unknown, never open. What is
/// understood, tolerated and refused: docs/opening_hours.md.
/// Source: OSM wiki, Key:opening_hours/specification, version 0.7.4.

#include "geo/coordinate.hpp"
#include "geo/interval.hpp"
#include "geo/local_time.hpp"
#include "routing/hours/holidays.hpp"
#include "routing/hours/remark.hpp"
#include "routing/hours/rules.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace routing::hours {

struct Doubts;

/// Why a stretch is not simply open.
enum class Reason {
    stated,       ///< the text says so: open, "unknown", or a comment people have to read
    open_end,     ///< "17:00+": when it closes is not said
    holiday,      ///< it may be a holiday, and the rules differ then
    disputed,     ///< the specification says one thing, the writer may have meant another
    no_sun_event, ///< the sun does not rise or set that day
    clock_change, ///< the clock shows this time twice
    unreadable    ///< the text was refused
};

/// Where hours are judged. The zone travels with the question: nothing is read from the process.
struct Site {
    geo::Coordinate at; ///< for times of the sun
    geo::TimeZone zone;
    Holidays holidays; ///< empty: not known
};

/// A stretch of time that is open or unknown; read as half-open, its last instant already belongs to what follows.
struct Stretch {
    geo::Interval time;
    State state = State::unknown;
    Reason reason = Reason::stated;
    std::string comment{};       ///< of the rule that decided
    bool unless_holiday = false; ///< holds if the day is no public holiday, which is not known
    std::size_t rule = 0;        ///< index in rules(): the rule that decided; unused when unreadable
};

/// State at one instant, with what decided it. Closed without a rule: no rule speaks of that time.
struct Judged {
    State state = State::closed;
    Reason reason = Reason::stated;
    std::string comment;
    bool unless_holiday = false;
};

class Hours {
public:
    /// Open and unknown stretches inside the span, in order, disjoint, each longer than zero; neighbours differ in
    /// something. Cost: O(days × rules), and a search for the sun on each day that needs it.
    std::vector<Stretch> intervals(geo::Interval span, const Site& site) const;
    /// Agrees with intervals() at every instant.
    Judged state_at(geo::Instant when, const Site& site) const;

    const std::string& text() const { return text_; } ///< as mapped
    const std::vector<Rule>& rules() const { return rules_; }
    const std::vector<Remark>& remarks() const { return remarks_; }
    /// Why the text was refused; every instant is then unknown.
    const std::optional<Refusal>& refusal() const { return refusal_; }
    /// Whether a rule names PH or SH.
    bool names_public_holidays() const;
    bool names_school_holidays() const;

private:
    friend Hours read_hours(std::string_view text);
    std::vector<Stretch> of_day(geo::CivilDate day, const Site& site, const std::vector<Doubts>& doubts) const;

    std::string text_;
    std::vector<Rule> rules_;
    std::vector<Remark> remarks_;
    std::optional<Refusal> refusal_;
};

/// Reads any text; one that makes no sense gives hours with a refusal. Texts over 2,000 bytes are refused (the map's
/// own limit is 255 characters).
Hours read_hours(std::string_view text);

} // namespace routing::hours
