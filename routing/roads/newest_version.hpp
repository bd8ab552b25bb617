#pragma once
/// Files that hold an object more than once: histories, and neighbouring extracts joined. The newest version counts.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/osm_file.hpp"

#include <algorithm>
#include <cstdint>
#include <vector>

namespace routing::roads {

/// Watches whether ids rise from object to object; while they do, none can be there twice.
class RisingIds {
public:
    void see(OsmId id) {
        if (seen_ && id <= last_)
            rising_ = false;
        last_ = id;
        seen_ = true;
    }
    bool rising() const { return rising_; }

private:
    OsmId last_ = 0;
    bool seen_ = false;
    bool rising_ = true;
};

/// An object picked in a pass, with what decides between it and others of its id.
template <class Object>
struct Picked {
    std::uint32_t version = 0; ///< 0 when the file has no versions; then the first one in the file is kept
    Object object;
};

struct NewestVersion {
    std::uint32_t version = 0;
    bool deleted = false;
    std::uint32_t times = 0; ///< how often the id stands in the file
};

/// Newest version in the file of each of `ids` (sorted, each once), beside it.
std::vector<NewestVersion> newest_versions(const OsmFile& file, osmium::osm_entity_bits::type kind,
                                           const std::vector<OsmId>& ids);

/// Sorts by id and keeps of each id the newest version; drops it when a version that was not picked (it lost its tags,
/// or is deleted) is newer still. `repeated` grows by the surplus.
template <class Object>
std::vector<Object> keep_newest(std::vector<Picked<Object>> picked, const RisingIds& ids, const OsmFile& file,
                                osmium::osm_entity_bits::type kind, std::uint64_t& repeated) {
    std::vector<NewestVersion> newest;
    std::vector<OsmId> sorted_ids;
    if (!ids.rising()) {
        std::stable_sort(picked.begin(), picked.end(), [](const auto& a, const auto& b) {
            return a.object.id != b.object.id ? a.object.id < b.object.id : a.version > b.version;
        });
        for (const auto& one : picked)
            if (sorted_ids.empty() || sorted_ids.back() != one.object.id)
                sorted_ids.push_back(one.object.id);
        newest = newest_versions(file, kind, sorted_ids);
    }
    std::vector<Object> kept;
    kept.reserve(picked.size());
    std::size_t rank = 0;
    for (auto& one : picked) {
        if (!ids.rising()) {
            if (!kept.empty() && kept.back().id == one.object.id)
                continue;
            while (sorted_ids[rank] != one.object.id)
                ++rank;
            const NewestVersion& top = newest[rank];
            repeated += top.times > 0 ? top.times - 1 : 0;
            newest[rank].times = 0; // counted
            if (top.version > one.version || top.deleted)
                continue;
        }
        kept.push_back(std::move(one.object));
    }
    return kept;
}

} // namespace routing::roads
