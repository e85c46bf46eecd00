// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPushButton>
#include <QTableWidget>

#include "tests/ui/edits_fixture.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/piece_panel.hpp"

using namespace wallfoot;

namespace {

class WindowHoles : public WindowEdits {
  protected:
    void open_with_two() {
        open_small();
        for (const Micrometres left : {-900 * mm, -500 * mm})
            window->document().edit(QStringLiteral("x"), [=](const Section& s) { return add_hole(s, "slab", rectangle_outline({left, -120 * mm}, {left + 200 * mm, -40 * mm})); });
        ASSERT_EQ(piece("slab").holes.size(), 2u);
        window->sheet().set_picked({});
        told.clear();
        QObject::connect(&window->sheet(), &Sheet::told, window.get(), [this](const QString& text) { told << text; });
    }
    int steps() { return window->document().undo_stack().index(); }
    std::optional<std::size_t> picked_hole() const { return window->sheet().picked().hole; }
    QStringList told;
};

}  // namespace

TEST_F(WindowHoles, a_click_into_a_hole_picks_it_and_del_fills_that_one_alone) {
    open_with_two();
    const Section before = section();
    const int steps_before = steps();
    click(-400, -80);
    ASSERT_EQ(picked_hole(), 1u);
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("slab"));
    EXPECT_TRUE(told.last().contains(QStringLiteral("Del fills it"))) << told.last().toStdString();
    trigger("edit.delete");
    ASSERT_EQ(piece("slab").holes.size(), 1u);
    EXPECT_EQ(piece("slab").holes[0], before.pieces[1].holes[0]) << "the other one stays";
    EXPECT_EQ(steps(), steps_before + 1);
    EXPECT_EQ(picked_hole(), std::nullopt);
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("slab")) << "the piece is picked then";
    EXPECT_TRUE(told.last().contains(QStringLiteral("filled"))) << told.last().toStdString();
    trigger("edit.undo");
    EXPECT_EQ(section(), before) << "one step takes it back";
    EXPECT_EQ(picked_hole(), std::nullopt);
    trigger("edit.delete");
    EXPECT_EQ(find_piece(section(), "slab"), nullptr) << "with no hole picked, Del means the piece";
}

TEST_F(WindowHoles, its_edge_picks_it_and_the_outline_gives_the_piece_back) {
    open_with_two();
    pick("slab");
    click(-800, -40);
    EXPECT_EQ(picked_hole(), 0u);
    click(-700, 0);
    EXPECT_EQ(picked_hole(), std::nullopt);
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("slab"));
    click(-800, -40);
    EXPECT_EQ(picked_hole(), 0u);
    QTest::keyClick(&window->sheet(), Qt::Key_Escape);
    EXPECT_EQ(window->sheet().picked(), Picked{});
    // What is seen through a hole is picked before it.
    click(-800, -80);
    trigger("move.up_far");
    EXPECT_EQ(piece("slab").holes[0].front().y - mm * 10, piece("slab").holes[1].front().y) << "arrows move the hole alone";
    EXPECT_EQ(piece("slab").outline.front().y, -150 * mm);
    pick("under");
    for (int i = 0; i < 8; ++i) trigger("move.up_far");
    window->sheet().set_picked({});
    click(-400, -95);
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("under"));
    click(-400, -95);
    EXPECT_EQ(picked_hole(), 1u) << "and again for what lies around it";
}

TEST_F(WindowHoles, the_command_and_the_panel_fill_it_and_say_when_there_is_none) {
    open_with_two();
    const Section before = section();
    window->sheet().setFocus();
    trigger("change.fill_hole");
    EXPECT_TRUE(told.last().startsWith(QStringLiteral("Pick a piece with a hole"))) << told.last().toStdString();
    pick("foot");
    trigger("change.fill_hole");
    EXPECT_EQ(told.last(), QStringLiteral("\"Foot block\" has no hole."));
    EXPECT_FALSE(window->piece_panel().fill_hole()->isVisible());
    pick("slab");
    trigger("change.fill_hole");
    EXPECT_TRUE(told.last().contains(QStringLiteral("has 2 holes"))) << told.last().toStdString();
    EXPECT_EQ(section(), before);
    EXPECT_TRUE(window->piece_panel().fill_hole()->isVisible());
    EXPECT_FALSE(window->piece_panel().fill_hole()->isEnabled());
    // A hole stands in the contents too, for those without a mouse.
    const auto rows = window->contents_panel().findItems(QStringLiteral("Hole in Slab"), Qt::MatchExactly | Qt::MatchRecursive);
    ASSERT_EQ(rows.size(), 2);
    EXPECT_EQ(rows[0]->text(1), QStringLiteral("200 × 80 mm"));
    window->contents_panel().setCurrentItem(rows[1]);
    ASSERT_EQ(picked_hole(), 1u);
    EXPECT_EQ(window->piece_panel().corners()->item(0, 0)->text(), QString::number(to_mm(before.pieces[1].holes[1][0].x))) << "its corners stand in the table";
    window->piece_panel().corners()->item(0, 1)->setText(QStringLiteral("-130"));
    EXPECT_EQ(piece("slab").holes[1][0].y, -130 * mm);
    trigger("edit.undo");
    QTest::mouseClick(window->piece_panel().fill_hole(), Qt::LeftButton);
    ASSERT_EQ(piece("slab").holes.size(), 1u);
    EXPECT_EQ(piece("slab").holes[0], before.pieces[1].holes[0]);
    QTest::keyClick(&window->sheet(), Qt::Key_H, Qt::ShiftModifier);
    EXPECT_TRUE(piece("slab").holes.empty()) << "the only one need not be picked";
    EXPECT_FALSE(window->piece_panel().fill_hole()->isVisible());
}

TEST_F(WindowHoles, in_all_variants_the_same_hole_is_meant_whatever_its_place_in_the_list) {
    open_with_two();
    trigger("variant.duplicate");
    window->document().edit(QStringLiteral("x"), [](Section s) {
        std::swap(s.pieces[1].holes[0], s.pieces[1].holes[1]);
        return s;
    });
    trigger("edit.all_variants");
    const Outline first = piece("slab").holes[0], second = piece("slab").holes[1];
    const auto other = [&] { return find_piece(*window->document().study()->variants[0].section, "slab")->holes; };
    ASSERT_EQ(other()[0], second);
    Picked picked{PickedKind::piece, QStringLiteral("slab")};
    picked.hole = 0;
    window->sheet().set_picked(picked);
    trigger("move.up_far");
    EXPECT_EQ(other()[0], second);
    EXPECT_EQ(other()[1], piece("slab").holes[0]) << "moved alike";
    EXPECT_NE(other()[1], first);
    trigger("edit.delete");
    EXPECT_EQ(piece("slab").holes, std::vector<Outline>{second});
    EXPECT_EQ(other(), std::vector<Outline>{second});
    trigger("edit.all_variants");
}

TEST_F(WindowHoles, what_is_for_pieces_says_so_and_leaves_the_piece_of_a_hole_alone) {
    open_with_two();
    pick("under");
    trigger("edit.copy");
    click(-400, -80);
    ASSERT_EQ(picked_hole(), 1u);
    const Section before = section();
    for (const char* command : {"edit.copy", "change.mirror", "change.flip", "change.rotate", "change.copies", "change.group", "change.merge", "change.move", "change.split", "change.hole", "edit.duplicate", "material.give"}) {
        told.clear();
        trigger(command);
        EXPECT_EQ(section(), before) << command;
        EXPECT_EQ(window->sheet().tool(), Tool::pick) << command;
        ASSERT_FALSE(told.isEmpty()) << command;
        EXPECT_FALSE(told.last().isEmpty()) << command;
    }
    trigger("change.mirror");
    EXPECT_TRUE(told.last().contains(QStringLiteral("this needs a piece"))) << told.last().toStdString();
    click(-100, -80, Qt::ControlModifier);
    EXPECT_EQ(window->sheet().picked(), (Picked{PickedKind::piece, QStringLiteral("slab")})) << "a hole goes with nothing";
}

TEST_F(WindowHoles, another_hole_in_its_place_is_not_taken_for_it) {
    open_with_two();
    const Outline first = piece("slab").holes[0], second = piece("slab").holes[1];
    trigger("variant.duplicate");
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return move_hole(s, "slab", 1, 5 * mm, 0); });
    Picked picked{PickedKind::piece, QStringLiteral("slab")};
    picked.hole = 0;
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return delete_hole(s, "slab", 0); });
    window->sheet().set_picked(picked);
    trigger("edit.undo");
    EXPECT_EQ(picked_hole(), 1u) << "the same one, one further on";
    trigger("edit.undo");
    EXPECT_EQ(picked_hole(), 1u) << "it alone was moved";
    trigger("edit.redo");
    window->document().set_active(0);
    EXPECT_EQ(picked_hole(), std::nullopt) << "another variant's is another one";
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("slab"));
    picked.hole = 0;
    window->sheet().set_picked(picked);
    window->document().set_active(1);
    EXPECT_EQ(picked_hole(), 0u) << "and the same one is the same";
}
