#include "cli/shoot_region.hpp"

#include <CLI/CLI.hpp>

namespace cli {

void add_no_prepared(CLI::App& command, bool& no_prepared) {
    command.add_flag("--no-prepared", no_prepared, "neither read nor write a prepared file beside the map");
}

routing::shoot::Region load_shoot_region(const routing::shoot::Shoot& shoot, bool no_prepared) {
    using routing::shoot::Prepared;
    return routing::shoot::load_region(shoot.regions, shoot.crew.vehicle,
                                       no_prepared ? Prepared::ignore : Prepared::use);
}

} // namespace cli
