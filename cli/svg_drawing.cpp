#include "cli/svg_drawing.hpp"

#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

#include <cmath>

namespace cli {

namespace {

std::string number(double value) {
    return number_text(std::round(value * 100.0) / 100.0 + 0.0); // no "-0"
}

std::string attribute(std::string_view name, double value) {
    return " " + std::string(name) + "=\"" + number(value) + "\"";
}

std::string points_text(const std::vector<SvgPoint>& points) {
    std::string text;
    for (const SvgPoint& point : points)
        text += (text.empty() ? "" : " ") + number(point.x) + "," + number(point.y);
    return text;
}

std::string_view anchor_text(Anchor anchor) {
    return anchor == Anchor::start ? "start" : anchor == Anchor::middle ? "middle" : "end";
}

} // namespace

bool overlap(const SvgBox& a, const SvgBox& b) {
    return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

double text_width(std::string_view text, double size) {
    constexpr double widest_common = 0.6; // of the size, a letter, as digits of wide sans-serif faces
    return static_cast<double>(display_width(text)) * widest_common * size;
}

SvgBox text_box(SvgPoint at, std::string_view text, double size, Anchor anchor) {
    const double width = text_width(text, size);
    const double left = anchor == Anchor::start ? 0.0 : anchor == Anchor::middle ? width / 2.0 : width;
    return {at.x - left, at.y - 0.8 * size, width, size};
}

std::string escape_xml(std::string_view text) {
    std::string escaped;
    const std::string line = one_line(text);
    for (std::size_t n = 0; n < line.size(); ++n) {
        const char letter = line[n];
        // U+FFFE and U+FFFF are UTF-8 but no XML characters.
        if (line.compare(n, 2, "\xEF\xBF") == 0 && n + 2 < line.size() &&
            (line[n + 2] == '\xBE' || line[n + 2] == '\xBF')) {
            escaped += "\xEF\xBF\xBD";
            n += 2;
        } else if (letter == '&')
            escaped += "&amp;";
        else if (letter == '<')
            escaped += "&lt;";
        else if (letter == '>')
            escaped += "&gt;";
        else if (letter == '"')
            escaped += "&quot;";
        else if (letter == '\'')
            escaped += "&#39;";
        else
            escaped += letter;
    }
    return escaped;
}

void SvgDrawing::rectangle(const SvgBox& box, std::string_view look) {
    body_ += "<rect" + attribute("x", box.x) + attribute("y", box.y) + attribute("width", box.width) +
             attribute("height", box.height) + " " + std::string(look) + "/>\n";
}

void SvgDrawing::line(SvgPoint from, SvgPoint to, std::string_view look) {
    body_ += "<line" + attribute("x1", from.x) + attribute("y1", from.y) + attribute("x2", to.x) +
             attribute("y2", to.y) + " " + std::string(look) + "/>\n";
}

void SvgDrawing::circle(SvgPoint centre, double radius, std::string_view look) {
    body_ += "<circle" + attribute("cx", centre.x) + attribute("cy", centre.y) + attribute("r", radius) + " " +
             std::string(look) + "/>\n";
}

void SvgDrawing::polyline(const std::vector<SvgPoint>& points, std::string_view look) {
    body_ += "<polyline fill=\"none\" points=\"" + points_text(points) + "\" " + std::string(look) + "/>\n";
}

void SvgDrawing::polygon(const std::vector<SvgPoint>& points, std::string_view look) {
    body_ += "<polygon points=\"" + points_text(points) + "\" " + std::string(look) + "/>\n";
}

void SvgDrawing::outlines(const std::vector<std::vector<SvgPoint>>& outlines, std::string_view look) {
    std::string path;
    for (const auto& outline : outlines)
        path += "M" + points_text(outline) + "Z";
    body_ += "<path fill-rule=\"evenodd\" d=\"" + path + "\" " + std::string(look) + "/>\n";
}

void SvgDrawing::text(SvgPoint at, std::string_view words, const TextLook& look) {
    std::string head = "<text" + attribute("x", at.x) + attribute("y", at.y) + attribute("font-size", look.size) +
                       " text-anchor=\"" + std::string(anchor_text(look.anchor)) + "\"";
    if (look.bold)
        head += " font-weight=\"bold\"";
    if (look.italic)
        head += " font-style=\"italic\"";
    const std::string tail = ">" + escape_xml(words) + "</text>\n";
    if (look.halo) // its own element: SVG 1.1 can't draw the rim below the letters of one
        body_ += head + " fill=\"#fff\" stroke=\"#fff\" stroke-width=\"3\" stroke-linejoin=\"round\"" + tail;
    body_ += head + " fill=\"" + look.colour + "\"" + tail;
}

void SvgDrawing::markup(std::string_view markup) {
    body_ += markup;
}

std::string SvgDrawing::document(double width, double height, std::string_view title,
                                 std::string_view description) const {
    return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"" +
           attribute("width", width) + attribute("height", height) + " viewBox=\"0 0 " + number(width) + " " +
           number(height) + "\" font-family=\"sans-serif\">\n<title>" + escape_xml(title) + "</title>\n<desc>" +
           escape_xml(description) + "</desc>\n" + body_ + "</svg>\n";
}

} // namespace cli
