#pragma once
/// `dayweave region`: prepares a map for quick loading, and tells what a map holds.

#include "cli/exit_code.hpp"

#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace cli {

struct RegionOptions {
    std::vector<std::string> files; ///< extracts, several make one map; for `info` also one prepared file
    std::string shoot;              ///< shoot file whose vehicle counts; empty: a van whose sizes are not known
    bool doubts = false;            ///< `info`: list what was skipped or doubtful
};

void add_region(CLI::App& app, ExitCode& exit_code);
/// Throws geo::InputError for a wrong extract or a place that can't be written to.
ExitCode run_region_prepare(const RegionOptions& options);
ExitCode run_region_info(const RegionOptions& options);

} // namespace cli
