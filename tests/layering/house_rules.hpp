#pragma once
/// The rules of the house that a compiler does not check: which folder may include which, what stands at the top of the
/// checkout, how long a file may be.
///
///     for (const house::Fault& fault : house::check(house::read_tree(source_folder)))
///         FAIL_CHECK(fault.file << ": " << fault.problem);

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace house {

/// What is looked at of a checkout; paths relative to it, with `/`.
struct Tree {
    std::vector<std::string> top_level;       ///< names of files and folders
    std::map<std::string, std::string> files; ///< text of each source, script and page
};

struct Fault {
    std::string file;
    std::string problem;
};

/// Reads the folders of the house; passes over `build`, `out`, `node_modules` and hidden names.
/// Throws std::filesystem::filesystem_error for an unreadable folder.
Tree read_tree(const std::filesystem::path& folder);

/// Every fault, sorted by file.
std::vector<Fault> check(const Tree& tree);

} // namespace house
