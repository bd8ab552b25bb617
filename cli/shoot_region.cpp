#include "cli/shoot_region.hpp"

#include "cli/progress_line.hpp"
#include "routing/shoot/ground.hpp"

#include <CLI/CLI.hpp>

namespace cli {

void add_no_prepared(CLI::App& command, bool& no_prepared) {
    command.add_flag("--no-prepared", no_prepared, "neither read nor write a prepared file beside the map");
}

routing::shoot::Region load_shoot_region(routing::shoot::Shoot& shoot, bool no_prepared) {
    using routing::shoot::Prepared;
    const Prepared prepared = no_prepared ? Prepared::ignore : Prepared::use;
    routing::shoot::find_horizons(shoot, prepared);
    ProgressLine progress;
    return routing::shoot::load_region(shoot.regions, shoot.crew.vehicle, prepared, progress.watch());
}

} // namespace cli
