#pragma once
/// Draws into SVG 1.1 text: shapes and words, nothing that needs a script, a style sheet or a font of its own.
///
///     SvgDrawing drawing;
///     drawing.rectangle({10, 10, 80, 20}, "fill=\"#fff\"");
///     drawing.text({50, 24}, "dark-sky", {.size = 11, .anchor = Anchor::middle});
///     std::string file = drawing.document(800, 600, "Arch", "light of a day");
///
/// Lengths are user units, y downwards, written to a hundredth. `look` is markup of presentation attributes and is
/// written as it stands; words are escaped.

#include <string>
#include <string_view>
#include <vector>

namespace cli {

struct SvgPoint {
    double x = 0.0;
    double y = 0.0;
};

struct SvgBox {
    double x = 0.0;
    double y = 0.0;
    double width = 0.0;
    double height = 0.0;
};

bool overlap(const SvgBox& a, const SvgBox& b);

enum class Anchor { start, middle, end };

struct TextLook {
    double size = 11.0;
    Anchor anchor = Anchor::start;
    std::string colour = "#111";
    bool bold = false;
    bool italic = false;
    bool halo = false; ///< on a white rim, to be read over lines and patterns
};

/// Generous for a common sans-serif, for there is no font to ask.
double text_width(std::string_view text, double size);
/// The box a text takes up, its base line at `at`.
SvgBox text_box(SvgPoint at, std::string_view text, double size, Anchor anchor);

/// On one line, with what XML reads as markup, and what it does not allow, replaced.
std::string escape_xml(std::string_view text);

class SvgDrawing {
public:
    void rectangle(const SvgBox& box, std::string_view look);
    void line(SvgPoint from, SvgPoint to, std::string_view look);
    void circle(SvgPoint centre, double radius, std::string_view look);
    void polyline(const std::vector<SvgPoint>& points, std::string_view look);
    void polygon(const std::vector<SvgPoint>& points, std::string_view look);
    /// Closed outlines; what lies in an odd number of them is filled.
    void outlines(const std::vector<std::vector<SvgPoint>>& outlines, std::string_view look);
    void text(SvgPoint at, std::string_view words, const TextLook& look);
    /// For definitions.
    void markup(std::string_view markup);

    std::string document(double width, double height, std::string_view title, std::string_view description) const;

private:
    std::string body_;
};

} // namespace cli
