#pragma once
/// The crew's words: what is to be shot, where, in which light, by whom. Filled by the shoot-file reader, or by hand:
///
///     routing::shoot::Shoot shoot{.title = "Salt", .zone = ..., ...};

#include "geo/coordinate.hpp"
#include "geo/light_window.hpp"
#include "routing/places/place.hpp"
#include "routing/roads/closure.hpp"
#include "routing/roads/vehicle.hpp"

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace geo::terrain {
class HorizonProfile;
class HorizonCache;
} // namespace geo::terrain

namespace routing::shoot {

using geo::Instant;
using geo::Seconds;
using std::chrono::minutes;

struct NamedPoint {
    std::string name{};
    geo::Coordinate at{};
};

/// Roads a crew would rather not use; the names are those of the shoot file.
enum class AvoidedKind { tolls, ferries, unpaved };
inline constexpr std::array<const char*, 3> avoided_kind_names{"tolls", "ferries", "unpaved"};

struct Crew {
    int people = 1;
    roads::Vehicle vehicle{};
    minutes max_walk{60};             ///< one way, from the van
    double load_kg = 15.0;            ///< carried by each on foot, 0 to 60
    std::vector<AvoidedKind> avoid{}; ///< kept unless a stop needs such a road, see avoided_roads.hpp
    minutes turnaround{0};            ///< least rest between wrap and the next call
};

enum class DayEdge { base, bed, anywhere }; ///< where a day starts or ends

struct ShootDay {
    geo::CivilDate date{};
    geo::ClockTime earliest_call{};
    geo::ClockTime latest_wrap{}; ///< on the next date when not later than the call
    DayEdge start = DayEdge::base;
    DayEdge end = DayEdge::base;
};

struct Location {
    std::string id{};
    std::string name{};
    geo::Coordinate at{};
    std::optional<geo::Coordinate> park_at{}; ///< where the van is left; else the road point nearest to `at`
    std::optional<geo::Degrees> facing{};     ///< the way the camera looks, azimuth
    std::shared_ptr<const geo::terrain::HorizonProfile> horizon{}; ///< null: flat, or not known; see ground.hpp
    minutes setup{0};
    minutes pack{0};
    bool walk_in_darkness = false; ///< the crew knows the way: paths hard to see are walked in the dark too
    std::string open{};            ///< opening hours, as OpenStreetMap writes them; empty: at all hours
    std::string notes{};
    std::string permit{};
};

struct Shot {
    std::string title{};
    minutes length{0};
    bool must = false;
};

/// One way to shoot a scene.
struct SceneOption {
    std::uint32_t location = 0; ///< index into Shoot::locations
    minutes length{0};
    std::vector<geo::LightRequest> light{}; ///< any of these
    std::vector<std::string> sky{};         ///< weather it suits; printed, not judged
};

struct Scene {
    std::string id{};
    std::string title{};
    bool must = true;
    int worth = 0; ///< 1..100 when not a must
    std::vector<SceneOption> options{};
    std::vector<std::uint32_t> after{};  ///< indices into Shoot::scenes
    std::optional<Instant> not_before{}; ///< filming begins no earlier
    std::optional<Instant> not_after{};  ///< filming ends no later
    std::vector<Shot> shots{};
    std::vector<std::string> gear{};
};

enum class MealWhere { find, fixed, packed };

struct MealWish {
    std::string name{};
    geo::ClockTime from{};
    geo::ClockTime until{};
    minutes length{0};
    std::optional<minutes> within_of_call{};
    MealWhere where = MealWhere::find;
    NamedPoint fixed{};
    std::vector<places::PlaceKind> kinds{}; ///< for `find`
};

struct Lodging {
    bool find = true;
    NamedPoint fixed{};
    std::vector<places::PlaceKind> kinds{};
};

/// The weather as the crew tells it: options that do not suit it are out.
struct ToldSky {
    std::string sky{};
    std::optional<geo::CivilDate> on{}; ///< that day only; nothing: every day
    friend bool operator==(const ToldSky&, const ToldSky&) = default;
};

struct Shoot {
    std::string title{};
    std::string zone_name{};
    geo::TimeZone zone;
    std::string file{};                                   ///< for messages
    std::vector<std::string> regions{};                   ///< extracts, as paths that can be opened
    std::vector<std::string> terrain{};                   ///< elevation tiles, as paths that can be opened
    std::shared_ptr<geo::terrain::HorizonCache> ground{}; ///< of those; null: none, or not looked at yet
    Crew crew{};
    std::optional<NamedPoint> base{};
    std::vector<ShootDay> days{};
    std::vector<Location> locations{};
    std::vector<Scene> scenes{};
    std::vector<MealWish> meals{};
    std::optional<Lodging> lodging{};
    std::vector<roads::Closure> closures{};
    std::optional<std::vector<geo::CivilDate>> holidays{}; ///< public ones in its days; nothing: not known
    std::optional<ToldSky> told_sky{};                     ///< from the command line
    std::vector<std::string> warnings{};                   ///< what the reader noticed
};

} // namespace routing::shoot
