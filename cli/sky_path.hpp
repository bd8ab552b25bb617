#pragma once
/// Sun or moon from one place: where it stands and when it can be seen there.
///
///     const cli::SkyPath moon(SkyBody::moon, arch, horizon);
///     for (const auto& sight : moon.seen(night)) ...

#include "geo/coordinate.hpp"
#include "geo/interval.hpp"
#include "geo/sky/observer.hpp"
#include "geo/terrain/horizon.hpp"

#include <memory>

namespace cli {

enum class SkyBody { sun, moon };

class SkyPath {
public:
    /// `horizon` null: flat. Throws std::domain_error for an invalid coordinate.
    SkyPath(SkyBody body, geo::Coordinate place, std::shared_ptr<const geo::terrain::HorizonProfile> horizon);

    /// Centre, airless.
    geo::sky::SkyPosition at(geo::sky::PreciseInstant when) const;
    geo::sky::SkyPosition at(geo::Instant when) const { return at(geo::sky::precise(when)); }

    /// Spans with the upper limb above a flat horizon, cut at the ends of `span`.
    geo::Intervals risen(geo::Interval span) const;
    /// The same above what stands round the place.
    geo::Intervals seen(geo::Interval span) const;

private:
    SkyBody body_;
    geo::Coordinate place_;
    std::shared_ptr<const geo::terrain::HorizonProfile> horizon_;
    geo::sky::Observer observer_;
};

} // namespace cli
