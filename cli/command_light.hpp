#pragma once
/// `dayweave light`: when a place has which light.

#include "cli/exit_code.hpp"

#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace cli {

struct LightOptions {
    std::string shoot; ///< shoot file; empty: the place and days below
    std::string at;
    std::string date;
    std::string zone;
    int days = 1;
    std::optional<double> facing;     ///< of the camera, degrees
    std::vector<std::string> terrain; ///< elevation tiles
    bool json = false;
    bool csv = false;
};

void add_light(CLI::App& app, ExitCode& exit_code);
ExitCode run_light(const LightOptions& options);

} // namespace cli
