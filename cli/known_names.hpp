#pragma once
/// What to offer a user who wrote a name that is not known.
///
///     offer_names("golden-evenin", names, "light") == "did you mean \"golden-evening\"?"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace cli {

/// The known name nearest by edit distance; nothing when more than a third of the letters (two at least, one in a
/// word of three) differ, so that no nonsense is offered. The first of equals wins.
std::optional<std::string> meant_name(std::string_view written, const std::vector<std::string>& known);

/// The mend for an unknown name: the nearest one, else the known ones. `what` they are, in the singular.
std::string offer_names(std::string_view written, const std::vector<std::string>& known, std::string_view what);

} // namespace cli
