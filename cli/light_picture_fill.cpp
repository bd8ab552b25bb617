#include "cli/light_picture_fill.hpp"

#include <array>
#include <cassert>

namespace cli {

namespace {

struct Pattern {
    Fill fill;
    const char* id;
    const char* ground; ///< colour below the pattern
    int size;           ///< of the repeated square
    const char* marks;
};

// Greys of the grounds rise from night to day; no two patterns are alike in black and white.
constexpr std::array<Pattern, 15> patterns{{
    {Fill::night, "night", "#1d2128", 8, ""},
    {Fill::astronomical, "astronomical", "#3a4250", 5,
     "<path d=\"M-1,1L1,-1M0,5L5,0M4,6L6,4\" stroke=\"#aab3c2\" stroke-width=\".7\"/>"},
    {Fill::nautical, "nautical", "#6f7c91", 7,
     "<path d=\"M0,0L7,7M-1,6L1,8M6,-1L8,1\" stroke=\"#eef1f6\" stroke-width=\".9\"/>"},
    {Fill::blue, "blue", "#a9c3e6", 4, "<path d=\"M0,2H4\" stroke=\"#1f3d70\" stroke-width=\"1\"/>"},
    {Fill::golden_down, "golden-down", "#e9b35c", 5, "<circle cx=\"2.5\" cy=\"2.5\" r=\"1.25\" fill=\"#5a3500\"/>"},
    {Fill::golden_up, "golden-up", "#f8dc9c", 7, "<circle cx=\"3.5\" cy=\"3.5\" r=\"1\" fill=\"#7a4b00\"/>"},
    {Fill::low_sun, "low-sun", "#fdf3d4", 6, "<path d=\"M3,0V6\" stroke=\"#a58b4a\" stroke-width=\".7\"/>"},
    {Fill::day, "day", "#ffffff", 8, ""},
    {Fill::high_sun, "high-sun", "#ffffff", 8,
     "<path d=\"M4,1.5V6.5M1.5,4H6.5\" stroke=\"#555\" stroke-width=\".8\"/>"},
    {Fill::soft, "soft", "#e3e6ea", 6,
     "<path d=\"M0,3Q1.5,0 3,3T6,3\" fill=\"none\" stroke=\"#555\" stroke-width=\".8\"/>"},
    {Fill::dark_sky, "dark-sky", "#1d2128", 9,
     "<circle cx=\"2\" cy=\"2.5\" r=\".9\" fill=\"#fff\"/><circle cx=\"6.5\" cy=\"6.5\" r=\".6\" fill=\"#fff\"/>"},
    {Fill::moonlight, "moonlight", "#c9d0dc", 6,
     "<circle cx=\"3\" cy=\"3\" r=\"1.7\" fill=\"none\" stroke=\"#222b3d\" stroke-width=\".9\"/>"},
    {Fill::sunlit, "sunlit", "#ffe48a", 8, ""},
    {Fill::behind_ground, "behind-ground", "#dcd5cb", 6,
     "<path d=\"M0,6L6,0M-1,1L1,-1M5,7L7,5\" stroke=\"#5b5046\" stroke-width=\"1.1\"/>"},
    {Fill::below_horizon, "below-horizon", "#f1efec", 6, "<circle cx=\"3\" cy=\"3\" r=\".55\" fill=\"#777\"/>"},
}};

const Pattern& pattern_of(Fill fill) {
    const Pattern& pattern = patterns[static_cast<std::size_t>(fill)];
    assert(pattern.fill == fill);
    return pattern;
}

} // namespace

std::string fill_definitions() {
    std::string text = "<defs>\n";
    for (const Pattern& pattern : patterns) {
        const std::string size = std::to_string(pattern.size);
        text += "<pattern id=\"" + std::string(pattern.id) + "\" width=\"" + size + "\" height=\"" + size +
                "\" patternUnits=\"userSpaceOnUse\"><rect width=\"" + size + "\" height=\"" + size + "\" fill=\"" +
                pattern.ground + "\"/>" + pattern.marks + "</pattern>\n";
    }
    return text + "</defs>\n";
}

std::string fill_look(Fill fill) {
    return "fill=\"url(#" + std::string(pattern_of(fill).id) + ")\"";
}

} // namespace cli
