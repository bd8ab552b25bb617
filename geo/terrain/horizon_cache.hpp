#pragma once
/// Horizons kept in files, so that tiles are opened only when a place is new or a tile has changed.
///
///     geo::terrain::HorizonCache horizons({"N47E009.hgt"}, "beside/the/region");
///     if (const auto horizon = horizons.at(arch)) ...
///     if (!horizons.trouble().empty()) warn(horizons.trouble());   // could not be kept; the answer is right all the
///     same
///
/// One small file a place, bound to the place, the settings, the way of reckoning and every tile (size and time of
/// change; where the time differs, the content's checksum). A file that is stale, cut short or broken is made again
/// without a word. Files are replaced whole (`geo/replace_file.hpp`), so several programs may use one folder.

#include "geo/file_identity.hpp"
#include "geo/terrain/horizon.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace geo::terrain {

class HorizonCache {
public:
    /// Without a folder nothing is kept. Opens no file.
    HorizonCache(std::vector<std::filesystem::path> tiles, std::optional<std::filesystem::path> folder,
                 HorizonSettings settings = {}, SheetSettings sheet_settings = {});

    /// Nothing where the ground is unknown. Throws InputError when a tile is needed and can't be read,
    /// std::domain_error for an invalid coordinate.
    std::optional<HorizonProfile> at(Coordinate place);

    /// Opened the first time it is asked for. Throws InputError.
    const ElevationSheet& sheet();
    bool sheet_is_open() const { return sheet_.has_value(); }

    /// Why a horizon could not be kept, or "".
    const std::string& trouble() const { return trouble_; }

    /// Where a place's horizon is kept; nothing without a folder.
    std::optional<std::filesystem::path> file_for(Coordinate place) const;

private:
    struct Tile {
        std::filesystem::path file;
        std::optional<FileIdentity> seen; ///< checksum 0 until it is needed

        bool is_same(const FileIdentity& then);
    };

    std::optional<std::optional<HorizonProfile>> kept(const std::filesystem::path& file, Coordinate place);
    void keep(const std::filesystem::path& file, Coordinate place, const std::optional<HorizonProfile>& horizon);

    std::vector<Tile> tiles_;
    std::optional<std::filesystem::path> folder_;
    HorizonSettings settings_;
    SheetSettings sheet_settings_;
    std::optional<ElevationSheet> sheet_;
    std::string trouble_;
};

} // namespace geo::terrain
