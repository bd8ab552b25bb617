#include "routing/places/place.hpp"
#include "routing/places/same_place.hpp"

#include <algorithm>
#include <string_view>
#include <tuple>

namespace routing::places {

namespace {

using roads::Feature;
using roads::OsmType;
using roads::Tags;

/// One kind of one object.
struct Candidate {
    const Feature* feature = nullptr;
    PlaceKind kind{};
    std::string_view name; ///< tag `name`; empty when unnamed
};

/// Blank text counts as none.
std::string_view said(std::string_view text) {
    return text.find_first_not_of(" \t\r\n") == std::string_view::npos ? std::string_view{} : text;
}

/// Which object stands for the place: the multipolygon before the way before the node.
int rank(OsmType type) {
    switch (type) {
    case OsmType::relation:
        return 0;
    case OsmType::way:
        return 1;
    case OsmType::node:
        return 2;
    }
    return 3;
}

auto merging_order(const Candidate& c) {
    return std::tuple(c.kind, c.name, rank(c.feature->object.type), c.feature->object.id);
}

std::vector<Candidate> candidates_in(const std::vector<Feature>& features) {
    std::vector<Candidate> candidates;
    for (const Feature& feature : features)
        for (const PlaceKind kind : kinds_of(feature.tags))
            candidates.push_back({&feature, kind, said(feature.tags["name"])});
    std::sort(candidates.begin(), candidates.end(),
              [](const Candidate& a, const Candidate& b) { return merging_order(a) < merging_order(b); });
    return candidates;
}

/// Takes from the object's tags what the place does not know yet.
void learn(Place& place, const Tags& tags) {
    if (place.name.empty())
        place.name = said(tags["name"]);
    if (place.name.empty())
        place.name = said(tags["ref"]);
    if (place.opening_hours.empty())
        place.opening_hours = said(tags["opening_hours"]);
    if (place.phone.empty())
        place.phone = said(tags["phone"]);
    if (place.phone.empty())
        place.phone = said(tags["contact:phone"]);
    for (const char* key : {"website", "contact:website", "url"})
        if (place.website.empty())
            place.website = said(tags[key]);
    place.emergency |= place.kind == PlaceKind::hospital && tags["emergency"] == "yes";
}

/// The places of a run of candidates of one kind and name, in merging order.
void merge_run(const std::vector<Candidate>& run, std::vector<Place>& places) {
    std::vector<const Feature*> features;
    features.reserve(run.size());
    for (const Candidate& candidate : run)
        features.push_back(candidate.feature);
    const auto closeness = run.front().name.empty() ? Closeness::inside : Closeness::inside_or_beside;
    const auto pairs = same_place_pairs(features, closeness);

    constexpr auto nothing = static_cast<std::size_t>(-1);
    std::vector<std::size_t> place_of(run.size(), nothing); // of those that stand for their place
    auto pair = pairs.begin();
    for (std::size_t i = 0; i < run.size(); ++i) {
        std::size_t stands_for_it = nothing;
        for (; pair != pairs.end() && pair->first == i; ++pair)
            if (stands_for_it == nothing && pair->second < i)
                stands_for_it = place_of[pair->second];
        if (stands_for_it == nothing) {
            place_of[i] = places.size();
            stands_for_it = place_of[i];
            Place& place = places.emplace_back();
            place.object = features[i]->object;
            place.kind = run[i].kind;
            place.at = features[i]->at;
        }
        learn(places[stands_for_it], features[i]->tags);
    }
}

} // namespace

bool is_place(const Tags& tags) {
    return !kinds_of(tags).empty();
}

std::vector<Place> find_places(const roads::OsmExtract& extract) {
    const std::vector<Candidate> candidates = candidates_in(extract.features);
    std::vector<Place> places;
    for (auto begin = candidates.begin(); begin != candidates.end();) {
        const auto end = std::find_if(begin, candidates.end(), [begin](const Candidate& c) {
            return c.kind != begin->kind || c.name != begin->name;
        });
        merge_run({begin, end}, places);
        begin = end;
    }
    for (Place& place : places)
        if (place.name.empty())
            place.name = "unnamed " + std::string(in_words(place.kind));
    std::sort(places.begin(), places.end(),
              [](const Place& a, const Place& b) { return std::tie(a.object, a.kind) < std::tie(b.object, b.kind); });
    return places;
}

std::vector<Place> serving(Need need, const std::vector<Place>& places) {
    std::vector<Place> found;
    std::copy_if(places.begin(), places.end(), std::back_inserter(found),
                 [need](const Place& place) { return need_of(place.kind) == need; });
    std::stable_partition(found.begin(), found.end(), [](const Place& place) { return place.emergency; });
    return found;
}

} // namespace routing::places
