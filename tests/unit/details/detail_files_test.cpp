// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "core/details/detail.hpp"
#include "core/details/expression.hpp"
#include "core/resources/resources.hpp"

using namespace wallfoot;

namespace {

double value_of(const char* text) {
    return evaluate(text, [](std::string_view name) -> std::optional<double> {
        if (name == "a") return 3;
        if (name == "slab.thick") return 7;
        return std::nullopt;
    });
}

TEST(DetailExpressions, FollowTheRulesOfArithmetic) {
    EXPECT_EQ(value_of("1 + 2 * a"), 7);
    EXPECT_EQ(value_of("-(1 - 2) * 4 / 2"), 2);
    EXPECT_EQ(value_of("8 - 2 - 1"), 5);
    EXPECT_EQ(value_of("8 / 2 / 2"), 2);
    EXPECT_EQ(value_of("max(1, a, 2.5) - min(slab.thick, 4 + 1)"), -2);
    EXPECT_EQ(value_of(" - a"), -3);
    for (const char* wrong : {"", "1 +", "(1", "1 2", "a b", "min 3", "max(1", "1,5", "1e3", "a = 3", "1 < 2", "."})
        EXPECT_THROW(value_of(wrong), ExpressionProblem) << wrong;
    EXPECT_THROW(value_of(std::string(100'000, '(').c_str()), ExpressionProblem) << "and does not exhaust the stack";
    try {
        value_of("a * widht");
        FAIL();
    } catch (const ExpressionProblem& problem) {
        EXPECT_EQ(problem.kind, ExpressionProblem::unknown_name);
        EXPECT_EQ(problem.name, "widht");
        EXPECT_EQ(problem.at, 4u);
    }
    try {
        value_of("1 / (a - 3)");
        FAIL();
    } catch (const ExpressionProblem& problem) {
        EXPECT_EQ(problem.kind, ExpressionProblem::divides_by_zero);
    }
}

/// A wall and nothing else.
const std::string wall = R"({ "id": "wall", "name": "Wall", "about": "A wall.",
 "parameters": [ { "id": "thick", "name": "Thickness", "unit": "mm", "default": 100, "least": 50, "most": 300 },
                 { "id": "units", "name": "Courses", "unit": "courses", "default": 2, "least": 0, "most": 4 },
                 { "id": "block", "name": "Block", "default": "foam", "options": [ { "id": "foam", "name": "Foam" }, { "id": "dense", "name": "Dense" } ] } ],
 "switches": [ { "id": "short", "name": "Too short", "about": "It ends low." } ],
 "values": { "top": "1500 - short * 300", "half": "thick / 3" },
 "section": { "cut": [-1000, 0, "thick + 1000", 1500],
  "spaces": [ { "id": "in", "kind": "inside", "at": [-500, 750] }, { "id": "out", "kind": "outside", "at": ["thick + 500", 750] } ],
  "pieces": [
   { "id": "wall", "name": "Wall", "material": { "choose": [ { "when": "block.dense", "take": "aggregate-dense" }, { "take": "foam-strong" } ] }, "outline": [[0,0],["thick",0],["thick","top"],[0,"top"]] },
   { "id": "rest", "name": "Rest", "when": "short", "material": "softwood", "outline": [[0,"top"],["thick","top"],["thick",1500],[0,1500]] },
   { "id": "rows", "name": "Rows", "material": "mortar", "outline": [[0,0],["half",0],["half","units * 10"],[0,"units * 10"]] } ] } })";

std::string changed(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

/// The first fault of a broken file as "pointer code".
std::string fault_of(const std::string& text) {
    try {
        read_detail(text);
        return "none";
    } catch (const InputFault& fault) {
        const std::string said = english(fault.faults().front());
        EXPECT_EQ(said.find('{'), std::string::npos) << said;
        return fault.faults().front().pointer + " " + fault.faults().front().code;
    }
}

TEST(DetailFiles, SayWhereTheyAreBroken) {
    EXPECT_EQ(fault_of(wall), "none");
    EXPECT_EQ(fault_of(wall.substr(0, wall.find("\"cut\""))), "/section/ json-cut-short");
    EXPECT_EQ(fault_of(changed(wall, "\"id\": \"wall\", \"name\": \"Wall\", \"about\"", "\"id\": \"wall\", \"about\"")), " missing-field");
    EXPECT_EQ(fault_of(changed(wall, "\"section\"", "\"sections\"")), " missing-field");
    EXPECT_EQ(fault_of(changed(wall, "\"cut\"", "\"cuts\"")), "/section missing-field");
    EXPECT_EQ(fault_of(changed(wall, "\"switches\"", "\"swiches\"")), "/values/top detail-unknown-name");
    EXPECT_EQ(fault_of(changed(wall, "\"values\"", "\"colour\": \"red\", \"values\"")), "/colour detail-unknown-field");
    EXPECT_EQ(fault_of(changed(wall, "[\"thick\",0]", "[\"thikc\",0]")), "/section/pieces/0/outline/1/0 detail-unknown-name");
    EXPECT_EQ(fault_of(changed(wall, "[\"thick\",\"top\"]", "[\"thick\",\"top +\"]")), "/section/pieces/0/outline/2/1 detail-expression");
    EXPECT_EQ(fault_of(changed(wall, "thick / 3", "half2\", \"half2\": \"half + 1")), "/values/half detail-cycle");
    EXPECT_EQ(fault_of(changed(wall, "thick / 3", "thick / none")), "/values/half detail-unknown-name");
    EXPECT_EQ(fault_of(changed(wall, "\"when\": \"short\"", "\"when\": \"long\"")), "/section/pieces/1/when detail-unknown-condition");
    EXPECT_EQ(fault_of(changed(wall, "\"when\": \"short\"", "\"when\": [\"short\", \"not thick\"]")), "/section/pieces/1/when/1 detail-unknown-condition");
    EXPECT_EQ(fault_of(changed(wall, "aggregate-dense", "granite-dense")), "/section/pieces/0/material/choose/0/take detail-unknown-material");
    EXPECT_EQ(fault_of(changed(wall, ", { \"take\": \"foam-strong\" }", "")), "/section/pieces/0/material/choose detail-no-alternative");
    EXPECT_EQ(fault_of(changed(wall, "\"default\": 100", "\"default\": 40")), "/parameters/0/default number-out-of-range");
    EXPECT_EQ(fault_of(changed(wall, "\"default\": \"foam\"", "\"default\": \"clay\"")), "/parameters/2/default unknown-word");
    EXPECT_EQ(fault_of(changed(wall, "\"unit\": \"mm\"", "\"unit\": \"inch\"")), "/parameters/0/unit unknown-word");
    EXPECT_EQ(fault_of(changed(wall, "\"id\": \"thick\"", "\"id\": \"thick-ness\"")), "/parameters/0/id detail-bad-id");
    EXPECT_EQ(fault_of(changed(wall, "\"id\": \"short\"", "\"id\": \"units\"")), "/switches/0 duplicate-id");
}

TEST(DetailFiles, StayBoundedWhateverTheirValues) {
    const auto chain = [](int length) {
        std::string values;  // each stands twice on the one before: 2 to the length, were it not worked out once
        for (int i = 1; i <= length; ++i)
            values += ", \"v" + std::to_string(i) + "\": \"v" + std::to_string(i - 1) + " + v" + std::to_string(i - 1) + " - thick\"";
        return changed(wall, "\"half\": \"thick / 3\"", "\"half\": \"v" + std::to_string(length) + "\", \"v0\": \"thick\"" + values);
    };
    EXPECT_EQ(fault_of(chain(60)), "none");
    EXPECT_NE(fault_of(chain(100'000)).find("detail-values-too-deep"), std::string::npos);
}

std::string refusal_of(const DetailSettings& settings, const std::string& text = wall) {
    try {
        make_study(read_detail(text), settings);
        return "none";
    } catch (const InputFault& fault) {
        const std::string said = english(fault.faults().front());
        EXPECT_EQ(said.find('{'), std::string::npos) << said;
        return fault.faults().front().code;
    }
}

TEST(DetailFiles, RefuseWhatCannotBeMade) {
    EXPECT_EQ(refusal_of({}), "none");
    EXPECT_EQ(refusal_of({{{"thick", 301}}, {}, {}}), "detail-out-of-range");
    EXPECT_EQ(refusal_of({{{"units", 1.5}}, {}, {}}), "detail-not-whole");
    EXPECT_EQ(refusal_of({{{"thin", 100}}, {}, {}}), "detail-unknown-parameter");
    EXPECT_EQ(refusal_of({{}, {{"block", "clay"}}, {}}), "detail-unknown-option");
    EXPECT_EQ(refusal_of({{}, {}, {"long"}}), "detail-unknown-switch");
    EXPECT_EQ(refusal_of({}, changed(wall, "thick / 3", "thick / (units - 2)")), "detail-divides-by-zero");
    EXPECT_EQ(refusal_of({{{"units", 3}}, {}, {}}, changed(wall, "thick / 3", "thick / (units - 2)")), "none");
    EXPECT_EQ(refusal_of({}, changed(wall, "thick / 3", "0 - thick")), "detail-turned-over");
    EXPECT_EQ(refusal_of({}, changed(wall, "thick / 3", "thick * 1000000")), "detail-too-far");
}

TEST(DetailFiles, MakeWhatTheySay) {
    const Detail detail = read_detail(wall);
    DetailSettings settings;
    set_parameter(detail, settings, "thick", "12,5 cm");
    set_parameter(detail, settings, "block", "Dense");
    add_switch(detail, settings, "short");
    const Study study = make_study(detail, settings);
    ASSERT_EQ(study.variants.size(), 2u);
    const Section &base = *study.variants[0].section, &low = *study.variants[1].section;
    EXPECT_EQ(study.variants[1].name, "Too short");
    ASSERT_EQ(base.pieces.size(), 2u) << "the rest stands in the variant of the fault only";
    ASSERT_EQ(low.pieces.size(), 3u);
    EXPECT_EQ(base.pieces[0].filled_with, "aggregate-dense");
    EXPECT_EQ(base.pieces[0].outline, (Outline{{0, 0}, {125'000, 0}, {125'000, 1'500'000}, {0, 1'500'000}}));
    EXPECT_EQ(low.pieces[0].outline[2], (Point{125'000, 1'200'000}));
    EXPECT_EQ(base.pieces[1].outline[1], (Point{41'667, 0})) << "a third of 125 mm, on the grid";
    EXPECT_EQ(study.materials.size(), 4u) << "alternatives are at hand";
    settings.numbers["units"] = 0;
    EXPECT_EQ(make_study(detail, settings).variants[0].section->pieces.size(), 1u) << "what shrinks to nothing is left out";
    EXPECT_THROW(set_parameter(detail, settings, "thick", "1 2"), InputFault);
    EXPECT_THROW(set_parameter(detail, settings, "thick", "40"), InputFault);
    EXPECT_EQ(settings.numbers["thick"], 125) << "a refusal changes nothing";
}

TEST(DetailFiles, OfAFolderOfOnesOwnAddAndReplace) {
    const auto folder = std::filesystem::temp_directory_path() / ("wallfoot-details-" + std::to_string(::getpid()));
    std::filesystem::create_directories(folder / "details");
    std::ofstream(folder / "details" / "wall.json") << wall;
    std::ofstream(folder / "details" / "broken.json") << changed(wall, "\"thick\",0", "\"thikc\",0");
    std::ofstream(folder / "details" / "own.json") << changed(wall, "\"id\": \"wall\"", "\"id\": \"cavity-wall-insulation-below-slab\"");
    const std::size_t before = starter_details().details.size();
    EXPECT_TRUE(starter_details().faults.empty());
    use_resources_from(folder.string());
    const StarterDetails all = starter_details();
    use_resources_from("");
    std::filesystem::remove_all(folder);
    EXPECT_EQ(all.details.size(), before + 1);
    EXPECT_EQ(all.get("cavity-wall-insulation-below-slab").name, "Wall");
    ASSERT_EQ(all.faults.size(), 1u);
    const std::string said = one_line(all.faults[0], "");
    EXPECT_NE(said.find("details/broken.json"), std::string::npos) << said;
    EXPECT_NE(said.find("/section/pieces/0/outline/1/0"), std::string::npos) << said;
    EXPECT_NE(said.find("thikc"), std::string::npos) << said;
    EXPECT_THROW(all.get("nobody"), InputFault);
}

}  // namespace
