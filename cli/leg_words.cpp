#include "cli/leg_words.hpp"

#include "cli/clock_words.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_words.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace cli {

using routing::roads::RoadStretch;

std::string roads_text(const routing::shoot::Leg& leg) {
    // What a driver keeps in mind: the long stretches in order, about the longest eight.
    constexpr std::size_t most = 8;
    constexpr double share = 0.02;
    const double least = std::max(100.0, share * leg.length.value);
    std::vector<double> lengths;
    for (const RoadStretch& road : leg.roads)
        lengths.push_back(road.length.value);
    std::sort(lengths.rbegin(), lengths.rend());
    const double bar = std::max(least, lengths.size() > most ? lengths[most - 1] : 0.0);

    std::vector<std::pair<std::string, geo::Metres>> told; // one road with a short stretch between is one road
    geo::Metres left_out{0.0};
    for (const RoadStretch& road : leg.roads) {
        const bool only_one = leg.roads.size() == 1;
        const bool again = !told.empty() && told.back().first == road.name;
        if (road.length.value < bar && !only_one)
            left_out += road.length;
        else if (again)
            told.back().second += road.length;
        else
            told.emplace_back(road.name, road.length);
    }
    std::string text;
    for (const auto& [name, length] : told)
        text += (text.empty() ? "" : ", ") + (name.empty() ? "unnamed road" : escape_markdown(name)) + " " +
                length_text(length);
    if (left_out.value >= 5.0)
        text += (text.empty() ? "" : ", ") + ("short stretches " + length_text(left_out));
    return text;
}

std::string directions_text(const routing::shoot::Leg& leg) {
    constexpr std::uint16_t marked = routing::roads::note_gate | routing::roads::note_ford | routing::roads::note_toll |
                                     routing::roads::note_low_clearance;
    using routing::roads::Turn;
    // A name that lasts less than this, straight ahead, is past before it is read; its length goes to the road before.
    constexpr geo::Metres shortest{100.0};
    std::vector<routing::roads::Instruction> told;
    for (const auto& step : leg.directions) {
        if (!told.empty() && step.turn == Turn::straight_on &&
            (step.length < shortest || step.name == told.back().name) && told.back().turn != Turn::board_ferry &&
            (step.notes & marked) == 0)
            told.back().length += step.length;
        else
            told.push_back(step);
    }
    std::string text;
    for (const auto& step : told) {
        const std::string name = escape_markdown(step.name);
        if (step.turn == Turn::set_off)
            text += std::string(text.empty() ? "" : "; from there ") + // a second one, once out of a shut road
                    std::string(heading_words[static_cast<std::size_t>(step.heading)]) +
                    (name.empty() ? "" : " on " + name);
        else
            text += "; " + std::string(turn_words[static_cast<std::size_t>(step.turn)].say) +
                    (step.exit > 0 ? " exit " + std::to_string(step.exit) : "") + (name.empty() ? "" : ", " + name);
        text += " " + length_text(step.length);
        std::string marks;
        for (const RoadNoteWord& word : road_note_words) {
            if ((step.notes & marked & word.note) != 0)
                marks += (marks.empty() ? "" : ", ") +
                         std::string(word.note == routing::roads::note_low_clearance ? "size limit" : word.word);
        }
        text += marks.empty() ? "" : " (" + marks + ")";
    }
    return text.starts_with("; ") ? text.substr(2) : text; // begins on a ferry
}

std::string closing_text(const routing::shoot::Leg& leg, geo::Instant leave, geo::CivilDate day,
                         const geo::TimeZone& zone) {
    constexpr std::chrono::hours long_over{1}, far_ahead{24};
    constexpr std::size_t most_named = 3;
    std::string text;
    const auto named = [](const std::string& name) { return name.empty() ? "a road" : escape_markdown(name); };
    for (const auto& wait : leg.waits)
        text += (text.empty() ? "" : "; ") +
                ("wait before " + named(wait.road) + " until " + time_text(wait.until, day, zone, RoundTo::later));
    std::vector<std::pair<geo::Interval, std::vector<std::string>>> together; // those of the same hours
    for (const auto& road : leg.shut_roads) {
        if (road.shut.until + long_over < leave || road.shut.from > leave + leg.total + far_ahead)
            continue;
        auto same = std::find_if(together.begin(), together.end(), [&](const auto& t) { return t.first == road.shut; });
        if (same == together.end())
            same = together.insert(together.end(), {road.shut, {}});
        same->second.push_back(named(road.name));
    }
    for (const auto& [shut, names] : together) {
        text += text.empty() ? "" : "; ";
        for (std::size_t n = 0; n < std::min(names.size(), most_named); ++n)
            text += (n == 0 ? "" : n + 1 == names.size() ? " and " : ", ") + names[n];
        if (names.size() > most_named)
            text += " and " + std::to_string(names.size() - most_named) + " more";
        const bool begins = shut.from > routing::roads::timed::since_ever;
        const bool ends = shut.until < routing::roads::timed::for_ever;
        text += std::string(names.size() == 1 ? " is" : " are") + " shut" +
                (begins ? " from " + time_text(shut.from, day, zone, RoundTo::earlier) : "") +
                (ends ? " until " + time_text(shut.until, day, zone, RoundTo::later) : "");
    }
    return text;
}

std::string mind_text(const routing::shoot::Leg& leg) {
    std::uint16_t notes = 0;
    for (const RoadStretch& road : leg.roads)
        notes = static_cast<std::uint16_t>(notes | road.notes);
    std::string text;
    for (const RoadNoteWord& word : road_note_words) {
        if ((notes & word.note) != 0)
            text += (text.empty() ? "" : ", ") + std::string(word.say);
    }
    return text;
}

} // namespace cli
