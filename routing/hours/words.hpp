#pragma once
/// Names of weekdays and months as mappers write them.

#include "routing/hours/tokens.hpp"

#include <optional>

namespace routing::hours {

struct NamedDay {
    unsigned number = 0; ///< weekday 0 Monday to 6 Sunday; month 1 to 12
    bool plain = true;   ///< written as the specification writes it ("Mo", "Jan")
};

/// English names and their short forms, German ones where no English word is meant by the same letters.
std::optional<NamedDay> weekday_of(const Token& token);
std::optional<NamedDay> month_of(const Token& token);

} // namespace routing::hours
