// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/lesson/lesson.hpp"
#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/teach/lesson_player.hpp"
#include "ui/teach/teach_view.hpp"

namespace wallfoot {

/// Two variants and one lesson of three steps.
class TeachTest : public WindowTest {
  protected:
    void open_lesson() {
        open_small();
        window->action(QStringLiteral("variant.duplicate"))->trigger();
        window->document().edit(QStringLiteral("Light foot"), [](const Section& section) { return set_material(section, "foot", "light"); });
        const std::string other = window->document().study()->variants[1].id;
        Lesson lesson{"Feet", "", {}};
        LessonStep step;
        step.variant = "v1";
        step.layer = LessonLayer::flow;
        step.text = "Look at the foot";
        step.note = "Tell them slowly";
        step.trial = LessonTrial{TrialWhat::moisture, "foot", {}};
        lesson.steps.push_back(step);
        step.trial.reset();
        step.layer = LessonLayer::temperature;
        step.text = "Where is it coldest";
        step.question = LessonQuestion{QuestionKind::coldest, {}, {}, {}, 0, "There."};
        lesson.steps.push_back(step);
        step.question = LessonQuestion{QuestionKind::loses_more, {}, other, {}, 0, {}};
        step.text = "Which loses more";
        step.beside = other;
        lesson.steps.push_back(step);
        window->document().change(QStringLiteral("Lesson"), with_lessons(*window->document().study(), {lesson}), 0);
        window->action(QStringLiteral("view.teach"))->trigger();
        ASSERT_TRUE(QTest::qWaitFor([&] { return player().stage().painted() && view().findings().size() == 2 && view().findings()[1]; }, 30'000));
    }
    TeachView& view() { return window->teach_view(); }
    LessonPlayer& player() { return view().player(); }
    std::vector<Lesson> of_study() const { return lessons_of(*window->document().study()); }
    void settle() { ASSERT_TRUE(QTest::qWaitFor([&] { return player().idle(); }, 30'000)); }
};

}  // namespace wallfoot
