// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QLineEdit>
#include <QTimer>
#include <algorithm>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/stretch_dialog.hpp"

using namespace wallfoot;

TEST_F(WindowTest, a_section_is_stretched_through_the_picked_piece) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("outer")});
    QTimer::singleShot(0, [] {
        auto* dialog = qobject_cast<StretchDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        EXPECT_EQ(*dialog->at(), 150 * um_per_mm) << "the middle of the picked piece is offered";
        auto* by = dialog->findChildren<QLineEdit*>()[1];
        by->selectAll();
        QTest::keyClicks(by, QStringLiteral("50"));
        QTest::keyClick(by, Qt::Key_Return);
    });
    const double before = psi();
    window->action(QStringLiteral("edit.stretch"))->trigger();
    const Piece& outer = *find_piece(window->document().section(), "outer");
    EXPECT_EQ(std::max_element(outer.outline.begin(), outer.outline.end())->x, 250 * um_per_mm);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Stretch"));
    wait_for_rest();
    EXPECT_NE(psi(), before);
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(psi(), before);
}

TEST_F(WindowTest, a_piece_is_duplicated_and_the_section_mirrored) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    window->action(QStringLiteral("edit.duplicate"))->trigger();
    EXPECT_EQ(window->document().section().pieces.size(), 6u);
    EXPECT_NE(window->sheet().picked().id, QStringLiteral("foot")) << "the copy is picked, to be moved on";
    window->action(QStringLiteral("edit.undo"))->trigger();
    wait_for_rest();
    const double before = psi();
    window->action(QStringLiteral("edit.mirror"))->trigger();
    wait_for_rest();
    EXPECT_NEAR(psi(), before, 1e-4);
}
