#pragma once
/// Reads rules off an opening_hours text. Only read_hours (`hours.cpp`) uses it.
///
///     Reader reader(text);
///     const std::vector<Rule> rules = reader.rules(); // throws Refusal
///     reader.remarks()
///
/// A hand-written descent over the tokens, one function a symbol of the grammar (OSM wiki,
/// Key:opening_hours/specification). Cost: linear in the text.

#include "routing/hours/remark.hpp"
#include "routing/hours/rules.hpp"
#include "routing/hours/tokens.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

namespace routing::hours {

class Reader {
public:
    /// Throws Refusal when the text can't be cut into tokens.
    explicit Reader(std::string_view text) : tokens_(cut(text)) {}

    /// Throws Refusal at the first place that makes no sense.
    std::vector<Rule> rules();
    const std::vector<Remark>& remarks() const { return remarks_; }

private:
    // rule_reader.cpp
    Rule rule(Separator separator);
    bool always();
    void condition(Rule& rule);
    void modifier(Rule& rule);
    Separator separator(const Rule& before, std::size_t& last_sign);
    bool begins_rule(std::size_t ahead) const;

    // date_reader.cpp
    bool begins_dates(std::size_t ahead) const;
    bool is_year(std::size_t ahead) const;
    bool begins_date_after_year(std::size_t ahead) const;
    void wide(WideSelectors& wide);
    void years(WideSelectors& wide);
    void dates(WideSelectors& wide);
    void weeks(WideSelectors& wide);
    std::variant<MonthSpan, DateSpan> date_span();
    DatePoint date_after_month(std::optional<int> year, unsigned month);
    DatePoint date_point(std::optional<int> year);
    std::optional<int> take_year();
    unsigned take_month();
    bool is_day_number(std::size_t ahead) const;
    void shift(DatePoint& point);
    bool day_shift(int& shift);

    // weekday_reader.cpp
    void weekdays(Rule& rule);
    void day_or_holiday(Rule& rule);
    WeekdaySpan weekday_span();
    void nth(WeekdaySpan& span);

    // time_reader.cpp
    bool begins_time(std::size_t ahead) const;
    void times(Rule& rule);
    TimeSpan time_span();
    struct Clock {
        TimePoint point;
        bool bare_hour = false; ///< "9"
        bool half_day = false;  ///< with am or pm
    };
    Clock time_point(int latest_hour);
    TimePoint event_point();
    void half_of_day(Clock& clock);

    const Token& peek(std::size_t ahead = 0) const { return tokens_[std::min(at_ + ahead, tokens_.size() - 1)]; }
    const Token& take() {
        const Token& token = peek();
        if (at_ + 1 < tokens_.size())
            ++at_;
        return token;
    }
    bool take_sign(char sign);
    /// A hyphen, or a word that stands for one.
    bool take_range();
    bool is_range(std::size_t ahead) const;
    /// A comma, or "&", "and", "und"; the latter with a remark.
    bool is_and(std::size_t ahead) const;
    void take_and();
    int take_number(const char* what, int least, int most);
    bool at_end() const { return peek().kind == Token::Kind::end; }
    void remark(std::size_t position, std::string text);
    [[noreturn]] void refuse(const Token& at, const std::string& expected) const;

    std::vector<Token> tokens_;
    std::size_t at_ = 0;
    std::vector<Remark> remarks_;
};

} // namespace routing::hours
