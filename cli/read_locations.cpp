#include "cli/field_values.hpp"
#include "cli/number_text.hpp"
#include "cli/shoot_parts.hpp"

#include "geo/geodesic.hpp"
#include "routing/hours/hours.hpp"

#include <algorithm>
#include <cmath>

namespace cli {

using routing::shoot::Location;

namespace {

/// "" after a fault.
std::string read_open(const Field& field) {
    const std::string mend = R"(write opening hours as OpenStreetMap does: "Mo-Fr 08:00-18:00; Sa 09:00-13:00")";
    const auto text = field.text(mend);
    if (!text)
        return "";
    const routing::hours::Hours hours = routing::hours::read_hours(*text);
    if (hours.refusal()) {
        field.fault("can't be read as opening hours: " + hours.refusal()->reason, mend);
        return "";
    }
    return *text;
}

Location read_location(const Field& field, const std::string& id) {
    const Members members = field.object({"id", "name", "at", "park_at", "facing_deg", "setup_minutes", "pack_minutes",
                                          "walk_in_darkness", "open", "notes", "permit"});
    Location location;
    location.id = id;
    location.name = id;
    location.at = {{NAN}, {NAN}}; // no place until one is read; never leaves the reader, a missing one is a fault
    if (const auto name = members.find("name"))
        location.name = name->text("say how the place is called").value_or(id);
    if (const auto at = members.need("at", R"(write {"lat": ..., "lon": ...} in degrees)"))
        location.at = read_place(*at).value_or(location.at);
    if (const auto park = members.find("park_at"))
        location.park_at = read_place(*park);
    if (const auto facing = members.find("facing_deg"))
        if (const auto bearing = facing->number(0, 360, "degrees clockwise from true north"))
            location.facing = geo::Degrees{*bearing};
    if (const auto setup = members.find("setup_minutes"))
        location.setup = read_minutes(*setup, 0, 720).value_or(location.setup);
    if (const auto pack = members.find("pack_minutes"))
        location.pack = read_minutes(*pack, 0, 720).value_or(location.pack);
    if (const auto dark = members.find("walk_in_darkness"))
        location.walk_in_darkness = dark->flag().value_or(false);
    if (const auto open = members.find("open"))
        location.open = read_open(*open);
    if (const auto notes = members.find("notes"))
        location.notes = notes->any_text("write a text").value_or("");
    if (const auto permit = members.find("permit"))
        location.permit = permit->any_text("write a text").value_or("");
    return location;
}

std::string kilometres_text(geo::Metres length) {
    return fixed_text(length.value / 1000.0, 0) + " km";
}

} // namespace

std::vector<Location> read_locations(const std::vector<Field>& items, const std::vector<std::string>& ids) {
    std::vector<Location> locations;
    for (std::size_t n = 0; n < items.size(); ++n)
        locations.push_back(read_location(items[n], ids[n]));
    return locations;
}

void check_swapped_places(const std::vector<PlacedField>& places, Faults& faults) {
    constexpr geo::Metres far{1'000'000.0};
    constexpr geo::Metres near{100'000.0};
    // Thousands of places would take minutes, and the first hundred tell as much.
    const std::size_t count = std::min<std::size_t>(places.size(), 100);
    for (std::size_t n = 0; n < count; ++n) {
        const geo::Coordinate at = places[n].at;
        const geo::Coordinate swapped{at.longitude, at.latitude};
        if (!geo::is_valid(swapped))
            continue;
        std::size_t far_ones = 0, others = 0;
        geo::Metres nearest{1e9}, nearest_swapped{1e9};
        const PlacedField* neighbour = nullptr;
        for (std::size_t other = 0; other < count; ++other) {
            if (other == n)
                continue;
            ++others;
            const geo::Metres away = geo::distance(at, places[other].at);
            const geo::Metres swapped_away = geo::distance(swapped, places[other].at);
            far_ones += away > far ? 1 : 0;
            nearest = std::min(nearest, away);
            if (swapped_away < nearest_swapped) {
                nearest_swapped = swapped_away;
                neighbour = &places[other];
            }
        }
        const bool outvoted = 2 * far_ones > others && (count > 2 || n == 1);
        if (neighbour == nullptr || !outvoted || nearest_swapped > near)
            continue;
        faults.add(places[n].pointer, place_text(at),
                   "lies " + kilometres_text(geo::distance(at, neighbour->at)) + " from " + neighbour->what +
                       ": lat and lon look swapped",
                   "write {\"lat\": " + number_text(swapped.latitude.value) + ", \"lon\": " +
                       number_text(swapped.longitude.value) + "}, " + length_text(nearest_swapped) + " from it");
    }
}

} // namespace cli
