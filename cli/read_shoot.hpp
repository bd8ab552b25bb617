#pragma once
/// Reads a shoot file: JSON with comments, checked as a whole, every fault named at once.
///
///     const routing::shoot::Shoot shoot = cli::read_shoot("shoot.json");

#include "routing/shoot/shoot.hpp"

#include <filesystem>
#include <string>

namespace cli {

/// Most scenes a shoot may hold: what the solver takes.
constexpr std::size_t scene_limit = 64;
constexpr std::size_t day_limit = 60;

/// Throws geo::InputError with all faults of the file. Paths in the file are relative to its folder; "-" is standard
/// input, with paths relative to the working folder.
routing::shoot::Shoot read_shoot(const std::string& file);

/// The same for text at hand; `file` is for messages, `folder` for the paths in it.
routing::shoot::Shoot parse_shoot(const std::string& text, const std::string& file,
                                  const std::filesystem::path& folder);

} // namespace cli
