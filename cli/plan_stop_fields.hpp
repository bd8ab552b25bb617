#pragma once
/// The stops of a plan.json and the values they are made of. Everything a plan holds is needed: a missing member is a
/// fault. After a fault the getters give a zero, so that the rest of the file can be checked.

#include "cli/json_fields.hpp"
#include "routing/shoot/plan.hpp"

#include <span>
#include <string>
#include <string_view>

namespace cli {

routing::shoot::PlanStop read_plan_stop(const Field& field, const geo::TimeZone& zone);

std::string needed_text(const Members& members, std::string_view key);
std::string needed_any_text(const Members& members, std::string_view key);
bool needed_flag(const Members& members, std::string_view key);
geo::Instant needed_instant(const Members& members, std::string_view key, const geo::TimeZone& zone);
geo::Seconds needed_seconds(const Members& members, std::string_view key);
geo::Metres needed_metres(const Members& members, std::string_view key);

/// Index of a text among `words`.
std::optional<std::size_t> read_word(const Field& field, std::span<const std::string_view> words);

} // namespace cli
