#pragma once
/// When a rule's times fall on one day.
///
///     for (const Claim& claim : claims(rule, day, site)) // "22:00-02:00" reaches into the next day

#include "routing/hours/hours.hpp"

#include <vector>

namespace routing::hours {

struct Claim {
    geo::Interval time; ///< longer than zero
    State state = State::open;
    Reason reason = Reason::stated;
};

/// Claims that begin on that day, the uncertain ones first so that the others can be laid over them. A rule without
/// times claims the whole civil day. Clock times that a change skips are the first instant after; times that a change
/// shows twice leave the hour between them unknown.
std::vector<Claim> claims(const Rule& rule, geo::CivilDate day, const Site& site);

} // namespace routing::hours
