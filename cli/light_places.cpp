#include "cli/light_places.hpp"

#include "cli/close_option.hpp"
#include "cli/fault_list.hpp"
#include "cli/field_values.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/read_shoot.hpp"
#include "geo/input_error.hpp"
#include "geo/terrain/horizon_cache.hpp"
#include "routing/shoot/ground.hpp"

namespace cli {

namespace {

std::vector<geo::CivilDate> days_from(geo::CivilDate first, int days) {
    std::vector<geo::CivilDate> dates{first};
    while (static_cast<int>(dates.size()) < days)
        dates.push_back(geo::next_date(dates.back()));
    return dates;
}

/// The options' faults, all told at once.
class OptionFaults : public FaultList {
public:
    using FaultList::add;
    void add(const std::string& option, const std::string& value, const std::string& problem, const std::string& mend) {
        add(geo::InputFault{"", option, shown(value), problem, mend});
    }
};

std::optional<geo::CivilDate> date_of(const LightOptions& options, OptionFaults& faults) {
    const auto date = geo::parse_date(options.date);
    if (date && is_plannable(*date))
        return date;
    faults.add("--date", options.date, "is not a date", "write YYYY-MM-DD, a day that exists, 1970 to 2100");
    return std::nullopt;
}

/// The first lens that a scene at that place wants the sun in.
void take_lens(LightPlace& place, const routing::shoot::Shoot& shoot, std::size_t location) {
    for (const auto& scene : shoot.scenes)
        for (const auto& option : scene.options)
            for (const auto& request : option.light) {
                const auto* wish = std::get_if<geo::LightWish>(&request);
                const auto* framed =
                    wish != nullptr && wish->direction ? std::get_if<geo::SunInFrame>(&*wish->direction) : nullptr;
                if (option.location == location && framed != nullptr && !place.lens) {
                    place.lens = framed->lens;
                    place.pitch = framed->pitch;
                }
            }
}

LightAsked places_of_shoot(const LightOptions& options) {
    OptionFaults faults;
    if (options.date.empty() && options.days != 1)
        faults.add("--date", "", "is missing", "name the first of the days; without --days the shoot's own count");
    const auto first = options.date.empty() ? std::nullopt : date_of(options, faults);
    faults.throw_if_any();

    auto shoot = read_shoot(options.shoot);
    routing::shoot::find_horizons(shoot, routing::shoot::Prepared::use);
    LightAsked asked{{}, {}, shoot.zone};
    if (first)
        asked.dates = days_from(*first, options.days);
    else
        for (const auto& day : shoot.days)
            asked.dates.push_back(day.date);
    for (std::size_t n = 0; n < shoot.locations.size(); ++n) {
        const auto& location = shoot.locations[n];
        asked.places.push_back({location.id, location.name, location.at, {}, location.facing, location.horizon});
        take_lens(asked.places.back(), shoot, n);
    }
    return asked;
}

LightAsked place_of_options(const LightOptions& options) {
    OptionFaults faults;
    geo::Coordinate at;
    try {
        at = parse_place(options.at, "--at");
    } catch (const geo::InputError& error) {
        faults.add(error);
    }
    const auto zone = geo::find_time_zone(options.zone);
    if (options.zone.empty())
        faults.add("--zone", "", "is missing", "name a time zone, like Atlantic/Azores");
    else if (!zone)
        faults.add("--zone", options.zone, "is no time zone known here",
                   "did you mean \"" + geo::nearest_zone_name(options.zone) + "\"?");
    std::optional<geo::CivilDate> date;
    if (options.date.empty())
        faults.add("--date", "", "is missing", "write YYYY-MM-DD");
    else
        date = date_of(options, faults);
    if (options.facing && !(*options.facing >= 0.0 && *options.facing <= 360.0)) // "nan" passes CLI::Range
        faults.add("--facing", number_text(*options.facing), "is no direction", "give 0 to 360 degrees");
    if (options.lens && !(*options.lens >= 4.0 && *options.lens <= 2000.0))
        faults.add("--lens", number_text(*options.lens), "is no focal length", "give 4 to 2000 mm");
    else if (options.lens && !options.facing)
        faults.add("--lens", number_text(*options.lens), "looks nowhere", "say with --facing where the camera looks");
    faults.throw_if_any();

    LightPlace place{"", "Light", at};
    if (options.facing)
        place.facing = geo::Degrees{*options.facing};
    if (options.lens)
        place.lens = geo::Lens{.focal_length = {*options.lens}};
    if (!options.terrain.empty()) {
        auto horizon = geo::terrain::HorizonCache({options.terrain.begin(), options.terrain.end()}, {}).at(at);
        if (!horizon)
            throw geo::InputError({{"--terrain", "", options.at, "is where no tile knows the ground",
                                    "name the tile that holds it, or leave --terrain out"}});
        place.horizon = std::make_shared<const geo::terrain::HorizonProfile>(std::move(*horizon));
    }
    return {{std::move(place)}, days_from(*date, options.days), *zone};
}

} // namespace

geo::Surroundings surroundings_of(const LightPlace& place) {
    return routing::shoot::surroundings_of(place.at, place.horizon);
}

LightAsked light_places(const LightOptions& options) {
    if (options.shoot.empty() == options.at.empty())
        throw geo::InputError(
            {{"light", "", "", options.at.empty() ? "says neither SHOOT nor --at" : "says both SHOOT and --at",
              "give a shoot file, or --at LAT,LON --date DATE --zone ZONE"}});
    return options.shoot.empty() ? place_of_options(options) : places_of_shoot(options);
}

} // namespace cli
