// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDir>
#include <QFileInfo>
#include <QImage>
#include <QLabel>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QSignalSpy>
#include <QSlider>
#include <QSpinBox>
#include <cmath>

#include "tests/ui/teach_fixture.hpp"
#include "ui/panels/variants_strip.hpp"
#include "ui/teach/hand_out.hpp"

namespace wallfoot {
namespace {

TEST_F(TeachTest, a_place_is_guessed_by_keyboard_alone) {
    open_lesson();
    player().go_to(1);
    settle();
    LessonStage& stage = player().stage();
    stage.setFocus();
    EXPECT_TRUE(player().keys().text().contains(QStringLiteral("pointer to guess"))) << player().keys().text().toStdString();
    QTest::keyClick(&stage, Qt::Key_Return);
    ASSERT_TRUE(stage.pointing_by_keys());
    EXPECT_TRUE(player().keys().text().contains(QStringLiteral("Backspace")));
    const QPointF middle = stage.view().to_mm(QPointF(stage.picture_size().width() / 2, stage.picture_size().height() / 2));
    for (int i = 0; i < 3; ++i) QTest::keyClick(&stage, Qt::Key_Right);
    QTest::keyClick(&stage, Qt::Key_Up, Qt::ShiftModifier);
    EXPECT_EQ(player().step(), 1u) << "the arrows lead the pointer";
    QTest::keyClick(&stage, Qt::Key_Return);
    ASSERT_EQ(player().clicks().size(), 1u);
    EXPECT_NEAR((player().clicks()[0].x() - middle.x()) * stage.view().pixels_per_mm, 24, 1e-6);
    EXPECT_NEAR((player().clicks()[0].y() - middle.y()) * stage.view().pixels_per_mm, 40, 1e-6);
    QTest::keyClick(&stage, Qt::Key_Backspace);
    EXPECT_TRUE(player().clicks().empty());
    QTest::keyClick(&stage, Qt::Key_Return);
    QTest::keyClick(&stage, Qt::Key_A);
    ASSERT_TRUE(player().answer());
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("mm away"))) << player().result().text().toStdString();
    EXPECT_FALSE(stage.pointing_by_keys());
    QTest::keyClick(&stage, Qt::Key_Right);
    EXPECT_EQ(player().step(), 2u);
}

TEST_F(TeachTest, the_pointer_stays_inside_the_cut_and_the_section_goes_along) {
    open_lesson();
    LessonStage& stage = player().stage();
    stage.setFocus();
    for (int i = 0; i < 6; ++i) QTest::keyClick(&stage, Qt::Key_Plus);
    QTest::keyClick(&stage, Qt::Key_Return);
    QSignalSpy moved(&stage, &LessonStage::view_moved);
    for (int i = 0; i < 200; ++i) QTest::keyClick(&stage, Qt::Key_Left, Qt::ShiftModifier);
    EXPECT_GT(moved.count(), 0);
    const auto before = moved.count();
    QTest::keyClick(&stage, Qt::Key_Left, Qt::ShiftModifier);
    EXPECT_EQ(moved.count(), before) << "the cut ends here";
    const double cut = to_mm(view().findings()[0]->section->cut.left);
    EXPECT_NEAR(stage.view().to_pixels(cut, 0).x(), 12, 1) << "at the border of the picture";
    QTest::keyClick(&stage, Qt::Key_L);
    for (int i = 0; i < 3; ++i) QTest::keyClick(&stage, Qt::Key_Right);
    QTest::keyClick(&stage, Qt::Key_Return);
    ASSERT_FALSE(stage.profile().samples.empty()) << "a line by keys";
    QTest::keyClick(&stage, Qt::Key_Escape);
    EXPECT_FALSE(stage.pointing_by_keys());
    EXPECT_FALSE(stage.profile().samples.empty()) << "the line stays until it is let go";
    QTest::keyClick(&stage, Qt::Key_Escape);
    EXPECT_TRUE(stage.profile().samples.empty());
    const double left = stage.view().to_mm(QPointF()).x();
    QTest::keyClick(&stage, Qt::Key_0);
    EXPECT_NE(stage.view().to_mm(QPointF()).x(), left) << "the view of the step again";
}

TEST_F(TeachTest, options_line_slider_and_help_have_keys) {
    open_lesson();
    LessonStage& stage = player().stage();
    stage.setFocus();
    const int begins = player().slider().value();
    QTest::keyClick(&stage, begins < player().slider().maximum() ? Qt::Key_Up : Qt::Key_Down);
    EXPECT_EQ(std::abs(player().slider().value() - begins), 1);
    QTest::keyClick(&stage, Qt::Key_P);
    EXPECT_TRUE(stage.paused());
    EXPECT_EQ(window->sheet().tool(), Tool::pick) << "no command of the window has the key here";
    QTest::keyClick(&stage, Qt::Key_Question);
    EXPECT_TRUE(stage.helping());
    QTest::keyClick(&stage, Qt::Key_Escape);
    EXPECT_FALSE(stage.helping());
    player().slider().setFocus();
    QTest::keyClick(&player().slider(), Qt::Key_PageDown);
    EXPECT_EQ(player().step(), 1u) << "a presenter's switch serves wherever the focus is";
    player().go_to(2);
    settle();
    stage.setFocus();
    for (const auto key : {Qt::Key_1, Qt::Key_1, Qt::Key_2, Qt::Key_2}) QTest::keyClick(&stage, key);
    QTest::keyClick(&stage, Qt::Key_Backspace);
    EXPECT_EQ(player().tally()[0]->value(), 2);
    EXPECT_EQ(player().tally()[1]->value(), 1);
    QTest::keyClick(&stage, Qt::Key_9);
    QTest::keyClick(&stage, Qt::Key_Right, Qt::ControlModifier);
    EXPECT_NEAR(stage.divider(), 0.55, 1e-9);
    QTest::keyClick(&stage, Qt::Key_A);
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("2 of 3 were right"))) << player().result().text().toStdString();
    QTest::keyClick(&stage, Qt::Key_Backspace);
    EXPECT_EQ(player().tally()[1]->value(), 1) << "nothing after the answer";
}

TEST_F(TeachTest, a_number_is_guessed_and_a_spotlight_drawn_by_keys) {
    open_lesson();
    auto lessons = of_study();
    lessons[0].steps[0].trial.reset();
    lessons[0].steps[0].question = LessonQuestion{QuestionKind::change, {}, window->document().study()->variants[1].id, {}, 0, {}};
    window->document().change(QStringLiteral("Question"), with_lessons(*window->document().study(), lessons), 0);
    settle();
    LessonStage& stage = player().stage();
    stage.setFocus();
    QTest::keyClick(&stage, Qt::Key_G);
    ASSERT_TRUE(player().typed().hasFocus());
    QTest::keyClicks(&player().typed(), QStringLiteral("0.1 0.2"));
    QTest::keyClick(&player().typed(), Qt::Key_Escape);
    EXPECT_TRUE(stage.hasFocus());
    QTest::keyClick(&stage, Qt::Key_A);
    ASSERT_TRUE(player().answer());
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("2 guesses"))) << player().result().text().toStdString();
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("kWh"))) << "in everyday units";
    view().button(QStringLiteral("spotlight")).click();
    ASSERT_TRUE(stage.spotlighting());
    QTest::keyClick(&stage, Qt::Key_Return);
    QTest::keyClick(&stage, Qt::Key_Right, Qt::ShiftModifier);
    QTest::keyClick(&stage, Qt::Key_Down, Qt::ShiftModifier);
    QTest::keyClick(&stage, Qt::Key_Return);
    EXPECT_FALSE(stage.spotlighting());
    ASSERT_TRUE(of_study()[0].steps[0].spotlight);
    EXPECT_NEAR(to_mm(of_study()[0].steps[0].spotlight->width()) * stage.view().pixels_per_mm, 40, 0.5);
}

TEST_F(TeachTest, the_answer_on_top_is_that_of_the_step) {
    open_lesson();  // the second variant is in view
    EXPECT_TRUE(window->answer_strip().text().startsWith(QStringLiteral("Base: psi"))) << window->answer_strip().text().toStdString();
    EXPECT_TRUE(window->answer_strip().text().contains(QStringLiteral("fRsi")));
    EXPECT_FALSE(window->variants_strip().isVisible());
    QSlider& slider = player().slider();
    slider.setValue(slider.value() == slider.maximum() ? slider.minimum() : slider.maximum());
    settle();
    EXPECT_TRUE(window->answer_strip().text().startsWith(QStringLiteral("Base, as tried: psi"))) << window->answer_strip().text().toStdString();
    player().go_to(1);
    settle();
    for (const char* answer : {"fRsi", "psi"}) EXPECT_FALSE(window->answer_strip().text().contains(QLatin1String(answer))) << "what is asked is not told";
    player().reveal_button().click();
    EXPECT_TRUE(window->answer_strip().text().startsWith(QStringLiteral("Base: psi")));
    window->action(QStringLiteral("view.heat"))->trigger();
    EXPECT_TRUE(window->answer_strip().text().startsWith(QStringLiteral("psi"))) << window->answer_strip().text().toStdString();
    EXPECT_TRUE(window->variants_strip().isVisible());
}

TEST_F(TeachTest, what_is_handed_out_can_be_stopped_and_leaves_nothing) {
    open_lesson();
    HandOut& hand_out = view().hand_out();
    QSignalSpy made(&hand_out, &HandOut::made), stopped(&hand_out, &HandOut::stopped), failed(&hand_out, &HandOut::failed);
    const LessonSource source{window->document().study(), of_study()[0], {}};
    const QString page = write(QStringLiteral("page.html"), "before");
    hand_out.make(source, QStringLiteral("html"), 0, page);
    EXPECT_TRUE(hand_out.busy());
    EXPECT_FALSE(view().hand_out_button().isEnabled());
    hand_out.make(source, QStringLiteral("png"), 0, folder.filePath(QStringLiteral("second.png")));  // one at a time
    hand_out.stop();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !hand_out.busy(); }, 30'000));
    EXPECT_EQ(stopped.count(), 1);
    EXPECT_EQ(made.count() + failed.count(), 0);
    QFile file(page);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(file.readAll(), "before") << "what was there is as it was";
    EXPECT_EQ(QDir(folder.path()).entryList({QStringLiteral("page*"), QStringLiteral("second*")}, QDir::Files), QStringList{QStringLiteral("page.html")}) << "nothing half written";
    EXPECT_TRUE(view().hand_out_button().isEnabled());
    const QString picture = folder.filePath(QStringLiteral("step.png"));
    hand_out.make(source, QStringLiteral("png"), 1, picture);
    ASSERT_TRUE(QTest::qWaitFor([&] { return made.count() == 1; }, 30'000));
    EXPECT_FALSE(QImage(picture).isNull());
    HandOut alone;  // the window would tell it in a dialog
    QSignalSpy refused(&alone, &HandOut::failed);
    alone.make(source, QStringLiteral("png"), 99, picture);
    ASSERT_TRUE(QTest::qWaitFor([&] { return !alone.busy(); }, 30'000));
    EXPECT_EQ(refused.count(), 1) << "no such step";
    auto* so_far = hand_out.findChild<QProgressBar*>();
    hand_out.make(source, QStringLiteral("html"), 0, page);
    ASSERT_TRUE(QTest::qWaitFor([&] { return so_far->maximum() > 0; }, 30'000)) << "it is told how much there is to do";
    window.reset();  // the window goes: what is under way ends, and nothing is written
    EXPECT_EQ(QFileInfo(page).size(), 6);
}

}  // namespace
}  // namespace wallfoot
