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
    std::string shoot; ///< shoot file; empty: the place below
    std::string at;
    std::string date; ///< first day; with a shoot instead of its own days
    std::string zone;
    int days = 1;
    std::optional<double> facing;     ///< of the camera, degrees
    std::optional<double> lens;       ///< focal length, millimetres
    std::vector<std::string> terrain; ///< elevation tiles
    std::optional<std::string> find;  ///< a wish; see find_light_wish.hpp
    std::string pictures;             ///< folder for a picture a place and day; empty: none
    bool overwrite = false;
    bool json = false;
    bool csv = false;
};

void add_light(CLI::App& app, ExitCode& exit_code);
ExitCode run_light(const LightOptions& options);

} // namespace cli
