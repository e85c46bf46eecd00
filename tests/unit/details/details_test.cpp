// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "core/details/detail.hpp"
#include "core/file/study_file.hpp"
#include "core/resources/resources.hpp"
#include "core/water/report.hpp"
#include "solver/findings/findings.hpp"
#include "tests/unit/sanitized.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

namespace {

const int solved_every = sanitized() ? 10 : 3;  // every study is made and arranged, one in so many is solved

/// By id; files are called by their place in the list and their id.
Detail shipped(const std::string& id) {
    for (const std::string& path : resources_below("details"))
        if (path.ends_with("-" + id + ".json")) return read_detail(resource(path));
    throw std::out_of_range(id);
}

std::vector<std::string> shipped_names() {
    std::vector<std::string> names;
    for (const std::string& path : resources_below("details")) names.push_back(path.substr(12, path.size() - 12 - 5));
    return names;
}

DetailSettings with_every_fault(const Detail& detail) {
    DetailSettings settings;
    for (const auto& fault : detail.switches) settings.switches.push_back(fault.id);
    return settings;
}

std::string told(const InputFault& fault) {
    std::string all;
    for (const Message& message : fault.faults()) all += one_line(message, "") + "\n";
    return all;
}

class EveryDetail : public ::testing::TestWithParam<std::string> {
  protected:
    /// Made, sound, saved and read again, solved to 1e-3 with brackets.
    void check(const Detail& detail, const DetailSettings& settings, const std::string& what) {
        Study study;
        try {
            study = make_study(detail, settings);
        } catch (const InputFault& fault) {
            FAIL() << what << ": " << told(fault);
        }
        const std::string text = write_study(study);
        const ReadStudy again = read_study(text);
        EXPECT_TRUE(again.warnings.empty()) << what << ": " << one_line(again.warnings.front(), "");
        ASSERT_EQ(again.study.variants.size(), study.variants.size());
        for (std::size_t v = 0; v < study.variants.size(); ++v)
            EXPECT_TRUE(*again.study.variants[v].section == *study.variants[v].section) << what;
        EXPECT_EQ(write_study(again.study), text) << what;
        for (const Variant& variant : study.variants) {
            if (count_++ % solved_every) continue;
            FindingsOptions options;
            options.tolerance = 1e-3;
            const auto found = find(study, variant, options);
            for (const Message& message : found->messages)
                EXPECT_NE(message.severity, Severity::fault) << what << ", " << variant.name << ": " << one_line(message, "");
            EXPECT_TRUE(found->converged) << what << ", " << variant.name;
            ASSERT_FALSE(found->couplings.empty()) << what;
            for (const Coupling& coupling : found->couplings) EXPECT_TRUE(coupling.value) << what << ", " << variant.name;
            for (const FaceConductivity& face : found->conductivity) EXPECT_FALSE(face.undeclared) << what << ", " << variant.name;
            const Psi* psi = found->headline_psi();
            ASSERT_TRUE(psi) << what << ", " << variant.name;
            // RULES 6: there is no floor alone of a basement, nor below a door, so no psi.
            if (detail.id == "basement-wall-foot" || detail.id == "level-threshold") EXPECT_EQ(psi->reason, "floor-alone-refused") << what;
            else ASSERT_TRUE(psi->value) << what << ", " << variant.name << ": " << psi->reason;
            const Bracketed& answer = psi->value ? *psi->value : *found->couplings[0].value;
            EXPECT_LE(answer.upper - answer.lower, 1e-3) << what << ", " << variant.name;
        }
    }

  private:
    int count_ = 0;
};

TEST_P(EveryDetail, IsSoundWithItsDefaultsAndEachFault) {
    const Detail detail = shipped(GetParam());
    EXPECT_EQ(detail.id, GetParam()) << "named like its file";
    check(detail, with_every_fault(detail), "defaults");
}

TEST_P(EveryDetail, IsSoundAtEveryEndOfARange) {
    const Detail detail = shipped(GetParam());
    for (const DetailParameter& parameter : detail.parameters) {
        for (const double end : {parameter.least, parameter.most}) {
            if (parameter.is_choice()) continue;
            DetailSettings settings;
            settings.numbers[parameter.id] = end;
            check(detail, settings, parameter.id + "=" + std::to_string(end));
        }
        for (const auto& option : parameter.options) {
            DetailSettings settings;
            settings.choices[parameter.id] = option.id;
            check(detail, settings, parameter.id + "=" + option.id);
        }
    }
}

TEST_P(EveryDetail, IsSoundInAnyCombination) {
    const Detail detail = shipped(GetParam());
    std::mt19937 random(20);
    for (int round = 0; round < 8; ++round) {
        DetailSettings settings = with_every_fault(detail);
        std::string what;
        for (const DetailParameter& parameter : detail.parameters) {
            if (parameter.is_choice()) {
                settings.choices[parameter.id] = parameter.options[random() % parameter.options.size()].id;
                what += parameter.id + "=" + settings.choices[parameter.id] + " ";
                continue;
            }
            const double step = parameter.unit == "mm" ? 0.5 : 1;
            const auto steps = static_cast<unsigned>((parameter.most - parameter.least) / step);
            settings.numbers[parameter.id] = parameter.least + step * static_cast<double>(random() % (steps + 1));
            what += parameter.id + "=" + std::to_string(settings.numbers[parameter.id]) + " ";
        }
        check(detail, settings, what);
    }
}

// A fault that changes neither the heat nor the water would be no fault worth showing.
TEST_P(EveryDetail, ChangesHeatOrWaterByEachFault) {
    const Detail detail = shipped(GetParam());
    const Study study = make_study(detail, with_every_fault(detail));
    ASSERT_EQ(study.variants.size(), 1 + detail.switches.size());
    FindingsOptions options;
    options.tolerance = 1e-3;
    const auto said = [&](const Variant& variant) {
        const WaterReport report = water_report(study, variant);
        std::string all;
        const auto add = [&](const std::vector<Message>& messages) {
            for (const Message& message : messages) all += english(message) + "\n";
        };
        for (const PieceWater& piece : report.way.pieces) add(sentences(report, piece));
        for (const auto& [piece, remedy] : report.remedies) add(sentences(report, remedy));
        return all;
    };
    const auto base = find(study, study.variants[0], options);
    const std::string base_said = said(study.variants[0]);
    for (std::size_t v = 1; v < study.variants.size(); ++v) {
        const Variant& variant = study.variants[v];
        EXPECT_EQ(variant.id, detail.switches[v - 1].id);
        EXPECT_FALSE(*variant.section == *study.variants[0].section) << variant.id;
        const auto found = find(study, variant, options);
        const Bracketed &flow = *found->couplings[0].value, &base_flow = *base->couplings[0].value;
        const bool heat = flow.lower > base_flow.upper || flow.upper < base_flow.lower;
        EXPECT_TRUE(heat || said(variant) != base_said) << variant.id;
    }
}

INSTANTIATE_TEST_SUITE_P(, EveryDetail, ::testing::ValuesIn(shipped_names()), [](const auto& info) {
    std::string name = info.param;
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
});

// ---- the ground floors --------------------------------------------------------------------------------------------

std::string psi_lines(Study study, const Variant& variant) {
    study.climate.reset();  // a detail has none
    const std::string table = to_table(study, {find(study, variant)});
    std::string lines;
    for (std::size_t begin = 0; begin < table.size(); begin = table.find('\n', begin) + 1) {
        const std::string line = table.substr(begin, table.find('\n', begin) - begin);
        if (line.find("psi") != std::string::npos || line.find("L2D") != std::string::npos || line.find("fRsi") != std::string::npos) lines += line + "\n";
    }
    return lines;
}

// The samples were drawn by themselves; the same dimensions and materials make the same body, so every digit is the same.
TEST(GroundFloorDetails, AreTheSamplesWhenSetLikeThem) {
    const Study below = make_study(shipped("cavity-wall-insulation-below-slab"), {{{"floor_insulation", 130}}, {}, {"dense_foot"}});
    const Study below_sample = load_study(in_tree("samples/slab-insulation-below.wallfoot")).study;
    EXPECT_EQ(psi_lines(below, below.variants[0]), psi_lines(below_sample, *below_sample.find_variant("foam")));
    EXPECT_EQ(psi_lines(below, below.variants[1]), psi_lines(below_sample, *below_sample.find_variant("aggregate")));
    EXPECT_NE(psi_lines(below, below.variants[0]), psi_lines(below, below.variants[1]));
    const Study above = make_study(shipped("cavity-wall-insulation-above-slab"),
                                   {{{"dpc_above_slab", 90}, {"courses_below", 1}, {"courses_above", 1}}, {}, {"dense_foot"}});
    const Study above_sample = load_study(in_tree("samples/slab-insulation-above.wallfoot")).study;
    EXPECT_EQ(psi_lines(above, above.variants[0]), psi_lines(above_sample, *above_sample.find_variant("foam")));
    EXPECT_EQ(psi_lines(above, above.variants[1]), psi_lines(above_sample, *above_sample.find_variant("aggregate")));
    const Study floor = make_study(shipped("cavity-wall-suspended-beam-floor"), {{}, {}, {"dense_foot"}});
    const Study floor_sample = load_study(in_tree("samples/suspended-beam-floor.wallfoot")).study;
    EXPECT_EQ(psi_lines(floor, floor.variants[0]), psi_lines(floor_sample, *floor_sample.find_variant("foam")));
    EXPECT_EQ(psi_lines(floor, floor.variants[1]), psi_lines(floor_sample, *floor_sample.find_variant("aggregate")));
}

TEST(GroundFloorDetails, ShowOneFaultAtATime) {
    const Detail detail = shipped("cavity-wall-insulation-below-slab");
    const Study both = make_study(detail, {{}, {}, {"dense_foot", "no_edge_strip"}});
    const Study one = make_study(detail, {{}, {}, {"no_edge_strip"}});
    ASSERT_EQ(both.variants.size(), 3u);
    EXPECT_EQ(both.variants[1].id, "no_edge_strip") << "in the order of the detail";
    EXPECT_TRUE(*both.variants[1].section == *one.variants[1].section);
    EXPECT_TRUE(*both.variants[0].section == *one.variants[0].section);
}

struct Judged {
    WaterReport report;
    const PieceWater* piece = nullptr;
    const Remedy* remedy = nullptr;
};
Judged judged(const Study& study, const std::string& variant, const std::string& piece) {
    Judged judged{water_report(study, *study.find_variant(variant)), nullptr, nullptr};
    for (const auto& candidate : judged.report.way.pieces) {
        if (judged.report.section->pieces[static_cast<std::size_t>(candidate.piece)].id != piece) continue;
        judged.piece = &candidate;
        const auto remedy = judged.report.remedies.find(candidate.piece);
        if (remedy != judged.report.remedies.end()) judged.remedy = &remedy->second;
    }
    return judged;
}

// Common practice, no source: below the damp course water comes to the block at the foot from the course it stands on,
// so one damp course more in that bed keeps it dry; a fill brought up beside it opens a second way.
TEST(GroundFloorDetails, WithInsulationBelowAskForOneDampCourseUnderTheFoot) {
    const Study study = make_study(shipped("cavity-wall-insulation-below-slab"), {{}, {}, {"cavity_filled_high"}});
    const Judged plain = judged(study, "base", "foot-below");
    ASSERT_TRUE(plain.piece && plain.remedy);
    EXPECT_EQ(plain.piece->state, WaterState::reached);
    ASSERT_EQ(plain.remedy->answer, RemedyAnswer::proposed);
    ASSERT_EQ(plain.remedy->runs.size(), 1u);
    EXPECT_EQ(plain.remedy->runs[0].kind, RemedyKind::damp_course);
    EXPECT_EQ(plain.remedy->runs[0].path, (Path{{0, -300'000}, {100'000, -300'000}}));
    EXPECT_EQ(judged(study, "base", "foot-above").piece->state, WaterState::no_path);
    const Judged filled = judged(study, "cavity_filled_high", "foot-below");
    ASSERT_TRUE(filled.remedy);
    ASSERT_EQ(filled.remedy->runs.size(), 2u);
    EXPECT_TRUE(std::any_of(filled.remedy->runs.begin(), filled.remedy->runs.end(), [](const RemedyRun& run) {
        return run.kind == RemedyKind::tanking && run.path == Path{{100'000, -300'000}, {100'000, -75'000}};
    }));
}

// Common practice, no source: standing on the membrane, the block needs no other damp course.
TEST(GroundFloorDetails, WithInsulationAboveNeedNoFurtherDampCourse) {
    const Study study = make_study(shipped("cavity-wall-insulation-above-slab"), {});
    const Judged foot = judged(study, "base", "foot-above");
    ASSERT_TRUE(foot.piece);
    EXPECT_EQ(foot.piece->state, WaterState::no_path);
    EXPECT_EQ(foot.piece->relies_on.size(), 2u) << "floor membrane and damp course";
    EXPECT_FALSE(foot.remedy && foot.remedy->answer == RemedyAnswer::proposed);
    EXPECT_EQ(judged(study, "base", "foot-below").piece, nullptr) << "there is none";
}

}  // namespace
