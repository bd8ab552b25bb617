#pragma once
/// Reads a shoot file: JSON with comments, checked as a whole, every fault named at once.
///
///     const routing::shoot::Shoot shoot = cli::read_shoot("shoot.json");

#include "geo/local_time.hpp"
#include "routing/shoot/shoot.hpp"

#include <filesystem>
#include <string>

namespace cli {

/// What the solver takes at most.
constexpr std::size_t scene_limit = 64;
constexpr std::size_t day_limit = 31;
constexpr std::size_t meal_limit = 8;       ///< a day
constexpr std::size_t option_limit = 400;   ///< a scene, its own way among them
constexpr geo::Seconds span_limit{1 << 24}; ///< from the first call to the last wrap, 194 days

/// Throws geo::InputError with all faults of the file. Paths in the file are relative to its folder; "-" is standard
/// input, with paths relative to the working folder.
routing::shoot::Shoot read_shoot(const std::string& file);

/// The same for text at hand; `file` is for messages, `folder` for the paths in it.
routing::shoot::Shoot parse_shoot(const std::string& text, const std::string& file,
                                  const std::filesystem::path& folder);

} // namespace cli
