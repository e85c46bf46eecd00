// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/study/words.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

// A lesson: a sequence of views of a study's variants, kept in the study under `lessons`. It has no part in any result.

/// What lies over the section.
enum class LessonLayer { materials, temperature, isotherms, flow };
inline constexpr Words<LessonLayer, 4> lesson_layer_words{
    {{LessonLayer::materials, "materials"}, {LessonLayer::temperature, "temperature"}, {LessonLayer::isotherms, "isotherms"}, {LessonLayer::flow, "flow"}}};

/// What is asked before it is shown.
enum class QuestionKind {
    coldest,     ///< where the inside surface is coldest: a click
    loses_more,  ///< which of two variants loses more heat
    change,      ///< by how much psi changes from the step's variant to the other: a number
    fault,       ///< where the step's variant is not built as the other: a click
    choice       ///< one of several sentences
};
inline constexpr Words<QuestionKind, 5> question_kind_words{
    {{QuestionKind::coldest, "coldest"}, {QuestionKind::loses_more, "loses-more"}, {QuestionKind::change, "change"}, {QuestionKind::fault, "fault"}, {QuestionKind::choice, "choice"}}};

struct LessonQuestion {
    QuestionKind kind = QuestionKind::coldest;
    std::string text;                  ///< "" = the usual sentence of its kind
    std::string other;                 ///< variant compared with (loses-more, change, fault)
    std::vector<std::string> options;  ///< of a choice
    std::size_t right = 0;             ///< of a choice: the option that is right
    std::string answer;                ///< what is said with the answer
    Extra extra = {};
    bool operator==(const LessonQuestion&) const = default;
};

enum class TrialWhat { conductivity, moisture };
inline constexpr Words<TrialWhat, 2> trial_words{{{TrialWhat::conductivity, "conductivity"}, {TrialWhat::moisture, "moisture"}}};

/// One property of one piece that can be moved by a slider while the step is shown.
struct LessonTrial {
    TrialWhat what = TrialWhat::moisture;
    std::string piece;  ///< id or name
    Extra extra = {};
    bool operator==(const LessonTrial&) const = default;
};

struct LessonStep {
    std::string variant;  ///< id
    LessonLayer layer = LessonLayer::materials;
    std::optional<Point> centre;         ///< of the view; absent: the whole cut
    std::optional<Micrometres> width;    ///< of the view, > 0
    std::optional<Rect> spotlight;       ///< what is looked at; the rest is dimmed
    std::string beside;                  ///< a second variant behind a line that can be pulled; "" = none
    std::optional<LessonTrial> trial;
    std::string text, note;              ///< on the screen; for the presenter alone
    std::optional<LessonQuestion> question;
    Extra extra = {};
    bool operator==(const LessonStep&) const = default;
};

struct Lesson {
    std::string title, about;
    std::vector<LessonStep> steps;
    Extra extra = {};
    bool operator==(const Lesson&) const = default;
};

/// Those of a study. Throws InputFault with a JSON pointer for each that cannot be used.
std::vector<Lesson> lessons_of(const Study& study);
/// The study with these in the place of its own.
Study with_lessons(Study study, const std::vector<Lesson>& lessons);
/// What a step speaks of and the study does not have: variants and pieces, each with the step's place.
std::vector<Message> lesson_gaps(const Study& study, const std::vector<Lesson>& lessons);

}  // namespace wallfoot
