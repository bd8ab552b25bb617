#pragma once
/// Where the posts of an elevation grid stand: rows from north to south, columns from west to east, even steps in
/// degrees.
///
///     const geo::terrain::GridFrame frame{.west = 9_deg, .north = 48_deg, .step_east = {1.0 / 1200},
///                                         .step_south = {1.0 / 1200}, .columns = 1201, .rows = 1201};
///     frame.row_of(47.5_deg)   // 600
///
/// Places within a thousandth of a step of the outermost posts count as on them: corners come rounded in files.

#include "geo/coordinate.hpp"

#include <cmath>
#include <cstddef>

namespace geo::terrain {

struct GridFrame {
    Degrees west;       ///< of the first column, -180 <= west < 180
    Degrees north;      ///< of the first row
    Degrees step_east;  ///< between columns
    Degrees step_south; ///< between rows
    std::size_t columns = 0;
    std::size_t rows = 0;

    static constexpr double tolerance = 1e-3; ///< of a step

    Degrees east() const { return west + static_cast<double>(columns - 1) * step_east; } ///< may pass 180
    Degrees south() const { return north - static_cast<double>(rows - 1) * step_south; }
    /// Columns run all round the Earth: the first stands again beyond the last.
    bool goes_round() const { return static_cast<double>(columns) * step_east.value > 360.0 - 0.5 * step_east.value; }

    double row_of(Degrees latitude) const { return (north.value - latitude.value) / step_south.value; }
    /// From half a step west of the first column eastwards once round the Earth, so that +-180 is no border.
    double column_of(Degrees longitude) const {
        const double half_step = 0.5 * step_east.value;
        double offset = longitude.value - west.value;
        while (offset < -half_step)
            offset += 360.0;
        while (offset >= 360.0 - half_step)
            offset -= 360.0;
        return offset / step_east.value;
    }
    /// Where a post, or a place between posts, stands; longitude in -180..180.
    Coordinate place(double row, double column) const {
        const double longitude = west.value + column * step_east.value;
        return {{north.value - row * step_south.value},
                {longitude >= -180.0 && longitude <= 180.0 ? longitude : std::remainder(longitude, 360.0)}};
    }

    friend bool operator==(const GridFrame&, const GridFrame&) = default;
};

/// Inside 0..last, places within the tolerance moved onto the edge; anything else stays where it is.
constexpr double onto_edge(double position, double last) {
    if (position < 0.0 && position > -GridFrame::tolerance)
        return 0.0;
    if (position > last && position < last + GridFrame::tolerance)
        return last;
    return position;
}

} // namespace geo::terrain
