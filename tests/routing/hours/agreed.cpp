#include "tests/routing/hours/agreed.hpp"

namespace hours_test {

std::vector<StateSpan> spans_of(const std::vector<routing::hours::Stretch>& stretches) {
    std::vector<StateSpan> spans;
    for (const auto& stretch : stretches) {
        if (!spans.empty() && spans.back().time.until == stretch.time.from && spans.back().state == stretch.state)
            spans.back().time.until = stretch.time.until;
        else
            spans.push_back({stretch.time, stretch.state});
    }
    return spans;
}

std::uint64_t digest(std::string_view text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char byte : text)
        hash = (hash ^ static_cast<unsigned char>(byte)) * 1099511628211ULL;
    return hash;
}

std::uint64_t digest(const std::vector<StateSpan>& spans) {
    std::string text;
    for (const StateSpan& span : spans)
        text += std::to_string(span.time.from.time_since_epoch().count()) + " " +
                std::to_string(span.time.until.time_since_epoch().count()) + " " +
                std::to_string(static_cast<int>(span.state)) + "\n";
    return digest(text);
}

std::string hex(std::uint64_t number) {
    std::string text;
    for (int shift = 60; shift >= 0; shift -= 4)
        text += "0123456789abcdef"[(number >> shift) & 15];
    return text;
}

} // namespace hours_test
