#pragma once
/// Hand-made maps: written as .osm XML into a temporary folder and read back by the reader under test.
///
///     MapText map;
///     map.node(1, 10.0, 20.0).node(2, 10.0, 20.01).way(5, {1, 2}, {{"highway", "residential"}});
///     const OsmExtract extract = map.read();

#include "routing/roads/network.hpp"
#include "routing/roads/osm_extract.hpp"

#include <atomic>
#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <string>
#include <unistd.h>
#include <utility>
#include <vector>

namespace roads_test {

namespace roads = routing::roads;
using Pairs = std::vector<std::pair<std::string, std::string>>;

/// A file in the system's temporary folder, removed with the object.
class TemporaryFile {
public:
    TemporaryFile(const std::string& suffix, const std::string& content) {
        static std::atomic<int> count{0};
        path_ = std::filesystem::temp_directory_path() /
                ("dayweave_roads_" + std::to_string(::getpid()) + "_" + std::to_string(count++) + suffix);
        std::ofstream{path_, std::ios::binary} << content;
    }
    ~TemporaryFile() {
        std::error_code ignored;
        std::filesystem::remove(path_, ignored);
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

inline std::string file_content(const std::filesystem::path& path) {
    std::ifstream in{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{in}, std::istreambuf_iterator<char>{}};
}

struct Member {
    std::string type;
    roads::OsmId id = 0;
    std::string role;
};

class MapText {
public:
    MapText& node(roads::OsmId id, double latitude, double longitude, const Pairs& tags = {}, int version = 1) {
        body_ += "<node id='" + std::to_string(id) + "' version='" + std::to_string(version) + "' lat='" +
                 std::to_string(latitude) + "' lon='" + std::to_string(longitude) + "'>" + tag_text(tags) + "</node>\n";
        return *this;
    }
    MapText& way(roads::OsmId id, const std::vector<roads::OsmId>& nodes, const Pairs& tags, int version = 1) {
        body_ += "<way id='" + std::to_string(id) + "' version='" + std::to_string(version) + "'>";
        for (const roads::OsmId node : nodes)
            body_ += "<nd ref='" + std::to_string(node) + "'/>";
        body_ += tag_text(tags) + "</way>\n";
        return *this;
    }
    MapText& relation(roads::OsmId id, const std::vector<Member>& members, const Pairs& tags, int version = 1) {
        body_ += "<relation id='" + std::to_string(id) + "' version='" + std::to_string(version) + "'>";
        for (const Member& member : members)
            body_ += "<member type='" + member.type + "' ref='" + std::to_string(member.id) + "' role='" + member.role +
                     "'/>";
        body_ += tag_text(tags) + "</relation>\n";
        return *this;
    }
    MapText& raw(const std::string& xml) {
        body_ += xml + "\n";
        return *this;
    }
    std::string xml() const {
        return "<?xml version='1.0' encoding='UTF-8'?>\n<osm version='0.6'>\n" + body_ + "</osm>\n";
    }

    roads::OsmExtract read() const {
        return read([](const roads::Tags&) { return false; });
    }
    template <class Wanted>
    roads::OsmExtract read(Wanted wanted) const {
        const TemporaryFile file{".osm", xml()};
        return roads::read_extract(file.path(), wanted);
    }
    roads::RoadNetwork network(const roads::Vehicle& vehicle = {}) const {
        return roads::build_network(read(), vehicle);
    }

private:
    static std::string tag_text(const Pairs& tags) {
        std::string text;
        for (const auto& [key, value] : tags)
            text += "<tag k='" + key + "' v=\"" + escaped(value) + "\"/>";
        return text;
    }
    static std::string escaped(const std::string& value) {
        std::string text;
        for (const char c : value)
            text += c == '"' ? "&quot;" : c == '<' ? "&lt;" : c == '&' ? "&amp;" : std::string(1, c);
        return text;
    }
    std::string body_;
};

inline roads::Tags tags(std::initializer_list<std::pair<std::string, std::string>> pairs) {
    return roads::Tags{Pairs{pairs}};
}

/// Which OSM nodes a plain search reaches from any copy of `from`, and how soon: the test's own Dijkstra, O(n^2).
inline std::vector<std::pair<roads::OsmId, std::uint64_t>> reach(const roads::RoadNetwork& network, roads::OsmId from) {
    std::vector<std::uint64_t> time(network.node_count(), ~0ULL);
    std::vector<bool> done(network.node_count(), false);
    for (std::uint32_t n = 0; n < network.node_count(); ++n)
        if (network.node_osm[n] == from)
            time[n] = 0;
    std::vector<std::pair<roads::OsmId, std::uint64_t>> result;
    while (true) {
        std::uint32_t best = roads::none;
        for (std::uint32_t n = 0; n < network.node_count(); ++n)
            if (!done[n] && time[n] != ~0ULL && (best == roads::none || time[n] < time[best]))
                best = n;
        if (best == roads::none)
            return result;
        done[best] = true;
        result.emplace_back(network.node_osm[best], time[best]);
        for (const roads::Arc& arc : network.arcs_from(roads::NodeIndex{best})) {
            auto& at_head = time[roads::value(arc.head)];
            at_head = std::min(at_head, time[best] + arc.time);
        }
    }
}

/// Milliseconds from node to node, or nothing.
inline std::optional<std::uint64_t> drive(const roads::RoadNetwork& network, roads::OsmId from, roads::OsmId to) {
    for (const auto& [node, time] : reach(network, from))
        if (node == to)
            return time;
    return std::nullopt;
}

inline std::uint64_t count_of(const roads::RoadNetwork& network, const std::string& what) {
    const auto found = network.counts.find(what);
    return found == network.counts.end() ? 0 : found->second;
}

} // namespace roads_test
