#pragma once
/// Kinds of weather a scene may suit, and what a crew tells of the sky.
///
///     if (!suits(option, "overcast")) ... // another option, another day

#include "routing/shoot/shoot.hpp"

#include <string>
#include <vector>

namespace routing::shoot {

/// As shoot files write them, "any" last: clear to overcast as aviation reports cloud (WMO code table 2700 in words,
/// from memory), then weather that falls.
const std::vector<std::string>& sky_kinds();

/// Under a closed cloud: overcast, fog, and what falls for long.
bool is_closed_sky(const std::string& sky);

/// An option that names no sky suits any.
bool suits(const SceneOption& option, const std::string& sky);

/// What the crew told of the sky of that day, if it did.
const std::string* told_sky(const Shoot& shoot, geo::CivilDate day);

/// "clear, broken"
std::string sky_text(const SceneOption& option);

} // namespace routing::shoot
