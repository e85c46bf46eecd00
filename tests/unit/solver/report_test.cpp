// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

/// Without a climate: the year through the ground takes longer than all the rest, and has tests of its own.
Study sample_without_climate(const std::string& sample) {
    Study study = load_study(in_tree("samples/" + sample)).study;
    study.climate.reset();
    return study;
}

ReportSource source_of(const std::string& sample, const std::vector<std::string>& variants = {}) {
    return report_source(std::make_shared<const Study>(sample_without_climate(sample)), sample, "2026-03-01", variants);
}

const ReportTable& table_called(const Report& report, const std::string& caption) {
    for (const auto& item : report.items)
        if (const auto* table = std::get_if<ReportTable>(&item))
            if (table->caption.find(caption) != std::string::npos) return *table;
    throw std::runtime_error("no table " + caption);
}

std::string all_text(const Report& report) {
    std::string text;
    for (const auto& item : report.items) {
        if (const auto* said = std::get_if<ReportText>(&item)) text += said->text + "\n";
        if (const auto* heading = std::get_if<ReportHeading>(&item)) text += heading->text + "\n";
    }
    return text;
}

TEST(Report, FiguresAreThoseOfTheSolveAsJson) {
    const auto source = source_of("slab-insulation-below.wallfoot");
    const auto report = make_report(source);
    const auto& results = table_called(report, "coldest inside surface");
    const auto json = nlohmann::json::parse(to_json(*source.study, "", source.findings));
    ASSERT_EQ(results.rows.size(), json["variants"].size());
    for (std::size_t v = 0; v < results.rows.size(); ++v)
        for (const auto& psi : json["variants"][v]["psi"]) {
            if (!psi.contains("headline")) continue;
            const double shown = std::stod(results.rows[v][1]);
            EXPECT_LE(psi["lower"].get<double>(), shown + 1e-12) << results.rows[v][1];
            EXPECT_GE(psi["upper"].get<double>(), shown - 1e-12);
            EXPECT_EQ(shown, psi["value"].get<double>());
        }
    for (const auto& variant : json["variants"])
        for (const auto& [of, derivation] : variant["derivations"].items()) {
            const std::string told = report_json(report);
            EXPECT_NE(told.find(of), std::string::npos) << "the derivation of " << of;
        }
}

TEST(Report, DifferencesCarryBothBrackets) {
    const auto source = source_of("slab-insulation-below.wallfoot");
    const auto report = make_report(source);
    const auto& results = table_called(report, "coldest inside surface");
    const auto& a = *source.findings[0]->headline_psi()->value;
    const auto& b = *source.findings[1]->headline_psi()->value;
    const std::string shown = results.rows[1][2];
    EXPECT_EQ(shown[0], '+') << "more loss has its sign";
    const double value = std::stod(shown), half = std::stod(shown.substr(shown.find("±") + std::string("±").size()));
    EXPECT_LE(value - half, b.lower - a.upper);
    EXPECT_GE(value + half, b.upper - a.lower);
    EXPECT_EQ(results.rows[0][2], "");
}

TEST(Report, TablesAreWhole) {
    const auto below = std::make_shared<const Study>(load_study(in_tree("samples/slab-insulation-below.wallfoot")).study);
    // The last with all that a climate adds.
    for (const char* sample : {"slab-insulation-below.wallfoot", "slab-insulation-above.wallfoot", "suspended-beam-floor.wallfoot", "plain-wall.wallfoot", ""}) {
        const auto report = make_report(*sample == '\0' ? report_source(below, "", "2026-03-01", {"foam"}) : source_of(sample));
        for (const auto& item : report.items)
            if (const auto* table = std::get_if<ReportTable>(&item)) {
                EXPECT_EQ(table->figures.size(), table->head.size()) << table->caption;
                for (const auto& row : table->rows) EXPECT_EQ(row.size(), table->head.size()) << table->caption;
            }
    }
}

TEST(Report, SaysOnceWhatHoldsForAllVariants) {
    const auto report = make_report(source_of("slab-insulation-below.wallfoot"));
    const std::string text = all_text(report);
    const std::string reached = "as drawn, water reaches";
    const auto first = text.find(reached);
    ASSERT_NE(first, std::string::npos);
    EXPECT_EQ(text.find(reached, first + 1), std::string::npos);
    EXPECT_NE(text.find("life safety"), std::string::npos) << "cautions are part of the report";
}

TEST(Report, OfOneVariantHasNoDifference) {
    const auto report = make_report(source_of("slab-insulation-below.wallfoot", {"aggregate"}));
    EXPECT_EQ(table_called(report, "coldest inside surface").rows.size(), 1U);
    EXPECT_EQ(all_text(report).find("what differs"), std::string::npos);
    EXPECT_THROW(source_of("slab-insulation-below.wallfoot", {"nobody"}), InputFault);
}

TEST(Report, ListsTheEdgesWithoutADimensionWhereAnUnderlayIsNotToScale) {
    Study study = sample_without_climate("slab-insulation-below.wallfoot");
    const auto report_of = [&] { return make_report(report_source(std::make_shared<const Study>(study), "", "2026-03-01", {})); };
    const auto change = [&](std::size_t variant, const std::function<void(Section&)>& edit) {
        Section section = *study.variants[variant].section;
        edit(section);
        study.variants[variant].section = std::make_shared<const Section>(section);
    };
    EXPECT_EQ(all_text(report_of()).find("not to scale"), std::string::npos);
    Underlay underlay;
    underlay.id = "u1";
    underlay.not_to_scale = true;
    for (std::size_t v = 0; v < 2; ++v) change(v, [&](Section& s) { s.underlays = {underlay}; });
    const auto report = report_of();
    const std::string both = study.variants[0].name + ", " + study.variants[1].name;
    EXPECT_NE(all_text(report).find(both + ": what lies below the section, u1, is not to scale"), std::string::npos) << "told once for variants alike";
    const ReportTable table = table_called(report, "Edges without a written dimension: " + both);
    const auto row_of = [](const ReportTable& of, const std::string& piece) {
        for (const auto& row : of.rows)
            if (row[0].find(piece) != std::string::npos) return row;
        return std::vector<std::string>{piece, "0", ""};
    };
    // Read off the sample: the edge strip is 30 wide and as high as the slab.
    EXPECT_EQ(row_of(table, "dge strip")[1], "4");
    EXPECT_EQ(row_of(table, "dge strip")[2], "across -30 to 0; up -150 to 0");
    change(0, [](Section& s) { s.dimensions = {{"d1", {0, 0}, {-30'000, 5}, "x", 0, "", {}}}; });
    const auto apart = report_of();
    EXPECT_EQ(row_of(table_called(apart, "Edges without a written dimension: " + study.variants[0].name), "dge strip")[2], "up -150 to 0");
    EXPECT_EQ(row_of(table_called(apart, "Edges without a written dimension: " + study.variants[1].name), "dge strip")[2], "across -30 to 0; up -150 to 0");
}

TEST(Report, CsvQuotesWhatRfc4180Asks) {
    Report report;
    report.title = "A \"foot\", in two\nlines";
    report.items.push_back(ReportTable{"Sizes", {"a", "b"}, {{"1,5", "x"}}, {false, false}});
    EXPECT_EQ(report_csv(report), "\"A \"\"foot\"\", in two\nlines\",,\r\n\r\nSizes\r\na,b\r\n\"1,5\",x\r\n");
}

TEST(Report, HtmlEscapesWhatWouldBeMarkup) {
    Report report;
    report.title = "<b>&\"";
    report.items.push_back(ReportText{"a < b\nc", true});
    report.items.push_back(ReportPicture{ReportPicture::Shows::heat, 0, "x<y", "words"});
    const std::string html = report_html(report, [](const ReportPicture& picture) { return "<img alt=\"" + picture.words + "\" src=\"\" />"; });
    EXPECT_NE(html.find("<title>&lt;b&gt;&amp;&quot;</title>"), std::string::npos);
    EXPECT_NE(html.find("a &lt; b<br />c"), std::string::npos);
    EXPECT_EQ(html.find("<b>"), std::string::npos);
    EXPECT_NE(html.find("alt=\"words\""), std::string::npos);
}

}  // namespace
}  // namespace wallfoot
