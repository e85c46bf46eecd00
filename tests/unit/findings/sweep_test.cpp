// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/sweep.hpp"

#include <gtest/gtest.h>

#include <set>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/reuse.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

namespace {

Study sample() { return load_study(in_tree("samples/slab-insulation-below.wallfoot")).study; }

std::string place_of_fault(const std::string& plan) {
    try {
        read_sweep_plan(plan);
    } catch (const InputFault& fault) {
        return fault.faults().front().pointer + " " + fault.faults().front().code;
    }
    return "none";
}

std::vector<std::string> fields_of(const std::string& line) {
    std::vector<std::string> fields(1);
    for (const char c : line) {
        if (c == ',') fields.emplace_back();
        else fields.back() += c;
    }
    return fields;
}

std::string json_length(Micrometres length) { return number_text(to_mm(length)); }

constexpr const char* two_ways = R"({"variants":["foam","aggregate"],"change":[
  {"what":"moisture","piece":"Foot block below the damp course","values":["dry","saturated"]},
  {"what":"conductivity","piece":"foot-above","from":0.1,"to":0.5,"steps":2}]})";

}  // namespace

TEST(SweepPlan, IsEveryCombinationOnceTheLastGoingRoundFastest) {
    const Study study = sample();
    const SweepPlan plan = read_sweep_plan(two_ways);
    ASSERT_EQ(sweep_rows(study, plan), 12u);
    std::set<std::string> seen;
    for (std::size_t n = 0; n < 12; ++n) {
        const SweepRow row = sweep_row(study, plan, n);
        seen.insert(row.variant + row.values[0] + row.values[1]);
        EXPECT_EQ(row.variant, n < 6 ? "foam" : "aggregate");
        EXPECT_EQ(row.values[0], n % 6 < 3 ? "dry" : "saturated");
        EXPECT_EQ(row.values[1], (std::vector<std::string>{"0.1", "0.3", "0.5"}[n % 3]));
    }
    EXPECT_EQ(seen.size(), 12u);
    EXPECT_EQ(fields_of(sweep_head(plan)).size(), fields_of(sweep_line(sweep_row(study, plan, 0))).size());
}

// A row is the solve of the study with the same edits made by hand, and depends on nothing else.
TEST(SweepRow, IsTheSolveOfTheEditedStudy) {
    Study study = sample();
    const SweepPlan plan = read_sweep_plan(two_ways);
    const std::string line = sweep_line(sweep_row(study, plan, 3));  // foam, saturated, 0.1
    EXPECT_EQ(line, sweep_line(sweep_row(study, plan, 3)));
    Material material;
    material.id = "by hand";
    for (const Condition condition : {Condition::dry, Condition::protected_, Condition::exposed, Condition::below_dpc, Condition::below_ground, Condition::saturated}) material.lambda.by_condition[condition].value = 0.1;
    study.materials.push_back(material);
    Variant& foam = study.variants[0];
    ASSERT_EQ(foam.id, "foam");
    foam.section = std::make_shared<const Section>(set_material(set_moisture(*foam.section, "foot-below", Condition::saturated), "foot-above", "by hand"));
    const Bracketed psi = *find(study, foam)->headline_psi()->value;
    const auto fields = fields_of(line);
    const auto p = printed(psi);
    EXPECT_EQ(fields[5], fixed(p.value, p.decimals));
    EXPECT_EQ(fields[12], "yes");
    EXPECT_TRUE(sweep_line_holds(line, sweep_row(study = sample(), plan, 3)));
}

TEST(SweepRow, OnlyAWholeLineOfTheSameInputHolds) {
    Study study = sample();
    const SweepPlan plan = read_sweep_plan(R"({"variants":["foam"],"change":[{"what":"moisture","piece":"foot-below","values":["dry","exposed"]}]})");
    const std::string line = sweep_line(sweep_row(study, plan, 0));
    EXPECT_TRUE(sweep_line_holds(line, sweep_row(study, plan, 0)));
    EXPECT_FALSE(sweep_line_holds(line, sweep_row(study, plan, 1)));
    for (std::size_t length = 0; length < line.size(); ++length) ASSERT_FALSE(sweep_line_holds(line.substr(0, length), sweep_row(study, plan, 0))) << length;
    study.materials[0].lambda.by_condition[Condition::dry].value *= 1.01;
    EXPECT_FALSE(sweep_line_holds(line, sweep_row(study, plan, 0))) << "another input";
}

TEST(SweepRow, ThatTheGeometryDoesNotAllowSaysWhyAndTheOthersGoOn) {
    Study study = sample();
    Section section = *study.variants[0].section;
    Stretch stretch;
    stretch.id = "width";
    stretch.name = "Cavity width";
    stretch.line = {{175'000, 200'000}, {175'000, 201'000}};
    stretch.moves = "right";
    stretch.measure = {{100'000, 600'000}, {250'000, 600'000}};
    stretch.min = 50'000;
    section = add_stretch(section, stretch);
    study.variants[0].section = std::make_shared<const Section>(section);
    const SweepPlan plan = read_sweep_plan(R"({"variants":["foam"],"change":[{"what":"measure","measure":"Cavity width","values":[20,150]}]})");
    const SweepRow below = sweep_row(study, plan, 0), same = sweep_row(study, plan, 1);
    EXPECT_FALSE(below.problem.empty());
    EXPECT_NE(sweep_line(below).find(",,,,"), std::string::npos);
    EXPECT_TRUE(same.problem.empty());
    // At its present length nothing changes.
    EXPECT_EQ(same.hash, input_hash(study, study.variants[0]));
}

TEST(SweepPlan, IsTheSameWhenWrittenAndReadAgain) {
    for (const char* text : {two_ways, R"({"change":[{"what":"extent","piece":"foot-above","side":"left","from":100,"to":130,"steps":3},{"what":"temperature","space":"out","values":[-5]}]})"}) {
        const SweepPlan plan = read_sweep_plan(text), again = read_sweep_plan(write_sweep_plan(plan));
        EXPECT_EQ(again.variants, plan.variants);
        ASSERT_EQ(again.changes.size(), plan.changes.size());
        for (std::size_t c = 0; c < plan.changes.size(); ++c) {
            EXPECT_EQ(static_cast<const Parameter&>(again.changes[c]), static_cast<const Parameter&>(plan.changes[c]));
            EXPECT_EQ(again.changes[c].numbers, plan.changes[c].numbers);
            EXPECT_EQ(again.changes[c].words, plan.changes[c].words);
        }
    }
}

TEST(SweepPlan, WhatIsWrongIsToldWithItsPlace) {
    EXPECT_EQ(place_of_fault("{}"), " missing-field");
    EXPECT_EQ(place_of_fault(R"({"change":[{"what":"colour","piece":"a","values":[1]}]})").substr(0, 15), "/change/0/what ");
    EXPECT_EQ(place_of_fault(R"({"change":[{"what":"conductivity","piece":"a","values":[-1]}]})").substr(0, 19), "/change/0/values/0 ");
    EXPECT_EQ(place_of_fault(R"({"change":[{"what":"moisture","piece":"a","values":["damp"]}]})").substr(0, 19), "/change/0/values/0 ");
    EXPECT_EQ(place_of_fault(R"({"change":[{"what":"measure","measure":"a"}]})"), "/change/0 sweep-no-values");
    EXPECT_NE(place_of_fault(R"({"change":[{"what":"measure","measure":"a","values":[1],"step":2}]})"), "none") << "a slip of the pen";
    EXPECT_EQ(place_of_fault(R"({"change":[{"what":"measure","measure":"a","from":1,"to":2,"steps":99999},{"what":"measure","measure":"b","from":1,"to":2,"steps":99999}]})"), " sweep-too-large");
    const Study study = sample();
    EXPECT_THROW(sweep_row(study, read_sweep_plan(R"({"change":[{"what":"measure","measure":"nobody","values":[1]}]})"), 0), InputFault);
    EXPECT_THROW(sweep_row(study, read_sweep_plan(R"({"change":[{"what":"moisture","piece":"nobody","values":["dry"]}]})"), 0), InputFault);
}

// What is used again is the very same, so a row stays a function of study, plan and number (to the last bit).
TEST(SweepReuse, AtRestGivesTheVeryRowsOfEachSolvedAlone) {
    const Study study = sample();
    for (const char* plan_text : {R"({"variants":["foam"],"change":[{"what":"conductivity","piece":"foot-below","from":0.1,"to":0.5,"steps":2}]})",
                                  R"({"variants":["foam"],"change":[{"what":"temperature","space":"out","values":[-5,0,5]}]})"}) {
        const SweepPlan plan = read_sweep_plan(plan_text);
        Reuse reuse;
        const FindingsOptions options = reuse.at_rest();
        for (std::size_t n = 0; n < 3; ++n) {
            const SweepRow row = sweep_row(study, plan, n);
            const SweepResult alone = sweep_result(row), shared = sweep_result(row, options);
            EXPECT_EQ(sweep_line(row, shared), sweep_line(row, alone));
            ASSERT_TRUE(shared.psi && alone.psi);
            EXPECT_EQ(shared.psi->value, alone.psi->value);
            EXPECT_EQ(shared.psi->lower, alone.psi->lower);
            EXPECT_EQ(*shared.fRsi, *alone.fRsi);
        }
        EXPECT_GE(reuse.spared(), 4u) << "the floor alone does not change with the foot, and nothing with a temperature";
    }
}

TEST(SweepReuse, AFirstLookHoldsWhatIsFoundAtRest) {
    const Study study = sample();
    const SweepPlan plan = read_sweep_plan(R"({"variants":["foam"],"change":[{"what":"conductivity-of-material","material":"foam-strong","from":0.06,"to":0.6,"steps":4}]})");
    ASSERT_TRUE(keeps_drawing(plan));
    Reuse reuse;
    const FindingsOptions quick = reuse.quick();
    for (std::size_t n = 0; n < sweep_rows(study, plan); ++n) {
        const SweepRow row = sweep_row(study, plan, n);
        const SweepResult first = sweep_result(row, quick), rest = sweep_result(row);
        // Both brackets hold the exact value of the same section.
        EXPECT_LE(first.psi->lower, rest.psi->upper) << n;
        EXPECT_GE(first.psi->upper, rest.psi->lower) << n;
        EXPECT_NEAR(*first.fRsi, *rest.fRsi, first.estimate + rest.estimate) << n;
    }
    EXPECT_GT(reuse.spared(), 8u);
}

TEST(SweepRow, ChangesTheWholeMaterialAnExtentOrAMembrane) {
    const Study study = sample();
    const Section& before = *study.variants[0].section;
    const auto section_of = [&](const std::string& change) {
        const SweepRow row = sweep_row(study, read_sweep_plan(R"({"variants":["foam"],"change":[)" + change + "]}"), 0);
        EXPECT_EQ(row.problem, "");
        return *row.study.variants[0].section;
    };
    const Section whole = section_of(R"({"what":"conductivity-of-material","material":"foam-strong","values":[0.2]})");
    std::size_t changed = 0;
    for (std::size_t p = 0; p < before.pieces.size(); ++p) {
        EXPECT_EQ(before.pieces[p] != whole.pieces[p], before.pieces[p].filled_with == "foam-strong");
        changed += before.pieces[p] != whole.pieces[p];
    }
    EXPECT_GT(changed, 1u);
    EXPECT_EQ(piece_extent(*find_piece(section_of(R"({"what":"extent","piece":"foot-above","side":"left","values":[137]})"), "foot-above"), CutSide::left), 137'000);
    const std::string id = before.membranes.front().id;
    const std::string length = json_length(membrane_length(before.membranes.front()) + 20'000);
    EXPECT_EQ(membrane_length(section_of(R"({"what":"membrane","membrane":")" + id + R"(","side":"right","values":[)" + length + "]}").membranes.front()), membrane_length(before.membranes.front()) + 20'000);
    EXPECT_EQ(place_of_fault(R"({"change":[{"what":"extent","piece":"a","values":[1]}]})"), "/change/0 missing-field") << "towards which side?";
    EXPECT_NE(sweep_row(study, read_sweep_plan(R"({"variants":["foam"],"change":[{"what":"membrane","membrane":")" + id + R"(","side":"right","values":[0.5]}]})"), 0).problem, "");
}

// Only the number changes: soil that conducts as it did stays soil, and nothing else is otherwise.
TEST(SweepRow, AtThePresentConductivityNothingChanges) {
    const Study study = sample();
    const auto before = find(study, study.variants[0]);
    const std::string was = with_bracket(*before->headline_psi()->value);
    for (const char* change : {R"({"what":"conductivity","piece":"soil","values":[1.5]})", R"({"what":"conductivity-of-material","material":"clay","values":[1.5]})"}) {
        const SweepPlan plan = read_sweep_plan(R"({"variants":["foam"],"change":[)" + std::string(change) + "]}");
        ASSERT_EQ(present_number(study, study.variants[0], plan.changes[0]), 1.5);
        EXPECT_EQ(with_bracket(*sweep_result(sweep_row(study, plan, 0)).psi), was);
    }
}
