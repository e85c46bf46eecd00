// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/selftest.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "core/resources/resources.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using ProofJson = nlohmann::ordered_json;

constexpr const char* not_claimed =
    "Cases 3 and 4 of the standard are three-dimensional and are not claimed: this is a two-dimensional steady-state high-precision method.";

SelftestCase run_case(const ProofJson& asked) {
    const Study study = read_study(resource("selftest/" + asked.at("study").get<std::string>())).study;
    FindingsOptions options;
    for (const auto& point : asked.at("points")) options.at.push_back({from_mm(point.at("at")[0]), from_mm(point.at("at")[1])});
    const auto findings = find(study, study.variants.front(), options);
    SelftestCase result{.name = asked.at("name"), .source = asked.at("source"), .values = {}, .coupling = {}};
    for (std::size_t i = 0; i < findings->points.size(); ++i) {
        const auto& point = asked.at("points")[i];
        result.values.push_back({point.at("name"), "°C", point.at("temperature"), findings->points[i].temperature, asked.at("temperature_tolerance")});
    }
    if (asked.contains("flow"))
        for (std::size_t i = 0; i < findings->heat_flow.size(); ++i)
            if (study.variants.front().section->spaces[i].id == asked["flow"].at("space"))
                result.values.push_back({"heat flow", "W/m", asked["flow"].at("value"), findings->heat_flow[i].value, asked["flow"].at("tolerance")});
    if (!findings->couplings.empty()) result.coupling = findings->couplings.front().value;
    if (findings->solution) result.triangles = findings->solution->triangles.size();
    double sum = 0, all = 0;
    for (const Bracketed& flow : findings->heat_flow) sum += flow.value, all += std::abs(flow.value);
    if (all > 0) result.balance = std::abs(sum) / (all / 2);
    return result;
}

std::string passed_words(bool passed) { return passed ? "passed" : "NOT PASSED"; }

}  // namespace

bool SelftestCase::passed() const {
    return !values.empty() && std::all_of(values.begin(), values.end(), [](const SelftestValue& value) { return value.within(); }) && balance <= Criteria::most_balance;
}

std::vector<SelftestCase> selftest() {
    std::vector<SelftestCase> cases;
    const auto data = ProofJson::parse(resource("selftest/iso10211.json"));
    for (const auto& asked : data.at("cases")) cases.push_back(run_case(asked));
    return cases;
}

std::string selftest_page(const std::vector<SelftestCase>& cases, const std::string& date) {
    std::string page = std::string("wallfoot ") + program_version + ", validation by ISO 10211, " + date + "\n";
    for (const SelftestCase& each : cases) {
        page += "\n" + each.name + ": " + passed_words(each.passed()) + "\n  Source of the values: " + each.source + "\n";
        page += "  " + padded("", 20) + padded("published", 14) + padded("found", 14) + padded("difference", 14) + "allowed\n";
        for (const SelftestValue& value : each.values)
            page += "  " + padded(value.name, 20) + padded(fixed(value.asked, 1), 14) + padded(fixed(value.found, 3), 14) + padded(fixed(value.found - value.asked, 3), 14) +
                    fixed(value.tolerance, 1) + " " + value.unit + (value.within() ? "" : "  OUTSIDE") + "\n";
        page += "  " + std::to_string(each.triangles) + " triangles";
        if (each.coupling) page += "; L2D proven between " + fixed(each.coupling->lower, 5) + " and " + fixed(each.coupling->upper, 5) + " W/(m·K); balance " + one_digit_up(each.balance) + " (at most 1e-4)";
        else page += "; two given temperatures touch here: no L2D exists";
        page += "\n";
    }
    return page + "\n" + not_claimed + "\n";
}

std::string selftest_json(const std::vector<SelftestCase>& cases, const std::string& date) {
    ProofJson list = ProofJson::array();
    for (const SelftestCase& each : cases) {
        ProofJson values = ProofJson::array();
        for (const SelftestValue& value : each.values)
            values.push_back({{"name", value.name}, {"unit", value.unit}, {"published", value.asked}, {"found", significant(value.found, 6)}, {"tolerance", value.tolerance}, {"within", value.within()}});
        list.push_back({{"name", each.name}, {"source", each.source}, {"passed", each.passed()}, {"values", values}, {"triangles", each.triangles}, {"balance", significant(each.balance, 2)}});
    }
    return ProofJson{{"program", std::string("wallfoot ") + program_version}, {"date", date}, {"cases", list}, {"not_claimed", not_claimed}}.dump(2) + "\n";
}

}  // namespace wallfoot
