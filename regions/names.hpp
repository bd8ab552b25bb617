#pragma once
/// Words of the island's invented tongue, strung together into names nobody has given before.
///
///     regions::NameBook names{3};
///     names.street(); // "Vael Kessary"
///
/// vael street, ask lane, oru square, lorm country road, glae valley, dorn mountain, harne pass; yorrel an inn to eat
/// at, kipa coffee house, brask ale house, pelm bakery, ostruin hotel, lojven guest house, naftor fuel.

#include "regions/random.hpp"

#include <cstdint>
#include <set>
#include <string>
#include <string_view>

namespace regions {

class NameBook {
public:
    explicit NameBook(std::uint64_t seed) : dice_(seed) {}
    /// A word not given out before: "Kessary".
    std::string word();
    std::string street() { return "Vael " + word(); }
    std::string lane() { return "Ask " + word(); }
    std::string road() { return "Lorm " + word(); }
    /// A word behind a trade's own: "Yorrel Fauldin".
    std::string house(std::string_view trade) { return std::string(trade) + " " + word(); }
    /// Digits behind +999, which no country has (ITU-T E.164's list of assigned codes, from memory).
    std::string phone();

private:
    Random dice_;
    std::set<std::string> given_;
    int phones_ = 0;
};

} // namespace regions
