#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "cli/shoot_parts.hpp"

#include <algorithm>

namespace cli {

namespace {

/// Ids stand in file names, URLs and command lines later: one word of them.
bool is_sound_id(std::string_view id) {
    constexpr std::size_t longest = 64;
    const auto unsound = [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return byte <= 0x20 || byte == 0x7F || c == ',' || c == '"';
    };
    return !id.empty() && id.size() <= longest && std::none_of(id.begin(), id.end(), unsound);
}

} // namespace

std::vector<std::string> read_ids(const std::vector<Field>& items, std::string_view what) {
    std::vector<std::string> ids;
    for (const Field& item : items) {
        ids.emplace_back();
        if (!item.is(JsonValue::Kind::object))
            continue; // said by who reads the item itself
        const JsonValue* value = item.value().find("id");
        const std::string pointer = item.pointer() + "/id";
        const std::string mend = "give each " + std::string(what) + " a short name of its own";
        if (value == nullptr) {
            item.faults().add(pointer, "", "is missing", mend);
            continue;
        }
        const Field field(*value, pointer, item.faults());
        const auto id = field.text(mend);
        if (!id)
            continue;
        if (!is_sound_id(*id)) {
            field.fault("is no id", "write one word of at most 64 letters, without spaces and commas");
            continue;
        }
        const auto first = std::find(ids.begin(), ids.end() - 1, *id);
        if (first != ids.end() - 1) {
            const std::string before = items[static_cast<std::size_t>(first - ids.begin())].pointer();
            field.fault("is the id of " + before + " already", mend);
        }
        ids.back() = *id;
    }
    return ids;
}

std::optional<std::uint32_t> read_reference(const Field& field, const std::vector<std::string>& known,
                                            std::string_view what) {
    const auto id = field.text("give the id of a " + std::string(what));
    if (!id)
        return std::nullopt;
    const auto found = std::find(known.begin(), known.end(), *id);
    if (found != known.end())
        return static_cast<std::uint32_t>(found - known.begin());
    std::vector<std::string> sound;
    std::copy_if(known.begin(), known.end(), std::back_inserter(sound), [](const auto& name) { return !name.empty(); });
    field.fault("is the id of no " + std::string(what), offer_names(*id, sound, what));
    return std::nullopt;
}

} // namespace cli
