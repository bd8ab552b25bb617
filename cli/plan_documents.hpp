#pragma once
/// The set of documents a plan is written as; `plan` and `replan` share it.

#include "cli/output_folder.hpp"
#include "cli/plan_source.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/region.hpp"

#include <string>
#include <vector>

namespace cli {

/// plan.json, route.geojson, itinerary.md
std::vector<std::string> plan_document_names();
std::vector<Document> plan_documents(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot,
                                     const PlanSource& source);

/// `folder` is where plan.json goes (empty: nowhere), for the path to the shoot file it holds.
PlanSource plan_source(const std::string& shoot_file, const std::string& folder, const routing::shoot::Region& region);

/// Path of `file` as seen from `folder`, with '/'; absolute when there is no way between them.
std::string path_from(const std::string& folder, const std::string& file);

} // namespace cli
