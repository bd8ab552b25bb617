#include "geo/light_definition.hpp"

#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>
#include <string>

using geo::LightName;
using namespace geo::literals;

TEST_CASE("every light name is read back as written, in the order of the enumeration") {
    int index = 0;
    for (const LightName name : geo::light_names()) {
        CHECK(static_cast<int>(name) == index++);
        CHECK(geo::parse_light_name(geo::to_string(name)) == name);
    }
    CHECK(geo::light_names().size() == 18);
    CHECK(geo::to_string(LightName::golden_evening) == "golden-evening");
}

TEST_CASE("what is no light name is no light name") {
    for (const auto* text : {"", "Golden", "golden_evening", "golden ", "magic", "noon"})
        CHECK(!geo::parse_light_name(text));
}

TEST_CASE("names stand for the sun altitudes people expect") {
    const auto golden = geo::sun_range(LightName::golden_evening);
    REQUIRE(golden);
    CHECK(golden->low == -4_deg);
    CHECK(golden->high == 6_deg);
    CHECK(golden->when == geo::HalfDay::evening);
    CHECK(!geo::sun_range(LightName::blue)->when);
    CHECK(geo::sun_range(LightName::night)->high == -18_deg);
    CHECK(geo::sun_range(LightName::high_sun)->low == 45_deg);
    CHECK(support::near(geo::sun_range(LightName::sunrise)->low, -0.8333_deg, 0.0001_deg));
    CHECK(!geo::sun_range(LightName::any));
}

TEST_CASE("every light is defined once, with its source, and explained in the docs") {
    std::ifstream page(std::string(DAYWEAVE_SOURCE_DIR) + "/docs/light.md");
    std::stringstream text;
    text << page.rdbuf();
    for (const LightName name : geo::light_names()) {
        const auto& row = geo::light_definition(name);
        CHECK(row.name == name);
        CHECK(!row.source.empty());
        CHECK_MESSAGE(text.str().find("| `" + std::string(row.text) + "` |") != std::string::npos, row.text);
    }
}
