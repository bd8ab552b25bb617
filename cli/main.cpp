/// The program `dayweave`: registers the commands, parses, and catches what they throw, once.

#include "cli/command_check.hpp"
#include "cli/command_light.hpp"
#include "cli/command_places.hpp"
#include "cli/command_plan.hpp"
#include "cli/command_region.hpp"
#include "cli/command_replan.hpp"
#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_source.hpp"
#include "geo/input_error.hpp"
#include "geo/local_time.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>

namespace {

int code(cli::ExitCode exit_code) {
    return static_cast<int>(exit_code);
}

/// The parser would only say that a command is missing. Throws geo::InputError when the first argument is none.
void check_command(const CLI::App& app, int argc, char** argv) {
    std::vector<std::string> names;
    for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
        names.push_back(command->get_name());
    if (argc < 2)
        throw geo::InputError({{"dayweave", "", "", "needs a command", cli::offer_names("", names, "command")}});
    const std::string first = argv[1];
    if (!first.starts_with('-') && std::find(names.begin(), names.end(), first) == names.end())
        throw geo::InputError(
            {{"dayweave", "", cli::shown(first), "is no command", cli::offer_names(first, names, "command")}});
}

int run(int argc, char** argv) {
    CLI::App app("Plans outdoor shoots: which scene where and when, in its light, with ways, meals and beds.",
                 "dayweave");
    app.set_version_flag("--version", [] {
        return "dayweave " + cli::program_version() + "\ntime zone rules " + geo::zone_database_version();
    });
    app.require_subcommand(1);
    app.footer("Results go to standard output or files, talk to standard error.\n"
               "Exit: 0 done, 1 failed, 2 wrong arguments or input, 3 no plan keeps every must\n"
               "Help on a command: dayweave plan --help");
    cli::ExitCode exit_code = cli::ExitCode::done;
    cli::add_plan(app, exit_code);
    cli::add_replan(app, exit_code);
    cli::add_check(app, exit_code);
    cli::add_light(app, exit_code);
    cli::add_places(app, exit_code);
    cli::add_region(app, exit_code);
    check_command(app, argc, argv);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        const bool asked_for = error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success); // help, version
        app.exit(error);
        return asked_for ? code(cli::ExitCode::done) : code(cli::ExitCode::wrong_input);
    }
    return code(exit_code);
}

} // namespace

int main(int argc, char** argv) {
    int result = code(cli::ExitCode::failed);
    try {
        result = run(argc, argv);
    } catch (const geo::InputError& error) {
        std::cerr << error.what() << "\n";
        return code(cli::ExitCode::wrong_input);
    } catch (const std::exception& error) {
        std::cerr << "failed: " << error.what() << "\n";
        return code(cli::ExitCode::failed);
    }
    std::cout.flush();
    if (!std::cout) {
        std::cerr << "failed: standard output can't be written\n";
        return code(cli::ExitCode::failed);
    }
    return result;
}
