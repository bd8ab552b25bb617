/// The prepared region file beside an extract: equal to a fresh build, bound to what it was made from, proof against
/// damage.

#include "routing/places/stored_places.hpp"
#include "routing/roads/hierarchy/stored_order.hpp"
#include "routing/roads/region_file.hpp"
#include "routing/roads/stored_index.hpp"
#include "routing/roads/stored_network.hpp"
#include "routing/shoot/region.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <random>
#include <sstream>

namespace fs = std::filesystem;
using namespace routing;
using shoot::Prepared;
using shoot::Region;

namespace {

class OwnFolder {
public:
    OwnFolder() {
        std::string name = (fs::temp_directory_path() / "dayweave_prepared_XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    OwnFolder(const OwnFolder&) = delete;
    OwnFolder& operator=(const OwnFolder&) = delete;
    ~OwnFolder() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    fs::path operator/(const std::string& name) const { return path_ / name; }
    const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

const std::string crossing = R"(<osm version="0.6">
<node id="1" version="1" lat="1.0" lon="2.0"/><node id="2" version="1" lat="1.01" lon="2.0"/>
<node id="3" version="1" lat="1.02" lon="2.01"/>
<node id="9" version="1" lat="1.011" lon="2.0"><tag k="amenity" v="cafe"/><tag k="name" v="Two Cups"/></node>
<way id="5" version="1"><nd ref="1"/><nd ref="2"/><tag k="highway" v="primary"/><tag k="name" v="Aa"/></way>
<way id="6" version="1"><nd ref="2"/><nd ref="3"/><tag k="highway" v="service"/></way>
<way id="7" version="1"><nd ref="3"/><nd ref="1"/><tag k="highway" v="track"/><tag k="maxheight" v="2"/></way>
</osm>
)";

std::string slurp(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

void spill(const fs::path& file, const std::string& content) {
    std::ofstream(file, std::ios::binary) << content;
}

/// All a region holds, as bytes.
std::vector<std::byte> bytes_of(const Region& region) {
    auto all = roads::store_network(*region.network);
    const auto foot = roads::store_network(region.foot->network());
    all.insert(all.end(), foot.begin(), foot.end());
    for (const roads::SnapIndex* index : {&region.index, &region.foot->index()}) {
        const auto parts = roads::store_index(index->parts());
        all.insert(all.end(), parts.begin(), parts.end());
    }
    const auto order = roads::hierarchy::store_order(region.hierarchy);
    all.insert(all.end(), order.begin(), order.end());
    const auto places = places::store_places(region.places);
    all.insert(all.end(), places.begin(), places.end());
    for (const char letter : region.data_date)
        all.push_back(static_cast<std::byte>(letter));
    const auto& c = region.read_counts;
    for (const std::uint64_t n : {c.nodes, c.ways, c.relations, c.road_ways, c.restrictions, c.features,
                                  c.invalid_locations, c.missing_nodes, c.repeated_objects, c.broken_outlines})
        for (int shift = 0; shift < 64; shift += 8)
            all.push_back(static_cast<std::byte>(n >> shift));
    return all;
}

bool was_read(const Region& region) {
    return region.prepared_note.starts_with("read ");
}

void check_twice(const fs::path& map) {
    roads::Vehicle van;
    van.height = geo::Metres{2.6};
    const Region plain = shoot::load_region(map.string(), van);
    const Region first = shoot::load_region(map.string(), van, Prepared::use);
    const Region second = shoot::load_region(map.string(), van, Prepared::use);
    CHECK_FALSE(was_read(first));
    CHECK(was_read(second));
    CHECK(bytes_of(plain) == bytes_of(first));
    CHECK(bytes_of(plain) == bytes_of(second));
    CHECK(second.box.has_value() == plain.box.has_value());
    if (plain.box)
        CHECK(second.box->north_east == plain.box->north_east);
}

} // namespace

TEST_CASE("a prepared file gives back what building gives, byte for byte") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    check_twice(folder / "map.osm");
    for (const char* name : {"osm/monaco-2022-07-19.osm.pbf", "osm/liechtenstein-2021-05-05.osm.pbf"}) {
        const auto real = support::shared_data(name);
        if (!real)
            continue;
        fs::copy_file(*real, folder / "real.osm.pbf", fs::copy_options::overwrite_existing);
        for (const auto& entry : fs::directory_iterator(folder.path()))
            if (entry.path().string().ends_with(".prepared"))
                fs::remove(entry.path());
        check_twice(folder / "real.osm.pbf");
    }
}

TEST_CASE("several extracts have one prepared file, bound to all of them") {
    const OwnFolder folder;
    const std::vector<std::string> both{(folder / "a.osm").string(), (folder / "b.osm").string()};
    spill(both[0], crossing);
    spill(both[1], crossing);
    const Region first = shoot::load_region(both, {}, Prepared::use);
    CHECK(shoot::prepared_path(both, {}) != shoot::prepared_path(both[0], {}));
    CHECK(fs::exists(shoot::prepared_path(both, {})));
    const Region second = shoot::load_region(both, {}, Prepared::use);
    CHECK(was_read(second));
    CHECK(bytes_of(first) == bytes_of(second));
    CHECK(second.file == both[0] + " and " + both[1]);
    spill(both[1], slurp(both[1]) + "\n");
    CHECK(shoot::load_region(both, {}, Prepared::use).prepared_note.ends_with("was made from another extract"));
    CHECK(was_read(shoot::load_region(both, {}, Prepared::use)));
}

TEST_CASE("a prepared file serves an extract touched only, and no changed one") {
    const OwnFolder folder;
    const fs::path map = folder / "map.osm";
    spill(map, crossing);
    shoot::load_region(map.string(), {}, Prepared::use);
    fs::last_write_time(map, fs::last_write_time(map) + std::chrono::hours(5));
    CHECK(was_read(shoot::load_region(map.string(), {}, Prepared::use)));

    std::string same_size = crossing; // "Aa" becomes "Bb"
    same_size.replace(same_size.find("\"Aa\""), 4, "\"Bb\"");
    spill(map, same_size);
    fs::last_write_time(map, fs::last_write_time(map) + std::chrono::hours(7));
    const Region rebuilt = shoot::load_region(map.string(), {}, Prepared::use);
    INFO(rebuilt.prepared_note);
    CHECK(rebuilt.prepared_note.ends_with("was made from another extract"));
    CHECK(rebuilt.network->names.at(1) == "Bb");
    CHECK(was_read(shoot::load_region(map.string(), {}, Prepared::use)));

    spill(map, crossing + "\n");
    CHECK(shoot::load_region(map.string(), {}, Prepared::use).prepared_note.ends_with("was made from another extract"));
}

TEST_CASE("vans of different size have prepared files of their own, and other road rules make it again") {
    const OwnFolder folder;
    const fs::path map = folder / "map.osm";
    spill(map, crossing);
    roads::Vehicle high;
    high.height = geo::Metres{3.0};
    shoot::load_region(map.string(), {}, Prepared::use);
    CHECK_FALSE(was_read(shoot::load_region(map.string(), high, Prepared::use)));
    CHECK(was_read(shoot::load_region(map.string(), {}, Prepared::use)));

    const fs::path low_file = shoot::prepared_path(map.string(), {});
    fs::copy_file(shoot::prepared_path(map.string(), high), low_file, fs::copy_options::overwrite_existing);
    CHECK(shoot::load_region(map.string(), {}, Prepared::use).prepared_note.ends_with("was made for another vehicle"));

    const auto opened = roads::open_region_file(low_file);
    REQUIRE(opened.file);
    roads::RegionKey other = opened.file->key();
    ++other.rules_version;
    REQUIRE_FALSE(roads::write_region_file(low_file, other, {}));
    CHECK(shoot::load_region(map.string(), {}, Prepared::use).prepared_note.ends_with("was made by other road rules"));
}

TEST_CASE("a folder that can't be written to, or a name that is taken, stops nothing") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    const std::string map = (folder / "map.osm").string();
    fs::create_directory(shoot::prepared_path(map, {})); // holds for the superuser too
    const Region region = shoot::load_region(map, {}, Prepared::use);
    CHECK(region.prepared_note.find("can't be written") != std::string::npos);
    CHECK(bytes_of(region) == bytes_of(shoot::load_region(map, {})));
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 2); // nothing temporary left
}

TEST_CASE("1,000 truncations and bit flips are each named or harmless") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    const std::string map = (folder / "map.osm").string();
    const auto expected = bytes_of(shoot::load_region(map, {}, Prepared::use));
    const fs::path file = shoot::prepared_path(map, {});
    const std::string good = slurp(file);
    std::mt19937 random(20260101); // NOLINT: the same damage on every run
    int detected = 0;
    for (int round = 0; round < 1000; ++round) {
        std::string bad = good;
        if (round % 4 == 0)
            bad.resize(random() % good.size());
        else
            for (unsigned flips = 1 + random() % 4; flips > 0; --flips) {
                // Half of the flips hit the header and section beginnings rather than the padding between.
                const std::size_t at = random() % 2 == 0
                                           ? random() % good.size()
                                           : (random() % (good.size() / 4096 + 1)) * 4096 + random() % 200;
                if (at < bad.size())
                    bad[at] = static_cast<char>(bad[at] ^ (1 << random() % 8));
            }
        spill(file, bad);
        try {
            const Region region = shoot::read_prepared(file.string());
            CHECK_MESSAGE(bytes_of(region) == expected, "round ", round);
        } catch (const std::exception& error) {
            ++detected;
            CHECK_MESSAGE(std::string(error.what()).find("make it again") != std::string::npos, error.what());
        }
    }
    MESSAGE(detected, " of 1000 named, the others hit the padding");
    CHECK(detected > 500);
}

TEST_CASE("a damaged section is named, and a forged one with a right checksum never leads outside") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    const std::string map = (folder / "map.osm").string();
    const Region built = shoot::load_region(map, {}, Prepared::use);
    const fs::path file = shoot::prepared_path(map, {});
    std::string bad = slurp(file);
    bad[4096] = static_cast<char>(bad[4096] ^ 1);
    spill(file, bad);
    CHECK(roads::open_region_file(file).reason == "section network fails its checksum");
    bad.resize(5000);
    spill(file, bad);
    CHECK(roads::open_region_file(file).reason == "is cut short");
    spill(file, crossing);
    CHECK(roads::open_region_file(file).reason == "is no prepared region file");

    const auto good = roads::store_network(*built.network);
    std::mt19937 random(7); // NOLINT
    for (int round = 0; round < 2000; ++round) {
        auto forged = good;
        forged[random() % forged.size()] ^= static_cast<std::byte>(1 + random() % 255);
        if (const auto network = roads::restore_network(forged)) {
            const roads::SnapIndex index(*network); // reads every edge and shape; a sanitizer would tell
            for (std::uint32_t a = 0; a < network->arcs.size(); ++a)
                CHECK(roads::value(network->arcs[a].head) < network->node_count());
        }
    }
}

TEST_CASE("ways on foot that are damaged in the file are made again when they are asked for") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    const std::string map = (folder / "map.osm").string();
    const auto expected = bytes_of(shoot::load_region(map, {}, Prepared::use));
    const fs::path file = shoot::prepared_path(map, {});
    const auto opened = roads::open_region_file(file);
    REQUIRE(opened.file);
    const std::string good = slurp(file);
    for (const std::string name : {"foot", "foot index"}) {
        CAPTURE(name);
        const auto section = opened.file->section(name);
        REQUIRE(section.size() > 16);
        const std::string content(reinterpret_cast<const char*>(section.data()), section.size());
        std::string bad = good;
        const std::size_t at = bad.find(content);
        REQUIRE(at != std::string::npos);
        bad[at + content.size() / 2] = static_cast<char>(bad[at + content.size() / 2] ^ 4);
        spill(file, bad);
        const Region region = shoot::load_region(map, {}, Prepared::use);
        CHECK(was_read(region)); // not looked at yet
        CHECK(bytes_of(region) == expected);
        CHECK_FALSE(fs::exists(file)); // the next load makes it again
        CHECK_THROWS(shoot::read_prepared(file.string()));
    }
}

TEST_CASE("a forged index never leads outside") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    const Region built = shoot::load_region((folder / "map.osm").string(), {});
    const auto good = roads::store_index(built.index.parts());
    std::mt19937 random(8); // NOLINT
    int refused = 0;
    for (int round = 0; round < 2000; ++round) {
        auto forged = good;
        forged[random() % forged.size()] ^= static_cast<std::byte>(1 + random() % 255);
        auto parts = roads::restore_index(forged, *built.network);
        if (!parts) {
            ++refused;
            continue;
        }
        const roads::SnapIndex index(*built.network, std::move(*parts));
        index.nearest_edges(built.network->node_place.front(), 10, geo::Metres{1e6});
    }
    CHECK(refused > 100);
}

TEST_CASE("processes that prepare at once leave one whole file and nothing else") {
    const OwnFolder folder;
    spill(folder / "map.osm", crossing);
    const std::string map = (folder / "map.osm").string();
    const auto expected = bytes_of(shoot::load_region(map, {}));
    std::vector<pid_t> children;
    for (int n = 0; n < 6; ++n) {
        const pid_t child = fork();
        if (child == 0) {
            bool good = true;
            for (int round = 0; round < 20 && good; ++round) {
                good = bytes_of(shoot::load_region(map, {}, Prepared::use)) == expected;
                if (round % 3 == 0)
                    ::unlink(shoot::prepared_path(map, {}).c_str());
            }
            _exit(good ? 0 : 1);
        }
        children.push_back(child);
    }
    for (const pid_t child : children) {
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        CHECK(status == 0);
    }
    CHECK(bytes_of(shoot::load_region(map, {}, Prepared::use)) == expected);
    CHECK(was_read(shoot::load_region(map, {}, Prepared::use)));
    CHECK(std::distance(fs::directory_iterator(folder.path()), {}) == 2);
}

TEST_CASE("an order that leaves a node out, names one twice or one that is not there is refused") {
    const auto bytes_for = [](std::vector<std::uint32_t> rank) {
        roads::hierarchy::Hierarchy shape;
        shape.rank = std::move(rank);
        return roads::hierarchy::store_order(shape);
    };
    const auto good = bytes_for({2, 0, 1});
    using roads::hierarchy::restore_order;
    CHECK(restore_order(good, 3) == std::vector<std::uint32_t>{1, 2, 0});
    CHECK_FALSE(restore_order(good, 2));
    CHECK_FALSE(restore_order(good, 4));
    CHECK_FALSE(restore_order({}, 3));
    // The numbers follow the count of eight bytes.
    auto twice = good;
    twice[8] = twice[12];
    CHECK_FALSE(restore_order(twice, 3));
    auto beyond = good;
    beyond[8] = std::byte{3};
    CHECK_FALSE(restore_order(beyond, 3));
}
