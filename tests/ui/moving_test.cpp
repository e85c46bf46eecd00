// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAction>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/contents_panel.hpp"

using namespace wallfoot;

namespace {

Outline moved(Outline outline, Micrometres dx, Micrometres dy) {
    for (Point& p : outline) p = {p.x + dx, p.y + dy};
    return outline;
}

class MovingTest : public WindowTest {
  protected:
    Outline outline(const char* id) const { return find_piece(window->document().section(), id)->outline; }
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = {}) { QTest::keyClick(QApplication::focusWidget(), key, modifiers); }
    void pick(const char* id) {
        window->sheet().set_picked({PickedKind::piece, QString::fromLatin1(id)});
        window->sheet().setFocus();
    }
};

}  // namespace

TEST_F(MovingTest, arrows_move_the_picked_piece_and_nothing_else) {
    open_small();
    const Section before = window->document().section();
    pick("outer");
    const Outline at = outline("outer");
    key(Qt::Key_Right);
    EXPECT_EQ(outline("outer"), moved(at, 1'000, 0));
    key(Qt::Key_Left, Qt::ShiftModifier);
    EXPECT_EQ(outline("outer"), moved(at, -9'000, 0));
    key(Qt::Key_Up);
    key(Qt::Key_Down, Qt::ShiftModifier);
    EXPECT_EQ(outline("outer"), moved(at, -9'000, -9'000));
    EXPECT_EQ(outline("leaf"), find_piece(before, "leaf")->outline);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Move piece"));
    for (int i = 0; i < 4; ++i) window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(window->document().section(), before);
}

TEST_F(MovingTest, arrows_move_the_sheet_when_nothing_is_picked_and_belong_to_the_list_when_it_has_the_focus) {
    open_small();
    const Section before = window->document().section();
    window->sheet().set_picked({});
    window->sheet().setFocus();
    const QPointF centre = window->sheet().view().centre_mm;
    key(Qt::Key_Right);
    EXPECT_GT(window->sheet().view().centre_mm.x(), centre.x());
    EXPECT_EQ(window->sheet().view().centre_mm.y(), centre.y());
    key(Qt::Key_Up, Qt::ShiftModifier);
    EXPECT_GT(window->sheet().view().centre_mm.y(), centre.y());

    pick("leaf");
    window->contents_panel().setFocus();
    key(Qt::Key_Down);
    EXPECT_NE(window->sheet().picked().id, QStringLiteral("leaf")) << "the list goes to its next row";
    EXPECT_EQ(window->document().section(), before);
}

TEST_F(MovingTest, delete_takes_the_picked_piece_out_and_escape_lets_it_go) {
    open_small();
    pick("outer");
    key(Qt::Key_Escape);
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::nothing);
    key(Qt::Key_Delete);
    EXPECT_EQ(window->document().section().pieces.size(), 5u);
    pick("outer");
    key(Qt::Key_Delete);
    EXPECT_EQ(find_piece(window->document().section(), "outer"), nullptr);
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_NE(find_piece(window->document().section(), "outer"), nullptr);
}

TEST_F(MovingTest, escape_goes_one_level_back_while_drawing) {
    open_small();
    window->action(QStringLiteral("draw.rectangle"))->trigger();
    type_on_sheet("-500");
    key(Qt::Key_Escape);
    EXPECT_NE(window->sheet().outline(), nullptr);
    QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, on_sheet(-500, 300));
    ASSERT_TRUE(window->sheet().outline()->drawing());
    key(Qt::Key_Escape);
    ASSERT_NE(window->sheet().outline(), nullptr);
    EXPECT_FALSE(window->sheet().outline()->drawing());
    key(Qt::Key_Escape);
    EXPECT_EQ(window->sheet().outline(), nullptr);
    EXPECT_TRUE(window->action(QStringLiteral("draw.pick"))->isChecked());
    EXPECT_EQ(window->document().section().pieces.size(), 5u);
}

TEST_F(MovingTest, a_double_click_makes_a_corner_on_an_edge_and_takes_one_out) {
    open_small();
    pick("leaf");
    const QPoint edge = on_sheet(100, 700) + QPoint(2, 0);  // over the neighbour, in reach of the edge
    const auto double_click = [&] {
        QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, edge);
        QTest::mouseDClick(&window->sheet(), Qt::LeftButton, {}, edge);
        QTest::mouseRelease(&window->sheet(), Qt::LeftButton, {}, edge);
        EXPECT_EQ(window->sheet().picked().id, QStringLiteral("leaf"));
    };
    double_click();
    ASSERT_EQ(outline("leaf").size(), 5u);
    EXPECT_EQ(outline("outer").size(), 5u) << "the neighbour along that edge has the corner too";
    double_click();
    EXPECT_EQ(outline("leaf").size(), 4u);
    EXPECT_EQ(outline("outer").size(), 4u);
}

TEST_F(MovingTest, a_new_study_has_two_spaces_and_is_answered_once_a_wall_parts_them) {
    window->action(QStringLiteral("file.new"))->trigger();
    ASSERT_TRUE(window->document().has_study());
    EXPECT_TRUE(window->document().is_clean());
    EXPECT_TRUE(window->document().path().isEmpty());
    const Section& section = window->document().section();
    EXPECT_EQ(section.spaces.size(), 2u);
    EXPECT_TRUE(section.pieces.empty());
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->findings() && window->findings()->has_fault(); }, 30'000));
    window->action(QStringLiteral("draw.rectangle"))->trigger();
    for (const auto& [first, second] : {std::pair("0", "-1200"), std::pair("300", "2700")}) {
        type_on_sheet(first);
        key(Qt::Key_Tab);
        QTest::keyClicks(QApplication::focusWidget(), QString::fromLatin1(second));
        key(Qt::Key_Return);
    }
    ASSERT_EQ(window->document().section().pieces.size(), 1u);
    wait_for_rest();
    EXPECT_FALSE(window->findings()->has_fault());
    ASSERT_EQ(window->findings()->couplings.size(), 1u);
    EXPECT_TRUE(window->findings()->couplings.front().value);
}
