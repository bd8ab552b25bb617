#pragma once
/// The ways on foot of a map, taken from its prepared file, or made, when they are first asked for: many plans never
/// leave the road.
///
///     const FootWays ways([&] { return FootWays::Parts{...}; });
///     ways.network(), ways.index()

#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <functional>
#include <memory>
#include <utility>

namespace routing::shoot {

/// Not for two threads at once. Stays where it is: what it hands out refers to it.
class FootWays {
public:
    struct Parts {
        roads::RoadNetwork network;
        roads::SnapParts index;
    };
    using Find = std::function<Parts()>;

    explicit FootWays(Find find) : find_(std::move(find)) {}
    FootWays(const FootWays&) = delete;
    FootWays& operator=(const FootWays&) = delete;

    const roads::RoadNetwork& network() const { return found().network; }
    const roads::SnapIndex& index() const { return found().index; }

private:
    struct Found {
        explicit Found(Parts parts) : network(std::move(parts.network)), index(network, std::move(parts.index)) {}
        const roads::RoadNetwork network;
        const roads::SnapIndex index;
    };
    const Found& found() const {
        if (!found_)
            found_ = std::make_unique<const Found>(std::exchange(find_, {})());
        return *found_;
    }

    mutable Find find_;
    mutable std::unique_ptr<const Found> found_;
};

} // namespace routing::shoot
