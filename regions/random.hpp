#pragma once
/// Small random generators that give the same numbers on every machine (the standard distributions do not).
///
///     regions::Random dice{7};
///     const double share = dice.between(0.2, 0.8);
///
/// splitmix64: Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014; constants from
/// memory. Only + - * / and sqrt are used on doubles here and in the terrain: IEEE 754 rounds those alike everywhere.

#include <cstddef>
#include <cstdint>

namespace regions {

/// One step of splitmix64's output function; a good hash of one word.
constexpr std::uint64_t scramble(std::uint64_t z) {
    z += 0x9E3779B97F4A7C15ULL;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
}

/// Uniform in [0, 1): the upper 53 bits.
constexpr double unit_share(std::uint64_t bits) {
    return static_cast<double>(bits >> 11) * 0x1.0p-53;
}

class Random {
public:
    explicit constexpr Random(std::uint64_t seed) : state_(seed) {}
    constexpr std::uint64_t next() {
        const std::uint64_t bits = scramble(state_);
        state_ += 0x9E3779B97F4A7C15ULL;
        return bits;
    }
    /// Uniform in [low, high).
    constexpr double between(double low, double high) { return low + (high - low) * unit_share(next()); }
    /// 0 .. count - 1; the bias of the remainder is below 1e-15 for the counts used here.
    constexpr std::size_t below(std::size_t count) { return static_cast<std::size_t>(next() % count); }
    constexpr bool chance(double share) { return unit_share(next()) < share; }

private:
    std::uint64_t state_;
};

} // namespace regions
