#pragma once
/// Which days have what is wished, and when.
///
///     const auto found = cli::find_light(wish, {arch, horizon}, dates, zone);
///     for (const auto& hit : found) hit.date, hit.window
///
/// With a horizon rising and setting are over and behind the ground: the first sight of sun or moon after it has risen
/// on a flat horizon and the last before it sets there; where it stays up round the clock, each time it comes out and
/// goes behind.

#include "cli/find_light_wish.hpp"
#include "geo/coordinate.hpp"
#include "geo/interval.hpp"
#include "geo/light_quality.hpp"
#include "geo/local_time.hpp"
#include "geo/terrain/horizon.hpp"

#include <memory>
#include <vector>

namespace cli {

struct FindPlace {
    geo::Coordinate at;
    std::shared_ptr<const geo::terrain::HorizonProfile> horizon{}; ///< null: flat
};

struct FoundLight {
    geo::CivilDate date;
    geo::Interval window; ///< of no length for a moment
    /// Of the sun, or of the moon for its wishes, at the window's ends; nothing for lights of the night.
    std::optional<std::pair<geo::Degrees, geo::Degrees>> azimuths;
    std::optional<geo::BestTime> best; ///< for lights that are not all alike
};

/// In order of the dates, then of time. A window over midnight belongs to the first of the dates it touches; one that
/// goes on for more than half a day beyond a date is cut at the date's end and goes on in the next.
std::vector<FoundLight> find_light(const FindWish& wish, const FindPlace& place,
                                   const std::vector<geo::CivilDate>& dates, const geo::TimeZone& zone);

} // namespace cli
