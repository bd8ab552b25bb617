#pragma once
/// Opening hours of some days as one short line, to compare with.
///
///     told("Fr 22:00-02:00; Sa 10:00-12:00+", "2027-05-14", 2) // "Fr 22:00-24:00, Sa 00:00-02:00?, Sa 10:00-12:00,
///     ..."
///
/// "?" unknown, "!" open unless it is a holiday. A stretch is cut at the edges of the days asked for, and shown with
/// its end's weekday when that is another: "Fr 22:00-Sa 02:00"; midnight is 24:00 of the day before.

#include "routing/hours/hours.hpp"

#include <string>
#include <string_view>

namespace hours_test {

/// Near Vaduz, summer time from 28 March to 31 October 2027, holidays not known.
routing::hours::Site valley();
/// As valley, with 2027 known: PH on 6 Jan (We), 26 Mar (Good Friday), 1 May (Sa), 15 Aug (Su), 25 Dec (Sa); SH 12 Jul
/// to 20 Aug.
routing::hours::Site valley_with_holidays();

std::string told(std::string_view text, const char* first_day, int days, const routing::hours::Site& site = valley());

} // namespace hours_test
