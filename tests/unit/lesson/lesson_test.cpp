// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/file/study_file.hpp"
#include "core/lesson/lesson.hpp"
#include "solver/lesson/heat_seen.hpp"
#include "solver/lesson/lesson_answer.hpp"
#include "solver/page/page.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

namespace {

/// The corner of a wall of one material, 200 mm thick, inside at the lower left; a second variant with a better block at its top.
Study corner_of_a_wall(const std::string& lessons = "[]") {
    return read_study(R"json({ "wallfoot": 1, "convention": "iso", "lessons": )json" + lessons + R"json(,
 "materials": [ { "id": "m", "name": "Stuff", "kind": "masonry", "lambda": { "dry": 0.4, "protected": { "value": 0.5, "high": 0.6 }, "below-dpc": 0.8 } },
                { "id": "n", "name": "Better", "kind": "masonry", "lambda": 0.2 } ],
 "variants": [
  { "id": "v1", "name": "Plain", "section": { "cut": [-1000, -1000, 400, 400],
    "spaces": [ { "id": "in", "kind": "inside", "at": [-500, -500], "temperature": 20 }, { "id": "out", "kind": "outside", "at": [300, 300], "temperature": 0 } ],
    "pieces": [ { "id": "all", "name": "Wall", "material": "m", "moisture": "protected", "outline": [[-1000,0],[0,0],[0,-1000],[200,-1000],[200,200],[-1000,200]] } ] } },
  { "id": "v2", "name": "With block", "section": { "cut": [-1000, -1000, 400, 400],
    "spaces": [ { "id": "in", "kind": "inside", "at": [-500, -500], "temperature": 20 }, { "id": "out", "kind": "outside", "at": [300, 300], "temperature": 0 } ],
    "pieces": [ { "id": "all", "name": "Wall", "material": "m", "moisture": "protected", "outline": [[-1000,0],[0,0],[0,-1000],[200,-1000],[200,200],[-1000,200]] },
                { "id": "block", "material": "n", "outline": [[-400,0],[-200,0],[-200,200],[-400,200]] } ] } } ] })json")
        .study;
}

std::string first_fault(const Study& study) {
    try {
        lessons_of(study);
    } catch (const InputFault& fault) {
        return fault.faults().front().code + " " + fault.faults().front().pointer;
    }
    return {};
}

const char* const full_lesson = R"json([ { "title": "T", "about": "A", "later": 1, "steps": [
  { "variant": "v1", "layer": "flow", "centre": [1, 2.5], "width": 800, "spotlight": [[10, 20], [-30, 40]], "beside": "v2", "text": "x", "note": "n",
    "trial": { "what": "conductivity", "piece": "Wall", "own": true },
    "question": { "kind": "choice", "text": "q", "options": ["a", "b"], "right": 1, "answer": "because", "more": [1] } } ] } ])json";

double central(const Findings& f, double x, double y, bool along_x) {
    constexpr double h = 500;  // µm
    const auto a = f.solution->temperature_at(x - (along_x ? h : 0), y - (along_x ? 0 : h), f.temperatures), b = f.solution->temperature_at(x + (along_x ? h : 0), y + (along_x ? 0 : h), f.temperatures);
    return a && b ? (*b - *a) / (2 * h) : NAN;
}

}  // namespace

TEST(Lesson, IsReadAndWrittenWithEveryField) {
    const Study study = corner_of_a_wall(full_lesson);
    const auto lessons = lessons_of(study);
    ASSERT_EQ(lessons.size(), 1u);
    const LessonStep& step = lessons[0].steps.at(0);
    EXPECT_EQ(step.layer, LessonLayer::flow);
    EXPECT_EQ(step.spotlight, (Rect{-30'000, 20'000, 10'000, 40'000})) << "corners in any order";
    EXPECT_EQ(step.question->right, 1u);
    EXPECT_EQ(step.extra.size() + lessons[0].extra.size() + step.trial->extra.size() + step.question->extra.size(), 3u) << "what is not known is kept";
    EXPECT_EQ(lessons_of(with_lessons(study, lessons)), lessons);
    EXPECT_EQ(lessons_of(read_study(write_study(with_lessons(study, lessons))).study), lessons);
    EXPECT_FALSE(with_lessons(study, {}).kept.contains("lessons"));
    EXPECT_TRUE(lesson_gaps(study, lessons).empty());
}

TEST(Lesson, FaultsSayWhere) {
    const auto with_step = [](const std::string& step) { return corner_of_a_wall("[ { \"steps\": [ " + step + " ] } ]"); };
    EXPECT_EQ(first_fault(with_step(R"({ "question": { "kind": "choice", "options": ["one"] } })")), "lesson-choice-needs-options /lessons/0/steps/0/question/options");
    EXPECT_EQ(first_fault(with_step(R"({ "question": { "kind": "choice", "options": ["a", "b"], "right": 2 } })")), "lesson-no-such-option /lessons/0/steps/0/question/right");
    EXPECT_EQ(first_fault(with_step(R"({ "question": { "kind": "choice", "options": ["a", "b"], "right": 0.5 } })")), "lesson-no-such-option /lessons/0/steps/0/question/right");
    EXPECT_EQ(first_fault(with_step(R"({ "question": { "kind": "fault" } })")), "lesson-needs-other /lessons/0/steps/0/question/other");
    EXPECT_EQ(first_fault(with_step(R"({ "spotlight": [[0, 0], [0, 5]] })")), "lesson-spotlight /lessons/0/steps/0/spotlight");
    EXPECT_EQ(first_fault(with_step(R"({ "spotlight": [] })")), "lesson-spotlight /lessons/0/steps/0/spotlight");
    EXPECT_EQ(first_fault(with_step(R"({ "width": 0 })")).substr(0, 19), "number-out-of-range");
    EXPECT_EQ(first_fault(with_step(R"({ "layer": "colours" })")), "unknown-word /lessons/0/steps/0/layer");
    EXPECT_EQ(first_fault(with_step("3")).substr(0, 10), "wrong-type");
    EXPECT_EQ(first_fault(corner_of_a_wall(R"([ { "title": "t" } ])")), "") << "an old file's lesson without steps is none that cannot be read";
    const auto lessons = lessons_of(with_step(R"({ "variant": "gone", "trial": { "what": "moisture", "piece": "x" } }, { "variant": "v1", "beside": "gone", "trial": { "what": "moisture", "piece": "x" } })"));
    std::vector<std::string> pointers;
    for (const auto& gap : lesson_gaps(corner_of_a_wall(), lessons)) pointers.push_back(gap.pointer);
    EXPECT_EQ(pointers, (std::vector<std::string>{"/lessons/0/steps/0/variant", "/lessons/0/steps/1/beside", "/lessons/0/steps/1/trial/piece"}));
}

// Each tube against the temperature field, which the stream function knows nothing of: λ·∂T/∂n integrated from one tracer to its
// neighbour is their share; and the tubes that leave the room carry, within one share, what the room loses.
TEST(Tracers, CarryTheHeatOfTheirTubes) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    const HeatTracers tracers = heat_tracers(*found->solution, found->temperatures, 24);
    ASSERT_GE(tracers.lines.size(), 10u);
    EXPECT_NEAR(static_cast<double>(tracers.lines.size()) * tracers.share, found->solution->flow_from_temperature(0, found->temperatures), tracers.share);
    // Those of the level leg cross its middle, y = 100 mm.
    std::vector<double> crossings;
    for (const TracerLine& line : tracers.lines) {
        const auto first = found->solution->temperature_at(line.points.front()[0], line.points.front()[1], found->temperatures), last = found->solution->temperature_at(line.points.back()[0], line.points.back()[1], found->temperatures);
        if (first && last) { EXPECT_GT(*first, *last) << "from warm to cold"; }
        for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
            const auto a = line.points[i], b = line.points[i + 1];
            if ((a[1] < 100'000) == (b[1] < 100'000) || a[0] > 0 || b[0] > 0) continue;
            crossings.push_back(a[0] + (100'000 - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
        }
    }
    std::sort(crossings.begin(), crossings.end());
    ASSERT_GE(crossings.size(), 4u);
    int told = 0;
    for (std::size_t i = 0; i + 1 < crossings.size(); ++i) {
        // q = -λ·∂T/∂y upwards through the level line y = 100 mm, from one to the next; λ 0.5 as declared.
        constexpr int parts = 200;
        double sum = 0;
        for (int p = 0; p < parts; ++p) sum += -0.5 * central(*found, crossings[i] + (crossings[i + 1] - crossings[i]) * (p + 0.5) / parts, 100'000, false) * (crossings[i + 1] - crossings[i]) / parts;
        EXPECT_NEAR(sum, tracers.share, 0.01 * tracers.share) << i;
        ++told;
    }
    EXPECT_GE(told, 3);
}

TEST(Tracers, CarryAGivenShareSoThatPicturesCompare) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]), better = find(study, study.variants[1]);
    const HeatTracers own = heat_tracers(*found->solution, found->temperatures, 24);
    const HeatTracers half = heat_tracers(*found->solution, found->temperatures, 24, 2 * own.share);
    EXPECT_EQ(half.share, 2 * own.share);
    EXPECT_NEAR(static_cast<double>(half.lines.size()), static_cast<double>(own.lines.size()) / 2, 1);
    const HeatTracers less = heat_tracers(*better->solution, better->temperatures, 24, own.share);
    EXPECT_NEAR(static_cast<double>(less.lines.size()) * own.share, better->solution->flow_from_temperature(0, better->temperatures), own.share) << "fewer lines where less flows";
    EXPECT_EQ(heat_tracers(*found->solution, found->temperatures, 24, own.share * 1e-6).share, own.share) << "never lines without end";
}

TEST(Tracers, AreNoneWhereNothingFlows) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    const HeatTracers none = heat_tracers(*found->solution, {10, 10}, 24);
    EXPECT_EQ(none.share, 0);
    EXPECT_TRUE(none.lines.empty());
}

// One-dimensional far from the corner: R = 0.10 + 0.2/0.5 + 0.04, heat going up (ISO 6946).
TEST(LineProfileTest, CrossesTheWallAsByHand) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[1]);
    const LineProfile profile = line_profile(*found, {-900'000, -50'000}, {-900'000, 250'000}, 301);
    ASSERT_EQ(profile.layers.size(), 3u);
    EXPECT_EQ(profile.layers[0].name, "");
    EXPECT_EQ(profile.layers[1].name, "Wall");
    EXPECT_NEAR(profile.layers[1].from, 50, 0.001);
    EXPECT_NEAR(profile.layers[1].to, 250, 0.001);
    const double R = 0.10 + 0.4 + 0.04;
    EXPECT_NEAR(profile.samples[150].temperature.value(), 20 - 20 * (0.10 + 0.2) / R, 0.05);
    EXPECT_NEAR(profile.samples[150].flux.value(), 20 / R, 0.1);
    EXPECT_FALSE(profile.samples[10].temperature) << "air";
    ASSERT_TRUE(profile.layers[1].fall);
    EXPECT_NEAR(*profile.layers[1].fall, 20 * 0.4 / R, 0.01) << "from warm to cold, up to both faces";
    EXPECT_FALSE(profile.layers[0].fall);
    const LineProfile block = line_profile(*found, {-500'000, 100'000}, {-100'000, 100'000});
    ASSERT_EQ(block.layers.size(), 3u);
    EXPECT_NEAR(block.layers[1].from, 100, 2);
    EXPECT_TRUE(line_profile(*found, {0, 0}, {0, 0}).samples.empty());
}

// A plain wall with 3 mm of lining, by hand: R = 0.13 + 0.003/0.03 + 0.2/0.5 + 0.04 (ISO 6946), q = 20/R; the line is askew, so that
// no step of it ends on a border.
TEST(LineProfileTest, FallsAndSurfaceStepsAddUpToTheDifference) {
    const Study study = read_study(R"json({ "wallfoot": 1, "convention": "iso",
 "materials": [ { "id": "m", "name": "Stuff", "kind": "masonry", "lambda": 0.5 }, { "id": "l", "name": "Lining", "kind": "insulation", "lambda": 0.03 } ],
 "variants": [ { "id": "v1", "name": "Wall", "section": { "cut": [-500, -500, 500, 500],
    "spaces": [ { "id": "in", "kind": "inside", "at": [-300, 0], "temperature": 20 }, { "id": "out", "kind": "outside", "at": [400, 0], "temperature": 0 } ],
    "pieces": [ { "id": "wall", "name": "Wall", "material": "m", "outline": [[0,-500],[200,-500],[200,500],[0,500]] },
                { "id": "lining", "name": "Lining", "material": "l", "outline": [[-3,-500],[0,-500],[0,500],[-3,500]] } ] } } ] })json")
                            .study;
    const auto found = find(study, study.variants[0]);
    const double R = 0.13 + 0.1 + 0.4 + 0.04;
    const LineProfile profile = line_profile(*found, {-150'370, -40'000}, {350'910, 90'000});
    ASSERT_EQ(profile.layers.size(), 4u);
    EXPECT_EQ(profile.layers[1].name, "Lining");
    ASSERT_TRUE(profile.layers[1].fall && profile.layers[2].fall);
    EXPECT_NEAR(*profile.layers[1].fall, 20 * 0.1 / R, 0.002);
    EXPECT_NEAR(*profile.layers[2].fall, 20 * 0.4 / R, 0.002);
    EXPECT_NEAR(*profile.layers[1].fall + *profile.layers[2].fall + 20 * (0.13 + 0.04) / R, 20, 0.002);
    EXPECT_NEAR((profile.layers[1].to - profile.layers[1].from) * 501.28 / std::hypot(501.28, 130), 3, 0.001) << "along the line, mm";
}

TEST(TemperatureGridTest, HoldsTheFieldCellByCell) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    const TemperatureGrid grid = temperature_grid(*found, 5000);
    ASSERT_EQ(grid.hundredths.size(), static_cast<std::size_t>(grid.columns * grid.rows));
    int solid = 0, air = 0;
    for (int r = 0; r < grid.rows; r += 3)
        for (int c = 0; c < grid.columns; c += 3) {
            const double x = -1'000'000 + 1'400'000.0 * (c + 0.5) / grid.columns, y = 400'000 - 1'400'000.0 * (r + 0.5) / grid.rows;
            const auto here = found->solution->temperature_at(x, y, found->temperatures);
            const auto stored = grid.hundredths[static_cast<std::size_t>(r * grid.columns + c)];
            if (here) {
                ++solid;
                EXPECT_NEAR(stored / 100.0, *here, 0.0051);
            } else {
                ++air;
                EXPECT_EQ(stored, TemperatureGrid::none);
            }
        }
    EXPECT_GT(solid, 100);
    EXPECT_GT(air, 100);
}

TEST(LessonAnswerTest, ColdestIsTheCornerAndGuessesAreMeasured) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    const LessonAnswer answer = lesson_answer({QuestionKind::coldest, {}, {}, {}, 0, {}}, *found, nullptr);
    ASSERT_TRUE(answer.at);
    EXPECT_NEAR(answer.at->x, 0, 1) << "the inner corner, by symmetry";
    EXPECT_NEAR(answer.at->y, 0, 1);
    EXPECT_NEAR(click_distance(answer, {-30, -40}).value(), 50, 1);
    EXPECT_FALSE(click_distance(answer, {NAN, 0}));
}

TEST(LessonAnswerTest, FaultIsFoundOnItAndCostsWithItsSign) {
    const Study study = corner_of_a_wall();
    const auto plain = find(study, study.variants[0]), block = find(study, study.variants[1]);
    const LessonAnswer fault = lesson_answer({QuestionKind::fault, {}, "v2", {}, 0, {}}, *plain, block.get());
    EXPECT_EQ(click_distance(fault, {-300, 100}), 0);
    EXPECT_NEAR(click_distance(fault, {-100, 100}).value(), 100, 6) << "a cell of the grid";
    // Without the better block more is lost: the sign of the fault's cost.
    ASSERT_GE(fault.says.size(), 2u);
    EXPECT_EQ(fault.says[1].code, "lesson-fault-psi");
    EXPECT_EQ(fault.says[1].args.at("difference").front(), '+');
    const LessonAnswer same = lesson_answer({QuestionKind::fault, {}, "v1", {}, 0, {}}, *plain, plain.get());
    EXPECT_EQ(same.says.front().code, "lesson-no-fault-seen");
    EXPECT_FALSE(click_distance(same, {0, 0}));
    const LessonAnswer more = lesson_answer({QuestionKind::loses_more, {}, "v2", {}, 0, {}}, *plain, block.get());
    EXPECT_EQ(more.option, std::optional<std::size_t>(0));
    EXPECT_EQ(option_guesses(more, {3, 1}).args.at("right"), "3");
    EXPECT_EQ(option_guesses(more, {-3, 1}).args.at("count"), "1");
    EXPECT_EQ(lesson_answer({QuestionKind::loses_more, {}, "v1", {}, 0, {}}, *plain, plain.get()).says.front().code, "lesson-too-close");
    const LessonAnswer change = lesson_answer({QuestionKind::change, {}, "v2", {}, 0, {}}, *plain, block.get());
    ASSERT_TRUE(change.number);
    EXPECT_NEAR(change.number->value, block->headline_psi()->value->value - plain->headline_psi()->value->value, 1e-12);
}

TEST(LessonAnswerTest, EveryPsiOfThePairIsTold) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    ASSERT_TRUE(found->headline_psi());
    Section section = *found->section;
    section.spaces.push_back(section.spaces.back());
    section.spaces.back().name = "Void";
    Findings shown = *found;
    shown.section = std::make_shared<const Section>(section);
    Psi pair = *shown.headline_psi();
    pair.b = static_cast<int>(section.spaces.size()) - 1;
    pair.headline = false;
    pair.value = Bracketed{0.2, 0.19999, 0.20001};
    shown.psi.push_back(pair);
    Findings other = shown;
    other.psi.back().value = Bracketed{0.05, 0.04999, 0.05001};
    const LessonAnswer answer = lesson_answer({QuestionKind::change, {}, "v2", {}, 0, {}}, shown, &other);
    EXPECT_NEAR(answer.number.value().value, 0, 1e-12) << "the headline";
    ASSERT_EQ(answer.says.size(), 2u);
    EXPECT_EQ(answer.says[1].code, "lesson-answer-change-pair");
    EXPECT_EQ(answer.says[1].args.at("to"), "Void");
    EXPECT_EQ(answer.says[1].args.at("difference").substr(0, 5), "-0.15");
}

TEST(LessonAnswerTest, PlacesGuessedAreToldByTheirDistance) {
    LessonAnswer answer;
    EXPECT_TRUE(click_guesses(answer, {{0, 0}}).empty()) << "nothing to hold it against";
    answer.at = Place{0, 0};
    EXPECT_TRUE(click_guesses(answer, {}).empty());
    EXPECT_TRUE(click_guesses(answer, {{NAN, 0}}).empty());
    EXPECT_EQ(click_guesses(answer, {{0, 0.5}}).at(0).code, "lesson-guess-found");
    EXPECT_EQ(click_guesses(answer, {{30, 40}}).at(0).args.at("mm"), "50");
    const auto told = click_guesses(answer, {{0, 10}, {30, 40}, {0, 300}, {NAN, 1}});
    EXPECT_EQ(told.at(0).args, (std::map<std::string, std::string>{{"count", "3"}, {"nearest", "10"}, {"middle", "50"}, {"farthest", "300"}}));
    EXPECT_EQ(click_guesses(answer, {{0, 10}, {0, 20}}).at(0).args.at("middle"), "15");
}

TEST(LessonAnswerTest, GuessesAreReadWithPointOrCommaAndTheirMiddleIsTold) {
    EXPECT_EQ(typed_guesses(" 0.05;0,1\n -0.2 "), (std::vector<double>{0.05, 0.1, -0.2}));
    EXPECT_TRUE(typed_guesses("  ").empty());
    EXPECT_THROW(typed_guesses("0.1 much"), InputFault);
    LessonAnswer answer;
    answer.kind = QuestionKind::change;
    EXPECT_TRUE(number_guesses(answer, {1}).empty()) << "nothing to hold it against";
    answer.number = Bracketed{0.10, 0.10, 0.10};
    EXPECT_TRUE(number_guesses(answer, {NAN, INFINITY}).empty());
    const auto told = number_guesses(answer, {0.3, 0.08, 0.2, NAN});
    ASSERT_EQ(told.size(), 1u);
    EXPECT_EQ(told[0].args.at("count"), "3");
    EXPECT_EQ(told[0].args.at("nearest"), "+0.080");
    EXPECT_EQ(told[0].args.at("off"), "-0.020");
    EXPECT_EQ(told[0].args.at("middle"), "+0.200");
}

TEST(LessonTrialTest, StopsWhereTheMaterialStatesNoMore) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[1]);
    const TrialRange moisture = trial_range(study, *found, {TrialWhat::moisture, "Wall", {}});
    EXPECT_EQ(moisture.conditions, (std::vector<Condition>{Condition::dry, Condition::protected_, Condition::below_dpc}));
    EXPECT_EQ(moisture.at_least.code, "lesson-stop-driest");
    EXPECT_EQ(moisture.at_most.code, "lesson-stop-wetter") << "below ground is not declared";
    const TrialRange lambda = trial_range(study, *found, {TrialWhat::conductivity, "all", {}});
    EXPECT_EQ(lambda.least, 0.4);
    EXPECT_EQ(lambda.most, 0.8);
    EXPECT_EQ(lambda.now, 0.5);
    const Study wet = trial_study(study, 1, {TrialWhat::moisture, "Wall", {}}, moisture, 99);
    EXPECT_EQ(wet.variants[1].section->pieces[0].moisture, Condition::below_dpc) << "held at its end";
    EXPECT_EQ(study.variants[1].section->pieces[0].moisture, Condition::protected_) << "the study itself stays";
    const auto tried = find(wet, wet.variants[1]);
    EXPECT_GT(tried->heat_flow[0].value, found->heat_flow[0].value);
    EXPECT_THROW(trial_range(study, *found, {TrialWhat::moisture, "block", {}}), InputFault) << "one value only";
    EXPECT_THROW(trial_range(study, *found, {TrialWhat::moisture, "gone", {}}), InputFault);
}

TEST(LessonTrialTest, GoesBetweenValuesOfUse) {
    Study study = corner_of_a_wall();
    for (Material& material : study.materials) material.ageing = 1.5;
    const auto found = find(study, study.variants[1]);
    const TrialRange lambda = trial_range(study, *found, {TrialWhat::conductivity, "all", {}});
    EXPECT_NEAR(lambda.least, 0.6, 1e-12);
    EXPECT_NEAR(lambda.most, 1.2, 1e-12);
    EXPECT_NEAR(lambda.now, 0.75, 1e-12);
}

// By hand: 72 000 K·h × 0.1 W/(m·K) = 7.2 kWh; a litre by 85 K at 4.19 kJ/(kg·K) is 356.15 kJ = 0.09893 kWh.
TEST(LessonUnits, AreThoseOfAHandCalculation) {
    Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    const EverydayLoss loss = everyday_loss(study, *found, 0.1);
    EXPECT_NEAR(loss.kwh, 7.2, 1e-12);
    EXPECT_NEAR(loss.kettles, 7.2 / 0.09893, 0.01);
    Climate climate;
    for (int m = 0; m < 12; ++m) climate.months.push_back({m < 2 ? 5.0 : 16.0, 0.8, {}});
    study.climate = climate;
    EXPECT_NEAR(everyday_loss(study, *found, 1).kelvin_hours, (31 + 28.25) * 24 * 15, 1e-9) << "months over 15 °C need no heating";
    study.climate->months.clear();
    study.climate->year = YearWave{5, 0, 1, 0, {}};
    EXPECT_NEAR(everyday_loss(study, *found, 1).kelvin_hours, 365.25 * 24 * 15, 1e-6) << "a wave states the months as well";
}

// By hand as above: 72 000 K·h × 0.05 W/(m·K) = 3.6 kWh, 36.4 kettles.
TEST(LessonUnits, TellADifferenceWithItsSign) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]), block = find(study, study.variants[1]);
    LessonAnswer answer;
    EXPECT_FALSE(everyday_difference(study, *found, answer));
    const auto told = [&](const Bracketed& of) {
        answer.cost = of;
        const auto message = everyday_difference(study, *found, answer);
        return message ? message->args.at("kwh") + " " + message->args.at("kettles") : std::string();
    };
    EXPECT_EQ(told({0.05, 0.0499, 0.0501}), "+3.6 +36");
    EXPECT_EQ(told({-0.05, -0.0501, -0.0499}), "-3.6 -36");
    EXPECT_EQ(told({0.05, 0.03, 0.07}), "+4 +40") << "by 0.02 to each side one figure is known";
    EXPECT_EQ(told({0.0001, 0.00009, 0.00011}), "+0.01 +0.1");
    EXPECT_EQ(told({0.0001, -0.0001, 0.0003}), "") << "it may be nothing";
    EXPECT_EQ(told({1e-6, 0.9e-6, 1.1e-6}), "") << "no +0.00";
    EXPECT_EQ(told({NAN, NAN, NAN}), "");
    const auto one = everyday_says(study, {found.get(), nullptr}), two = everyday_says(study, {found.get(), block.get()});
    EXPECT_EQ(two.size(), one.size() + 1) << "the factors once";
    EXPECT_EQ(one.at(0).args.at("of"), "psi");
    EXPECT_EQ(two.at(1).args.at("of"), "With block: psi");
    EXPECT_TRUE(everyday_says(study, {}).empty());
    Findings near_nothing = *found;
    for (Psi& psi : near_nothing.psi) psi.value = Bracketed{0.001, -0.001, 0.003};
    EXPECT_TRUE(everyday_says(study, {&near_nothing}).empty());
}

TEST(LessonUnits, StandBehindTheSentenceTheyBelongTo) {
    const Study study = corner_of_a_wall();
    const auto found = find(study, study.variants[0]);
    LessonAnswer answer;
    const auto codes = [&](LessonAnswer of) {
        say_everyday_difference(study, *found, of);
        std::vector<std::string> all;
        for (const Message& message : of.says) all.push_back(message.code);
        return all;
    };
    const auto sentence_of = [](const char* code) { return Message{Severity::note, code, {}, {}, {}}; };
    answer.says = {sentence_of("lesson-answer-change"), sentence_of("lesson-answer-change-pair"), sentence_of("lesson-says")};
    EXPECT_EQ(codes(answer).size(), 3u) << "no difference, no kWh";
    answer.number = Bracketed{0.05, 0.0499, 0.0501};
    EXPECT_EQ(codes(answer), (std::vector<std::string>{"lesson-answer-change", "lesson-everyday-difference", "lesson-answer-change-pair", "lesson-says"}));
    answer.says.front() = sentence_of("lesson-answer-fault");
    answer.says[1] = sentence_of("lesson-fault-psi");
    EXPECT_EQ(codes(answer)[2], "lesson-everyday-difference");
}

// Two rooms at unlike temperatures: 15 K and 13 K over 365.25 days.
TEST(LessonUnits, TellTheDegreeHoursOfBothWhereTheyDiffer) {
    Study study = corner_of_a_wall();
    Climate climate;
    climate.name = "Here";
    for (int m = 0; m < 12; ++m) climate.months.push_back({5.0, 0.8, {}});
    study.climate = climate;
    const auto found = find(study, study.variants[0]);
    ASSERT_TRUE(found->headline_psi());
    Findings cooler = *found;
    cooler.variant_name = "Cooler";
    cooler.temperatures.at(static_cast<std::size_t>(cooler.headline_psi()->a)) = 18;
    const auto both = everyday_says(study, {found.get(), &cooler});
    ASSERT_EQ(both.size(), 5u);
    EXPECT_EQ(both[2].args.at("variant"), "Plain");
    EXPECT_EQ(both[2].args.at("hours"), "131000");
    EXPECT_EQ(both[3].args.at("variant"), "Cooler");
    EXPECT_EQ(both[3].args.at("hours"), "114000");
    const auto alike = everyday_says(study, {found.get(), found.get()});
    ASSERT_EQ(alike.size(), 4u);
    EXPECT_EQ(alike[2].code, "lesson-degree-hours");
}

TEST(ReportPageTest, SaysWhichVariantsHadNoRoom) {
    const auto nothing = [](const ReportPicture&) { return std::string(); };
    const auto page_within = [&](std::size_t most) {
        ReportPage page;
        for (const char* name : {"First", "Second", "Third"}) page.variants.push_back({name, std::string(10'000, 'x'), "", "", {}, name});
        page.grids["First"] = page.grids["Second"] = page.grids["Third"] = TemperatureGrid{};
        page.grids["step"] = TemperatureGrid{};
        page.slider = PageSlider{"Moisture", {{"wet", std::string(10'000, 'x'), "", "", {}, "step"}}, 0, "", ""};
        page.most_bytes = most;
        return page;
    };
    ReportPage whole = page_within(1'000'000);
    const std::string all = report_page_that_fits({}, nothing, whole);
    EXPECT_TRUE(whole.left_out.empty());
    EXPECT_EQ(all.find("class=\"left-out\""), std::string::npos);
    ReportPage still = page_within(all.size() - 1);
    report_page_that_fits({}, nothing, still);
    ASSERT_EQ(still.left_out.size(), 1u) << "the slider goes first";
    EXPECT_EQ(still.variants.size(), 3u);
    EXPECT_FALSE(still.grids.contains("step"));
    EXPECT_EQ(still.left_out[0].code, "page-slider-left-out");
    EXPECT_TRUE(still.left_out[0].args.contains("most")) << "the reason stands in the sentence itself";
    ReportPage one = page_within(all.size() - 25'000);  // the slider and the last two, 10 000 each
    const std::string said = report_page_that_fits({}, nothing, one);
    EXPECT_LE(said.size(), all.size() - 25'000);
    ASSERT_EQ(one.variants.size(), 1u);
    EXPECT_EQ(one.left_out.at(0).args.at("names"), "Second; Third");
    EXPECT_NE(said.find("Second; Third"), std::string::npos);
    EXPECT_FALSE(one.grids.contains("Second"));
    ReportPage none = page_within(1);
    EXPECT_GT(report_page_that_fits({}, nothing, none).size(), 1u) << "the report itself is whole";
    EXPECT_TRUE(none.variants.empty());
    ASSERT_EQ(none.left_out.size(), 1u);
    EXPECT_EQ(none.left_out[0].code, "page-large-even-so") << "not that they alone make it too large";
    EXPECT_EQ(none.left_out[0].args.at("names"), "First; Second; Third");
}
