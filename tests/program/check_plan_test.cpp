#include "run_program.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <fstream>
#include <functional>

namespace {

using nlohmann::ordered_json;

bool holds(const std::string& text, const std::string& part) {
    const bool found = text.find(part) != std::string::npos;
    if (!found)
        MESSAGE("not said in: ", text);
    return found;
}

/// The plan of the one-day shoot, made once; checked after one edit by hand.
class EditedPlan {
public:
    EditedPlan() {
        REQUIRE(run_program({"plan", (island() / "one_day.json").string(), "-o", folder_ / "out"}).exit_code == 0);
        plan_ = ordered_json::parse(read_file(folder_ / "out/plan.json"));
    }
    Run check(const std::function<void(ordered_json&)>& edit) {
        ordered_json plan = plan_;
        edit(plan);
        std::ofstream(folder_ / "out/edited.json") << plan.dump(2);
        return run_program({"check", folder_ / "out/edited.json"});
    }

private:
    Folder folder_;
    ordered_json plan_;
};

ordered_json& stop_of(ordered_json& plan, const std::string& id) {
    for (ordered_json& stop : plan["days"][0]["stops"])
        if (stop["id"] == id)
            return stop;
    throw std::logic_error("no stop " + id);
}

/// "2027-09-10T09:35:20+00:00" later by whole minutes that keep within the hour and the hours of the fixture.
void move(ordered_json& time, int minutes) {
    std::string text = time;
    const int total = std::stoi(text.substr(11, 2)) * 60 + std::stoi(text.substr(14, 2)) + minutes;
    char clock[16];
    std::snprintf(clock, sizeof clock, "%02d:%02d", total / 60 % 24, total % 60);
    time = text.replace(11, 5, clock);
}

} // namespace

TEST_CASE("a plan as written has no faults, and each kind of edit by hand is caught") {
    EditedPlan plan;
    const Run sound = plan.check([](ordered_json&) {});
    CHECK(sound.exit_code == 0);
    CHECK(holds(sound.out, "No faults. Salt Letters: 1 day, 11 stops"));
    CHECK(sound.err.empty());

    const Run moved = plan.check([](ordered_json& json) {
        for (const char* time : {"arrive", "start", "end", "leave", "leave_by"})
            move(stop_of(json, "high-road")[time], 10);
    });
    CHECK(moved.exit_code == 2);
    CHECK(moved.out.empty());
    CHECK(holds(moved.err, "/arrive: \"2027-09-10T"));
    CHECK(holds(moved.err, "is not when the stop before is left and the leg here is done (day 1, stop "));
    CHECK(holds(moved.err, "She takes the high road at Weskan Moor); should be 2027-09-10T"));

    const Run shorter = plan.check([](ordered_json& json) {
        ordered_json& leg = stop_of(json, "high-road")["leg"];
        leg["seconds"] = leg["seconds"].get<int>() - 120;
        leg["van_seconds"] = leg["van_seconds"].get<int>() - 120;
    });
    CHECK(shorter.exit_code == 2);
    CHECK(holds(shorter.err, "/leg/seconds: \""));
    CHECK(holds(shorter.err, "is less than the quickest way takes"));

    const Run dark = plan.check([](ordered_json& json) {
        for (const char* time : {"start", "end"})
            move(stop_of(json, "found")[time], 30);
        for (const char* time : {"leave", "leave_by"})
            move(stop_of(json, "found")[time], 30);
    });
    CHECK(dark.exit_code == 2);
    CHECK(holds(dark.err, "/end: \"2027-09-10T"));
    CHECK(holds(dark.err, "is outside its light (sunrise)"));

    const Run hasty = plan.check([](ordered_json& json) {
        ordered_json& leg = stop_of(json, "reader")["leg"];
        leg["walk_in"]["seconds"] = leg["walk_in"]["seconds"].get<int>() - 100;
        leg["walk_seconds"] = leg["walk_seconds"].get<int>() - 100;
        leg["seconds"] = leg["seconds"].get<int>() - 100;
    });
    CHECK(hasty.exit_code == 2);
    CHECK(holds(hasty.err, "/leg/walk_in/seconds: \""));
    CHECK(holds(hasty.err, "is not what the way on foot takes"));

    const Run lost = plan.check([](ordered_json& json) {
        ordered_json& stops = json["days"][0]["stops"];
        for (auto stop = stops.begin(); stop != stops.end(); ++stop)
            if ((*stop)["id"] == "noon") {
                stops.erase(stop);
                break;
            }
    });
    CHECK(lost.exit_code == 2);
    CHECK(holds(lost.err, "/days: \"noon\" is a must scene neither among the stops nor left out with a reason"));
}

TEST_CASE("a re-plan has no faults, and a shoot file behind a shoot file is refused") {
    const Folder folder;
    const std::string shoot = (island() / "one_day.json").string();
    run_program({"plan", shoot, "-o", folder / "a"});
    REQUIRE(run_program({"replan", folder / "a/plan.json", "-o", folder / "b", "--now", "09:50", "--late", "25",
                         "--close", "road:Lorm Weskan"})
                .exit_code == 0);
    const Run again = run_program({"check", folder / "b/plan.json", shoot});
    CHECK(again.exit_code == 0);
    INFO(again.err);
    CHECK(holds(again.out, "already begun, taken as told"));
    const Run two = run_program({"check", shoot, shoot});
    CHECK(two.exit_code == 2);
    CHECK(holds(two.err, "stands behind a file that is no plan.json"));
}

TEST_CASE("places tells what is near, in three states, as table, JSON and CSV") {
    const std::string shoot = (island() / "one_day.json").string();
    const std::vector<std::string> asked{"places",  shoot,    "--near", "arch", "--then",
                                         "harbour", "--kind", "food",   "--at", "12:30"};
    const Run table = run_program(asked);
    CHECK(table.exit_code == 0);
    CHECK(holds(table.out, "# What the map offers near Dremm Arch"));
    CHECK(holds(table.out, "| open until 14:00"));
    CHECK(holds(table.out, "| closed until 06:30 (+1)"));

    std::vector<std::string> as_json = asked;
    as_json.emplace_back("--json");
    const Run run = run_program(as_json);
    const ordered_json json = ordered_json::parse(run.out);
    int before = 0;
    for (const auto& place : json.at("places")) {
        CHECK(place.at("detour_seconds").get<int>() >= before);
        before = place.at("detour_seconds").get<int>();
        CHECK(place.at("drive_seconds").get<int>() <= 30 * 60);
    }
    CHECK(json.at("places").size() == 20);
    std::vector<std::string> as_csv = asked;
    as_csv.emplace_back("--csv");
    CHECK(holds(run_program(as_csv).out, "id,kind,name,emergency,lat,lon,drive_seconds"));

    const Run care = run_program({"places", shoot, "--near", "found", "--kind", "care"});
    CHECK(care.exit_code == 0);
    CHECK(holds(care.out, "hospital, emergency ward"));
    CHECK(holds(care.out, "call the local emergency number first"));
    CHECK(care.out.find("emergency ward |") < care.out.find("pharmacy"));
}

TEST_CASE("places names every wrong option at once") {
    const Run run = run_program({"places", (island() / "one_day.json").string(), "--near", "arsh", "--then", "200,0",
                                 "--kind", "caffe", "--at", "noon"});
    CHECK(run.exit_code == 2);
    CHECK(holds(run.err, "--near: \"arsh\" is no location or scene"));
    CHECK(holds(run.err, "did you mean \"arch\"?"));
    CHECK(holds(run.err, "--then"));
    CHECK(holds(run.err, "did you mean \"cafe\"?"));
    CHECK(holds(run.err, "--at: \"noon\" is no time"));
}
