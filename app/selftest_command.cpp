// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/selftest_command.hpp"

#include <algorithm>

#include "app/arguments.hpp"
#include "solver/findings/selftest.hpp"

namespace wallfoot {

const char* const selftest_usage =
    "wallfoot selftest [--json]\n"
    "  the two-dimensional validation cases of ISO 10211 on this very program, as a dated page\n";

namespace {

struct SelftestAsked {
    std::string file = "selftest";
    bool json = false;
};

SelftestAsked read_selftest_arguments(const std::vector<std::string>& arguments) {
    SelftestAsked asked;
    for (const std::string& word : arguments) {
        if (word != "--json") wrong_use("'" + word + "' is nothing for selftest", "wallfoot selftest [--json]");
        asked.json = true;
    }
    return asked;
}

int run_selftest(const SelftestAsked& asked) {
    const auto cases = selftest();
    const bool passed = std::all_of(cases.begin(), cases.end(), [](const SelftestCase& each) { return each.passed(); });
    return print_result(asked.json ? selftest_json(cases, today()) : selftest_page(cases, today()), passed ? solved : other_failure);
}

}  // namespace

int selftest_command(const std::vector<std::string>& arguments) { return run_command(arguments, read_selftest_arguments, run_selftest); }

}  // namespace wallfoot
