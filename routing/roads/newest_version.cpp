#include "routing/roads/newest_version.hpp"

namespace routing::roads {

std::vector<NewestVersion> newest_versions(const OsmFile& file, osmium::osm_entity_bits::type kind,
                                           const std::vector<OsmId>& ids) {
    std::vector<NewestVersion> newest(ids.size());
    if (ids.empty())
        return newest;
    file.for_each(kind, [&](const osmium::OSMObject& object) {
        const auto found = std::lower_bound(ids.begin(), ids.end(), object.id());
        if (found == ids.end() || *found != object.id())
            return;
        NewestVersion& top = newest[static_cast<std::size_t>(found - ids.begin())];
        if (top.times == 0 || object.version() > top.version) {
            top.version = object.version();
            top.deleted = object.deleted();
        }
        ++top.times;
    });
    return newest;
}

} // namespace routing::roads
