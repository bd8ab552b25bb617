#include "plan_fixture.hpp"
#include "shoot_fixture.hpp"

#include "cli/cautions.hpp"
#include "cli/plain_text.hpp"
#include "cli/write_changes.hpp"
#include "cli/write_itinerary.hpp"

#include "routing/roads/timed/shut_times.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>

using namespace std::chrono_literals;
using fixture::contains;
using fixture::made_plan;
using fixture::made_shoot;

namespace {

const cli::PlanSource source{"shoot.json", "2026-11-01T00:00:00Z", "2024b", "0.1.0"};

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        lines.push_back(line);
    return lines;
}

std::string itinerary() {
    return cli::write_itinerary(made_plan(), made_shoot(), source);
}

std::string line_with(const std::string& text, const std::string& part) {
    for (const std::string& line : lines_of(text)) {
        if (contains(line, part))
            return line;
    }
    return "";
}

} // namespace

TEST_CASE("the itinerary begins with title and result in words") {
    const auto lines = lines_of(itinerary());
    CHECK(lines[0] == "# Salt \\| Iron");
    CHECK(lines[2] == "Every must scene is in. Proven: no order does better.");
    CHECK(lines[3] == "2 of 3 scenes, driving 2 h 00, 93.7 km.");

    auto plan = made_plan();
    plan.proven = false;
    plan.result = routing::shoot::PlanResult::feasible;
    plan.bound_text = "at most 12 min less driving";
    CHECK(contains(cli::write_itinerary(plan, made_shoot(), source),
                   "This is the best order found, not proven best (at most 12 min less driving)."));
    plan.result = routing::shoot::PlanResult::partial;
    plan.proven = true;
    plan.dropped[0].must = true;
    CHECK(contains(cli::write_itinerary(plan, made_shoot(), source),
                   "Not every must can be kept: 1 must scene left out, reasons below. The rest is proven"));
}

TEST_CASE("a day has its heading, its totals and a row a stop") {
    const std::string text = itinerary();
    CHECK(contains(text, "\n## Day 1 of 2: Friday 2027-05-14\n"));
    CHECK(
        contains(text, "Call 04:12, wrap 00:30 (+1): 20 h 18 on duty, driving 2 h 00, 93.7 km, on foot about 18 min."));
    const std::string scene = line_with(text, "| Opening");
    CHECK(contains(scene, "| 04:58 "));
    CHECK(contains(scene, "| 05:09–05:54 "));
    CHECK(contains(scene, "golden-morning, sun -3.5° → 5.2°"));
    CHECK(contains(scene, "|  45 |"));
    CHECK(contains(scene, "| 07:04 ")); // 07:04:59 rounded to the safe side
    CHECK(contains(scene, " 1 h 04 |"));
    CHECK(contains(line_with(text, "| Net loft"), "| 04:20 "));
    CHECK(contains(text, "Wheel (wish) (done)"));
}

TEST_CASE("a day off is told as one, and a stop the crew is at is not called done") {
    auto plan = made_plan();
    auto& stops = plan.days[0].stops;
    stops[1].running = true;
    CHECK(contains(cli::write_itinerary(plan, made_shoot(), source), "Opening (at it now)"));
    stops.erase(stops.begin() + 1, stops.end());
    stops.front().role = routing::shoot::StopRole::call;
    stops.push_back(stops.front());
    stops.back().role = routing::shoot::StopRole::wrap;
    const std::string text = cli::write_itinerary(plan, made_shoot(), source);
    CHECK(contains(text, "A day off: nothing is planned; the crew stays at Net loft."));
    CHECK_FALSE(contains(text, "Call 04:12"));
}

TEST_CASE("filming never begins before its light or ends after it, and keeps its length when there is slack") {
    auto plan = made_plan();
    auto& scene = plan.days[0].stops[1];
    scene.start = fixture::at("2027-05-14T07:21:20");
    scene.end = fixture::at("2027-05-14T08:06:20");
    scene.light->window = {scene.start, scene.end};
    scene.slack = 0s;
    const auto text = [&] { return cli::write_itinerary(plan, made_shoot(), source); };
    CHECK(contains(text(), "light 07:22–08:06"));
    CHECK(contains(line_with(text(), "| Opening"), "| 07:22–08:06 "));
    scene.slack = 39s;
    CHECK(contains(line_with(text(), "| Opening"), "| 07:22–08:06 "));
    scene.slack = 40s;
    CHECK(contains(line_with(text(), "| Opening"), "| 07:22–08:07 "));
    scene.start = fixture::at("2027-05-14T23:59:01");
    scene.end = fixture::at("2027-05-15T00:44:01");
    scene.slack = 1h;
    CHECK(contains(line_with(text(), "| Opening"), "| 00:00 (+1)–00:45 (+1) "));
}

TEST_CASE("every row of a table is as wide as its header") {
    const auto lines = lines_of(itinerary());
    std::size_t rows = 0;
    for (std::size_t n = 1; n < lines.size(); ++n) {
        if (!lines[n].starts_with("|") || !lines[n - 1].starts_with("|"))
            continue;
        ++rows;
        CHECK(cli::display_width(lines[n]) == cli::display_width(lines[n - 1]));
    }
    CHECK(rows == 8);
}

TEST_CASE("ways tell the turns, lengths, walks and what to mind") {
    const std::string way = line_with(itinerary(), "1. 04:12");
    CHECK(way ==
          "1. 04:12 → 04:58 Net loft → Arch \\`of\\` \\| \\<Tears>: about 2 min (100 m) on foot back to the van, then "
          "31.2 km, 40 min by van: north-east on Ring Road "
          "(A1) 12.0 km (toll); sharp left 19.2 km (gate, ford); roundabout exit 2, Lane 40 m; then leave the van "
          "beside the road at -35.20050,-8.40050 and walk in 4 min (300 m). Mind: toll, gate "
          "(may be locked), ford (look before driving in).");
}

TEST_CASE("a plan without directions names the roads instead") {
    auto plan = made_plan();
    plan.days[0].stops[1].leg.directions.clear();
    CHECK(contains(line_with(cli::write_itinerary(plan, made_shoot(), source), "1. 04:12"),
                   "by van: Ring Road (A1) 12.0 km, unnamed road 19.2 km, short stretches 40 m; then leave the van"));
}

TEST_CASE("a way names its roads that are shut at other hours, and what it waits for") {
    auto plan = made_plan();
    auto& leg = plan.days[0].stops[1].leg; // leaves at 04:12
    leg.shut_roads = {{"Pass|Road", {fixture::at("2027-05-14T02:00"), fixture::at("2027-05-14T04:20")}},
                      {"Lane", {fixture::at("2027-05-14T08:00"), routing::roads::timed::for_ever}},
                      {"", {routing::roads::timed::since_ever, fixture::at("2027-05-14T03:15")}},
                      {"Old", {routing::roads::timed::since_ever, fixture::at("2027-05-14T03:11")}},
                      {"Next day's", {fixture::at("2027-05-15T08:00"), fixture::at("2027-05-15T09:00")}}};
    leg.waits = {{"Pass|Road", fixture::at("2027-05-14T04:18"), fixture::at("2027-05-14T04:20")}};
    CHECK(contains(line_with(cli::write_itinerary(plan, made_shoot(), source), "1. 04:12"),
                   "**Closure**: wait before Pass\\|Road until 04:20; Pass\\|Road is shut from 02:00 until 04:20; Lane "
                   "is shut from 08:00; a road is shut until 03:15. Mind:"));
}

TEST_CASE("roads of a way that are shut at the same hours are told together, and the rest of many counted") {
    auto plan = made_plan();
    auto& leg = plan.days[0].stops[1].leg;
    const geo::Interval noon{fixture::at("2027-05-14T12:00"), fixture::at("2027-05-14T13:00")};
    const geo::Interval evening{fixture::at("2027-05-14T20:00"), routing::roads::timed::for_ever};
    leg.shut_roads = {{"A", noon}, {"B", noon}, {"A", evening}, {"", noon}, {"D", noon}, {"E", noon}};
    CHECK(
        contains(line_with(cli::write_itinerary(plan, made_shoot(), source), "1. 04:12"),
                 "**Closure**: A, B, a road and 2 more are shut from 12:00 until 13:00; A is shut from 20:00. Mind:"));
}

TEST_CASE("a car park is named") {
    auto plan = made_plan();
    auto& stop = plan.days[0].stops[1];
    stop.parking = "Low|Field";
    CHECK(contains(line_with(cli::write_itinerary(plan, made_shoot(), source), "1. 04:12"),
                   "then leave the van at Low\\|Field at -35.20050,-8.40050 and walk in 4 min (300 m)."));
}

TEST_CASE("notes give the light window rounded inwards and the sun's direction") {
    const std::string note = line_with(itinerary(), "Opening: light");
    CHECK(contains(note, "light 05:02–05:58, sun towards 61° → 55°; permit: harbour office; gear: long lens."));
}

TEST_CASE("scenes left out, warnings, cautions and sources are at the end") {
    const std::string text = itinerary();
    CHECK(contains(text, "- Boats (wish): no window: 12 min too late\n"));
    CHECK(contains(text, "- vehicle height not given\n"));
    CHECK(contains(text, "win over this plan"));
    CHECK(contains(text, "© OpenStreetMap contributors, ODbL 1.0, as of 2026-11-01T00:00:00Z"));
    CHECK(contains(text, "zone rules 2024b"));
}

TEST_CASE("names from the map can't break out of their cell") {
    auto plan = made_plan();
    plan.days[0].stops[2].name = "A|B\n| x | <script>\x1b[0m";
    plan.days[0].stops[2].notes = {"phone\n# heading"};
    const std::string text = cli::write_itinerary(plan, made_shoot(), source);
    CHECK(contains(text, "A\\|B \\| x \\| \\<script> \\[0m"));
    CHECK_FALSE(contains(text, "\n# heading"));
    CHECK(text.find('\x1b') == std::string::npos);
}

TEST_CASE("tired and long driving is warned of, and what was not checked") {
    auto plan = made_plan();
    const auto all = [&] {
        std::string text;
        for (const auto& line : cli::cautions(plan, made_shoot()))
            text += line + "\n";
        return text;
    };
    CHECK(contains(all(), "Friday 2027-05-14 is 20 h 18 long"));
    CHECK(contains(all(), "driving between midnight and six (leaving 04:12)"));
    CHECK(contains(all(), "were not checked"));
    CHECK_FALSE(contains(all(), "at the wheel"));
    CHECK_FALSE(contains(all(), "Ferries"));
    plan.days[0].stops[2].leg.van = 2h + 5min;
    plan.days[0].stops[2].leg.roads[0].notes = routing::roads::note_ferry;
    CHECK(contains(all(), "2 h 05 at the wheel to Café Grau"));
    CHECK(contains(all(), "Ferries"));
    plan.days.resize(1);
    plan.days[0].stops.resize(1);
    plan.days[0].wrap = plan.days[0].call + 13h;
    CHECK(all() == "Local rules, signs, weather and tide tables win over this plan.\n");
}

TEST_CASE("night driving is seen on both sides of midnight and not in the day") {
    auto plan = made_plan();
    plan.days.resize(1);
    auto& stops = plan.days[0].stops;
    stops.resize(2);
    const auto told = [&](const char* leave, std::chrono::minutes takes) {
        stops[0].leave = fixture::at(leave);
        stops[1].leg.total = stops[1].leg.van = takes;
        const auto lines = cli::cautions(plan, made_shoot());
        return std::any_of(lines.begin(), lines.end(), [](const auto& line) { return contains(line, "midnight"); });
    };
    CHECK(told("2027-05-14T23:50", 20min));
    CHECK(told("2027-05-14T05:59", 20min));
    CHECK_FALSE(told("2027-05-14T06:00", 20min));
    CHECK_FALSE(told("2027-05-14T23:30", 30min));
}

TEST_CASE("the page of changes begins with what to do now") {
    routing::shoot::Replan replan;
    replan.plan = made_plan();
    replan.now_line = "Leave by 04:20 for the Arch.";
    replan.rows = {{0, "opening at the arch", fixture::at("2027-05-14T05:00"), fixture::at("2027-05-14T05:25"), ""},
                   {0, "boats", fixture::at("2027-05-14T09:00"), std::nullopt, "dropped: too late"},
                   {1, "lunch", std::nullopt, fixture::at("2027-05-15T12:00"), "now at the Grey | Heron"},
                   {1, "wheel", fixture::at("2027-05-15T13:00"), fixture::at("2027-05-15T13:00:10"), ""},
                   {0, "owls", fixture::at("2027-05-14T23:50"), fixture::at("2027-05-15T00:15:01"), ""}};
    routing::shoot::Changes changes;
    changes.now = fixture::at("2027-05-14T04:05");
    changes.late = 25min;
    changes.at = geo::Coordinate{{-35.2}, {-8.4}};
    changes.closures = {{routing::roads::Ways{{12}}, "way 12"}};
    changes.drop = {"boats"};
    const std::string text = cli::write_changes(replan, made_shoot(), changes);
    CHECK(lines_of(text)[0] == "Leave by 04:20 for the Arch.");
    CHECK(contains(text,
                   "Told at Friday 2027-05-14 04:05; crew at -35.20000, -8.40000; 25 min late; closed: way 12; given "
                   "up: boats."));
    const auto cells = [&](const std::string& name) { // column widths hang on other rows
        std::string line = line_with(text, name);
        line.erase(std::unique(line.begin(), line.end(), [](char a, char b) { return a == ' ' && b == ' '; }),
                   line.end());
        return line;
    };
    CHECK(contains(cells("opening at the arch"), "| 05:00 | 05:25 | +25 min |"));
    CHECK(contains(cells("| boats"), "| 09:00 | none | out |"));
    CHECK(contains(cells("| lunch"), "| none | 12:00 | new |"));
    CHECK(contains(line_with(text, "| wheel"), "|    same |"));
    CHECK(contains(line_with(text, "| owls"), " 23:50 | 00:16 (+1) "));
    CHECK(contains(text, "Grey \\| Heron"));
}
