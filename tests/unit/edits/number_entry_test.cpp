// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <clocale>

#include "core/text/number_entry.hpp"

using namespace wallfoot;

namespace {

struct Case {
    const char* typed;
    double mm;
};

// 1 m = 100 cm = 1000 mm (SI brochure); both decimal signs: ISO 80000-1, 7.3.2 allows the comma and the point on the line.
TEST(NumberEntry, reads_lengths) {
    for (const auto& [typed, mm] : {Case{"12.5", 12.5}, Case{"12,5", 12.5}, Case{" 12,5 cm", 125}, Case{"12.5cm+3", 128},
                                    Case{"0.1 m", 100}, Case{"100 + 2*12,5", 125}, Case{"2*(10cm-5mm)", 190}, Case{"-40", -40},
                                    Case{"1 m / 3", 1000.0 / 3}, Case{"(1+2)cm", 30}, Case{".5", 0.5}, Case{"5.", 5},
                                    Case{"\xe2\x88\x92" "7", -7}, Case{"1.250", 1.25}, Case{"12\xc2\xa0" "cm", 120}}) {
        const Entry entry = parse_length(typed);
        ASSERT_TRUE(entry) << typed << ": " << entry.problem;
        EXPECT_DOUBLE_EQ(*entry.value, mm) << typed;
        EXPECT_TRUE(entry.problem.empty());
    }
}

TEST(NumberEntry, never_guesses_a_group_sign) {
    EXPECT_EQ(parse_length("1.250,5").problem, "entry-two-separators");
    EXPECT_EQ(parse_length("1,250.5").problem, "entry-two-separators");
    EXPECT_EQ(parse_length("1 250").problem, "entry-not-a-number");
}

TEST(NumberEntry, names_what_is_wrong) {
    EXPECT_EQ(parse_length("").problem, "entry-empty");
    EXPECT_EQ(parse_length("  ").problem, "entry-empty");
    for (const char* typed : {"abc", "12 in", "1+", "(1", "1)", "--", ".", "1e3", "nan", "inf", "12..5x"})
        EXPECT_FALSE(parse_length(typed)) << typed;
    EXPECT_EQ(parse_length("2cm*3cm").problem, "entry-units");
    EXPECT_EQ(parse_length("1/2cm").problem, "entry-units");
    EXPECT_EQ(parse_length("1/0").problem, "entry-divides-by-zero");
    EXPECT_EQ(parse_length("501 m").problem, "entry-too-large");
    EXPECT_EQ(parse_length(std::string(400, '9')).problem, "entry-too-large");
    EXPECT_FALSE(parse_length(std::string(100'000, '(')));
    EXPECT_FALSE(parse_length(std::string(100'000, '-')));
}

TEST(NumberEntry, plain_numbers_take_a_degree_sign_but_no_unit) {
    EXPECT_DOUBLE_EQ(*parse_number("-22,5\xc2\xb0").value, -22.5);
    EXPECT_EQ(parse_number("3 cm").problem, "entry-units");
}

TEST(NumberEntry, does_not_depend_on_the_locale) {
    const std::string before = std::setlocale(LC_ALL, nullptr);
    std::setlocale(LC_ALL, "de_DE.UTF-8");  // when it is not installed the check is the same as above
    EXPECT_DOUBLE_EQ(*parse_length("12.5").value, 12.5);
    EXPECT_DOUBLE_EQ(*parse_length("12,5").value, 12.5);
    EXPECT_EQ(length_text(12.5), "12.5 mm");
    std::setlocale(LC_ALL, before.c_str());
}

TEST(NumberEntry, writes_lengths) {
    EXPECT_EQ(length_text(125), "125 mm");
    EXPECT_EQ(length_text(0.004), "0.004 mm");
    EXPECT_EQ(length_text(-0.0), "0 mm");
    EXPECT_EQ(length_text(-1200.50), "-1200.5 mm");
    EXPECT_EQ(number_text(1.0 / 3, 1), "0.3");
}

}  // namespace
