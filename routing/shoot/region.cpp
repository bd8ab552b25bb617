#include "routing/shoot/region.hpp"

#include "geo/input_error.hpp"

namespace routing::shoot {

Region load_region(const std::string& file, const roads::Vehicle& vehicle) {
    const roads::OsmExtract extract = roads::read_extract(file, places::is_place);
    auto network = std::make_unique<const roads::RoadNetwork>(roads::build_network(extract, vehicle));
    if (network->arcs.empty())
        throw geo::InputError({{file, "", "", "holds no road this vehicle may drive",
                                "use an extract with highway ways, or check /crew/vehicle"}});
    roads::hierarchy::Hierarchy hierarchy = roads::hierarchy::build_hierarchy(*network);
    roads::SnapIndex index(*network);
    return {file,           std::move(network), std::move(hierarchy), std::move(index), places::find_places(extract),
            extract.counts, extract.box,        extract.data_date};
}

} // namespace routing::shoot
