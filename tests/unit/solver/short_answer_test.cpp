// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

#include "core/file/study_file.hpp"
#include "solver/report/short_answer.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

ReportSource sample_source() {
    Study sample = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    sample.climate.reset();  // the year through the ground takes longer than all the rest, and has tests of its own
    ReportSource source = report_source(std::make_shared<const Study>(std::move(sample)), "slab.wallfoot", "2031-05-04", {});
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

// What changes psi most is told with what 10 % of it does: near what comes out when the soil is solved with 10 % more. The slope
// is the first order of it, so a twentieth of the change is left to the second.
TEST(ShortAnswer, whatWouldChangeItHoldsWhenItIsTried) {
    const ReportSource source = sample_source();
    const Findings& base = *source.findings.front();
    const auto told = text_under(make_short_answer(source), "What would change it");
    const auto place = told.find("Soil: 10 % more than 1.500");
    ASSERT_NE(place, std::string::npos) << told;
    const double said = std::stod(told.substr(told.find("by ", place) + 3));
    Study study = *source.study;
    for (Material& material : study.materials)
        if (material.kind == MaterialKind::soil)
            for (auto& [condition, conductivity] : material.lambda.by_condition) conductivity.value *= 1.1;
    const auto more = find(study, study.variants.front());
    const double change = more->headline_psi()->value->value - base.headline_psi()->value->value;
    EXPECT_NEAR(said, change, 0.05 * std::abs(change) + 1.5e-4 + 5e-5) << "beside the slope: both brackets and the last digit";
}

TEST(ShortAnswer, asTextItFitsAnEmail) {
    const Report report = make_short_answer(sample_source());
    std::istringstream lines(report_text(report));
    std::string line;
    std::size_t count = 0;
    while (std::getline(lines, line)) {
        ++count;
        const auto width = std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; });
        EXPECT_LE(width, 76) << line;
    }
    EXPECT_GT(count, 20u);
}

}  // namespace
}  // namespace wallfoot
