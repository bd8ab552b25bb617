#include "raw_rules.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace support {

namespace roads = routing::roads;

namespace {

using Texts = std::vector<std::string>;
const Texts motor_keys{"motorcar", "motor_vehicle", "vehicle", "access"};

bool among(const Texts& list, std::string_view text) {
    return std::find(list.begin(), list.end(), text) != list.end();
}

Texts items(std::string_view list) {
    Texts result;
    std::string item;
    for (const char letter : std::string(list) + ";")
        if (letter == ';') {
            result.push_back(item);
            item.clear();
        } else if (letter != ' ') {
            item += letter;
        }
    return result;
}

const roads::RoadWay* way_of(const roads::OsmExtract& extract, roads::OsmId id) {
    const auto way = std::lower_bound(extract.roads.begin(), extract.roads.end(), id,
                                      [](const roads::RoadWay& w, roads::OsmId wanted) { return w.id < wanted; });
    return way != extract.roads.end() && way->id == id ? &*way : nullptr;
}

class RestrictionReader {
public:
    RestrictionReader(const roads::OsmExtract& extract, const roads::RoadNetwork& network,
                      const std::set<roads::OsmId>& shut_nodes)
        : extract_(extract), network_(network), shut_nodes_(shut_nodes), ends_(edge_ends(network)) {
        for (Direction direction = 0; direction < 2 * network.edges.size(); ++direction) {
            const roads::Edge& edge = network.edges[direction / 2];
            if ((direction % 2 ? edge.backward : edge.forward) >= roads::closed)
                continue;
            of_way_[edge.way].push_back(direction);
            leaving_[start_of(ends_, direction)].push_back(direction);
        }
        for (std::uint32_t node = 0; node < network.node_count(); ++node)
            at_place_[{network.node_place[node].latitude.value, network.node_place[node].longitude.value}] =
                network.node_osm[node];
    }

    void read(const roads::Restriction& relation, TurnRules& rules) {
        const std::string kind = kind_of(relation);
        const bool only = kind.starts_with("only_");
        if (!only && !kind.starts_with("no_"))
            return;
        std::vector<roads::OsmId> from, via, to, via_nodes;
        for (const roads::RestrictionMember& member : relation.members) {
            if (member.role == "via" && member.object.type == roads::OsmType::node)
                via_nodes.push_back(member.object.id);
            else if (member.object.type == roads::OsmType::way)
                (member.role == "from"  ? from
                 : member.role == "to"  ? to
                 : member.role == "via" ? via
                                        : ignored_)
                    .push_back(member.object.id);
        }
        for (const auto* ways : {&from, &via, &to})
            for (const roads::OsmId way : *ways)
                if (!way_of(extract_, way))
                    return;
        if (from.empty() || to.empty() || via_nodes.size() + (via.empty() ? 0 : 1) != 1 ||
            (from.size() > 1 && kind != "no_entry") || (to.size() > 1 && kind != "no_exit"))
            return;
        for (const roads::OsmId way : from)
            for (const Direction arrival : of_way_[way]) {
                const roads::OsmId node = end_of(ends_, arrival);
                if (ends_way(way, node) && (via_nodes.empty() || node == junction(via_nodes.front())))
                    follow({arrival}, via, to, only, rules);
            }
    }

private:
    static std::string kind_of(const roads::Restriction& relation) {
        for (const std::string& mode : items(relation.tags["except"]))
            if (among(motor_keys, mode))
                return "";
        for (const char* key :
             {"restriction:motorcar", "restriction:motor_vehicle", "restriction:vehicle", "restriction"}) {
            if (relation.tags.has(key))
                return std::string(relation.tags[key]);
            if (relation.tags.has(std::string(key) + ":conditional"))
                throw std::logic_error("restriction under a condition: " + std::to_string(relation.id));
        }
        return "";
    }

    /// Node ids that lie on one spot can stand for each other.
    roads::OsmId junction(roads::OsmId node) const {
        const auto place = extract_.place_of(node);
        const auto known = place ? at_place_.find({place->latitude.value, place->longitude.value}) : at_place_.end();
        return known == at_place_.end() ? node : known->second;
    }

    bool ends_way(roads::OsmId way, roads::OsmId node) const {
        const auto& nodes = way_of(extract_, way)->nodes;
        return !nodes.empty() && (junction(nodes.front()) == node || junction(nodes.back()) == node);
    }

    /// The two meet and no barrier stands between.
    bool passes(Direction before, Direction next) const {
        const roads::OsmId node = end_of(ends_, before);
        return start_of(ends_, next) == node && (next == (before ^ 1U) || !shut_nodes_.contains(node));
    }

    /// Drives over the via ways that are left, in any order that connects, then forbids.
    void follow(std::vector<Direction> driven, const std::vector<roads::OsmId>& left,
                const std::vector<roads::OsmId>& to, bool only, TurnRules& rules) {
        if (left.empty()) {
            forbid(driven, to, only, rules);
            return;
        }
        for (std::size_t i = 0; i < left.size(); ++i) {
            auto longer = driven;
            const auto& nodes = way_of(extract_, left[i])->nodes;
            // A closed loop does not say which way round is meant.
            if (!ends_way(left[i], end_of(ends_, driven.back())) || junction(nodes.front()) == junction(nodes.back()))
                continue;
            do {
                const auto& directions = of_way_[left[i]];
                const auto next = std::find_if(directions.begin(), directions.end(), [&](Direction direction) {
                    return passes(longer.back(), direction) && direction != (longer.back() ^ 1U);
                });
                if (next == directions.end())
                    break;
                longer.push_back(*next);
            } while (!ends_way(left[i], end_of(ends_, longer.back())));
            if (longer.size() == driven.size() || !ends_way(left[i], end_of(ends_, longer.back())))
                continue;
            auto fewer = left;
            fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
            follow(longer, fewer, to, only, rules);
        }
    }

    void forbid(const std::vector<Direction>& driven, const std::vector<roads::OsmId>& to, bool only,
                TurnRules& rules) {
        const roads::OsmId node = end_of(ends_, driven.back());
        std::vector<Direction> meant;
        for (const Direction exit : leaving_[node])
            for (const roads::OsmId way : to)
                if (network_.edges[exit / 2].way == way && ends_way(way, node) && passes(driven.back(), exit))
                    meant.push_back(exit);
        const auto add = [&](std::size_t length, Direction next) {
            rules.forbidden.emplace_back(driven.begin(), driven.begin() + static_cast<std::ptrdiff_t>(length));
            rules.forbidden.back().push_back(next);
        };
        if (!only)
            for (const Direction exit : meant)
                add(driven.size(), exit);
        if (!only || meant.empty())
            return;
        for (std::size_t length = 1; length <= driven.size(); ++length)
            for (const Direction exit : leaving_[end_of(ends_, driven[length - 1])])
                if (length < driven.size() ? exit != driven[length]
                                           : std::find(meant.begin(), meant.end(), exit) == meant.end())
                    add(length, exit);
    }

    const roads::OsmExtract& extract_;
    const roads::RoadNetwork& network_;
    const std::set<roads::OsmId>& shut_nodes_;
    EdgeEnds ends_;
    std::map<roads::OsmId, std::vector<Direction>> of_way_;
    std::map<roads::OsmId, std::vector<Direction>> leaving_;
    std::map<std::pair<double, double>, roads::OsmId> at_place_;
    std::vector<roads::OsmId> ignored_;
};

bool is_shut(const roads::Tags& tags) {
    const Texts passed{"cattle_grid", "entrance",   "toll_booth",   "border_control", "bump_gate", "height_restrictor",
                       "gate",        "swing_gate", "sliding_gate", "hampshire_gate", "kerb",      "width_restrictor",
                       "sally_port",  "wall",       "fence",        "hedge",          "no",        "retaining_wall",
                       "city_wall",   "ditch",      "guard_rail",   "handrail"};
    if (!tags.has("barrier") || tags["barrier"] == "no")
        return false;
    if (tags["locked"] == "yes")
        return true;
    for (const std::string& key : motor_keys)
        if (tags.has(key)) {
            const Texts values = items(tags[key]);
            return std::none_of(values.begin(), values.end(), [](const std::string& value) {
                return among({"yes", "designated", "official", "permissive", "destination", "customers"}, value);
            });
        }
    return !among(passed, tags["barrier"]);
}

/// A key whose finer forms (":forward", ":conditional" ...) are absent.
bool is_plain(const roads::Tags& tags, const std::string& key) {
    return std::none_of(tags.all().begin(), tags.all().end(),
                        [&](const auto& tag) { return tag.first.starts_with(key + ":"); });
}

std::string tag_fault(const roads::OsmExtract& extract, const roads::RoadNetwork& network, const roads::Edge& edge) {
    const roads::RoadWay* way = way_of(extract, edge.way);
    if (!way)
        return "is of no way in the file";
    std::vector<geo::Coordinate> line;
    for (const roads::OsmId node : way->nodes)
        if (const auto place = extract.place_of(node); place && (line.empty() || line.back() != *place))
            line.push_back(*place);
    const auto shape = network.shape_of(edge);
    if (std::search(line.begin(), line.end(), shape.begin(), shape.end()) == line.end())
        return "has a shape that is no run of the way's nodes in their order";
    const roads::Tags& tags = way->tags;
    if (is_plain(tags, "oneway")) {
        const std::string_view oneway = tags["oneway"];
        const bool implied = oneway.empty() && (tags["highway"] == "motorway" || tags["junction"] == "roundabout");
        if ((among({"yes", "true", "1"}, oneway) || implied) && edge.backward < roads::closed)
            return "can be driven against oneway";
        if (among({"-1", "reverse"}, oneway) && edge.forward < roads::closed)
            return "can be driven against oneway=-1";
    }
    const bool open = edge.forward < roads::closed || edge.backward < roads::closed;
    for (const std::string& key : motor_keys) {
        if (!is_plain(tags, key))
            return "";
        if (!tags.has(key))
            continue;
        if (open &&
            among({"no", "private", "agricultural", "forestry", "military", "emergency", "delivery", "permit", "psv"},
                  tags[key]))
            return "is open in spite of " + key + "=" + std::string(tags[key]);
        if (among({"destination", "customers"}, tags[key]) && open && !edge.destination_only)
            return "is open to all in spite of " + key + "=" + std::string(tags[key]);
        return "";
    }
    if (open && among({"footway", "path", "steps", "pedestrian", "cycleway", "bridleway", "corridor", "construction",
                       "proposed", "platform", "via_ferrata", "raceway", "busway"},
                      tags["highway"]))
        return "is open though a " + std::string(tags["highway"]);
    return "";
}

} // namespace

TurnRules raw_turn_rules(const roads::OsmExtract& extract, const roads::RoadNetwork& network) {
    TurnRules rules;
    for (const roads::RoadNode& node : extract.road_nodes)
        if (is_shut(node.tags))
            rules.shut_nodes.insert(node.id);
    RestrictionReader reader(extract, network, rules.shut_nodes);
    for (const roads::Restriction& relation : extract.restrictions)
        reader.read(relation, rules);
    return rules;
}

std::vector<std::string> tag_faults(const roads::OsmExtract& extract, const roads::RoadNetwork& network) {
    std::vector<std::string> faults;
    for (const roads::Edge& edge : network.edges)
        if (const std::string fault = tag_fault(extract, network, edge); !fault.empty())
            faults.push_back("an edge of way " + std::to_string(edge.way) + " " + fault);
    return faults;
}

} // namespace support
