#pragma once
/// `dayweave places`: what the map offers near a spot of the shoot, with its hours and the detour it costs.

#include "cli/exit_code.hpp"

#include <optional>
#include <string>

namespace CLI {
class App;
}

namespace cli {

struct PlacesOptions {
    std::string shoot; ///< shoot file
    std::string near;  ///< id of a location or scene, "base", or LAT,LON
    std::string then;  ///< likewise; empty: back to `near`
    std::string kind = "all";
    std::optional<int> within; ///< minutes by van; 0: no limit
    std::string at;            ///< local time; empty: the shoot's days
    int most = 20;             ///< places told; 0: all
    bool json = false;
    bool csv = false;
    bool no_prepared = false;
};

void add_places(CLI::App& app, ExitCode& exit_code);
ExitCode run_places(const PlacesOptions& options);

} // namespace cli
