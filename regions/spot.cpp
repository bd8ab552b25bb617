#include "regions/spot.hpp"

#include <algorithm>

namespace regions {

LinePoint nearest_on(const Line& line, Spot spot) {
    LinePoint best;
    best.away = 1e18;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Spot along = line[i + 1] - line[i];
        const double square = dot(along, along);
        const double share = square > 0.0 ? std::clamp(dot(spot - line[i], along) / square, 0.0, 1.0) : 0.0;
        const Spot at = line[i] + share * along;
        const double away = distance(at, spot);
        if (away < best.away)
            best = {i, share, at, away};
    }
    return best;
}

bool segments_cross(Spot a, Spot b, Spot c, Spot d, double& share_ab, double& share_cd) {
    const double turn = cross(b - a, d - c);
    if (turn == 0.0)
        return false;
    share_ab = cross(c - a, d - c) / turn;
    share_cd = cross(c - a, b - a) / turn;
    constexpr double slack = 1e-9;
    return share_ab >= -slack && share_ab <= 1.0 + slack && share_cd >= -slack && share_cd <= 1.0 + slack;
}

Line rounded(const Line& line) {
    Line result = line;
    for (int round = 0; round < 2 && result.size() > 2; ++round) {
        Line next{result.front()};
        for (std::size_t i = 0; i + 1 < result.size(); ++i) {
            if (i > 0)
                next.push_back(between(result[i], result[i + 1], 0.25));
            if (i + 2 < result.size())
                next.push_back(between(result[i], result[i + 1], 0.75));
        }
        next.push_back(result.back());
        result = std::move(next);
    }
    return result;
}

namespace {

void keep_far_points(const Line& line, std::size_t first, std::size_t last, double tolerance, std::vector<bool>& keep) {
    if (last <= first + 1)
        return;
    std::size_t farthest = first;
    double most = tolerance;
    for (std::size_t i = first + 1; i < last; ++i) {
        const double away = nearest_on({line[first], line[last]}, line[i]).away;
        if (away > most) {
            most = away;
            farthest = i;
        }
    }
    if (farthest == first)
        return;
    keep[farthest] = true;
    keep_far_points(line, first, farthest, tolerance, keep);
    keep_far_points(line, farthest, last, tolerance, keep);
}

} // namespace

Line thinned(const Line& line, double tolerance) {
    if (line.size() < 3)
        return line;
    std::vector<bool> keep(line.size(), false);
    keep.front() = keep.back() = true;
    keep_far_points(line, 0, line.size() - 1, tolerance, keep);
    Line result;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (keep[i])
            result.push_back(line[i]);
    return result;
}

} // namespace regions
