#pragma once
/// Light windows of scene options, and where the sun stands while a scene is shot.

#include "routing/shoot/plan.hpp"
#include "routing/shoot/shoot.hpp"

namespace routing::shoot {

/// "golden-evening", "sun -4° to 6°, evening", "10:00-16:00 by the clock"; several joined by " or ".
std::string light_text(const std::vector<geo::LightRequest>& light);

/// "moon down or at most 10% lit", "moon up, 50% to 100% lit".
std::string moon_text(const geo::MoonWish& wish);

/// The span a day may be worked in: earliest call to latest wrap.
geo::Interval working_span(const ShootDay& day, const geo::TimeZone& zone);

/// What is known of the sky and ground round an option on a day: a closed cloud where the crew told one, or else where
/// the option suits no other weather; and the location's horizon.
geo::Surroundings surroundings_of(const Shoot& shoot, const SceneOption& option, geo::CivilDate day);

/// While a scene is shot with the sun up: what the ground does to it, "the sun goes behind the ground at 18:02"; empty
/// when it does nothing, or nothing is known.
std::string ground_note(const Shoot& shoot, const SceneOption& option, Instant start, Instant end);

/// Spans of the option's light on that day, inside the working span, of any length; none where the sky told does not
/// suit it.
geo::Intervals light_in_day(const Shoot& shoot, const SceneOption& option, const ShootDay& day);

/// What to print beside a scene shot from `start` to `end`: the light's name, its window and the sun's angles.
StopLight light_of(const Shoot& shoot, const SceneOption& option, const ShootDay& day, Instant start, Instant end);

} // namespace routing::shoot
