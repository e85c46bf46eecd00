// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/balance.hpp"

#include <cmath>
#include <gtest/gtest.h>
#include <map>

#include "core/dwelling/dwelling_file.hpp"
#include "solver/dwelling/dwelling_derive.hpp"
#include "tests/unit/dwelling/dwelling_drafts.hpp"

namespace wallfoot {
namespace {

using test::full_dwelling;

Dwelling drafted_dwelling() { return read_dwelling(full_dwelling()).dwelling; }

void expect_span(const std::optional<Span>& span, double value, double low, double high) {
    ASSERT_TRUE(span);
    EXPECT_NEAR(span->value, value, 1e-12 * std::max(1.0, std::abs(value)));
    EXPECT_NEAR(span->low, low, 1e-12 * std::max(1.0, std::abs(low)));
    EXPECT_NEAR(span->high, high, 1e-12 * std::max(1.0, std::abs(high)));
}

// By hand from the definitions: H = ΣA·U + Σl·psi + Σchi (ISO 13789, from memory); y = Σ(L·psi)/ΣA of the exposed elements
// (SAP 2012 appendix K, from memory); degree-day energy = H·DD·24/1000 kWh.
TEST(DwellingBalance, agrees_with_a_computation_by_hand) {
    const auto sums = balance(drafted_dwelling(), {});
    // foot 10 m of 0.12 (0.119 to 0.122), lintels 4 m of 0.3 (0.25 to 0.35), six fixings of 0.02; the eaves are open.
    expect_span(sums.lines, 10 * 0.12 + 4 * 0.3, 10 * 0.119 + 4 * 0.25, 10 * 0.122 + 4 * 0.35);
    expect_span(sums.points, 6 * 0.02, 6 * 0.02, 6 * 0.02);
    EXPECT_DOUBLE_EQ(sums.area, 80 + 40);
    EXPECT_DOUBLE_EQ(sums.plane, 80 * 0.2 + 40 * 0.15);
    expect_span(sums.y, 2.4 / 120, 2.19 / 120, 2.62 / 120);
    expect_span(sums.total, 22 + 2.4 + 0.12, 22 + 2.19 + 0.12, 22 + 2.62 + 0.12);
    expect_span(sums.share, 2.52 / 24.52, 2.31 / 24.31, 2.74 / 24.74);
    expect_span(sums.energy, 2.52 * 2200 * 24 / 1000, 2.31 * 2200 * 24 / 1000, 2.74 * 2200 * 24 / 1000);
    expect_span(sums.total_energy, 24.52 * 52.8, 24.31 * 52.8, 24.74 * 52.8);
    expect_span(sums.cost, 2.52 * 52.8 / 0.8 * 0.5, 2.31 * 52.8 / 0.8 * 0.5, 2.74 * 52.8 / 0.8 * 0.5);
    expect_span(sums.carbon, 2.52 * 52.8 / 0.8 * 0.25, 2.31 * 52.8 / 0.8 * 0.25, 2.74 * 52.8 / 0.8 * 0.25);
    // The measure: 4 m from 0.3 to 0.05, for 100.
    ASSERT_EQ(sums.measures.size(), 1u);
    expect_span(sums.measures[0].loss, 4 * (0.3 - 0.05), 4 * (0.25 - 0.05), 4 * (0.35 - 0.05));
    expect_span(sums.measures[0].energy, 52.8, 0.8 * 52.8, 1.2 * 52.8);
    ASSERT_TRUE(sums.measures[0].payback);
    EXPECT_NEAR(*sums.measures[0].payback, 100 / (52.8 / 0.8 * 0.5), 1e-9);
}

// The same by hand, from the quantities of each derivation.
TEST(DwellingBalance, can_be_worked_out_again_from_its_derivations) {
    const Dwelling dwelling = drafted_dwelling();
    std::map<std::string, Derivation> by_name;
    for (Derivation& derivation : dwelling_derivations(dwelling, balance(dwelling, {}))) {
        for (const auto& input : derivation.inputs) EXPECT_FALSE(input.source.empty()) << derivation.of << ": " << input.name;
        by_name.emplace(derivation.of, std::move(derivation));
    }
    ASSERT_EQ(by_name.size(), 5u);
    const auto sum_of = [&](const std::string& of, const std::string& begin) {
        double sum = 0;
        for (const auto& input : by_name.at(of).inputs)
            if (input.name.starts_with(begin) && input.name.find("from the bounds") == std::string::npos) sum += input.value;
        return sum;
    };
    EXPECT_NEAR(sum_of("Σ psi·l", "psi·l, "), 10 * 0.12 + 4 * 0.3, 1e-12);
    EXPECT_NEAR(sum_of("Σ psi·l", "Σ psi·l"), 2.4, 1e-12);
    EXPECT_NEAR(sum_of("Σ chi·n", "Σ chi·n"), 0.12, 1e-12);
    EXPECT_NEAR(sum_of("y", "A, "), 120, 1e-12);
    EXPECT_EQ(by_name.at("y").inputs.back().name, "y, from the bounds at most");
    EXPECT_NEAR(by_name.at("y").inputs.back().value, 2.62 / 120, 1e-12);
    EXPECT_NEAR(sum_of("H and the share of the junctions", "A·U, "), 22, 1e-12);
    EXPECT_NEAR(sum_of("H and the share of the junctions", "share"), 2.52 / 24.52, 1e-12);
    EXPECT_NEAR(sum_of("a year of the junctions", "Q"), 2.52 * 52.8, 1e-9);
    EXPECT_TRUE(dwelling_derivations(Dwelling{}, balance(Dwelling{}, {})).empty());
}

// Two blocks at the foot of a whole house: 36 m, psi 0.168 and 0.028, 2200 K·d: 24·2200·0.14·36/1000 = 266 kWh a year.
TEST(DwellingBalance, gives_the_energy_of_two_blocks_at_the_foot) {
    Dwelling dwelling;
    dwelling.junctions.push_back({"foot", "ground-floor-external-wall", "", 36, FromElsewhere{0.168, {}, {}, ValueBasis::calculated, "s", {}, {}}, {}, {}});
    dwelling.measures.push_back({"m", "", "foot", FromElsewhere{0.028, {}, {}, ValueBasis::calculated, "s", {}, {}}, {}, {}});
    EXPECT_FALSE(balance(dwelling, {}).energy) << "no degree days, no energy";
    dwelling.degree_days = DegreeDays{2200, "", "s", {}};
    const auto sums = balance(dwelling, {});
    EXPECT_NEAR(sums.measures[0].energy->value, 266, 0.5);
    EXPECT_FALSE(sums.y) << "no areas, no y";
    EXPECT_FALSE(sums.cost) << "no price, no cost";
    EXPECT_FALSE(sums.measures[0].payback);
}

TEST(DwellingBalance, holds_open_junctions_apart_and_never_takes_them_for_zero) {
    auto dwelling = drafted_dwelling();
    auto sums = balance(dwelling, {});
    EXPECT_EQ(sums.open_kinds, (std::vector<std::string>{"threshold", "sill", "jamb", "intermediate-floor", "corner-outward"}));
    EXPECT_EQ(sums.open_rows, 1u);
    EXPECT_EQ(sums.open(), 6u);
    EXPECT_EQ(sums.rows[3].standing, Standing::open);
    EXPECT_EQ(sums.rows[3].why.code, "dwelling-no-value");
    EXPECT_FALSE(sums.rows[3].loss);
    // A value without a length is open too, and a length of 0 is not.
    dwelling.junctions[1].length.reset();
    sums = balance(dwelling, {});
    EXPECT_EQ(sums.rows[1].why.code, "dwelling-no-length");
    EXPECT_EQ(sums.open_rows, 2u);
    EXPECT_FALSE(sums.measures[0].loss);
    EXPECT_NEAR(sums.lines.value, 1.2, 1e-12);
    dwelling.junctions[1].length = 0;
    EXPECT_EQ(balance(dwelling, {}).open_rows, 1u);
    // Said not to be there, a kind is asked for no more.
    dwelling.absent.push_back("sill");
    EXPECT_EQ(balance(dwelling, {}).open_kinds.size(), 4u);
}

TEST(DwellingBalance, marks_a_value_whose_study_is_not_as_it_was_and_keeps_it) {
    const auto dwelling = drafted_dwelling();
    const auto& from = std::get<FromStudy>(dwelling.junctions[0].value);
    const auto standing = [&](const StudiesNow& now) {
        const auto sums = balance(dwelling, now);
        EXPECT_NEAR(sums.rows[0].loss->value, 1.2, 1e-12) << "the last value is kept";
        EXPECT_EQ(sums.out_of_date, sums.rows[0].standing == Standing::out_of_date ? 1u : 0u);
        return sums.rows[0].standing == Standing::current ? std::string("current") : sums.rows[0].why.code;
    };
    EXPECT_EQ(standing({}), "dwelling-not-looked-at");
    EXPECT_EQ(standing({{study_key(from), {"sha256ab", {}}}}), "current");
    EXPECT_EQ(standing({{study_key(from), {"sha256cd", {}}}}), "dwelling-study-changed");
    EXPECT_EQ(standing({{study_key(from), {"", {Severity::caution, "dwelling-variant-gone", {}, {}, {}}}}}), "dwelling-variant-gone");
    const auto now = studies_now(dwelling, "/nowhere");
    ASSERT_EQ(now.size(), 1u);
    EXPECT_EQ(now.begin()->second.trouble.code, "dwelling-study-unreadable");
    EXPECT_EQ(english(now.begin()->second.trouble).find('{'), std::string::npos);
    auto other = dwelling;
    other.lengths = DwellingLengths::external;
    EXPECT_EQ(balance(other, {{study_key(from), {"sha256ab", {}}}}).rows[0].why.code, "dwelling-other-lengths");
    other.lengths = DwellingLengths::overall_internal;
    EXPECT_EQ(balance(other, {{study_key(from), {"sha256ab", {}}}}).rows[0].standing, Standing::current);
}

TEST(DwellingBalance, says_where_lengths_or_pairs_of_spaces_do_not_fit) {
    auto dwelling = drafted_dwelling();
    auto sums = balance(dwelling, {});
    ASSERT_EQ(sums.rows[0].notes.size(), 1u);
    EXPECT_EQ(sums.rows[0].notes[0].code, "dwelling-other-pair");
    EXPECT_TRUE(sums.rows[1].notes.empty());
    dwelling.lengths = DwellingLengths::overall_internal;
    dwelling.junctions[0].kind = "intermediate-floor";
    sums = balance(dwelling, {});
    EXPECT_EQ(sums.rows[0].notes[0].code, "dwelling-inner-part");
    EXPECT_EQ(sums.rows[1].notes[0].code, "dwelling-value-of-other-lengths");
}

TEST(DwellingBalance, prints_equations_to_be_done_again) {
    const auto lines = balance_equations(drafted_dwelling(), balance(drafted_dwelling(), {}));
    EXPECT_EQ(lines, (std::vector<std::string>{
                         "Σ psi·l = 0.12·10 + 0.3·4 = 1.2 + 1.2 = 2.4 W/K; from the bounds between 2.19 and 2.62 W/K",
                         "Σ chi·n = 0.02·6 = 0.12 W/K",
                         "y = Σ psi·l / Σ A = 2.4 / (80 + 40) = 2.4 / 120 = 0.02 W/(m²·K)",
                         "Σ A·U = 80·0.2 + 40·0.15 = 22 W/K",
                         "H = Σ A·U + Σ psi·l + Σ chi·n = 22 + 2.4 + 0.12 = 24.52 W/K",
                         "share of the junctions = 2.52 / 24.52 = 10.3 %",
                         "heat through the junctions = 2.52 W/K · 2200 K·d · 24 h/d / 1000 = 133.1 kWh per year",
                         "its cost = 133.1 / 0.8 · 0.5 = 83.16 marks per year",
                         "its carbon = 133.1 / 0.8 · 0.25 = 41.6 kg CO2 per year",
                         "heat through all = 24.52 W/K · 2200 K·d · 24 h/d / 1000 = 1294.7 kWh per year",
                         "its cost = 1294.7 / 0.8 · 0.5 = 809.16 marks per year",
                         "its carbon = 1294.7 / 0.8 · 0.25 = 404.6 kg CO2 per year"}));
    Dwelling corner;
    corner.junctions.push_back({"c", "corner-outward", "", 5, FromElsewhere{-0.03, {}, {}, ValueBasis::published, "s", {}, {}}, {}, {}});
    EXPECT_EQ(balance_equations(corner, balance(corner, {})), std::vector<std::string>{"Σ psi·l = (-0.03)·5 = -0.15 W/K"});
    EXPECT_EQ(balance_equations({}, balance({}, {})), std::vector<std::string>{"Σ psi·l = 0 = 0 W/K"});
}

}  // namespace
}  // namespace wallfoot
