#pragma once
/// The light of one place on one day as a picture: SVG 1.1 that needs nothing else, made to be printed without colour.
///
///     write_documents(folder, cli::light_pictures(places, zone), Replace::no);
///
/// Above the day from left to right with a row for each light, below the sky as a disc with the ground's horizon. Every
/// area has a pattern and a name of its own.

#include "cli/output_folder.hpp"
#include "cli/write_light.hpp"

#include <string>
#include <vector>

namespace cli {

std::string light_picture(const LightPlace& place, const LightDay& light, const geo::TimeZone& zone);

/// One a place and day of its own, "arch-2027-05-14.svg"; places without id: "light-2027-05-14.svg".
std::vector<Document> light_pictures(const std::vector<LightPlace>& places, const geo::TimeZone& zone);
/// Their names, for a check before the work.
std::vector<std::string> light_picture_names(const std::vector<LightPlace>& places,
                                             const std::vector<geo::CivilDate>& dates);

} // namespace cli
