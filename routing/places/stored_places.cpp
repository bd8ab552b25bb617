#include "routing/places/stored_places.hpp"

#include "geo/byte_stream.hpp"

namespace routing::places {

namespace {
/// "places2", read as a number; what was stored before it began with a count, which is never as high.
constexpr std::uint64_t layout_mark = 0x32'73'65'63'61'6c'70;
} // namespace

std::vector<std::byte> store_places(const std::vector<Place>& places) {
    geo::ByteWriter writer;
    writer.put(layout_mark);
    writer.put(std::uint64_t{places.size()});
    for (const Place& place : places) {
        writer.put(place.object.type);
        writer.put(place.object.id);
        writer.put(static_cast<std::uint8_t>(place.kind));
        writer.put_text(place.name);
        writer.put(place.at);
        writer.put_text(place.opening_hours);
        writer.put_text(place.phone);
        writer.put_text(place.website);
        writer.put(static_cast<std::uint8_t>(place.emergency ? 1 : 0));
    }
    return writer.take();
}

std::optional<std::vector<Place>> restore_places(std::span<const std::byte> bytes) {
    geo::ByteReader reader(bytes);
    if (reader.get<std::uint64_t>() != layout_mark)
        return std::nullopt;
    std::vector<Place> places;
    const auto count = reader.get<std::uint64_t>();
    for (std::uint64_t n = 0; n < count && !reader.failed(); ++n) {
        Place place;
        const auto type = reader.get<std::uint8_t>();
        place.object.id = reader.get<roads::OsmId>();
        const auto kind = reader.get<std::uint8_t>();
        place.name = reader.text();
        place.at = reader.get<geo::Coordinate>();
        place.opening_hours = reader.text();
        place.phone = reader.text();
        place.website = reader.text();
        const auto emergency = reader.get<std::uint8_t>();
        if (type > static_cast<std::uint8_t>(roads::OsmType::relation) ||
            kind > static_cast<std::uint8_t>(PlaceKind::pharmacy) || emergency > 1 || !geo::is_valid(place.at))
            return std::nullopt;
        place.object.type = static_cast<roads::OsmType>(type);
        place.kind = static_cast<PlaceKind>(kind);
        place.emergency = emergency == 1;
        places.push_back(std::move(place));
    }
    if (!reader.ended_well())
        return std::nullopt;
    return places;
}

} // namespace routing::places
