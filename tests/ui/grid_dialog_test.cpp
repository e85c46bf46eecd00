// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/grid_dialog.hpp"

#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTimer>

#include "tests/ui/window_fixture.hpp"
#include "ui/panels/equal_dialog.hpp"
#include "ui/panels/parameter_choice.hpp"

#include <QComboBox>
#include <QPlainTextEdit>

using namespace wallfoot;

namespace {

void tick_in(QListWidget& list, const char* text, bool on = true) {
    const auto found = list.findItems(QString::fromUtf8(text), Qt::MatchExactly);
    ASSERT_EQ(found.size(), 1) << text;
    found.front()->setCheckState(on ? Qt::Checked : Qt::Unchecked);
}

bool settled(GridDialog& dialog) {
    return QTest::qWaitFor([&] { return !dialog.busy(); }, 30'000);
}

}  // namespace

TEST_F(WindowTest, a_grid_of_variants_is_counted_before_it_is_made_and_undone_at_once) {
    open_small();
    const auto before = window->document().study();
    QString told;
    QTimer::singleShot(0, window.get(), [&] {
        auto* dialog = window->findChild<GridDialog*>();
        ASSERT_NE(dialog, nullptr);
        EXPECT_TRUE(settled(*dialog));
        EXPECT_FALSE(dialog->ok().isEnabled()) << "nothing is chosen yet";
        tick_in(dialog->pieces(), "Foot block");
        tick_in(dialog->blocks(), "Light block");
        tick_in(dialog->blocks(), "Dense block");
        tick_in(dialog->conditions(), "dry");
        tick_in(dialog->conditions(), "below DPC");
        dialog->courses().setText(QStringLiteral("0 1 2"));
        EXPECT_TRUE(settled(*dialog));
        told = dialog->told().text();
        EXPECT_EQ(dialog->names().count(), 10) << told.toStdString();
        EXPECT_TRUE(dialog->ok().isEnabled());
        dialog->accept();
    });
    window->action(QStringLiteral("variant.grid"))->trigger();
    // 2 blocks × 3 numbers of courses × 2 conditions; no course is the same with either block.
    EXPECT_TRUE(told.startsWith(QStringLiteral("10 variant"))) << told.toStdString();
    EXPECT_TRUE(told.contains(QStringLiteral("Of 12 combinations 2"))) << told.toStdString();
    ASSERT_EQ(window->document().study()->variants.size(), 11u);
    EXPECT_EQ(window->document().active(), 1u);
    wait_for_rest();
    EXPECT_FALSE(std::isnan(psi()));
    window->document().undo_stack().undo();
    EXPECT_EQ(window->document().study(), before);
}

TEST_F(WindowTest, a_grid_says_why_it_cannot_be_made) {
    open_small();
    GridDialog dialog(window->document().study(), 0, QStringLiteral("foot"));
    tick_in(dialog.blocks(), "Light block");
    dialog.courses().setText(QStringLiteral("9"));
    EXPECT_TRUE(settled(dialog));
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("3 courses, not 9"))) << dialog.told().text().toStdString();
    dialog.courses().setText(QStringLiteral("one"));
    EXPECT_TRUE(settled(dialog));
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("\"one\""))) << dialog.told().text().toStdString();
    EXPECT_EQ(dialog.grid(), nullptr);
    dialog.courses().clear();
    EXPECT_TRUE(settled(dialog));
    ASSERT_NE(dialog.grid(), nullptr);
    EXPECT_EQ(dialog.grid()->made, (std::vector<std::string>{"Base, Light block"}));
}

TEST_F(WindowTest, an_equal_partner_is_found_with_what_heat_does_not_decide_beside_it) {
    open_small();
    window->action(QStringLiteral("variant.duplicate"))->trigger();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    ASSERT_EQ(window->document().active(), 1u);
    window->action(QStringLiteral("variant.equal"))->trigger();
    auto* dialog = window->findChild<EqualDialog*>();
    ASSERT_NE(dialog, nullptr);
    dialog->choice().from().setText(QStringLiteral("0.2"));
    dialog->choice().to().setText(QStringLiteral("3"));
    dialog->choice().steps().setText(QStringLiteral("6"));
    dialog->start().click();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 60'000));
    const QString text = dialog->answer().toPlainText();
    // A copy is as good as its original where the foot conducts as the one declared, in the condition below the damp course.
    EXPECT_TRUE(text.contains(QStringLiteral("equal at about"))) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("Another conductivity is another block"))) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("Dense block: strength not declared"))) << text.toStdString();
}

// How many courses: a copy whose foot is of the light block is as good as that when its courses become light blocks.
TEST_F(WindowTest, an_equal_partner_in_whole_courses_says_how_many) {
    open_small();
    window->action(QStringLiteral("variant.duplicate"))->trigger();
    ASSERT_EQ(window->document().active(), 1u);
    window->action(QStringLiteral("variant.equal"))->trigger();
    auto* dialog = window->findChild<EqualDialog*>();
    ASSERT_NE(dialog, nullptr);
    dialog->way().setCurrentIndex(1);
    EXPECT_FALSE(dialog->choice().isVisible());
    ASSERT_GE(dialog->leaves().count(), 2);
    dialog->block().setCurrentIndex(dialog->block().findData(QStringLiteral("light")));
    dialog->start().click();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 60'000));
    const QString text = dialog->answer().toPlainText();
    EXPECT_TRUE(text.contains(QStringLiteral("as good as it stands"))) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("course"))) << text.toStdString();
    for (int i = 0; i < dialog->leaves().count(); ++i) dialog->leaves().item(i)->setCheckState(Qt::Unchecked);
    EXPECT_FALSE(dialog->start().isEnabled()) << "without a leaf nothing can be asked";
}
