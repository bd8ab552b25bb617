#pragma once
/// Writes JSON documents the same on every machine, fit for reading and for comparing versions.
///
///     file << geo::json_text(document);
///
/// Indents by two, keeps lists of numbers (positions, boxes) on one line, and prints each number with the fewest
/// decimals that read back as the same number, without exponent from 1e-9 to 1e15. nlohmann's own writer promises
/// "shortest" but about one number in 650 comes out as 0.021048999999999998 for 0.021049 (measured over 1.9 million),
/// since its Grisu2 settles for a longer one there.

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace geo {

/// Ends with a line feed. Throws std::domain_error for NaN or infinity, which JSON can't say.
std::string json_text(const nlohmann::ordered_json& document);

} // namespace geo
