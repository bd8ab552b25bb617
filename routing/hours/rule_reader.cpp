#include "routing/hours/reader.hpp"
#include "routing/hours/words.hpp"

namespace routing::hours {

void Reader::remark(std::size_t position, std::string text) {
    remarks_.push_back({position, std::move(text)});
}

void Reader::refuse(const Token& at, const std::string& expected) const {
    if (at.kind == Token::Kind::end)
        throw Refusal{at.position, "the text ends where " + expected + " should stand"};
    const std::string found =
        at.kind == Token::Kind::comment ? "the comment \"" + at.text + "\"" : "\"" + at.text + "\"";
    throw Refusal{at.position, found + " stands where " + expected + " should"};
}

bool Reader::take_sign(char sign) {
    if (!peek().is(sign))
        return false;
    if (!peek().plain)
        remark(peek().position, std::string("another sign read as ") + sign);
    take();
    return true;
}

bool Reader::is_range(std::size_t ahead) const {
    const Token& token = peek(ahead);
    return token.is('-') || token.is_word("to") || token.is_word("till") || token.is_word("until") ||
           token.is_word("bis");
}

bool Reader::take_range() {
    if (!is_range(0))
        return false;
    if (!take_sign('-')) {
        remark(peek().position, "\"" + peek().text + "\" read as -");
        take();
    }
    return true;
}

bool Reader::is_and(std::size_t ahead) const {
    const Token& token = peek(ahead);
    return token.is(',') || token.is('&') || token.is_word("and") || token.is_word("und");
}

void Reader::take_and() {
    if (take_sign(','))
        return;
    remark(peek().position, "\"" + peek().text + "\" read as a comma");
    take();
}

int Reader::take_number(const char* what, int least, int most) {
    const Token& token = peek();
    if (!token.is_number())
        refuse(token, what);
    if (token.number < least || token.number > most)
        throw Refusal{token.position, "\"" + token.text + "\" is no " + what + ", " + std::to_string(least) + " to " +
                                          std::to_string(most)};
    return take().number;
}

bool Reader::begins_rule(std::size_t ahead) const {
    return begins_dates(ahead) || weekday_of(peek(ahead)) || peek(ahead).is_word("ph") || peek(ahead).is_word("sh") ||
           begins_time(ahead) || peek(ahead).kind == Token::Kind::comment || peek(ahead).is_word("off") ||
           peek(ahead).is_word("closed") || peek(ahead).is_word("open") || peek(ahead).is_word("unknown");
}

std::vector<Rule> Reader::rules() {
    std::vector<Rule> rules;
    Separator next = Separator::normal;
    std::size_t last_sign = 0;
    while (take_sign(';'))
        remark(0, "a rule is missing before ;");
    if (at_end())
        throw Refusal{0, "nothing is said"};
    while (true) {
        rules.push_back(rule(next));
        if (at_end())
            return rules;
        next = separator(rules.back(), last_sign);
        if (at_end()) {
            if (next == Separator::fallback)
                refuse(peek(), "a rule");
            remark(last_sign, "a sign after the last rule passed over");
            return rules;
        }
    }
}

/// The specification's three signs; where a new rule begins without one, a semicolon is read.
Separator Reader::separator(const Rule& before, std::size_t& last_sign) {
    last_sign = peek().position;
    if (take_sign('|')) {
        return Separator::fallback;
    }
    if (take_sign(';')) {
        while (peek().is(';')) {
            remark(peek().position, "an empty rule passed over");
            take();
        }
        return Separator::normal;
    }
    if (peek().is(',') && (at_end() || peek(1).kind == Token::Kind::end || begins_rule(1))) {
        take_sign(',');
        return Separator::additional;
    }
    if (!before.times.empty() && (weekday_of(peek()) || begins_dates(0) || peek().is_word("ph"))) {
        remark(peek().position, "; is missing before \"" + peek().text + "\"");
        return Separator::normal;
    }
    refuse(peek(), "; or the end");
}

bool Reader::always() {
    if (!(peek().is_number() && peek().text == "24" && peek(1).is('/') && peek(2).is_number() && peek(2).text == "7"))
        return false;
    take();
    take();
    take();
    return true;
}

/// `"after registration": 10:00-12:00`: when that is, only people know.
void Reader::condition(Rule& rule) {
    if (peek().kind == Token::Kind::comment && peek(1).is(':')) {
        rule.comment = take().text;
        rule.state = State::unknown;
        take();
    }
}

Rule Reader::rule(Separator separator) {
    Rule rule;
    rule.separator = separator;
    rule.position = peek().position;
    const std::size_t begin = at_;
    if (!always()) {
        condition(rule);
        wide(rule.wide);
        if (!rule.wide.empty())
            take_sign(':');
        weekdays(rule);
        if (peek().is(':') && !(rule.weekdays.empty() && rule.holidays.empty()))
            take();
        times(rule);
    }
    modifier(rule);
    if (at_ == begin) {
        if (peek().kind == Token::Kind::word)
            throw Refusal{peek().position, "\"" + peek().text + "\" is no word of opening hours"};
        refuse(peek(), "a day or a time");
    }
    return rule;
}

void Reader::modifier(Rule& rule) {
    const Token& word = peek();
    bool said = true;
    if (word.is_word("open"))
        rule.state = rule.comment.empty() ? State::open : State::unknown;
    else if (word.is_word("off") || word.is_word("closed"))
        rule.state = State::closed;
    else if (word.is_word("unknown"))
        rule.state = State::unknown;
    else
        said = false;
    if (said) {
        if (word.text != word.lower)
            remark(word.position, "\"" + word.text + "\" read as " + word.lower);
        take();
    }
    if (peek().kind == Token::Kind::comment) {
        // A comment without a word for the state says that it depends on what the comment tells people.
        if (!said)
            rule.state = State::unknown;
        rule.comment += (rule.comment.empty() ? "" : "; ") + take().text;
    }
}

} // namespace routing::hours
