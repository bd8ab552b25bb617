#pragma once
/// Writes a set of documents into a folder: all of them or none.
///
///     cli::write_documents("monday", {{"plan.json", json}, {"itinerary.md", text}}, Replace::no);

#include <filesystem>
#include <string>
#include <vector>

namespace cli {

struct Document {
    std::string name; ///< file name inside the folder
    std::string content;
};

enum class Replace { no, yes };

/// Throws geo::InputError when the folder is no folder, can't be written to, or (unless `Replace::yes`) holds one of
/// the names already; a folder that is not there is fine. For a check before long work; changes nothing.
void check_output(const std::filesystem::path& folder, const std::vector<std::string>& names, Replace replace);

/// Creates the folder where needed, writes every document under a temporary name, flushes it to the disk, and then
/// renames them all. When anything fails, files replaced come back, and temporary files and created folders go.
/// Throws geo::InputError as check_output does, std::system_error for a disk that fails.
/// A crash of the machine between two renames can leave new files beside old ones, never a file half written.
void write_documents(const std::filesystem::path& folder, const std::vector<Document>& documents, Replace replace);

} // namespace cli
