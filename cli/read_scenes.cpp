#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "cli/read_light.hpp"
#include "cli/read_shoot.hpp"
#include "cli/shoot_parts.hpp"
#include "routing/shoot/sky_kinds.hpp"

#include <algorithm>
#include <array>

namespace cli {

using routing::shoot::Scene;
using routing::shoot::SceneOption;
using routing::shoot::Shot;
using std::chrono::minutes;

namespace {

constexpr int longest_scene = 1440; // minutes

constexpr std::array<LaterKey, 3> later_keys{{
    {"same_day_as", "leave it out: use \"after\" to keep an order"},
    {"right_after", "leave it out: use \"after\" to keep an order"},
    {"day", "leave it out and give not_before and not_after"},
}};

std::vector<std::string> read_sky(const Field& field) {
    const std::vector<std::string>& names = routing::shoot::sky_kinds();
    std::vector<std::string> sky;
    for (const Field& item : field.filled_list("kinds of sky").value_or(std::vector<Field>{})) {
        const auto text = item.text("write a kind of sky, like \"overcast\"");
        if (!text)
            continue;
        if (std::find(names.begin(), names.end(), *text) == names.end())
            item.fault("is no sky known here", offer_names(*text, names, "sky"));
        sky.push_back(*text);
    }
    return sky;
}

std::vector<Shot> read_shots(const Field& field) {
    std::vector<Shot> shots;
    for (const Field& item : field.list("shots").value_or(std::vector<Field>{})) {
        const Members members = item.object({"title", "minutes", "must"});
        Shot shot;
        if (const auto title = members.need("title", "say what the shot shows"))
            shot.title = title->text("say what the shot shows").value_or("");
        if (const auto length = members.find("minutes"))
            shot.length = read_minutes(*length, 1, longest_scene).value_or(minutes(0));
        if (const auto must = members.find("must"))
            shot.must = must->flag().value_or(false);
        shots.push_back(std::move(shot));
    }
    return shots;
}

void read_need(const Field& field, Scene& scene) {
    constexpr const char* mend = "write \"must\" or a worth, 1 to 100";
    if (field.is(JsonValue::Kind::text)) {
        if (field.value().text != "must")
            field.fault("is no need", mend);
        return;
    }
    if (!field.is(JsonValue::Kind::number)) {
        field.wrong_kind(mend);
        return;
    }
    if (const auto worth = field.whole(1, 100, "(or \"must\")")) {
        scene.must = false;
        scene.worth = static_cast<int>(*worth);
    }
}

/// Filming time of one option: `minutes`, else what `fallback` says (the scene's own, or the sum of its shots).
minutes read_length(const Members& members, const std::vector<Shot>& shots, std::optional<minutes> fallback) {
    minutes musts{0};
    for (const Shot& shot : shots)
        musts += shot.must ? shot.length : minutes(0);
    const auto field = members.find("minutes");
    if (!field) {
        if (!fallback)
            members.need("minutes", "give the minutes of filming, or give the shots minutes");
        return fallback.value_or(minutes(0));
    }
    const auto length = read_minutes(*field, 1, longest_scene);
    if (length && *length < musts)
        field->fault("is less than its must-have shots need together, " + std::to_string(musts.count()) + " min",
                     "give at least that, or make fewer shots a must");
    return length.value_or(minutes(1));
}

std::optional<minutes> shots_together(const Field& scene, const std::vector<Shot>& shots) {
    minutes sum{0};
    for (const Shot& shot : shots)
        sum += shot.length;
    if (sum.count() == 0)
        return std::nullopt;
    if (sum.count() > longest_scene)
        scene.fault("has shots of " + std::to_string(sum.count()) + " min together, more than a day",
                    "split the scene");
    return sum;
}

bool is_same(const SceneOption& a, const SceneOption& b) {
    return a.location == b.location && a.length == b.length && a.sky == b.sky && a.light == b.light;
}

bool leans_on_terrain(const geo::LightRequest& request) {
    if (const auto* name = std::get_if<geo::LightName>(&request))
        return geo::needs_terrain(*name);
    const auto* wish = std::get_if<geo::LightWish>(&request);
    return wish != nullptr && geo::needs_terrain(wish->name);
}

/// The light asked for at a location, whose camera direction it may lean on.
std::vector<geo::LightRequest> read_light_at(const Field& field, std::uint32_t location, const KnownIds& known,
                                             const std::vector<geo::LightRequest>& otherwise) {
    const auto facing = location < known.facings.size() ? known.facings[location] : std::nullopt;
    const auto light = read_light(field, facing);
    if (!known.terrain && light && std::any_of(light->begin(), light->end(), leans_on_terrain))
        field.fault("can't be told without the ground around", "name elevation tiles under /terrain");
    return light.value_or(otherwise);
}

/// `faults_before`: how many there were when the scene began; twins are told only among sound options.
void read_alternatives(const Members& all, const Field& field, Scene& scene, const KnownIds& known,
                       std::size_t faults_before) {
    const SceneOption first = scene.options.front();
    std::vector<std::string> pointers{"the scene itself"};
    const auto items = field.list("options").value_or(std::vector<Field>{});
    if (items.size() >= option_limit) { // the scene itself is one more
        field.fault("holds " + std::to_string(items.size()) + " other ways to shoot the scene",
                    "give at most " + std::to_string(option_limit - 1));
        return;
    }
    for (const Field& item : items) {
        const Members members = item.object({"at", "minutes", "light", "sky"});
        SceneOption option = first;
        if (const auto at = members.find("at"))
            option.location = read_reference(*at, known.locations, "location").value_or(option.location);
        // The scene's own light is read anew where the camera looks another way.
        const auto light = members.find("light") ? members.find("light") : all.find("light");
        if (members.find("light") || (light && item.faults().count() == faults_before))
            option.light = read_light_at(*light, option.location, known, option.light);
        if (const auto sky = members.find("sky"))
            option.sky = read_sky(*sky);
        option.length = read_length(members, scene.shots, first.length);
        const auto twin = std::find_if(scene.options.begin(), scene.options.end(),
                                       [&](const SceneOption& other) { return is_same(other, option); });
        if (twin != scene.options.end() && item.faults().count() == faults_before)
            item.fault("is the same as " + pointers[static_cast<std::size_t>(twin - scene.options.begin())],
                       "change its place, light, sky or minutes, or leave it out");
        scene.options.push_back(std::move(option));
        pointers.push_back(item.pointer());
    }
}

Scene read_scene(const Field& field, const std::string& id, const KnownIds& known) {
    const Members members = field.object({"id", "title", "at", "minutes", "need", "light", "sky", "shots", "gear", "or",
                                          "after", "not_before", "not_after"},
                                         later_keys);
    const std::size_t faults_before = field.faults().count();
    Scene scene;
    scene.id = id;
    scene.title = id;
    if (const auto title = members.find("title"))
        scene.title = title->text("say what the scene is").value_or(id);
    if (const auto need = members.find("need"))
        read_need(*need, scene);
    if (const auto shots = members.find("shots"))
        scene.shots = read_shots(*shots);
    if (const auto gear = members.find("gear")) {
        for (const Field& item : gear->list("things to bring").value_or(std::vector<Field>{}))
            scene.gear.push_back(item.text("write what to bring").value_or(""));
    }

    SceneOption first;
    first.light = {geo::LightName::any};
    if (const auto at = members.need("at", "give the id of a location"))
        first.location = read_reference(*at, known.locations, "location").value_or(0);
    if (const auto light = members.find("light"))
        first.light = read_light_at(*light, first.location, known, first.light);
    if (const auto sky = members.find("sky"))
        first.sky = read_sky(*sky);
    first.length = read_length(members, scene.shots, shots_together(field, scene.shots));
    scene.options.push_back(std::move(first));
    if (const auto alternatives = members.find("or"))
        read_alternatives(members, *alternatives, scene, known, faults_before);

    if (const auto after = members.find("after")) {
        for (const Field& item : after->list("ids of scenes").value_or(std::vector<Field>{})) {
            const auto before = read_reference(item, known.scenes, "scene");
            if (before && std::find(scene.after.begin(), scene.after.end(), *before) == scene.after.end())
                scene.after.push_back(*before);
        }
    }
    if (const auto earliest = members.find("not_before"))
        scene.not_before = read_instant(*earliest, known.zone);
    if (const auto latest = members.find("not_after")) {
        scene.not_after = read_instant(*latest, known.zone);
        if (scene.not_before && scene.not_after && *scene.not_after < *scene.not_before)
            latest->fault("is before not_before", "give two times in order");
    }
    return scene;
}

/// Looks for a ring of scenes that wait for each other, from `start` back to it. Depth-first, each scene once.
std::vector<std::uint32_t> ring_through(const std::vector<Scene>& scenes, std::uint32_t start) {
    std::vector<bool> seen(scenes.size());
    std::vector<std::pair<std::uint32_t, std::size_t>> path{{start, 0}};
    while (!path.empty()) {
        auto& [scene, next] = path.back();
        if (next == scenes[scene].after.size()) {
            path.pop_back();
            continue;
        }
        const std::uint32_t before = scenes[scene].after[next++];
        if (before == start) {
            std::vector<std::uint32_t> ring;
            for (const auto& step : path)
                ring.push_back(step.first);
            return ring;
        }
        if (!seen[before]) {
            seen[before] = true;
            path.emplace_back(before, 0);
        }
    }
    return {};
}

void check_after(const std::vector<Scene>& scenes, const std::vector<Field>& items) {
    std::vector<bool> named(scenes.size());
    for (std::uint32_t n = 0; n < scenes.size(); ++n) {
        if (named[n])
            continue;
        const auto ring = ring_through(scenes, n);
        if (ring.empty())
            continue;
        std::string round;
        for (const std::uint32_t scene : ring) {
            named[scene] = true;
            round += shown(scenes[scene].id) + " after ";
        }
        items[n].faults().add(items[n].pointer() + "/after", "",
                              "goes round in a circle: " + round + shown(scenes[n].id), "take one of them out");
    }
}

} // namespace

std::vector<Scene> read_scenes(const std::vector<Field>& items, const KnownIds& known) {
    std::vector<Scene> scenes;
    for (std::size_t n = 0; n < items.size(); ++n)
        scenes.push_back(read_scene(items[n], known.scenes[n], known));
    check_after(scenes, items);
    return scenes;
}

} // namespace cli
