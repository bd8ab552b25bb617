#include "cli/plan_documents.hpp"

#include "cli/write_itinerary.hpp"
#include "cli/write_plan.hpp"
#include "cli/write_route.hpp"

namespace cli {

std::vector<std::string> plan_document_names() {
    return {"plan.json", "route.geojson", "itinerary.md"};
}

std::vector<Document> plan_documents(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot,
                                     const PlanSource& source) {
    return {{"plan.json", write_plan(plan, shoot, source)},
            {"route.geojson", write_route(plan, shoot)},
            {"itinerary.md", write_itinerary(plan, shoot, source)}};
}

PlanSource plan_source(const std::string& shoot_file, const std::string& folder, const routing::shoot::Region& region) {
    PlanSource source;
    if (shoot_file != "-" && !folder.empty())
        source.shoot_file = path_from(folder, shoot_file);
    source.map_date = region.data_date;
    source.zone_database = geo::zone_database_version();
    source.version = program_version();
    return source;
}

std::string path_from(const std::string& folder, const std::string& file) {
    std::error_code failure;
    // Absolute first: a folder that is not there yet has no canonical form to compare with.
    const std::filesystem::path way =
        std::filesystem::relative(std::filesystem::absolute(file), std::filesystem::absolute(folder), failure);
    return (failure || way.empty() ? std::filesystem::absolute(file) : way).generic_string();
}

} // namespace cli
