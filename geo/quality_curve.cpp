#include "geo/light_definition.hpp"

#include <cassert>

namespace geo {

const QualityCurve& quality_curve(LightName name) {
    using namespace literals;
    using enum LightName;
    // Best while the sun is just below to a few degrees above the horizon: warm, soft, long shadows.
    static const QualityCurve golden_curve{{-4_deg, 0.4}, {-1_deg, 0.8}, {0_deg, 1.0}, {3_deg, 1.0}, {6_deg, 0.5}};
    static const QualityCurve rise_curve{{-0.9_deg, 1.0}, {1_deg, 1.0}, {6_deg, 0.4}};
    // Sky and lamps balance in the middle of it.
    static const QualityCurve blue_curve{{-6_deg, 0.6}, {-5.5_deg, 1.0}, {-4.5_deg, 1.0}, {-4_deg, 0.6}};
    static const QualityCurve high_curve{{45_deg, 0.5}, {60_deg, 1.0}};
    static const QualityCurve low_curve{{6_deg, 1.0}, {10_deg, 1.0}, {20_deg, 0.4}};
    static const QualityCurve soft_curve{{-6_deg, 0.2}, {-3_deg, 0.7}, {-1_deg, 1.0}};
    static const QualityCurve direct_curve{{-0.9_deg, 0.3}, {3_deg, 0.7}, {10_deg, 1.0}};
    static const QualityCurve shade_curve{{-0.9_deg, 0.4}, {5_deg, 0.8}, {15_deg, 1.0}};
    // Times the moon's part, see light_rule.cpp.
    static const QualityCurve moonlight_curve{{-15_deg, 1.0}, {-12_deg, 0.7}};
    static const QualityCurve level{};
    switch (name) {
    case sunrise:
    case sunset:
        return rise_curve;
    case golden_morning:
    case golden_evening:
    case golden:
        return golden_curve;
    case blue_morning:
    case blue_evening:
    case blue:
        return blue_curve;
    case high_sun:
        return high_curve;
    case low_sun:
        return low_curve;
    case soft:
        return soft_curve;
    case direct_sun:
        return direct_curve;
    case open_shade:
        return shade_curve;
    case moonlight:
        return moonlight_curve;
    case day:
    case night:
    case dark_sky:
    case any:
        return level;
    }
    assert(false);
    return level;
}

} // namespace geo
