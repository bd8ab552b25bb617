#include "cli/region_report.hpp"

#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

namespace cli {

namespace {

void add_if_any(std::string& text, std::uint64_t count, const std::string& what) {
    if (count > 0)
        text += (text.empty() ? "" : ", ") + std::to_string(count) + " " + what;
}

} // namespace

std::string region_report(const routing::shoot::Region& region) {
    const auto& read = region.read_counts;
    const auto& network = *region.network;
    std::string text = shown(region.file) + ": " + std::to_string(read.nodes) + " nodes, " + std::to_string(read.ways) +
                       " ways, " + std::to_string(read.relations) + " relations read; " +
                       std::to_string(read.road_ways) + " roads, " + std::to_string(read.restrictions) +
                       " turn restrictions, " + std::to_string(region.places.size()) + " places\n";
    std::string passed_over;
    add_if_any(passed_over, read.invalid_locations, "nodes off the globe");
    add_if_any(passed_over, read.missing_nodes, "nodes not in the file");
    add_if_any(passed_over, read.repeated_objects, "objects given twice");
    if (!passed_over.empty())
        text += "passed over: " + passed_over + "\n";
    text += "network for the van: " + std::to_string(network.node_count()) + " nodes, " +
            std::to_string(network.edges.size()) + " stretches of road\n";
    if (!network.time_rules.empty())
        text += "hours and seasons: " + std::to_string(network.time_rules.size()) + " rules on " +
                std::to_string(network.edge_time_rules.size()) + " stretches of road\n";
    return text;
}

std::string network_report(const routing::shoot::Region& region) {
    std::string text;
    for (const auto& [what, count] : region.network->counts) {
        if (count > 0)
            text += "- " + std::to_string(count) + " " + what + "\n";
    }
    return text;
}

std::string prepared_report(const routing::shoot::Region& region) {
    return region.prepared_note.empty() ? "" : "prepared file: " + one_line(region.prepared_note) + "\n";
}

std::string written_report(const std::string& folder, const std::vector<std::string>& names) {
    std::string list;
    for (const std::string& name : names)
        list += (list.empty() ? "" : ", ") + name;
    return "wrote " + list + " in " + shown(folder) + "\n";
}

} // namespace cli
