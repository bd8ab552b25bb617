#pragma once
/// Chance for made problems: the same on every machine.

#include <cstdint>
#include <random>

namespace order_tests {

class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_(seed) {}
    /// from <= roll <= to; plain remainder, since the library's distributions differ between libraries.
    int roll(int from, int to) {
        return from + static_cast<int>(engine_() % static_cast<std::uint32_t>(to - from + 1));
    }
    bool chance(int percent) { return roll(1, 100) <= percent; }

private:
    std::mt19937 engine_;
};

} // namespace order_tests
