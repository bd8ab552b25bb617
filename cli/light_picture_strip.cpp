#include "cli/light_picture_strip.hpp"

#include "cli/clock_words.hpp"
#include "cli/number_text.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace cli {

namespace {

using geo::Interval;
using namespace std::chrono_literals;

constexpr double label_size = 10.0;
constexpr double label_step = 11.0;
constexpr double gap = 4.0;
constexpr double band_height = 30.0;
constexpr double bar_height = 10.0;
constexpr double row_gap = 5.0;
constexpr auto outline = "stroke=\"#222\" stroke-width=\".8\"";

struct Row {
    std::string name;
    Fill fill;
    geo::Intervals windows; ///< that touch the day, not cut at its ends
};

/// Clock labels over the sky's changes, each to the right of its own mark; the earlier of two that are near stands
/// higher, so that no mark runs through a label.
class ChangeLabels {
public:
    ChangeLabels(const StripFrame& frame, const std::vector<SkyBand>& bands, const geo::TimeZone& zone) {
        for (std::size_t n = 1; n < bands.size(); ++n)
            labels_.push_back({frame.x_of(bands[n].span.from), geo::clock_text(bands[n].span.from, zone), 0});
        for (std::size_t n = labels_.size(); n-- > 0;)
            for (std::size_t later = n + 1; later < labels_.size(); ++later)
                if (labels_[later].x < labels_[n].x + text_width(labels_[n].text, label_size) + gap)
                    labels_[n].level = std::max(labels_[n].level, labels_[later].level + 1);
    }

    double height() const {
        int levels = 0;
        for (const Label& label : labels_)
            levels = std::max(levels, label.level + 1);
        return levels * label_step + gap;
    }

    void draw(SvgDrawing& drawing, double bottom) const {
        for (const Label& label : labels_) {
            const double base = bottom - gap - label.level * label_step;
            drawing.line({label.x, bottom}, {label.x, base - label_size + 2.0}, "stroke=\"#444\" stroke-width=\".6\"");
            drawing.text({label.x + 2.0, base}, label.text, {.size = label_size});
        }
    }

private:
    struct Label {
        double x;
        std::string text;
        int level;
    };
    std::vector<Label> labels_;
};

std::vector<geo::Instant> whole_hours(Interval civil, const geo::TimeZone& zone) {
    std::vector<geo::Instant> hours;
    for (geo::Instant when = civil.from; when < civil.until; when += 15min) // zones are whole quarters off UTC
        if (geo::clock_text(when, zone).ends_with(":00"))
            hours.push_back(when);
    return hours;
}

geo::Intervals windows_of(const LightDay& light, geo::LightName name) {
    for (const LightRow& row : light.rows)
        if (row.name == name)
            return row.windows.intervals;
    return {};
}

std::vector<Row> rows_of(const LightDay& light, const PictureSky& sky) {
    using enum geo::LightName;
    const bool has_ground = std::any_of(light.rows.begin(), light.rows.end(),
                                        [](const LightRow& row) { return geo::needs_terrain(row.name); });
    std::vector<Row> rows;
    const auto add = [&](geo::LightName name, Fill fill, std::string more = "") {
        rows.push_back({std::string(geo::to_string(name)) + more, fill, windows_of(light, name)});
    };
    add(golden, Fill::golden_up);
    add(blue, Fill::blue);
    add(soft, Fill::soft);
    if (has_ground) {
        add(direct_sun, Fill::sunlit);
        add(open_shade, Fill::behind_ground);
    } else
        add(day, Fill::sunlit);
    add(low_sun, Fill::low_sun);
    add(high_sun, Fill::high_sun);
    add(night, Fill::night);
    add(dark_sky, Fill::dark_sky);
    add(moonlight, Fill::moonlight);
    rows.push_back({"moon seen, " + fixed_text(light.moon.lit * 100.0, 0) + "% lit", Fill::moonlight, sky.moon.seen});
    return rows;
}

/// Bars of one row with their times below; gives where the row ends.
double draw_row(SvgDrawing& drawing, const StripFrame& frame, double names_left, double top, const Row& row,
                geo::CivilDate day, const geo::TimeZone& zone) {
    drawing.text({names_left, top + bar_height - 1.0}, row.name, {.size = 11.0});
    if (row.windows.empty()) {
        drawing.text({frame.left + 4.0, top + bar_height - 1.0}, "never",
                     {.size = label_size, .colour = "#444", .italic = true});
        return top + bar_height + row_gap;
    }
    std::vector<double> taken; // right ends of the labels so far, one a level
    for (const Interval& window : row.windows) {
        const double from = std::max(frame.left, frame.x_of(window.from));
        const double until = std::min(frame.right, frame.x_of(window.until));
        drawing.rectangle({from, top, std::max(until - from, 0.8), bar_height}, fill_look(row.fill) + " " + outline);
        const double middle_y = top + bar_height / 2.0;
        if (window.from < frame.civil.from) // goes on beyond the day
            drawing.polygon(
                {{frame.left - 1.0, top}, {frame.left - 1.0, top + bar_height}, {frame.left - 6.0, middle_y}},
                "fill=\"#222\"");
        if (window.until > frame.civil.until)
            drawing.polygon(
                {{frame.right + 1.0, top}, {frame.right + 1.0, top + bar_height}, {frame.right + 6.0, middle_y}},
                "fill=\"#222\"");
        const bool all_day = window.from <= frame.civil.from && window.until >= frame.civil.until;
        const std::string text = all_day ? "all day" : window_text(window, day, zone);
        const double width = text_width(text, label_size);
        const double left = std::clamp((from + until - width) / 2.0, frame.left, frame.right - width);
        std::size_t level = 0;
        while (level < taken.size() && left < taken[level] + gap)
            ++level;
        if (level == taken.size())
            taken.push_back(0.0);
        taken[level] = left + width;
        const double base = top + bar_height + label_step * static_cast<double>(level + 1) - 1.5;
        drawing.text({left + width / 2.0, base}, text, {.size = label_size, .anchor = Anchor::middle});
    }
    return top + bar_height + label_step * static_cast<double>(taken.size()) + row_gap;
}

/// Hours as the clock shows them, so that a day with a clock change skips one or has one twice.
void draw_hours(SvgDrawing& drawing, const StripFrame& frame, double top, double bottom, const geo::TimeZone& zone) {
    for (const geo::Instant hour : whole_hours(frame.civil, zone)) {
        const double x = frame.x_of(hour);
        drawing.line({x, top}, {x, bottom}, "stroke=\"#bbb\" stroke-width=\".5\"");
        drawing.text({x, bottom + 11.0}, geo::clock_text(hour, zone).substr(0, 2),
                     {.size = label_size, .anchor = Anchor::middle});
    }
    drawing.line({frame.right, top}, {frame.right, bottom}, "stroke=\"#bbb\" stroke-width=\".5\"");
    const std::string end = geo::clock_text(frame.civil.until, zone).substr(0, 2);
    drawing.text({frame.right, bottom + 11.0}, end == "00" ? "24" : end,
                 {.size = label_size, .anchor = Anchor::middle});
}

} // namespace

double draw_strip(SvgDrawing& drawing, const StripFrame& frame, double names_left, double top, const LightDay& light,
                  const PictureSky& sky, const geo::TimeZone& zone) {
    const ChangeLabels labels(frame, sky.bands, zone);
    const double band_top = top + labels.height();
    const std::vector<Row> rows = rows_of(light, sky);
    // Hour lines lie under everything, and how far down they run shows when the rows are drawn: once to measure.
    double bottom = band_top + band_height + 2.0 * row_gap;
    SvgDrawing measured;
    for (const Row& row : rows)
        bottom = draw_row(measured, frame, names_left, bottom, row, light.date, zone);
    draw_hours(drawing, frame, band_top, bottom, zone);

    labels.draw(drawing, band_top);
    drawing.text({names_left, band_top + band_height / 2.0 + 4.0}, "sky, sun's height", {.size = 11.0, .bold = true});
    for (const SkyBand& band : sky.bands) {
        const double from = frame.x_of(band.span.from), width = frame.x_of(band.span.until) - from;
        drawing.rectangle({from, band_top, width, band_height}, fill_look(band.fill) + " " + outline);
        const std::string words = band_words(band.fill);
        const double needed = text_width(words, label_size);
        if (needed + 2.0 * gap < width) {
            const SvgPoint at{from + width / 2.0, band_top + band_height / 2.0 + 4.0};
            drawing.rectangle({at.x - needed / 2.0 - 2.0, at.y - 9.5, needed + 4.0, 13.0},
                              "fill=\"#fff\" stroke=\"#222\" stroke-width=\".4\" rx=\"2\"");
            drawing.text(at, words, {.size = label_size, .anchor = Anchor::middle});
        }
    }
    double y = band_top + band_height + 2.0 * row_gap;
    for (const Row& row : rows)
        y = draw_row(drawing, frame, names_left, y, row, light.date, zone);
    return bottom + 16.0;
}

} // namespace cli
