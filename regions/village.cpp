#include "regions/village.hpp"

#include "regions/random.hpp"

#include <array>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <stdexcept>

namespace regions {
namespace {

struct Site {
    const char* name;
    const char* kind;
    int population;
    Spot direction; ///< seen from the centre; for an inland village its place
    double from_sea;
    double level;
    int columns, rows_inland, rows_seaward;
    bool on_ring;
    const char* uphill_class;
};

constexpr std::array sites{
    Site{"Tessary", "village", 870, {0.13, 1.0}, 620, 24, 7, 3, 4, true, "secondary"},
    Site{"Pelmary", "village", 410, {0.66, 0.75}, 760, 30, 5, 2, 2, true, ""},
    Site{"Istrume", "village", 350, {1.0, 0.19}, 640, 22, 5, 2, 3, true, ""},
    Site{"Vennick", "village", 690, {1.0, -0.22}, 520, 14, 6, 3, 4, true, "secondary"},
    Site{"Ombrask", "village", 300, {0.52, -0.8}, 700, 20, 5, 2, 3, true, ""},
    Site{"Morvane", "village", 980, {-0.08, -1.0}, 540, 14, 7, 3, 4, true, "secondary"},
    Site{"Harrobel", "town", 2900, {-0.8, -0.62}, 640, 16, 9, 5, 5, true, "tertiary"},
    Site{"Lundeck", "village", 450, {-1.0, 0.0}, 640, 22, 5, 2, 3, true, ""},
    Site{"Quillasp", "village", 520, {-0.62, 0.66}, 620, 20, 6, 2, 3, true, ""},
    Site{"Glaevin", "village", 260, {-700.0, -5000.0}, 0, -1, 4, 2, 1, false, "tertiary"},
};

/// Names of streets are given out run by run; a village's seed settles its crooks.
class StreetPlan {
public:
    StreetPlan(MapDraft& map, const Terrain& terrain, NameBook& names, Village& village, std::uint64_t seed)
        : map_(map), terrain_(terrain), names_(names), village_(village), dice_(seed) {}

    void lay() {
        place_corners();
        lay_main_street();
        for (int row = -village_.rows_seaward; row <= village_.rows_inland; ++row)
            if (row != 0)
                lay_row(row);
        for (int column = 0; column < village_.columns; ++column)
            lay_column(column);
        map_.add_node(
            village_.centre,
            {{"place", village_.kind}, {"name", village_.name}, {"population", std::to_string(village_.population)}});
    }

private:
    void place_corners() {
        const double bend = dice_.between(-5.0, 5.0);
        for (int row = -village_.rows_seaward; row <= village_.rows_inland; ++row) {
            for (int column = 0; column < village_.columns; ++column) {
                const double off = column - village_.middle();
                const double crook = row == 0 ? 3.0 : 10.0;
                // One draw a statement: C++ leaves the order inside an expression to the compiler.
                const double along = block_along * off + dice_.between(-crook, crook);
                const double across = block_across * row + bend * off * off + dice_.between(-crook, crook);
                const Spot at = village_.centre + along * village_.along + across * village_.inland;
                if (row == 0 || terrain_.inland(at).value > 35.0)
                    village_.corners[{column, row}] = map_.add_node(at);
            }
        }
    }

    NodeId stub(NodeId from, Spot direction, double far) { return map_.add_node(map_.node(from).at + far * direction); }

    void lay_main_street() {
        std::vector<NodeId> nodes;
        village_.entry = stub(village_.corners.at({0, 0}), -1.0 * village_.along, 150.0);
        village_.exit = stub(village_.corners.at({village_.columns - 1, 0}), village_.along, 150.0);
        nodes.push_back(village_.entry);
        for (int column = 0; column < village_.columns; ++column)
            nodes.push_back(village_.corners.at({column, 0}));
        nodes.push_back(village_.exit);
        TagMap tags{{"highway", village_.on_ring ? "primary" : "secondary"},
                    {"ref", village_.on_ring ? "O 1" : "O 2"},
                    {"name", "Vael " + village_.name},
                    {"maxspeed", village_.kind == "town" ? "40" : "50"},
                    {"surface", "asphalt"},
                    {"lit", "yes"},
                    {"lanes", "2"}};
        map_.add_way(std::move(nodes), std::move(tags));
    }

    TagMap street_tags() {
        TagMap tags{{"highway", "residential"}, {"surface", dice_.chance(0.75) ? "asphalt" : "paving_stones"}};
        if (village_.kind == "town")
            tags.insert({{"maxspeed", "30"}, {"zone:maxspeed", "OL:30"}});
        else if (dice_.chance(0.3))
            tags["maxspeed"] = "30";
        return tags;
    }

    void lay_run(const std::vector<NodeId>& nodes, TagMap tags) {
        if (nodes.size() >= 2)
            map_.add_way(nodes, std::move(tags));
    }

    void lay_row(int row) {
        std::vector<NodeId> run;
        TagMap tags = street_tags();
        tags["name"] = std::abs(row) >= 2 ? names_.lane() : names_.street();
        if (row == 1 && village_.columns >= 6)
            tags["highway"] = "living_street";
        if (row == -1 && village_.kind == "town") {
            // The old street of the stalls: on foot, deliveries in the morning.
            tags = {{"highway", "pedestrian"},
                    {"name", "Vael Merkass"},
                    {"surface", "sett"},
                    {"motor_vehicle", "delivery"},
                    {"foot", "designated"}};
        }
        for (int column = 0; column < village_.columns; ++column) {
            const auto found = village_.corners.find({column, row});
            const bool gap = std::abs(row) >= 2 && column > 0 && dice_.chance(0.15);
            if (found == village_.corners.end() || gap) {
                lay_run(run, tags);
                run.clear();
            }
            if (found != village_.corners.end())
                run.push_back(found->second);
        }
        lay_run(run, tags);
    }

    void lay_column(int column) {
        std::vector<NodeId> run;
        for (int row = -village_.rows_seaward; row <= village_.rows_inland; ++row) {
            const auto found = village_.corners.find({column, row});
            if (found != village_.corners.end())
                run.push_back(found->second);
        }
        TagMap tags = street_tags();
        tags["name"] = names_.street();
        if (column == village_.middle()) {
            village_.uphill_end = stub(run.back(), village_.inland, 120.0);
            village_.sea_end = run.front();
            run.push_back(village_.uphill_end);
            if (!village_.uphill_class.empty()) {
                tags["highway"] = village_.uphill_class;
                tags["maxspeed"] = "50";
                tags.erase("zone:maxspeed");
            }
        } else if (village_.columns >= 6 && column == village_.middle() - 1) {
            tags["oneway"] = "yes"; // inland
        } else if (village_.columns >= 6 && column == village_.middle() + 1) {
            tags["oneway"] = "-1"; // seaward, drawn the other way
        }
        lay_run(run, std::move(tags));
    }

    MapDraft& map_;
    const Terrain& terrain_;
    NameBook& names_;
    Village& village_;
    Random dice_;
};

} // namespace

std::vector<Village> found_villages(Terrain& terrain) {
    std::vector<Village> villages;
    for (const Site& site : sites) {
        Village village;
        village.name = site.name;
        village.kind = site.kind;
        village.population = site.population;
        village.columns = site.columns;
        village.rows_inland = site.rows_inland;
        village.rows_seaward = site.rows_seaward;
        village.on_ring = site.on_ring;
        village.uphill_class = site.uphill_class;
        if (site.on_ring) {
            village.centre = terrain.landfall(site.direction, {site.from_sea});
            village.inland = -1.0 * unit(site.direction);
            village.along = left_of(village.inland);
        } else {
            // The pass road comes down along it, so its main street runs with the valley.
            village.centre = site.direction;
            village.along = Spot{0.0, -1.0};
            village.inland = Spot{-1.0, 0.0};
        }
        villages.push_back(std::move(village));
    }
    for (std::size_t i = 0; i < villages.size(); ++i)
        terrain.add_pad(villages[i].centre, {sites[i].on_ring ? 560.0 : 330.0}, {sites[i].level});
    return villages;
}

void lay_streets(MapDraft& map, const Terrain& terrain, NameBook& names, Village& village, std::uint64_t seed) {
    StreetPlan(map, terrain, names, village, seed).lay();
}

const Village& village_named(const std::vector<Village>& villages, std::string_view name) {
    for (const Village& village : villages)
        if (village.name == name)
            return village;
    throw std::logic_error("no village of that name");
}

} // namespace regions
