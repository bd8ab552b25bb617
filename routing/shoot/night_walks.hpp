#pragma once
/// Walks in darkness: slower, and not at all by paths that are hard to see.
///
///     NightWalks night(shoot, days);
///     for (const NightStart& part : night.split(windows, option, point, location))
///         visit.options.push_back({point, option.length, setup + part.more_in, pack + part.more_out, part.windows});
///
/// What the dark adds to a walk is reckoned as more set-up and more packing, so that it falls away, like these, between
/// scenes shot in a row at one spot. A crew that comes early and waits may walk by day after all: then it is early.

#include "routing/order/problem.hpp"
#include "routing/shoot/parking.hpp"
#include "routing/shoot/shoot.hpp"

#include <map>
#include <vector>

namespace routing::shoot {

/// The sun's centre below -6 degrees, the end of civil twilight (Astronomical Almanac).
bool is_dark(geo::Coordinate at, Instant when);

/// What a walk of that length takes longer in the dark: a pace of three quarters of that by day, with lights. Ours, no
/// source. Walks under a minute take no longer.
Seconds more_in_the_dark(Seconds walk);

/// Starts of filming with one and the same walk.
struct NightStart {
    std::vector<order::TimeWindow> windows;
    Seconds more_in{0};  ///< before set-up
    Seconds more_out{0}; ///< after packing
};

class NightWalks {
public:
    /// For the days by number. The shoot must outlive it.
    NightWalks(const Shoot& shoot, const std::vector<std::uint32_t>& days);

    /// The windows by whether the walk in just before set-up, and the one out after packing, touch darkness. Those in
    /// which a path hard to see would be walked in it are left out, unless the location allows it. Order of time kept;
    /// a window of one instant lies in one part.
    std::vector<NightStart> split(const std::vector<order::TimeWindow>& windows, const SceneOption& option,
                                  const StopPoint& point);

private:
    const geo::Intervals& dark_at(std::uint32_t location);

    const Shoot& shoot_;
    geo::Interval span_;
    std::map<std::uint32_t, geo::Intervals> dark_; ///< by location
};

} // namespace routing::shoot
