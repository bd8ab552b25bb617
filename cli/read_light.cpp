#include "cli/read_light.hpp"

#include "cli/read_light_wish.hpp"

namespace cli {

namespace {

std::optional<geo::LightRequest> read_one(const Field& field, std::optional<geo::Degrees> facing) {
    if (field.is(JsonValue::Kind::object))
        return read_light_object(field, facing);
    if (const auto name = read_light_name(field))
        return *name;
    return std::nullopt;
}

} // namespace

std::optional<std::vector<geo::LightRequest>> read_light(const Field& field, std::optional<geo::Degrees> facing) {
    if (!field.is(JsonValue::Kind::list)) {
        const auto one = read_one(field, facing);
        if (!one)
            return std::nullopt;
        return std::vector<geo::LightRequest>{*one};
    }
    const auto items = field.filled_list("lights");
    if (!items)
        return std::nullopt;
    std::vector<geo::LightRequest> lights;
    for (const Field& item : *items) {
        if (const auto one = read_one(item, facing))
            lights.push_back(*one);
    }
    if (lights.size() != items->size())
        return std::nullopt;
    return lights;
}

} // namespace cli
