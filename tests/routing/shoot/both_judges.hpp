#pragma once
/// The tests' own judge of plans, and the product's: a sound plan passes both.

#include "check_plan.hpp"

#include "routing/shoot/plan_check.hpp"

#include <string>
#include <vector>

inline std::string in_words(const routing::shoot::PlanFault& fault) {
    return fault.field + " (" + fault.where + "): " + fault.value + " " + fault.problem + "; should be " +
           fault.should_be;
}

inline std::vector<std::string> faults_by_both(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot,
                                               const routing::shoot::Region& region) {
    std::vector<std::string> faults = faults_of(plan, shoot, region);
    for (const routing::shoot::PlanFault& fault : check_plan(plan, shoot, region))
        faults.push_back("check: " + in_words(fault));
    return faults;
}
