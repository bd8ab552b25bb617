// Published instances of the travelling salesman with time windows, up to 21 nodes: all customers are musts.
// Figures from the collection's best_known.csv; its README names the sources. Two of the sets are real-valued: the
// README's tolerance of 0.01 applies.

#include "check_solution.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

using namespace order_tests;
using namespace routing::order;

namespace {

struct Listed {
    std::string file;
    bool whole_numbers = true;
    double best_travel = 0;
    double best_makespan = -1; ///< negative: none listed
};

std::vector<Listed> instances_up_to(int nodes, const std::filesystem::path& table) {
    std::ifstream in(table);
    std::string line;
    std::getline(in, line); // column names
    std::vector<Listed> found;
    while (std::getline(in, line)) {
        std::vector<std::string> cells;
        std::istringstream row(line);
        for (std::string cell; std::getline(row, cell, ',');)
            cells.push_back(cell);
        // set, instance, n_nodes, symmetric, integer, listed_travel, best_travel, travel_reproved, best_makespan, ...
        if (cells.size() < 9 || std::stoi(cells[2]) > nodes)
            continue;
        found.push_back({"tsptw/instances/" + cells[0] + "/" + cells[1], cells[4] == "yes", std::stod(cells[6]),
                         cells[8].empty() ? -1 : std::stod(cells[8])});
    }
    return found;
}

/// Real-valued times are kept to a ten-thousandth: rounding 22 legs then stays well inside the tolerance of 0.01.
constexpr double scale_of(bool whole_numbers) {
    return whole_numbers ? 1 : 10'000;
}

Problem read_instance(const std::filesystem::path& file, double scale, Economy economy) {
    std::ifstream in(file);
    std::uint32_t nodes = 0;
    in >> nodes;
    REQUIRE(nodes > 1);
    const auto read_time = [&] {
        double value = 0;
        in >> value;
        return std::llround(value * scale);
    };
    Problem problem;
    problem.economy = economy;
    problem.travel.size = nodes;
    for (std::uint32_t i = 0; i < nodes * nodes; ++i)
        problem.travel.seconds.push_back(static_cast<std::int32_t>(read_time()));
    for (Point node = 0; node < nodes; ++node) {
        const Instant earliest{Seconds{read_time()}};
        const Instant latest{Seconds{read_time()}};
        if (node == 0)
            problem.days.push_back({earliest, latest, node, {node}, {}, {}});
        else
            problem.visits.push_back({{{node, {}, {}, {}, {{earliest, latest}}}}, 1, 0, {}});
    }
    REQUIRE(!in.fail());
    return problem;
}

void solve_all(Economy economy) {
    const auto table = support::shared_data("tsptw/best_known.csv");
    if (!table)
        return;
    const std::vector<Listed> instances = instances_up_to(21, *table);
    CHECK(instances.size() == 37);
    std::uint64_t labels = 0;
    for (const Listed& listed : instances) {
        CAPTURE(listed.file);
        const double best = economy == Economy::travel ? listed.best_travel : listed.best_makespan;
        if (best < 0)
            continue;
        const double scale = scale_of(listed.whole_numbers);
        const Problem problem = read_instance(*support::shared_data(listed.file), scale, economy);
        const Solution solution = solve(problem);
        CHECK(solution.proof == Proof::optimal);
        CHECK(solution.dropped.empty());
        CHECK(faults_in(problem, solution).empty());
        const double tolerance = listed.whole_numbers ? 0 : 0.01;
        const double start =
            economy == Economy::travel
                ? 0
                : static_cast<double>(problem.days[0].earliest_call.time_since_epoch().count()) / scale;
        CHECK(std::abs(start - static_cast<double>(solution.score.economy) / scale - best) <= tolerance);
        labels += solution.labels;
    }
    MESSAGE(instances.size(), " instances, ", labels, " labels");
}

} // namespace

TEST_CASE("published instances with up to 21 nodes: least travel is the best known, proven") {
    solve_all(Economy::travel);
}

TEST_CASE("published instances with up to 21 nodes: earliest end is the best known, proven") {
    solve_all(Economy::wrap);
}
