#include "tests/routing/roads/map_text.hpp"

#include "geo/input_error.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <bzlib.h>
#include <protozero/pbf_reader.hpp>
#include <protozero/pbf_writer.hpp>

#include <algorithm>
#include <random>
#include <zlib.h>

using namespace roads_test;

namespace {

roads::OsmExtract read(const std::filesystem::path& file) {
    return roads::read_extract(file, [](const roads::Tags& tags) { return tags.has("amenity"); });
}

/// The one fault a file gives; fails the test when it loads.
geo::InputFault fault_of(const std::filesystem::path& file) {
    try {
        read(file);
    } catch (const geo::InputError& error) {
        REQUIRE(error.faults().size() == 1);
        CHECK(error.faults()[0].file == file.string());
        CHECK_FALSE(error.faults()[0].mend.empty());
        return error.faults()[0];
    }
    FAIL("loaded: " << file.string());
    return {};
}

std::string problem_of(const std::string& suffix, const std::string& content) {
    const TemporaryFile file{suffix, content};
    return fault_of(file.path()).problem;
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string small_map() {
    MapText map;
    for (int i = 0; i < 3000; ++i)
        map.node(i, 1.0 + i * 1e-5, 2.0);
    return map.way(1, {1, 2, 3}, {{"highway", "residential"}}).xml();
}

std::string gzipped(const std::string& text) {
    std::string packed(compressBound(text.size()) + 64, '\0');
    z_stream stream{};
    REQUIRE(deflateInit2(&stream, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) == Z_OK);
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
    stream.avail_in = static_cast<uInt>(text.size());
    stream.next_out = reinterpret_cast<Bytef*>(packed.data());
    stream.avail_out = static_cast<uInt>(packed.size());
    REQUIRE(deflate(&stream, Z_FINISH) == Z_STREAM_END);
    packed.resize(stream.total_out);
    deflateEnd(&stream);
    return packed;
}

std::string bzipped(const std::string& text) {
    std::string packed(text.size() * 2 + 1000, '\0');
    auto size = static_cast<unsigned>(packed.size());
    REQUIRE(BZ2_bzBuffToBuffCompress(packed.data(), &size, const_cast<char*>(text.data()),
                                     static_cast<unsigned>(text.size()), 9, 0, 0) == BZ_OK);
    packed.resize(size);
    return packed;
}

std::string inflated(const std::string& packed, std::size_t size) {
    std::string text(size, '\0');
    auto length = static_cast<uLongf>(size);
    REQUIRE(uncompress(reinterpret_cast<Bytef*>(text.data()), &length, reinterpret_cast<const Bytef*>(packed.data()),
                       packed.size()) == Z_OK);
    REQUIRE(length == size);
    return text;
}

struct PbfBlock {
    std::string type;
    std::string content; ///< unpacked
};

/// The unpacked blocks of a PBF file (OSM wiki, PBF Format).
std::vector<PbfBlock> pbf_blocks(const std::string& file) {
    std::vector<PbfBlock> blocks;
    for (std::size_t at = 0; at < file.size();) {
        std::size_t header_size = 0;
        for (int i = 0; i < 4; ++i)
            header_size = header_size << 8U | static_cast<unsigned char>(file[at++]);
        protozero::pbf_reader header{file.data() + at, header_size};
        at += header_size;
        PbfBlock block;
        std::size_t blob_size = 0;
        while (header.next())
            if (header.tag() == 1)
                block.type = header.get_string();
            else if (header.tag() == 3)
                blob_size = static_cast<std::size_t>(header.get_int32());
            else
                header.skip();
        protozero::pbf_reader blob{file.data() + at, blob_size};
        at += blob_size;
        std::string packed;
        std::size_t size = 0;
        while (blob.next())
            if (blob.tag() == 2)
                size = static_cast<std::size_t>(blob.get_int32());
            else if (blob.tag() == 3)
                packed = blob.get_string();
            else
                blob.skip();
        block.content = inflated(packed, size);
        blocks.push_back(std::move(block));
    }
    return blocks;
}

/// A PBF file of the blocks, not packed: no check sum stands between a bent byte and the parser.
std::string plain_pbf(const std::vector<PbfBlock>& blocks) {
    std::string file;
    for (const PbfBlock& block : blocks) {
        std::string blob;
        protozero::pbf_writer{blob}.add_bytes(1, block.content);
        std::string header;
        protozero::pbf_writer writer{header};
        writer.add_string(1, block.type);
        writer.add_int32(3, static_cast<std::int32_t>(blob.size()));
        for (int shift = 24; shift >= 0; shift -= 8)
            file += static_cast<char>(header.size() >> static_cast<unsigned>(shift) & 0xFFU);
        file += header + blob;
    }
    return file;
}

} // namespace

TEST_CASE("a missing file, a folder, an unknown ending and an empty file are named as such") {
    CHECK(contains(fault_of("no/such/map.osm.pbf").problem, "is not there"));
    CHECK(contains(fault_of(std::filesystem::temp_directory_path()).problem, "is a folder"));
    CHECK(contains(fault_of("/dev/null").problem, "is no ordinary file"));
    CHECK(contains(problem_of(".txt", "x"), "unknown ending"));
    CHECK(contains(problem_of(".osm.o5m", "x"), "unknown ending"));
    CHECK(contains(problem_of(".osm.pbf", ""), "is empty"));
    CHECK(contains(problem_of(".osm", ""), "is empty"));
}

TEST_CASE("a name that looks like an address is a file name and nothing else") {
    CHECK(contains(fault_of("http://localhost/map.osm").problem, "is not there"));
    CHECK(contains(fault_of("-").problem, "is not there"));
}

TEST_CASE("a file without read permission is named as such") {
    const TemporaryFile file{".osm", small_map()};
    std::filesystem::permissions(file.path(), std::filesystem::perms::none);
    if (std::ifstream{file.path()}) {
        MESSAGE("SKIPPED: this user may read every file");
        return;
    }
    CHECK(contains(fault_of(file.path()).problem, "can't be read"));
}

TEST_CASE("an extract without nodes is refused") {
    CHECK(contains(problem_of(".osm", "<?xml version='1.0'?><osm version='0.6'></osm>"), "holds no nodes"));
    CHECK(contains(problem_of(".osm", MapText{}.way(1, {1, 2}, {{"highway", "road"}}).xml()), "holds no nodes"));
}

TEST_CASE("XML that is cut short, wrongly nested or no OSM is refused") {
    const std::string whole = small_map();
    CHECK(contains(problem_of(".osm", whole.substr(0, whole.size() / 2)), "broken"));
    CHECK(contains(problem_of(".osm", "<osm version='0.6'><node id='1' lat='1' lon='1'></osm>"), "broken"));
    CHECK(contains(problem_of(".osm", "<gpx version='1.1'></gpx>"), "broken"));
    CHECK(contains(problem_of(".osm", "<osm version='0.5'><node id='1' lat='1' lon='1'/></osm>"), "broken"));
    CHECK(contains(problem_of(".osm", "<osm version='0.6'><node id='x' lat='1' lon='1'/></osm>"), "broken"));
    CHECK(contains(problem_of(".osm", "no map at all"), "broken"));
}

TEST_CASE("packed XML loads whole and is refused when cut short") {
    const std::string map = small_map();
    for (const auto& [suffix, packed] :
         {std::pair{std::string{".osm.gz"}, gzipped(map)}, std::pair{std::string{".osm.bz2"}, bzipped(map)}}) {
        CAPTURE(suffix);
        const TemporaryFile whole{suffix, packed};
        CHECK(read(whole.path()).counts.nodes == 3000);
        CHECK(contains(problem_of(suffix, packed.substr(0, packed.size() / 2)), "broken"));
        // Cut in the check sum only: all of the map is there, so either answer will do, a crash will not.
        const TemporaryFile nearly{suffix, packed.substr(0, packed.size() - 3)};
        std::uint64_t nodes = 0;
        try {
            nodes = read(nearly.path()).counts.nodes;
        } catch (const geo::InputError&) {
            nodes = 3000;
        }
        CHECK(nodes == 3000);
    }
}

TEST_CASE("bzip2 files of several streams load to their end, whatever their length") {
    const std::string map = small_map();
    const std::string twice = bzipped(map.substr(0, 40'000)) + bzipped(map.substr(40'000));
    const TemporaryFile file{".osm.bz2", twice};
    CHECK(read(file.path()).counts.nodes == 3000);
}

TEST_CASE("bzip2 files load whatever their length") {
    // libosmium 2.19 refuses those of a multiple of 5000 bytes. Letters without order in a comment make such a file.
    MapText map;
    map.node(1, 1.0, 1.0);
    std::mt19937 random{3};
    std::string noise;
    std::string packed;
    while (packed.size() % 5000 != 0 || packed.empty()) {
        REQUIRE(noise.size() < 200'000);
        const std::size_t missing = 5000 - packed.size() % 5000;
        for (std::size_t n = std::max<std::size_t>(1, missing / 2); n > 0; --n)
            noise += static_cast<char>('a' + random() % 26);
        packed = bzipped(map.xml() + "<!--" + noise + "-->");
    }
    const TemporaryFile file{".osm.bz2", packed};
    CHECK(read(file.path()).counts.nodes == 1);
}

TEST_CASE("a PBF file cut short anywhere is refused or shorter, never a crash") {
    const auto leeds = support::shared_data("osm_conformance/leeds-its-2020-07.osm.pbf");
    if (!leeds)
        return;
    const std::string whole = file_content(*leeds);
    std::mt19937 random{20200707};
    int refused = 0;
    for (int i = 0; i < 300; ++i) {
        const std::size_t length = 1 + random() % (whole.size() - 1);
        const TemporaryFile file{".osm.pbf", whole.substr(0, length)};
        try {
            read(file.path());
        } catch (const geo::InputError& error) {
            ++refused;
            CHECK_FALSE(error.faults()[0].problem.empty());
        }
    }
    // Only a cut exactly between two blocks leaves a whole file.
    CHECK(refused >= 298);
}

TEST_CASE("a PBF file with flipped bits is refused or loads, never a crash") {
    const auto leeds = support::shared_data("osm_conformance/leeds-its-2020-07.osm.pbf");
    if (!leeds)
        return;
    const std::string whole = file_content(*leeds);
    std::mt19937 random{7072020};
    int refused = 0;
    for (int i = 0; i < 300; ++i) {
        std::string bent = whole;
        // Headers stand at the beginning of blocks: hit the first bytes as often as all others together.
        const std::size_t range = i % 2 == 0 ? 200 : bent.size();
        for (int flips = 1 + static_cast<int>(random() % 3); flips > 0; --flips)
            bent[random() % range] ^= static_cast<char>(1 << random() % 8);
        const TemporaryFile file{".osm.pbf", bent};
        try {
            const auto extract = read(file.path());
            roads::build_network(extract, {});
        } catch (const geo::InputError&) {
            ++refused;
        }
    }
    CHECK(refused > 150);
    MESSAGE(refused, " of 300 bent files refused");
}

TEST_CASE("blocks that are not packed load like packed ones") {
    const auto leeds = support::shared_data("osm_conformance/leeds-its-2020-07.osm.pbf");
    if (!leeds)
        return;
    const TemporaryFile file{".osm.pbf", plain_pbf(pbf_blocks(file_content(*leeds)))};
    const auto plain = read(file.path());
    const auto packed = read(*leeds);
    CHECK(plain.counts.road_ways == 184); // osmium-tool 1.15.0
    CHECK(plain.node_ids == packed.node_ids);
    CHECK(plain.node_places == packed.node_places);
}

TEST_CASE("bent bytes inside blocks are refused or load, never a crash") {
    const auto leeds = support::shared_data("osm_conformance/leeds-its-2020-07.osm.pbf");
    if (!leeds)
        return;
    const auto blocks = pbf_blocks(file_content(*leeds));
    std::mt19937 random{184};
    int refused = 0;
    for (int i = 0; i < 300; ++i) {
        auto bent = blocks;
        std::string& content = bent[random() % bent.size()].content;
        for (int flips = 1 + static_cast<int>(random() % 4); flips > 0; --flips)
            content[random() % content.size()] ^= static_cast<char>(1 << random() % 8);
        const TemporaryFile file{".osm.pbf", plain_pbf(bent)};
        try {
            roads::build_network(read(file.path()), {});
        } catch (const geo::InputError&) {
            ++refused;
        }
    }
    MESSAGE(refused, " of 300 files with bent blocks refused");
    CHECK(refused > 10);
    CHECK(refused < 290);
}

TEST_CASE("bent XML and packed XML is refused or loads, never a crash") {
    const std::string map = small_map().substr(0, 6000) + "</osm>";
    std::mt19937 random{11};
    for (const std::string suffix : {".osm", ".osm.gz", ".osm.bz2"})
        for (int i = 0; i < 60; ++i) {
            std::string bent = suffix == ".osm" ? map : suffix == ".osm.gz" ? gzipped(map) : bzipped(map);
            bent[random() % bent.size()] ^= static_cast<char>(1 << random() % 8);
            const TemporaryFile file{suffix, bent};
            try {
                roads::build_network(read(file.path()), {});
            } catch (const geo::InputError&) {
            }
        }
}

TEST_CASE("what is no PBF at all is told from what is cut short") {
    CHECK(contains(problem_of(".osm.pbf", "<?xml version='1.0'?><osm version='0.6'></osm>"), "is not a PBF file"));
    CHECK(contains(problem_of(".osm.pbf", std::string("\0\0", 2)), "ends in the middle of block 1"));
    CHECK(contains(problem_of(".osm.pbf", std::string("\0\0\0\x0b\x0a\x07OSMData\x18\x01\x00", 16)),
                   "does not begin with an OSMHeader"));
}
