#include "routing/hours/condition.hpp"

namespace routing::hours {
namespace {

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\t'))
        text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\t'))
        text.remove_suffix(1);
    return text;
}

Hours read(std::string_view condition) {
    Hours hours = read_hours(without_brackets(condition));
    // "(sunset-01:00)" alone: the brackets belonged to the time after all.
    return hours.refusal() ? read_hours(condition) : hours;
}

} // namespace

std::string_view without_brackets(std::string_view text) {
    text = trimmed(text);
    if (text.size() < 2 || text.front() != '(' || text.back() != ')')
        return text;
    int depth = 0;
    for (std::size_t i = 0; i + 1 < text.size(); ++i) {
        depth += text[i] == '(' ? 1 : text[i] == ')' ? -1 : 0;
        if (depth == 0)
            return text;
    }
    return trimmed(text.substr(1, text.size() - 2));
}

bool is_time_condition(std::string_view condition) {
    return !read(condition).refusal();
}

ConditionTimes condition_times(std::string_view condition, geo::Interval span, const Site& site) {
    geo::Intervals sure;
    geo::Intervals unknown;
    for (const Stretch& stretch : read(condition).intervals(span, site))
        (stretch.state == State::open ? sure : unknown).push_back(stretch.time);
    return {geo::join(std::move(sure)), geo::join(std::move(unknown))};
}

} // namespace routing::hours
