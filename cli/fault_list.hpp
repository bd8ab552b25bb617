#pragma once
/// Faults of several parts, all told at once.
///
///     FaultList faults;
///     faults.collect([&] { changes.at = parse_place(options.at, "--at"); });
///     faults.throw_if_any();

#include "geo/input_error.hpp"

#include <utility>
#include <vector>

namespace cli {

class FaultList {
public:
    void add(geo::InputFault fault) { faults_.push_back(std::move(fault)); }
    void add(const geo::InputError& error) {
        faults_.insert(faults_.end(), error.faults().begin(), error.faults().end());
    }
    /// Runs `read` and keeps the faults it throws.
    template <class Read>
    void collect(const Read& read) {
        try {
            read();
        } catch (const geo::InputError& error) {
            add(error);
        }
    }
    /// Throws geo::InputError.
    void throw_if_any() {
        if (!faults_.empty())
            throw geo::InputError(std::move(faults_));
    }

private:
    std::vector<geo::InputFault> faults_;
};

} // namespace cli
