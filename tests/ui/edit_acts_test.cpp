// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAbstractButton>
#include <QComboBox>
#include <QInputDialog>
#include <algorithm>

#include "core/geometry/outline_check.hpp"
#include "tests/ui/edits_fixture.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/edit_boxes.hpp"
#include "ui/panels/materials_panel.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/stretch_dialog.hpp"
#include "ui/paint/section_notes.hpp"
#include "ui/sheet/entry_box.hpp"

using namespace wallfoot;

TEST_F(WindowEdits, a_measure_is_drawn_named_typed_dragged_and_taken_away) {
    open_small();
    const Section before = section();
    const double psi_before = psi();
    measure_outer();
    ASSERT_EQ(section().stretch.size(), 1u);
    EXPECT_EQ(stretch_length(section().stretch[0]), 100 * mm) << "the piece below the line is measured";
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::stretch);
    StretchBox& box = window->piece_panel().stretch();
    ASSERT_TRUE(box.isVisible());
    type(box.name(), "Board outside");
    EXPECT_EQ(section().stretch[0].name, "Board outside");
    type(box.value(), "150");
    EXPECT_EQ(piece("outer").outline[1].x, 250 * mm);
    EXPECT_EQ(section().cut.right, 950 * mm);
    EXPECT_FALSE(window->contents_panel().findItems(QStringLiteral("Board outside"), Qt::MatchExactly | Qt::MatchRecursive).isEmpty());
    wait_for_rest();
    EXPECT_LT(psi(), psi_before) << "thicker insulation";
    type(box.most(), "180");
    type(box.value(), "190");
    EXPECT_EQ(piece("outer").outline[1].x, 250 * mm) << "refused";
    EXPECT_EQ(box.value()->text(), QStringLiteral("150")) << "the field shows what holds";

    bool previewed = false;
    QObject::connect(&window->sheet(), &Sheet::previewed, window.get(), [&](const std::shared_ptr<const Section>& shown) { previewed = previewed || shown; });
    const QPoint handle = place_of(window->sheet().view(), section().stretch[0]).handle.toPoint();
    const auto steps = window->document().undo_stack().count();
    drag(handle, handle + QPoint(static_cast<int>(window->sheet().view().pixels_per_mm * 20), 0), Qt::NoModifier);
    EXPECT_TRUE(previewed) << "the answer follows the hand";
    EXPECT_NEAR(to_mm(stretch_length(section().stretch[0])), 170, 6);
    EXPECT_EQ(window->document().undo_stack().count(), steps + 1);
    QTest::keyClick(&window->sheet(), Qt::Key_Delete);
    trigger("edit.delete");
    EXPECT_TRUE(section().stretch.empty());
    while (window->document().undo_stack().canUndo()) window->document().undo_stack().undo();
    EXPECT_EQ(section(), before);
}

TEST_F(WindowEdits, the_stretch_dialog_keeps_its_line_as_a_measure) {
    open_small();
    pick("outer");
    QTimer::singleShot(0, [] {
        auto* dialog = qobject_cast<StretchDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        for (auto* box : dialog->findChildren<QAbstractButton*>())
            if (box->isCheckable()) box->setChecked(true);
        dialog->accept();
    });
    trigger("edit.stretch");
    ASSERT_EQ(section().stretch.size(), 1u);
    EXPECT_EQ(section().stretch[0].name, "Outer insulation");
    EXPECT_EQ(stretch_length(section().stretch[0]), 110 * mm);
}

TEST_F(WindowEdits, a_dimension_is_drawn_follows_and_drives) {
    open_small();
    trigger("draw.dimension");
    click(100, 1200);
    click(200, 1200);
    click(150, 1100);
    ASSERT_EQ(section().dimensions.size(), 1u);
    EXPECT_EQ(dimension_length(section().dimensions[0]), 100);
    EXPECT_EQ(section().dimensions[0].along, "x");
    EXPECT_NEAR(to_mm(section().dimensions[0].offset), -100, 20);
    DimensionBox& box = window->piece_panel().dimension();
    ASSERT_TRUE(box.isVisible());
    type(box.value(), "140");
    EXPECT_EQ(piece("outer").outline[1].x, 240 * mm);
    EXPECT_EQ(section().dimensions[0].to.x, 240 * mm);
    box.side()->setCurrentIndex(1);
    type(box.value(), "100");
    EXPECT_EQ(piece("outer").outline[0].x, 140 * mm);
    EXPECT_EQ(piece("leaf").outline[0].x, 40 * mm) << "what lies to the left went along";
    type(box.value(), "0");
    EXPECT_EQ(box.value()->text(), QStringLiteral("100"));
    // A corner that moves takes the end along.
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return move_corner(s, {240 * mm, 1200 * mm}, {245 * mm, 1200 * mm}); });
    EXPECT_EQ(dimension_length(section().dimensions[0]), 105);
    trigger("edit.delete");
    EXPECT_TRUE(section().dimensions.empty());
}

TEST_F(WindowEdits, a_text_is_put_changed_and_moved) {
    open_small();
    trigger("draw.text");
    QTimer::singleShot(0, [] {
        auto* dialog = qobject_cast<QInputDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        dialog->setTextValue(QStringLiteral("seal the lap"));
        dialog->accept();
    });
    click(-600, 300);
    ASSERT_EQ(section().texts.size(), 1u);
    EXPECT_EQ(section().texts[0].text, "seal the lap");
    type(window->piece_panel().note().text(), "lap sealed / checked");
    EXPECT_EQ(section().texts[0].text, "lap sealed\nchecked");
    const Point before = section().texts[0].at;
    const QPoint at = place_of(window->sheet().view(), section().texts[0]).center().toPoint();
    drag(at, at + QPoint(40, 0));
    EXPECT_GT(section().texts[0].at.x, before.x);
    EXPECT_EQ(section().texts[0].at.y, before.y);
}

TEST_F(WindowEdits, a_box_takes_what_lies_inside_and_several_move_together) {
    open_small();
    const Section before = section();
    drag(on_sheet(-40, 1250), on_sheet(300, -450));
    const Taken taken = taken_of(window->sheet().picked());
    EXPECT_EQ(taken.pieces, (std::vector<std::string>{"outer", "leaf", "foot"}));
    EXPECT_EQ(taken.membranes, (std::vector<std::string>{"dpc1"}));
    EXPECT_EQ(window->document().undo_stack().count(), 0);
    drag(on_sheet(150, 700), on_sheet(150, 700) + QPoint(60, 0));
    ASSERT_EQ(window->document().undo_stack().count(), 1);
    const Micrometres by = piece("outer").outline[0].x - 100 * mm;
    EXPECT_GT(by, 0);
    EXPECT_EQ(piece("foot").outline[0].x, by);
    EXPECT_EQ(section().membranes[0].path[0].x, by);
    EXPECT_EQ(piece("slab"), *find_piece(before, "slab"));
    trigger("edit.undo");
    EXPECT_EQ(section(), before);

    drag(on_sheet(-40, 1250), on_sheet(300, 400), Qt::ShiftModifier);
    EXPECT_EQ(taken_of(window->sheet().picked()).pieces, (std::vector<std::string>{"outer", "leaf"})) << "with Shift what it touches";
    click(50, -300, Qt::ControlModifier);
    EXPECT_EQ(taken_of(window->sheet().picked()).pieces.size(), 3u) << "Ctrl adds";
    click(50, -300, Qt::ControlModifier);
    EXPECT_EQ(taken_of(window->sheet().picked()).pieces.size(), 2u) << "and takes away";
    trigger("edit.delete");
    EXPECT_EQ(section().pieces.size(), 3u);
}

TEST_F(WindowEdits, only_what_acts_can_carry_is_picked_with_others) {
    const Picked piece{PickedKind::piece, QStringLiteral("foot")}, hidden{PickedKind::hidden, QStringLiteral("h1")}, element{PickedKind::element, QStringLiteral("top")};
    EXPECT_EQ(toggled(piece, hidden), hidden);
    EXPECT_EQ(toggled(piece, element), element);
    EXPECT_EQ(toggled(element, piece), piece);
    EXPECT_EQ(toggled(hidden, hidden), Picked{});
    EXPECT_EQ(toggled(piece, {PickedKind::membrane, QStringLiteral("m")}).more.size(), 1u);
}

TEST_F(WindowEdits, copies_turns_mirrors_and_groups) {
    open_small();
    pick("foot");
    answer({"3", "150", ""});
    trigger("change.copies");
    ASSERT_EQ(section().pieces.size(), 8u);
    EXPECT_EQ(section().pieces.back().outline[0].x, 450 * mm);
    trigger("edit.undo");
    answer({"90", "", ""});
    trigger("change.rotate");
    EXPECT_EQ(piece("foot").outline[0], (Point{350 * mm, -150 * mm})) << "about its own middle";
    trigger("edit.undo");
    const Outline outline = piece("foot").outline;
    trigger("change.mirror");
    EXPECT_EQ(area2(piece("foot").outline), area2(outline));
    EXPECT_EQ(piece("foot").outline.back().x, 100 * mm);
    trigger("edit.undo");

    window->sheet().set_picked(toggled({PickedKind::piece, QStringLiteral("foot")}, {PickedKind::piece, QStringLiteral("leaf")}));
    trigger("change.group");
    window->sheet().set_picked({});
    pick("leaf");
    EXPECT_EQ(taken_of(window->sheet().picked()).pieces.size(), 2u) << "picking one takes all";
    trigger("edit.copy");
    trigger("edit.paste");
    EXPECT_EQ(section().pieces.size(), 7u);
    EXPECT_EQ(section().groups.size(), 2u);
    trigger("edit.undo");
    pick("leaf");
    trigger("change.ungroup");
    EXPECT_TRUE(section().groups.empty());
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("leaf"));
    EXPECT_TRUE(window->sheet().picked().more.empty());
}

TEST_F(WindowEdits, a_piece_is_split_merged_holed_and_its_edge_moved) {
    open_small();
    pick("leaf");
    trigger("change.split");
    click(0, 1200 - 500);
    click(100, 1200 - 500);
    ASSERT_EQ(section().pieces.size(), 6u);
    const std::string part = section().pieces[4].id;
    window->sheet().set_picked(picked_of({.pieces = {"leaf", part}}));
    trigger("change.merge");
    EXPECT_EQ(section().pieces.size(), 5u);
    EXPECT_NE(window->sheet().picked().kind, PickedKind::nothing);
    window->document().undo_stack().undo();
    window->document().undo_stack().undo();

    pick("slab");
    trigger("change.hole");
    for (const auto& [x, y] : {std::pair(-600, -120), {-500, -120}, {-500, -60}}) click(x, y);
    QTest::keyClick(&window->sheet(), Qt::Key_Return);
    EXPECT_EQ(piece("slab").holes.size(), 1u);

    pick("outer");
    QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, on_sheet(200, 500));
    answer({"25"});
    trigger("change.offset");
    EXPECT_EQ(piece("outer").outline[1].x, 225 * mm);

    pick("outer");
    trigger("change.move");
    click(225, 1200);
    QTest::keyClick(&window->sheet(), '1');
    EntryBox& entry = *window->sheet().entry_box();
    ASSERT_TRUE(entry.isVisible());
    entry.field(OutlineTool::length)->setText(QStringLiteral("10"));
    entry.field(OutlineTool::angle)->setText(QStringLiteral("0"));
    QTest::keyClick(entry.field(OutlineTool::angle), Qt::Key_Return);
    EXPECT_EQ(piece("outer").outline[1].x, 235 * mm) << "by 10 mm at 0 degrees";
}

TEST_F(WindowEdits, edits_go_to_all_variants_and_what_could_not_is_told) {
    open_small();
    trigger("variant.duplicate");
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return delete_piece(s, "outer"); });
    window->document().set_active(0);
    trigger("edit.all_variants");
    const auto of = [&](std::size_t v) { return *window->document().study()->variants[v].section; };
    QStringList left;
    QObject::connect(&window->document(), &Document::left_out, window.get(), [&](const QStringList& names) { left = names; });
    const auto steps = window->document().undo_stack().count();
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return move_piece(s, "foot", 5 * mm, 0); });
    EXPECT_TRUE(left.isEmpty());
    EXPECT_EQ(find_piece(of(0), "foot")->outline[0].x, 5 * mm);
    EXPECT_EQ(find_piece(of(1), "foot")->outline[0].x, 5 * mm);
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return move_piece(s, "outer", 5 * mm, 0); });
    EXPECT_EQ(left.size(), 1);
    EXPECT_EQ(find_piece(of(0), "outer")->outline[0].x, 105 * mm);
    EXPECT_EQ(window->document().undo_stack().count(), steps + 2) << "one step each";
    // Dragging an edge goes to all as well, without carrying the one section over to the other.
    pick("leaf");
    drag(on_sheet(50, 1200), on_sheet(50, 1200) + QPoint(0, 20));
    EXPECT_LT(find_piece(of(0), "leaf")->outline[2].y, 1200 * mm);
    EXPECT_EQ(find_piece(of(1), "leaf")->outline[2].y, find_piece(of(0), "leaf")->outline[2].y);
    EXPECT_EQ(find_piece(of(1), "outer"), nullptr);
    window->document().undo_stack().undo();
    EXPECT_EQ(find_piece(of(1), "leaf")->outline[2].y, 1200 * mm);
}

TEST_F(WindowEdits, what_is_new_is_called_alike_in_all_variants_or_left_out) {
    open_small();
    trigger("variant.duplicate");
    const auto add = [](const Section& s) {
        Piece piece = *find_piece(s, "outer");
        piece.id.clear();
        return add_piece(s, piece);
    };
    window->document().edit(QStringLiteral("x"), add);  // an id more is taken in this one only
    window->document().set_active(0);
    trigger("edit.all_variants");
    QStringList left;
    QObject::connect(&window->document(), &Document::left_out, window.get(), [&](const QStringList& names) { left = names; });
    window->document().edit(QStringLiteral("x"), add);
    const auto pieces = [&](std::size_t v) { return window->document().study()->variants[v].section->pieces.size(); };
    EXPECT_EQ(pieces(0), 6u);
    EXPECT_EQ(pieces(1), 6u) << "left as it was: the new piece would have had another id there";
    EXPECT_EQ(left.size(), 1);
}

TEST_F(WindowEdits, courses_are_typed_and_several_get_a_material) {
    open_small();
    pick("leaf");
    type(window->piece_panel().course_height(), "225");
    ASSERT_TRUE(piece("leaf").courses);
    EXPECT_EQ(piece("leaf").courses->height, 225 * mm);
    type(window->piece_panel().course_from(), "200");
    EXPECT_EQ(piece("leaf").courses->from, 200 * mm);
    type(window->piece_panel().course_height(), "0");
    EXPECT_EQ(piece("leaf").courses->height, 225 * mm) << "refused";

    trigger("variant.duplicate");
    window->sheet().set_picked(picked_of({.pieces = {"leaf", "foot"}}));
    window->materials_panel().mark("board");
    trigger("material.give");
    EXPECT_EQ(piece("leaf").filled_with, "board");
    EXPECT_EQ(piece("foot").filled_with, "board");
    const auto& base = *window->document().study()->variants[0].section;
    EXPECT_EQ(find_piece(base, "foot")->filled_with, "dense") << "this variant alone";
    trigger("edit.all_variants");
    window->materials_panel().mark("concrete");
    trigger("material.give");
    EXPECT_EQ(piece("foot").filled_with, "concrete");
    EXPECT_EQ(find_piece(*window->document().study()->variants[0].section, "leaf")->filled_with, "concrete");
}

TEST(SnapGuides, come_after_the_drawing_and_before_the_grid) {
    Section section;
    section.cut = {0, 0, 1000 * mm, 1000 * mm};
    Snapper snapper(section);
    snapper.set_guides({{true, 333 * mm}, {false, 555 * mm}});
    EXPECT_EQ(snapper.snap({335, 700}, 5, 10).at, (Point{333 * mm, 700 * mm}));
    EXPECT_EQ(snapper.snap({335, 700}, 5, 10).kind, SnapKind::guide);
    EXPECT_EQ(snapper.snap({335, 554}, 5, 10).at, (Point{333 * mm, 555 * mm}));
    EXPECT_EQ(snapper.snap({340, 700}, 5, 10).kind, SnapKind::grid);
    EXPECT_EQ(snapper.snap({335, 2}, 5, 10).kind, SnapKind::on_edge) << "the cut is drawn";
    EXPECT_EQ(name_of(SnapKind::guide), QStringLiteral("guide"));
}
