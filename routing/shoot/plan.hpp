#pragma once
/// A plan: the days with their stops, and the legs between them. A plain value; writers turn it into documents.

#include "geo/coordinate.hpp"
#include "geo/light_window.hpp"
#include "routing/roads/directions.hpp"
#include "routing/roads/foot/climb.hpp"
#include "routing/roads/shortest_path.hpp"
#include "routing/shoot/nearest_ward.hpp"
#include "routing/shoot/shoot.hpp"

#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

/// A way on foot.
struct OnFoot {
    Seconds time{0};
    geo::Metres length{0.0};
    std::vector<geo::Coordinate> line{};       ///< as walked; empty when the way is estimated
    std::optional<roads::foot::Climb> climb{}; ///< nothing: reckoned as level
    std::uint16_t notes = 0;                   ///< of its paths: roads::EdgeNote bits
};

/// A road that is shut for a time.
struct ShutRoad {
    std::string name{}; ///< empty for an unnamed road
    geo::Interval shut{};
    friend bool operator==(const ShutRoad&, const ShutRoad&) = default;
};

/// Standing before a road until it reopens.
struct RoadWait {
    std::string road{}; ///< its name; empty for an unnamed one
    Instant from, until{};
};

/// The move to a stop: van, then on foot from where the van is left.
struct Leg {
    Seconds total{0};     ///< driving, waiting on the way, walking
    Seconds van{0};       ///< driving
    Seconds wait{0};      ///< for roads to reopen, on the way
    Seconds drive_out{0}; ///< of `van`: first, out of a shut road
    geo::Metres length{}; ///< by road
    OnFoot walk_out{};    ///< from the stop before back to the van
    OnFoot walk_in{};     ///< from the van to the stop
    std::vector<roads::RoadStretch> roads{};
    std::vector<roads::Instruction> directions{}; ///< the drive out sets off, and so does what follows it
    std::vector<geo::Coordinate> line{};          ///< by road, at least two points unless nothing was driven
    std::vector<ShutRoad> shut_roads{};           ///< driven here, and shut at other hours
    std::vector<RoadWait> waits{};                ///< in order of time

    Seconds walk() const { return walk_out.time + walk_in.time; }
    geo::Metres walk_length() const { return walk_out.length + walk_in.length; }
};

/// What a stop is to its day: the start, the end, where a re-plan found the crew, or anything between.
enum class StopRole { stop, call, wrap, now };

enum class PlanStopKind { base, scene, meal, bed, rest };

/// The light a scene is shot in.
struct StopLight {
    std::string name{}; ///< as asked for: "golden-evening", "sun -4° to 6°, evening", "10:00–16:00 by the clock"
    geo::Interval window{};                      ///< the span of that light the scene was put in
    geo::Degrees altitude_start, altitude_end{}; ///< centre of the sun when filming starts and ends
    geo::Degrees azimuth_start, azimuth_end{};
};

struct PlanStop {
    PlanStopKind kind = PlanStopKind::scene;
    StopRole role = StopRole::stop;
    std::string id{};   ///< scene id, meal name, place id ("node/123")
    std::string name{}; ///< location or place
    std::string what{}; ///< scene title, meal name
    geo::Coordinate at{};
    geo::Coordinate van_at{}; ///< where the van stands
    std::string parking{};    ///< name of the car park it stands on, if any
    Instant arrive, start, end, leave, leave_by{};
    Seconds slack{0};
    std::optional<StopLight> light{};
    std::uint32_t option = 0;
    bool must = false;
    bool done = false;    ///< in a re-plan: already past
    bool running = false; ///< in a re-plan: the crew is at it
    Leg leg{};            ///< the way here; zero for the first stop
    std::vector<std::string> notes{};

    bool is_begun() const { return done || running; }
};

struct PlanDay {
    geo::CivilDate date{};
    Instant call, wrap{};
    Seconds drive{0}, walk{0};
    geo::Metres distance{};
    std::vector<PlanStop> stops{};
};

struct Dropped {
    std::string scene{};
    std::string title{};
    bool must = false;
    std::string why{};
};

enum class PlanResult { optimal, feasible, partial };

struct Plan {
    PlanResult result = PlanResult::optimal;
    bool proven = true;       ///< the order is proven best (a partial plan can be proven too)
    std::string bound_text{}; ///< when not proven: what could at most be gained
    std::int64_t worth = 0, worth_bound = 0;
    std::uint64_t labels = 0;
    std::vector<PlanDay> days{};
    std::vector<Dropped> dropped{};
    std::vector<std::string> warnings{};
    std::vector<NearestWard> wards{};           ///< of each location filmed at; none: not looked for
    std::vector<roads::Closure> closures{};     ///< taken in by re-plans, beyond the shoot file's own
    std::vector<std::string> dropped_by_crew{}; ///< scene ids given up in re-plans
    std::optional<ToldSky> told_sky{};          ///< the weather it was made for, where the crew told it
    std::vector<std::string> scenes_done{};     ///< scene ids in the can when the plan was made
};

} // namespace routing::shoot
