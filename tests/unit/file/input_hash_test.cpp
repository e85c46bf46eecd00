// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot {
namespace {

using Json = nlohmann::json;

std::string hash_with(const std::string& pointer = "", const Json& value = {}) {
    Json study = Json::parse(test::full_study());
    if (!pointer.empty()) study[Json::json_pointer(pointer)] = value;
    const Study read = read_study(study.dump()).study;
    return input_hash(read, read.variants.front());
}

TEST(InputHash, has_its_form) {
    const std::string hash = hash_with();
    EXPECT_EQ(hash.size(), 6u + 64u);
    EXPECT_TRUE(hash.starts_with("sha256"));
    EXPECT_EQ(hash.substr(6).find_first_not_of("0123456789abcdef"), std::string::npos);
}

TEST(InputHash, names_and_notes_do_not_count) {
    const std::string section = "/variants/0/section";
    for (const auto& [pointer, value] : std::map<std::string, Json>{
             {"/title", "x"}, {"/notes", "x"}, {"/project/author", "x"}, {"/variants/0/name", "x"}, {"/variants/0/note", "x"},
             {"/variants/0/id", "x"}, {"/materials/0/name", "x"}, {"/materials/0/evidence", Json::array()},
             {"/conventions/own/name", "x"}, {section + "/spaces/0/name", "x"}, {section + "/pieces/0/name", "x"},
             {section + "/stretch/0/name", "x"}, {section + "/texts", Json::array()}, {section + "/dimensions", Json::array()},
             {section + "/groups", Json::array()}, {section + "/underlays", Json::array()}, {"/attachments", Json::object()},
             {"/materials/5/lambda", 0.04 /* used by no piece */}, {"/building/quantities/junction", 30}, {"/lessons", Json::array()}, {"/climate", Json::object()}})
        EXPECT_EQ(hash_with(pointer, value), hash_with()) << pointer;
}

TEST(InputHash, whatever_changes_the_answer_counts) {
    const std::string section = "/variants/0/section";
    for (const auto& [pointer, value] : std::map<std::string, Json>{
             {"/materials/0/lambda/dry/value", 0.146}, {"/materials/0/lambda_up/dry", 0.16}, {"/materials/0/kind", "other"},
             {section + "/pieces/0/outline/1", {100.126, 0}}, {section + "/pieces/0/moisture", "auto"},
             {section + "/spaces/0/temperature", 21}, {section + "/cut/0", -1501}, {section + "/beyond/left", 4001},
             {section + "/levels/floor", 1}, {section + "/membranes/0/sealed_laps", false},
             {"/conventions/own/heat_flow/outside", 0.05}, {"/conventions/own/lengths", "internal"},
             {"/building/floor/width", 8000}, {"/rule_sets/own/limits", Json::array()}})
        EXPECT_NE(hash_with(pointer, value), hash_with()) << pointer;
}

TEST(InputHash, survives_saving_and_the_order_of_materials) {
    const Study study = read_study(test::full_study()).study;
    const Study again = read_study(write_study(study)).study;
    EXPECT_EQ(input_hash(study, study.variants[0]), input_hash(again, again.variants[0]));
    Study turned = study;
    std::reverse(turned.materials.begin(), turned.materials.end());
    EXPECT_EQ(input_hash(study, study.variants[0]), input_hash(turned, turned.variants[0]));
}

}  // namespace
}  // namespace wallfoot
