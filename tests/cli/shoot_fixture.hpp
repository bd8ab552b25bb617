#pragma once
/// A sound shoot file to break in one place at a time, and what its reader says.
///
///     auto json = fixture.shoot(); json["days"][0]["date"] = "2027-02-30";
///     CHECK(has_fault(fixture.faults(json), "/days/0/date", "is not a date"));

#include "cli/read_shoot.hpp"
#include "geo/input_error.hpp"

#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <vector>

#include <unistd.h>

namespace fixture {

using Json = nlohmann::ordered_json;

/// A folder that goes with the test.
class TemporaryFolder {
public:
    TemporaryFolder() {
        std::string pattern = (std::filesystem::temp_directory_path() / "dayweave-test-XXXXXX").string();
        path_ = ::mkdtemp(pattern.data());
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    const std::filesystem::path& path() const { return path_; }
    std::filesystem::path write(const std::string& name, const std::string& content) const {
        std::ofstream(path_ / name, std::ios::binary) << content;
        return path_ / name;
    }

private:
    std::filesystem::path path_;
};

/// Two days, three locations near each other, three scenes, with every part a shoot file can have.
inline Json sound_shoot() {
    return Json::parse(R"({
        "title": "Salt", "time_zone": "Atlantic/Azores", "region": "map.osm.pbf",
        "crew": {"people": 3, "vehicle": {"kind": "van", "height_m": 2.6, "width_m": 2.1, "weight_t": 3.4, "high_clearance": false},
                 "walk": {"load_kg": 12, "max_minutes": 45}, "avoid": ["unpaved", "tolls"], "turnaround_h": 10.5},
        "base": {"name": "Net loft", "at": {"lat": -35.2, "lon": -8.4}},
        "days": [{"date": "2027-05-14", "earliest_call": "04:00", "latest_wrap": "23:00", "start": "base", "end": "bed"},
                 {"date": "2027-05-15", "earliest_call": "09:30", "latest_wrap": "01:00"}],
        "locations": [{"id": "arch", "name": "Arch", "at": {"lat": -35.21, "lon": -8.41}, "park_at": {"lat": -35.211, "lon": -8.411},
                       "setup_minutes": 10, "pack_minutes": 5, "notes": "low tide only", "permit": "harbour office"},
                      {"id": "mill", "walk_in_darkness": true, "at": {"lat": -35.22, "lon": -8.43}},
                      {"id": "pier", "name": "Pier", "open": "Mo-Su 06:00-22:00", "at": {"lat": -35.23, "lon": -8.45}}],
        "scenes": [{"id": "opening", "title": "Opening", "at": "arch", "minutes": 45, "need": "must", "light": "golden-evening",
                    "sky": ["clear", "broken"], "shots": [{"title": "wide", "minutes": 10, "must": true}, {"title": "close"}],
                    "gear": ["long lens"], "or": [{"at": "mill", "light": {"clock": ["10:00", "16:00"]}, "minutes": 40}]},
                   {"id": "wheel", "at": "mill", "minutes": 30, "need": 40, "after": ["opening"], "not_before": "2027-05-14T10:00", "not_after": "2027-05-15T17:30",
                    "light": ["day", {"sun_altitude": [-4, 6], "when": "evening"}]},
                   {"id": "boats", "at": "pier", "shots": [{"title": "nets", "minutes": 20}, {"title": "hands", "minutes": 15}]}],
        "meals": [{"name": "lunch", "between": ["11:30", "14:00"], "minutes": 45, "where": "find", "within_h_of_call": 6, "kinds": ["restaurant"]}],
        "holidays": ["2027-05-15"],
        "lodging": {"where": "find", "kinds": ["hotel", "guest_house"]},
        "closures": [{"road": "Pass Road", "near": {"lat": -35.2, "lon": -8.4}}, {"ways": [12, -3]},
                     {"area": [{"lat": -35.2, "lon": -8.4}, {"lat": -35.3, "lon": -8.4}, {"lat": -35.3, "lon": -8.5}]},
                     {"point": {"lat": -35.2, "lon": -8.4}, "radius_m": 50},
                     {"line": [{"lat": -35.2, "lon": -8.4}, {"lat": -35.21, "lon": -8.42}]}]
    })");
}

/// Reads texts as shoot files beside an (empty) map file.
class ShootFixture {
public:
    ShootFixture() { folder_.write("map.osm.pbf", ""); }

    routing::shoot::Shoot read_text(const std::string& text) const {
        return cli::parse_shoot(text, "shoot.json", folder_.path());
    }
    routing::shoot::Shoot read(const Json& json) const { return read_text(json.dump()); }

    std::vector<geo::InputFault> faults_of_text(const std::string& text) const {
        try {
            read_text(text);
        } catch (const geo::InputError& error) {
            return error.faults();
        }
        return {};
    }
    std::vector<geo::InputFault> faults(const Json& json) const { return faults_of_text(json.dump()); }
    const std::filesystem::path& folder() const { return folder_.path(); }

private:
    TemporaryFolder folder_;
};

/// One to four random changes: a byte replaced, put in or taken out, a piece repeated elsewhere.
inline std::string mutated(std::string text, std::mt19937& random) {
    static const std::string bytes = "{}[]\",:0123456789.-eE tfn\\/\n\x80\xff\x01";
    for (std::size_t changes = 1 + random() % 4; changes > 0; --changes) {
        const std::size_t at = random() % text.size();
        const std::size_t from = random() % text.size();
        switch (random() % 4) {
        case 0:
            text[at] = bytes[random() % bytes.size()];
            break;
        case 1:
            text.erase(at, 1 + random() % 12);
            break;
        case 2:
            text.insert(at, 1, bytes[random() % bytes.size()]);
            break;
        default:
            text.insert(at, text.substr(from, random() % 30));
        }
    }
    return text;
}

inline bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// Whether exactly one fault stands at `field`, with these words.
inline bool has_fault(const std::vector<geo::InputFault>& faults, const std::string& field, const std::string& problem,
                      const std::string& mend = "") {
    int found = 0;
    for (const geo::InputFault& fault : faults) {
        if (fault.field == field && contains(fault.problem, problem) && contains(fault.mend, mend))
            ++found;
    }
    return found == 1;
}

inline std::string all_faults(const std::vector<geo::InputFault>& faults) {
    std::string text;
    for (const geo::InputFault& fault : faults)
        text += geo::describe(fault) + "\n";
    return text;
}

} // namespace fixture
