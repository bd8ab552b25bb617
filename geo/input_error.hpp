#pragma once
/// Faults in what a user handed in. Readers collect every fault of a file and throw once; `main` prints and exits 2.
///
///     throw geo::InputError({{"shoot.json", "/days/0/date", "2027-02-30", "is not a date", "write YYYY-MM-DD"}});

#include <stdexcept>
#include <string>
#include <vector>

namespace geo {

/// One fault: where it stands, what stands there, what is wrong and what to write instead.
struct InputFault {
    std::string file;    ///< file as the user named it, or the option ("--now")
    std::string field;   ///< JSON Pointer, OSM object ("way 12") or line; empty when the whole file is meant
    std::string value;   ///< what stands there, shortened by the reader; empty when nothing does
    std::string problem; ///< "is not a time of day"
    std::string mend;    ///< "write HH:MM, 00:00 to 23:59"
};

/// `file: field: "value" problem; mend`
std::string describe(const InputFault& fault);

/// Thrown by readers; `what()` holds a line for each fault.
class InputError : public std::runtime_error {
public:
    explicit InputError(std::vector<InputFault> faults);
    const std::vector<InputFault>& faults() const { return faults_; }

private:
    std::vector<InputFault> faults_;
};

} // namespace geo
