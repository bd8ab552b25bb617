#include "routing/roads/surface.hpp"

#include "routing/roads/network.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

enum class Needs { any_van, high_clearance, more_than_a_van };

struct Cap {
    std::string_view value;
    double kilometres_per_hour; ///< 0: no cap
    Needs needs;
    bool unpaved;
};

using enum Needs;

constexpr std::array surfaces{
    Cap{"paved", 0, any_van, false},
    Cap{"asphalt", 0, any_van, false},
    Cap{"chipseal", 0, any_van, false},
    Cap{"concrete", 0, any_van, false},
    Cap{"concrete:lanes", 0, any_van, false},
    Cap{"concrete:plates", 0, any_van, false},
    Cap{"metal", 40, any_van, false},
    Cap{"wood", 40, any_van, false},
    Cap{"sett", 40, any_van, false},
    Cap{"paving_stones", 40, any_van, false},
    Cap{"cobblestone", 40, any_van, false},
    Cap{"unhewn_cobblestone", 40, any_van, false},
    Cap{"bricks", 40, any_van, false},
    Cap{"grass_paver", 40, any_van, false},
    Cap{"compacted", 50, any_van, true},
    Cap{"fine_gravel", 50, any_van, true},
    Cap{"gravel", 35, any_van, true},
    Cap{"pebblestone", 35, any_van, true},
    Cap{"unpaved", 35, any_van, true},
    Cap{"ground", 20, any_van, true},
    Cap{"dirt", 20, any_van, true},
    Cap{"earth", 20, any_van, true},
    Cap{"rock", 20, any_van, true},
    Cap{"grass", 8, any_van, true},
    Cap{"sand", 8, any_van, true},
    Cap{"mud", 8, any_van, true},
};

constexpr std::array tracktypes{
    Cap{"grade1", 40, any_van, false},      Cap{"grade2", 25, any_van, true},        Cap{"grade3", 15, any_van, true},
    Cap{"grade4", 8, high_clearance, true}, Cap{"grade5", 8, more_than_a_van, true},
};

constexpr std::array smoothnesses{
    Cap{"excellent", 0, any_van, false},
    Cap{"good", 0, any_van, false},
    Cap{"intermediate", 0, any_van, false},
    Cap{"bad", 30, any_van, false},
    Cap{"very_bad", 15, high_clearance, false},
    Cap{"horrible", 8, more_than_a_van, false},
    Cap{"very_horrible", 8, more_than_a_van, false},
    Cap{"impassable", 8, more_than_a_van, false},
};

template <std::size_t N>
void apply(const std::array<Cap, N>& table, std::string_view text, bool high, std::string_view unknown,
           SurfaceRuling& ruling, Remarks& remarks) {
    for (const std::string_view item : split_list(text, ";")) {
        const std::string value = lower_case(item);
        const auto row = std::find_if(table.begin(), table.end(), [&](const Cap& cap) { return cap.value == value; });
        if (row == table.end()) {
            remarks.push_back(unknown);
            continue;
        }
        if (row->needs == more_than_a_van || (row->needs == high_clearance && !high))
            ruling.passable = false;
        if (row->unpaved)
            ruling.notes |= note_unpaved;
        const geo::KilometresPerHour cap{row->kilometres_per_hour};
        if (cap.value > 0.0 && (!ruling.cap || cap < *ruling.cap))
            ruling.cap = cap;
    }
}

} // namespace

SurfaceRuling read_surface(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    SurfaceRuling ruling;
    const bool high = vehicle.high_clearance;
    apply(surfaces, tags["surface"], high, "surface values not understood: no cap", ruling, remarks);
    apply(tracktypes, tags["tracktype"], high, "tracktype values not understood: no cap", ruling, remarks);
    apply(smoothnesses, tags["smoothness"], high, "smoothness values not understood: no cap", ruling, remarks);
    if (tags["4wd_only"] == "yes")
        ruling.passable = false;
    if (!ruling.passable)
        remarks.push_back("roads too rough for the vehicle: closed");
    return ruling;
}

} // namespace routing::roads
