/// Our opening hours beside those print_intervals.js printed. Run by hand; nothing of the package is kept.
///
///     compare_hours [--agreed FILE] vienna.json helsinki.json ...
///
/// For each value that is judged differently: which way, why we answer so, how many hours of the three years, and the
/// first such instant. FILE gets the digests of what is judged alike, for the test "values once judged alike".

#include "routing/hours/hours.hpp"
#include "tests/routing/hours/agreed.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <fstream>
#include <iostream>
#include <map>
#include <string>
#include <vector>

namespace {

using namespace routing::hours;

constexpr std::array state_names{"closed", "open", "unknown"};
constexpr std::array reason_names{"stated",       "open end",     "holiday",   "disputed",
                                  "no sun event", "clock change", "unreadable"};
/// The package's sun is good to minutes.
constexpr geo::Seconds sun_tolerance = std::chrono::minutes{6};

struct Span {
    geo::Interval time;
    State state;
    Reason reason;
};

struct Difference {
    geo::Seconds length{0};
    geo::Instant first;
};

geo::Instant instant(std::int64_t seconds) {
    return geo::Instant{geo::Seconds{seconds}};
}

/// Closed stretches filled in, so that two lists can be walked side by side.
std::vector<Span> filled(const std::vector<Span>& list, geo::Interval span) {
    std::vector<Span> all;
    geo::Instant reached = span.from;
    for (const Span& next : list) {
        if (reached < next.time.from)
            all.push_back({{reached, next.time.from}, State::closed, Reason::stated});
        all.push_back(next);
        reached = next.time.until;
    }
    if (reached < span.until)
        all.push_back({{reached, span.until}, State::closed, Reason::stated});
    return all;
}

Site site_of(const nlohmann::json& oracle) {
    Site site{.at = {geo::Degrees{oracle["latitude"]}, geo::Degrees{oracle["longitude"]}},
              .zone = geo::find_time_zone(oracle["zone"]).value(),
              .holidays = {}};
    // The script asks a month more on either side.
    site.holidays.known_from = geo::civil_date(instant(oracle["from"]) - std::chrono::days{20}, site.zone);
    site.holidays.known_until = geo::civil_date(instant(oracle["until"]) + std::chrono::days{20}, site.zone);
    for (const auto& days : oracle["holidays"]) {
        geo::CivilDate day = geo::civil_date(instant(days[0]), site.zone);
        for (; geo::civil_day(day, site.zone).from < instant(days[1]); day = geo::next_date(day))
            site.holidays.public_days.push_back({day, ""});
    }
    return site;
}

class Comparison {
public:
    Comparison(const nlohmann::json& oracle, std::ostream& agreed) : site_(site_of(oracle)), agreed_(agreed) {
        span_ = {instant(oracle["from"]), instant(oracle["until"])};
        std::cout << "# " << site_.zone.name() << "\n";
        agreed_ << "zone " << site_.zone.name() << " " << site_.at.latitude.value << " " << site_.at.longitude.value
                << " " << geo::to_string(*site_.holidays.known_from) << " "
                << geo::to_string(*site_.holidays.known_until) << "\n";
        for (const PublicHoliday& holiday : site_.holidays.public_days)
            agreed_ << "holiday " << geo::to_string(holiday.date) << "\n";
        for (const auto& value : oracle["values"])
            judge(value);
        for (const auto& [kind, count] : counts_)
            std::cout << "# " << count << " " << kind << "\n";
    }

private:
    void judge(const nlohmann::json& theirs) {
        const std::string value = theirs["value"];
        const Hours hours = read_hours(value);
        const bool refused = theirs.contains("refused");
        if (hours.refusal() || refused) {
            const char* kind = !refused          ? "refused by us"
                               : hours.refusal() ? "refused by both"
                                                 : "refused by the package";
            ++counts_[kind];
            std::cout << kind << "\t" << value << "\t" << (hours.refusal() ? hours.refusal()->reason : "") << "\n";
            return;
        }
        std::vector<Span> ours;
        for (const Stretch& stretch : hours.intervals(span_, site_))
            ours.push_back({stretch.time, stretch.state, stretch.reason});
        std::vector<geo::Interval> unjudged;
        for (const auto& days : theirs.value("unjudged", nlohmann::json::array()))
            unjudged.push_back({instant(days[0]), instant(days[1])});
        std::vector<Span> oracle;
        for (const auto& interval : theirs["intervals"])
            oracle.push_back({{instant(interval[0]), instant(interval[1])},
                              interval[2] == 1 ? State::unknown : State::open,
                              Reason::stated});
        const Differences differences = compare(filled(ours, span_), filled(oracle, span_), unjudged, value);
        report(value, differences);
        if (differences.empty() && !needs_sun(value))
            agreed_ << hours_test::hex(hours_test::digest(value)) << " "
                    << hours_test::hex(hours_test::digest(hours_test::spans_of(hours.intervals(span_, site_)))) << "\n";
    }

    using Differences = std::map<std::string, Difference>;

    static bool needs_sun(const std::string& value) {
        return value.find("sun") != std::string::npos || value.find("dawn") != std::string::npos ||
               value.find("dusk") != std::string::npos;
    }

    static Differences compare(const std::vector<Span>& ours, const std::vector<Span>& theirs,
                               const std::vector<geo::Interval>& unjudged, const std::string& value) {
        const bool sun = needs_sun(value);
        Differences differences;
        for (auto left = ours.begin(), right = theirs.begin(); left != ours.end() && right != theirs.end();) {
            const geo::Instant from = std::max(left->time.from, right->time.from);
            const geo::Instant until = std::min(left->time.until, right->time.until);
            const bool judged = std::none_of(unjudged.begin(), unjudged.end(), [&](const geo::Interval& day) {
                return from < day.until && day.from < until;
            });
            if (judged && from < until && left->state != right->state && !(sun && until - from <= sun_tolerance)) {
                const std::string kind =
                    std::string("we ") + state_names[static_cast<std::size_t>(left->state)] +
                    (left->state == State::closed
                         ? ""
                         : std::string(" (") + reason_names[static_cast<std::size_t>(left->reason)] + ")") +
                    ", they " + state_names[static_cast<std::size_t>(right->state)];
                Difference& difference = differences[kind];
                if (difference.length == geo::Seconds{0})
                    difference.first = from;
                difference.length += until - from;
            }
            if (left->time.until <= right->time.until)
                ++left;
            else
                ++right;
        }
        return differences;
    }

    void report(const std::string& value, const Differences& differences) {
        if (differences.empty()) {
            ++counts_["equal"];
            return;
        }
        std::string kinds;
        for (const auto& [kind, difference] : differences) {
            kinds += (kinds.empty() ? "" : "; ") + kind;
            std::cout << kind << "\t" << value << "\t" << static_cast<double>(difference.length.count()) / 3600.0
                      << " h, first " << geo::weekday_name(geo::civil_date(difference.first, site_.zone)).substr(0, 2)
                      << " " << geo::iso_text(difference.first, site_.zone) << "\n";
        }
        ++counts_[kinds];
    }

    Site site_;
    geo::Interval span_;
    std::map<std::string, int> counts_;
    std::ostream& agreed_;
};

} // namespace

int main(int count, char** arguments) {
    std::vector<std::string> names(arguments + 1, arguments + count);
    std::ofstream agreed;
    if (names.size() >= 2 && names[0] == "--agreed") {
        agreed.open(names[1]);
        agreed
            << "# Hours judged as the npm package opening_hours 3.15.0 (LGPL-3.0) judges them, 2025 to 2027, made by\n"
               "# tests/oracles/opening_hours/compare_hours.cpp: digest of the value, digest of its spans.\n";
        names.erase(names.begin(), names.begin() + 2);
    }
    for (const std::string& name : names) {
        std::ifstream file(name);
        const auto oracle = nlohmann::json::parse(file, nullptr, false);
        if (oracle.is_discarded()) {
            std::cerr << name << ": can't be read as JSON\n";
            return 2;
        }
        Comparison(oracle, agreed);
    }
    return 0;
}
