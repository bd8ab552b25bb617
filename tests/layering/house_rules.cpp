#include "tests/layering/house_rules.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <fstream>
#include <iterator>
#include <optional>
#include <set>
#include <sstream>
#include <string_view>

namespace house {

namespace {

/// A folder of code, the folders it may include from beside itself, and packages that belong to other folders.
struct Room {
    std::string_view folder; ///< ends with `/`
    std::vector<std::string_view> may_include;
    std::vector<std::string_view> foreign_headers; ///< beginnings of include names
};

const std::vector<Room>& rooms() {
    static const std::vector<Room> all{
        {"geo/", {}, {"osmium/", "CLI/", "iostream"}},
        {"routing/order/", {"geo/"}, {"osmium/", "nlohmann/", "CLI/", "iostream"}},
        {"routing/hours/", {"geo/"}, {"osmium/", "nlohmann/", "CLI/", "iostream"}},
        {"routing/roads/", {"geo/", "routing/hours/"}, {"CLI/", "iostream"}},
        // Of roads just the values read from the map: places work without a network.
        {"routing/places/",
         {"geo/", "routing/hours/", "routing/roads/osm_extract.hpp"},
         {"osmium/", "CLI/", "iostream"}},
        {"routing/shoot/",
         {"geo/", "routing/hours/", "routing/order/", "routing/places/", "routing/roads/"},
         {"osmium/", "CLI/", "iostream"}},
        {"cli/", {"geo/", "routing/"}, {"osmium/"}},
        {"regions/", {"geo/"}, {"CLI/"}},
        {"tests/", {"geo/", "routing/", "cli/", "regions/"}, {}},
    };
    return all;
}

constexpr std::array<std::string_view, 12> agreed_names{
    "CHANGELOG.md", "CMakeLists.txt", "CMakePresets.json", "DEVELOPERS.md", "LICENSE", "README.md", "cli", "docs",
    "geo",          "regions",        "routing",           "tests"};
constexpr std::array<std::string_view, 3> passed_over{"build", "node_modules", "out"}; // the names in .gitignore
constexpr std::size_t most_lines = 500;

bool starts_with_any(std::string_view text, const std::vector<std::string_view>& beginnings) {
    return std::any_of(beginnings.begin(), beginnings.end(),
                       [text](std::string_view b) { return text.starts_with(b); });
}

const Room* room_of(std::string_view path) {
    for (const Room& room : rooms())
        if (path.starts_with(room.folder))
            return &room;
    return nullptr;
}

bool is_code(std::string_view path) {
    return path.ends_with(".cpp") || path.ends_with(".hpp");
}

std::string at_line(const std::string& file, std::size_t line) {
    return file + ":" + std::to_string(line);
}

/// `#include "name"` or `<name>`, spaces anywhere.
struct Include {
    std::string name;
    bool quoted = false;
};

std::string_view without_blanks(std::string_view text) {
    text.remove_prefix(std::min(text.find_first_not_of(" \t"), text.size()));
    return text;
}

std::optional<Include> include_on(std::string_view line) {
    for (const std::string_view word : {"#", "include"}) {
        line = without_blanks(line);
        if (!line.starts_with(word))
            return std::nullopt;
        line.remove_prefix(word.size());
    }
    line = without_blanks(line);
    if (line.empty() || (line.front() != '"' && line.front() != '<'))
        return std::nullopt;
    const bool quoted = line.front() == '"';
    line.remove_prefix(1);
    return Include{std::string(line.substr(0, line.find(quoted ? '"' : '>'))), quoted};
}

void check_include(const std::string& where, const Room& room, const Include& include, std::vector<Fault>& faults) {
    const std::string& name = include.name;
    const bool quoted = include.quoted;
    const std::string room_name(room.folder.substr(0, room.folder.size() - 1));
    if (name.starts_with("routing/") && room_of(name) == nullptr)
        faults.push_back({where, "includes \"" + name + "\", which is in no folder of routing"});
    else if (const Room* target = room_of(name)) {
        if (target != &room && !starts_with_any(name, room.may_include))
            faults.push_back({where, room_name + " may not include \"" + name + "\""});
    } else if (quoted && room.folder == "tests/" && name.find('/') == std::string::npos) {
        return; // a test's own fixture beside it
    } else if (quoted) {
        faults.push_back({where, "includes \"" + name + "\"; name it from the top of the checkout"});
    } else if (starts_with_any(name, room.foreign_headers)) {
        faults.push_back({where, room_name + " may not include <" + name + ">"});
    }
}

void check_code(const std::string& file, const std::string& text, std::vector<Fault>& faults) {
    const Room* room = room_of(file);
    if (room == nullptr) {
        faults.push_back({file, "lies in no folder the house knows"});
        return;
    }
    std::istringstream lines(text);
    std::string line;
    for (std::size_t number = 1; std::getline(lines, line); ++number)
        if (const auto include = include_on(line))
            check_include(at_line(file, number), *room, *include, faults);
}

/// Whether the whole word stands somewhere in the text.
bool names(std::string_view text, std::string_view word) {
    const auto is_part = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; };
    for (auto at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
        const std::size_t end = at + word.size();
        if ((at == 0 || !is_part(text[at - 1])) && (end == text.size() || !is_part(text[end])))
            return true;
    }
    return false;
}

/// A library is linked only where its headers may be included.
void check_links(const std::string& file, const std::string& text, std::vector<Fault>& faults) {
    const Room* room = room_of(file);
    if (room == nullptr || room->folder == "tests/")
        return;
    for (const std::string_view word : {"geo", "hours", "roads", "places", "order", "shoot", "cli"}) {
        const std::string folder = (word == "geo" || word == "cli" ? "" : "routing/") + std::string(word) + "/";
        const bool in_part = std::any_of(room->may_include.begin(), room->may_include.end(),
                                         [&](std::string_view allowed) { return allowed.starts_with(folder); });
        const std::string library = "dayweave_" + std::string(word);
        if (folder != room->folder && !in_part && !starts_with_any(folder, room->may_include) && names(text, library))
            faults.push_back({file, "may not link " + library});
    }
}

void check_length(const std::string& file, const std::string& text, std::vector<Fault>& faults) {
    const auto lines = static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) +
                       (!text.empty() && text.back() != '\n' ? 1 : 0);
    if (lines > most_lines)
        faults.push_back({file, "has " + std::to_string(lines) + " lines; at most " + std::to_string(most_lines)});
}

void check_top_level(const std::vector<std::string>& names, std::vector<Fault>& faults) {
    for (const std::string& name : names) {
        const bool agreed = name.starts_with('.') ||
                            std::find(agreed_names.begin(), agreed_names.end(), name) != agreed_names.end() ||
                            std::find(passed_over.begin(), passed_over.end(), name) != passed_over.end();
        if (!agreed)
            faults.push_back({name, "is not among the agreed names at the top of the checkout"});
    }
}

bool is_read(const std::filesystem::path& file) {
    static const std::set<std::string> kinds{".cpp", ".hpp", ".cmake", ".sh", ".md", ".js", ".css", ".html", ".py"};
    return file.filename() == "CMakeLists.txt" || kinds.contains(file.extension().string());
}

std::string text_of(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

} // namespace

Tree read_tree(const std::filesystem::path& folder) {
    namespace fs = std::filesystem;
    Tree tree;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        tree.top_level.push_back(name);
        if (name.starts_with('.') || std::find(passed_over.begin(), passed_over.end(), name) != passed_over.end())
            continue;
        if (!entry.is_directory()) {
            if (is_read(entry.path()))
                tree.files[name] = text_of(entry.path());
            continue;
        }
        for (auto it = fs::recursive_directory_iterator(entry.path()); it != fs::recursive_directory_iterator{}; ++it) {
            if (it->path().filename() == "node_modules")
                it.disable_recursion_pending();
            else if (it->is_regular_file() && is_read(it->path()))
                tree.files[it->path().lexically_relative(folder).generic_string()] = text_of(it->path());
        }
    }
    std::sort(tree.top_level.begin(), tree.top_level.end());
    return tree;
}

std::vector<Fault> check(const Tree& tree) {
    std::vector<Fault> faults;
    check_top_level(tree.top_level, faults);
    for (const auto& [file, text] : tree.files) {
        if (is_code(file))
            check_code(file, text, faults);
        if (file.ends_with("CMakeLists.txt"))
            check_links(file, text, faults);
        check_length(file, text, faults);
    }
    std::stable_sort(faults.begin(), faults.end(), [](const Fault& a, const Fault& b) { return a.file < b.file; });
    return faults;
}

} // namespace house
