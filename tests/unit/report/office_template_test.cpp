// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/office_template.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "core/text/message.hpp"
#include "solver/report/batch_index.hpp"
#include "solver/report/short_answer.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

/// The codes of what is wrong with a template; empty when nothing is.
std::vector<std::string> template_faults(const std::string& json, const std::string& folder = "/nowhere") {
    std::vector<std::string> codes;
    try {
        read_office_template(json, folder);
    } catch (const InputFault& fault) {
        for (const Message& message : fault.faults()) codes.push_back(message.code);
    }
    return codes;
}

using Codes = std::vector<std::string>;

TEST(OfficeTemplate, SaysEverythingThatIsWrong) {
    EXPECT_EQ(template_faults("{"), Codes{"template-unreadable"});
    EXPECT_EQ(template_faults("[1]"), Codes{"template-unreadable"});
    EXPECT_EQ(template_faults("{}"), Codes{"template-empty"});
    EXPECT_EQ(template_faults(R"({"ofice": "A"})"), Codes{"template-unknown"}) << "a slip of the pen is no empty template";
    EXPECT_EQ(template_faults(R"({"office": 1, "contact": "one line", "foot": []})"), (Codes{"template-not-text", "template-contact", "template-not-text"}));
    EXPECT_EQ(template_faults(R"({"contact": ["1","2","3","4","5","6","7","8","9"]})"), Codes{"template-contact"});
    EXPECT_EQ(template_faults(R"({"office": "A", "logo": "missing.png"})"), Codes{"template-logo-missing"});
    EXPECT_EQ(template_faults(R"({"office": "A", "logo": ""})"), Codes{"template-logo-missing"});
    EXPECT_EQ(template_faults(R"({"office": "A", "logo": "data:image/png;base64,AAAA"})"), Codes{"template-logo-kind"}) << "three zeros are no picture, whatever they are called";
    EXPECT_EQ(template_faults(R"({"office": "A", "logo": "data:image/png,AAAA"})"), Codes{"template-logo-kind"});
    EXPECT_TRUE(template_faults(R"({"foot": "x"})").empty());
}

TEST(OfficeTemplate, ALogoIsToldByItsBytesAndMayNotBeLarge) {
    EXPECT_EQ(office_logo("\xff\xd8\xff and more", "a.png").media_type, "image/jpeg");
    EXPECT_EQ(office_logo("\x89PNG\r\n\x1a\n...", "a").media_type, "image/png");
    EXPECT_EQ(office_logo("\xef\xbb\xbf<?xml version=\"1.0\"?>\n<svg/>", "a").media_type, "image/svg+xml");
    EXPECT_THROW(office_logo("GIF89a", "a.gif"), InputFault);
    EXPECT_THROW(office_logo("<svg>" + std::string(most_logo_bytes, ' '), "a.svg"), InputFault);
}

TEST(OfficeTemplate, TheSampleIsWholeAndIsTheSameInOneFile) {
    const OfficeTemplate office = load_office_template(in_tree("samples/office-template.json"));
    ASSERT_TRUE(office.logo);
    EXPECT_EQ(office.logo->media_type, "image/svg+xml");
    EXPECT_EQ(office.contact.size(), 3u);
    EXPECT_EQ(read_office_template(write_office_template(office), ""), office) << "with the logo in it no other file is needed";
}

struct OfficeReport : ::testing::Test {
    ReportSource source = report_source(std::make_shared<const Study>(drafts::plane_wall().study()), "w.wallfoot", "2031-05-04", {});
    void SetUp() override {
        auto office = std::make_shared<OfficeTemplate>();
        office->office = "Mill & Row";
        office->contact = {"4 Mill Row"};
        office->before_answer = "First of all\nthank you.";
        office->at_end = "Terms apply.";
        office->foot = "Foot line";
        office->logo = office_logo("<svg xmlns=\"http://www.w3.org/2000/svg\"/>", "l.svg");
        source.office = office;
    }
};

/// Where the texts stand, in their order; each is there once.
void expect_in_order(const std::string& text, const std::vector<std::string>& parts) {
    std::size_t at = 0;
    for (const std::string& part : parts) {
        const std::size_t found = text.find(part, at);
        ASSERT_NE(found, std::string::npos) << part << " after " << at << " in\n" << text;
        at = found + part.size();
    }
}

TEST_F(OfficeReport, HeadAndWordsStandInEveryRendering) {
    for (const bool brief : {false, true}) {
        const Report report = brief ? make_short_answer(source) : make_report(source);
        const std::string html = report_html(report, [](const ReportPicture&) { return std::string("<i/>"); });
        expect_in_order(html, {"data:image/svg+xml;base64,", "Mill &amp; Row", "4 Mill Row", "<h1>", "First of all<br />thank you.", "Question and answer", "Terms apply.", "Foot line"});
        expect_in_order(report_text(report), {"Mill & Row\n4 Mill Row\n", "\nFirst of all\nthank you.\n", "Question and answer", "\nTerms apply.\n", "Foot line\n"});
        const auto json = nlohmann::json::parse(report_json(report));
        EXPECT_EQ(json["office"]["name"], "Mill & Row");
    }
}

TEST_F(OfficeReport, NoneLeavesTheReportAsItWas) {
    source.office = nullptr;
    const Report report = make_report(source);
    EXPECT_EQ(report_html(report, [](const ReportPicture&) { return std::string(); }).find("<header"), std::string::npos);
    EXPECT_FALSE(nlohmann::json::parse(report_json(report)).contains("office"));
}

TEST_F(OfficeReport, TheListOfABatchTellsAnswersLinksAndReasons) {
    BatchRow made, failed;
    made.file = "a b.wallfoot";
    made.made = {"a b.pdf", "50%.html"};
    tell_answers(made, source);
    failed.file = "c.wallfoot";
    failed.failed = "no <variant>";
    const std::string html = batch_index_html({made, failed}, "2031-05-04", source.office.get());
    ASSERT_EQ(made.answers.size(), 1u);
    expect_in_order(html, {"2 studies, 1 of them", "a b.wallfoot", made.answers.at(0).psi, "href=\"a%20b.pdf\"", "href=\"50%25.html\"", "made", "c.wallfoot", "Failed: no &lt;variant&gt;"});
    EXPECT_NE(made.answers[0].fRsi.find(" ± "), std::string::npos);
    EXPECT_EQ(made.answers[0].fRsi.find("<"), std::string::npos) << "three decimals are no nearer than half of the last";
    failed.failed.clear();
    failed.notes = {"of a <layer>"};
    BatchRow stopped;
    stopped.stopped = true;
    stopped.failed = "stopped before it was made";
    expect_in_order(batch_index_html({made, failed, stopped}, "2031-05-04", nullptr), {"3 studies, 0 of them", "Stopped: 2 made, 0 failed, 1 not begun", "of a &lt;layer&gt;", "stopped before"});
}

/// The index of a heading among the items; npos where there is none.
std::size_t heading_at(const Report& report, const std::string& text) {
    for (std::size_t i = 0; i < report.items.size(); ++i)
        if (const auto* heading = std::get_if<ReportHeading>(&report.items[i]); heading && heading->text == text) return i;
    return std::string::npos;
}

TEST(ReportErrors, StandInItWithPlaceSizeAndDerivation) {
    Study study = drafts::junction({.strip = 10}).study();
    for (Material& material : study.materials)
        if (material.id == "sheet") material.kind = MaterialKind::membrane;
    ReportSource source = report_source(std::make_shared<const Study>(study), "", "2031-05-04", {});
    EXPECT_EQ(heading_at(make_report(source), "Usual errors and their size here"), std::string::npos) << "they were not asked for";
    add_usual_errors(source);
    const Report report = make_report(source);
    const std::size_t at = heading_at(report, "Usual errors and their size here");
    ASSERT_NE(at, std::string::npos);
    const UsualError& first = source.errors.at(0).errors.at(0);
    ASSERT_TRUE(first.present);
    const auto* table = std::get_if<ReportTable>(&report.items.at(at + 3));
    ASSERT_NE(table, nullptr);
    EXPECT_EQ(table->caption, "In this drawing");
    ASSERT_EQ(table->rows.size(), 1u);
    EXPECT_NE(table->rows[0][0].find(first.effect.name), std::string::npos);
    EXPECT_NE(table->rows[0][1].find("x "), std::string::npos) << "the place";
    EXPECT_EQ(table->rows[0][2], psi_change(first.effect));
    EXPECT_EQ(table->rows[0][3], factor_change(first.effect));
    EXPECT_NE(report_csv(report).find(first.derivation.of), std::string::npos);
}

}  // namespace
}  // namespace wallfoot
