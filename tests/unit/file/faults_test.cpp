// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <fstream>
#include <functional>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "tests/unit/file/sample_study.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

using test::full_study;
using test::small_study;
using Json = nlohmann::json;

std::vector<Message> faults_of(const std::string& text) {
    try {
        read_study(text);
    } catch (const InputFault& fault) {
        return fault.faults();
    }
    return {};
}

/// The first fault after one change of the full study, as "code pointer".
std::string after(const std::function<void(Json&)>& change) {
    Json study = Json::parse(full_study());
    change(study);
    const auto faults = faults_of(study.dump());
    for (const Message& fault : faults) {
        EXPECT_EQ(english(fault).find('{'), std::string::npos) << english(fault);
        EXPECT_NE(english(fault).find(' '), std::string::npos) << "no sentence for " << fault.code;
    }
    return faults.empty() ? "" : faults.front().code + " " + faults.front().pointer;
}

/// The same, setting one value.
std::string with(const std::string& pointer, const Json& value) {
    return after([&](Json& study) { study[Json::json_pointer(pointer)] = value; });
}

std::string without(const std::string& pointer) {
    return after([&](Json& study) {
        const Json::json_pointer place(pointer);
        study[place.parent_pointer()].erase(place.back());
    });
}

const std::string section = "/variants/0/section";

TEST(Faults, text_that_ends_too_early_has_line_and_column) {
    const auto faults = faults_of("{\n  \"wallfoot\": 1,\n  \"title\": \"ä");
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_EQ(faults[0].code, "json-syntax");  // the text itself is not closed
    EXPECT_EQ(faults[0].args.at("line"), "3");
    EXPECT_EQ(faults[0].args.at("column"), "14");
    EXPECT_EQ(faults_of("{ \"wallfoot\": 1, ")[0].code, "json-cut-short");
    EXPECT_EQ(faults_of("")[0].code, "json-cut-short");
    EXPECT_EQ(faults_of(small_study() + "}")[0].code, "json-syntax");
    EXPECT_EQ(faults_of("[1]")[0].code, "wrong-type");
    EXPECT_EQ(faults_of("{\"title\": \"\xff\"}")[0].code, "json-syntax");
}

TEST(Faults, every_beginning_of_a_study_is_a_fault) {
    const std::string& text = full_study();
    for (std::size_t n = 0; n < text.size(); n += 7) EXPECT_FALSE(faults_of(text.substr(0, n)).empty()) << n;
}

TEST(Faults, duplicate_keys_are_found_with_their_pointer) {
    std::string text = small_study();
    const std::string once = "\"kind\": \"concrete\"";
    text.replace(text.find(once), once.size(), once + ", \"kind\": \"metal\"");
    const auto faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_EQ(faults[0].code, "duplicate-key");
    EXPECT_EQ(faults[0].pointer, "/materials/1/kind");
}

TEST(Faults, numbers_out_of_any_range) {
    const auto at_conductivity = [](const std::string& number) {
        std::string text = small_study();
        const std::string before = "\"lambda\": 2.0";
        text.replace(text.find(before), before.size(), "\"lambda\": " + number);
        const auto faults = faults_of(text);
        return faults.empty() ? "" : faults[0].code;
    };
    EXPECT_EQ(at_conductivity("1e999"), "number-not-finite");
    EXPECT_EQ(at_conductivity("-1e999"), "number-not-finite");
    EXPECT_EQ(at_conductivity("NaN"), "json-syntax");
    EXPECT_EQ(at_conductivity("Infinity"), "json-syntax");
    EXPECT_EQ(at_conductivity("1e308"), "conductivity-absurd");
    EXPECT_EQ(at_conductivity("100001"), "conductivity-absurd");
    EXPECT_EQ(at_conductivity("1e-320"), "conductivity-absurd");
    EXPECT_EQ(at_conductivity("0"), "conductivity-not-positive");
    EXPECT_EQ(at_conductivity("-0.0"), "conductivity-not-positive");
    EXPECT_EQ(at_conductivity("-2"), "conductivity-not-positive");
    EXPECT_EQ(at_conductivity("100000"), "");
}

TEST(Faults, nesting_and_size_are_bounded) {
    EXPECT_EQ(faults_of(std::string(100'000, '['))[0].code, "json-too-deep");
    std::string deep;
    for (int i = 0; i < 100'000; ++i) deep += "{\"a\":";
    EXPECT_EQ(faults_of(deep)[0].code, "json-too-deep");
    Json many = Json::parse(full_study());
    for (int i = 0; i < 20'000; ++i) many[Json::json_pointer(section + "/pieces/0/outline")].push_back({i % 141, i / 141});
    const auto faults = faults_of(many.dump());
    ASSERT_FALSE(faults.empty());
    EXPECT_EQ(faults[0].code, "too-many-vertices");
    Json large = Json::parse(full_study());
    large["attachments"]["00"] = {{"type", "image/png"}}, large["attachments"]["00"]["data"] = std::string(27'000'000, 'A');
    EXPECT_EQ(faults_of(large.dump())[0].code, "attachment-too-large");
    for (const char* name : {"00", "01", "02"}) large["attachments"][name]["data"] = std::string(26'000'000, 'A');
    EXPECT_EQ(faults_of(large.dump())[0].code, "attachments-too-large");
    EXPECT_EQ(faults_of(std::string(200'000'001, ' '))[0].code, "file-too-large");
}

TEST(Faults, newer_file_is_refused_with_the_version_it_needs) {
    EXPECT_EQ(with("/wallfoot", 2), "newer-file /wallfoot");
    EXPECT_EQ(with("/wallfoot", 0), "unknown-version /wallfoot");
    EXPECT_EQ(with("/wallfoot", 1.5), "unknown-version /wallfoot");
    EXPECT_EQ(with("/wallfoot", "1"), "wrong-type /wallfoot");
    EXPECT_EQ(without("/wallfoot"), "missing-field ");
    EXPECT_NE(english(faults_of(R"({"wallfoot": 7})")[0]).find("version 7"), std::string::npos);
}

TEST(Faults, ids_and_references) {
    EXPECT_EQ(with("/materials/1/id", "ab"), "duplicate-id /materials/1");
    EXPECT_EQ(with("/materials/1/id", ""), "empty-id /materials/1/id");
    EXPECT_EQ(without("/materials/1/id"), "missing-field /materials/1");
    EXPECT_EQ(with("/variants/1/id", "v1"), "duplicate-id /variants/1");
    EXPECT_EQ(with(section + "/spaces/1/id", "in"), "duplicate-id " + section + "/spaces/1");
    EXPECT_EQ(with(section + "/pieces/1/id", "leaf"), "duplicate-id " + section + "/pieces/1");
    EXPECT_EQ(with(section + "/membranes/1/id", "m1"), "duplicate-id " + section + "/membranes/1");
    EXPECT_EQ(with(section + "/pieces/0/material", "x"), "unknown-material " + section + "/pieces/0/material");
    EXPECT_EQ(with(section + "/pieces/1/space", "x"), "unknown-space " + section + "/pieces/1/space");
    EXPECT_EQ(with("/materials/2/mix/0/material", "x"), "unknown-material /materials/2/mix/0/material");
    EXPECT_EQ(with("/materials/2/mix/0/material", "mixed"), "mix-holds-itself /materials/2/mix/0/material");
    EXPECT_EQ(with("/convention", "nobody's"), "unknown-convention /convention");
    EXPECT_EQ(with("/convention", "../conventions/iso"), "unknown-convention /convention");
    EXPECT_EQ(with("/convention", "iso"), "");
    EXPECT_EQ(without("/convention"), "missing-field ");
    EXPECT_EQ(without("/variants"), "missing-field ");
    EXPECT_EQ(with("/variants", Json::array()), "no-variant /variants");
}

TEST(Faults, words_say_which_are_right) {
    EXPECT_EQ(with("/materials/0/kind", "brick"), "unknown-word /materials/0/kind");
    EXPECT_EQ(with("/materials/0/lambda/wet", 1), "unknown-word /materials/0/lambda/wet");
    EXPECT_EQ(with("/materials/0/lambda/dry/basis", "guess"), "unknown-word /materials/0/lambda/dry/basis");
    EXPECT_EQ(with(section + "/spaces/0/kind", "warm"), "unknown-word " + section + "/spaces/0/kind");
    EXPECT_EQ(with(section + "/spaces/0/side", "left"), "unknown-word " + section + "/spaces/0/side");
    EXPECT_EQ(with(section + "/pieces/0/moisture", "wet"), "unknown-word " + section + "/pieces/0/moisture");
    EXPECT_EQ(with(section + "/membranes/0/kind", "foil"), "unknown-word " + section + "/membranes/0/kind");
    EXPECT_EQ(with(section + "/beyond/left", "far"), "unknown-word " + section + "/beyond/left");
    EXPECT_EQ(with(section + "/elements/0/cut", "up"), "unknown-word " + section + "/elements/0/cut");
    EXPECT_EQ(with(section + "/stretch/0/moves", "inwards"), "unknown-word " + section + "/stretch/0/moves");
    Json study = Json::parse(full_study());
    study["variants"][0]["section"]["spaces"][0]["kind"] = "warm";
    EXPECT_NE(english(faults_of(study.dump())[0]).find("inside, outside, unheated, other"), std::string::npos);
}

TEST(Faults, materials) {
    EXPECT_EQ(with("/materials/0/lambda/dry/low", 0.2), "conductivity-range /materials/0/lambda/dry");
    EXPECT_EQ(with("/materials/0/lambda/dry/basis", "at-moisture"), "basis-without-moisture /materials/0/lambda/dry");
    EXPECT_EQ(with("/materials/2/lambda", 1), "mix-and-conductivity /materials/2");
    EXPECT_EQ(with("/materials/2/mix/0/fraction", 0.2), "mix-over-one /materials/2/mix");
    EXPECT_EQ(with("/materials/2/mix/0/fraction", -0.2), "number-out-of-range /materials/2/mix/0/fraction");
    EXPECT_EQ(with("/materials/0/density", 0), "number-out-of-range /materials/0/density");
    EXPECT_EQ(with("/materials/0/capillary", "yes"), "wrong-type /materials/0/capillary");
    EXPECT_EQ(with("/materials/0/lambda", "low"), "wrong-type /materials/0/lambda");
    EXPECT_EQ(with("/materials/0/lambda", nullptr), "wrong-type /materials/0/lambda");
}

TEST(Faults, spaces_say_what_their_kind_needs) {
    const auto space = [](const Json& value) { return with(section + "/spaces/3", value); };
    EXPECT_EQ(space({{"id", "s"}, {"kind", "unheated"}}), "unheated-without-temperature " + section + "/spaces/3");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "unheated"}, {"temperature", 5}, {"balance", Json::object()}}),
              "temperature-and-balance " + section + "/spaces/3");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "inside"}, {"balance", Json::object()}}), "balance-of-heated " + section + "/spaces/3");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "other"}, {"temperature", 5}}), "other-space-incomplete " + section + "/spaces/3");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "other"}, {"surface_resistance", 1}}), "other-space-incomplete " + section + "/spaces/3");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "inside"}, {"temperature", -300}}), "number-out-of-range " + section + "/spaces/3/temperature");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "inside"}, {"surface_resistance", -1}}),
              "number-out-of-range " + section + "/spaces/3/surface_resistance");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "inside"}, {"at", {1}}}), "point-expected " + section + "/spaces/3/at");
    EXPECT_EQ(space({{"id", "s"}, {"kind", "inside"}}), "");
}

TEST(Faults, pieces_and_the_cut) {
    EXPECT_EQ(with(section + "/cut", {0, 0, 0, 1}), "cut-empty " + section + "/cut");
    EXPECT_EQ(with(section + "/cut", {0, 1, 1, 0}), "cut-empty " + section + "/cut");
    EXPECT_EQ(with(section + "/cut", {0, 1, 1}), "cut-not-four " + section + "/cut");
    EXPECT_EQ(with(section + "/cut/0", 1e12), "number-out-of-range " + section + "/cut/0");
    EXPECT_EQ(with(section + "/beyond/left", 499'000), "beyond-too-far " + section + "/beyond/left");
    EXPECT_EQ(with(section + "/beyond/left", -1), "number-out-of-range " + section + "/beyond/left");
    EXPECT_EQ(with(section + "/levels/dpc/0/side", "top"), "unknown-word " + section + "/levels/dpc/0/side");
    EXPECT_EQ(with(section + "/levels/ground/1/side", "left"), "level-twice " + section + "/levels/ground/1");
    EXPECT_EQ(with(section + "/pieces/0/cutout", true), "piece-filling " + section + "/pieces/0");
    EXPECT_EQ(without(section + "/pieces/0/material"), "piece-filling " + section + "/pieces/0");
    EXPECT_EQ(with(section + "/pieces/2/cutout", false), "cutout-not-true " + section + "/pieces/2/cutout");
    EXPECT_EQ(with(section + "/pieces/0/holes/0/0", {-10, 10}), "hole-outside " + section + "/pieces/0/holes/0");
    EXPECT_EQ(with(section + "/pieces/0/holes", Json::parse("[[[10,10],[20,10],[20,20]], [[60,10],[70,10],[70,20]], [[15,5],[25,5],[18,18]]]")), "holes-meet " + section + "/pieces/0/holes/2");
    EXPECT_EQ(with(section + "/pieces/0/courses/height", 0), "number-out-of-range " + section + "/pieces/0/courses/height");
    EXPECT_EQ(with(section + "/membranes/0/path", {{0, 0}}), "path-too-short " + section + "/membranes/0/path");
    EXPECT_EQ(with(section + "/stretch/0/min", 500), "stretch-range " + section + "/stretch/0");
}

TEST(Faults, outlines_have_their_place) {
    Json study = Json::parse(full_study());
    auto& outline = study[Json::json_pointer(section + "/pieces/0/outline")];
    outline = Json::parse("[[0, 0], [100, 1500], [100, 0], [0, 1500]]");
    study[Json::json_pointer(section + "/pieces/0")].erase("holes");
    const auto crossing = faults_of(study.dump());
    ASSERT_EQ(crossing.size(), 1u);
    EXPECT_EQ(crossing[0].code, "outline-crossing");
    EXPECT_EQ(crossing[0].at, (Point{50'000, 750'000}));
    outline = Json::parse("[[0, 0], [600000, 0], [100, 100]]");
    const auto large = faults_of(study.dump());
    ASSERT_EQ(large.size(), 1u);
    EXPECT_EQ(large[0].code, "coordinate-too-large");
    EXPECT_EQ(large[0].pointer, section + "/pieces/0/outline/1");
    EXPECT_EQ(large[0].at, (Point{coordinate_limit, 0}));
    outline = Json::parse("[[0, 0], [0.0001, 0], [100, 100]]");
    EXPECT_EQ(faults_of(study.dump()).at(0).code, "outline-repeated-point") << "points are the same when equal on the grid";
}

TEST(Faults, all_are_collected_up_to_fifty) {
    Json study = Json::parse(full_study());
    study["materials"][0]["kind"] = "brick";
    study["variants"][0]["section"]["cut"] = {0, 0, 0, 0};
    study["variants"][0]["section"]["pieces"][0]["material"] = "none";
    EXPECT_EQ(faults_of(study.dump()).size(), 3u);
    for (int i = 0; i < 100; ++i) study["materials"].push_back(i);
    EXPECT_EQ(faults_of(study.dump()).size(), 50u);
}

TEST(Faults, conventions_have_no_silent_default) {
    const Json own = Json::parse(full_study())["conventions"]["own"];
    for (const auto& [name, value] : own.items()) {
        const bool optional = name == "name" || name == "sources" || name.starts_with("least_fRsi") || name == "most_psi" || name == "surface_check";
        EXPECT_EQ(without("/conventions/own/" + name), optional ? "" : "missing-field /conventions/own") << name;
    }
    EXPECT_EQ(without("/conventions/own/heat_flow/inside/up"), "missing-field /conventions/own/heat_flow/inside");
    EXPECT_EQ(with("/conventions/own/id", "other"), "convention-id-differs /conventions/own");
    EXPECT_EQ(with("/conventions/own/lengths", "both"), "unknown-word /conventions/own/lengths");
    EXPECT_EQ(with("/conventions/own/heat_flow/outside", -0.1), "number-out-of-range /conventions/own/heat_flow/outside");
    // Its reciprocal is no number any more: with it temperatures were printed that are none.
    EXPECT_EQ(with("/conventions/own/surface_check/inside/up", 1e-320), "resistance-too-small /conventions/own/surface_check/inside/up");
    EXPECT_EQ(with(section + "/spaces/4/surface_resistance", 9e-7), "resistance-too-small " + section + "/spaces/4/surface_resistance");
    try {
        read_convention("{}", "/conventions/x");
        ADD_FAILURE() << "an empty convention was read";
    } catch (const InputFault& fault) {
        EXPECT_EQ(fault.faults()[0].pointer, "/conventions/x");
    }
    EXPECT_THROW(shipped_convention("nobody's"), std::out_of_range);
    EXPECT_THROW(shipped_convention("../conventions/iso"), std::out_of_range);
}

// ISO 6946:2017, table 7 and ISO 13788:2012, both from memory.
TEST(Convention, shipped_iso_has_the_values_of_the_standards) {
    const Convention iso = shipped_convention("iso");
    EXPECT_EQ(iso.heat_flow.inside, (SurfaceResistances{0.10, 0.13, 0.17}));
    EXPECT_EQ(iso.heat_flow.outside, 0.04);
    ASSERT_TRUE(iso.surface_check);
    EXPECT_EQ(iso.surface_check->inside, (SurfaceResistances{0.25, 0.25, 0.25}));
    EXPECT_EQ(iso.floor_width, 8'000'000);
    EXPECT_EQ(iso.lengths, LengthSystem::internal);
    EXPECT_EQ(iso.floor_reading, FloorReading::to_underside);
    EXPECT_TRUE(iso.extra.empty());
}

TEST(Load, says_why_a_file_cannot_be_read) {
    const auto code = [](const std::string& path) {
        try {
            load_study(path);
        } catch (const InputFault& fault) {
            return fault.faults()[0].code + ": " + fault.faults()[0].args.at("reason");
        }
        return std::string{};
    };
    EXPECT_EQ(code("/nowhere/study.wallfoot"), "file-unreadable: No such file or directory");
    EXPECT_EQ(code("/"), "file-unreadable: it is a folder");
}

TEST(Load, every_sample_reads_without_a_warning) {
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(in_tree("samples"))) {
        if (entry.path().extension() != ".wallfoot") continue;
        ++count;
        const auto read = load_study(entry.path().string());
        for (const auto& warning : read.warnings) ADD_FAILURE() << one_line(warning, entry.path().string());
        const std::string once = write_study(read.study);
        EXPECT_EQ(once, write_study(read_study(once).study));
    }
    EXPECT_GT(count, 0);
}

}  // namespace
}  // namespace wallfoot
