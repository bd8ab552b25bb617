#include "shoot_fixture.hpp"

#include "cli/output_folder.hpp"

#include <doctest/doctest.h>

#include <csignal>
#include <map>
#include <sstream>

#include <sys/resource.h>

using namespace cli;
using fixture::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

std::string content_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

/// Every file below, with its content.
std::map<std::string, std::string> files_in(const fs::path& folder) {
    std::map<std::string, std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        files[entry.path().lexically_relative(folder).string()] =
            entry.is_regular_file() ? content_of(entry.path()) : "/";
    return files;
}

std::vector<geo::InputFault> write_faults(const fs::path& folder, const std::vector<Document>& documents,
                                          Replace replace) {
    try {
        write_documents(folder, documents, replace);
    } catch (const geo::InputError& error) {
        return error.faults();
    }
    return {};
}

} // namespace

TEST_CASE("documents are written into a folder that is created with its parents") {
    const TemporaryFolder folder;
    write_documents(folder.path() / "a" / "b", {{"one", "1"}, {"two", ""}}, Replace::no);
    CHECK(files_in(folder.path() / "a" / "b") == std::map<std::string, std::string>{{"one", "1"}, {"two", ""}});
}

TEST_CASE("documents that are there already are all named, and nothing changes") {
    const TemporaryFolder folder;
    folder.write("one", "old 1");
    folder.write("three", "old 3");
    const auto before = files_in(folder.path());
    const auto faults = write_faults(folder.path(), {{"one", "1"}, {"two", "2"}, {"three", "3"}}, Replace::no);
    REQUIRE(faults.size() == 2);
    CHECK(fixture::contains(faults[0].file, "one"));
    CHECK(fixture::contains(faults[0].mend, "--overwrite"));
    CHECK(fixture::contains(faults[1].file, "three"));
    CHECK(files_in(folder.path()) == before);

    write_documents(folder.path(), {{"one", "1"}, {"two", "2"}, {"three", "3"}}, Replace::yes);
    CHECK(files_in(folder.path()) == std::map<std::string, std::string>{{"one", "1"}, {"two", "2"}, {"three", "3"}});
}

TEST_CASE("a file where a folder is meant, or a folder where a file is meant, is refused") {
    const TemporaryFolder folder;
    const auto file = folder.write("file", "x");
    fs::create_directory(folder.path() / "plan.json");
    CHECK(fixture::has_fault(write_faults(file, {{"one", "1"}}, Replace::yes), "", "is no folder"));
    CHECK(fixture::has_fault(write_faults(file / "below", {{"one", "1"}}, Replace::yes), "", "can't be created"));
    CHECK(fixture::has_fault(write_faults(folder.path(), {{"plan.json", "1"}}, Replace::yes), "", "is a folder"));
    CHECK(fixture::has_fault(write_faults("", {{"one", "1"}}, Replace::yes), "-o", "names no folder"));
}

TEST_CASE("when renaming fails half way, old files come back and new ones go") {
    const TemporaryFolder folder;
    folder.write("one", "old 1");
    const auto before = files_in(folder.path());
    // The third can't be put in place: its folder is not there.
    CHECK_THROWS_AS(write_documents(folder.path(), {{"one", "1"}, {"two", "2"}, {"gone/three", "3"}}, Replace::yes),
                    std::system_error);
    CHECK(files_in(folder.path()) == before);
}

TEST_CASE("when renaming fails, folders created on the way go too") {
    const TemporaryFolder folder;
    CHECK_THROWS_AS(write_documents(folder.path() / "a" / "b", {{"one", "1"}, {"gone/two", "2"}}, Replace::no),
                    std::system_error);
    CHECK(files_in(folder.path()).empty());
}

TEST_CASE("when the disk takes no more, nothing of ours remains") {
    const TemporaryFolder folder;
    folder.write("two", "old 2");
    const auto before = files_in(folder.path());
    // A limit on file size stands in for a full disk: the second write fails with EFBIG.
    const auto old_handler = std::signal(SIGXFSZ, SIG_IGN);
    rlimit old_limit{};
    REQUIRE(::getrlimit(RLIMIT_FSIZE, &old_limit) == 0);
    rlimit small = old_limit;
    small.rlim_cur = 1000;
    REQUIRE(::setrlimit(RLIMIT_FSIZE, &small) == 0);
    CHECK_THROWS_AS(write_documents(folder.path(), {{"one", "1"}, {"two", std::string(5000, 'x')}}, Replace::yes),
                    std::system_error);
    ::setrlimit(RLIMIT_FSIZE, &old_limit);
    std::signal(SIGXFSZ, old_handler);
    CHECK(files_in(folder.path()) == before);
}

TEST_CASE("a link that stands in the way is replaced, not followed") {
    const TemporaryFolder folder;
    const auto outside = folder.write("outside", "keep");
    fs::create_directory(folder.path() / "out");
    fs::create_symlink(outside, folder.path() / "out" / "one");
    write_documents(folder.path() / "out", {{"one", "1"}}, Replace::yes);
    CHECK(content_of(outside) == "keep");
    CHECK_FALSE(fs::is_symlink(folder.path() / "out" / "one"));
}

TEST_CASE("a name longer than the disk takes is refused before anything is written") {
    const TemporaryFolder folder;
    const std::string name(300, 'x');
    const auto told = [&](const fs::path& out) {
        std::vector<geo::InputFault> checked;
        try {
            check_output(out, {"one"}, Replace::no);
        } catch (const geo::InputError& error) {
            checked = error.faults();
        }
        CHECK(fixture::has_fault(checked, "", "can't be created", "name another folder"));
        CHECK(fixture::has_fault(write_faults(out, {{"one", "1"}}, Replace::no), "", "can't be created"));
    };
    told(folder.path() / name);
    told(folder.path() / "new" / name);
    told(folder.path() / name / "below");
    fs::path deep = folder.path();
    for (int n = 0; n < 50; ++n)
        deep /= std::string(100, 'y'); // each name is fine, the whole is not
    told(deep);
    CHECK(files_in(folder.path()).empty());
}

TEST_CASE("a link that leads to itself is refused as a folder") {
    const TemporaryFolder folder;
    fs::create_symlink(folder.path() / "loop", folder.path() / "loop");
    CHECK(
        fixture::has_fault(write_faults(folder.path() / "loop", {{"one", "1"}}, Replace::no), "", "can't be created"));
}
