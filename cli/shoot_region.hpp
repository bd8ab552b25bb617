#pragma once
/// The map of a shoot, as the commands that plan on it load it.

#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

namespace CLI {
class App;
}

namespace cli {

/// Adds --no-prepared.
void add_no_prepared(CLI::App& command, bool& no_prepared);

/// For the shoot's vehicle; from the prepared file beside the extract, unless told otherwise. Gives the shoot's
/// locations their horizons besides, from its elevation tiles.
routing::shoot::Region load_shoot_region(routing::shoot::Shoot& shoot, bool no_prepared);

} // namespace cli
