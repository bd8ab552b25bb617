#pragma once
/// Digests of judged hours, to keep an agreement with another program without keeping its results or the values.
///
///     digest(value)                                        // of a text
///     digest(spans_of(hours.intervals(span, site)))        // of its open and unknown spans
///
/// The 64-bit FNV-1a hash: Fowler, Noll, Vo, The FNV Non-Cryptographic Hash Algorithm (IETF draft-eastlake-fnv).

#include "routing/hours/hours.hpp"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace hours_test {

/// A stretch without its reasons; neighbours of one state are joined.
struct StateSpan {
    geo::Interval time;
    routing::hours::State state;
    friend bool operator==(const StateSpan&, const StateSpan&) = default;
};

std::vector<StateSpan> spans_of(const std::vector<routing::hours::Stretch>& stretches);
std::uint64_t digest(std::string_view text);
std::uint64_t digest(const std::vector<StateSpan>& spans);
/// Sixteen hexadecimal digits.
std::string hex(std::uint64_t number);

} // namespace hours_test
