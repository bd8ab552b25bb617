#include "cli/emergency_words.hpp"

#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

#include <algorithm>

namespace cli {

std::string emergency_text(const std::vector<routing::shoot::NearestWard>& wards) {
    if (wards.empty())
        return "";
    std::string text = "\n## Nearest emergency ward\n\n";
    if (std::none_of(wards.begin(), wards.end(), [](const auto& ward) { return ward.known; }))
        return text +
               "The map knows no hospital with an emergency ward that a road leads to: find out before the day. " +
               emergency_caution + "\n";
    for (const auto& ward : wards)
        text += "- " + escape_markdown(ward.from) + ": " +
                (ward.known ? escape_markdown(ward.name) + ", " + span_text(ward.drive) + " by van, " +
                                  length_text(ward.length) + ", at " + degrees_text(ward.at) +
                                  (ward.phone.empty() ? "" : ", " + escape_markdown("phone on the map " + ward.phone))
                            : "the map knows no ward that an open road leads to") +
                ".\n";
    return text + "\n" + emergency_caution + "\n";
}

} // namespace cli
