#include "geo/json_text.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <cstring>
#include <limits>
#include <random>
#include <stdexcept>

using nlohmann::ordered_json;

TEST_CASE("documents are indented by two, with lists of plain values on one line") {
    const auto document = ordered_json::parse(
        R"({"b": [1, 2.5, "x"], "a": {"empty": {}, "none": [], "yes": true, "no": null}, "c": [[1], {"d": "\"\n"}]})");
    CHECK(geo::json_text(document) == "{\n"
                                      "  \"b\": [1, 2.5, \"x\"],\n"
                                      "  \"a\": {\n"
                                      "    \"empty\": {},\n"
                                      "    \"none\": [],\n"
                                      "    \"yes\": true,\n"
                                      "    \"no\": null\n"
                                      "  },\n"
                                      "  \"c\": [\n"
                                      "    [1],\n"
                                      "    {\n"
                                      "      \"d\": \"\\\"\\n\"\n"
                                      "    }\n"
                                      "  ]\n"
                                      "}\n");
}

TEST_CASE("numbers print in the fewest decimals that read back as the same number") {
    CHECK(geo::json_text(0.021049) == "0.021049\n");
    CHECK(geo::json_text(1e-6) == "0.000001\n");
    CHECK(geo::json_text(-0.5) == "-0.5\n");
    CHECK(geo::json_text(3.0) == "3.0\n");
    CHECK(geo::json_text(3) == "3\n");
    CHECK(geo::json_text(1e20) == "1e+20\n");
    std::mt19937_64 random(29);
    for (int i = 0; i < 50'000; ++i) {
        const auto bits = random();
        double value = 0.0;
        std::memcpy(&value, &bits, sizeof value);
        if (!std::isfinite(value))
            continue;
        const double read = ordered_json::parse(geo::json_text(value)).get<double>();
        if (read != value)
            CHECK(read == value);
    }
}

TEST_CASE("what JSON cannot say is refused, broken text is replaced") {
    CHECK_THROWS_AS(geo::json_text(std::numeric_limits<double>::quiet_NaN()), std::domain_error);
    CHECK_THROWS_AS(geo::json_text(ordered_json{{"a", {1.0, std::numeric_limits<double>::infinity()}}}),
                    std::domain_error);
    CHECK(geo::json_text("\xff") == "\"\xef\xbf\xbd\"\n");
}
