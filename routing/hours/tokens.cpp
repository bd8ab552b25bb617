#include "routing/hours/tokens.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace routing::hours {
namespace {

struct Spelling {
    std::string_view bytes;
    char sign; ///< ' ' a blank, '"' a quote
};

constexpr std::array spellings{
    Spelling{"\xE2\x80\x90", '-'}, Spelling{"\xE2\x80\x91", '-'}, Spelling{"\xE2\x80\x92", '-'},
    Spelling{"\xE2\x80\x93", '-'}, Spelling{"\xE2\x80\x94", '-'}, Spelling{"\xE2\x80\x95", '-'},
    Spelling{"\xE2\x88\x92", '-'}, Spelling{"\xEF\xBC\x8D", '-'}, Spelling{"\xC2\xA0", ' '},
    Spelling{"\xE2\x80\x89", ' '}, Spelling{"\xE2\x80\x8A", ' '}, Spelling{"\xE2\x80\xAF", ' '},
    Spelling{"\xE3\x80\x80", ' '}, Spelling{"\xE2\x80\x9C", '"'}, Spelling{"\xE2\x80\x9D", '"'},
    Spelling{"\xE2\x80\x9E", '"'}, Spelling{"\xEF\xBC\x9A", ':'}, Spelling{"\xEF\xBC\x8C", ','},
    Spelling{"\xEF\xBC\x9B", ';'}};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
/// Bytes of UTF-8 letters count as letters.
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || static_cast<unsigned char>(c) >= 0x80;
}
bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

class Cutter {
public:
    explicit Cutter(std::string_view text) : text_(text) {}

    std::vector<Token> run() {
        while (skip_blanks(), at_ < text_.size())
            tokens_.push_back(next());
        tokens_.push_back({.position = text_.size(), .spaced = spaced_});
        return std::move(tokens_);
    }

private:
    std::optional<Spelling> spelling_here() const {
        const auto found = std::find_if(spellings.begin(), spellings.end(), [this](const Spelling& spelling) {
            return text_.substr(at_).starts_with(spelling.bytes);
        });
        return found == spellings.end() ? std::nullopt : std::optional(*found);
    }

    void skip_blanks() {
        spaced_ = false;
        while (at_ < text_.size()) {
            const auto spelling = spelling_here();
            if (is_blank(text_[at_]))
                ++at_;
            else if (spelling && spelling->sign == ' ')
                at_ += spelling->bytes.size();
            else
                return;
            spaced_ = true;
        }
    }

    Token next() {
        Token token{.position = at_, .spaced = spaced_};
        const auto spelling = spelling_here();
        if (text_[at_] == '"' || (spelling && spelling->sign == '"'))
            return comment(token);
        if (spelling) {
            token.kind = Token::Kind::sign;
            token.sign = spelling->sign;
            token.plain = false;
            token.text = spelling->bytes;
            at_ += spelling->bytes.size();
        } else if (is_digit(text_[at_])) {
            number(token);
        } else if (is_letter(text_[at_])) {
            token.kind = Token::Kind::word;
            while (at_ < text_.size() && is_letter(text_[at_]) && !spelling_here()) {
                const char letter = text_[at_++];
                token.text += letter;
                token.lower += letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
            }
        } else {
            sign(token);
        }
        return token;
    }

    void number(Token& token) {
        token.kind = Token::Kind::number;
        while (at_ < text_.size() && is_digit(text_[at_]))
            token.text += text_[at_++];
        if (token.text.size() > 4)
            throw Refusal{token.position, "\"" + token.text + "\" is no time and no date"};
        token.number = std::stoi(token.text);
    }

    void sign(Token& token) {
        static constexpr std::string_view known = "-,;:+/[]().&";
        token.kind = Token::Kind::sign;
        token.sign = text_[at_];
        token.text = text_[at_];
        if (text_.substr(at_).starts_with("||"))
            at_ += 2;
        else if (known.find(token.sign) != std::string_view::npos)
            ++at_;
        else
            throw Refusal{at_, std::string("the sign ") + token.sign + " has no meaning in opening hours"};
    }

    Token comment(Token token) {
        token.kind = Token::Kind::comment;
        const auto length_here = [this] {
            const auto spelling = spelling_here();
            return text_[at_] == '"' ? std::size_t{1} : spelling && spelling->sign == '"' ? spelling->bytes.size() : 0;
        };
        for (at_ += length_here(); at_ < text_.size(); ++at_) {
            if (const std::size_t quote = length_here(); quote > 0) {
                at_ += quote;
                return token;
            }
            token.text += text_[at_];
        }
        throw Refusal{token.position, "a comment begins here and has no closing quote"};
    }

    std::string_view text_;
    std::size_t at_ = 0;
    bool spaced_ = false;
    std::vector<Token> tokens_;
};

} // namespace

std::vector<Token> cut(std::string_view text) {
    return Cutter(text).run();
}

} // namespace routing::hours
