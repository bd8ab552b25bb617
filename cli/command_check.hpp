#pragma once
/// `dayweave check`: every fault of a shoot file or of a plan at once, or what it asks for.

#include "cli/exit_code.hpp"

#include <string>

namespace CLI {
class App;
}

namespace cli {

struct CheckOptions {
    std::string file;         ///< shoot file or plan.json, told apart by what it holds
    std::string shoot;        ///< with a plan: its shoot file; empty: the one the plan names
    bool no_prepared = false; ///< neither read nor write a prepared file beside the map
};

void add_check(CLI::App& app, ExitCode& exit_code);
ExitCode run_check(const CheckOptions& options);

} // namespace cli
