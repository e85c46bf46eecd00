// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAbstractButton>
#include <QAction>
#include <QApplication>
#include <QCheckBox>
#include <QContextMenuEvent>
#include <QHelpEvent>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QTimer>
#include <QToolButton>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/describe_dialog.hpp"
#include "ui/panels/errors_dialog.hpp"
#include "ui/panels/grid_dialog.hpp"
#include "ui/panels/variants_strip.hpp"
#include "ui/sheet/sheet.hpp"

using namespace wallfoot;

namespace {

class WindowVariants : public WindowTest {
  protected:
    /// Base, one with a wet foot block, one of another block.
    void open_three() {
        open_small();
        Study study = *window->document().study();
        const Section& base = *study.variants.front().section;
        std::string block;
        for (const Piece& piece : base.pieces)
            if (piece.name == "Foot block") block = piece.id;
        ASSERT_FALSE(block.empty());
        study = with_section(duplicate_variant(study, 0, "wet"), 1, set_moisture(base, block, Condition::saturated));
        study = with_section(duplicate_variant(study, 1, "lower ground"), 2, set_level(base, LevelKind::ground, {}, -150'000));
        window->document().change(QStringLiteral("three"), study, 0);
        wait_for_rest();
    }
    QStringList names() const {
        QStringList all;
        for (const Variant& variant : window->document().study()->variants) all << QString::fromStdString(variant.name);
        return all;
    }
    QImage picture() const { return window->sheet().grab().toImage(); }
};

TEST_F(WindowVariants, are_moved_and_the_first_is_what_others_are_compared_with) {
    open_three();
    const QString base = names().front();
    window->document().set_active(1);
    window->action(QStringLiteral("variant.later"))->trigger();
    EXPECT_EQ(names(), (QStringList{base, QStringLiteral("lower ground"), QStringLiteral("wet")}));
    EXPECT_EQ(window->document().active(), 2u) << "the one that was moved stays in view";
    window->action(QStringLiteral("variant.later"))->trigger();
    EXPECT_EQ(names().last(), QStringLiteral("wet"));
    window->action(QStringLiteral("variant.earlier"))->trigger();
    window->action(QStringLiteral("variant.earlier"))->trigger();
    EXPECT_EQ(names().front(), QStringLiteral("wet"));
    wait_for_rest();
    EXPECT_FALSE(window->variants_strip().texts().front().contains(QLatin1Char('('))) << "the first has no difference";
    window->document().undo_stack().undo();
    EXPECT_EQ(names(), (QStringList{base, QStringLiteral("wet"), QStringLiteral("lower ground")}));
}

TEST_F(WindowVariants, are_named_and_noted_in_one_dialog) {
    open_three();
    QTimer::singleShot(0, window.get(), [] {
        auto* dialog = qobject_cast<DescribeDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        dialog->findChild<QLineEdit*>()->setText(QStringLiteral("As built"));
        dialog->findChild<QPlainTextEdit*>()->setPlainText(QStringLiteral("Seen on site."));
        dialog->accept();
    });
    window->action(QStringLiteral("variant.rename"))->trigger();
    EXPECT_EQ(window->document().variant().name, "As built");
    EXPECT_EQ(window->document().variant().note, "Seen on site.");
    window->document().undo_stack().undo();
    EXPECT_EQ(window->document().variant().note, "");
}

TEST_F(WindowVariants, say_what_differs_at_their_button_and_on_the_drawing) {
    open_three();
    VariantsStrip& strip = window->variants_strip();
    const QList<QToolButton*> buttons = strip.findChildren<QToolButton*>();
    QToolButton* wet = nullptr;
    for (QToolButton* button : buttons)
        if (button->text().startsWith(QStringLiteral("wet"))) wet = button;
    ASSERT_NE(wet, nullptr);
    QHelpEvent help(QEvent::ToolTip, QPoint(2, 2), wet->mapToGlobal(QPoint(2, 2)));
    QApplication::sendEvent(wet, &help);
    EXPECT_TRUE(wet->toolTip().contains(QStringLiteral("saturated"))) << wet->toolTip().toStdString();

    window->document().set_active(0);
    wait_for_rest();
    const QImage first = picture();
    strip.marks_button().click();
    EXPECT_TRUE(window->action(QStringLiteral("variant.marks"))->isChecked());
    EXPECT_EQ(picture(), first) << "nothing differs from itself";
    window->document().set_active(1);
    wait_for_rest();
    const QImage marked = picture();
    strip.marks_button().click();
    EXPECT_NE(picture(), marked);
}

TEST_F(WindowVariants, a_usual_error_is_found_and_mended_as_one_act) {
    open_small();
    const Study before = *window->document().study();
    std::string block;
    for (const Piece& piece : before.variants.front().section->pieces)
        if (piece.name == "Foot block") block = piece.id;
    window->document().change(QStringLiteral("dry"), with_section(before, 0, set_moisture(*before.variants.front().section, block, Condition::dry)), 0);
    QTimer::singleShot(0, window.get(), [] {
        auto* dialog = qobject_cast<ErrorsDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 60'000));
        ASSERT_GE(dialog->table().rowCount(), 1) << dialog->told().text().toStdString();
        EXPECT_EQ(dialog->table().item(0, 0)->text(), QStringLiteral("in this drawing"));
        EXPECT_TRUE(dialog->mend().isEnabled());
        dialog->mend().click();
    });
    window->action(QStringLiteral("site.errors"))->trigger();
    EXPECT_EQ(*window->document().study()->variants.front().section, set_moisture(*before.variants.front().section, block, {}));
    window->document().undo_stack().undo();
    EXPECT_EQ(window->document().section().pieces.size(), before.variants.front().section->pieces.size());
    wait_for_rest();
}

TEST_F(WindowVariants, pairs_are_begun_from_together) {
    open_three();
    QTimer::singleShot(0, window.get(), [this] {
        auto* dialog = window->findChild<GridDialog*>();
        ASSERT_NE(dialog, nullptr);
        dialog->pairs().setChecked(true);
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 30'000));
        EXPECT_FALSE(dialog->ok().isEnabled()) << "one ticked variant makes no pair";
        for (const char* name : {"wet", "lower ground"}) dialog->variants().findItems(QString::fromUtf8(name), Qt::MatchExactly).front()->setCheckState(Qt::Checked);
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 30'000));
        EXPECT_TRUE(dialog->ok().isEnabled()) << dialog->told().text().toStdString();
        dialog->accept();
    });
    window->action(QStringLiteral("variant.grid"))->trigger();
    EXPECT_EQ(names().last(), QStringLiteral("wet + lower ground"));
    wait_for_rest();
}

}  // namespace
