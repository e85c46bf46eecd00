// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/material_entry.hpp"

#include <gtest/gtest.h>

#include "core/file/study_file.hpp"
#include "core/study/materials.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot {
namespace {

constexpr std::size_t dry = 0, below_dpc = 3;

MaterialEntry block() {
    MaterialEntry entry;
    entry.name = " Block of the paper ";
    entry.across[dry].value = "0,145";
    return entry;
}

std::string only_fault(const MaterialEntry& entry) {
    const ReadEntry read = read_entry(entry, {});
    if (read.faults.size() != 1) return std::to_string(read.faults.size()) + " faults";
    return read.faults[0].pointer + " " + read.faults[0].code;
}

TEST(MaterialEntry, what_is_not_typed_is_not_declared) {
    const ReadEntry read = read_entry(block(), {});
    ASSERT_TRUE(read.faults.empty());
    EXPECT_EQ(read.material.name, "Block of the paper");
    ASSERT_EQ(read.material.lambda.by_condition.size(), 1u);
    EXPECT_EQ(read.material.lambda.by_condition.at(Condition::dry).value, 0.145);
    EXPECT_FALSE(read.material.lambda.by_condition.at(Condition::dry).low);
    EXPECT_TRUE(read.material.lambda_up.by_condition.empty());
    EXPECT_FALSE(read.material.density);
    EXPECT_FALSE(read.material.capillary);
}

TEST(MaterialEntry, every_field_reaches_the_material_with_either_decimal_sign) {
    MaterialEntry entry = block();
    entry.across[below_dpc] = {"0.18", StatedAs::conductivity, "", Basis::at_moisture, "4,5", MoistureBy::mass, "0.17", "0,20", "90", " sheet 3 "};
    entry.second_axis = true;
    entry.up[dry].value = "0.172";
    entry.density = "450";
    entry.strength = "3,6";
    entry.capillary = false;
    const ReadEntry read = read_entry(entry, {});
    ASSERT_TRUE(read.faults.empty());
    const Conductivity& lambda = read.material.lambda.by_condition.at(Condition::below_dpc);
    EXPECT_EQ(lambda.value, 0.18);
    EXPECT_EQ(lambda.low, 0.17);
    EXPECT_EQ(lambda.high, 0.2);
    EXPECT_EQ(lambda.basis, Basis::at_moisture);
    EXPECT_EQ(lambda.moisture->value, 0.045);  // kg/kg
    EXPECT_EQ(lambda.fractile, 90);
    EXPECT_EQ(lambda.source, "sheet 3");
    EXPECT_EQ(read.material.lambda_up.by_condition.at(Condition::dry).value, 0.172);
    EXPECT_EQ(read.material.density, 450);
    EXPECT_EQ(read.material.strength, 3.6);
    EXPECT_EQ(read.material.capillary, false);
    entry.second_axis = false;
    EXPECT_TRUE(read_entry(entry, {}).material.lambda_up.by_condition.empty());
}

// R = d / λ, ISO 6946: 100 mm of R 0.69 m²·K/W conduct 0.1 / 0.69 = 0.144928 W/(m·K).
TEST(MaterialEntry, a_resistance_of_a_unit_is_converted_and_the_source_says_so) {
    MaterialEntry entry = block();
    entry.across[dry] = {"0,69", StatedAs::resistance, "10 cm", Basis::measured, "", MoistureBy::mass, "", "", "", "sheet 3"};
    EXPECT_EQ(entered_conductivity(entry.across[dry]), 0.144928);
    const ReadEntry read = read_entry(entry, {});
    ASSERT_TRUE(read.faults.empty());
    EXPECT_EQ(read.material.lambda.by_condition.at(Condition::dry).value, 0.144928);
    EXPECT_EQ(read.material.lambda.by_condition.at(Condition::dry).source, "sheet 3; from R 0,69 m²·K/W of 10 cm");
    entry.across[dry].thickness = "";
    EXPECT_EQ(only_fault(entry), "/lambda/dry/thickness entry-thickness-missing");
    EXPECT_FALSE(entered_conductivity(entry.across[dry]));
    entry.across[dry].thickness = "0";
    EXPECT_EQ(only_fault(entry), "/lambda/dry/thickness thickness-not-positive");
    entry.across[dry].thickness = "100";
    entry.across[dry].value = "-1";
    EXPECT_EQ(only_fault(entry), "/lambda/dry/value resistance-not-positive");
}

ConductivityEntry in_mortar() {
    ConductivityEntry entry;
    entry.value = "0,15";
    entry.stated = StatedAs::joints;
    entry.unit_length = "440", entry.unit_height = "21,5 cm", entry.bed = "10", entry.perpend = "10", entry.mortar = "0.88";
    entry.source = "sheet 3";
    return entry;
}

// By hand in tests/unit/standards/masonry_test.cpp: 0.197946 across, 0.171837 along the height.
TEST(MaterialEntry, units_in_mortar_give_both_axes_and_the_source_says_how) {
    MaterialEntry entry = block();
    entry.across[dry] = in_mortar();
    EXPECT_EQ(entered_conductivity(entry, dry, false), 0.197946);
    EXPECT_EQ(entered_conductivity(entry, dry, true), 0.171837);
    entry.across[below_dpc].value = "0.3";
    const ReadEntry read = read_entry(entry, {});
    ASSERT_TRUE(read.faults.empty());
    const Conductivity& across = read.material.lambda.by_condition.at(Condition::dry);
    const Conductivity& up = read.material.lambda_up.by_condition.at(Condition::dry);
    EXPECT_EQ(across.value, 0.197946);
    EXPECT_EQ(up.value, 0.171837);
    for (const char* part : {"sheet 3; from units of 0,15 W/(m·K)", "440 mm × 21,5 cm", "10 mm (perpend)", "0.88 W/(m·K)", "6.568 % mortar", "parallel paths"})
        EXPECT_NE(across.source.find(part), std::string::npos) << part << " in " << across.source;
    EXPECT_NE(up.source.find("would give 0.1724"), std::string::npos) << up.source;
    EXPECT_EQ(read.material.lambda_up.by_condition.at(Condition::below_dpc), read.material.lambda.by_condition.at(Condition::below_dpc)) << "no joints are known there";
    // Opened again it is two plain values with their sources.
    const MaterialEntry again = entry_of(read.material);
    EXPECT_TRUE(again.second_axis);
    EXPECT_EQ(read_entry(again, read.material).material, read.material);
    // A value typed along the height counts.
    entry.second_axis = true;
    entry.up[dry].value = "0.2";
    EXPECT_EQ(read_entry(entry, {}).material.lambda_up.by_condition.at(Condition::dry).value, 0.2);
    EXPECT_EQ(entered_conductivity(entry, dry, true), 0.2);
    // Units of which only the height is stated so.
    entry.up[dry] = in_mortar();
    entry.across[dry] = block().across[dry];
    EXPECT_EQ(read_entry(entry, {}).material.lambda_up.by_condition.at(Condition::dry).value, 0.171837);
}

// By hand, of units of 0.3 otherwise the same: along the height each column of units (440 of 450 mm) has
// 225/1000 / (215/1000/0.3 + 10/1000/0.88) = 0.309053, the perpend 0.88: (440 * 0.309053 + 10 * 0.88) / 450 = 0.321741.
TEST(MaterialEntry, restated_joints_give_both_axes_anew) {
    MaterialEntry entry = block();
    entry.across[dry] = in_mortar();
    const Material saved = read_entry(entry, {}).material;
    MaterialEntry again = entry_of(saved);
    again.across[dry] = in_mortar();
    again.across[dry].value = "0.3";
    const ReadEntry read = read_entry(again, saved);
    ASSERT_TRUE(read.faults.empty());
    EXPECT_GT(read.material.lambda.by_condition.at(Condition::dry).value, 0.3);
    EXPECT_NEAR(read.material.lambda_up.by_condition.at(Condition::dry).value, 0.321741, 1e-6);
    EXPECT_EQ(entered_conductivity(restated(again, saved), dry, true), read.material.lambda_up.by_condition.at(Condition::dry).value) << "shown as it will be";
    again.up[dry].value = "0.2";
    EXPECT_EQ(read_entry(again, saved).material.lambda_up.by_condition.at(Condition::dry).value, 0.2) << "typed since";
    again.second_axis = false;
    EXPECT_NEAR(*entered_conductivity(again, dry, true), 0.321741, 1e-6) << "what stands there does not count";
}

TEST(MaterialEntry, a_value_stated_anew_replaces_what_the_source_said_of_the_former) {
    MaterialEntry entry = block();
    entry.across[dry] = in_mortar();
    const Material saved = read_entry(entry, {}).material;
    const auto source = [](const Material& material) { return material.lambda.by_condition.at(Condition::dry).source; };
    MaterialEntry again = entry_of(saved);
    const std::string kept = again.across[dry].source + "; seen on site";
    again.across[dry] = in_mortar();
    again.across[dry].source = kept;
    EXPECT_EQ(source(read_entry(again, saved).material), "sheet 3; seen on site; " + source(saved).substr(std::string("sheet 3; ").size()));
    again.up[dry] = in_mortar();
    again.up[dry].source = saved.lambda_up.by_condition.at(Condition::dry).source;
    EXPECT_EQ(read_entry(again, saved).material.lambda_up, saved.lambda_up);
    again.across[dry].stated = StatedAs::resistance;
    again.across[dry].value = "0.69", again.across[dry].thickness = "100";
    again.across[dry].source = "from R 0,5 m²·K/W of 10 cm; sheet 4";
    EXPECT_EQ(source(read_entry(again, saved).material), "sheet 4; from R 0.69 m²·K/W of 100 mm");
    again.across[dry].source = "worked out from R by the builder";
    EXPECT_EQ(source(read_entry(again, saved).material), "worked out from R by the builder; from R 0.69 m²·K/W of 100 mm");
}

TEST(MaterialEntry, units_in_mortar_are_refused_at_the_field_that_is_wrong) {
    const auto with = [](auto change) {
        MaterialEntry entry = block();
        entry.across[dry] = in_mortar();
        change(entry.across[dry]);
        return only_fault(entry);
    };
    EXPECT_EQ(with([](auto& e) { e.unit_length = ""; }), "/lambda/dry/unit_length entry-unit-size-missing");
    EXPECT_EQ(with([](auto& e) { e.unit_height = "0"; }), "/lambda/dry/unit_height thickness-not-positive");
    EXPECT_EQ(with([](auto& e) { e.bed = "-1"; }), "/lambda/dry/bed thickness-not-positive");
    EXPECT_EQ(with([](auto& e) { e.perpend = "thin"; }), "/lambda/dry/perpend entry-not-a-number");
    EXPECT_EQ(with([](auto& e) { e.mortar = " "; }), "/lambda/dry/mortar entry-mortar-missing");
    EXPECT_EQ(with([](auto& e) { e.mortar = "0"; }), "/lambda/dry/mortar conductivity-not-positive");
    EXPECT_EQ(with([](auto& e) { e.value = "0"; }), "/lambda/dry/value conductivity-not-positive");
    EXPECT_EQ(with([](auto& e) { e.value = "", e.source = ""; }), "/lambda/dry/value entry-value-missing");
    EXPECT_EQ(with([](auto& e) { e.perpend = ""; }), "0 faults") << "an empty joint is none";
}

TEST(MaterialEntry, a_fault_is_told_at_its_field) {
    const auto with = [](auto change) {
        MaterialEntry entry = block();
        change(entry);
        return only_fault(entry);
    };
    EXPECT_EQ(with([](auto& e) { e.name = " "; }), "/name material-without-name");
    EXPECT_EQ(with([](auto& e) { e.density = "heavy"; }), "/density entry-not-a-number");
    EXPECT_EQ(with([](auto& e) { e.density = "0"; }), "/density number-out-of-range");
    EXPECT_EQ(with([](auto& e) { e.strength = "1.000,5"; }), "/strength entry-two-separators");
    EXPECT_EQ(with([](auto& e) { e.across[dry].value = "0"; }), "/lambda/dry/value conductivity-not-positive");
    EXPECT_EQ(with([](auto& e) { e.across[dry].value = "200000"; }), "/lambda/dry/value conductivity-absurd");
    EXPECT_EQ(with([](auto& e) { e.across[dry].low = "0.15"; }), "/lambda/dry/low conductivity-range");
    EXPECT_EQ(with([](auto& e) { e.across[dry].high = "0.14"; }), "/lambda/dry/high conductivity-range");
    EXPECT_EQ(with([](auto& e) { e.across[dry].fractile = "100"; }), "/lambda/dry/fractile number-out-of-range");
    EXPECT_EQ(with([](auto& e) { e.across[dry].basis = Basis::at_moisture; }), "/lambda/dry/moisture entry-moisture-missing");
    EXPECT_EQ(with([](auto& e) { e.across[dry].moisture = "101", e.across[dry].by = MoistureBy::volume; }),
              "/lambda/dry/moisture number-out-of-range");
    EXPECT_EQ(with([](auto& e) { e.across[below_dpc].source = "sheet"; }), "/lambda/below-dpc/value entry-value-missing");
    EXPECT_EQ(with([](auto& e) {
                  e.up = e.across;
                  e.across = {};
                  e.second_axis = true;
              }),
              "/lambda/dry/value entry-up-without-across");
}

TEST(MaterialEntry, what_was_not_touched_comes_back_the_same) {
    for (const std::string& text : {test::small_study(), test::full_study()})
        for (const Material& material : read_study(text).study.materials) {
            const ReadEntry read = read_entry(entry_of(material), material);
            EXPECT_TRUE(read.faults.empty()) << material.id;
            EXPECT_EQ(read.material, material) << material.id;
        }
    // Percentages of moisture have no exact binary form.
    for (int i = 1; i < 1000; ++i) {
        Material material;
        material.id = material.name = "m";
        auto& lambda = material.lambda.by_condition[Condition::exposed];
        lambda.value = 1.0 / i;
        lambda.moisture = MoistureContent{MoistureBy::volume, i / 1000.0, {}};
        EXPECT_EQ(read_entry(entry_of(material), material).material, material) << i;
    }
}

// FORMAT: a bare number of soil, metal or an airspace holds in all conditions; with a source it can no longer be bare.
TEST(MaterialEntry, a_bare_number_of_soil_still_holds_everywhere_when_a_source_is_added) {
    const Material clay = *read_study(test::small_study()).study.find_material("clay");
    ASSERT_TRUE(clay.lambda.bare);
    MaterialEntry entry = entry_of(clay);
    for (const auto& one : entry.across) EXPECT_EQ(one.value, "1.5");
    entry.across[dry].source = "trial pit";
    const Material told = read_entry(entry, clay).material;
    EXPECT_EQ(told.lambda.by_condition.size(), condition_count);
    EXPECT_FALSE(told.lambda.bare);
}

TEST(MaterialEntry, parts_add_up_to_the_whole_and_take_the_place_of_a_conductivity) {
    MaterialEntry entry = block();
    entry.mixed = true;
    EXPECT_EQ(only_fault(entry), "/mix entry-mix-of-one");
    entry.mix = {{"board", "85"}, {"timber", "14,5"}};
    EXPECT_EQ(only_fault(entry), "/mix entry-mix-not-whole");
    entry.mix[1].share = "15";
    const ReadEntry read = read_entry(entry, {});
    ASSERT_TRUE(read.faults.empty());
    EXPECT_TRUE(read.material.lambda.by_condition.empty()) << "the mix takes its place";
    ASSERT_EQ(read.material.mix.size(), 2u);
    EXPECT_EQ(read.material.mix[0].material, "board");
    EXPECT_DOUBLE_EQ(read.material.mix[0].fraction, 0.85);
    entry.mix[1].share = "much";
    EXPECT_EQ(only_fault(entry), "/mix/1/fraction entry-not-a-number");
    entry.mix[1] = {"", "15"};
    EXPECT_EQ(only_fault(entry), "/mix/1/material entry-part-missing");
    entry.mix[1] = {"timber", ""};
    EXPECT_EQ(only_fault(entry), "/mix/1/fraction entry-share-missing");
    entry.mix[1] = {"timber", "120"};
    EXPECT_EQ(only_fault(entry), "/mix/1/fraction number-out-of-range");
    Material own;
    own.id = "timber";
    entry.mix[1].share = "15";
    EXPECT_EQ(read_entry(entry, own).faults.front().code, "mix-holds-itself");
}

TEST(MaterialEntry, shares_that_are_not_touched_keep_their_last_digit_and_a_mix_can_be_left) {
    Material third;
    third.id = third.name = "third";
    third.mix = {{"a", 1.0 / 3, {}}, {"b", 2.0 / 3, {}}};
    const ReadEntry same = read_entry(entry_of(third), third);
    EXPECT_TRUE(same.faults.empty());
    EXPECT_EQ(same.material, third);
    MaterialEntry left = entry_of(third);
    left.mixed = false;
    left.across[dry].value = "0.2";
    const ReadEntry own = read_entry(left, third);
    ASSERT_TRUE(own.faults.empty());
    EXPECT_TRUE(own.material.mix.empty());
    EXPECT_EQ(own.material.lambda.by_condition.at(Condition::dry).value, 0.2);
}

TEST(MaterialEntry, temperature_of_use_and_age_are_all_stated_or_not_at_all) {
    MaterialEntry entry = block();
    entry.temperature_coefficient = "0,003";
    EXPECT_EQ(read_entry(entry, {}).faults.size(), 2u);
    entry.temperature_from = "10";
    EXPECT_EQ(only_fault(entry), "/temperature/to entry-temperature-missing");
    entry.temperature_to = "hot";
    EXPECT_EQ(only_fault(entry), "/temperature/to entry-not-a-number");
    entry.temperature_to = "40";
    entry.ageing = "0.9";
    EXPECT_EQ(only_fault(entry), "/ageing number-out-of-range");
    entry.ageing = "1.2";
    const ReadEntry read = read_entry(entry, {});
    ASSERT_TRUE(read.faults.empty());
    ASSERT_TRUE(read.material.temperature);
    EXPECT_EQ(read.material.temperature->coefficient, 0.003);
    EXPECT_EQ(read.material.temperature->from, 10);
    EXPECT_EQ(read.material.temperature->to, 40);
    EXPECT_EQ(read.material.ageing, 1.2);
    const ReadEntry again = read_entry(entry_of(read.material), read.material);
    EXPECT_EQ(again.material, read.material) << "shown back as it was stated";
    MaterialEntry none = entry_of(read.material);
    none.temperature_coefficient = none.temperature_from = none.temperature_to = none.ageing = "";
    EXPECT_FALSE(read_entry(none, read.material).material.temperature);
    EXPECT_FALSE(read_entry(none, read.material).material.ageing);
}

}  // namespace
}  // namespace wallfoot
