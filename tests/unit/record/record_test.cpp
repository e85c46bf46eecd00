// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <gtest/gtest.h>

#include <regex>

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
    EXPECT_EQ(changed->then, "9.500000") << "the digits that its bounds support, six at most";
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

TEST(Record, whatWasFrozenIsToldWithoutWorkingAnythingOut) {
    const Study study = issued_wall();
    const auto records = issued_records(study);
    ASSERT_EQ(records.size(), 1u);
    EXPECT_TRUE(records[0].whole);
    EXPECT_TRUE(records[0].trouble.empty());
    EXPECT_EQ(records[0].issue.author, "A. Author");
    EXPECT_EQ(records[0].hash.substr(0, 6), "sha256");
    const auto again = recheck_record(study, 0);
    ASSERT_EQ(records[0].findings.size(), again.findings.size());
    for (std::size_t i = 0; i < again.findings.size(); ++i) {
        EXPECT_EQ(records[0].findings[i].what, again.findings[i].what);
        EXPECT_EQ(records[0].findings[i].value.substr(0, again.findings[i].then.size()), again.findings[i].then);
    }
    // U of 0.3 m of 0.4 W/(m·K) over 1 m, by hand: 1/(0.13 + 0.75 + 0.04).
    EXPECT_EQ(records[0].findings[0].what, "L2D in–out");
    EXPECT_NEAR(std::stod(records[0].findings[0].value), 1 / 0.92, 1e-4);
    EXPECT_NE(records[0].findings[0].value.find("between"), std::string::npos);
    for (const auto& finding : records[0].findings) EXPECT_FALSE(std::regex_search(finding.value, std::regex("\\.[0-9]{8}"))) << finding.what << ": " << finding.value;
}

TEST(Record, oneThatCannotBeReadDoesNotHideTheOthers) {
    Study study = issued_wall();
    RecordJson issued = RecordJson::parse(study.kept.at("issued"));
    issued.insert(issued.begin(), RecordJson{{"date", 7}});
    issued.insert(issued.begin(), RecordJson("no record"));
    issued.push_back(issued[2]);
    issued[3]["reason"] = "another";
    study.kept["issued"] = issued.dump();
    const auto records = issued_records(study);
    ASSERT_EQ(records.size(), 4u);
    for (const std::size_t broken : {0, 1}) {
        EXPECT_FALSE(records[broken].whole);
        ASSERT_FALSE(records[broken].trouble.empty());
        EXPECT_EQ(records[broken].trouble[0].code, "record-unreadable");
        EXPECT_THROW(recheck_record(study, broken), InputFault);
    }
    EXPECT_TRUE(records[2].whole);
    EXPECT_TRUE(recheck_record(study, 2).holds());
    EXPECT_FALSE(records[3].whole);
    EXPECT_EQ(records[3].trouble.at(0).code, "record-altered");
}

TEST(Record, anotherOneIsAddedToTheStudyAsItIs) {
    const Study before = issued_wall();
    const std::string record = record_of(before, {"2031-06-01", "B", "", "", "again"});
    Study meanwhile = before;
    meanwhile.title = "gone on";
    const Study after = with_issued(meanwhile, record);
    EXPECT_EQ(after.title, "gone on");
    ASSERT_EQ(issued_records(after).size(), 2u);
    EXPECT_EQ(issued_records(after)[0].hash, issued_records(before)[0].hash);
    EXPECT_TRUE(recheck_record(after, 1).holds());
}

}  // namespace
}  // namespace wallfoot
