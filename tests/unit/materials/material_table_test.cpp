// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/material_table.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <unistd.h>
#include <filesystem>
#include <fstream>
#include <set>

#include "core/resources/resources.hpp"
#include "core/study/study.hpp"

namespace wallfoot {
namespace {

namespace fs = std::filesystem;

const Material* find(const MaterialTable& table, const std::string& id) {
    for (const Material& material : table.materials)
        if (material.id == id) return &material;
    return nullptr;
}

TEST(MaterialTable, every_value_of_every_material_has_a_source) {
    const MaterialTable table = general_materials();
    EXPECT_TRUE(table.faults.empty()) << english(table.faults.front());
    EXPECT_GT(table.materials.size(), 30u);
    std::set<std::string> ids, names;
    for (const Material& material : table.materials) {
        EXPECT_TRUE(ids.insert(material.id).second) << material.id;
        EXPECT_TRUE(names.insert(material.name).second) << material.id;
        EXPECT_FALSE(material.name.empty()) << material.id;
        EXPECT_FALSE(material.lambda.by_condition.empty()) << material.id;
        EXPECT_TRUE(material.extra.empty()) << material.id << " has a field that no one reads";
        for (const auto& [condition, lambda] : material.lambda.by_condition) {
            EXPECT_GT(lambda.source.size(), 10u) << material.id << " " << to_string(condition);
            EXPECT_TRUE(lambda.extra.empty()) << material.id;
        }
    }
}

// ISO 10456:2007, table of design values, from memory. Picked by hand: a slip in the files shows.
TEST(MaterialTable, values_are_those_of_the_standard) {
    const MaterialTable table = general_materials();
    struct Known {
        const char* id;
        Condition condition;
        double lambda;
    };
    for (const Known& known : {Known{"concrete-2400", Condition::protected_, 2.0}, {"gypsum-plaster-1000", Condition::protected_, 0.4},
                               {"softwood", Condition::protected_, 0.13}, {"steel", Condition::exposed, 50}, {"copper", Condition::dry, 380},
                               {"sand-gravel", Condition::below_ground, 2.0}, {"granite", Condition::protected_, 2.8}}) {
        const Material* material = find(table, known.id);
        ASSERT_TRUE(material && material->lambda.by_condition.contains(known.condition)) << known.id;
        EXPECT_EQ(material->lambda.by_condition.at(known.condition).value, known.lambda) << known.id;
    }
}

/// A folder of resources that is in use while this lives.
struct OwnResources {
    fs::path folder = fs::temp_directory_path() / ("wallfoot-tables-" + std::to_string(::getpid()));
    OwnResources() {
        fs::create_directories(folder / "materials");
        use_resources_from(folder.string());
    }
    ~OwnResources() {
        use_resources_from("");
        fs::remove_all(folder);
    }
    void write(const char* name, const char* text) const { std::ofstream(folder / "materials" / name) << text; }
};

TEST(MaterialTable, own_files_add_and_take_the_place_of_their_namesakes_by_id) {
    const OwnResources own;
    own.write("a-first.json", R"({ "materials": [
        { "id": "steel", "name": "Own steel", "kind": "metal", "lambda": 48 },
        { "id": "own", "name": "Own board", "kind": "insulation", "lambda": { "dry": 0.04 } } ] })");
    const MaterialTable table = general_materials();
    EXPECT_TRUE(table.faults.empty());
    ASSERT_TRUE(find(table, "own"));
    EXPECT_EQ(find(table, "steel")->name, "Own steel") << "although the program's file comes later";
    EXPECT_TRUE(find(table, "copper"));
    EXPECT_EQ(std::count_if(table.materials.begin(), table.materials.end(), [](const Material& m) { return m.id == "steel"; }), 1);
}

TEST(MaterialTable, a_damaged_file_is_told_and_the_others_stay) {
    const OwnResources own;
    own.write("insulation.json", R"({ "materials": [ { "id": "x", "kind": "insulation", "lambda": -1 } ] })");
    own.write("more.json", R"({ "materials": [ { "id": "x", "kind": "other", "mix": [ { "material": "steel", "fraction": 1 } ] } ] })");
    const MaterialTable table = general_materials();
    ASSERT_EQ(table.faults.size(), 2u);
    EXPECT_NE(english(table.faults[0]).find("insulation.json"), std::string::npos);
    EXPECT_NE(english(table.faults[0]).find("/materials/0/lambda"), std::string::npos);
    EXPECT_FALSE(find(table, "x"));
    EXPECT_TRUE(find(table, "steel"));
}

}  // namespace
}  // namespace wallfoot
