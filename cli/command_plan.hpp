#pragma once
/// `dayweave plan`: a shoot file in, the order of the day out.

#include "cli/exit_code.hpp"

#include <string>

namespace CLI {
class App;
}

namespace cli {

struct PlanOptions {
    std::string shoot;  ///< shoot file
    std::string folder; ///< where the documents go; empty: print only
    bool overwrite = false;
    bool quiet = false;       ///< no talk on standard error
    int time_limit = 0;       ///< seconds of solving; 0: no clock
    std::string sky;          ///< the weather of all days as the crew knows it; empty: not told
    bool no_prepared = false; ///< neither read nor write a prepared file beside the map
};

/// Adds the command; when it is called, its exit code is put into `exit_code`.
void add_plan(CLI::App& app, ExitCode& exit_code);
ExitCode run_plan(const PlanOptions& options);

} // namespace cli
