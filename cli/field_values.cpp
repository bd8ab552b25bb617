#include "cli/field_values.hpp"

#include "cli/number_text.hpp"

#include <array>
#include <cmath>

namespace cli {

namespace {

constexpr const char* place_mend = R"(write {"lat": ..., "lon": ...} in degrees)";

/// A finite number of degrees, whatever its size.
std::optional<double> read_degrees(const Members& members, std::string_view key) {
    const auto field = members.need(key, place_mend);
    if (!field)
        return std::nullopt;
    if (!field->is(JsonValue::Kind::number)) {
        field->wrong_kind("give degrees as a number, without quotes");
        return std::nullopt;
    }
    return field->value().number;
}

} // namespace

std::optional<geo::Coordinate> read_place(const Field& field) {
    const Members members = field.object({"lat", "lon"});
    const auto latitude = read_degrees(members, "lat");
    const auto longitude = read_degrees(members, "lon");
    if (!latitude || !longitude)
        return std::nullopt;
    const bool latitude_fits = std::abs(*latitude) <= 90.0;
    const bool longitude_fits = std::abs(*longitude) <= 180.0;
    if (!latitude_fits && std::abs(*latitude) <= 180.0 && std::abs(*longitude) <= 90.0) {
        members.find("lat")->fault("is no latitude: lat and lon look swapped",
                                   "write {\"lat\": " + number_text(*longitude) +
                                       ", \"lon\": " + number_text(*latitude) + "}");
        return std::nullopt;
    }
    if (!latitude_fits)
        members.find("lat")->fault("is no latitude", "give -90 to 90 degrees, north positive");
    if (!longitude_fits)
        members.find("lon")->fault("is no longitude", "give -180 to 180 degrees, east positive");
    if (!latitude_fits || !longitude_fits)
        return std::nullopt;
    return geo::Coordinate{{*latitude}, {*longitude}};
}

std::optional<geo::CivilDate> read_date(const Field& field) {
    const auto text = field.text("write a date, YYYY-MM-DD");
    if (!text)
        return std::nullopt;
    const auto date = geo::parse_date(*text);
    if (!date) {
        field.fault("is not a date", "write YYYY-MM-DD, a day that exists");
        return std::nullopt;
    }
    if (!is_plannable(*date)) {
        field.fault("is too far away to plan for", "give a date of 1970 to 2100");
        return std::nullopt;
    }
    return date;
}

bool is_plannable(geo::CivilDate date) {
    return date.year() >= std::chrono::year(1970) && date.year() <= std::chrono::year(2100);
}

std::optional<geo::ClockTime> read_clock(const Field& field) {
    const auto text = field.text("write a time of day, HH:MM");
    if (!text)
        return std::nullopt;
    const auto time = geo::parse_clock(*text);
    if (!time)
        field.fault("is not a time of day", "write HH:MM, 00:00 to 23:59");
    return time;
}

std::optional<std::pair<geo::ClockTime, geo::ClockTime>> read_clock_pair(const Field& field) {
    const auto items = field.list("two times of day");
    if (!items)
        return std::nullopt;
    if (items->size() != 2) {
        field.fault("holds " + count_text(items->size(), "item"), R"(give two times of day, ["10:00", "16:00"])");
        return std::nullopt;
    }
    const auto from = read_clock((*items)[0]);
    const auto until = read_clock((*items)[1]);
    if (!from || !until)
        return std::nullopt;
    if (*from == *until) {
        field.fault("begins and ends at " + clock_time_text(*from), "give two different times");
        return std::nullopt;
    }
    return std::pair{*from, *until};
}

std::optional<geo::Instant> read_instant(const Field& field, const geo::TimeZone& zone) {
    const auto text = field.text("write date and time, 2027-05-14T04:58:00+01:00");
    if (!text)
        return std::nullopt;
    const auto when = geo::parse_instant(*text, zone);
    if (!when)
        field.fault("is not a date and time", "write it like 2027-05-14T04:58:00+01:00");
    return when;
}

std::optional<std::chrono::minutes> read_minutes(const Field& field, int low, int high) {
    const auto minutes = field.whole(low, high, "minutes");
    if (!minutes)
        return std::nullopt;
    return std::chrono::minutes(*minutes);
}

std::string clock_time_text(geo::ClockTime time) {
    const auto two = [](std::int64_t n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return two(time.count() / 60) + ":" + two(time.count() % 60);
}

std::string place_text(geo::Coordinate place) {
    return number_text(place.latitude.value) + "," + number_text(place.longitude.value);
}

} // namespace cli
