// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAction>
#include <QComboBox>
#include <QLineEdit>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/mark_boxes.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/property_box.hpp"
#include "ui/panels/section_box.hpp"
#include "ui/panels/tool_choice.hpp"
#include "ui/sheet/entry_box.hpp"

using namespace wallfoot;

namespace {

/// Membranes, marks, levels and fillings by real mouse and key events, on the small foot of the fixture.
class DrawingTest : public WindowTest {
  protected:
    const Section& section() const { return window->document().section(); }
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = {}) { QTest::keyClick(QApplication::focusWidget(), key, modifiers); }
    void tool(Qt::Key key) {
        window->sheet().setFocus();
        QTest::keyClick(&window->sheet(), key);
    }
    void click(double x, double y, Qt::KeyboardModifiers modifiers = {}) {
        QTest::mouseMove(&window->sheet(), on_sheet(x, y));
        QTest::mouseClick(&window->sheet(), Qt::LeftButton, modifiers, on_sheet(x, y));
    }
    void drag(QPoint from, QPoint to) {
        Sheet& sheet = window->sheet();
        QTest::mouseMove(&sheet, from);
        QTest::mousePress(&sheet, Qt::LeftButton, {}, from);
        QTest::mouseMove(&sheet, (from + to) / 2);
        QTest::mouseMove(&sheet, to);
        QTest::mouseRelease(&sheet, Qt::LeftButton, {}, to);
    }
    /// Types over a field of the properties and leaves it.
    void type_into(QLineEdit* field, const char* text) {
        field->setFocus();
        field->selectAll();
        if (*text) QTest::keyClicks(field, QString::fromLatin1(text));
        else QTest::keyClick(field, Qt::Key_Delete);
        QTest::keyClick(field, Qt::Key_Return);
    }
    void choose(QComboBox* list, const QString& text) {
        const int index = list->findText(text, Qt::MatchStartsWith);
        ASSERT_GE(index, 0) << text.toStdString();
        list->setCurrentIndex(index);
    }
    void undo() { window->action(QStringLiteral("edit.undo"))->trigger(); }
};

}  // namespace

TEST_F(DrawingTest, a_membrane_follows_the_edges_between_two_clicks_and_is_cut_into_the_pieces) {
    open_small();
    const Section before = section();
    tool(Qt::Key_M);
    choose(window->tool_choice().membrane(), QStringLiteral("floor membrane"));
    click(-1200, -150);
    click(0, 60);  // up the foot block, beyond the slab's corner
    ASSERT_NE(window->sheet().outline(), nullptr);
    EXPECT_EQ(window->sheet().outline()->corners(), (Path{{-1200 * mm, -150 * mm}, {0, -150 * mm}, {0, 60 * mm}}));
    click(100, 60);
    key(Qt::Key_Backspace);
    EXPECT_EQ(window->sheet().outline()->corners().size(), 3u);
    undo();  // the last click with the corner that led to it
    EXPECT_EQ(window->sheet().outline()->corners().size(), 1u);
    click(0, 60);
    click(100, 60);
    key(Qt::Key_Return);
    EXPECT_EQ(window->sheet().outline(), nullptr);
    ASSERT_EQ(section().membranes.size(), 2u);
    const Membrane& drawn = section().membranes[1];
    EXPECT_EQ(drawn.kind, MembraneKind::dpm);
    EXPECT_EQ(drawn.path, (Path{{-1200 * mm, -150 * mm}, {0, -150 * mm}, {0, 60 * mm}, {100 * mm, 60 * mm}}));
    EXPECT_EQ(find_piece(section(), "foot")->outline.size(), find_piece(before, "foot")->outline.size() + 3) << "corners at (0, -150), (0, 60) and (100, 60)";
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::membrane);
    undo();
    EXPECT_EQ(section(), before);
}

TEST_F(DrawingTest, a_membrane_goes_straight_where_no_edges_lead_and_where_ctrl_is_held) {
    open_small();
    tool(Qt::Key_M);
    click(-1200, -150);
    click(0, 60, Qt::ControlModifier);
    ASSERT_EQ(window->sheet().outline()->corners().size(), 2u);
    key(Qt::Key_Escape);
    EXPECT_FALSE(window->sheet().outline()->drawing()) << "Esc drops the line";
    click(0, -400);
    click(100, 200);  // around the foot block either way is equally long
    EXPECT_EQ(window->sheet().outline()->corners().size(), 2u);
    key(Qt::Key_Escape);
    key(Qt::Key_Escape);
    EXPECT_EQ(section().membranes.size(), 1u);
}

TEST_F(DrawingTest, a_membrane_is_drawn_by_typed_lengths) {
    open_small();
    tool(Qt::Key_M);
    type_on_sheet("100");
    key(Qt::Key_Tab);
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("225"));
    key(Qt::Key_Return);
    type_on_sheet("125");
    key(Qt::Key_Tab);
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("-90"));
    key(Qt::Key_Return);
    window->sheet().setFocus();
    key(Qt::Key_Return);
    ASSERT_EQ(section().membranes.size(), 2u);
    EXPECT_EQ(section().membranes[1].path, (Path{{100 * mm, 225 * mm}, {100 * mm, 100 * mm}}));
}

TEST_F(DrawingTest, a_picked_membrane_moves_by_its_corner_and_leaves_the_pieces) {
    open_small();
    const Section before = section();
    click(50, 0);
    ASSERT_EQ(window->sheet().picked().kind, PickedKind::membrane);
    drag(on_sheet(100, 0), on_sheet(100, 100));
    EXPECT_EQ(section().membranes[0].path, (Path{{0, 0}, {100 * mm, 100 * mm}}));
    EXPECT_EQ(find_piece(section(), "slab")->outline, find_piece(before, "slab")->outline);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Move corner of the membrane"));
    undo();
    EXPECT_EQ(section(), before);

    choose(window->piece_panel().membrane().kind(), QStringLiteral("gas membrane"));
    EXPECT_EQ(section().membranes[0].kind, MembraneKind::gas);
    choose(window->piece_panel().membrane().laps(), QStringLiteral("sealed"));
    EXPECT_EQ(section().membranes[0].sealed_laps, true);
    window->piece_panel().membrane().corners()->item(1, 1)->setText(QStringLiteral("75"));
    EXPECT_EQ(section().membranes[0].path[1], (Point{100 * mm, 75 * mm}));
    window->sheet().setFocus();
    key(Qt::Key_Delete);
    EXPECT_TRUE(section().membranes.empty());
}

TEST_F(DrawingTest, marks_are_set_dragged_and_deleted) {
    open_small();
    const Section before = section();
    tool(Qt::Key_A);
    choose(window->tool_choice().space(), QStringLiteral("new space: unheated"));
    click(-600, -600);
    EXPECT_EQ(section().spaces.size(), 2u) << "the temperature is still asked for";
    ASSERT_TRUE(window->sheet().entry_box()->isVisible());
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("7,5"));
    key(Qt::Key_Return);
    ASSERT_EQ(section().spaces.size(), 3u);
    EXPECT_EQ(section().spaces[2].kind, SpaceKind::unheated);
    EXPECT_EQ(section().spaces[2].temperature, 7.5);
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::space);
    const Point at = section().spaces[2].at.front();
    EXPECT_NEAR(to_mm(at.x), -600, 10);
    EXPECT_EQ(at.x % 1000, 0) << "on the grid";

    drag(on_sheet(to_mm(at.x), to_mm(at.y)), on_sheet(-400, -700));
    EXPECT_NEAR(to_mm(section().spaces[2].at.front().x), -400, 10);
    EXPECT_NEAR(to_mm(section().spaces[2].at.front().y), -700, 10);
    type_into(window->piece_panel().space().temperature(), "4");
    EXPECT_EQ(section().spaces[2].temperature, 4);
    choose(window->piece_panel().space().kind(), QStringLiteral("outside"));
    EXPECT_EQ(section().spaces[2].kind, SpaceKind::outside);
    window->sheet().setFocus();
    key(Qt::Key_Delete);
    EXPECT_EQ(section(), before);

    // One more mark of a space that is there.
    tool(Qt::Key_A);
    choose(window->tool_choice().space(), QStringLiteral("outside"));
    type_on_sheet("500");
    key(Qt::Key_Tab);
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("-500"));
    key(Qt::Key_Return);
    ASSERT_EQ(section().spaces[1].at.size(), 2u);
    EXPECT_EQ(section().spaces[1].at[1], (Point{500 * mm, -500 * mm}));
    window->sheet().setFocus();
    key(Qt::Key_Delete);
    EXPECT_EQ(section().spaces[1].at, before.spaces[1].at) << "only the mark that was picked";
}

TEST_F(DrawingTest, levels_are_typed_clicked_dragged_and_removed) {
    open_small();
    const Section before = section();
    tool(Qt::Key_E);
    choose(window->tool_choice().level(), QStringLiteral("damp-proof course level"));
    type_on_sheet("-75");
    key(Qt::Key_Return);
    EXPECT_EQ(section().dpc.both, -75 * mm);
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::level);
    tool(Qt::Key_E);
    choose(window->tool_choice().level(), QStringLiteral("damp-proof course level, right"));
    click(100, 200);  // the corner of the leaf holds it
    EXPECT_EQ(section().dpc.left, -75 * mm);
    EXPECT_EQ(section().dpc.right, 200 * mm);

    const double edge = to_mm(section().cut.right);
    drag(on_sheet(edge, 200) - QPoint(10, 3), on_sheet(edge, 400) - QPoint(10, 3));
    EXPECT_NEAR(to_mm(*section().dpc.right), 400, 10);
    EXPECT_EQ(section().dpc.left, -75 * mm);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Move level"));
    type_into(window->piece_panel().level().right(), "150");
    EXPECT_EQ(section().dpc.right, 150 * mm);
    window->sheet().setFocus();
    key(Qt::Key_Delete);
    EXPECT_FALSE(section().dpc.right);
    window->sheet().set_picked({PickedKind::level, text_of({LevelKind::dpc, Side::left})});
    type_into(window->piece_panel().level().left(), "");
    EXPECT_EQ(section(), before);
}

TEST_F(DrawingTest, a_piece_becomes_air_or_a_cutout_and_a_material_again) {
    open_small();
    const Section before = section();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("outer")});
    choose(window->piece_panel().material(), QStringLiteral("air of outside"));
    EXPECT_EQ(find_piece(section(), "outer")->fill, Fill::space);
    EXPECT_EQ(find_piece(section(), "outer")->filled_with, "out");
    choose(window->piece_panel().material(), QStringLiteral("cutout"));
    EXPECT_EQ(find_piece(section(), "outer")->fill, Fill::cutout);
    EXPECT_EQ(window->piece_panel().material()->currentText().left(6), QStringLiteral("cutout"));
    choose(window->piece_panel().material(), QStringLiteral("Insulation board"));
    EXPECT_EQ(section(), before);
}

TEST_F(DrawingTest, the_cut_and_what_lies_beyond_are_typed) {
    open_small();
    window->sheet().set_picked({});
    SectionBox& box = window->piece_panel().section();
    ASSERT_TRUE(box.isVisible());
    type_into(box.cut(CutSide::left), "-1.5 m");
    EXPECT_EQ(section().cut.left, -1500 * mm);
    type_into(box.cut(CutSide::top), "-2000");
    EXPECT_EQ(section().cut.top, 1200 * mm) << "an empty cut is refused";
    EXPECT_EQ(box.cut(CutSide::top)->text(), QStringLiteral("1200"));
    type_into(box.beyond(CutSide::left)->lineEdit(), "4000");
    EXPECT_EQ(section().beyond.at(CutSide::left).distance, 4000 * mm);
    box.beyond(CutSide::bottom)->setFocus();
    QTest::keyClick(box.beyond(CutSide::bottom), Qt::Key_Down);
    QTest::keyClick(box.beyond(CutSide::bottom)->lineEdit(), Qt::Key_Return);
    EXPECT_TRUE(section().beyond.at(CutSide::bottom).automatic);
    type_into(box.beyond(CutSide::left)->lineEdit(), "");
    EXPECT_FALSE(section().beyond.contains(CutSide::left));
}

TEST_F(DrawingTest, an_open_region_is_filled_by_one_click) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("leaf")});
    const Outline leaf = find_piece(section(), "leaf")->outline;
    key(Qt::Key_Delete);
    window->sheet().setFocus();
    tool(Qt::Key_G);
    choose(window->tool_choice().material(), QStringLiteral("Light block"));
    click(-600, 500);
    EXPECT_EQ(section().pieces.size(), 4u) << "the air of the inside is not filled";
    // Without the leaf the gap is part of the inside; a lining closes it off.
    key(Qt::Key_Escape);
    tool(Qt::Key_R);
    click(-200, 200);
    click(0, 1200);
    ASSERT_EQ(section().pieces.size(), 5u);
    tool(Qt::Key_G);
    click(50, 700);
    ASSERT_EQ(section().pieces.size(), 6u);
    const Piece& filled = section().pieces.back();
    EXPECT_EQ(filled.filled_with, "light");
    for (const Point corner : leaf) EXPECT_NE(std::find(filled.outline.begin(), filled.outline.end(), corner), filled.outline.end());
}

TEST_F(DrawingTest, neither_a_hint_nor_a_reason_makes_the_window_wider) {
    open_small();
    const QString longest(90, QLatin1Char('m'));
    emit window->sheet().told(longest + QLatin1Char(' ') + longest);
    QTest::qWait(20);
    EXPECT_LT(window->minimumSizeHint().width(), 850);
    // One wall between two spaces and no floor: the strip says why there is no psi.
    window->action(QStringLiteral("file.new"))->trigger();
    tool(Qt::Key_R);
    click(0, -1200);
    click(300, 1500);
    ASSERT_EQ(section().pieces.size(), 1u);
    wait_for_rest();
    EXPECT_LT(window->minimumSizeHint().width(), 850) << "fits a screen of 1280 pixels at scale 1.5";
}
