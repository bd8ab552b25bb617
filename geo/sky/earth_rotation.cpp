#include "geo/sky/earth_rotation.hpp"

#include <erfa.h>
#include <erfam.h>

#include <cassert>

namespace geo::sky {

namespace {
constexpr double unix_epoch = 2440587.5; // Julian Date of 1970-01-01 00:00 UTC

Degrees from_radians(double angle) {
    return {angle * ERFA_DR2D};
}
} // namespace

JulianDate universal_time(PreciseInstant when) {
    return {unix_epoch, when.time_since_epoch().count() / ERFA_DAYSEC};
}

PreciseSeconds terrestrial_minus_utc(PreciseInstant when) {
    const auto day = std::chrono::floor<std::chrono::days>(when);
    // Since 1972 the difference keeps for whole days, and most questions are about the day of the last one.
    constexpr std::chrono::sys_days whole_seconds{std::chrono::year{1972} / 1 / 1};
    thread_local std::chrono::sys_days known_day{};
    thread_local double known = 0.0;
    if (day >= whole_seconds && day == known_day)
        return PreciseSeconds{known};
    const std::chrono::year_month_day date{day};
    double tai_minus_utc = 0.0;
    // +1 is "dubious year": before 1960 or years after this ERFA was made. Both are good enough for light. Asked
    // directly rather than by eraUtctai, whose day of a leap second is stretched and does not fit instants that count
    // none.
    [[maybe_unused]] const int status =
        eraDat(static_cast<int>(date.year()), static_cast<int>(static_cast<unsigned>(date.month())),
               static_cast<int>(static_cast<unsigned>(date.day())), (when - day).count() / ERFA_DAYSEC, &tai_minus_utc);
    assert(status >= 0);
    known_day = day;
    known = tai_minus_utc + ERFA_TTMTAI;
    return PreciseSeconds{known};
}

JulianDate terrestrial_time(PreciseInstant when) {
    return universal_time(when + terrestrial_minus_utc(when));
}

Degrees earth_rotation_angle(PreciseInstant when) {
    const JulianDate ut1 = universal_time(when);
    return from_radians(eraEra00(ut1.whole, ut1.fraction));
}

Degrees mean_sidereal_time(PreciseInstant when) {
    const JulianDate ut1 = universal_time(when);
    const JulianDate tt = terrestrial_time(when);
    return from_radians(eraGmst06(ut1.whole, ut1.fraction, tt.whole, tt.fraction));
}

Degrees apparent_sidereal_time(PreciseInstant when) {
    const JulianDate ut1 = universal_time(when);
    const JulianDate tt = terrestrial_time(when);
    return from_radians(eraGst06a(ut1.whole, ut1.fraction, tt.whole, tt.fraction));
}

Nutation nutation(PreciseInstant when) {
    const JulianDate tt = terrestrial_time(when);
    double longitude = 0.0;
    double obliquity = 0.0;
    eraNut06a(tt.whole, tt.fraction, &longitude, &obliquity);
    return {from_radians(longitude), from_radians(obliquity)};
}

} // namespace geo::sky
