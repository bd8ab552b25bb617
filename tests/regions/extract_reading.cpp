#include "tests/regions/extract_reading.hpp"

#include <osmium/handler.hpp>
#include <osmium/io/pbf_input.hpp>
#include <osmium/io/reader.hpp>
#include <osmium/visitor.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace regions_test {
namespace {

TagMap tags_of(const osmium::OSMObject& object) {
    TagMap tags;
    for (const osmium::Tag& tag : object.tags())
        tags.emplace(tag.key(), tag.value());
    return tags;
}

class Filler : public osmium::handler::Handler {
public:
    explicit Filler(Map& map) : map_(map) {}
    void node(const osmium::Node& node) {
        map_.nodes[node.id()] = {{node.location().y(), node.location().x()}, tags_of(node)};
    }
    void way(const osmium::Way& way) {
        Way& mine = map_.ways[way.id()];
        mine.tags = tags_of(way);
        for (const osmium::NodeRef& node : way.nodes())
            mine.nodes.push_back(node.ref());
    }
    void relation(const osmium::Relation& relation) {
        Relation& mine = map_.relations[relation.id()];
        mine.tags = tags_of(relation);
        for (const osmium::RelationMember& member : relation.members())
            mine.members.emplace_back(osmium::item_type_to_char(member.type()), member.ref(), member.role());
    }

private:
    Map& map_;
};

bool drives(const Way& way) {
    if (way.tag("highway") == "track")
        return way.tag("motor_vehicle") == "yes" &&
               (way.tag("tracktype") == "grade1" || way.tag("tracktype") == "grade2");
    static const std::set<std::string> classes{"primary",     "secondary",     "tertiary", "unclassified",
                                               "residential", "living_street", "service"};
    if (!classes.contains(way.tag("highway")))
        return false;
    if (way.tag("maxheight") == "2.4" || way.tag("access") == "private")
        return false;
    return way.tag("motor_vehicle").empty() && way.tag("vehicle").empty();
}

} // namespace

Map read_map(const std::filesystem::path& file) {
    Map map;
    Filler filler(map);
    osmium::io::Reader reader{file.string()};
    osmium::apply(reader, filler);
    reader.close();
    return map;
}

double metres_between(Point a, Point b) {
    const double north = static_cast<double>(b.latitude - a.latitude) * 1e-7 * 111161.1;
    const double east = static_cast<double>(b.longitude - a.longitude) * 1e-7 * 76762.7;
    return std::sqrt(north * north + east * east);
}

std::map<std::int64_t, std::vector<std::int64_t>> van_arcs(const Map& map) {
    std::map<std::int64_t, std::vector<std::int64_t>> arcs;
    for (const auto& [id, way] : map.ways) {
        const bool ferry = way.tag("route") == "ferry" && way.tag("motor_vehicle") == "yes";
        if (!ferry && !drives(way))
            continue;
        const std::string oneway = way.tag("junction") == "roundabout" ? "yes" : way.tag("oneway");
        for (std::size_t i = 0; i + 1 < way.nodes.size(); ++i) {
            const auto from = way.nodes[i];
            const auto to = way.nodes[i + 1];
            const auto barred = [&](std::int64_t node) {
                const auto found = map.nodes.find(node);
                return found == map.nodes.end() || found->second.tags.contains("barrier");
            };
            if (barred(from) || barred(to))
                continue;
            if (oneway != "-1")
                arcs[from].push_back(to);
            if (oneway != "yes")
                arcs[to].push_back(from);
        }
    }
    return arcs;
}

} // namespace regions_test
