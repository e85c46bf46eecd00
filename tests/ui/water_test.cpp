// SPDX-License-Identifier: GPL-3.0-or-later
#include <QPushButton>
#include <QTreeWidget>

#include "tests/ui/window_fixture.hpp"
#include "tests/unit/tree.hpp"
#include "ui/panels/water_panel.hpp"

using namespace wallfoot;

namespace {

class WaterWindow : public WindowTest {
  protected:
    void open_sample() {
        ASSERT_TRUE(window->open_file(write(QStringLiteral("foot.wallfoot"), bytes_of_sample())));
        window->action(QStringLiteral("view.water"))->trigger();
        ASSERT_TRUE(QTest::qWaitFor([&] { return window->water_panel().list().topLevelItemCount() > 1; }, 30'000));
    }
    static QByteArray bytes_of_sample() {
        QFile file(QString::fromStdString(in_tree("samples/slab-insulation-below.wallfoot")));
        return file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
    }
    QTreeWidgetItem* row_with(const QString& text) {
        for (QTreeWidgetItemIterator it(&window->water_panel().list()); *it; ++it)
            if ((*it)->text(0).contains(text)) return *it;
        return nullptr;
    }
    QColor colour_at(double x_mm, double y_mm) {
        return window->sheet().grab().toImage().pixelColor(on_sheet(x_mm, y_mm) * window->sheet().devicePixelRatioF());
    }
};

}  // namespace

TEST_F(WaterWindow, TheProposedMembraneIsDrawnWithOneActAndTheBlockIsDryThen) {
    open_sample();
    auto* reached = row_with(QStringLiteral("Water reaches \"Foot block below"));
    ASSERT_TRUE(reached);
    EXPECT_FALSE(window->water_panel().add_button().isEnabled()) << "nothing is marked yet";
    window->water_panel().list().setCurrentItem(reached);
    ASSERT_TRUE(window->water_panel().add_button().isEnabled());
    const auto before = window->document().section();
    QTest::mouseClick(&window->water_panel().add_button(), Qt::LeftButton);
    EXPECT_EQ(window->document().section().membranes.size(), before.membranes.size() + 2) << "a course, and its turn up beside the block";
    EXPECT_TRUE(QTest::qWaitFor([&] { return row_with(QStringLiteral("No path for water is drawn to \"Foot block below")) != nullptr; }, 30'000));
    EXPECT_FALSE(row_with(QStringLiteral("Water reaches \"Foot block below")));
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(window->document().section(), before);
}

TEST_F(WaterWindow, AFaultyDrawingSaysWhyNothingIsShown) {
    open_sample();
    window->document().edit(QStringLiteral("spoil"), [](Section s) {
        s.spaces.clear();
        return s;
    });
    EXPECT_TRUE(QTest::qWaitFor([&] { return row_with(QStringLiteral("once the drawing is settled")) != nullptr; }, 30'000));
    EXPECT_FALSE(window->water_panel().add_button().isEnabled());
}

TEST_F(WaterWindow, ReachedAreasAreTinted) {
    open_sample();
    const QColor soil = colour_at(-1000, -900);
    EXPECT_GT(soil.blue(), soil.red()) << "soil is wet";
    window->action(QStringLiteral("view.draw"))->trigger();
    const QColor drawn = colour_at(-1000, -900);
    EXPECT_LE(drawn.blue(), drawn.red()) << "the look of soil in Draw";
}
