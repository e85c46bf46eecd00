// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "core/file/study_file.hpp"
#include "solver/record/record.hpp"
#include "tests/unit/findings/drafts.hpp"

namespace wallfoot {
namespace {

using RecordJson = nlohmann::json;

Study issued_wall() {
    const Study study = drafts::Draft().material("wall", 0.4).piece("wall", 300, 0, 600, 1000).space("in", "inside", 100, 500, 20).space("out", "outside", 800, 500, 0).study();
    return with_record(study, {"2031-05-04", "A. Author", "", "P2", "first issue"});
}

/// The record after one change of its JSON, saved and read again as a file is.
std::vector<RecheckedRecord> after_change(const std::function<void(RecordJson&)>& change) {
    Study study = issued_wall();
    RecordJson issued = RecordJson::parse(study.kept.at("issued"));
    change(issued[0]);
    study.kept["issued"] = issued.dump();
    return recheck(read_study(write_study(study)).study);
}

TEST(Record, holdsAfterSavingAndReading) {
    const auto records = after_change([](RecordJson&) {});
    ASSERT_EQ(records.size(), 1u);
    EXPECT_TRUE(records[0].whole);
    EXPECT_TRUE(records[0].holds()) << recheck_table(records);
    EXPECT_GE(records[0].findings.size(), 6u);
    for (const auto& finding : records[0].findings) EXPECT_EQ(finding.state, Recheck::equal) << finding.what;
    EXPECT_EQ(records[0].issue.revision, "P2");
}

TEST(Record, restsOnItsOwnCopyAndNotOnTheStudyAsItIs) {
    Study study = issued_wall();
    study.materials[0].lambda = {};
    auto section = *study.variants[0].section;
    section.pieces.clear();
    study.variants[0].section = std::make_shared<Section>(section);
    EXPECT_TRUE(recheck(study)[0].holds());
}

TEST(Record, oneBitChangedIsFound) {
    for (const char* pointer : {"/study/materials/0/lambda", "/author", "/reason", "/date", "/program", "/findings/0/psi/0/value"}) {
        const auto records = after_change([&](RecordJson& record) {
            RecordJson& value = record[RecordJson::json_pointer(pointer)];
            if (value.is_string()) value = value.get<std::string>() + "x";
            else if (value.is_number()) value = std::nextafter(value.get<double>(), 10.0);
            else value["dry"] = 0.4000000001;
        });
        EXPECT_FALSE(records[0].whole) << pointer;
        EXPECT_FALSE(records[0].holds()) << pointer;
    }
}

TEST(Record, aChangedNoteIsNoChange) {
    const auto records = after_change([](RecordJson& record) {
        record["study"]["title"] = "Another title";
        record["study"]["variants"][0]["note"] = "seen by the checker";
    });
    EXPECT_TRUE(records[0].holds()) << recheck_table(records);
}

TEST(Record, anotherResultIsToldWithBothValues) {
    const auto records = after_change([](RecordJson& record) { record["findings"][0]["L2D"][0]["lower"] = record["findings"][0]["L2D"][0]["upper"] = record["findings"][0]["L2D"][0]["value"] = 9.5; });
    const auto changed = std::find_if(records[0].findings.begin(), records[0].findings.end(), [](const auto& finding) { return finding.state == Recheck::changed; });
    ASSERT_NE(changed, records[0].findings.end());
    EXPECT_EQ(changed->what, "L2D in–out");
    EXPECT_EQ(changed->then, "9.5");
    EXPECT_NE(recheck_table(records).find("CHANGED"), std::string::npos);
}

TEST(Record, asksForWhoAndWhy) {
    const Study study = drafts::plane_wall().study();
    EXPECT_THROW(with_record(study, {"2031-05-04", "", "", "", "why"}), InputFault);
    EXPECT_THROW(with_record(study, {"2031-05-04", "A", "", "", ""}), InputFault);
    EXPECT_TRUE(recheck(study).empty());
    Study broken = study;
    broken.kept["issued"] = R"([{"date": "2031"}])";
    EXPECT_THROW(recheck(broken), InputFault);
}

}  // namespace
}  // namespace wallfoot
