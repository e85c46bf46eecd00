// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QTableWidget>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/compare_view.hpp"

using namespace wallfoot;

TEST_F(WindowTest, variants_are_compared_side_by_side) {
    open_small();
    window->action(QStringLiteral("variant.duplicate"))->trigger();
    window->document().edit(QStringLiteral("Light foot"), [](const Section& section) { return set_material(section, "foot", "light"); });
    window->action(QStringLiteral("view.compare"))->trigger();
    CompareView& view = window->compare_view();
    const auto cell = [&](int row, int column) { return view.table()->item(row, column) ? view.table()->item(row, column)->text() : QString(); };
    ASSERT_TRUE(QTest::qWaitFor([&] { return view.table()->columnCount() == 2 && cell(2, 1).contains(QStringLiteral("loses less")); }, 30'000)) << cell(2, 1).toStdString();
    EXPECT_EQ(cell(2, 0), QStringLiteral("compared with"));
    EXPECT_TRUE(cell(2, 1).startsWith(QLatin1Char('-'))) << cell(2, 1).toStdString();
    EXPECT_TRUE(cell(6, 1).contains(QStringLiteral("Foot block is Light block instead of Dense block"))) << cell(6, 1).toStdString();
    // The difference is that of the two psi shown, each within its bracket.
    EXPECT_NEAR(cell(2, 1).section(QLatin1Char(' '), 0, 0).toDouble(), cell(1, 1).section(QLatin1Char(' '), 0, 0).toDouble() - cell(1, 0).section(QLatin1Char(' '), 0, 0).toDouble(), 2e-4);
    ASSERT_TRUE(QTest::qWaitFor([&] { return !view.table()->item(0, 1)->data(Qt::DecorationRole).isNull(); }, 30'000)) << "a picture comes";
    // Seen from the other side the sign turns.
    view.base()->setCurrentIndex(1);
    EXPECT_TRUE(cell(2, 0).startsWith(QLatin1Char('+'))) << cell(2, 0).toStdString();
    const QStringList lines = view.as_text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    ASSERT_EQ(lines.size(), 7);
    for (const QString& line : lines) EXPECT_EQ(line.count(QLatin1Char('\t')), 2) << line.toStdString();
    emit view.chosen(QStringLiteral("v1"));
    EXPECT_EQ(window->document().active(), 0u) << "a column leads to its drawing";
}
