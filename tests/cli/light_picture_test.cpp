#include "cli/light_picture.hpp"

#include "shoot_fixture.hpp"

#include "cli/command_light.hpp"
#include "cli/light_picture_round.hpp"
#include "cli/light_picture_strip.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/sky/sun_events.hpp"

#include <doctest/doctest.h>
#include <expat.h>

#include <cmath>
#include <iostream>
#include <map>
#include <sstream>

using fixture::contains;
using namespace std::chrono_literals;

namespace {

using Attributes = std::map<std::string, std::string>;

struct Element {
    std::string name;
    Attributes attributes;
    std::string text;

    double number(const std::string& attribute) const { return std::stod(attributes.at(attribute)); }
};

/// Every element in order; nothing when the text is no well-formed XML.
std::vector<Element> elements_of(const std::string& xml) {
    std::vector<Element> elements;
    XML_Parser parser = XML_ParserCreate(nullptr);
    XML_SetUserData(parser, &elements);
    XML_SetElementHandler(
        parser,
        [](void* list, const XML_Char* name, const XML_Char** attributes) {
            Element element{name, {}, {}};
            for (; *attributes != nullptr; attributes += 2)
                element.attributes[attributes[0]] = attributes[1];
            static_cast<std::vector<Element>*>(list)->push_back(element);
        },
        [](void*, const XML_Char*) {});
    XML_SetCharacterDataHandler(parser, [](void* list, const XML_Char* text, int length) {
        auto& all = *static_cast<std::vector<Element>*>(list);
        if (!all.empty() && std::string_view(text, static_cast<std::size_t>(length)) != "\n") // between elements
            all.back().text.append(text, static_cast<std::size_t>(length));
    });
    const bool sound = XML_Parse(parser, xml.data(), static_cast<int>(xml.size()), 1) == XML_STATUS_OK;
    XML_ParserFree(parser);
    return sound ? elements : std::vector<Element>{};
}

struct Drawn {
    std::string svg;
    std::vector<Element> elements;
    cli::PictureSky sky;

    bool says(const std::string& words) const { return times(words) > 0; }
    /// Texts with just these words, rims of letters not counted.
    int times(const std::string& words) const {
        int found = 0;
        for (const Element& element : elements)
            found += element.name == "text" && element.attributes.count("stroke") == 0 && element.text == words;
        return found;
    }
};

Drawn draw(const cli::LightPlace& place, const char* date, const char* zone_name) {
    const auto zone = *geo::find_time_zone(zone_name);
    const auto day = *geo::parse_date(date);
    geo::Surroundings around;
    if (place.horizon)
        around.direct_sun = [&place](geo::Interval span) {
            return cli::SkyPath(cli::SkyBody::sun, place.at, place.horizon).seen(span);
        };
    Drawn drawn;
    drawn.svg = cli::light_picture(place, cli::light_of_day(place.at, day, zone, around), zone);
    drawn.elements = elements_of(drawn.svg);
    drawn.sky = cli::picture_sky(place, day, zone);
    return drawn;
}

cli::LightPlace place_at(double latitude, double longitude, std::string name = "Arch") {
    return {"arch", std::move(name), {{latitude}, {longitude}}};
}

std::shared_ptr<const geo::terrain::HorizonProfile> level_ridge(double angle) {
    return std::make_shared<const geo::terrain::HorizonProfile>(geo::terrain::HorizonProfile::level({angle}));
}

/// Bars of the rows (not the bands, nor the key) with that fill.
std::vector<Element> bars(const Drawn& drawn, const std::string& fill) {
    std::vector<Element> found;
    for (const Element& element : drawn.elements)
        if (element.name == "rect" && element.attributes.count("fill") == 1 &&
            element.attributes.count("height") == 1 && element.attributes.at("fill") == "url(#" + fill + ")" &&
            element.attributes.at("height") == "10")
            found.push_back(element);
    return found;
}

/// The time axis by its own labels: where 00 and 24 stand.
double x_of(const Drawn& drawn, geo::Instant when) {
    double left = 0.0, right = 0.0;
    for (const Element& element : drawn.elements)
        if (element.name == "text" && element.text == "24" && right == 0.0)
            right = element.number("x");
        else if (element.name == "text" && element.text == "00" && left == 0.0)
            left = element.number("x");
    const auto civil = drawn.sky.civil;
    return left + (right - left) * static_cast<double>((when - civil.from).count()) /
                      static_cast<double>(civil.length().count());
}

} // namespace

TEST_CASE("a light picture is well-formed and needs nothing from outside") {
    const auto drawn = draw(place_at(46.9, 9.4), "2027-05-14", "Europe/Zurich");
    REQUIRE_FALSE(drawn.elements.empty());
    CHECK(drawn.elements.front().name == "svg");
    for (const Element& element : drawn.elements) {
        for (const char* outside : {"script", "image", "use", "style", "a", "foreignObject"})
            CHECK(element.name != outside);
        for (const auto& [name, value] : element.attributes) {
            CHECK_FALSE(contains(name, "href"));
            CHECK_FALSE(name.starts_with("on"));
            if (contains(value, "url("))
                CHECK(value.starts_with("url(#"));
        }
    }
    CHECK(drawn.says("Arch · Friday 2027-05-14"));
}

TEST_CASE("names are written as text, whatever they hold") {
    const std::string name = "<b>\"Pier\" & 'quay'</b> \x01\xEF\xBF\xBF \xFF ]]>";
    const auto drawn = draw(place_at(46.9, 9.4, name), "2027-05-14", "Europe/Zurich");
    REQUIRE_FALSE(drawn.elements.empty());
    CHECK(drawn.elements[1].name == "title");
    CHECK(drawn.elements[1].text.starts_with("<b>\"Pier\" & 'quay'</b>"));
    CHECK(std::none_of(drawn.elements.begin(), drawn.elements.end(), [](const Element& e) { return e.name == "b"; }));
}

TEST_CASE("bars begin and end where the clock axis has sunrise and sunset") {
    for (const auto& [latitude, longitude, date, zone] :
         {std::tuple{46.9, 9.4, "2027-05-14", "Europe/Zurich"},
          std::tuple{-44.2, 170.1, "2027-01-10", "Pacific/Auckland"},
          std::tuple{47.0, 9.0, "2027-03-28", "Europe/Zurich"}, std::tuple{47.0, 9.0, "2027-10-31", "Europe/Zurich"}}) {
        const auto drawn = draw(place_at(latitude, longitude), date, zone);
        CAPTURE(date);
        const auto crossings = geo::sky::sun_crossings({{latitude}, {longitude}}, geo::Metres{0.0},
                                                       geo::sky::HorizonRule::upper_limb, drawn.sky.civil);
        REQUIRE(crossings.size() == 2);
        const auto day = bars(drawn, "sunlit");
        REQUIRE(day.size() == 1);
        CHECK(std::abs(day[0].number("x") - x_of(drawn, crossings[0].when)) < 0.03);
        CHECK(std::abs(day[0].number("x") + day[0].number("width") - x_of(drawn, crossings[1].when)) < 0.03);
    }
}

TEST_CASE("a day with a clock change has its 23 or 25 hours as the clock shows them") {
    const auto hours = [](const char* date, const char* zone, double longitude) {
        const auto drawn = draw(place_at(47.0, longitude), date, zone);
        std::map<std::string, int> counted; // on the axis: not bold, not italic, all at one height
        double axis = 0.0;
        for (const Element& element : drawn.elements)
            if (element.name == "text" && element.text == "24" && axis == 0.0)
                axis = element.number("y");
        for (const Element& element : drawn.elements)
            if (element.name == "text" && element.number("y") == axis && element.text.size() == 2)
                ++counted[element.text];
        return counted;
    };
    auto spring = hours("2027-03-28", "Europe/Zurich", 9.0);
    CHECK(spring.size() == 24); // 00 to 24 without 02
    CHECK(spring.count("02") == 0);
    auto autumn = hours("2027-10-31", "Europe/Zurich", 9.0);
    CHECK(autumn.size() == 25);
    CHECK(autumn["02"] == 2);
    CHECK(hours("2027-10-03", "Australia/Lord_Howe", 159.0).size() == 24); // half an hour left out: 02:00 never shows
}

TEST_CASE("bands of the sky fill the day and hold the sun's height they name") {
    const std::map<cli::Fill, std::pair<double, double>> heights{
        {cli::Fill::night, {-90, -18}},       {cli::Fill::astronomical, {-18, -12}},
        {cli::Fill::nautical, {-12, -6}},     {cli::Fill::blue, {-6, -4}},
        {cli::Fill::golden_down, {-4, -0.8}}, {cli::Fill::golden_up, {-0.87, 6}},
        {cli::Fill::low_sun, {6, 20}},        {cli::Fill::day, {20, 45}},
        {cli::Fill::high_sun, {45, 90}}};
    for (const double latitude : {-78.0, -35.0, 0.0, 23.4, 59.0, 66.7, 75.0, 90.0})
        for (const char* date : {"2027-03-20", "2027-06-21", "2027-12-21"}) {
            const auto place = place_at(latitude, 20.0);
            const auto sky = cli::picture_sky(place, *geo::parse_date(date), *geo::find_time_zone("UTC"));
            CAPTURE(latitude);
            CAPTURE(date);
            REQUIRE_FALSE(sky.bands.empty());
            CHECK(sky.bands.front().span.from == sky.civil.from);
            CHECK(sky.bands.back().span.until == sky.civil.until);
            for (std::size_t n = 0; n < sky.bands.size(); ++n) {
                if (n > 0)
                    CHECK(sky.bands[n].span.from == sky.bands[n - 1].span.until);
                const auto [low, high] = heights.at(sky.bands[n].fill);
                const auto span = sky.bands[n].span;
                for (geo::Instant t = span.from + 5s; t < span.until - 5s; t += 10min) {
                    const double altitude = geo::sky::sun_position(place.at, geo::Metres{0.0}, t).altitude.value;
                    CHECK(altitude >= low);
                    CHECK(altitude <= high);
                }
            }
        }
}

TEST_CASE("the disc has sun and ground where they stand") {
    auto place = place_at(46.9, 9.4);
    place.horizon = level_ridge(9.0);
    const auto drawn = draw(place, "2027-05-14", "Europe/Zurich");
    // The rim is the circle with the largest radius; height runs evenly from 90 in the middle to -10 there.
    double x = 0.0, y = 0.0, radius = 0.0;
    for (const Element& element : drawn.elements)
        if (element.name == "circle" && element.number("r") > radius) {
            x = element.number("cx");
            y = element.number("cy");
            radius = element.number("r");
        }
    const auto expected = [&](double altitude, double azimuth) {
        const double angle = azimuth * 3.14159265358979 / 180.0;
        const double part = (90.0 - altitude) / 100.0;
        return std::pair{x + radius * part * std::sin(angle), y - radius * part * std::cos(angle)};
    };
    const auto has_dot = [&](std::pair<double, double> at) {
        return std::any_of(drawn.elements.begin(), drawn.elements.end(), [&](const Element& element) {
            return element.name == "circle" && element.number("r") == 3.0 &&
                   std::hypot(element.number("cx") - at.first, element.number("cy") - at.second) < 0.02;
        });
    };
    for (const char* hour : {"06", "09", "12", "17", "20"}) {
        const auto when =
            *geo::parse_instant(std::string("2027-05-14T") + hour + ":00", *geo::find_time_zone("Europe/Zurich"));
        const auto sun = geo::sky::sun_position(place.at, geo::Metres{0.0}, when);
        CAPTURE(hour);
        CHECK(has_dot(
            expected(sun.altitude.value + geo::sky::refraction_from_true(sun.altitude).value, sun.azimuth.value)));
    }
    // Each point of the ridge as far from the middle as 9 degrees up.
    int ridges = 0;
    for (const Element& element : drawn.elements) {
        if (element.name != "polygon" || element.attributes.at("points").size() < 720 * 8)
            continue;
        ++ridges;
        std::istringstream points(element.attributes.at("points"));
        double px = 0.0, py = 0.0;
        char comma = 0;
        int count = 0;
        while (points >> px >> comma >> py) {
            CHECK(std::abs(std::hypot(px - x, py - y) - radius * 0.81) < 0.02);
            ++count;
        }
        CHECK(count == 720);
    }
    CHECK(ridges == 1);
    CHECK(drawn.says("the ground"));
    CHECK(drawn.says("open-shade"));
}

TEST_CASE("what does not come is said in the picture") {
    const auto summer = draw(place_at(75.0, 20.0), "2027-06-21", "UTC");
    CHECK(summer.says("all day"));
    CHECK(summer.says("sun up all day"));
    CHECK(summer.times("never") >= 6);
    const auto winter = draw(place_at(75.0, 20.0), "2027-12-21", "UTC");
    CHECK(winter.says("sun down all day"));
    CHECK(bars(winter, "sunlit").empty());
    // A whole day below the horizon: the moon, seen from near the pole.
    bool moonless = false;
    for (int day = 1; day <= 28 && !moonless; ++day) {
        const std::string date = "2026-02-" + std::string(day < 10 ? "0" : "") + std::to_string(day);
        moonless = draw(place_at(85.0, 0.0), date.c_str(), "UTC").says("moon down all day");
    }
    CHECK(moonless);
    // Samoa had no 30 December 2011.
    CHECK(draw(place_at(-13.8, -171.8), "2011-12-30", "Pacific/Apia").says("Pacific/Apia has no such day."));
}

TEST_CASE("the camera's picture is an outline on the disc") {
    auto place = place_at(-35.0, -8.4);
    place.facing = geo::Degrees{350.0};
    CHECK(draw(place, "2027-05-14", "UTC").says("camera 350°"));
    place.lens = geo::Lens{.focal_length = {24.0}};
    const auto drawn = draw(place, "2027-05-14", "UTC");
    CHECK(drawn.says("camera, lens 24 mm"));
    CHECK(std::any_of(drawn.elements.begin(), drawn.elements.end(), [](const Element& element) {
        return element.name == "polygon" && element.attributes.count("fill-opacity") == 1;
    }));
}

TEST_CASE("no two words of a picture lie over each other, and none leaves the page") {
    for (const double latitude : {-66.0, -35.0, -8.0, 0.0, 21.0, 47.0, 58.0, 66.0, 71.0, 84.0})
        for (const std::string date :
             {"2027-01-20", "2027-03-21", "2027-05-14", "2027-06-25", "2027-09-30", "2027-11-11"})
            for (const double ridge : {0.0, 12.0}) {
                auto place = place_at(latitude, 20.0);
                if (ridge > 0.0)
                    place.horizon = level_ridge(ridge);
                place.facing = geo::Degrees{latitude < 0.0 ? 350.0 : 90.0};
                const auto drawn = draw(place, date.c_str(), "Etc/GMT-1");
                REQUIRE_FALSE(drawn.elements.empty());
                std::vector<std::pair<std::string, cli::SvgBox>> boxes;
                for (const Element& element : drawn.elements) {
                    if (element.name != "text" || element.attributes.count("stroke") == 1)
                        continue;
                    const std::string anchor = element.attributes.at("text-anchor");
                    boxes.emplace_back(element.text, cli::text_box({element.number("x"), element.number("y")},
                                                                   element.text, element.number("font-size"),
                                                                   anchor == "start"    ? cli::Anchor::start
                                                                   : anchor == "middle" ? cli::Anchor::middle
                                                                                        : cli::Anchor::end));
                }
                CAPTURE(latitude);
                CAPTURE(date);
                const double height = drawn.elements.front().number("height");
                for (std::size_t a = 0; a < boxes.size(); ++a) {
                    CAPTURE(boxes[a].first);
                    const cli::SvgBox& box = boxes[a].second;
                    CHECK((box.x >= 0.0 && box.x + box.width <= 800.0 && box.y >= 0.0 && box.y + box.height <= height));
                    for (std::size_t b = 0; b < a; ++b)
                        if (cli::overlap(box, boxes[b].second))
                            FAIL_CHECK(boxes[b].first); // a check a pair would be a million
                }
            }
}

TEST_CASE("each place and day has a picture under a name any system takes") {
    const auto zone = *geo::find_time_zone("UTC");
    const auto date = *geo::parse_date("2027-05-14");
    std::vector<cli::LightPlace> places{place_at(47, 9), place_at(47, 9), place_at(47, 9), place_at(47, 9)};
    places[0].id = "quay/7";
    places[1].id = "Quay_7";
    places[2].id = "\xC3\xA9tang";
    places[3].id = "";
    const auto names = cli::light_picture_names(places, {date});
    CHECK(names == std::vector<std::string>{"quay_7-2027-05-14.svg", "Quay_7_2-2027-05-14.svg", "__tang-2027-05-14.svg",
                                            "light-2027-05-14.svg"});
    for (auto& place : places)
        place.days = {cli::light_of_day(place.at, date, zone)};
    const auto pictures = cli::light_pictures(places, zone);
    REQUIRE(pictures.size() == names.size());
    for (std::size_t n = 0; n < names.size(); ++n)
        CHECK(pictures[n].name == names[n]);
}

TEST_CASE("light writes all pictures or none, and replaces none unasked") {
    const fixture::TemporaryFolder folder;
    cli::LightOptions options;
    options.at = "-35.21,-8.47";
    options.date = "2027-05-14";
    options.zone = "Atlantic/Azores";
    options.days = 3;
    options.pictures = (folder.path() / "pictures").string();
    std::ostringstream out, told;
    std::streambuf* const old_out = std::cout.rdbuf(out.rdbuf());
    std::streambuf* const old_error = std::cerr.rdbuf(told.rdbuf());
    struct Restore {
        std::streambuf *out, *error;
        ~Restore() {
            std::cout.rdbuf(out);
            std::cerr.rdbuf(error);
        }
    } const restore{old_out, old_error};
    const auto count = [&] {
        return std::distance(std::filesystem::directory_iterator(options.pictures),
                             std::filesystem::directory_iterator());
    };
    CHECK(cli::run_light(options) == cli::ExitCode::done);
    CHECK(count() == 3);
    CHECK(contains(told.str(), "3 pictures written to "));
    CHECK(contains(out.str(), "## Sunday 2027-05-16"));
    options.days = 4;
    CHECK_THROWS_AS(cli::run_light(options), geo::InputError);
    CHECK(count() == 3);
    options.overwrite = true;
    cli::run_light(options);
    CHECK(count() == 4);
    // With --find only of the days found; none found makes no folder.
    options.pictures = (folder.path() / "found").string();
    options.days = 30;
    options.find = "sunset at bearing 292..292.5";
    cli::run_light(options);
    CHECK(count() == 1);
    options.pictures = (folder.path() / "none").string();
    options.find = "sunset at bearing 10..20";
    cli::run_light(options);
    CHECK_FALSE(std::filesystem::exists(options.pictures));
}
