#include "cli/write_light.hpp"

#include "cli/csv_field.hpp"
#include "cli/number_text.hpp"
#include "geo/json_text.hpp"

namespace cli {

namespace {

/// The lines of one place and day; each begins with place and date.
class DayLines {
public:
    DayLines(const LightPlace& place, const LightDay& light, const geo::TimeZone& zone)
        : light_(light), zone_(zone),
          head_(csv_field(place.id.empty() ? place.name : place.id) + "," + fixed_text(place.at.latitude.value, 6) +
                "," + fixed_text(place.at.longitude.value, 6) + "," + geo::to_string(light.date)) {}

    std::string text() {
        for (const LightRow& row : light_.rows)
            add_windows(row);
        add_moments("sun", light_.moments);
        add_moments("moon", light_.moon.moments);
        if (light_.moon.moments.empty())
            add("moon", "moon", light_.moon.up ? "up_all_day" : "down_all_day", "", "", "", "");
        if (light_.milky_way)
            add_moments("star", {*light_.milky_way});
        return lines_;
    }

private:
    void add(const std::string& kind, const std::string& name, const std::string& presence, const std::string& from,
             const std::string& until, const std::string& altitude, const std::string& azimuth) {
        lines_ += head_ + "," + kind + "," + csv_field(name) + "," + presence + "," + from + "," + until + "," +
                  altitude + "," + azimuth + "\r\n";
    }

    void add_windows(const LightRow& row) {
        const std::string name(geo::to_string(row.name));
        if (row.windows.intervals.empty())
            add("light", name, "never", "", "", "", "");
        for (const geo::Interval& window : row.windows.intervals)
            add("light", name, row.windows.presence == geo::Presence::all_day ? "all_day" : "some",
                geo::iso_text(window.from, zone_), geo::iso_text(window.until, zone_), "", "");
    }

    void add_moments(const std::string& kind, const std::vector<SkyMoment>& moments) {
        for (const SkyMoment& moment : moments) {
            const std::string when = geo::iso_text(moment.when, zone_);
            add(kind, moment.name, "some", when, when, fixed_text(moment.altitude.value, 2),
                fixed_text(moment.azimuth.value, 2));
        }
    }

    const LightDay& light_;
    const geo::TimeZone& zone_;
    std::string head_;
    std::string lines_;
};

} // namespace

std::string light_csv(const std::vector<LightPlace>& places, const geo::TimeZone& zone) {
    std::string text = "place,lat,lon,date,kind,name,presence,from,until,altitude_deg,azimuth_deg\r\n";
    for (const LightPlace& place : places)
        for (const LightDay& light : place.days)
            text += DayLines(place, light, zone).text();
    return text;
}

} // namespace cli
