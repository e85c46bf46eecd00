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
    entry.across[below_dpc] = {"0.18", false, "", Basis::at_moisture, "4,5", MoistureBy::mass, "0.17", "0,20", "90", " sheet 3 "};
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
    entry.across[dry] = {"0,69", true, "10 cm", Basis::measured, "", MoistureBy::mass, "", "", "", "sheet 3"};
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

}  // namespace
}  // namespace wallfoot
