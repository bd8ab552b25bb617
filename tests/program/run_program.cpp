#include "run_program.hpp"

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

namespace {

std::string quoted(const std::string& text) {
    std::string result = "'";
    for (const char letter : text)
        result += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
    return result + "'";
}

std::filesystem::path new_folder() {
    static std::atomic<int> count{0};
    const std::filesystem::path folder = std::filesystem::temp_directory_path() /
                                         ("dayweave_test_" + std::to_string(getpid()) + "_" + std::to_string(count++));
    std::filesystem::create_directories(folder);
    return folder;
}

} // namespace

Run run_program(const std::vector<std::string>& arguments, const std::vector<std::string>& environment) {
    const std::string command = arguments.empty() ? "" : arguments.front();
    const bool loads_map = command == "plan" || command == "replan" || command == "check";
    const bool asks_for_help = std::find(arguments.begin(), arguments.end(), "--help") != arguments.end();
    std::vector<std::string> all = arguments;
    if (loads_map && !asks_for_help && arguments.size() > 1)
        all.emplace_back("--no-prepared");
    return run_program_as_given(all, environment);
}

Run run_program_as_given(const std::vector<std::string>& arguments, const std::vector<std::string>& environment) {
    const Folder folder;
    std::string command = "env";
    for (const std::string& setting : environment)
        command += " " + quoted(setting);
    command += " " + quoted(DAYWEAVE_PROGRAM);
    for (const std::string& argument : arguments)
        command += " " + quoted(argument);
    command += " >" + quoted(folder / "out") + " 2>" + quoted(folder / "err") + " </dev/null";
    const int status = std::system(command.c_str()); // NOLINT(concurrency-mt-unsafe): one thread
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), read_file(folder / "out"),
            read_file(folder / "err")};
}

Folder::Folder() : path(new_folder()) {}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
}

std::string Folder::write(const std::string& name, const std::string& text) const {
    const std::string file = *this / name;
    std::ofstream(file, std::ios::binary) << text;
    return file;
}

std::vector<std::string> Folder::names() const {
    std::vector<std::string> found;
    for (const auto& entry : std::filesystem::directory_iterator(path))
        found.push_back(entry.path().filename().string());
    std::sort(found.begin(), found.end());
    return found;
}

std::string read_file(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

std::filesystem::path island() {
    return std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "regions" / "ondrel";
}
