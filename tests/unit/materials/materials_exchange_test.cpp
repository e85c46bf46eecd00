// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/materials_exchange.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/file/material_table.hpp"
#include "core/file/study_file.hpp"
#include "core/study/materials.hpp"
#include "core/text/message.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

std::vector<Material> some() { return load_study(in_tree("samples/slab-insulation-below.wallfoot")).study.materials; }

std::string told(const std::string& csv) {
    try {
        read_materials_csv(csv);
    } catch (const InputFault& fault) {
        return fault.faults().front().code + " " + english(fault.faults().front());
    }
    return "";
}

TEST(MaterialsExchange, JsonBringsBackWhatWasWritten) {
    EXPECT_EQ(read_materials_json(materials_json(some())), some());
    const auto table = general_materials().materials;
    ASSERT_GT(table.size(), 20U);
    EXPECT_EQ(read_materials_json(materials_json(table)), table);
}

TEST(MaterialsExchange, CsvBringsBackWhatItHasColumnsFor) {
    for (const auto& all : {some(), general_materials().materials}) {
        const auto left = csv_leaves_out(all);
        const auto back = read_materials_csv(materials_csv(all));
        ASSERT_EQ(back.size(), all.size());
        std::size_t same = 0;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (std::find(left.begin(), left.end(), shown_name(all[i])) != left.end()) continue;
            ++same;
            EXPECT_EQ(back[i], all[i]) << shown_name(all[i]);
        }
        EXPECT_GT(same, 3U);
    }
}

TEST(MaterialsExchange, AHandWrittenTableIsRead) {
    // Divided by semicolons with the comma as decimal sign, as spreadsheets of many countries write it.
    const auto read = read_materials_csv("name;kind;condition;lambda;source;density\r\n\"Foam; light\";masonry;dry;0,145;page \"\"4\"\" of the paper;450\r\n\"Foam; light\";masonry;below-ground;0,24;;450\r\n");
    ASSERT_EQ(read.size(), 1U);
    EXPECT_EQ(read[0].name, "Foam; light");
    EXPECT_EQ(read[0].lambda.by_condition.at(Condition::dry).value, 0.145);
    EXPECT_EQ(read[0].lambda.by_condition.at(Condition::below_ground).value, 0.24);
    EXPECT_EQ(read[0].density, 450);
}

TEST(MaterialsExchange, SaysOnWhichLineATableIsWrong) {
    const std::string head = "id,name,kind,condition,lambda\n";
    EXPECT_NE(told(head + "a,A,masonry,dry,0.1\nb,B,masonry,dry,much\n").find("Line 3"), std::string::npos);
    EXPECT_NE(told(head + "a,A,cheese,dry,0.1\n").find("Line 2"), std::string::npos);
    EXPECT_NE(told(head + "a,A,masonry,dry,-1\n").find("Line 2"), std::string::npos);
    EXPECT_NE(told(head + "a,A,masonry,dry,0.1\na,A,masonry,dry,0.2\n").find("Line 3"), std::string::npos);
    EXPECT_NE(told(head + ",,masonry,dry,0.1\n").find("csv-row"), std::string::npos);
    EXPECT_NE(told(head + "\"a,A,masonry\n").find("csv-row"), std::string::npos);
    EXPECT_NE(told("id,weight,kind\na,1,masonry\n").find("csv-column-unknown"), std::string::npos);
    EXPECT_NE(told("").find("csv-no-head"), std::string::npos);
    EXPECT_NE(told("nonsense").find("csv-no-head"), std::string::npos);
}

TEST(MaterialsExchange, ImportLeavesWhatIsThereAndRenamesWhatOnlyLooksAlike) {
    Study study = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    std::size_t added = 9;
    EXPECT_EQ(import_materials(study, some(), &added).materials, study.materials);
    EXPECT_EQ(added, 0U);
    auto other = some();
    other.resize(1);
    other[0].density = 1.5 * other[0].density.value_or(400);
    const Study with = import_materials(study, other, &added);
    EXPECT_EQ(added, 1U);
    ASSERT_EQ(with.materials.size(), study.materials.size() + 1);
    EXPECT_EQ(with.materials.front(), study.materials.front()) << "the one in use stays";
    EXPECT_NE(with.materials.back().id, other[0].id);
    EXPECT_NE(with.materials.back().name, other[0].name);
    EXPECT_EQ(with.materials.back().density, other[0].density);
}

}  // namespace
}  // namespace wallfoot
