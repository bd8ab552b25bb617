#include "routing/shoot/closed_roads.hpp"

#include "geo/input_error.hpp"

namespace routing::shoot {

namespace {

std::string candidate_list(const std::vector<std::string>& candidates) {
    std::string list;
    for (const std::string& candidate : candidates)
        list += (list.empty() ? "" : ", ") + candidate;
    return list.empty() ? "no road is near: check the coordinates" : "nearest: " + list;
}

} // namespace

ClosedRoads close_roads(const Shoot& shoot, const std::vector<roads::Closure>& extra, const Region& region) {
    ClosedRoads shut;
    std::vector<geo::InputFault> faults;
    const auto apply = [&](const roads::Closure& closure, const std::string& file, const std::string& field) {
        const roads::ClosureMatch match = roads::match_closure(*region.network, region.index, closure);
        if (!match.problem.empty()) {
            faults.push_back({file, field, closure.label, "matches no road of " + region.file + ": " + match.problem,
                              candidate_list(match.candidates)});
            return;
        }
        roads::close(shut.edges, *region.network, match);
        shut.descriptions.push_back(match.description);
    };
    for (std::size_t n = 0; n < shoot.closures.size(); ++n)
        apply(shoot.closures[n], shoot.file, "/closures/" + std::to_string(n));
    for (const roads::Closure& closure : extra)
        apply(closure, "--close", "");
    if (!faults.empty())
        throw geo::InputError(faults);
    return shut;
}

} // namespace routing::shoot
