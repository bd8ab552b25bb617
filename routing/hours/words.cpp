#include "routing/hours/words.hpp"

#include <array>
#include <string_view>

namespace routing::hours {
namespace {

using Names = std::array<std::string_view, 9>;

// The first of each row is the specification's; the rest is tolerated.
constexpr std::array<Names, 7> weekdays{{{"Mo", "mon", "monday", "mondays", "montag"},
                                         {"Tu", "tue", "tues", "tuesday", "tuesdays", "di", "dienstag"},
                                         {"We", "wed", "weds", "wednesday", "wednesdays", "mi", "mittwoch"},
                                         {"Th", "thu", "thur", "thurs", "thursday", "thursdays", "do", "donnerstag"},
                                         {"Fr", "fri", "friday", "fridays", "freitag"},
                                         {"Sa", "sat", "saturday", "saturdays", "samstag"},
                                         {"Su", "sun", "sunday", "sundays", "so", "sonntag"}}};
constexpr std::array<Names, 12> months{{{"Jan", "january", "januar"},
                                        {"Feb", "february", "februar"},
                                        {"Mar", "march", "m\xC3\xA4rz", "m\xC3\xA4r"},
                                        {"Apr", "april"},
                                        {"May", "mai"},
                                        {"Jun", "june", "juni"},
                                        {"Jul", "july", "juli"},
                                        {"Aug", "august"},
                                        {"Sep", "sept", "september"},
                                        {"Oct", "october", "okt", "oktober"},
                                        {"Nov", "november"},
                                        {"Dec", "december", "dez", "dezember"}}};

std::string lower_case(std::string_view text) {
    std::string lower(text);
    for (char& letter : lower)
        if (letter >= 'A' && letter <= 'Z')
            letter = static_cast<char>(letter - 'A' + 'a');
    return lower;
}

std::optional<NamedDay> find(const auto& table, const Token& token, unsigned first) {
    if (token.kind != Token::Kind::word)
        return std::nullopt;
    for (unsigned row = 0; row < table.size(); ++row) {
        if (token.lower == lower_case(table[row].front()))
            return NamedDay{row + first, token.text == table[row].front()};
        for (const std::string_view name : table[row])
            if (!name.empty() && token.lower == name)
                return NamedDay{row + first, false};
    }
    return std::nullopt;
}

} // namespace

std::optional<NamedDay> weekday_of(const Token& token) {
    return find(weekdays, token, 0);
}

std::optional<NamedDay> month_of(const Token& token) {
    return find(months, token, 1);
}

} // namespace routing::hours
