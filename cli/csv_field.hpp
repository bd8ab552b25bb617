#pragma once
/// A value as comma-separated files hold it.

#include <string>

namespace cli {

/// Quoted where a comma, a quote or a line break asks for it (RFC 4180, section 2).
std::string csv_field(const std::string& text);

} // namespace cli
