// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/lesson/lesson.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// The answer to a question, with what a guess is held against.
struct LessonAnswer {
    QuestionKind kind = QuestionKind::coldest;
    std::optional<Place> at = {};             ///< coldest: mm
    std::optional<Bracketed> number = {};     ///< change: of psi, W/(m·K)
    std::optional<std::size_t> option = {};   ///< loses-more: 0 the step's variant, 1 the other; choice: the right one
    std::optional<Bracketed> cost = {};       ///< fault: of psi, from as designed to as built, W/(m·K)
    std::vector<Rect> places = {};            ///< fault: where the two are not built alike
    std::vector<Message> says = {};           ///< the answer in sentences, then what the lesson says
};
/// `other`: findings of the question's other variant, needed for loses-more, change and fault. What cannot be told (no psi,
/// too close) is said, and then there is nothing to hold a guess against.
LessonAnswer lesson_answer(const LessonQuestion& question, const Findings& shown, const Findings* other);

/// The usual sentence of a question that has none of its own.
std::string question_text(const LessonQuestion& question, const std::string& shown, const std::string& other);
/// What a guess can be: the options, or the names of both variants; empty for clicks and numbers.
std::vector<std::string> question_options(const LessonQuestion& question, const std::string& shown, const std::string& other);

/// How far a guess was off: mm from the coldest point, or from the nearest place of the fault (0 on it). Nothing where there
/// is nothing to hold it against.
std::optional<double> click_distance(const LessonAnswer& answer, Place guess);
/// Of all places guessed, in sentences: the only one, or how many, the nearest, the middle one and the farthest. `guesses` mm.
std::vector<Message> click_guesses(const LessonAnswer& answer, const std::vector<Place>& guesses);
/// Of all guesses, in sentences: how many, the nearest, the middle one. `guesses` W/(m·K); those that are not finite are left out.
std::vector<Message> number_guesses(const LessonAnswer& answer, std::vector<double> guesses);
/// Reads numbers typed in one field, parted by blanks, semicolons or line ends; a comma is a decimal sign. Throws InputFault
/// "lesson-not-a-number" with the word.
std::vector<double> typed_guesses(const std::string& text);
/// How many chose each option, and how many were right.
Message option_guesses(const LessonAnswer& answer, const std::vector<int>& counts);

/// Where two sections differ in what is seen: filling, material or stated moisture of the topmost piece, and membranes that
/// only one of them has. Rectangles of a grid of some 240 cells across the cut of `shown`.
std::vector<Rect> differing_places(const Section& shown, const Section& other);

/// What a heat loss comes to in a year, in the trade's units and in everyday ones.
struct EverydayLoss {
    double kelvin_hours = 0;  ///< of the heating season
    double kwh = 0;           ///< a year, per metre run
    double kettles = 0;
    std::vector<Message> how; ///< factors and degree-hours
};
/// For a psi or L2D in W/(m·K). Degree-hours: the months of the study's climate whose mean is below 15 °C (common practice, no
/// source), by the inside temperature; without a climate 72 000 K·h, said to be assumed.
EverydayLoss everyday_loss(const Study& study, const Findings& findings, double coefficient);
/// "psi", with the spaces it stands between where the findings have more than one pair.
std::string psi_name(const Findings& findings, const Psi& psi);
/// psi of each of the findings (null, those without one and those that may be zero are left out) in everyday units, then the
/// factors; with two, each by its variant's name. Empty where nothing is told.
std::vector<Message> everyday_says(const Study& study, const std::vector<const Findings*>& of);
/// What the difference that an answer tells (number, cost) comes to in a year, with its sign and the digits its bracket supports;
/// nothing where there is none, or where it may be zero.
std::optional<Message> everyday_difference(const Study& study, const Findings& findings, const LessonAnswer& answer);
/// Puts that into the answer, straight after the sentence whose difference it is.
void say_everyday_difference(const Study& study, const Findings& findings, LessonAnswer& answer);

/// Where a lesson's slider can stand, and why it ends there.
struct TrialRange {
    std::vector<Condition> conditions;  ///< moisture: what the material declares, from dry to wet
    double least = 0, most = 0;         ///< conductivity, W/(m·K): between the lowest and the highest stated for it
    double now = 0;
    double factor = 1;                  ///< what declared values are multiplied by for their use; done in least, most and now
    std::string piece, material;        ///< shown names
    Message at_least, at_most;
};
/// Throws InputFault: "lesson-unknown-piece"; "lesson-trial-one-value" where the material states one value alone.
TrialRange trial_range(const Study& study, const Findings& shown, const LessonTrial& trial);
/// The study with the trial at a place of its range: `at` counts conditions, or is W/(m·K).
Study trial_study(const Study& study, std::size_t variant, const LessonTrial& trial, const TrialRange& range, double at);

}  // namespace wallfoot
