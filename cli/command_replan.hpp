#pragma once
/// `dayweave replan`: a plan and what changed in, what to do now out.

#include "cli/exit_code.hpp"

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace cli {

struct ReplanOptions {
    std::string plan;   ///< plan.json
    std::string shoot;  ///< shoot file; empty: the one the plan names
    std::string folder; ///< where the documents go; empty: print only
    std::string now;
    std::string at;
    std::string sky;
    int late = 0; ///< minutes
    std::vector<std::string> close;
    std::vector<std::string> done;
    std::vector<std::string> drop;
    bool overwrite = false;
    bool quiet = false;
    int time_limit = 0;       ///< seconds; 0: no clock
    bool no_prepared = false; ///< neither read nor write a prepared file beside the map
};

void add_replan(CLI::App& app, ExitCode& exit_code);
ExitCode run_replan(const ReplanOptions& options);

} // namespace cli
