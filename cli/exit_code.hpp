#pragma once
/// What the program tells the shell.

namespace cli {

enum class ExitCode {
    done = 0,
    failed = 1,      ///< something broke that the input is not to blame for
    wrong_input = 2, ///< wrong arguments or files
    no_full_plan = 3 ///< no plan keeps every must; the best partial one is still given
};

} // namespace cli
