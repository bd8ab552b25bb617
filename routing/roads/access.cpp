#include "routing/roads/access.hpp"

#include "routing/roads/conditional.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>
#include <iterator>

namespace routing::roads {
namespace {

struct AccessValue {
    std::string_view value;
    Access access;
};

// OSM wiki, Key:access, "List of possible values".
constexpr std::array values{
    AccessValue{"yes", Access::open},
    AccessValue{"designated", Access::open},
    AccessValue{"official", Access::open},
    AccessValue{"permissive", Access::open},
    AccessValue{"public", Access::open},
    AccessValue{"discouraged", Access::open},
    AccessValue{"destination", Access::destination_only},
    AccessValue{"customers", Access::destination_only},
    AccessValue{"delivery", Access::forbidden}, // a crew delivers nothing
    AccessValue{"private", Access::forbidden},
    AccessValue{"permit", Access::forbidden},
    AccessValue{"residents", Access::forbidden},
    AccessValue{"no", Access::forbidden},
    AccessValue{"agricultural", Access::forbidden},
    AccessValue{"forestry", Access::forbidden},
    AccessValue{"military", Access::forbidden},
    AccessValue{"emergency", Access::forbidden},
    AccessValue{"psv", Access::forbidden},
    AccessValue{"bus", Access::forbidden},
    AccessValue{"use_sidepath", Access::forbidden},
    AccessValue{"dismount", Access::forbidden},
    AccessValue{"unknown", Access::forbidden},
};

constexpr AccessKey motorcar{"motorcar", "motorcar:forward", "motorcar:backward", "motorcar:conditional"};
constexpr AccessKey hgv{"hgv", "hgv:forward", "hgv:backward", "hgv:conditional"};
constexpr AccessKey motor_vehicle{"motor_vehicle", "motor_vehicle:forward", "motor_vehicle:backward",
                                  "motor_vehicle:conditional"};
constexpr AccessKey vehicle_key{"vehicle", "vehicle:forward", "vehicle:backward", "vehicle:conditional"};

// Narrowest first. OSM wiki, Key:access, "Transport mode restrictions".
constexpr std::array light_keys{motorcar, motor_vehicle, vehicle_key, access_for_all};
constexpr std::array heavy_keys{hgv, motor_vehicle, vehicle_key, access_for_all};

std::optional<Access> meaning_of(std::string_view value) {
    const std::string lower = lower_case(trimmed(value));
    const auto row = std::find_if(values.begin(), values.end(), [&](const AccessValue& v) { return v.value == lower; });
    return row == values.end() ? std::nullopt : std::optional{row->access};
}

/// The most open of a list "agricultural;destination".
Access read_values(std::string_view text, Remarks& remarks) {
    Access best = Access::forbidden;
    for (const std::string_view item : split_list(text, ";,|")) {
        const auto access = meaning_of(item);
        if (!access)
            remarks.push_back("access values not understood: taken as closed");
        best = std::min(best, access.value_or(Access::forbidden));
    }
    return best;
}

/// What the conditions of `text` make of the ruling so far.
void apply_conditions(std::string_view text, bool by_mode_key, const Vehicle& vehicle, AccessRuling& ruling,
                      Remarks& remarks) {
    for (ConditionalClause& clause : read_conditional(text, vehicle)) {
        const auto access = meaning_of(clause.value);
        if (clause.holds == Truth::unreadable || !access) {
            remarks.push_back("access conditions not understood: taken as closed");
            ruling.access = Access::forbidden;
            ruling.at_hours.clear();
            ruling.doubtful = true;
            return;
        }
        if (clause.holds == Truth::yes) {
            ruling.access = access;
            ruling.at_hours.clear();
        } else if (clause.holds == Truth::at_times) {
            ruling.at_hours.push_back({*access, by_mode_key, std::move(clause.times)});
        } else if (clause.holds == Truth::unknown && *access != ruling.access.value_or(Access::open)) {
            remarks.push_back("access conditions that can't be proved: sign must be checked");
            ruling.doubtful = true;
        }
    }
}

/// `goods` binds some vans, depending on how they are registered.
bool may_forbid_goods(const Tags& tags, const Vehicle& vehicle) {
    if (meaning_of(tags["goods"]) == Access::forbidden)
        return true;
    if (!tags.has("goods:conditional"))
        return false;
    const auto clauses = read_conditional(tags["goods:conditional"], vehicle);
    return std::any_of(clauses.begin(), clauses.end(), [](const ConditionalClause& clause) {
        return clause.holds != Truth::no && meaning_of(clause.value).value_or(Access::forbidden) == Access::forbidden;
    });
}

} // namespace

bool is_heavy(const Vehicle& vehicle) {
    return vehicle.weight && vehicle.weight->value > 3.5;
}

AccessRuling read_access_keys(const Tags& tags, std::span<const AccessKey> keys, Direction direction,
                              const Vehicle& vehicle, Remarks& remarks) {
    AccessRuling all;
    for (const AccessKey& key : keys) {
        AccessRuling own;
        const std::string_view directed_key = direction == Direction::forward ? key.forward : key.backward;
        const std::string_view directed = tags[directed_key];
        const std::string_view value = directed.empty() ? tags[key.plain] : directed;
        if (!value.empty())
            own.access = read_values(value, remarks);
        if (tags.has(key.conditional))
            apply_conditions(tags[key.conditional], !key.for_all, vehicle, own, remarks);
        if (const std::string conditional = std::string(directed_key) + ":conditional"; tags.has(conditional))
            apply_conditions(tags[conditional], !key.for_all, vehicle, own, remarks);
        // What a narrower key says of some hours goes over all that this one says.
        all.at_hours.insert(all.at_hours.begin(), std::make_move_iterator(own.at_hours.begin()),
                            std::make_move_iterator(own.at_hours.end()));
        all.doubtful |= own.doubtful;
        if (!own.access)
            continue;
        all.access = own.access;
        all.by_mode_key = !key.for_all;
        break;
    }
    return all;
}

AccessRuling read_access(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks) {
    AccessRuling ruling =
        read_access_keys(tags, is_heavy(vehicle) ? heavy_keys : light_keys, direction, vehicle, remarks);
    if (!is_heavy(vehicle) && ruling.access != Access::forbidden && may_forbid_goods(tags, vehicle)) {
        remarks.push_back("closed to goods vehicles: sign must be checked");
        ruling.doubtful = true;
    }
    if (lower_case(tags["access"]) == "discouraged" || lower_case(tags["motor_vehicle"]) == "discouraged")
        ruling.doubtful = true;
    return ruling;
}

} // namespace routing::roads
