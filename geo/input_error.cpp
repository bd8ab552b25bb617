#include "geo/input_error.hpp"

namespace geo {

std::string describe(const InputFault& fault) {
    std::string line = fault.file;
    if (!fault.field.empty())
        line += (line.empty() ? "" : ": ") + fault.field;
    line += ": ";
    const char quote = fault.value.find('"') == std::string::npos ? '"' : '\''; // a value may hold quoted names
    if (!fault.value.empty())
        line += quote + fault.value + quote + " ";
    line += fault.problem;
    if (!fault.mend.empty())
        line += "; " + fault.mend;
    return line;
}

namespace {
std::string all_lines(const std::vector<InputFault>& faults) {
    std::string text;
    for (const InputFault& fault : faults)
        text += (text.empty() ? "" : "\n") + describe(fault);
    return text;
}
} // namespace

InputError::InputError(std::vector<InputFault> faults)
    : std::runtime_error(all_lines(faults)), faults_(std::move(faults)) {}

} // namespace geo
