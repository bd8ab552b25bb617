/// Lights written as objects: what is read, and every fault.

#include "shoot_fixture.hpp"

#include "routing/shoot/scene_light.hpp"

#include <doctest/doctest.h>

#include <string>

using fixture::all_faults;
using fixture::has_fault;
using fixture::Json;
using fixture::ShootFixture;
using fixture::sound_shoot;
using namespace std::chrono_literals;

namespace {

Json with_light(const std::string& light) {
    Json json = sound_shoot();
    json["scenes"][0]["light"] = Json::parse(light);
    return json;
}

geo::LightRequest read(const std::string& light) {
    const ShootFixture files;
    const Json json = with_light(light);
    const auto faults = files.faults(json);
    REQUIRE_MESSAGE(faults.empty(), all_faults(faults));
    return files.read(json).scenes[0].options[0].light.at(0);
}

struct Broken {
    const char* light;
    const char* field; ///< below the light
    const char* problem;
    const char* mend;
};

} // namespace

TEST_CASE("a light may join a name with limits, camera, moon, clock and quality") {
    using namespace geo;
    CHECK(read(R"("dark-sky")") == LightRequest(LightName::dark_sky));
    CHECK(read(R"({"sun_altitude": [-4, 6], "when": "evening"})") ==
          LightRequest(SunAltitudeRange{{-4}, {6}, HalfDay::evening}));
    CHECK(read(R"({"clock": ["10:00", "16:00"]})") == LightRequest(ClockRange{10h, 16h}));
    CHECK(read(R"({"name": "low-sun", "sun": "behind", "facing_deg": 240})") ==
          LightRequest(LightWish{.name = LightName::low_sun, .direction = SunBeside{{240}, SunSide::behind}}));
    CHECK(read(R"({"sun": "side", "facing_deg": 240, "side_limits_deg": [20, 160]})") ==
          LightRequest(LightWish{.direction = SunBeside{{240}, SunSide::side, {20}, {160}}}));
    CHECK(
        read(R"({"sun_altitude": [-4, 6], "when": "evening", "sun": "front", "facing_deg": 60, "min_quality": 0.5})") ==
        LightRequest(LightWish{.sun = SunAltitudeRange{{-4}, {6}, HalfDay::evening},
                               .direction = SunBeside{{60}, SunSide::front},
                               .min_quality = 0.5}));
    CHECK(read(R"({"sun_azimuth": [350, 20], "clock": ["10:00", "16:00"]})") ==
          LightRequest(LightWish{.clock = ClockRange{10h, 16h}, .direction = AzimuthRange{{350}, {20}}}));
    CHECK(read(R"({"name": "sunset", "sun": "in-frame", "facing_deg": 270, "lens": {"focal_mm": 35}})") ==
          LightRequest(LightWish{.name = LightName::sunset, .direction = SunInFrame{{270}, Lens{{35}}, {}}}));
    CHECK(
        read(
            R"({"sun": "in-frame", "facing_deg": 270, "lens": {"focal_mm": 35, "sensor_width_mm": 24, "pitch_deg": 5}})") ==
        LightRequest(LightWish{.direction = SunInFrame{{270}, Lens{{35}, {24}, {16}}, {5}}}));
    CHECK(read(R"({"moon": "up"})") == LightRequest(LightWish{.moon = MoonUp{}}));
    CHECK(read(R"({"moon": "down", "name": "night"})") ==
          LightRequest(LightWish{.name = LightName::night, .moon = MoonAbsent{}}));
    CHECK(read(R"({"moon": {"above_deg": 10, "lit": [0.5, 1]}})") ==
          LightRequest(LightWish{.moon = MoonUp{Degrees{10}, 0.5, 1.0}}));
    CHECK(read(R"({"moon": {"down_or_lit_at_most": 0.25}})") == LightRequest(LightWish{.moon = MoonAbsent{0.25}}));
    CHECK(read(R"({"name": "golden", "quality": [[-4, 0.2], [0, 1]], "min_quality": 0.6})") ==
          LightRequest(LightWish{
              .name = LightName::golden, .quality = QualityCurve{{{-4}, 0.2}, {{0}, 1.0}}, .min_quality = 0.6}));
}

TEST_CASE("the camera's direction comes from the location where the light gives none") {
    const ShootFixture files;
    Json json = with_light(R"({"name": "golden-evening", "sun": "behind"})");
    json["scenes"][0]["or"] = Json::parse(R"([{"at": "mill"}, {"at": "pier", "light": "day"}])");
    // Neither location says: one fault each.
    auto faults = files.faults(json);
    CAPTURE(all_faults(faults));
    CHECK(has_fault(faults, "/scenes/0/light/sun", "needs the way the camera looks", "facing_deg"));
    json["locations"][0]["facing_deg"] = 240;
    faults = files.faults(json);
    CHECK(has_fault(faults, "/scenes/0/light/sun", "needs the way the camera looks", "facing_deg"));
    json["locations"][1]["facing_deg"] = 90;
    const auto shoot = files.read(json);
    CHECK(shoot.locations[0].facing == geo::Degrees{240});
    CHECK(!shoot.locations[2].facing);
    const auto facing = [&](std::size_t option) {
        const auto& wish = std::get<geo::LightWish>(shoot.scenes[0].options[option].light.at(0));
        return std::get<geo::SunBeside>(*wish.direction).facing;
    };
    CHECK(facing(0) == geo::Degrees{240});
    CHECK(facing(1) == geo::Degrees{90}); // the same light at the other location looks that way
}

TEST_CASE("every fault of a light is named where it stands") {
    const ShootFixture files;
    for (const Broken& broken : {
             Broken{R"({"name": "golden-evenin"})", "/name", "is no light", "\"golden-evening\""},
             Broken{R"({"min_quality": 0.5})", "", "asks for no light", "golden-evening"},
             Broken{R"({"nam": "day"})", "/nam", "is no key", "\"name\""},
             Broken{R"({"name": "day", "when": "evening"})", "/when", "only goes with sun_altitude", "leave it out"},
             Broken{R"({"sun": "behin", "facing_deg": 1})", "/sun", "is no place of the sun", "\"behind\""},
             Broken{R"({"sun": 5, "facing_deg": 1})", "/sun", "is a number", "in-frame"},
             Broken{R"({"sun": "behind"})", "/sun", "needs the way the camera looks", "facing_deg"},
             Broken{R"({"sun": "behind", "facing_deg": 361})", "/facing_deg", "out of range", "0 to 360"},
             Broken{R"({"name": "day", "facing_deg": 1})", "/facing_deg", "only goes with sun", "leave it out"},
             Broken{R"({"name": "day", "side_limits_deg": [45, 135]})", "/side_limits_deg", "only goes with", "leave"},
             Broken{R"({"name": "day", "lens": {"focal_mm": 35}})", "/lens", "only goes with", "in-frame"},
             Broken{R"({"sun": "side", "facing_deg": 1, "lens": {"focal_mm": 35}})", "/lens", "only goes with",
                    "in-frame"},
             Broken{R"({"sun": "side", "facing_deg": 1, "side_limits_deg": [135, 45]})", "/side_limits_deg",
                    "runs from high to low", "[45, 135]"},
             Broken{R"({"sun": "in-frame", "facing_deg": 1})", "/lens", "is missing", "focal_mm"},
             Broken{R"({"sun": "in-frame", "facing_deg": 1, "side_limits_deg": [45, 135], "lens": {"focal_mm": 35}})",
                    "/side_limits_deg", "only goes with", "behind"},
             Broken{R"({"sun": "in-frame", "facing_deg": 1, "lens": {}})", "/lens/focal_mm", "is missing",
                    "millimetres"},
             Broken{R"({"sun": "in-frame", "facing_deg": 1, "lens": {"focal_mm": 0}})", "/lens/focal_mm",
                    "out of range", "1 to 3000"},
             Broken{R"({"sun_azimuth": [235]})", "/sun_azimuth", "holds 1 item", "two bearings"},
             Broken{R"({"sun_azimuth": [235, 235]})", "/sun_azimuth", "begins and ends", "[235, 245]"},
             Broken{R"({"sun_azimuth": [235, 445]})", "/sun_azimuth/1", "out of range", "0 to 360"},
             Broken{R"({"sun_azimuth": [235, 245], "sun": "side", "facing_deg": 1})", "/sun_azimuth", "twice",
                    "keep one"},
             Broken{R"({"moon": "full"})", "/moon", "is no place of the moon", "above_deg"},
             Broken{R"({"moon": {}})", "/moon", "says nothing", "above_deg"},
             Broken{R"({"moon": {"lit": [1, 0.5]}})", "/moon/lit", "runs from high to low", "[0.5, 1]"},
             Broken{R"({"moon": {"lit": [0.5, 1], "down_or_lit_at_most": 0.1}})", "/moon", "that is not", "keep one"},
             Broken{R"({"moon": {"down_or_lit_at_most": 10}})", "/moon/down_or_lit_at_most", "out of range", "0 to 1"},
             Broken{R"({"name": "day", "quality": []})", "/quality", "is an empty list", "points"},
             Broken{R"({"name": "day", "quality": [[0, 1, 2]]})", "/quality/0", "holds 3 items", "[[-4"},
             Broken{R"({"name": "day", "quality": [[5, 1], [0, 1]]})", "/quality/1", "does not lie above",
                    "low to high"},
             Broken{R"({"name": "day", "quality": [[0, 2]]})", "/quality/0/1", "out of range", "0 to 1"},
             Broken{R"({"name": "day", "min_quality": 1.5})", "/min_quality", "out of range", "0 to 1"},
         }) {
        const auto faults = files.faults(with_light(broken.light));
        CAPTURE(std::string(broken.light));
        CAPTURE(all_faults(faults));
        CHECK(has_fault(faults, "/scenes/0/light" + std::string(broken.field), broken.problem, broken.mend));
    }
}

TEST_CASE("a wish is told in words beside its scene") {
    const auto words = [](const std::string& light) { return routing::shoot::light_text({read(light)}); };
    CHECK(words(R"({"name": "low-sun", "sun": "behind", "facing_deg": 240})") ==
          "low-sun, sun behind the subject (camera to 240°)");
    CHECK(
        words(
            R"({"sun_altitude": [-4, 6], "when": "evening", "sun": "front", "facing_deg": 60, "min_quality": 0.5})") ==
        "sun -4° to 6°, evening, sun in front of the subject (camera to 60°), quality at least 0.5");
    CHECK(words(R"({"sun_azimuth": [350, 20], "clock": ["10:00", "16:00"]})") ==
          "sun at bearing 350° to 20°, 10:00–16:00 by the clock");
    CHECK(words(R"({"sun": "in-frame", "facing_deg": 270, "lens": {"focal_mm": 35}})") ==
          "sun in the picture (camera to 270°, 35 mm)");
    CHECK(words(R"({"name": "night", "moon": {"above_deg": 10, "lit": [0.5, 1]}})") ==
          "night, moon above 10°, 50% to 100% lit");
    CHECK(words(R"({"moon": {"down_or_lit_at_most": 0.25}})") == "moon down or at most 25% lit");
    CHECK(words(R"({"moon": "down"})") == "moon down");
}
