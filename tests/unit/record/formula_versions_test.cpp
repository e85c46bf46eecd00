// SPDX-License-Identifier: GPL-3.0-or-later
// Derivations name the formula and its version; a record is worked out with those of its time.
#include "core/standards/formula_versions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "solver/findings/derivation_print.hpp"
#include "solver/record/record.hpp"
#include "tests/unit/findings/drafts.hpp"
#include "tests/unit/tree.hpp"

namespace wallfoot {
namespace {

using RecordJson = nlohmann::json;

/// A room at 20 °C, a hall kept at 12 °C beside it, and outside; the wall between them meets the outer wall.
Study room_and_hall() {
    drafts::Draft d;
    d.cut = "[0, 0, 800, 1000]";
    d.material("wall", 0.6);
    d.piece("wall", 300, 0, 600, 1000).piece("wall", 0, 450, 300, 550);
    d.space("in", "inside", 100, 800, 20, R"(, "side": "own")").space("hall", "inside", 100, 200, 12).space("out", "outside", 700, 500, 0);
    Study study = d.study();
    study.climate.emplace();
    study.climate->months.assign(months_of_a_year, {.outside = 15, .humidity = 0.7, .inside = {}});
    study.climate->months[0] = {.outside = 2, .humidity = 0.8, .inside = 18};
    study.climate->indoor = IndoorAir{.humidity_class = {}, .humidity = 0.5, .margin = 0};
    return study;
}

const SurfaceVerdict& mould_of(const Findings& findings) {
    for (const SurfaceVerdict& verdict : findings.verdicts)
        if (verdict.demand == SurfaceDemand::mould) return verdict;
    throw std::logic_error("no verdict on mould");
}

// θ_si = Σ g·θ, the room at the 18 °C of January and the hall at its 12 °C, judged at the temperature of the space whose surface it is;
// and as it once was: both at the 18 °C.
TEST(FormulaVersions, BothOfTheMonthsGiveWhatTheirEquationSays) {
    const Study study = room_and_hall();
    for (const int version : {1, 2}) {
        FindingsOptions options;
        if (version == 1) options.formulas = FormulaVersions::recorded({{"iso13788", 1}});
        const auto found = find(study, study.variants.front(), options);
        ASSERT_FALSE(found->has_fault()) << english(found->messages.front());
        const SurfaceFinding& surface = *found->headline_surface();
        ASSERT_EQ(surface.weights.size(), 3u);
        const bool of_hall = found->section->spaces[static_cast<std::size_t>(surface.space)].id == "hall";
        const double room = 18, hall = version == 1 ? 18 : 12, own = of_hall ? hall : room;
        const double theta = surface.weights[0] * room + surface.weights[1] * hall + surface.weights[2] * 2;
        const SurfaceVerdict& mould = mould_of(*found);
        EXPECT_EQ(mould.month, 0u);
        EXPECT_NEAR(mould.found, (theta - 2) / (own - 2), 1e-9) << version;
        for (const Derivation& derivation : found->derivations)
            if (derivation.id == "iso13788-months") {
                EXPECT_EQ(derivation.version, version);
                for (const auto& input : derivation.inputs)
                    if (input.name == "θ_i") {
                        EXPECT_EQ(input.value, own) << version;
                    }
            }
    }
}

// A hall whose surface is the coldest: it is judged at its own 12 °C, and the room beside it follows the months.
TEST(FormulaVersions, AColdestSurfaceOfAHallIsJudgedAtTheHallsTemperature) {
    Study study = room_and_hall();
    auto section = *study.variants.front().section;
    for (Space& space : section.spaces)
        if (space.id == "hall") space.surface_resistance = SurfaceResistances{1, 1, 1};  // hardly warmed by its air
    study.variants.front().section = std::make_shared<const Section>(section);
    const auto found = find(study, study.variants.front());
    const SurfaceFinding& surface = *found->headline_surface();
    ASSERT_EQ(found->section->spaces[static_cast<std::size_t>(surface.space)].id, "hall");
    const double theta = surface.weights[0] * 18 + surface.weights[1] * 12 + surface.weights[2] * 2;
    EXPECT_NEAR(mould_of(*found).found, (theta - 2) / (12 - 2), 1e-9);
    // 12 °C with 50 %: φ_i·p_sat/0.8 is what the surface must reach (ISO 13788, 5.2; p_sat by its formula, from memory).
    const double p = 0.5 * 610.5 * std::exp(17.269 * 12 / (237.3 + 12)) / 0.8, needed = 237.3 * std::log(p / 610.5) / (17.269 - std::log(p / 610.5));
    EXPECT_NEAR(*mould_of(*found).asked, (needed - 2) / (12 - 2), 1e-6);
}

TEST(FormulaVersions, EveryDerivationNamesOneThatIsKnown) {
    const Study hall = room_and_hall(), wall = drafts::plane_wall().study(), foot = drafts::junction({}).study();
    for (const Study* study : {&hall, &wall, &foot}) {
        FindingsOptions options;
        options.tolerance = 1e-2;
        const auto found = find(*study, study->variants.front(), options);
        const auto json = RecordJson::parse(to_json(*study, "", {found})).at("variants").at(0).at("derivations");
        ASSERT_GE(json.size(), 2u);
        for (const auto& [of, derivation] : json.items()) {
            ASSERT_TRUE(derivation.contains("id")) << of;
            EXPECT_FALSE(unknown_version(derivation.at("id"), derivation.at("version"))) << of;
        }
    }
}

// A derivation of something that no formula of a standard gives has no id, and none is written.
TEST(FormulaVersions, ADerivationWithoutAFormulaOfAStandardNamesNone) {
    Derivation derivation{.of = "Σ psi·l", .formula = "by definition", .inputs = {}, .notes = {}};
    EXPECT_FALSE(RecordJson::parse(derivation_json(derivation)).contains("id"));
    EXPECT_FALSE(RecordJson::parse(derivation_json(derivation)).contains("version"));
    derivation.id = "iso6946-transmittance";
    EXPECT_EQ(RecordJson::parse(derivation_json(derivation)).at("version"), 1);
}

// Issued by an earlier program, before formulas had versions of their own: months with a hall beside the room, and a floor on soil with an
// internal length of its own.
TEST(FormulaVersions, RecordsOfAnEarlierProgramHold) {
    for (const auto& [file, told] : {std::pair("room_and_hall", "the surface judged by month (version 1, now 2)"), std::pair("slab_of_own_length", "the floor by a second section (version 1, now 2)")}) {
        const Study study = load_study(in_tree(std::string("tests/unit/record/") + file + ".wallfoot")).study;
        const auto records = recheck(study);
        ASSERT_EQ(records.size(), 1u) << file;
        const std::string table = recheck_table(records);
        EXPECT_TRUE(records[0].holds()) << table;
        EXPECT_GE(records[0].findings.size(), 6u);
        EXPECT_NE(table.find(told), std::string::npos) << table;
        EXPECT_EQ(table.find("year-wave"), std::string::npos) << table;
        // With the formulas of today it is told apart: this record can fail.
        Study as_now = study;
        RecordJson issued = RecordJson::parse(as_now.kept.at("issued"));
        for (const KnownFormula& known : known_formulas()) issued[0]["formulas"][known.id] = known.newest;
        as_now.kept["issued"] = issued.dump();
        const auto otherwise = recheck(as_now);
        ASSERT_EQ(otherwise[0].findings.size(), records[0].findings.size());
        std::size_t worse = 0;
        for (std::size_t i = 0; i < records[0].findings.size(); ++i) worse += otherwise[0].findings[i].state > records[0].findings[i].state;
        EXPECT_GT(worse, 0u) << recheck_table(otherwise);
    }
}

TEST(FormulaVersions, OfARecordAreThoseItNamesAndElseTheFirst) {
    const FormulaVersions newest, old = FormulaVersions::recorded({{"iso6946", 1}, {"year-wave", 2}});
    EXPECT_EQ(newest.of("iso6946-parts"), 2);
    EXPECT_EQ(old.of("iso6946-parts"), 1);
    EXPECT_EQ(old.of("year-wave"), 2);
    EXPECT_EQ(old.of("iso13788-months"), 1) << "not named: not there yet";
    EXPECT_FALSE(unknown_version("iso6946", 1));
    EXPECT_FALSE(unknown_version("iso13788-months", 2));
    for (const int version : {0, -1, 3}) {
        const auto unknown = unknown_version("iso13788-months", version);
        ASSERT_TRUE(unknown);
        EXPECT_NE(english(*unknown).find("this program knows 1 to 2"), std::string::npos) << english(*unknown);
    }
    EXPECT_EQ(unknown_version("iso6946", 2)->code, "record-formula-version");
    EXPECT_EQ(unknown_version("iso9999-anything", 1)->code, "record-formula-unknown");
    EXPECT_EQ(unknown_version("", 1)->code, "record-formula-unknown");
}

/// Issued, then with other formulas named in the record.
std::vector<RecheckedRecord> with_formulas(const RecordJson& formulas) {
    Study study = with_record(room_and_hall(), {"2031-05-04", "A. Author", "", "", "first issue"});
    RecordJson issued = RecordJson::parse(study.kept.at("issued"));
    EXPECT_EQ(issued[0]["formulas"].size(), known_formulas().size());
    if (!formulas.is_null()) issued[0]["formulas"] = formulas;
    study.kept["issued"] = issued.dump();
    return recheck(study);
}

TEST(FormulaVersions, ARecordOfANewerProgramIsRefusedByName) {
    const auto whole = with_formulas(nullptr);
    EXPECT_TRUE(whole[0].holds()) << recheck_table(whole);
    const auto records = with_formulas({{"iso13788-months", 3}, {"iso7777-frost", 1}});
    EXPECT_TRUE(records[0].refused);
    EXPECT_FALSE(records[0].holds());
    EXPECT_TRUE(records[0].findings.empty()) << "nothing is worked out with another formula than the record's";
    const std::string table = recheck_table(records);
    EXPECT_NE(table.find("Made with formula iso13788-months version 3; this program knows 1 to 2"), std::string::npos) << table;
    EXPECT_NE(table.find("iso7777-frost"), std::string::npos) << table;
    EXPECT_TRUE(RecordJson::parse(recheck_json(records)).at("records").at(0).at("refused"));
    EXPECT_THROW(with_formulas({{"iso13788-months", "two"}}), InputFault);
}

// As written by the first program: whole standards, version 1. It is worked out the old way, and the newer one is told.
TEST(FormulaVersions, AnOldRecordIsWorkedOutTheOldWay) {
    const auto records = with_formulas({{"iso6946", 1}, {"iso10211", 1}, {"iso10456", 1}, {"iso13370", 1}, {"iso13788", 1}});
    EXPECT_FALSE(records[0].refused);
    // Its findings are those of the newest formulas here: the check by month must come out otherwise.
    bool mould_differs = false;
    for (const RecheckedFinding& finding : records[0].findings) mould_differs |= finding.what.find("mould") != std::string::npos && finding.state != Recheck::equal;
    EXPECT_TRUE(mould_differs) << recheck_table(records);
    EXPECT_NE(recheck_table(records).find("newer versions may give other values: the surface judged by month (version 1, now 2)."), std::string::npos) << recheck_table(records);
}

}  // namespace
}  // namespace wallfoot
