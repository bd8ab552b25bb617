#include "cli/output_folder.hpp"

#include "geo/input_error.hpp"

#include <algorithm>
#include <cerrno>
#include <system_error>

#include <fcntl.h>
#include <unistd.h>

namespace cli {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void fail(const std::string& what) {
    throw std::system_error(errno, std::generic_category(), what);
}

[[noreturn]] void refuse_folder(const fs::path& folder, const std::string& problem, const std::string& mend) {
    throw geo::InputError({{folder.string(), "", "", problem, mend}});
}

/// `folder` and those above it that are not there, deepest first. What can't be looked at counts as not there.
std::vector<fs::path> missing_steps(const fs::path& folder) {
    std::vector<fs::path> missing;
    std::error_code failure;
    fs::path step = fs::absolute(folder, failure);
    if (failure)
        refuse_folder(folder, "can't be found: " + failure.message(), "give the whole path of a folder");
    while (!fs::exists(step, failure)) {
        missing.push_back(step);
        if (step == step.parent_path())
            break;
        step = step.parent_path();
    }
    return missing;
}

/// Folders created on the way; removed again, while empty, unless kept.
class CreatedFolders {
public:
    explicit CreatedFolders(const fs::path& folder) : created_(missing_steps(folder)) {
        std::error_code failure;
        fs::create_directories(folder, failure);
        std::error_code unknown;
        if (failure && !fs::is_directory(folder, unknown)) {
            remove();
            refuse_folder(folder, "can't be created: " + failure.message(), "name a folder you may write to");
        }
    }
    CreatedFolders(const CreatedFolders&) = delete;
    CreatedFolders& operator=(const CreatedFolders&) = delete;
    ~CreatedFolders() {
        if (!kept_)
            remove();
    }
    void keep() { kept_ = true; }

private:
    void remove() {
        std::error_code ignored; // a folder that got other files meanwhile stays
        for (const fs::path& folder : created_)
            fs::remove(folder, ignored);
    }
    std::vector<fs::path> created_; // deepest first
    bool kept_ = false;
};

void write_flushed(const fs::path& file, const std::string& content) {
    const int handle = ::open(file.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (handle < 0)
        fail("can't create " + file.string());
    std::size_t written = 0;
    int problem = 0;
    while (written < content.size() && problem == 0) {
        const ssize_t more = ::write(handle, content.data() + written, content.size() - written);
        if (more >= 0)
            written += static_cast<std::size_t>(more);
        else if (errno != EINTR)
            problem = errno;
    }
    if (problem == 0 && ::fsync(handle) != 0)
        problem = errno;
    if (::close(handle) != 0 && problem == 0)
        problem = errno;
    if (problem != 0) {
        errno = problem;
        fail("can't write " + file.string());
    }
}

void move_over(const fs::path& from, const fs::path& to) {
    std::error_code failure;
    fs::rename(from, to, failure);
    if (failure)
        throw std::system_error(failure, "can't put " + to.string() + " in place");
}

/// One document on its way: new content under `temporary`, what stood there before under `backup`.
struct Step {
    fs::path target, temporary, backup;
    bool moved_in = false;
    bool backed_up = false;
};

/// Undoes whatever was not kept, last step first.
class Transaction {
public:
    Transaction(const fs::path& folder, const std::vector<Document>& documents) {
        const std::string mark = ".dayweave-" + std::to_string(::getpid()) + "-";
        for (const Document& document : documents) {
            const std::string number = std::to_string(steps_.size());
            steps_.push_back(
                {folder / document.name, folder / (mark + number + ".new"), folder / (mark + number + ".old")});
        }
    }
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    ~Transaction() {
        std::error_code ignored;
        for (auto step = steps_.rbegin(); step != steps_.rend(); ++step) {
            if (step->backed_up && kept_) {
                fs::remove(step->backup, ignored);
            } else if (step->backed_up) {
                fs::rename(step->backup, step->target, ignored);
                fs::remove(step->backup, ignored); // renaming one name of a file to its other name leaves both
            } else if (step->moved_in && !kept_)
                fs::remove(step->target, ignored);
            fs::remove(step->temporary, ignored);
        }
    }

    void write(const std::vector<Document>& documents) {
        for (std::size_t n = 0; n < steps_.size(); ++n)
            write_flushed(steps_[n].temporary, documents[n].content);
    }

    void move_in() {
        for (Step& step : steps_) {
            std::error_code unknown;
            if (fs::exists(fs::symlink_status(step.target, unknown)))
                back_up(step);
            move_over(step.temporary, step.target);
            step.moved_in = true;
        }
    }

    void keep() { kept_ = true; }

private:
    static void back_up(Step& step) {
        // A second name keeps the old file in place until the new one replaces it; not every file system can do that.
        if (::link(step.target.c_str(), step.backup.c_str()) != 0)
            move_over(step.target, step.backup);
        step.backed_up = true;
    }

    std::vector<Step> steps_;
    bool kept_ = false;
};

void flush_folder(const fs::path& folder) {
    const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (handle < 0)
        return;
    ::fsync(handle); // some file systems can't; the files themselves are flushed
    ::close(handle);
}

/// A name too long is told before the work, not after it. A name is tried right below what is there: deeper down the
/// system would only say that the folder above is missing.
void check_names(const fs::path& folder, const std::vector<fs::path>& missing) {
    const fs::path parent = missing.back().parent_path();
    std::vector<fs::path> tries{missing.front()};
    for (const fs::path& step : missing)
        tries.push_back(parent / step.filename());
    for (const fs::path& one : tries) {
        std::error_code failure;
        static_cast<void>(fs::status(one, failure));
        if (failure == std::errc::filename_too_long || failure == std::errc::too_many_symbolic_link_levels)
            refuse_folder(folder, "can't be created: " + failure.message(), "name another folder");
    }
}

} // namespace

void check_output(const fs::path& folder, const std::vector<std::string>& names, Replace replace) {
    if (folder.empty())
        throw geo::InputError({{"", "-o", "", "names no folder", "name a folder to write to"}});
    std::error_code failure;
    const auto status = fs::status(folder, failure);
    if (!fs::exists(status)) {
        const auto missing = missing_steps(folder);
        const fs::path parent = missing.back().parent_path();
        if (!fs::is_directory(parent, failure))
            refuse_folder(folder, "can't be created: " + parent.string() + " is no folder",
                          "name a folder to write to");
        if (::access(parent.c_str(), W_OK | X_OK) != 0)
            refuse_folder(folder, "can't be created: " + parent.string() + " can't be written to",
                          "name a folder you may write to");
        check_names(folder, missing);
        return;
    }
    if (!fs::is_directory(status))
        refuse_folder(folder, "is no folder", "name a folder to write to");
    if (::access(folder.c_str(), W_OK | X_OK) != 0)
        refuse_folder(folder, "can't be written to", "name a folder you may write to");
    std::vector<geo::InputFault> faults;
    for (const std::string& name : names) {
        const auto target = fs::symlink_status(folder / name, failure);
        if (fs::is_directory(target))
            faults.push_back({(folder / name).string(), "", "", "is a folder where a file is to be written",
                              "move it away or name another folder"});
        else if (replace == Replace::no && fs::exists(target))
            faults.push_back({(folder / name).string(), "", "", "is there already",
                              "add --overwrite to replace it, or name another folder"});
    }
    if (!faults.empty())
        throw geo::InputError(std::move(faults));
}

void write_documents(const fs::path& folder, const std::vector<Document>& documents, Replace replace) {
    std::vector<std::string> names;
    for (const Document& document : documents)
        names.push_back(document.name);
    check_output(folder, names, replace);
    CreatedFolders folders(folder);
    Transaction transaction(folder, documents);
    transaction.write(documents);
    transaction.move_in();
    transaction.keep();
    folders.keep();
    flush_folder(folder);
}

} // namespace cli
