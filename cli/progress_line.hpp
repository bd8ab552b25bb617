#pragma once
/// One line on a terminal that tells how far a long job is; nothing where standard error is no terminal.
///
///     const ProgressLine line;
///     load_region(files, vehicle, Prepared::use, line.watch());

#include "routing/shoot/region.hpp"

#include <string>

namespace cli {

class ProgressLine {
public:
    ProgressLine();
    /// Wipes the line.
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    /// Must not outlive the line; empty without a terminal.
    routing::shoot::PrepareWatch watch();

private:
    bool on_terminal_;
};

/// "reading map.osm.pbf [######..............]  30 %, about 12 s left", at most 79 columns; nothing is said of the time
/// left before a tenth of the job is done.
std::string progress_text(const std::string& stage, double share, double seconds_so_far);

} // namespace cli
