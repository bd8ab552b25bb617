#include "regions/names.hpp"

#include <array>
#include <stdexcept>

namespace regions {
namespace {

constexpr std::array<std::string_view, 36> heads{
    "Torr", "Isp",  "Kess",  "Mosk",  "Venn", "Quisk", "Lundr", "Haspe", "Orrim", "Drivv", "Faul", "Gesk",
    "Yarr", "Pelv", "Zandr", "Ubrel", "Nolv", "Wesk",  "Tirv",  "Solk",  "Brisp", "Jorv",  "Ilk",  "Askr",
    "Ovr",  "Tamv", "Ruisk", "Cald",  "Ervi", "Ölvi",  "Nêsk",  "Sûl",   "Fyrr",  "Gwin",  "Hâl",  "Dusk"};
constexpr std::array<std::string_view, 18> tails{"in",   "a",   "o",   "ek",  "ume", "ary", "ow",  "eth",  "aul",
                                                 "ondé", "iss", "una", "ayë", "orm", "ild", "usk", "erra", "im"};

} // namespace

std::string NameBook::word() {
    for (int attempt = 0; attempt < 1000; ++attempt) {
        // One draw a statement: C++ leaves the order inside an expression to the compiler.
        std::string made{heads[dice_.below(heads.size())]};
        made += tails[dice_.below(tails.size())];
        if (given_.insert(made).second)
            return made;
    }
    throw std::logic_error("the island has run out of names");
}

std::string NameBook::phone() {
    ++phones_;
    std::string number = std::to_string(1000 + phones_);
    return "+999 000 " + number.substr(0, 2) + " " + number.substr(2);
}

} // namespace regions
