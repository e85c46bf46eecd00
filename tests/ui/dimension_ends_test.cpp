// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/edits_fixture.hpp"
#include "ui/panels/edit_boxes.hpp"
#include "ui/panels/piece_panel.hpp"

using namespace wallfoot;

namespace {

/// The thickness of the outer insulation, told 100 mm below the upper cut.
class WindowDimensionEnds : public WindowEdits {
  protected:
    void draw_dimension() {
        open_small();
        trigger("draw.dimension");
        click(100, 1200);
        click(200, 1200);
        click(150, 1100);
        ASSERT_EQ(section().dimensions.size(), 1u);
        drawn = section();
    }
    const Dimension& dimension() const { return section().dimensions.front(); }
    Micrometres line() const { return dimension().from.y + dimension().offset; }
    int steps() { return window->document().undo_stack().index(); }
    void move(QPoint at, Qt::KeyboardModifiers keys = {}) {
        QMouseEvent event(QEvent::MouseMove, at, window->sheet().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, keys);
        QApplication::sendEvent(&window->sheet(), &event);
    }
    Section drawn;
};

}  // namespace

TEST_F(WindowDimensionEnds, an_end_is_dragged_to_a_corner_in_one_step) {
    draw_dimension();
    const int before = steps();
    drag(on_sheet(100, 1200), on_sheet(0, 1200) + QPoint(3, 3));
    EXPECT_EQ(dimension().from, (Point{0, 1200 * mm})) << "held by the corner near the cursor";
    EXPECT_EQ(dimension().to, (Point{200 * mm, 1200 * mm}));
    EXPECT_EQ(dimension_length(dimension()), 200);
    EXPECT_EQ(section().pieces, drawn.pieces) << "nothing of the drawing moves";
    EXPECT_EQ(steps(), before + 1);
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::dimension) << "still in hand";
    EXPECT_EQ(window->piece_panel().dimension().value()->text(), QStringLiteral("200"));
    const Micrometres height = line();
    drag(on_sheet(0, 1200), on_sheet(0, 200) + QPoint(-3, 2));
    EXPECT_EQ(dimension().from, (Point{0, 200 * mm}));
    EXPECT_EQ(line(), height) << "its line stays where it was";
    drag(on_sheet(200, 1200), on_sheet(612.3, 900.7), Qt::ControlModifier);
    EXPECT_NEAR(to_mm(dimension().to.x), 612, 3) << "with Ctrl nothing holds it";
    for (int i = 0; i < 3; ++i) trigger("edit.undo");
    EXPECT_EQ(section(), drawn);
}

TEST_F(WindowDimensionEnds, esc_puts_it_back_and_what_measures_nothing_is_refused) {
    draw_dimension();
    const int before = steps();
    QString told;
    QObject::connect(&window->sheet(), &Sheet::told, window.get(), [&](const QString& text) { told = text; });
    QTest::mousePress(&window->sheet(), Qt::LeftButton, {}, on_sheet(200, 1200));
    move(on_sheet(300, 1100));
    move(on_sheet(500, 1000));
    EXPECT_NEAR(to_mm(window->sheet().shown()->dimensions[0].to.x), 500, 10) << "it follows the hand";
    EXPECT_TRUE(told.endsWith(QStringLiteral("mm"))) << "with its length: " << told.toStdString();
    EXPECT_EQ(section(), drawn) << "until it is let go";
    QTest::keyClick(&window->sheet(), Qt::Key_Escape);
    EXPECT_EQ(*window->sheet().shown(), drawn);
    QTest::mouseRelease(&window->sheet(), Qt::LeftButton, {}, on_sheet(500, 1000));
    EXPECT_EQ(section(), drawn);
    EXPECT_EQ(steps(), before);
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::dimension);

    drag(on_sheet(200, 1200), on_sheet(100, 1200));
    EXPECT_GT(dimension_length(dimension()), 0) << "the last place that could be measured, or none";
}

TEST_F(WindowDimensionEnds, only_those_of_the_picked_one_can_be_held) {
    draw_dimension();
    window->sheet().set_picked({});
    drag(on_sheet(200, 1200), on_sheet(500, 1000));
    EXPECT_EQ(section().dimensions, drawn.dimensions);
    // The line itself moves as before, not its ends.
    drag(on_sheet(150, 1100), on_sheet(150, 1050));
    EXPECT_EQ(dimension().from, drawn.dimensions[0].from);
    EXPECT_NEAR(to_mm(line()), 1050, 8);
}
