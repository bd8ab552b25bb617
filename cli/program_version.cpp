#include "cli/plan_source.hpp"

namespace cli {

std::string program_version() {
    return DAYWEAVE_VERSION;
}

} // namespace cli
