#pragma once
/// Comparing the road names people type with the ones on the map.
///
///     const RoadName wanted("ridge road");
///     if (wanted.matches("Ridge Road (B 12)") != NameMatch::no) ...

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace routing::roads {

/// Lower case for Latin, Greek and Cyrillic letters of the basic and Latin-1/Extended-A blocks (Unicode 15, from
/// memory); runs of white space become one blank, ends trimmed. Bytes that are not UTF-8 stay as they are.
std::string fold_case(std::string_view text);

/// fold_case, and Latin letters without their accents: "Carrer Müllers Straße" and "carrer mullers strasse" are equal.
std::string without_accents(std::string_view text);

/// without_accents, and neither blanks, hyphens, dots nor apostrophes: "CG-2", "CG 2" and "cg2" are equal.
std::string without_marks(std::string_view text);

/// What a mapped name answers to: the whole, the part before a closing "(ref)", the ref, and each item of ;-lists in
/// these. "Harbour Road (B 12;E 4)": itself, "Harbour Road", "B 12;E 4", "B 12", "E 4".
std::vector<std::string> name_parts(std::string_view mapped);

enum class NameMatch { no, without_marks, without_accents, exact };

class RoadName {
public:
    explicit RoadName(std::string_view text);
    /// `exact`: equal but for letter case; only whole parts match, never a beginning.
    NameMatch matches(std::string_view mapped) const;
    /// Fewest letters to insert, delete or change in any part of `mapped`, accents and case aside.
    std::size_t edits_to(std::string_view mapped) const;

private:
    std::string lower_;
    std::string plain_;
    std::string bare_;
};

} // namespace routing::roads
