// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QLineEdit>
#include <QTableWidget>
#include <QTimer>

#include "core/geometry/outline_check.hpp"
#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/layers_dialog.hpp"
#include "ui/panels/tool_choice.hpp"

using namespace wallfoot;

TEST_F(WindowTest, a_build_up_is_typed_and_laid_along_a_drawn_line) {
    open_small();
    QTimer::singleShot(0, [] {
        auto* dialog = qobject_cast<LayersDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        const auto field = [&](int row) { return qobject_cast<QLineEdit*>(dialog->table()->cellWidget(row, 0)); };
        const auto material = [&](int row) { return qobject_cast<QComboBox*>(dialog->table()->cellWidget(row, 1)); };
        QTest::keyClicks(field(0), QStringLiteral("12,5"));
        QTest::keyClick(field(0), Qt::Key_Return);  // on to the next, which is made
        ASSERT_EQ(dialog->table()->rowCount(), 2);
        QTest::keyClicks(field(1), QStringLiteral("5 cm"));
        QTest::keyClick(field(1), Qt::Key_Return);
        QTest::keyClicks(field(2), QStringLiteral("0"));
        QTest::keyClick(field(2), Qt::Key_Return);
        ASSERT_EQ(dialog->table()->rowCount(), 4);
        material(1)->setCurrentIndex(material(1)->findData(QString()));
        material(2)->setCurrentIndex(material(2)->findData(QStringLiteral("board")));
        EXPECT_EQ(dialog->layers()[0].thickness, 12'500);
        EXPECT_EQ(dialog->layers()[1].thickness, 50'000);
        field(2)->setText(QStringLiteral("80"));
        dialog->accept();
    });
    window->action(QStringLiteral("draw.layers"))->trigger();
    ASSERT_EQ(window->sheet().tool(), Tool::layers);
    const auto before = window->document().section().pieces.size();
    // Up the outer face, the layers to the right of the line.
    QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, on_sheet(200, -400));
    QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, on_sheet(200, 1200));
    QTest::keyClick(&window->sheet(), Qt::Key_Return);
    const Section& section = window->document().section();
    ASSERT_EQ(section.pieces.size(), before + 2) << "the open layer makes no piece";
    EXPECT_EQ(section.pieces[before + 1].filled_with, "board");
    for (const Point p : section.pieces[before + 1].outline) EXPECT_TRUE(p.x == 262'500 || p.x == 342'500) << p.x;
    EXPECT_EQ(area2(section.pieces[before].outline), Area2(2) * 12'500 * 1'600'000);
    EXPECT_EQ(window->sheet().tool(), Tool::pick);
    EXPECT_EQ(window->sheet().picked().id.toStdString(), section.pieces[before].id);
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(window->document().section().pieces.size(), before) << "one act";
}
