// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QProcess>
#include <QPushButton>
#include <QSlider>
#include <QSpinBox>
#include <cmath>

#include "tests/ui/teach_fixture.hpp"
#include "tests/unit/tree.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/teach/lesson_files.hpp"
#include "ui/teach/lesson_picture.hpp"
#include "ui/teach/lesson_stage.hpp"

namespace wallfoot {
namespace {

TEST_F(TeachTest, steps_are_gone_through_by_keys) {
    open_lesson();
    EXPECT_EQ(player().text().text(), QStringLiteral("Look at the foot"));
    EXPECT_GT(player().stage().share(), 0) << "tracers carry something";
    player().stage().setFocus();
    QTest::keyClick(&player().stage(), Qt::Key_Right);
    EXPECT_EQ(player().step(), 1u);
    EXPECT_EQ(view().steps().currentRow(), 1) << "the list goes along";
    QTest::keyClick(&player().stage(), Qt::Key_PageDown);
    QTest::keyClick(&player().stage(), Qt::Key_PageDown);
    EXPECT_EQ(player().step(), 2u) << "the last one stays";
    QTest::keyClick(&player().stage(), Qt::Key_Left);
    EXPECT_EQ(player().step(), 1u);
    EXPECT_EQ(player().notes().note().text(), QStringLiteral("Tell them slowly"));
    EXPECT_TRUE(player().notes().next().text().contains(QStringLiteral("Which loses more")));
}

TEST_F(TeachTest, a_slider_is_followed_and_leaves_the_study_alone) {
    open_lesson();
    const auto before = window->document().study();
    QSlider& slider = player().slider();
    EXPECT_EQ(slider.maximum(), 3) << "four conditions are declared";
    slider.setValue(slider.maximum());
    settle();
    const QString wet = player().trial_words().text();
    EXPECT_TRUE(wet.contains(QStringLiteral("psi"))) << wet.toStdString();
    EXPECT_TRUE(wet.contains(QStringLiteral("It ends at"))) << wet.toStdString();
    slider.setValue(slider.minimum());
    settle();
    EXPECT_NE(player().trial_words().text().section(QLatin1Char('\n'), 1, 1), wet.section(QLatin1Char('\n'), 1, 1)) << "psi follows";
    EXPECT_EQ(window->document().study(), before);
    player().reset();
    EXPECT_FALSE(player().trial_words().text().contains(QStringLiteral("psi")));
}

TEST_F(TeachTest, guesses_are_measured_when_the_answer_is_shown) {
    open_lesson();
    player().go_to(1);
    settle();
    const auto* coldest = view().findings()[0]->headline_surface();
    const QPointF there = player().stage().view().to_pixels(coldest->at[0] / 1000, coldest->at[1] / 1000);
    const QPointF beside = player().stage().view().to_pixels(coldest->at[0] / 1000 - 300, coldest->at[1] / 1000 + 400);
    QTest::mouseClick(&player().stage(), Qt::LeftButton, {}, beside.toPoint());
    ASSERT_EQ(player().clicks().size(), 1u);
    EXPECT_FALSE(player().result().text().contains(QStringLiteral("°C"))) << "nothing is told before";
    player().reveal_button().click();
    ASSERT_TRUE(player().answer());
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("°C"))) << "and now it is";
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("There.")));
    static const QRegularExpression away(QStringLiteral("is ([0-9]+) mm away"));
    EXPECT_NEAR(away.match(player().result().text()).captured(1).toDouble(), 500, 6) << player().result().text().toStdString();
    QTest::mouseClick(&player().stage(), Qt::LeftButton, {}, there.toPoint());
    EXPECT_EQ(player().clicks().size(), 1u) << "no guess after the answer";
    player().go_to(2);
    settle();
    ASSERT_EQ(player().tally().size(), 2u);
    player().tally()[0]->setValue(7);
    player().tally()[1]->setValue(2);
    player().reveal_button().click();
    EXPECT_TRUE(player().result().text().contains(QStringLiteral("7 of 9 were right"))) << player().result().text().toStdString();
}

TEST_F(TeachTest, steps_are_edited_as_acts_that_can_be_undone) {
    open_lesson();
    view().button(QStringLiteral("add-step")).click();
    ASSERT_EQ(of_study().at(0).steps.size(), 4u);
    EXPECT_EQ(player().step(), 1u) << "behind the one that was shown";
    view().text().setPlainText(QStringLiteral("Mine"));
    player().next();  // what was typed belongs to the step it was typed for
    EXPECT_EQ(of_study()[0].steps[1].text, "Mine");
    EXPECT_EQ(of_study()[0].steps[2].text, "Where is it coldest");
    view().steps().setCurrentRow(1);
    view().button(QStringLiteral("down")).click();
    EXPECT_EQ(of_study()[0].steps[2].text, "Mine");
    view().layer().setCurrentIndex(0);
    emit view().layer().activated(0);
    EXPECT_EQ(of_study()[0].steps[2].layer, LessonLayer::materials);
    view().question().setCurrentIndex(5);
    emit view().question().activated(5);
    EXPECT_EQ(of_study()[0].steps[2].question->options.size(), 2u) << "a choice is never left without";
    view().button(QStringLiteral("remove-step")).click();
    EXPECT_EQ(of_study()[0].steps.size(), 3u);
    for (int i = 0; i < 6; ++i) window->document().undo_stack().undo();
    EXPECT_EQ(of_study()[0].steps.size(), 3u);
    EXPECT_EQ(of_study()[0].steps[1].text, "Where is it coldest");
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().lessons() == of_study(); }, 10'000)) << "the view follows";
    EXPECT_FALSE(window->document().is_clean());
}

TEST_F(TeachTest, words_of_a_question_stay_with_their_step) {
    open_lesson();
    player().go_to(1);
    view().asked().setFocus();
    QTest::keyClicks(&view().asked(), QStringLiteral("Mine"));
    player().next();  // by its button, which takes no focus
    EXPECT_EQ(view().asked().text(), QString());
    QTest::keyClicks(&view().asked(), QStringLiteral("Yours"));
    view().flush();
    EXPECT_EQ(of_study()[0].steps[1].question->text, "Mine");
    EXPECT_EQ(of_study()[0].steps[2].question->text, "Yours");
}

TEST_F(TeachTest, an_act_after_an_undo_begins_from_what_was_restored) {
    open_lesson();
    view().title().setFocus();
    QTest::keyClicks(&view().title(), QStringLiteral(" and more"));
    view().flush();
    ASSERT_EQ(of_study()[0].title, "Feet and more");
    view().button(QStringLiteral("add-step")).click();
    ASSERT_EQ(of_study()[0].steps.size(), 4u);
    view().title().setFocus();
    window->document().undo_stack().undo();
    window->document().undo_stack().undo();
    EXPECT_TRUE(view().lessons() == of_study()) << "at once";
    EXPECT_EQ(view().title().text(), QStringLiteral("Feet"));
    view().layer().setCurrentIndex(0);
    emit view().layer().activated(0);
    EXPECT_EQ(of_study()[0].steps.size(), 3u);
    EXPECT_EQ(of_study()[0].title, "Feet");
}

TEST_F(TeachTest, an_answer_is_that_of_the_section_as_drawn) {
    open_lesson();
    Study study = *window->document().study();
    auto lessons = of_study();
    lessons[0].steps[0].question = LessonQuestion{QuestionKind::coldest, {}, {}, {}, 0, {}};
    window->document().change(QStringLiteral("Question"), with_lessons(study, lessons), 0);
    settle();
    QSlider& slider = player().slider();
    const int begins = slider.value();
    slider.setValue(begins == slider.maximum() ? slider.minimum() : slider.maximum());
    EXPECT_FALSE(player().trial_words().text().contains(QStringLiteral("psi"))) << "what is asked is not told, nor that it will be";
    settle();
    ASSERT_TRUE(player().tried());
    const QString asked = player().trial_words().text();
    EXPECT_TRUE(asked.contains(QStringLiteral("It ends at"))) << asked.toStdString();
    for (const char* answer : {"psi", "fRsi", "coldest"}) EXPECT_FALSE(asked.contains(QLatin1String(answer))) << asked.toStdString();
    player().reveal_button().click();
    ASSERT_TRUE(player().answer());
    EXPECT_EQ(slider.value(), begins);
    EXPECT_FALSE(player().tried());
    slider.setValue(begins == slider.maximum() ? slider.minimum() : slider.maximum());
    settle();
    EXPECT_TRUE(player().trial_words().text().contains(QStringLiteral("psi"))) << "after the answer all is told";
}

TEST_F(TeachTest, a_spotlight_can_be_left) {
    open_lesson();
    player().stage().draw_spotlight();
    ASSERT_TRUE(player().stage().spotlighting());
    player().stage().setFocus();
    QTest::keyClick(&player().stage(), Qt::Key_Escape);
    EXPECT_FALSE(player().stage().spotlighting());
    player().stage().draw_spotlight();
    ASSERT_TRUE(player().stage().spotlighting());
    player().next();
    EXPECT_FALSE(player().stage().spotlighting()) << "not in the next step";
}

TEST_F(TeachTest, what_is_typed_is_saved_with_the_study) {
    open_lesson();
    view().text().setPlainText(QStringLiteral("Typed just now"));
    const QString path = folder.filePath(QStringLiteral("saved.wallfoot"));
    ASSERT_TRUE(window->save_to(path));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_TRUE(file.readAll().contains("Typed just now"));
}

TEST_F(TeachTest, a_lesson_fills_the_screen_and_comes_back) {
    open_lesson();
    player().present();
    EXPECT_TRUE(player().presenting());
    EXPECT_TRUE(player().isWindow());
    QTest::keyClick(&player(), Qt::Key_Space);
    EXPECT_EQ(player().step(), 1u);
    QTest::keyClick(&player(), Qt::Key_Escape);
    EXPECT_FALSE(player().presenting());
    EXPECT_EQ(player().window(), window.get());
    player().present();  // the window goes while it fills the screen
    window.reset();
}

TEST_F(TeachTest, a_lesson_that_cannot_be_read_is_not_written_over) {
    open_small();
    Study study = *window->document().study();
    study.kept["lessons"] = R"([ { "steps": [ { "layer": "colours" } ] } ])";
    window->document().change(QStringLiteral("x"), study, 0);
    window->action(QStringLiteral("view.teach"))->trigger();
    EXPECT_FALSE(view().button(QStringLiteral("add-step")).isEnabled());
    view().button(QStringLiteral("add-lesson")).click();
    view().flush();
    EXPECT_EQ(window->document().study()->kept.at("lessons"), study.kept["lessons"]);
}

TEST_F(TeachTest, a_line_across_the_section_names_its_layers) {
    open_lesson();
    player().go_to(1);
    settle();
    player().stage().lay_line({-100, 600}, {300, 600});
    const LineProfile& profile = player().stage().profile();
    ASSERT_EQ(profile.layers.size(), 4u);
    EXPECT_EQ(profile.layers[1].name, "Leaf");
    EXPECT_EQ(profile.layers[2].name, "Outer insulation");
}

/// Pixels of the picture that are near a colour.
int near(const QImage& image, QRgb colour, int distance) {
    int count = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x) {
            const QRgb at = image.pixel(x, y);
            count += std::abs(qRed(at) - qRed(colour)) + std::abs(qGreen(at) - qGreen(colour)) + std::abs(qBlue(at) - qBlue(colour)) <= distance;
        }
    return count;
}

TEST_F(TeachTest, pictures_show_what_they_say) {
    open_lesson();
    const auto study = window->document().study();
    const auto findings = view().findings()[0];
    const LessonPicture picture{study, findings, LessonLayer::temperature, range_of(*findings), {}, false};
    LessonStep step = of_study()[0].steps[1];
    const QSize size(600, 500);
    const QImage image = QImage::fromData(lesson_png(step, picture, size), "PNG");
    ASSERT_EQ(image.size(), size);
    // The slab's surface is warm, the insulation's outer face cold: the colours of the map at these places.
    const View shown = lesson_view(step, *findings->section, size);
    const auto expected = [&](double x, double y) {
        const double t = *findings->solution->temperature_at(x * 1000, y * 1000, findings->temperatures);
        return temperature_colour((t - picture.range.low) / (picture.range.high - picture.range.low)).rgb();
    };
    for (const QPointF place : {QPointF(-900, -75), QPointF(150, 900), QPointF(50, 700)}) {
        const QPoint at = shown.to_pixels(place.x(), place.y()).toPoint();
        const QImage around = image.copy(at.x() - 2, at.y() - 2, 5, 5);
        EXPECT_GT(near(around, expected(place.x(), place.y()), 24), 10) << place.x() << "," << place.y();
    }
    // In the dark of a spotlight the same place is lighter.
    LessonPicture lit = picture;
    lit.spotlight = Rect{-100 * mm, -100 * mm, 100 * mm, 100 * mm};
    const QImage dimmed = QImage::fromData(lesson_png(step, lit, size), "PNG");
    const QPoint dark = shown.to_pixels(150, 900).toPoint();
    EXPECT_GT(qGray(dimmed.pixel(dark)), qGray(image.pixel(dark)) + 30);
    step.layer = LessonLayer::flow;
    LessonPicture flow = picture;
    flow.layer = LessonLayer::flow;
    const QByteArray svg = lesson_svg(step, flow, size);
    EXPECT_GT(svg.count("<animate "), 20) << "tracers move by themselves";
}

// Twenty times the heat beside it: its own share would make more lines than are drawn, so that the stated one would not hold there.
TEST_F(TeachTest, a_line_of_tracers_carries_the_same_on_both_sides) {
    open_lesson();
    const auto weak = view().findings()[0];
    const auto strong = std::make_shared<Findings>(*weak);
    for (double& temperature : strong->temperatures) temperature *= 20;
    ASSERT_GT(tracer_share(*strong), 10 * tracer_share(*weak));
    EXPECT_EQ(tracer_share(*weak, strong.get()), tracer_share(*strong));
    LessonStep step;
    step.layer = LessonLayer::flow;
    const LessonPicture one{window->document().study(), weak, LessonLayer::flow, range_of(*weak), {}, false};
    LessonPicture other = one;
    other.findings = strong;
    LessonStage stage;
    stage.resize(400, 300);
    for (const bool swapped : {false, true}) {
        stage.begin(step, swapped ? other : one, swapped ? one : other);
        ASSERT_TRUE(QTest::qWaitFor([&] { return stage.painted(); }, 30'000));
        EXPECT_EQ(stage.share(), tracer_share(*strong)) << swapped;
    }
    // A slider lets that much more flow in a step that began with the weak one alone.
    stage.begin(step, one);
    stage.replace(other);
    ASSERT_TRUE(QTest::qWaitFor([&] { return stage.painted(); }, 30'000));
    EXPECT_GT(stage.share(), tracer_share(*weak));
}

TEST_F(TeachTest, the_command_hands_out_pages_and_worksheets) {
    const QString sample = QString::fromStdString(in_tree("samples/slab-insulation-above.wallfoot"));
    const QString pdf = folder.filePath(QStringLiteral("w.pdf"));
    ASSERT_EQ(lesson_command({sample, QStringLiteral("--out"), pdf, QStringLiteral("--paper"), QStringLiteral("A3")}), 0);
    QProcess reader;
    reader.start(QStringLiteral("pdftotext"), {QStringLiteral("-layout"), pdf, QStringLiteral("-")});
    ASSERT_TRUE(reader.waitForFinished());
    const QString text = QString::fromUtf8(reader.readAllStandardOutput());
    for (const char* part : {"Draw the isotherms", "Answer: isotherms every", "Scale 1 : ", "Degree-hours", "Tally sheet", "No names"}) EXPECT_TRUE(text.contains(QLatin1String(part))) << part;
    reader.start(QStringLiteral("pdfinfo"), {pdf});
    ASSERT_TRUE(reader.waitForFinished());
    EXPECT_TRUE(reader.readAllStandardOutput().contains("A3"));
    for (const QStringList& words : {QStringList{sample, QStringLiteral("--out"), folder.filePath(QStringLiteral("x.doc"))}, QStringList{sample, QStringLiteral("--out"), pdf, QStringLiteral("--lesson"), QStringLiteral("9")}, QStringList{sample, QStringLiteral("--lesson"), QStringLiteral("0"), QStringLiteral("--out"), pdf}, QStringList{}, QStringList{sample, QStringLiteral("--out"), folder.filePath(QStringLiteral("x.png")), QStringLiteral("--step"), QStringLiteral("0")}})
        EXPECT_EQ(lesson_command(words), 2) << words.join(QLatin1Char(' ')).toStdString();
    EXPECT_EQ(lesson_command({QString::fromStdString(in_tree("samples/plain-wall.wallfoot")), QStringLiteral("--out"), pdf}), 2) << "no lesson there";
}

}  // namespace
}  // namespace wallfoot
