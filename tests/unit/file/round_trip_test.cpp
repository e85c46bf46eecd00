// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <functional>
#include <nlohmann/json.hpp>

#include "core/file/quantities.hpp"
#include "core/file/study_file.hpp"
#include "tests/unit/file/sample_study.hpp"

namespace wallfoot {
namespace {

using test::full_study;
using test::small_study;
using Json = nlohmann::json;

/// Reads, writes, reads, writes: both writings must be the same bytes.
std::string stable(const std::string& text) {
    const std::string once = write_study(read_study(text).study);
    EXPECT_EQ(once, write_study(read_study(once).study));
    return once;
}

TEST(RoundTrip, small_study_reads_what_it_says) {
    const auto read = read_study(small_study());
    const Study& study = read.study;
    ASSERT_EQ(study.variants.size(), 1u);
    const Section& section = *study.variants[0].section;
    EXPECT_EQ(section.cut, (Rect{-1'500'000, -1'200'000, 900'000, 1'500'000}));
    EXPECT_EQ(section.pieces[2].outline[1], (Point{100'500, -600'000}));
    EXPECT_EQ(study.floor_width, 8'000'000);
    EXPECT_FALSE(section.pieces[2].moisture);
    EXPECT_TRUE(study.find_material("slab")->lambda.bare);
    EXPECT_EQ(study.find_material("block")->lambda.by_condition.at(Condition::below_ground).value, 0.24);
    EXPECT_TRUE(section.beyond.at(CutSide::bottom).automatic);
    EXPECT_FALSE(section.beyond.contains(CutSide::top));
    ASSERT_EQ(read.warnings.size(), 1u);
    EXPECT_EQ(read.warnings[0].code, "convention-from-program");
    EXPECT_EQ(study.used_convention().heat_flow.inside.down, 0.17);
}

TEST(RoundTrip, small_study_is_stable) { stable(small_study()); }

// An independent reader sees the same document before and after, down to every field.
TEST(RoundTrip, full_study_keeps_every_field) {
    const auto read = read_study(full_study());
    for (const auto& warning : read.warnings) ADD_FAILURE() << warning.pointer;
    Json before = Json::parse(full_study());
    // Empty texts are not written.
    before["site"]["drained"].erase("source");
    EXPECT_EQ(Json::diff(before, Json::parse(stable(full_study()))), Json::array());
}

TEST(RoundTrip, unknown_fields_at_every_level_survive_with_a_warning_each) {
    Json with = Json::parse(full_study());
    std::size_t added = 0;
    // Objects whose members are named freely, or that are kept whole, have no unknown fields.
    const std::function<void(Json&, const std::string&)> add = [&](Json& value, const std::string& place) {
        const auto kept = {"/rule_sets", "/building", "/lessons", "/dwelling", "/sweeps", "/issued"};
        for (const char* name : kept)
            if (place.starts_with(name)) return;
        for (const char* name : {"/balance", "/site/soil/value"})
            if (place.find(name) != std::string::npos) return;
        if (value.is_array())
            for (std::size_t i = 0; i < value.size(); ++i) add(value[i], place + "/" + std::to_string(i));
        if (!value.is_object()) return;
        for (auto& [name, member] : value.items()) add(member, place + "/" + name);
        const bool by_name = place == "/conventions" || place == "/attachments" || place == "/site" || place.ends_with("/lambda") || place.ends_with("/least_fRsi_by_use") || place.ends_with("/least_fRsi_by_zone") || place.ends_with("/lambda_up");
        if (by_name && !value.contains("value")) return;
        value["later"] = {{"b", 1.5}, {"a", {1, "two", nullptr}}};
        value["x/~y"] = 18446744073709551615u;
        added += 2;
    };
    add(with, "");
    EXPECT_GT(added, 60u);
    const auto read = read_study(with.dump());
    EXPECT_EQ(read.warnings.size(), added);
    for (const auto& warning : read.warnings) {
        EXPECT_EQ(warning.code, "unknown-field");
        EXPECT_TRUE(with.contains(Json::json_pointer(warning.pointer))) << warning.pointer;
    }
    with["site"]["drained"].erase("source");
    EXPECT_EQ(Json::diff(with, Json::parse(stable(with.dump()))), Json::array());
}

TEST(RoundTrip, form_is_canonical) {
    const std::string text = stable(full_study());
    EXPECT_NE(text.find("\"outline\": [[0, 0], [100.125, 0], [100.125, 1500], [0, 1500]]"), std::string::npos) << text;
    EXPECT_NE(text.find("\n      \"lambda\": 0.88,\n"), std::string::npos);
    EXPECT_NE(text.find("\"limits\": [1, 2.5, 100]"), std::string::npos);
    EXPECT_NE(text.find("\"right\": 0.001"), std::string::npos);
    EXPECT_EQ(text.find("\r"), std::string::npos);
    EXPECT_TRUE(text.ends_with("}\n"));
}

TEST(RoundTrip, coordinates_lie_on_the_grid) {
    Json study = Json::parse(small_study());
    study["variants"][0]["section"]["spaces"][0]["at"] = {-700.00049, 600.0006};
    const auto read = read_study(study.dump());
    EXPECT_EQ(read.study.variants[0].section->spaces[0].at[0], (Point{-700'000, 600'001}));
}

TEST(RoundTrip, minus_zero_is_zero) {
    Json study = Json::parse(full_study());
    std::string text = study.dump();
    const std::string from = "\"outside_temperature\":-5", to = "\"outside_temperature\":-0.0";
    text.replace(text.find(from), from.size(), to);
    EXPECT_NE(stable(text).find("\"outside_temperature\": 0,"), std::string::npos);
}

TEST(RoundTrip, changed_floor_width_is_written) {
    Study study = read_study(full_study()).study;
    const Json edge = Json::parse(full_study())["building"]["floor"]["edge_insulation"];
    study.floor_width = 6'000'000;
    EXPECT_EQ(Json::parse(write_study(study))["building"]["floor"], (Json{{"kind", "slab"}, {"width", 6000}, {"edge_insulation", edge}}));
    study.floor_width.reset();
    EXPECT_EQ(Json::parse(write_study(study))["building"]["floor"], (Json{{"kind", "slab"}, {"edge_insulation", edge}}));
}

TEST(RoundTrip, quantities_are_read_and_written) {
    const Study study = read_study(full_study()).study;
    EXPECT_EQ(quantities(study), (Quantities{28.5, {{"left", 0}, {"top", 40}}}));
    const Quantities other{std::nullopt, {{"right", 12.25}}};
    EXPECT_EQ(Json::parse(write_study(set_quantities(study, other)))["building"]["quantities"], (Json{{"areas", {{"right", 12.25}}}, {"by", "own"}}));
    const Study none = read_study(small_study()).study;
    EXPECT_EQ(quantities(none), Quantities{});
    EXPECT_EQ(set_quantities(none, {}).building, none.building);
    EXPECT_EQ(quantities(set_quantities(study, {})), Quantities{});
    EXPECT_EQ(Json::parse(write_study(set_quantities(study, {})))["building"]["quantities"], (Json{{"by", "own"}}));
    const Study zero = set_quantities(none, {0, {}});
    EXPECT_EQ(quantities(read_study(write_study(zero)).study), (Quantities{0, {}})) << "none is not the same as not stated";
    EXPECT_EQ(Json::parse(write_study(set_quantities(zero, {}))), Json::parse(write_study(none)));
}

}  // namespace
}  // namespace wallfoot
