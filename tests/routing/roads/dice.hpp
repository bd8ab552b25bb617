#pragma once
/// Random numbers for tests: one seed, one sequence on every machine (the standard's distributions don't promise that).

#include <cstdint>
#include <random>

namespace support {

class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_(seed) {}
    /// 0 to count - 1.
    std::uint32_t below(std::uint32_t count) { return static_cast<std::uint32_t>(engine_() % count); }
    bool one_in(std::uint32_t count) { return below(count) == 0; }
    /// 0 to 1, both included.
    double share() { return static_cast<double>(below(1U << 30)) / static_cast<double>((1U << 30) - 1); }
    double between(double low, double high) { return low + share() * (high - low); }

private:
    std::mt19937 engine_;
};

} // namespace support
