#include "regions/places.hpp"

#include "regions/by_roads.hpp"

#include <array>
#include <cmath>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace regions {
namespace {

/// How a place is mapped.
enum class Shape { point, outline, with_court };

struct Trade {
    std::string_view code; ///< letter used in the villages' lists below
    std::string_view key, value;
    std::string_view name; ///< the tongue's word for it
};

constexpr std::array trades{
    Trade{"r", "amenity", "restaurant", "Yorrel"}, Trade{"c", "amenity", "cafe", "Kipa"},
    Trade{"f", "amenity", "fast_food", "Snavv"},   Trade{"b", "amenity", "pub", "Brask"},
    Trade{"k", "shop", "bakery", "Pelm"},          Trade{"s", "shop", "supermarket", "Forrad"},
    Trade{"h", "tourism", "hotel", "Ostruin"},     Trade{"g", "tourism", "guest_house", "Lojven"},
    Trade{"o", "tourism", "hostel", "Vandrum"},    Trade{"a", "tourism", "apartment", "Heimva"},
    Trade{"m", "tourism", "camp_site", "Teltra"},  Trade{"u", "amenity", "fuel", "Naftor"},
    Trade{"e", "amenity", "charging_station", ""}, Trade{"H", "amenity", "hospital", "Medaur"},
    Trade{"C", "amenity", "clinic", "Medaul"},     Trade{"d", "amenity", "doctors", "Salvin"},
    Trade{"p", "amenity", "pharmacy", "Apotil"},   Trade{"P", "amenity", "parking", ""},
};

/// One letter a place; capitals keep their meaning, a following ' maps it as an outline, " with an inner court.
constexpr std::array<std::pair<std::string_view, std::string_view>, 10> villages_trades{{
    {"Tessary", "rrckbsu'hgpdP'"},
    {"Pelmary", "rcggP"},
    {"Istrume", "rckgaP"},
    {"Vennick", "rfcbk'sh'gupP'"},
    {"Ombrask", "rcgm'P"},
    {"Morvane", "rrr'ckbsu'hh\"ggpdP'P"},
    {"Harrobel", "rrrcccffbkks'su'eh\"h'ggoaH'Cpp'P'P'P"},
    {"Lundeck", "rcbgP"},
    {"Quillasp", "rck'guP"},
    {"Glaevin", "rgP"},
}};

constexpr std::array<std::string_view, 12> meal_hours{
    "Mo-Su 11:30-14:30,18:00-22:00",
    "Tu-Su 12:00-22:00",
    "Mo-Fr 11:00-15:00; Sa-Su 11:00-21:00",
    "We off; Mo-Su 11:30-21:30",
    "Mo-Sa 10:00-18:00; PH off",
    "Tu-Th 17:00-23:00; Fr-Sa 12:00-02:00",
    "11:30-14:00, 17:30+",
    "Apr-Oct: Mo-Su 11:00-22:00; Nov-Mar: Fr-Su 12:00-20:00",
    "Mo-Fr 08:30-17:00, Sa 09:00-14:00",
    "sunrise-sunset",
    "Mo[1] off; Mo-Su 12:00-14:00,18:30-21:00",
    "24/7",
};
constexpr std::array<std::string_view, 5> shop_hours{
    "Mo-Sa 08:00-19:00", "Mo-Fr 07:00-13:00,15:00-18:30; Sa 07:00-13:00", "Mo-Su 06:30-12:00", "Mo-Fr 8-18; Sa 9-13",
    "Mo-Sa 08:00-20:00; Su,PH 09:00-12:00"};

class Settler {
public:
    Settler(MapDraft& map, NameBook& names) : map_(map), names_(names) {
        for (const auto& [id, way] : map.ways())
            if (is_road(way))
                roads_.push_back(map.line_of(way));
    }

    void settle(const Village& village, std::string_view list) {
        for (std::size_t i = 0; i < list.size(); ++i) {
            Shape shape = Shape::point;
            const std::string_view code = list.substr(i, 1);
            if (i + 1 < list.size() && (list[i + 1] == '\'' || list[i + 1] == '"'))
                shape = list[++i] == '"' ? Shape::with_court : Shape::outline;
            for (const Trade& trade : trades)
                if (trade.code == code)
                    build(village, trade, shape);
        }
    }

    /// A rectangle of `half_wide` x `half_deep` metres about a spot, first corner repeated.
    std::vector<NodeId> rectangle(Spot centre, Spot along, double half_wide, double half_deep) {
        std::vector<NodeId> ring;
        for (const auto& [x, y] : {std::pair{-1.0, -1.0}, {1.0, -1.0}, {1.0, 1.0}, {-1.0, 1.0}})
            ring.push_back(map_.add_node(centre + (x * half_wide) * along + (y * half_deep) * left_of(along)));
        ring.push_back(ring.front());
        return ring;
    }

private:
    struct Plot {
        Spot at;
        Spot along; ///< the street's direction
    };

    /// A free plot beside a street of the village.
    Plot find_plot(const Village& village, double half_wide, double half_deep) {
        for (int attempt = 0; attempt < 4000; ++attempt) {
            const std::size_t which = dice_.below(village.corners.size());
            const auto corner = std::next(village.corners.begin(), static_cast<std::ptrdiff_t>(which));
            // Trade gathers about the centre.
            const double far = std::abs(corner->first.first - village.middle()) + std::abs(corner->first.second);
            if (dice_.chance(far / 9.0))
                continue;
            const bool along_row = dice_.chance(0.5);
            const auto next =
                village.corners.find(along_row ? std::pair{corner->first.first + 1, corner->first.second}
                                               : std::pair{corner->first.first, corner->first.second + 1});
            if (next == village.corners.end())
                continue;
            const Spot from = map_.node(corner->second).at;
            const Spot to = map_.node(next->second).at;
            const Spot along = unit(to - from);
            const double share = dice_.between(0.3, 0.7);
            const double side = dice_.chance(0.5) ? 1.0 : -1.0;
            const Spot at = between(from, to, share) + (side * (half_deep + 8.0)) * left_of(along);
            if (is_free(at, std::sqrt(half_wide * half_wide + half_deep * half_deep) + 3.0)) {
                taken_.push_back(at);
                return {at, along};
            }
        }
        throw std::logic_error("no free plot in " + village.name);
    }

    bool is_free(Spot at, double radius) const {
        for (const Spot other : taken_)
            if (distance(other, at) < radius + 14.0)
                return false;
        for (const Line& road : roads_)
            if (nearest_on(road, at).away < std::min(radius, 9.0))
                return false;
        return true;
    }

    TagMap tags_of(const Village& village, const Trade& trade) {
        TagMap tags{{std::string(trade.key), std::string(trade.value)}};
        if (!trade.name.empty())
            tags["name"] = names_.house(trade.name);
        const std::string value(trade.value);
        if (value == "restaurant" || value == "cafe" || value == "fast_food" || value == "pub") {
            tags["opening_hours"] = meal_hours[served_++ % meal_hours.size()];
            if (value == "restaurant")
                tags["cuisine"] = served_ % 2 == 0 ? "fish" : "regional;fish";
        } else if (trade.key == "shop" || value == "pharmacy") {
            tags["opening_hours"] = shop_hours[shops_++ % shop_hours.size()];
        } else if (value == "fuel") {
            tags["opening_hours"] = village.kind == "town" ? "24/7" : "Mo-Sa 07:00-20:00; Su 09:00-17:00";
            tags["fuel:diesel"] = "yes";
        } else if (value == "charging_station") {
            tags.insert({{"socket:type2", "2"}, {"opening_hours", "24/7"}});
        } else if (value == "hospital") {
            tags.insert({{"emergency", "yes"}, {"opening_hours", "24/7"}});
        } else if (value == "doctors" || value == "clinic") {
            tags["opening_hours"] = "Mo-Fr 08:00-12:00; We 14:00-17:00; SH off";
        } else if (value == "parking") {
            tags.insert({{"access", "yes"},
                         {"fee", village.kind == "town" ? "yes" : "no"},
                         {"capacity", "30"},
                         {"surface", "asphalt"}});
        } else if (value == "hotel") {
            tags.insert({{"rooms", "24"}, {"opening_hours", "24/7"}});
        } else if (value == "guest_house") {
            tags["rooms"] = std::to_string(4 + shops_ % 4);
        }
        if (value != "parking" && value != "charging_station")
            tags["phone"] = names_.phone();
        return tags;
    }

    void build(const Village& village, const Trade& trade, Shape shape) {
        TagMap tags = tags_of(village, trade);
        if (shape == Shape::point) {
            map_.add_node(find_plot(village, 5.0, 5.0).at, std::move(tags));
            return;
        }
        const bool large = trade.value == "hospital" || shape == Shape::with_court;
        const double wide = large ? 17.0 : 11.0;
        const double deep = large ? 13.0 : 8.0;
        const Plot plot = find_plot(village, wide, deep);
        const auto outer = rectangle(plot.at, plot.along, wide, deep);
        if (trade.value != "parking")
            tags["building"] = "yes";
        if (shape == Shape::outline) {
            map_.add_way(outer, std::move(tags));
            return;
        }
        const WayId outside = map_.add_way(outer, {});
        const WayId court = map_.add_way(rectangle(plot.at, plot.along, 6.0, 4.0), {});
        tags["type"] = "multipolygon";
        map_.add_relation({{'w', outside, "outer"}, {'w', court, "inner"}}, std::move(tags));
    }

    MapDraft& map_;
    NameBook& names_;
    Random dice_{41};
    std::vector<Line> roads_;
    std::vector<Spot> taken_;
    std::size_t served_ = 0;
    std::size_t shops_ = 0;
};

/// Places outside the villages, and one name that makes every writer escape.
void settle_lonely_places(MapDraft& map, const Terrain& terrain, NameBook& names, Settler& settler) {
    const SightSpots sights = sight_spots(terrain);
    const auto beside = [&](Spot near, double off) {
        const NodeId road = map.node_on_nearest(near, is_car_road);
        const Spot at = map.node(road).at;
        const Spot away = near == at ? Spot{1.0, 0.0} : unit(near - at);
        return at + off * away;
    };
    const auto phone = [&] { return names.phone(); };
    TagMap inn{{"amenity", "cafe"},
               {"name", "Ondë & Fîl \"Öst\" <kipa>"},
               {"opening_hours", "Fr-Su,PH 10:00-17:00 \"when the flag is up\""}};
    inn["phone"] = phone();
    map.add_node(beside(terrain.pass() + Spot{40.0, -30.0}, 22.0), std::move(inn));
    TagMap hut{{"tourism", "alpine_hut"}, {"name", "Dorn Hutta"}, {"opening_hours", "Jun-Sep"}};
    hut["phone"] = phone();
    map.add_node(beside(sights.tarn + Spot{60.0, 40.0}, 25.0), std::move(hut));
    TagMap room{{"tourism", "guest_house"}, {"name", "Lojven Ilvet"}, {"rooms", "3"}};
    room["phone"] = phone();
    map.add_node(Spot{20480.0, -7365.0}, std::move(room));
    TagMap stall{{"amenity", "cafe"}, {"name", "Kipa Ilvet"}, {"opening_hours", "May-Sep 10:00-16:00"}};
    stall["phone"] = phone();
    map.add_node(Spot{20290.0, -7420.0}, std::move(stall));
    TagMap camp{{"tourism", "camp_site"}, {"name", "Teltra Dunn"}, {"opening_hours", "Apr-Oct"}};
    camp["phone"] = phone();
    map.add_way(settler.rectangle(beside(sights.dunes, 60.0), {1.0, 0.0}, 55.0, 35.0), std::move(camp));
    map.add_node(beside(sights.chapel, 30.0), {{"disused:amenity", "restaurant"}, {"name", "Yorrel Vannë"}});

    // Where the van is left.
    for (const Spot spot : {sights.cove - Spot{480.0, 330.0}, sights.arch + Spot{520.0, -90.0},
                            sights.bird_cliff - Spot{350.0, -120.0}, sights.quarry + Spot{90.0, 60.0}})
        map.add_node(
            beside(spot + Spot{15.0, 15.0}, 14.0),
            {{"amenity", "parking"}, {"access", "yes"}, {"fee", "no"}, {"capacity", "8"}, {"surface", "gravel"}});
    map.add_way(settler.rectangle(beside(terrain.pass() + Spot{-80.0, 20.0}, 28.0), {0.0, 1.0}, 18.0, 9.0),
                {{"amenity", "parking"},
                 {"access", "yes"},
                 {"capacity", "20"},
                 {"name", "Harne Ossel"},
                 {"maxstay", "12 hours"}});
    for (const Spot spot : {Spot{-1200.0, 2400.0}, Spot{-8400.0, -2300.0}, Spot{-2600.0, -1900.0}})
        map.node(map.node_on_nearest(spot, is_car_road)).tags.insert({{"highway", "trailhead"}});
}

} // namespace

void settle_places(MapDraft& map, const Terrain& terrain, NameBook& names, const std::vector<Village>& villages) {
    Settler settler(map, names);
    for (const auto& [village, list] : villages_trades)
        settler.settle(village_named(villages, village), list);
    settle_lonely_places(map, terrain, names, settler);
}

} // namespace regions
