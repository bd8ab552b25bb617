#include "cli/json_value.hpp"

#include "cli/json_fields.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <set>

namespace cli {

namespace {

/// Builds values while the parser reads; keeps the pointer of the value at hand for messages.
class Builder : public nlohmann::json_sax<nlohmann::json> {
public:
    Builder(const std::string& text, Faults& faults) : text_(text), faults_(faults) {}

    JsonValue take() { return std::move(root_); }

    bool null() override { return put({}); }
    bool boolean(bool value) override {
        JsonValue flag;
        flag.kind = JsonValue::Kind::flag;
        flag.flag = value;
        return put(std::move(flag));
    }
    bool number_integer(number_integer_t value) override {
        return put_number(static_cast<double>(value), std::to_string(value));
    }
    bool number_unsigned(number_unsigned_t value) override {
        return put_number(static_cast<double>(value), std::to_string(value));
    }
    bool number_float(number_float_t value, const string_t& written) override { return put_number(value, written); }
    bool string(string_t& value) override {
        JsonValue text;
        text.kind = JsonValue::Kind::text;
        text.text = std::move(value);
        return put(std::move(text));
    }
    bool binary(binary_t&) override { return false; } // no such value in JSON text

    bool start_object(std::size_t) override { return open(JsonValue::Kind::object); }
    bool start_array(std::size_t) override { return open(JsonValue::Kind::list); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool key(string_t& name) override {
        frames_.back().key = std::move(name);
        if (!frames_.back().seen.insert(frames_.back().key).second)
            faults_.add(pointer(), "", "stands twice in the same object", "keep one of the two");
        return true;
    }

    bool parse_error(std::size_t position, const std::string& last_token,
                     const nlohmann::json::exception& error) override {
        const std::size_t at = std::min(position == 0 ? 0 : position - 1, text_.size());
        const std::size_t line = 1 + std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(at), '\n');
        const std::size_t line_start = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
        const std::size_t column = at - (line_start == std::string::npos ? 0 : line_start + 1) + 1;
        faults_.add("line " + std::to_string(line) + ", column " + std::to_string(column), shown(last_token),
                    "is not JSON here: " + reason(error.what()), mend_for(error.what()));
        return false;
    }

private:
    struct Frame {
        JsonValue value;
        std::string key;
        std::set<std::string> seen;
    };

    /// The parser's own words without its prefix ("[json.exception...] ... column 4: ") and the echo of what it read.
    static std::string reason(const std::string& what) {
        std::string words = what;
        if (const std::size_t start = words.find("syntax error"); start != std::string::npos)
            words.erase(0, start);
        else if (const std::size_t bracket = words.find("] "); bracket != std::string::npos)
            words.erase(0, bracket + 2);
        if (const std::size_t dash = words.find(" - "); dash != std::string::npos)
            words.erase(0, dash + 3);
        const std::size_t echo = words.find("; last read");
        if (echo != std::string::npos) {
            const std::size_t tail = words.find("; expected", echo);
            words.erase(echo, tail == std::string::npos ? std::string::npos : tail - echo);
        }
        return one_line(words);
    }

    static std::string mend_for(const std::string& what) {
        if (what.find("end of input") != std::string::npos)
            return "the file ends too early: close what is open";
        return "look for a missing comma, quote or bracket just before";
    }

    bool put_number(double value, const std::string& written) {
        JsonValue number;
        number.kind = JsonValue::Kind::number;
        number.number = value;
        number.text = written;
        return put(std::move(number));
    }

    bool put(JsonValue value) {
        if (frames_.empty()) {
            root_ = std::move(value);
            return true;
        }
        Frame& frame = frames_.back();
        if (frame.value.kind == JsonValue::Kind::list)
            frame.value.list.push_back(std::move(value));
        else if (frame.value.members.size() < frame.seen.size()) // else: a repeated key, its first value stays
            frame.value.members.push_back({frame.key, std::move(value)});
        return true;
    }

    bool open(JsonValue::Kind kind) {
        if (frames_.size() >= json_depth_limit) {
            faults_.add(pointer(), "", "is nested more than " + std::to_string(json_depth_limit) + " levels deep",
                        "no file of ours goes so deep: check the brackets");
            return false;
        }
        frames_.emplace_back();
        frames_.back().value.kind = kind;
        return true;
    }

    bool close() {
        JsonValue done = std::move(frames_.back().value);
        frames_.pop_back();
        return put(std::move(done));
    }

    std::string pointer() const {
        std::string where;
        for (const Frame& frame : frames_) {
            where += frame.value.kind == JsonValue::Kind::list ? "/" + std::to_string(frame.value.list.size())
                                                               : pointer_step(frame.key);
        }
        return where;
    }

    const std::string& text_;
    Faults& faults_;
    JsonValue root_;
    std::vector<Frame> frames_;
};

[[noreturn]] void refuse_file(const std::string& file, const std::string& problem, const std::string& mend) {
    throw geo::InputError({{file, "", "", problem, mend}});
}

} // namespace

const JsonValue* JsonValue::find(std::string_view key) const {
    const auto found = std::find_if(members.begin(), members.end(), [&](const JsonMember& m) { return m.key == key; });
    return found == members.end() ? nullptr : &found->value;
}

std::string read_text_file(const std::string& file) {
    std::ifstream opened;
    if (file != "-") {
        std::error_code failure;
        const auto status = std::filesystem::status(file, failure);
        if (status.type() == std::filesystem::file_type::not_found)
            refuse_file(file, "does not exist", "check the name");
        if (std::filesystem::is_directory(status))
            refuse_file(file, "is a folder", "name the file inside it");
        opened.open(file, std::ios::binary);
        if (!opened)
            refuse_file(file, "can't be opened", "check that you may read it");
    }
    std::istream& in = file == "-" ? std::cin : opened;
    std::string text;
    std::vector<char> block(1U << 16U);
    while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
        text.append(block.data(), static_cast<std::size_t>(in.gcount()));
        if (text.size() > json_size_limit)
            refuse_file(file, "is larger than " + std::to_string(json_size_limit >> 20U) + " MiB",
                        "this is hardly a file written by hand: check the name");
    }
    if (in.bad())
        refuse_file(file, "can't be read to its end", "check the disk");
    return text;
}

JsonValue parse_json(const std::string& text, Faults& faults) {
    const std::string_view start = std::string_view(text).substr(0, 2);
    if (start == "\xFE\xFF" || start == "\xFF\xFE")
        faults.add("", "", "is written in UTF-16", "save it as UTF-8");
    else if (text.find_first_not_of(" \t\r\n") == std::string::npos)
        faults.add("", "", "is empty", "write a JSON object: { ... }");
    else if (text.find('\0') != std::string::npos)
        faults.add("", "", "is no text file", "give a JSON file");
    else {
        Builder builder(text, faults);
        if (nlohmann::json::sax_parse(text, &builder, nlohmann::json::input_format_t::json, true, true))
            return builder.take();
    }
    faults.throw_if_any();
    return {}; // not reached: a parser that stops has left its fault
}

JsonValue read_json_file(const std::string& file, Faults& faults) {
    return parse_json(read_text_file(file), faults);
}

} // namespace cli
