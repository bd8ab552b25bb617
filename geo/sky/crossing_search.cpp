#include "geo/sky/crossing_search.hpp"

#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <cmath>
#include <cstdint>
#include <limits>

namespace geo::sky {

namespace {

/// A value known at samples, and computed between them. Solvers get times counted from the bracket's own begin: small
/// numbers keep their relative tolerances fine, and the answer does not depend on the span.
class SampledValue {
public:
    SampledValue(const ValueOverTime& value, const Samples& samples) : value_(value), samples_(samples) {}

    std::size_t size() const { return samples_.values.size(); }
    double operator[](std::size_t i) const { return samples_.values[i]; }
    PreciseInstant time(std::size_t i) const { return samples_.first + static_cast<double>(i) * samples_.step; }
    double at(PreciseInstant when) const { return value_(when); }

    bool peaks_at(std::size_t i) const { return (*this)[i] >= (*this)[i - 1] && (*this)[i] > (*this)[i + 1]; }
    bool dips_at(std::size_t i) const { return (*this)[i] <= (*this)[i - 1] && (*this)[i] < (*this)[i + 1]; }

    /// The highest (or lowest) point between the neighbours of sample `i`.
    PreciseInstant turn(std::size_t i) const {
        const double sign = peaks_at(i) ? -1.0 : 1.0;
        std::uintmax_t evaluations = 100;
        constexpr int half_of_double = std::numeric_limits<double>::digits / 2;
        const double after = boost::math::tools::brent_find_minima(
                                 [&](double seconds) { return sign * at(time(i - 1) + PreciseSeconds{seconds}); }, 0.0,
                                 2.0 * samples_.step.count(), half_of_double, evaluations)
                                 .first;
        return time(i - 1) + PreciseSeconds{after};
    }

    /// The crossing between two times of unlike sign.
    Crossing crossing(PreciseInstant low, double low_value, PreciseInstant high, double high_value) const {
        const bool rising = low_value < 0.0;
        if (low_value == 0.0)
            return {low, rising};
        if (high_value == 0.0)
            return {high, rising};
        std::uintmax_t evaluations = 100;
        const auto close_enough = [](double a, double b) { return std::abs(a - b) < 1e-3; };
        const auto bracket =
            boost::math::tools::toms748_solve([&](double seconds) { return at(low + PreciseSeconds{seconds}); }, 0.0,
                                              (high - low).count(), low_value, high_value, close_enough, evaluations);
        return {low + PreciseSeconds{(bracket.first + bracket.second) / 2.0}, rising};
    }

private:
    const ValueOverTime& value_;
    const Samples& samples_;
};

bool is_inside(PreciseInstant when, PreciseSpan span) {
    return when >= span.from && when <= span.until;
}

} // namespace

Samples take_samples(const ValueOverTime& value, PreciseSpan span, PreciseSeconds step) {
    // One sample more at either end, so that a turning point at the border shows on three samples.
    const double first = std::floor(span.from.time_since_epoch() / step) - 1.0;
    const double last = std::ceil(span.until.time_since_epoch() / step) + 1.0;
    Samples samples{PreciseInstant{first * step}, step, {}};
    const auto count = static_cast<std::size_t>(last - first) + 1;
    samples.values.reserve(count);
    for (std::size_t i = 0; i < count; ++i)
        samples.values.push_back(value(samples.first + static_cast<double>(i) * step));
    return samples;
}

std::vector<Crossing> find_crossings(const ValueOverTime& value, PreciseSpan span, PreciseSeconds step) {
    return find_crossings(value, take_samples(value, span, step), span);
}

std::vector<Crossing> find_crossings(const ValueOverTime& value, const Samples& samples, PreciseSpan span) {
    const SampledValue sampled(value, samples);
    std::vector<Crossing> crossings;
    const auto add_if_sign_changes = [&](PreciseInstant low, double low_value, PreciseInstant high, double high_value) {
        if ((low_value < 0.0) == (high_value < 0.0) || high < span.from || low > span.until)
            return;
        const Crossing crossing = sampled.crossing(low, low_value, high, high_value);
        if (is_inside(crossing.when, span))
            crossings.push_back(crossing);
    };
    // Between two samples of one sign hides a pair of crossings only next to a turning point heading for zero.
    PreciseInstant earlier = sampled.time(0);
    double earlier_value = sampled[0];
    for (std::size_t i = 1; i < sampled.size(); ++i) {
        const bool heads_for_zero = i + 1 < sampled.size() && (sampled[i] < 0.0) == (sampled[i - 1] < 0.0) &&
                                    (sampled[i] < 0.0) == (sampled[i + 1] < 0.0) &&
                                    (sampled[i] < 0.0 ? sampled.peaks_at(i) : sampled.dips_at(i));
        const PreciseInstant later = heads_for_zero ? sampled.turn(i) : sampled.time(i);
        const double later_value = heads_for_zero ? sampled.at(later) : sampled[i];
        add_if_sign_changes(earlier, earlier_value, later, later_value);
        earlier = later;
        earlier_value = later_value;
    }
    return crossings;
}

std::vector<PreciseInstant> find_turning_points(const ValueOverTime& value, PreciseSpan span, PreciseSeconds step) {
    return find_turning_points(value, take_samples(value, span, step), span);
}

std::vector<PreciseInstant> find_turning_points(const ValueOverTime& value, const Samples& samples, PreciseSpan span) {
    const SampledValue sampled(value, samples);
    std::vector<PreciseInstant> turns;
    for (std::size_t i = 1; i + 1 < sampled.size(); ++i) {
        if (!sampled.peaks_at(i) && !sampled.dips_at(i))
            continue;
        const PreciseInstant turn = sampled.turn(i);
        if (is_inside(turn, span))
            turns.push_back(turn);
    }
    return turns;
}

} // namespace geo::sky
