// SPDX-License-Identifier: GPL-3.0-or-later
#include <fstream>
#include <nlohmann/json.hpp>

#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

TEST(Numbers, HaveNoMoreDigitsThanTheirBracket) {
    EXPECT_EQ(with_bracket({0.132, 0.1315, 0.1325}), "0.132 ± 0.0005");
    // What stands beside a rounded value is not less than the rounding.
    EXPECT_EQ(estimate_beside(0.95, 1e-12, 3), "0.0005");
    EXPECT_EQ(estimate_beside(0.95043, 0.0001, 3), "0.0006");
    EXPECT_EQ(estimate_beside(0.9, 0.02, 1), "0.05");
    EXPECT_EQ(with_bracket({1.2345678, 1.2245678, 1.2445678}).substr(0, 4), "1.23");
    EXPECT_EQ(with_bracket({-1e-13, -1e-11, 1e-11}).substr(0, 8), "0.000000");
    EXPECT_EQ(with_bracket({3, 1, 5}), "3 ± 2");
}

// The statement "v ± w" is true of the bounds, and printed bounds are never inside the proven ones.
TEST(Numbers, AreRoundedOutwards) {
    for (int i = 1; i < 400; ++i) {
        const double half = 1e-7 * std::pow(1.045, i), middle = 0.7312345678 + 0.001 * i;
        const Bracketed b{middle, middle - half, middle + half};
        const auto p = printed(b);
        EXPECT_LE(p.lower, b.lower);
        EXPECT_GE(p.upper, b.upper);
        EXPECT_LE(p.lower, p.value);
        EXPECT_GE(p.upper, p.value);
        const auto text = with_bracket(b);
        const double v = std::stod(text), w = std::stod(text.substr(text.find("± ") + 3));
        EXPECT_LE(v - w, b.lower + 1e-12) << text;
        EXPECT_GE(v + w, b.upper - 1e-12) << text;
    }
}

TEST(Json, IsTheOneOfTheContract) {
    const auto study = junction({}).study();
    FindingsOptions options;
    options.at = {{50'000, 100'000}};
    const auto f = find(study, study.variants[0], options);
    const auto json = nlohmann::json::parse(to_json(study, "x.wallfoot", {f}));
    EXPECT_EQ(json["study"], "x.wallfoot");
    EXPECT_EQ(json["program"], std::string("wallfoot ") + program_version);
    EXPECT_EQ(json["input_hash"], f->input_hash);
    const auto& v = json["variants"][0];
    for (const char* field : {"id", "name", "heat_flow", "L2D", "psi", "surface", "points", "gaps", "checks", "derivations", "mesh", "seconds", "warnings"})
        EXPECT_TRUE(v.contains(field)) << field;
    EXPECT_EQ(v["L2D"][0]["between"], nlohmann::json({"in", "out"}));
    EXPECT_LE(v["L2D"][0]["lower"], v["L2D"][0]["value"]);
    EXPECT_GE(v["L2D"][0]["upper"], v["L2D"][0]["value"]);
    EXPECT_EQ(v["psi"][0]["lengths"], "internal");
    EXPECT_EQ(v["psi"][0]["taken_off"][1]["method"], "second section");
    EXPECT_EQ(v["surface"][1]["for"], "surface-check");
    EXPECT_EQ(v["points"][0]["at"], nlohmann::json({50.0, 100.0}));
    EXPECT_TRUE(v["derivations"].contains("psi in–out, internal"));
    // A reader redoes psi from what is printed.
    const auto& off = v["psi"][0]["taken_off"];
    const double redone = v["L2D"][0]["value"].get<double>() - off[0]["U"].get<double>() * off[0]["length"].get<double>() - off[1]["L2D"].get<double>();
    EXPECT_NEAR(redone, v["psi"][0]["value"].get<double>(), 3e-4);
}

TEST(Table, NamesWhatItShows) {
    const auto study = junction({}).study();
    const auto text = to_table(study, {find(study, study.variants[0])});
    for (const char* word : {"Base (v1)", "L2D in–out", "psi in–out, internal", "fRsi", "W/(m·K)"})
        EXPECT_NE(text.find(word), std::string::npos) << word;
}

TEST(Version, IsTheOneOfTheBuild) {
    std::ifstream file(in_tree("CMakeLists.txt"));
    const std::string text((std::istreambuf_iterator<char>(file)), {});
    EXPECT_NE(text.find(std::string("VERSION ") + program_version), std::string::npos);
}

TEST(Json, AMissingPsiSaysWhyInFull) {
    auto d = plane_wall();
    d.piece("leaf", -60, 0, 0, 400);
    const auto study = d.study();
    const auto f = find(study, study.variants[0]);
    const auto psi = nlohmann::json::parse(to_json(study, "x", {f}))["variants"][0]["psi"][0];
    EXPECT_TRUE(psi["value"].is_null());
    const auto text = psi["text"].get<std::string>();
    EXPECT_EQ(text.find('{'), std::string::npos) << text;
    EXPECT_EQ(to_table(study, {f}).find('{'), std::string::npos);
}
