#pragma once
/// What a tag rule could not read or had to assume, in plain English; the network builder counts each text.
///
///     remarks.push_back("oneway value not understood: taken as one-way");

#include <string_view>
#include <vector>

namespace routing::roads {

/// Texts live for ever: rules push string literals only.
using Remarks = std::vector<std::string_view>;

} // namespace routing::roads
