// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/text/message.hpp"
#include "core/lesson/lesson.hpp"

#include <filesystem>
#include <fstream>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "core/dwelling/transfer.hpp"
#include "core/foot/foot_words.hpp"
#include "core/moisture/in_condition.hpp"
#include "core/standards/formula_versions.hpp"
#include "core/study/site.hpp"
#include "core/study/words.hpp"
#include "core/water/water_words.hpp"
#include "solver/findings/damp.hpp"
#include "tests/unit/bytes.hpp"
#include "solver/findings/parameter.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

namespace fs = std::filesystem;

using test::bytes_of;

nlohmann::json catalogue() { return nlohmann::json::parse(bytes_of(in_tree("resources/texts/en.json"))); }

TEST(Message, english_fills_the_arguments) {
    Message message;
    message.code = "unknown-word";
    message.args = {{"word", "wet {words}"}, {"words", "dry, exposed"}};
    EXPECT_EQ(english(message), "\"wet {words}\" is not a known word here. It should be one of: dry, exposed.");
    message.args.erase("words");
    EXPECT_NE(english(message).find("{words}"), std::string::npos) << "a forgotten argument can be seen";
    message.code = "no-such-code";
    EXPECT_EQ(english(message), "no-such-code word=wet {words}");
}

TEST(Message, one_line_has_file_pointer_point_and_sentence) {
    Message message;
    message.code = "cut-empty";
    message.pointer = "/variants/0/section";
    message.at = Point{12'500, -150'000};
    const std::string sentence = english(message);
    EXPECT_EQ(one_line(message, "a.wallfoot"), "a.wallfoot: /variants/0/section: at (12.5, -150.0) mm: " + sentence);
    message.at = Point{-1, 1'020};
    message.pointer.clear();
    EXPECT_EQ(one_line(message, ""), "at (-0.001, 1.02) mm: " + sentence);
    message.code = "unknown-material";
    message.args = {{"material", "two\nlines"}};
    EXPECT_EQ(one_line(message, "a").find('\n'), std::string::npos);
}

TEST(Message, input_fault_says_the_first_and_how_many) {
    Message message;
    message.code = "cut-empty";
    EXPECT_EQ(InputFault(message).what(), english(message));
    EXPECT_EQ(InputFault({message, message, message}).what(), english(message) + " (and 2 more)");
}

TEST(Catalogue, is_flat_and_sorted_and_its_sentences_are_whole) {
    const std::string text = bytes_of(in_tree("resources/texts/en.json"));
    std::string before;
    std::istringstream lines(text);
    const std::regex entry("^  \"([^\"]+)\": \"");
    std::smatch match;
    for (std::string line; std::getline(lines, line);) {
        if (!std::regex_search(line, match, entry)) continue;
        EXPECT_LT(before, match[1].str());
        before = match[1].str();
    }
    const auto sentences = catalogue();
    for (const auto& [code, sentence] : sentences.items()) {
        ASSERT_TRUE(sentence.is_string()) << code;
        EXPECT_EQ(std::count(sentence.get_ref<const std::string&>().begin(), sentence.get_ref<const std::string&>().end(), '{'),
                  std::count(sentence.get_ref<const std::string&>().begin(), sentence.get_ref<const std::string&>().end(), '}'))
            << code;
    }
}

// A code is a hyphenated word in quotes; the only other such words in these rooms are those of the study file.
TEST(Catalogue, has_a_sentence_for_every_code_in_the_sources) {
    const auto sentences = catalogue();
    std::set<std::string> words{"heat-flow", "surface-check"};  // purposes, as the findings print them
    const auto add = [&](const auto& table) {
        for (const auto& [value, word] : table) words.insert(std::string(word));
    };
    add(material_kind_words), add(condition_words), add(basis_words), add(space_kind_words), add(membrane_kind_words);
    add(length_system_words), add(floor_reading_words), add(dwelling_share_words);
    add(rule_kind_words), add(unit_property_words), add(verdict_words);
    for (const SiteFact& fact : site_facts()) words.insert(fact.words.begin(), fact.words.end());
    words.insert("foot-general");  // the rule set that comes with the program
    words.insert("wallfoot-dwelling");  // what the dwelling file says it is
    add(dwelling_length_words), add(standing_words), add(rounding_words);
    add(footing_words), add(against_words);
    add(water_state_words), add(water_from_words), add(remedy_kind_words), add(remedy_answer_words);
    add(parameter_words);
    add(question_kind_words);
    for (const KnownFormula& known : known_formulas()) words.insert(known.id);
    const std::regex quoted("\"([a-z]+(-[a-zA-Z]+)+)\"");
    std::size_t seen = 0;
    for (const char* room : {"core", "solver"})
        for (const auto& file : fs::recursive_directory_iterator(in_tree(room))) {
            if (file.path().extension() != ".cpp" && file.path().extension() != ".hpp") continue;
            const std::string text = bytes_of(file.path());
            for (auto it = std::sregex_iterator(text.begin(), text.end(), quoted); it != std::sregex_iterator(); ++it) {
                const std::string code = (*it)[1];
                if (words.contains(code)) continue;
                ++seen;
                EXPECT_TRUE(sentences.contains(code)) << code << " in " << file.path();
            }
        }
    EXPECT_GT(seen, 80u);
}

}  // namespace
}  // namespace wallfoot
