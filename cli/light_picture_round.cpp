#include "cli/light_picture_round.hpp"

#include "cli/number_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace cli {

namespace {

using geo::Degrees;
using geo::sky::SkyPosition;
using namespace std::chrono_literals;

constexpr double label_size = 10.0;
constexpr double bold_width = 1.15; // of the plain letters
constexpr double radians_per_degree = std::numbers::pi / 180.0;

/// Keeps labels off each other.
class LabelSpots {
public:
    explicit LabelSpots(const SvgBox& room) : room_(room) {}

    /// The first of the spots that is free; false when none is.
    bool place(SvgDrawing& drawing, const std::vector<SvgPoint>& spots, const std::string& words,
               const TextLook& look) {
        for (const SvgPoint& spot : spots) {
            const SvgBox box = text_box(spot, words, look.bold ? bold_width * look.size : look.size, look.anchor);
            const bool inside = box.x >= room_.x && box.x + box.width <= room_.x + room_.width && box.y >= room_.y &&
                                box.y + box.height <= room_.y + room_.height;
            if (!inside ||
                std::any_of(taken_.begin(), taken_.end(), [&](const SvgBox& other) { return overlap(box, other); }))
                continue;
            take(box);
            drawing.text(spot, words, look);
            return true;
        }
        return false;
    }
    void take(const SvgBox& box) { taken_.push_back(box); }

private:
    SvgBox room_;
    std::vector<SvgBox> taken_;
};

/// Spots for a label whose middle lies round a point, nearest to a direction first.
std::vector<SvgPoint> spots_around(SvgPoint point, SvgPoint away, double height) {
    std::vector<SvgPoint> spots;
    const double heading = std::atan2(away.y, away.x);
    for (const double distance : {11.0, 15.0, 20.0})
        for (const double turn : {0.0, 35.0, -35.0, 70.0, -70.0, 180.0}) {
            const double angle = heading + turn * radians_per_degree;
            spots.push_back(
                {point.x + distance * std::cos(angle), point.y + distance * std::sin(angle) + 0.35 * height});
        }
    return spots;
}

std::vector<SvgPoint> circle_points(const RoundFrame& frame, Degrees altitude) {
    std::vector<SvgPoint> points;
    for (int azimuth = 0; azimuth < 360; azimuth += 2)
        points.push_back(frame.at({altitude, {static_cast<double>(azimuth)}}));
    return points;
}

std::vector<SvgPoint> ridge_points(const RoundFrame& frame, const geo::terrain::HorizonProfile& horizon) {
    std::vector<SvgPoint> points;
    const auto& profile = horizon.points();
    for (std::size_t n = 0; n < profile.size(); ++n) {
        const Degrees azimuth{360.0 * static_cast<double>(n) / static_cast<double>(profile.size())};
        points.push_back(frame.at({profile[n].angle, azimuth}));
    }
    return points;
}

class RoundPicture {
public:
    RoundPicture(SvgDrawing& drawing, const RoundFrame& frame, const SvgBox& room, const LightPlace& place,
                 const PictureSky& sky, const geo::TimeZone& zone)
        : drawing_(drawing), frame_(frame), place_(place), sky_(sky), zone_(zone), labels_(room) {}

    void draw() {
        draw_ground();
        draw_rings();
        draw_camera();
        draw_path(sky_.moon, moon_seen_look, moon_hidden_look);
        draw_path(sky_.sun, sun_seen_look, sun_hidden_look);
        // Labels last and the most wanted first, so that these find room.
        mark_hours(sky_.moon, false);
        mark_hours(sky_.sun, true);
        label_hours(sky_.sun, true);
        label_hours(sky_.moon, false);
        if (place_.facing)
            rim_labels_.push_back({*place_.facing, "camera", "#111"});
        add_ends(sky_.sun, place_.horizon ? "sun out" : "sunrise", place_.horizon ? "sun gone" : "sunset", "#7a2b00");
        add_ends(sky_.moon, place_.horizon ? "moon out" : "moonrise", place_.horizon ? "moon gone" : "moonset",
                 "#1f3d70");
        label_rim();
    }

private:
    static std::string bearing(Degrees azimuth) {
        return fixed_text(std::fmod(std::round(azimuth.value), 360.0), 0) + "°";
    }

    void draw_ground() {
        const auto rim = circle_points(frame_, RoundFrame::rim);
        drawing_.polygon(rim, "fill=\"#fff\"");
        const auto ground =
            place_.horizon ? ridge_points(frame_, *place_.horizon) : circle_points(frame_, Degrees{0.0});
        drawing_.outlines({rim, ground},
                          fill_look(place_.horizon ? Fill::behind_ground : Fill::below_horizon) + " stroke=\"none\"");
        drawing_.polygon(ground, std::string("fill=\"none\" ") + ridge_look);
        drawing_.circle(frame_.centre, frame_.radius, "fill=\"none\" stroke=\"#111\" stroke-width=\"1\"");
    }

    void draw_rings() {
        // Labels stand on the side where neither sun nor moon pass high.
        const Degrees side{place_.at.latitude.value >= 0.0 ? 5.0 : 185.0};
        for (int height = 0; height < 90; height += 15) {
            const Degrees altitude{static_cast<double>(height)};
            if (height > 0 || place_.horizon)
                drawing_.polygon(circle_points(frame_, altitude),
                                 "fill=\"none\" stroke=\"#888\" stroke-width=\".6\"" +
                                     std::string(height == 0 ? " stroke-dasharray=\"4 3\"" : ""));
            const SvgPoint at = frame_.at({altitude, side});
            const std::string words = std::to_string(height) + "°";
            labels_.place(drawing_, {{at.x, at.y + 3.5}}, words,
                          {.size = 9.0, .anchor = Anchor::middle, .colour = "#444", .halo = true});
        }
        for (int azimuth = 0; azimuth < 360; azimuth += 30) {
            const Degrees direction{static_cast<double>(azimuth)};
            const bool main = azimuth % 90 == 0;
            drawing_.line(frame_.at({Degrees{75.0}, direction}), frame_.outside(direction, 4.0),
                          "stroke=\"#888\" stroke-width=\"" + std::string(main ? ".8" : ".4") + "\"");
            static constexpr const char* points[] = {"N", "E", "S", "W"};
            SvgPoint at = frame_.outside(direction, 13.0);
            at.y += 4.0;
            labels_.place(drawing_, {at}, main ? points[azimuth / 90] : std::to_string(azimuth),
                          {.size = main ? 13.0 : label_size, .anchor = Anchor::middle, .bold = main});
        }
    }

    /// Outline of the picture the lens takes, or a line the way the camera looks.
    void draw_camera() {
        if (!place_.facing)
            return;
        drawing_.line(frame_.centre, frame_.outside(*place_.facing, 4.0), camera_look);
        if (!place_.lens)
            return;
        const double half_width = place_.lens->sensor_width.value / (2.0 * place_.lens->focal_length.value);
        const double half_height = place_.lens->sensor_height.value / (2.0 * place_.lens->focal_length.value);
        constexpr int steps = 24;
        constexpr double corners[5][2] = {{-1, 1}, {1, 1}, {1, -1}, {-1, -1}, {-1, 1}};
        std::vector<SvgPoint> frame;
        for (int side = 0; side < 4; ++side)
            for (int step = 0; step < steps; ++step) {
                const double part = static_cast<double>(step) / steps;
                const auto along = [&](int axis) {
                    return corners[side][axis] + part * (corners[side + 1][axis] - corners[side][axis]);
                };
                frame.push_back(frame_.at(in_frame(along(0) * half_width, along(1) * half_height)));
            }
        drawing_.polygon(frame, std::string("fill=\"#000\" fill-opacity=\".07\" ") + camera_look);
    }

    /// Where something stands in the sky that the lens draws so far right of and above the picture's middle, in focal
    /// lengths.
    SkyPosition in_frame(double right, double up) const {
        const double sine = std::sin(place_.pitch.value * radians_per_degree);
        const double cosine = std::cos(place_.pitch.value * radians_per_degree);
        const double forward = cosine - up * sine;
        const double height = sine + up * cosine;
        const double azimuth = place_.facing->value + std::atan2(right, forward) / radians_per_degree;
        return {{std::atan2(height, std::hypot(forward, right)) / radians_per_degree}, {azimuth}};
    }

    void draw_path(const BodyDay& body, const char* seen_look, const char* hidden_look) {
        std::vector<SvgPoint> stretch;
        bool seen = false;
        const auto finish = [&] {
            if (stretch.size() > 1)
                drawing_.polyline(stretch, seen ? seen_look : hidden_look);
            stretch.clear();
        };
        for (std::size_t n = 1; n < body.path.size(); ++n) {
            const PathPoint& from = body.path[n - 1];
            const PathPoint& until = body.path[n];
            const bool inside = from.at.altitude >= RoundFrame::rim && until.at.altitude >= RoundFrame::rim;
            const bool both = from.seen && until.seen;
            if (!inside || (both != seen && !stretch.empty()))
                finish();
            if (!inside)
                continue;
            if (stretch.empty()) {
                seen = both;
                stretch.push_back(frame_.at(from.at));
            }
            stretch.push_back(frame_.at(until.at));
        }
        finish();
    }

    /// The day's whole hours as the clock shows them; of the moon's way each third.
    std::vector<std::pair<PathPoint, std::string>> hours_of(const BodyDay& body, int each) const {
        std::vector<std::pair<PathPoint, std::string>> hours;
        for (const PathPoint& point : body.path) {
            const std::string clock = geo::clock_text(point.when, zone_);
            const int hour = (clock[0] - '0') * 10 + (clock[1] - '0');
            const bool whole = (point.when - sky_.civil.from) % 15min == 0s && clock.ends_with(":00");
            if (whole && hour % each == 0 && point.at.altitude > RoundFrame::rim + Degrees{1.0})
                hours.emplace_back(point, point.when == sky_.civil.until && hour == 0 ? "24" : clock.substr(0, 2));
        }
        return hours;
    }

    /// Discs on the sun's way, rings on the moon's.
    void mark_hours(const BodyDay& body, bool is_sun) {
        for (const auto& [point, clock] : hours_of(body, is_sun ? 1 : 3)) {
            const SvgPoint at = frame_.at(point.at);
            drawing_.circle(at, 3.0,
                            is_sun ? "fill=\"#a23a00\" stroke=\"#fff\" stroke-width=\".8\""
                                   : "fill=\"#fff\" stroke=\"#1f3d70\" stroke-width=\"1.4\"");
            labels_.take({at.x - 3.5, at.y - 3.5, 7.0, 7.0});
        }
    }

    void label_hours(const BodyDay& body, bool is_sun) {
        for (const auto& [point, clock] : hours_of(body, is_sun ? 1 : 3)) {
            const SvgPoint at = frame_.at(point.at);
            SvgPoint away{at.x - frame_.centre.x, at.y - frame_.centre.y};
            if (!is_sun)
                away = {-away.x, -away.y};
            labels_.place(drawing_, spots_around(at, away, label_size), clock,
                          {.size = label_size,
                           .anchor = Anchor::middle,
                           .colour = is_sun ? "#7a2b00" : "#1f3d70",
                           .bold = is_sun,
                           .italic = !is_sun,
                           .halo = true});
        }
    }

    /// What stands at a bearing, told outside the rim.
    struct RimLabel {
        Degrees azimuth;
        std::string words;
        std::string colour;

        bool is_right() const { return azimuth.value < 180.0; }
        bool is_low() const { return azimuth.value > 135.0 && azimuth.value < 225.0; }
        /// Along the rim from north, or from south for the low ones.
        double way() const {
            const double from_north = is_right() ? azimuth.value : 360.0 - azimuth.value;
            return is_low() ? 180.0 - from_north : from_north;
        }
        /// The direction so far along its part of the rim.
        Degrees along(double way) const {
            const double from_north = is_low() ? 180.0 - way : way;
            return {is_right() ? from_north : 360.0 - from_north};
        }
        int part() const { return (is_right() ? 0 : 1) + (is_low() ? 2 : 0); }
    };

    void add_ends(const BodyDay& body, const std::string& appears, const std::string& goes, const std::string& colour) {
        for (const PathPoint& point : body.appears)
            rim_labels_.push_back({point.at.azimuth, appears, colour});
        for (const PathPoint& point : body.goes)
            rim_labels_.push_back({point.at.azimuth, goes, colour});
    }

    /// From north and from south along each side, so that labels pushed aside keep the order of what they name.
    void label_rim() {
        for (RimLabel& label : rim_labels_)
            label.azimuth.value = std::fmod(label.azimuth.value, 360.0);
        std::stable_sort(rim_labels_.begin(), rim_labels_.end(), [](const RimLabel& a, const RimLabel& b) {
            return a.part() != b.part() ? a.part() < b.part() : a.way() < b.way();
        });
        std::array<double, 4> reached{};
        for (const RimLabel& label : rim_labels_) {
            double& last = reached[static_cast<std::size_t>(label.part())];
            last = draw_rim_label(label, std::max(label.way(), last));
        }
    }

    /// Looks for a free spot from so far along its part of the rim; gives where it stands.
    double draw_rim_label(const RimLabel& label, double first) {
        constexpr double farthest = 24.0; // degrees
        const SvgPoint tick = frame_.outside(label.azimuth, 8.0);
        const std::string stroke = "stroke=\"" + label.colour + "\" stroke-width=\"";
        drawing_.line(frame_.outside(label.azimuth, 0.0), tick, stroke + "2\"");
        const std::string words = label.words + " " + bearing(label.azimuth);
        for (const double out : {13.0, 26.0})
            for (double way = first; way < label.way() + farthest; way += 0.5) {
                const Degrees azimuth = label.along(way);
                const double sine = std::sin(azimuth.value * radians_per_degree);
                const Anchor anchor = std::abs(sine) < 0.3 ? Anchor::middle : sine > 0.0 ? Anchor::start : Anchor::end;
                // Above and below the disc words lie across the tick, so they stand off it.
                const double off = anchor == Anchor::middle ? out + 5.0 : out;
                SvgPoint spot = frame_.outside(azimuth, off);
                spot.y += 3.5;
                if (!labels_.place(drawing_, {spot}, words,
                                   {.size = label_size, .anchor = anchor, .colour = label.colour, .bold = true}))
                    continue;
                drawing_.line(tick, frame_.outside(azimuth, anchor == Anchor::middle ? out - 1.0 : out - 2.0),
                              stroke + ".7\"");
                return way;
            }
        return first;
    }

    SvgDrawing& drawing_;
    const RoundFrame& frame_;
    const LightPlace& place_;
    const PictureSky& sky_;
    const geo::TimeZone& zone_;
    LabelSpots labels_;
    std::vector<RimLabel> rim_labels_;
};

} // namespace

SvgPoint RoundFrame::at(SkyPosition position) const {
    const double part = (90.0 - std::clamp(position.altitude.value, rim.value, 90.0)) / (90.0 - rim.value);
    return outside(position.azimuth, radius * (part - 1.0));
}

SvgPoint RoundFrame::outside(Degrees azimuth, double out) const {
    const double angle = azimuth.value * radians_per_degree;
    return {centre.x + (radius + out) * std::sin(angle), centre.y - (radius + out) * std::cos(angle)};
}

void draw_round(SvgDrawing& drawing, const RoundFrame& frame, const SvgBox& room, const LightPlace& place,
                const PictureSky& sky, const geo::TimeZone& zone) {
    RoundPicture(drawing, frame, room, place, sky, zone).draw();
}

} // namespace cli
