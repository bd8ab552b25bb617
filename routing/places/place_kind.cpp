#include "routing/places/place_kind.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <string>

namespace routing::places {

namespace {

struct KindRow {
    PlaceKind kind;
    Need need;
    std::string_view key;
    std::string_view value;
    std::string_view words;
};

// One row a kind, in the order of PlaceKind; the tag is the one its OSM wiki page documents.
constexpr std::array<KindRow, 24> rows{{
    {PlaceKind::restaurant, Need::food, "amenity", "restaurant", "restaurant"},
    {PlaceKind::cafe, Need::food, "amenity", "cafe", "café"},
    {PlaceKind::fast_food, Need::food, "amenity", "fast_food", "fast-food stand"},
    {PlaceKind::pub, Need::food, "amenity", "pub", "pub"},
    {PlaceKind::food_court, Need::food, "amenity", "food_court", "food court"},
    {PlaceKind::bakery, Need::food, "shop", "bakery", "bakery"},
    {PlaceKind::supermarket, Need::food, "shop", "supermarket", "supermarket"},
    {PlaceKind::fuel, Need::fuel, "amenity", "fuel", "fuel station"},
    {PlaceKind::charging_station, Need::fuel, "amenity", "charging_station", "charging station"},
    {PlaceKind::hotel, Need::bed, "tourism", "hotel", "hotel"},
    {PlaceKind::guest_house, Need::bed, "tourism", "guest_house", "guest house"},
    {PlaceKind::hostel, Need::bed, "tourism", "hostel", "hostel"},
    {PlaceKind::motel, Need::bed, "tourism", "motel", "motel"},
    {PlaceKind::apartment, Need::bed, "tourism", "apartment", "holiday flat"},
    {PlaceKind::chalet, Need::bed, "tourism", "chalet", "chalet"},
    {PlaceKind::camp_site, Need::bed, "tourism", "camp_site", "camp site"},
    {PlaceKind::caravan_site, Need::bed, "tourism", "caravan_site", "caravan site"},
    {PlaceKind::alpine_hut, Need::bed, "tourism", "alpine_hut", "mountain hut"},
    {PlaceKind::parking, Need::parking, "amenity", "parking", "car park"},
    {PlaceKind::trailhead, Need::parking, "highway", "trailhead", "trailhead"},
    {PlaceKind::hospital, Need::care, "amenity", "hospital", "hospital"},
    {PlaceKind::clinic, Need::care, "amenity", "clinic", "clinic"},
    {PlaceKind::doctors, Need::care, "amenity", "doctors", "doctor's practice"},
    {PlaceKind::pharmacy, Need::care, "amenity", "pharmacy", "pharmacy"},
}};

constexpr bool rows_follow_the_enum() {
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (static_cast<std::size_t>(rows[i].kind) != i)
            return false;
    return static_cast<std::size_t>(PlaceKind::pharmacy) + 1 == rows.size();
}
static_assert(rows_follow_the_enum());

const KindRow& row_of(PlaceKind kind) {
    const auto index = static_cast<std::size_t>(kind);
    assert(index < rows.size());
    return rows[index];
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// True when `holds` is true of an item of the `;` list.
template <class Predicate>
bool any_item(std::string_view list, Predicate holds) {
    while (true) {
        const auto end = list.find(';');
        if (holds(trimmed(list.substr(0, end))))
            return true;
        if (end == std::string_view::npos)
            return false;
        list.remove_prefix(end + 1);
    }
}

bool lists(std::string_view list, std::string_view item) {
    return any_item(list, [item](std::string_view found) { return found == item; });
}

bool is_set(std::string_view value) {
    return !value.empty() && value != "no";
}

bool open_to_strangers(std::string_view access) {
    return access.empty() || any_item(access, [](std::string_view item) { return item != "private" && item != "no"; });
}

bool open_for_parking(std::string_view access) {
    constexpr std::array<std::string_view, 7> open{"yes",        "permissive", "public", "destination",
                                                   "designated", "official",   "unknown"};
    return access.empty() || any_item(access, [&open](std::string_view item) {
               return std::find(open.begin(), open.end(), item) != open.end();
           });
}

/// `disused:amenity=restaurant` beside `amenity=restaurant`: the mapper kept both, the place is out of use. Beside
/// `amenity=cafe` it only tells what the café was.
bool out_of_use(const roads::Tags& tags, const KindRow& row) {
    const auto under = [&](std::string_view prefix) {
        const std::string_view former = tags[std::string(prefix) + std::string(row.key)];
        return former == "yes" || lists(former, row.value);
    };
    return under("disused:") || under("abandoned:");
}

bool serves_the_crew(const roads::Tags& tags, const KindRow& row) {
    if (out_of_use(tags, row))
        return false;
    if (row.kind == PlaceKind::parking)
        return open_for_parking(tags["access"]);
    if (row.kind == PlaceKind::charging_station && tags["motorcar"] == "no")
        return false;
    return open_to_strangers(tags["access"]);
}

} // namespace

std::string_view to_string(PlaceKind kind) {
    return row_of(kind).value;
}

std::string_view in_words(PlaceKind kind) {
    return row_of(kind).words;
}

std::optional<PlaceKind> parse_place_kind(std::string_view text) {
    for (const KindRow& row : rows)
        if (row.value == text)
            return row.kind;
    return std::nullopt;
}

Need need_of(PlaceKind kind) {
    return row_of(kind).need;
}

std::vector<PlaceKind> kinds_of(const roads::Tags& tags) {
    std::vector<PlaceKind> kinds;
    for (const std::string_view key : {"amenity", "shop", "tourism", "highway"}) {
        const std::string_view values = tags[key];
        if (values.empty())
            continue;
        for (const KindRow& row : rows)
            if (row.key == key && lists(values, row.value) && serves_the_crew(tags, row))
                kinds.push_back(row.kind);
    }
    if (is_set(tags["disused"]) || is_set(tags["abandoned"]))
        kinds.clear();
    std::sort(kinds.begin(), kinds.end());
    return kinds;
}

} // namespace routing::places
