#include "cli/read_plan.hpp"

#include "cli/field_values.hpp"
#include "cli/json_fields.hpp"
#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_stop_fields.hpp"
#include "cli/plan_words.hpp"
#include "cli/read_closure.hpp"
#include "routing/shoot/sky_kinds.hpp"

#include <algorithm>

namespace cli {

using routing::shoot::Dropped;
using routing::shoot::Plan;
using routing::shoot::PlanDay;
using routing::shoot::PlanResult;

namespace {

constexpr const char* plan_mend = "give a plan.json as `dayweave plan` writes it";

std::optional<PlanDay> read_plan_day(const Field& field, const geo::TimeZone& zone) {
    const Members members = field.object({"date", "call", "wrap", "drive_seconds", "walk_seconds", "metres", "stops"});
    const auto date_field = members.need("date", plan_mend);
    const auto date = date_field ? read_date(*date_field) : std::nullopt;
    PlanDay day;
    day.call = needed_instant(members, "call", zone);
    day.wrap = needed_instant(members, "wrap", zone);
    day.drive = needed_seconds(members, "drive_seconds");
    day.walk = needed_seconds(members, "walk_seconds");
    day.distance = needed_metres(members, "metres");
    if (const auto stops = members.need("stops", plan_mend)) {
        for (const Field& item : stops->list("stops").value_or(std::vector<Field>{})) {
            day.stops.push_back(read_plan_stop(item, zone));
            const auto& stop = day.stops.back();
            if (day.stops.size() > 1 && stop.arrive < day.stops[day.stops.size() - 2].arrive)
                item.fault("arrives before the stop before it", "put the stops in order of time");
        }
    }
    if (!date)
        return std::nullopt;
    day.date = *date;
    return day;
}

std::vector<PlanDay> read_plan_days(const Field& field, const geo::TimeZone& zone) {
    std::vector<PlanDay> days;
    for (const Field& item : field.filled_list("days").value_or(std::vector<Field>{})) {
        auto day = read_plan_day(item, zone);
        if (!day)
            continue;
        if (!days.empty() && day->date <= days.back().date)
            item.fault("does not come after the day before it", "put the days in order of time, each once");
        days.push_back(std::move(*day));
    }
    return days;
}

Dropped read_dropped(const Field& field) {
    const Members members = field.object({"scene", "title", "must", "why"});
    Dropped dropped;
    dropped.scene = needed_text(members, "scene");
    dropped.title = needed_any_text(members, "title");
    dropped.must = needed_flag(members, "must");
    dropped.why = needed_any_text(members, "why");
    return dropped;
}

std::vector<std::string> read_texts(const Field& field, std::string_view of) {
    std::vector<std::string> texts;
    for (const Field& item : field.list(of).value_or(std::vector<Field>{}))
        texts.push_back(item.any_text("write a text").value_or(""));
    return texts;
}

routing::shoot::NearestWard read_ward(const Field& field) {
    const Members members = field.object({"from", "id", "name", "phone", "at", "drive_seconds", "metres"});
    routing::shoot::NearestWard ward;
    ward.from = needed_any_text(members, "from");
    ward.known = members.find("id").has_value();
    if (!ward.known)
        return ward;
    ward.id = needed_any_text(members, "id");
    ward.name = needed_any_text(members, "name");
    ward.phone = needed_any_text(members, "phone");
    if (const auto at = members.need("at", plan_mend))
        ward.at = read_place(*at).value_or(geo::Coordinate{});
    ward.drive = needed_seconds(members, "drive_seconds");
    ward.length = needed_metres(members, "metres");
    return ward;
}

void read_proof(const Field& field, Plan& plan) {
    const Members members = field.object({"proven", "worth", "bound", "gap", "text", "labels", "seconds"});
    constexpr std::int64_t most = std::int64_t{1} << 53;
    plan.proven = needed_flag(members, "proven");
    plan.bound_text = needed_any_text(members, "text");
    if (const auto worth = members.need("worth", plan_mend))
        plan.worth = worth->whole(-most, most, "").value_or(0);
    if (const auto bound = members.need("bound", plan_mend))
        plan.worth_bound = bound->whole(-most, most, "").value_or(0);
    if (const auto labels = members.need("labels", plan_mend))
        plan.labels = static_cast<std::uint64_t>(labels->whole(0, most, "").value_or(0));
}

/// The zone the plan names; UTC after a fault, so that the rest can be checked.
geo::TimeZone read_plan_zone(const Members& root, std::string& name) {
    name = needed_text(root, "time_zone");
    if (const auto zone = geo::find_time_zone(name))
        return *zone;
    if (!name.empty())
        root.find("time_zone")
            ->fault("is no time zone known here", "did you mean \"" + geo::nearest_zone_name(name) + "\"?");
    const auto fallback = geo::find_time_zone("UTC");
    if (!fallback)
        root.field().faults().throw_if_any();
    return *fallback;
}

/// Days are told apart by their number, so each must have the date of the shoot's day of that number. Only the first
/// that differs is told: behind it all may be shifted.
void check_dates(const PlanFile& file, const routing::shoot::Shoot& shoot, Faults& faults) {
    const auto& own = shoot.days;
    const auto& days = file.plan.days;
    for (std::size_t d = 0; d < std::max(days.size(), own.size()); ++d) {
        if (d < days.size() && d < own.size() && days[d].date == own[d].date)
            continue;
        const std::string number = "day " + std::to_string(d + 1);
        if (d >= days.size())
            faults.add("/days", "", "ends before " + number + " of " + shoot.file + ", " + geo::to_string(own[d].date),
                       "plan anew");
        else
            faults.add("/days/" + std::to_string(d) + "/date", geo::to_string(days[d].date),
                       d < own.size()
                           ? "is not the date of " + number + " of " + shoot.file + ", " + geo::to_string(own[d].date)
                           : "is " + number + ", and " + shoot.file + " has " + std::to_string(own.size()),
                       "plan anew");
        return;
    }
}

std::optional<routing::shoot::ToldSky> read_told_sky(const Field& field) {
    const Members members = field.object({"sky", "on"});
    routing::shoot::ToldSky told{needed_any_text(members, "sky"), {}};
    const auto& kinds = routing::shoot::sky_kinds();
    if (std::find(kinds.begin(), kinds.end(), told.sky) == kinds.end()) {
        field.fault("names no sky known here", plan_mend);
        return std::nullopt;
    }
    if (const auto on = members.find("on"))
        told.on = read_date(*on);
    return told;
}

PlanFile read_root(const JsonValue& json, Faults& faults, const std::filesystem::path& folder) {
    if (json.find("dayweave") == nullptr || json.find("days") == nullptr) {
        faults.add("", "", "is no plan of this program", plan_mend);
        faults.throw_if_any();
    }
    const Members root = Field(json, "", faults)
                             .object({"dayweave", "title", "time_zone", "zone_database", "shoot", "map_date", "result",
                                      "proof", "days", "dropped", "dropped_by_crew", "scenes_done", "closures",
                                      "told_sky", "warnings", "emergency_wards", "attribution"});
    PlanFile file;
    file.file = faults.file();
    file.title = needed_any_text(root, "title");
    const geo::TimeZone zone = read_plan_zone(root, file.zone_name);
    const std::string shoot_file = needed_any_text(root, "shoot");
    if (!shoot_file.empty())
        file.shoot_file = (folder / shoot_file).lexically_normal().string();
    Plan& plan = file.plan;
    if (const auto result = root.need("result", plan_mend)) {
        if (const auto word = read_word(*result, result_words))
            plan.result = static_cast<PlanResult>(*word);
    }
    if (const auto proof = root.need("proof", plan_mend))
        read_proof(*proof, plan);
    if (const auto days = root.need("days", plan_mend))
        plan.days = read_plan_days(*days, zone);
    if (const auto dropped = root.find("dropped")) {
        for (const Field& item : dropped->list("dropped scenes").value_or(std::vector<Field>{}))
            plan.dropped.push_back(read_dropped(item));
    }
    if (const auto given_up = root.find("dropped_by_crew"))
        plan.dropped_by_crew = read_texts(*given_up, "ids of scenes");
    if (const auto done = root.find("scenes_done"))
        plan.scenes_done = read_texts(*done, "ids of scenes");
    if (const auto closures = root.find("closures")) {
        for (const Field& item : closures->list("closures").value_or(std::vector<Field>{})) {
            if (auto closure = read_closure(item, zone))
                plan.closures.push_back(std::move(*closure));
        }
    }
    if (const auto told = root.find("told_sky"))
        plan.told_sky = read_told_sky(*told);
    if (const auto wards = root.find("emergency_wards"))
        for (const Field& item : wards->list("emergency wards").value_or(std::vector<Field>{}))
            plan.wards.push_back(read_ward(item));
    if (const auto warnings = root.find("warnings"))
        plan.warnings = read_texts(*warnings, "warnings");
    return file;
}

} // namespace

PlanFile parse_plan(const std::string& text, const std::string& file, const std::filesystem::path& folder) {
    Faults faults(file);
    const JsonValue json = parse_json(text, faults);
    PlanFile plan = read_root(json, faults, folder);
    faults.throw_if_any();
    return plan;
}

PlanFile read_plan(const std::string& file) {
    return parse_plan(read_text_file(file), file == "-" ? "standard input" : file,
                      file == "-" ? std::filesystem::path() : std::filesystem::path(file).parent_path());
}

void check_plan_fits(const PlanFile& file, const routing::shoot::Shoot& shoot) {
    Faults faults(file.file);
    std::vector<std::string> ids;
    for (const auto& scene : shoot.scenes)
        ids.push_back(scene.id);
    const auto scene_of = [&](const std::string& id, const std::string& pointer) -> const routing::shoot::Scene* {
        const auto found = std::find(ids.begin(), ids.end(), id);
        if (found != ids.end())
            return &shoot.scenes[static_cast<std::size_t>(found - ids.begin())];
        faults.add(pointer, shown(id), "is no scene of " + shoot.file, offer_names(id, ids, "scene"));
        return nullptr;
    };
    if (file.zone_name != shoot.zone_name)
        faults.add("/time_zone", shown(file.zone_name), "is not the time zone of " + shoot.file,
                   "it says \"" + shown(shoot.zone_name) + "\": plan anew");
    check_dates(file, shoot, faults);
    for (std::size_t d = 0; d < file.plan.days.size(); ++d) {
        const PlanDay& day = file.plan.days[d];
        const std::string day_pointer = "/days/" + std::to_string(d);
        for (std::size_t s = 0; s < day.stops.size(); ++s) {
            const auto& stop = day.stops[s];
            const std::string pointer = day_pointer + "/stops/" + std::to_string(s);
            if (stop.kind != routing::shoot::PlanStopKind::scene)
                continue;
            const auto* scene = scene_of(stop.id, pointer + "/id");
            if (scene != nullptr && stop.option >= scene->options.size())
                faults.add(pointer + "/option", std::to_string(stop.option),
                           "is no option of the scene in " + shoot.file, "plan anew");
        }
    }
    for (std::size_t n = 0; n < file.plan.dropped_by_crew.size(); ++n)
        scene_of(file.plan.dropped_by_crew[n], "/dropped_by_crew/" + std::to_string(n));
    for (std::size_t n = 0; n < file.plan.scenes_done.size(); ++n)
        scene_of(file.plan.scenes_done[n], "/scenes_done/" + std::to_string(n));
    faults.throw_if_any();
}

} // namespace cli
