#pragma once
/// When a time rule shuts its road.
///
///     const RuleTimes times = shut_by_rule(rule, {first_call, last_wrap}, {place, zone, {}});
///     times.shut      // keep off
///     times.unsure    // the part of it that is shut because nobody knows

#include "geo/interval.hpp"
#include "routing/hours/hours.hpp"
#include "routing/roads/time_rule.hpp"

namespace routing::roads {

struct RuleTimes {
    geo::Intervals shut;
    geo::Intervals unsure; ///< inside `shut`
};

/// A clause that may hold or not counts where it shuts, not where it opens. Seasons are the three months of
/// meteorology, turned by half a year south of the equator; around them lies a stretch that may belong to them or not
/// (one month, around winter two: our figures), and between the tropics nobody knows.
/// Source of the months: K. E. Trenberth, What are the seasons?, Bull. Amer. Meteorol. Soc. 64:1276 (1983), from
/// memory; OSM wiki, Key:seasonal gives none.
RuleTimes shut_by_rule(const TimeRule& rule, geo::Interval span, const hours::Site& site);

/// Whether the answer may differ from place to place: seasons, sunrise and sunset.
bool depends_on_place(const TimeRule& rule);

} // namespace routing::roads
