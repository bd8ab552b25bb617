#pragma once
/// The crew's word on the command line for the weather: `--sky`.
///
///     parse_sky("overcast")

#include <string>

namespace cli {

/// One of the kinds scenes name (sky_kinds.hpp); "any" is not known. Throws geo::InputError with the field `--sky`.
std::string parse_sky(const std::string& text);

} // namespace cli
