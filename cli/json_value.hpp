#pragma once
/// A JSON file as read, members in the order of the file. Comments (`//`, `/* */`) are allowed.
///
///     Faults faults("shoot.json");
///     const JsonValue root = read_json_file("shoot.json", faults);

#include <string>
#include <string_view>
#include <vector>

namespace cli {

class Faults;
struct JsonMember;

/// One value. Numbers are held as doubles: whole numbers are exact up to 2^53.
struct JsonValue {
    enum class Kind { null, flag, number, text, list, object };

    Kind kind = Kind::null;
    bool flag = false;
    double number = 0.0;
    std::string text; ///< the text, or a number as it was written
    std::vector<JsonValue> list;
    std::vector<JsonMember> members;

    /// Nothing when this is no object or has no such member.
    const JsonValue* find(std::string_view key) const;
};

struct JsonMember {
    std::string key;
    JsonValue value;
};

/// Largest file read, so that a wrong file name costs a message and not the memory.
constexpr std::size_t json_size_limit = 16U << 20U;
/// Deepest nesting read.
constexpr std::size_t json_depth_limit = 32;

/// Whole content of a file; "-" is standard input. Throws geo::InputError: missing, a folder, unreadable, larger than
/// `json_size_limit`.
std::string read_text_file(const std::string& file);

/// Parses `text`. A key that stands twice is added to `faults` and its first value kept; what can't be read on from
/// (syntax, nesting, wrong encoding, nothing there) is thrown as geo::InputError with line and column, together with
/// the faults so far.
JsonValue parse_json(const std::string& text, Faults& faults);

/// `read_text_file`, then `parse_json`.
JsonValue read_json_file(const std::string& file, Faults& faults);

} // namespace cli
