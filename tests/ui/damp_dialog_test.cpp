// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/damp_dialog.hpp"

#include <QComboBox>
#include <QLabel>
#include <QTableWidget>
#include <QtCharts/QChartView>
#include <QtCharts/QLegend>
#include <QtCharts/QScatterSeries>

#include "tests/ui/window_fixture.hpp"

using namespace wallfoot;

namespace {

class WindowDamp : public WindowTest {
  protected:
    DampDialog& opened() {
        open_small();
        window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
        window->action(QStringLiteral("site.damp"))->trigger();
        auto* dialog = window->findChild<DampDialog*>();
        EXPECT_NE(dialog, nullptr);
        settle(*dialog);
        return *dialog;
    }
    static void settle(DampDialog& dialog) {
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog.busy(); }, 60'000));
    }
    static QString cell(DampDialog& dialog, int row, int column) { return dialog.table().item(row, column)->text(); }
};

}  // namespace

TEST_F(WindowDamp, shows_every_condition_of_the_picked_piece_and_what_is_not_declared) {
    DampDialog& dialog = opened();
    EXPECT_EQ(dialog.piece().currentData().toString(), QStringLiteral("foot"));
    ASSERT_EQ(dialog.table().rowCount(), 6);
    EXPECT_EQ(cell(dialog, 0, 1), QStringLiteral("1.100"));
    EXPECT_EQ(cell(dialog, 2, 1), QStringLiteral("not declared"));  // exposed: the study states no value, and no aggregate
    EXPECT_EQ(cell(dialog, 2, 2), QStringLiteral("–"));
    EXPECT_TRUE(dialog.table().isColumnHidden(4));
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("not known"))) << dialog.told().text().toStdString();
    EXPECT_FALSE(dialog.as_text().isEmpty());
}

TEST_F(WindowDamp, puts_another_material_in_the_same_place_and_says_how_wet_before_no_better) {
    DampDialog& dialog = opened();
    dialog.piece().setCurrentIndex(dialog.piece().findData(QStringLiteral("leaf")));
    dialog.against().setCurrentIndex(dialog.against().findData(QStringLiteral("dense")));
    settle(dialog);
    EXPECT_FALSE(dialog.table().isColumnHidden(4));
    EXPECT_EQ(cell(dialog, 0, 1), QStringLiteral("0.120"));
    EXPECT_EQ(cell(dialog, 0, 4), QStringLiteral("1.100"));
    // The same table as on the command line, and the plot holds a point for each declared value of both.
    const auto found = damp_table(*window->document().study(), window->document().variant(), "leaf", "dense");
    EXPECT_EQ(dialog.as_text().toStdString(), damp_text({found}));
    // The leaf belongs to the wall: its U changes with it, and nothing is said of how wet it may get.
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("psi does not rise with the conductivity"))) << dialog.told().text().toStdString();
    EXPECT_FALSE(dialog.told().text().contains(QStringLiteral("no better")));
    int points = 0;
    for (const auto* series : dialog.findChild<QChartView*>()->chart()->series())
        if (const auto* scatter = qobject_cast<const QScatterSeries*>(series)) points += static_cast<int>(scatter->count());
    EXPECT_EQ(points, 8);
}

TEST_F(WindowDamp, says_up_to_what_the_foot_stays_better) {
    DampDialog& dialog = opened();
    dialog.against().setCurrentIndex(dialog.against().findData(QStringLiteral("light")));
    settle(dialog);
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("Foot block would be no better than Light block"))) << dialog.told().text().toStdString();
}
