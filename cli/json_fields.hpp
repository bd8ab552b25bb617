#pragma once
/// Checked access to JSON: each value knows its JSON Pointer, and what is wrong is collected, not thrown, so that one
/// run names every fault of a file.
///
///     Faults faults("shoot.json");
///     const Members days = Field(root, "", faults).object({"date", "end"});
///     if (const auto date = days.need("date", "write YYYY-MM-DD")) ...
///     faults.throw_if_any();

#include "cli/json_value.hpp"
#include "geo/input_error.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace cli {

/// Faults of one file, in the order found. Beyond the first hundred they are only counted.
class Faults {
public:
    explicit Faults(std::string file) : file_(std::move(file)) {}

    void add(std::string pointer, std::string value, std::string problem, std::string mend);
    bool none() const { return faults_.empty(); }
    std::size_t count() const { return faults_.size() + left_out_; }
    const std::string& file() const { return file_; }
    /// Throws geo::InputError with all of them.
    void throw_if_any() const;

private:
    std::string file_;
    std::vector<geo::InputFault> faults_;
    std::size_t left_out_ = 0;
};

/// "/key", with `~` and `/` escaped (RFC 6901).
std::string pointer_step(std::string_view key);

/// A key of the file format that this version does not take in, and what to do instead.
struct LaterKey {
    std::string_view key;
    std::string_view mend;
};

class Members;

/// One value and where it stands. Getters give nothing after adding a fault.
class Field {
public:
    Field(const JsonValue& value, std::string pointer, Faults& faults)
        : value_(&value), pointer_(std::move(pointer)), faults_(&faults) {}

    const JsonValue& value() const { return *value_; }
    const std::string& pointer() const { return pointer_; }
    Faults& faults() const { return *faults_; }
    bool is(JsonValue::Kind kind) const { return value_->kind == kind; }

    /// Text that holds more than spaces. `wanted` says what to write instead: "write the name of a road".
    std::optional<std::string> text(std::string_view wanted) const;
    /// Text that may be empty.
    std::optional<std::string> any_text(std::string_view wanted) const;
    /// Within low..high, both included. `unit` ("minutes") for the message.
    std::optional<double> number(double low, double high, std::string_view unit) const;
    std::optional<std::int64_t> whole(std::int64_t low, std::int64_t high, std::string_view unit) const;
    std::optional<bool> flag() const;
    /// The items of a list. `of` says what it holds: "days".
    std::optional<std::vector<Field>> list(std::string_view of) const;
    /// The same for a list that must not be empty.
    std::optional<std::vector<Field>> filled_list(std::string_view of) const;
    /// Members of an object; every key that is neither known nor later is a fault. Not an object: a fault, and no
    /// members.
    Members object(std::span<const std::string_view> known, std::span<const LaterKey> later = {}) const;
    Members object(std::initializer_list<std::string_view> known, std::span<const LaterKey> later = {}) const;

    /// Adds a fault about this value, showing it when it is a text, a number or a flag.
    void fault(std::string problem, std::string mend) const;
    /// "is text", "is a list" ...; then `mend`.
    void wrong_kind(std::string mend) const;

private:
    const JsonValue* value_;
    std::string pointer_;
    Faults* faults_;
};

/// The members of an object; `real()` is false when the value was no object (the fault is already noted).
class Members {
public:
    Members(Field field, bool real) : field_(std::move(field)), real_(real) {}

    bool real() const { return real_; }
    const Field& field() const { return field_; }
    std::optional<Field> find(std::string_view key) const;
    /// A missing member is a fault, mended by `mend`.
    std::optional<Field> need(std::string_view key, std::string mend) const;

private:
    Field field_;
    bool real_;
};

} // namespace cli
