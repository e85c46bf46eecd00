// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/transfer.hpp"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "core/dwelling/dwelling_file.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "tests/unit/dwelling/dwelling_drafts.hpp"

namespace wallfoot {
namespace {

std::string rounded_text(double value, int decimals, RoundingMode mode) { return typed_text(typed(value, decimals, mode), true); }

TEST(Transfer, rounds_decimals_as_they_are_read_and_always_shows_the_sign) {
    using enum RoundingMode;
    // 0.0345 and 1.005 lie below their text as binary numbers; who types them rounds the text.
    EXPECT_EQ(rounded_text(0.0345, 3, half_away), "+0.035");
    EXPECT_EQ(rounded_text(0.0345, 3, half_even), "+0.034");
    EXPECT_EQ(rounded_text(0.0335, 3, half_even), "+0.034");
    EXPECT_EQ(rounded_text(1.005, 2, half_away), "+1.01");
    EXPECT_EQ(rounded_text(-0.0345, 3, half_away), "-0.035");
    EXPECT_EQ(rounded_text(-0.0345, 3, half_even), "-0.034");
    EXPECT_EQ(rounded_text(0.0341, 3, up), "+0.035");
    EXPECT_EQ(rounded_text(0.034, 3, up), "+0.034");
    EXPECT_EQ(rounded_text(-0.0349, 3, up), "-0.034") << "less taken off is the safe side";
    EXPECT_EQ(rounded_text(-0.0002, 3, half_away), "+0.000");
    EXPECT_EQ(rounded_text(0.03449999, 3, half_away), "+0.034");
    EXPECT_EQ(rounded_text(123456, 0, half_away), "+123456");
    EXPECT_EQ(rounded_text(98765.4321, 3, half_away), "+98765.432");
    EXPECT_EQ(typed_text(typed(12.5, 2, half_away), false, ','), "12,50");
}

Dwelling rows_of(std::vector<std::pair<double, double>> psi_and_length) {
    Dwelling dwelling;
    for (const auto& [psi, length] : psi_and_length) dwelling.junctions.push_back({new_junction_id(dwelling), "other", "", length, FromElsewhere{psi, {}, {}, ValueBasis::published, "s", {}, {}}, {}, {}});
    return dwelling;
}

// The sum of what is typed, by hand: 0.035·10.13 + (−0.012)·7.26 + 0.100·3.33 = 0.35455 − 0.08712 + 0.333 = 0.60043.
TEST(Transfer, check_sum_is_that_of_the_numbers_as_typed) {
    const auto dwelling = rows_of({{0.0345, 10.126}, {-0.0123, 7.255}, {0.1, 3.33}});
    auto used = transfer_template("junction-list");
    auto sheet = transfer_sheet(dwelling, balance(dwelling, {}), used);
    EXPECT_EQ(typed_text(sheet.check_sum, true), "+0.600");
    EXPECT_EQ(typed_text(sheet.length_sum, false), "20.72");
    EXPECT_EQ(transfer_cell(sheet, 0, TransferWhat::psi), "+0.035");
    EXPECT_EQ(transfer_cell(sheet, 1, TransferWhat::psi), "-0.012");
    EXPECT_EQ(transfer_cell(sheet, 1, TransferWhat::length), "7.26");
    EXPECT_EQ(transfer_cell(sheet, 1, TransferWhat::product), "-0.08712");
    used.sum_decimals = 5;
    sheet = transfer_sheet(dwelling, balance(dwelling, {}), used);
    EXPECT_EQ(typed_text(sheet.check_sum, true), "+0.60043");
    // Not that of the unrounded ones: 0.0345·10.126 − 0.0123·7.255 + 0.333 = 0.59311.
    EXPECT_NEAR(balance(dwelling, {}).lines.value, 0.0345 * 10.126 - 0.0123 * 7.255 + 0.333, 1e-12);
}

TEST(Transfer, orders_rows_by_the_template_and_tells_what_is_open) {
    auto dwelling = read_dwelling(test::full_dwelling()).dwelling;
    std::swap(dwelling.junctions[0], dwelling.junctions[2]);  // the fixing first, the foot third
    const auto sums = balance(dwelling, {});
    const auto sheet = transfer_sheet(dwelling, sums, transfer_template("junction-list"));
    ASSERT_EQ(sheet.rows.size(), 4u);
    EXPECT_EQ(dwelling.junctions[sheet.rows[0].junction].id, "foot");
    EXPECT_EQ(dwelling.junctions[sheet.rows[1].junction].id, "lintels");
    EXPECT_EQ(dwelling.junctions[sheet.rows[2].junction].id, "eaves");
    EXPECT_TRUE(sheet.rows[3].point);
    EXPECT_EQ(transfer_cell(sheet, 2, TransferWhat::psi), "open");
    EXPECT_EQ(transfer_cell(sheet, 2, TransferWhat::product), "open");
    EXPECT_EQ(transfer_cell(sheet, 0, TransferWhat::basis), "calculated, out of date");
    EXPECT_EQ(sheet.open_kinds.size(), 5u);
    EXPECT_EQ(typed_text(sheet.check_sum, true), "+2.400");
    EXPECT_EQ(typed_text(sheet.point_sum, true), "+0.120");
    ASSERT_EQ(sheet.notes.size(), 2u);
    EXPECT_EQ(sheet.notes[0].code, "transfer-open");
    EXPECT_EQ(sheet.notes[1].code, "transfer-out-of-date");
    const auto outer = transfer_sheet(dwelling, sums, transfer_template("junction-list-outer"));
    EXPECT_EQ(outer.notes[0].code, "transfer-other-lengths");
    EXPECT_EQ(dwelling.junctions[outer.rows[0].junction].id, "lintels") << "without an order, as they stand";
}

// psi = L2D − ΣU·h: with a U that is 0.05 smaller over 1.5 m it would be 0.075 greater.
TEST(Transfer, shows_what_another_U_does_to_psi) {
    const auto dwelling = read_dwelling(test::full_dwelling()).dwelling;
    const auto sheet = transfer_sheet(dwelling, balance(dwelling, {}), transfer_template("junction-list"));
    ASSERT_EQ(sheet.flanking.size(), 1u);
    EXPECT_DOUBLE_EQ(*sheet.flanking[0].U_used, 0.2) << "that of the wall in the envelope";
    EXPECT_NEAR(*sheet.flanking[0].difference, 0.2 - 0.25, 1e-15);
    EXPECT_NEAR(*sheet.flanking[0].effect, 1.5 * 0.05, 1e-15);
    const std::string text = transfer_text(dwelling, sheet);
    EXPECT_NE(text.find("+0.075"), std::string::npos) << text;
    EXPECT_NE(text.find("-0.050"), std::string::npos) << text;
    EXPECT_NE(text.find("wall at the top"), std::string::npos) << text;
    auto silent = dwelling;
    silent.junctions[0].calculation.clear();
    EXPECT_NE(transfer_text(silent, transfer_sheet(silent, balance(silent, {}), transfer_template("junction-list"))).find("not stated"), std::string::npos);
}

TEST(Transfer, is_written_as_text_table_and_json) {
    const auto dwelling = read_dwelling(test::full_dwelling()).dwelling;
    auto used = transfer_template("junction-list");
    used.decimal_sign = ',';
    const auto sheet = transfer_sheet(dwelling, balance(dwelling, {}), used);
    const std::string csv = transfer_csv(dwelling, sheet);
    EXPECT_TRUE(csv.starts_with("No.;Junction;Where;Length, m;psi, W/(m·K)")) << csv;
    EXPECT_NE(csv.find("\r\n2;Lintel;;4,00;+0,300;+1,20000;default;a table\r\n"), std::string::npos) << csv;
    const auto json = nlohmann::json::parse(transfer_json(dwelling, sheet));
    EXPECT_EQ(json["check_sum"], "+2.400");
    EXPECT_EQ(json["rows"].size(), 4u);
    EXPECT_EQ(json["rows"][0]["standing"], "out-of-date");
    EXPECT_NEAR(json["flanking"][0]["effect"].get<double>(), 0.075, 1e-9);
}

TEST(Transfer, templates_are_whole_and_faults_have_their_place) {
    for (const std::string& id : transfer_ids()) {
        const auto used = transfer_template(id);
        EXPECT_EQ(used.id, id);
        EXPECT_FALSE(used.columns.empty());
        const auto kinds = junction_kinds();
        for (const auto& kind : used.order) EXPECT_NE(kind_name(kinds, kind.id), kind.id) << "unknown kind in " << id;
    }
    EXPECT_GE(transfer_ids().size(), 2u);
    EXPECT_THROW(transfer_template("none"), InputFault);
    const auto fault = [](const std::string& json) {
        try {
            read_transfer_template(json);
        } catch (const InputFault& faults) {
            return faults.faults().front().code + " " + faults.faults().front().pointer;
        }
        return std::string();
    };
    EXPECT_EQ(fault(R"({"id":"a","lengths":"internal","columns":[{"what":"psi","name":"p"}]})"), "");
    EXPECT_EQ(fault(R"({"id":"a","lengths":"inside","columns":[]})"), "unknown-word /lengths");
    EXPECT_EQ(fault(R"({"id":"a","lengths":"internal","columns":[{"what":"cost","name":"p"}]})"), "unknown-word /columns/0/what");
    EXPECT_EQ(fault(R"({"id":"a","lengths":"internal","decimals":{"psi":2.5},"columns":[]})"), "transfer-decimals /decimals/psi");
    EXPECT_EQ(fault(R"({"id":"a","lengths":"internal","decimal_sign":"'","columns":[]})"), "unknown-word /decimal_sign");
    EXPECT_EQ(fault(R"({"id":"a","lengths":"internal","colums":[],"columns":[]})"), "unknown-field /colums");
}

}  // namespace
}  // namespace wallfoot
