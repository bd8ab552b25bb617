#pragma once
/// Runs the built program as a crew would, in a folder of its own.
///
///     const Run run = run_program({"plan", shoot, "-o", folder / "out"});
///     CHECK(run.exit_code == 0);

#include <filesystem>
#include <string>
#include <vector>

struct Run {
    int exit_code = -1;
    std::string out; ///< standard output
    std::string err; ///< standard error
};

/// `environment` like {"TZ=Asia/Tokyo"}; else the test's own. Adds --no-prepared where the program would put a file
/// beside the map: the demo region lies in the source tree, where nothing may be left behind.
Run run_program(const std::vector<std::string>& arguments, const std::vector<std::string>& environment = {});
/// Adds nothing: for maps in a folder of the test's own.
Run run_program_as_given(const std::vector<std::string>& arguments, const std::vector<std::string>& environment = {});

/// A new empty folder below the system's temporary one, removed with everything in it at the end.
class Folder {
public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::filesystem::path path;
    std::string operator/(const std::string& name) const { return (path / name).string(); }
    /// Writes a file and gives its path.
    std::string write(const std::string& name, const std::string& text) const;
    /// Names in the folder, sorted; hidden ones too.
    std::vector<std::string> names() const;
};

std::string read_file(const std::string& file);

/// The demo region's folder in the source tree.
std::filesystem::path island();
