#include "cli/light_picture.hpp"

#include "cli/clock_words.hpp"
#include "cli/field_values.hpp"
#include "cli/light_picture_round.hpp"
#include "cli/light_picture_strip.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace cli {

namespace {

constexpr double page_width = 800.0;
constexpr double margin = 24.0;
constexpr double strip_left = 148.0;
constexpr double round_radius = 204.0;
constexpr double key_left = 606.0;
constexpr double key_step = 15.0;

std::string horizon_text(const LightPlace& place) {
    if (!place.horizon)
        return "flat horizon (no elevation tiles)";
    const geo::Metres known = place.horizon->known_all_round();
    if (known < place.horizon->settings().range)
        return "horizon of the elevation tiles, ground known to " + length_text(known) + " all round";
    return "horizon of the elevation tiles";
}

void draw_heading(SvgDrawing& drawing, const LightPlace& place, const LightDay& light, const geo::TimeZone& zone) {
    const std::string title = shown(place.name) + " · " + day_text(light.date);
    const double fitting = (page_width - 2.0 * margin) / text_width(title, 1.0);
    drawing.text({margin, 34.0}, title, {.size = std::min(20.0, fitting), .bold = true});
    drawing.text({margin, 52.0}, place_text(place.at) + " · clock of " + zone.name() + " · " + horizon_text(place),
                 {.size = 11.0});
}

/// A line of the key: what stands for it, then what it is.
class Key {
public:
    Key(SvgDrawing& drawing, double top) : drawing_(drawing), y_(top) {}

    void heading(const std::string& words) {
        y_ += 4.0;
        drawing_.text({key_left, y_ + 9.0}, words, {.size = 11.0, .bold = true});
        y_ += key_step;
    }
    void area(Fill fill, const std::string& words) {
        drawing_.rectangle({key_left, y_, 26.0, 11.0}, fill_look(fill) + " stroke=\"#222\" stroke-width=\".8\"");
        add(words);
    }
    void line(const char* look, const std::string& words) {
        drawing_.line({key_left, y_ + 5.5}, {key_left + 26.0, y_ + 5.5}, look);
        add(words);
    }
    void words(const std::string& words) {
        drawing_.text({key_left, y_ + 9.0}, words, {.size = 10.0});
        y_ += key_step - 1.0;
    }
    double bottom() const { return y_; }

private:
    void add(const std::string& words) {
        drawing_.text({key_left + 32.0, y_ + 9.0}, words, {.size = 10.0});
        y_ += key_step;
    }
    SvgDrawing& drawing_;
    double y_;
};

void draw_moments(Key& key, const LightDay& light, const geo::TimeZone& zone) {
    key.heading("Sun and moon, flat horizon");
    std::vector<SkyMoment> moments = light.moments;
    moments.insert(moments.end(), light.moon.moments.begin(), light.moon.moments.end());
    std::stable_sort(moments.begin(), moments.end(),
                     [](const SkyMoment& a, const SkyMoment& b) { return a.when < b.when; });
    for (const SkyMoment& moment : moments)
        key.words(time_text(moment.when, light.date, zone) + "  " + moment.name + ", " +
                  fixed_text(std::fmod(std::round(moment.azimuth.value), 360.0), 0) + "°" +
                  (moment.name == "highest sun" ? ", " + angle_text(moment.altitude) : ""));
    for (const UncrossedLine& line : light.uncrossed)
        if (line.name == "the horizon")
            key.words(std::string("sun ") + (line.above ? "up" : "down") + " all day");
    if (light.moon.moments.empty())
        key.words(std::string("moon ") + (light.moon.up ? "up" : "down") + " all day");
    key.words("moon phase: " + light.moon.phase);
}

double draw_key(SvgDrawing& drawing, double top, const LightPlace& place, const LightDay& light, const PictureSky& sky,
                const geo::TimeZone& zone) {
    Key key(drawing, top);
    key.heading("Sky, by the sun's height");
    for (const Fill fill : {Fill::night, Fill::astronomical, Fill::nautical, Fill::blue, Fill::golden_down,
                            Fill::golden_up, Fill::low_sun, Fill::day, Fill::high_sun})
        if (std::any_of(sky.bands.begin(), sky.bands.end(), [&](const SkyBand& band) { return band.fill == fill; }))
            key.area(fill, band_words(fill));
    key.heading("Disc, 90° up in the middle");
    key.line(sun_seen_look, "sun seen; dots on the hour");
    key.line(sun_hidden_look, "sun hidden");
    key.line(moon_seen_look, "moon seen; rings each 3 h");
    key.line(moon_hidden_look, "moon hidden");
    if (place.horizon)
        key.area(Fill::behind_ground, "the ground");
    else
        key.area(Fill::below_horizon, "below the flat horizon");
    if (place.facing)
        key.line(camera_look,
                 place.lens ? "camera, lens " + number_text(place.lens->focal_length.value) + " mm" : "camera");
    draw_moments(key, light, zone);
    return key.bottom();
}

/// The place's id as a file name on any system.
std::string file_stem(const LightPlace& place) {
    if (place.id.empty())
        return "light";
    std::string stem;
    for (const char letter : place.id) {
        const bool plain = (letter >= 'a' && letter <= 'z') || (letter >= 'A' && letter <= 'Z') ||
                           (letter >= '0' && letter <= '9') || letter == '-' || letter == '_';
        stem += plain ? letter : '_';
    }
    return stem;
}

/// Ids that would name the same files, on systems that take capitals for small letters too, get a number.
std::vector<std::string> file_stems(const std::vector<LightPlace>& places) {
    const auto lower = [](std::string text) {
        for (char& letter : text)
            letter = letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
        return text;
    };
    std::vector<std::string> stems, taken;
    for (const LightPlace& place : places) {
        std::string stem = file_stem(place);
        for (int n = 2; std::find(taken.begin(), taken.end(), lower(stem)) != taken.end(); ++n)
            stem = file_stem(place) + "_" + std::to_string(n);
        taken.push_back(lower(stem));
        stems.push_back(stem);
    }
    return stems;
}

std::string file_name(const std::string& stem, geo::CivilDate day) {
    return stem + "-" + geo::to_string(day) + ".svg";
}

} // namespace

std::string light_picture(const LightPlace& place, const LightDay& light, const geo::TimeZone& zone) {
    const PictureSky sky = picture_sky(place, light.date, zone);
    SvgDrawing drawing;
    drawing.markup(fill_definitions());
    draw_heading(drawing, place, light, zone);
    double y = 70.0;
    if (sky.bands.empty()) {
        drawing.text({margin, y + 20.0}, zone.name() + " has no such day.", {.size = 13.0});
        return drawing.document(page_width, y + 40.0, place.name + ", " + day_text(light.date), "a day left out");
    }
    const StripFrame frame{strip_left, page_width - margin - 12.0, sky.civil};
    y = draw_strip(drawing, frame, margin, y, light, sky, zone) + 12.0;
    const RoundFrame round{{margin + round_margin + round_radius, y + 30.0 + round_radius}, round_radius};
    draw_round(drawing, round, {4.0, y - 10.0, key_left - 8.0, 2.0 * round_radius + 90.0}, place, sky, zone);
    const double key_bottom = draw_key(drawing, y, place, light, sky, zone);
    y = std::max(round.centre.y + round_radius + 48.0, key_bottom + 14.0);
    constexpr const char* cautions[] = {
        "Heights in the disc are as seen through standard air; the air moves a low sun by a minute or more.",
        "Windows rounded inwards to the minute. Bearings from true north. Trees, houses and clouds are not in it."};
    for (const char* caution : cautions) {
        drawing.text({margin, y}, caution, {.size = 9.5});
        y += 13.0;
    }
    return drawing.document(page_width, y + 2.0, place.name + ", " + day_text(light.date),
                            "Windows of each light from midnight to midnight, and the ways of sun and moon");
}

std::vector<Document> light_pictures(const std::vector<LightPlace>& places, const geo::TimeZone& zone) {
    const auto stems = file_stems(places);
    std::vector<Document> pictures;
    for (std::size_t n = 0; n < places.size(); ++n)
        for (const LightDay& light : places[n].days)
            pictures.push_back({file_name(stems[n], light.date), light_picture(places[n], light, zone)});
    return pictures;
}

std::vector<std::string> light_picture_names(const std::vector<LightPlace>& places,
                                             const std::vector<geo::CivilDate>& dates) {
    std::vector<std::string> names;
    for (const std::string& stem : file_stems(places))
        for (const geo::CivilDate date : dates)
            names.push_back(file_name(stem, date));
    return names;
}

} // namespace cli
