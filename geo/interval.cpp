#include "geo/interval.hpp"

#include <algorithm>

namespace geo {

Intervals clip(const Intervals& list, Interval span) {
    return intersect(list, {span});
}

Intervals intersect(const Intervals& a, const Intervals& b) {
    Intervals both;
    for (auto left = a.begin(), right = b.begin(); left != a.end() && right != b.end();) {
        const Interval overlap{std::max(left->from, right->from), std::min(left->until, right->until)};
        if (overlap.from <= overlap.until)
            both.push_back(overlap);
        if (left->until < right->until)
            ++left;
        else
            ++right;
    }
    return both;
}

Intervals without(const Intervals& list, const Intervals& taken) {
    Intervals left;
    for (const Interval& span : list) {
        Instant from = span.from;
        for (const Interval& hole : taken) {
            if (hole.until <= from || hole.from >= span.until)
                continue;
            if (hole.from > from)
                left.push_back({from, hole.from});
            from = hole.until;
        }
        if (from < span.until)
            left.push_back({from, span.until});
    }
    return left;
}

Intervals join(Intervals list) {
    std::sort(list.begin(), list.end(), [](const Interval& a, const Interval& b) {
        return a.from != b.from ? a.from < b.from : a.until < b.until;
    });
    Intervals joined;
    for (const Interval& next : list) {
        if (!joined.empty() && next.from <= joined.back().until)
            joined.back().until = std::max(joined.back().until, next.until);
        else
            joined.push_back(next);
    }
    return joined;
}

} // namespace geo
