// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <sstream>

#include "core/file/study_file.hpp"
#include "solver/report/short_answer.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

ReportSource sample_source() {
    const auto study = std::make_shared<const Study>(load_study(in_tree("samples/slab-insulation-below.wallfoot")).study);
    ReportSource source = report_source(study, "slab.wallfoot", "2031-05-04", {});
    add_slopes(source);
    return source;
}

std::string text_under(const Report& report, const std::string& heading) {
    std::string text;
    bool inside = false;
    for (const ReportItem& item : report.items) {
        if (const auto* found = std::get_if<ReportHeading>(&item)) inside = found->text == heading;
        if (const auto* found = std::get_if<ReportText>(&item); found && inside) text += found->text + "\n";
    }
    return text;
}

TEST(ShortAnswer, saysAnswerConditionsClauseAndWhatIsOpen) {
    const ReportSource source = sample_source();
    const Report report = make_short_answer(source);
    const Findings& base = *source.findings.front();
    const auto answer = text_under(report, english({Severity::note, "report-heading-answer", {}, {}, {}}));
    EXPECT_NE(answer.find(with_bracket(*base.headline_psi()->value)), std::string::npos) << answer;
    EXPECT_FALSE(text_under(report, "It holds under these conditions").empty());
    EXPECT_FALSE(text_under(report, "Questions that are open").empty());
    EXPECT_FALSE(text_under(report, "To be looked at on site before it is covered").empty());
    // The clause asks no more than what was worked out with, of pieces that matter.
    const auto clause = text_under(report, "For the specification");
    EXPECT_NE(clause.find("W/(m·K)"), std::string::npos) << clause;
    for (const ReportItem& item : report.items)
        if (const auto* text = std::get_if<ReportText>(&item)) {
            EXPECT_EQ(text->text.find('{'), std::string::npos) << text->text;
        }
}

// What changes psi most is told with what 10 % of it does: the slope of the findings, solved again with 10 % more.
TEST(ShortAnswer, whatWouldChangeItHoldsWhenItIsTried) {
    const ReportSource source = sample_source();
    const Findings& base = *source.findings.front();
    const auto told = text_under(make_short_answer(source), "What would change it");
    ASSERT_FALSE(told.empty());
    const auto psi = static_cast<std::size_t>(base.headline_psi() - base.psi.data());
    const InputSlope* most = nullptr;
    for (const InputSlope& input : base.slopes)
        if (!input.pieces.empty() && input.psi[psi] && (!most || std::abs(input.psi[psi]->value) > std::abs(most->psi[psi]->value))) most = &input;
    ASSERT_TRUE(most);
    std::ostringstream change;
    change.precision(4);
    change << std::fixed << (most->psi[psi]->value > 0 ? "+" : "") << 0.1 * most->psi[psi]->value;
    EXPECT_NE(told.find(change.str()), std::string::npos) << told << change.str();
}

TEST(ShortAnswer, asTextItFitsAnEmail) {
    const Report report = make_short_answer(sample_source());
    std::istringstream lines(report_text(report));
    std::string line;
    std::size_t count = 0;
    while (std::getline(lines, line)) {
        ++count;
        const auto width = std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; });
        EXPECT_LE(width, 90) << line;  // a word longer than the rest of a line is not broken
    }
    EXPECT_GT(count, 20u);
}

}  // namespace
}  // namespace wallfoot
