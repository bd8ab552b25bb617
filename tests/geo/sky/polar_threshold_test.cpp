/// Between latitude 60 and 80 each line of the sun is crossed for one stretch of days, and not for another: no day
/// flickers, and the state of a day without crossing is told.

#include "geo/light_window.hpp"
#include "geo/sky/crossing_search.hpp"
#include "geo/sky/sun_events.hpp"
#include "tests/geo/utc.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

using geo::CivilDate;
using geo::Coordinate;
using geo::Interval;
using geo::sky::SunLine;
using namespace geo::literals;
using namespace std::chrono_literals;

namespace {

enum class State { crossed, above, below };

State state_of(const geo::sky::SunView& view, const SunLine& line, Interval day, bool crossed) {
    if (crossed)
        return State::crossed;
    return view.height_above(line, geo::sky::precise(day.from)) > 0_deg ? State::above : State::below;
}

} // namespace

TEST_CASE("from latitude 60 to 80 every threshold appears and disappears once a season, with its state") {
    const std::vector<SunLine> lines{
        geo::sky::HorizonRule::upper_limb, 6_deg, -4_deg, -6_deg, -12_deg, -18_deg, 20_deg};
    for (double latitude = 60.0; latitude <= 80.0; latitude += 0.5)
        for (const double side : {1.0, -1.0}) {
            const Coordinate place{{side * latitude}, {0.0}};
            geo::PlaceSky sky(place, 0_m, {support::utc("2026-01-01T00:00:00Z"), support::utc("2027-01-01T00:00:00Z")});
            for (const SunLine& line : lines) {
                CAPTURE(place.latitude.value);
                CAPTURE(line.index());
                std::vector<State> states;
                const auto& crossings = sky.sun_crossings(line);
                // Solar days, from midnight to midnight of the sun: a clock's day would split pairs.
                for (int n = 1; n < 364; ++n) {
                    const Interval day{sky.span().from + n * 24h, sky.span().from + (n + 1) * 24h};
                    const bool crossed = std::any_of(crossings.begin(), crossings.end(), [&](const auto when) {
                        return geo::sky::precise(day.from) <= when && when < geo::sky::precise(day.until);
                    });
                    const State state = state_of(sky.sun(), line, day, crossed);
                    if (states.empty() || states.back() != state)
                        states.push_back(state);
                }
                // Crossed, above through summer, crossed, below through winter: no state comes back within a season.
                CHECK(states.size() <= 5);
                CHECK(std::count(states.begin(), states.end(), State::crossed) <= 3);
                for (std::size_t i = 1; i < states.size(); ++i)
                    CHECK((states[i] == State::crossed) != (states[i - 1] == State::crossed));
                const auto stretches = [&](State state) { return std::count(states.begin(), states.end(), state); };
                CHECK(stretches(State::above) <= (side > 0 ? 1 : 2)); // the year's ends cut the southern summer
                CHECK(stretches(State::below) <= (side > 0 ? 2 : 1));
            }
        }
}

TEST_CASE("one civil day can hold two sunrises, and both are listed") {
    // On the edge of the midnight sun the sun sets after midnight and, days being shorter than 24 hours of sun, rises
    // twice on one date: somewhere near latitude 66 in spring or autumn.
    const auto zone = *geo::find_time_zone("UTC");
    int days_with_two = 0;
    for (double latitude = 65.0; latitude <= 72.0; latitude += 0.25)
        for (std::chrono::sys_days date{*geo::parse_date("2026-05-01")}; date < *geo::parse_date("2026-08-20");
             date += std::chrono::days{1}) {
            const Interval day = geo::civil_day(CivilDate{date}, zone);
            const auto events = geo::sky::sun_crossings({{latitude}, 8_deg}, 0_m, geo::sky::HorizonRule::upper_limb,
                                                        {day.from, day.until - 1s});
            const auto rises = std::count_if(events.begin(), events.end(), [](const auto& e) { return e.rising; });
            CHECK(rises <= 2);
            if (rises < 2)
                continue;
            ++days_with_two;
            const auto windows =
                geo::light_windows(geo::LightName::day, {{latitude}, 8_deg}, 0_m, CivilDate{date}, zone);
            CHECK(windows.intervals.size() >= 2);
            CHECK(windows.presence == geo::Presence::some);
        }
    CHECK(days_with_two > 0);
}
