#pragma once
/// What is to be said about a text that was read, or could not be.

#include <cstddef>
#include <string>

namespace routing::hours {

/// Something written otherwise than the specification says, but understood.
struct Remark {
    std::size_t position = 0; ///< byte of the text
    std::string text;
};

/// Why a text can't be understood, and at which byte.
struct Refusal {
    std::size_t position = 0;
    std::string reason;
};

} // namespace routing::hours
