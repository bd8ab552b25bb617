#include "regions/roads.hpp"

#include "regions/by_roads.hpp"
#include "regions/random.hpp"
#include "regions/way_finder.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace regions {
namespace {

std::string coordinate_text(Spot spot) {
    const geo::Coordinate place = to_coordinate(spot);
    return std::to_string(place.latitude.value) + ", " + std::to_string(place.longitude.value);
}

class RoadPlanner {
public:
    RoadPlanner(MapDraft& map, const Terrain& terrain, NameBook& names, std::vector<Village>& villages)
        : map_(map), terrain_(terrain), names_(names), villages_(villages), finder_(terrain) {
        for (const auto& [id, way] : map.ways())
            if (is_road(way))
                finder_.occupy(map.line_of(way));
    }

    void lay_ring() {
        std::vector<const Village*> ring;
        for (const Village& village : villages_)
            if (village.on_ring)
                ring.push_back(&village);
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Village& here = *ring[i];
            const Village& next = *ring[(i + 1) % ring.size()];
            const TagMap tags{{"highway", "primary"},
                              {"ref", "O 1"},
                              {"name", "Lorm Anval"},
                              {"surface", "asphalt"},
                              {"maxspeed", i % 3 == 1 ? "70" : "80"},
                              {"lanes", "2"}};
            const WayId leg = lay(here.exit, next.entry, main_road, tags);
            if (here.name == "Lundeck")
                dig_tunnel(leg);
        }
    }

    void lay_pass() {
        const Village& north = village_named(villages_, "Tessary");
        const Village& upper = village_named(villages_, "Glaevin");
        const Village& south = village_named(villages_, "Morvane");
        const NodeId saddle = map_.add_node(terrain_.pass(), {{"mountain_pass", "yes"}, {"name", "Harne Ossel"}});
        map_.node(saddle).tags["ele"] = std::to_string(static_cast<int>(terrain_.height(terrain_.pass()).value + 0.5));
        const TagMap tags{{"highway", "secondary"},
                          {"ref", "O 2"},
                          {"name", "Lorm Ossel"},
                          {"surface", "asphalt"},
                          {"winter_service", "no"},
                          {"description", "steep bends on the north side; fog and snow from November to March"}};
        lay(north.uphill_end, saddle, pass_road, tags);
        lay(saddle, upper.entry, pass_road, tags);
        lay(upper.exit, south.uphill_end, side_road, tags);
    }

    void lay_valley_roads() {
        const Village& west = village_named(villages_, "Harrobel");
        const Village& east = village_named(villages_, "Vennick");
        // Over the moor: the direct way from the town to the pass.
        const TagMap tags{{"highway", "tertiary"},
                          {"ref", "O 3"},
                          {"name", "Lorm Weskan"},
                          {"surface", "asphalt"},
                          {"maxspeed", "60"}};
        const NodeId moor = map_.add_node({-3300.0, -3000.0});
        const NodeId moor_end =
            map_.node_on_nearest({-200.0, -2700.0}, [](const Way& way) { return way.tag("ref") == "O 2"; });
        lay(west.uphill_end, moor, pass_road, tags);
        lay(moor, moor_end, side_road, tags);
        lay_to(east.uphill_end, {11900.0, -3900.0}, side_road,
               {{"highway", "secondary"}, {"ref", "O 4"}, {"name", "Lorm Ruvane"}, {"surface", "asphalt"}});
    }

    void lay_by_roads() {
        for (const ByRoad& road : by_roads(terrain_)) {
            const bool on_foot = !is_car_road(Way{{}, road.tags});
            const auto wanted = [&](const Way& way) { return on_foot ? is_road(way) : is_car_road(way); };
            const NodeId from = map_.node_on_nearest(road.from, wanted);
            TagMap tags = road.tags;
            if (!road.name.empty())
                tags["name"] = road.name;
            if (road.joins)
                lay(from, map_.node_on_nearest(road.to, is_car_road), road.style, tags);
            else
                lay_to(from, road.to, road.style, tags);
        }
    }

    /// Lanes and tracks to farms on the low ground.
    void lay_farm_lanes() {
        Random dice{23};
        int laid = 0;
        while (laid < 34) {
            const double east = dice.between(-17000.0, 17000.0);
            const double north = dice.between(-11000.0, 11000.0);
            const Spot farm{east, north};
            const double height = terrain_.height(farm).value;
            if (terrain_.inland(farm).value < 150.0 || height > 260.0)
                continue;
            const NodeId near = *map_.nearest_node(farm, is_car_road);
            const double away = distance(map_.node(near).at, farm);
            if (away < 500.0 || away > 1900.0)
                continue;
            const NodeId from = map_.node_on_nearest(farm, is_car_road);
            const auto line = finder_.find(map_.node(from).at, farm, side_road);
            if (!line)
                continue;
            TagMap tags;
            if (laid % 3 == 0)
                tags = {{"highway", "unclassified"}, {"surface", "asphalt"}, {"width", "3"}};
            else if (laid % 3 == 1)
                tags = {{"highway", "track"}, {"tracktype", laid % 2 == 0 ? "grade2" : "grade3"}};
            else
                tags = {{"highway", "service"}, {"surface", "gravel"}, {"service", "driveway"}};
            if (laid % 3 == 0)
                tags["name"] = names_.lane();
            lay_along(*line, from, map_.add_node(farm), std::move(tags));
            ++laid;
        }
    }

    void lay_streams() {
        const std::pair<Spot, Spot> runs[]{{{-6500, -700}, {-7000, -11000}}, {{-1400, -300}, {-1700, -11500}},
                                           {{5800, 100}, {6000, -10500}},    {{1700, 2600}, {400, 11000}},
                                           {{-5700, 2700}, {-6600, 10800}},  {{10500, 500}, {15600, -2600}},
                                           {{11000, 4300}, {12000, 9600}},   {{-10500, -600}, {-12500, -9000}}};
        for (const auto& [spring, mouth] : runs) {
            const Spot outlet = terrain_.landfall(mouth, {40.0});
            const auto line = finder_without_roads().find(spring, outlet, stream);
            if (!line)
                throw std::logic_error("a stream finds no way to the sea");
            add_line(*line, {{"waterway", "stream"}, {"name", names_.word() + " Esk"}});
        }
    }

    void lay_islet() {
        const Village& port = village_named(villages_, "Vennick");
        // Quay road, ferry, and the islet's few roads.
        const Spot seaward = -1.0 * port.inland;
        const Spot start = map_.node(port.sea_end).at;
        const NodeId quay =
            map_.add_node(sea_edge(start, seaward), {{"amenity", "ferry_terminal"}, {"name", "Vennick Quay"}});
        map_.add_way({port.sea_end, quay},
                     {{"highway", "unclassified"}, {"name", "Vael Quay"}, {"surface", "concrete"}});
        const Spot islet{20300.0, -7450.0};
        const Spot back = unit(map_.node(quay).at - islet);
        const NodeId landing =
            map_.add_node(sea_edge(islet, back), {{"amenity", "ferry_terminal"}, {"name", "Ilvet Landing"}});
        const NodeId green = map_.add_node(islet);
        const NodeId light = map_.add_node(sight_spots(terrain_).lighthouse + Spot{60.0, 40.0});
        const Spot out = map_.node(quay).at;
        const Spot in = map_.node(landing).at;
        std::vector<NodeId> course{quay};
        for (const double share : {0.12, 0.35, 0.65, 0.9}) {
            const double bow = 900.0 * share * (1.0 - share);
            course.push_back(map_.add_node(between(out, in, share) + bow * left_of(unit(in - out))));
        }
        course.push_back(landing);
        map_.add_way(course, {{"route", "ferry"},
                              {"name", "Ilvet Ferry"},
                              {"duration", "00:25"},
                              {"interval", "01:00"},
                              {"motor_vehicle", "yes"},
                              {"foot", "yes"},
                              {"opening_hours", "Apr-Sep 07:00-21:00; Oct-Mar 08:00-18:00"}});
        map_.add_way({landing, green}, {{"highway", "unclassified"}, {"name", "Ask Ilvet"}, {"surface", "asphalt"}});
        const NodeId bend = map_.add_node(islet + Spot{150.0, 75.0});
        const NodeId row_end = map_.add_node(islet + Spot{330.0, 120.0});
        map_.add_way({green, bend, row_end}, {{"highway", "residential"}, {"name", "Vael Ilvet"}, {"maxspeed", "30"}});
        lay(green, light, farm_track,
            {{"highway", "track"}, {"tracktype", "grade1"}, {"motor_vehicle", "yes"}, {"name", "Ask Lampra"}});
        map_.add_node(islet + Spot{-40.0, 60.0}, {{"place", "hamlet"}, {"name", "Ilvet"}, {"population", "38"}});
    }

private:
    WayId lay(NodeId from, NodeId to, const RouteStyle& style, TagMap tags) {
        const auto line = finder_.find(map_.node(from).at, map_.node(to).at, style);
        if (!line)
            throw std::logic_error("no line for a " + tags["highway"] + " to " + coordinate_text(map_.node(to).at));
        return lay_along(*line, from, to, std::move(tags));
    }

    WayId lay_along(const Line& line, NodeId from, NodeId to, TagMap tags) {
        finder_.occupy(line);
        std::vector<NodeId> nodes{from};
        for (std::size_t i = 1; i + 1 < line.size(); ++i)
            nodes.push_back(map_.add_node(line[i]));
        nodes.push_back(to);
        return map_.add_way(std::move(nodes), std::move(tags));
    }

    WayId lay_to(NodeId from, Spot to, const RouteStyle& style, TagMap tags) {
        return lay(from, map_.add_node(to), style, std::move(tags));
    }

    WayId add_line(const Line& line, TagMap tags) {
        std::vector<NodeId> nodes;
        for (const Spot spot : line)
            nodes.push_back(map_.add_node(spot));
        return map_.add_way(std::move(nodes), std::move(tags));
    }

    /// Straight through the north-western headland, too low for a van: the ring is open for cars only.
    void dig_tunnel(WayId leg) {
        Way& way = map_.way(leg);
        const Line line = map_.line_of(way);
        std::size_t mouth = 1;
        for (std::size_t i = 1; i + 3 < line.size(); ++i)
            if (terrain_.height(line[i]).value > terrain_.height(line[mouth]).value)
                mouth = i;
        std::size_t far = mouth;
        while (far + 2 < line.size() && distance(line[mouth], line[far]) < 320.0)
            ++far;
        way.nodes.erase(way.nodes.begin() + static_cast<std::ptrdiff_t>(mouth) + 1,
                        way.nodes.begin() + static_cast<std::ptrdiff_t>(far));
        const auto behind = map_.split(leg, mouth + 1);
        const auto tunnel = map_.split(leg, mouth);
        if (!behind || !tunnel)
            throw std::logic_error("the tunnel has no room");
        TagMap& tags = map_.way(*tunnel).tags;
        tags.insert({{"tunnel", "yes"}, {"layer", "-1"}, {"maxheight", "2.4"}, {"tunnel:name", "Obrek Bore"}});
        tags["maxspeed"] = "50";
    }

    /// The last spot of land on the way out to sea.
    Spot sea_edge(Spot from, Spot direction) const {
        double far = 0.0;
        while (terrain_.is_land(from + (far + 5.0) * direction))
            far += 5.0;
        return from + far * direction;
    }

    const WayFinder& finder_without_roads() {
        if (!bare_finder_)
            bare_finder_.emplace(terrain_);
        return *bare_finder_;
    }

    MapDraft& map_;
    const Terrain& terrain_;
    NameBook& names_;
    std::vector<Village>& villages_;
    WayFinder finder_;
    std::optional<WayFinder> bare_finder_;
};

} // namespace

void lay_roads(MapDraft& map, const Terrain& terrain, NameBook& names, std::vector<Village>& villages) {
    RoadPlanner planner(map, terrain, names, villages);
    planner.lay_ring();
    planner.lay_pass();
    planner.lay_valley_roads();
    planner.lay_by_roads();
    planner.lay_islet();
    planner.lay_farm_lanes();
    planner.lay_streams();
}

} // namespace regions
