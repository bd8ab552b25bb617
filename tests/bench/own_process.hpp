#pragma once
/// Work measured in a process of its own, so that its peak of memory is its own.
///
///     const auto result = bench::in_own_process([] { return bench::Result{seconds, counts}; });

#include <array>
#include <cstdint>
#include <functional>
#include <optional>

namespace bench {

using Counts = std::array<std::uint64_t, 4>;

struct Result {
    double seconds = 0.0;
    Counts counts{};
    double peak_mib = 0.0;      ///< resident memory of the process at its highest
    double whole_seconds = 0.0; ///< wall time of the child, from fork to its end
};

/// Runs `work` in a child and reads back what it measured. Nothing when the child failed; it has said why.
std::optional<Result> in_own_process(const std::function<Result()>& work);

} // namespace bench
