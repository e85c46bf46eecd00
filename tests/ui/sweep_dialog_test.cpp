// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/sweep_dialog.hpp"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QtCharts/QChart>
#include <QtCharts/QScatterSeries>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/parameter_choice.hpp"

using namespace wallfoot;

namespace {

class WindowSweep : public WindowTest {
  protected:
    SweepDialog& opened() {
        window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
        window->action(QStringLiteral("variant.sweep"))->trigger();
        auto* dialog = window->findChild<SweepDialog*>();
        EXPECT_NE(dialog, nullptr);
        return *dialog;
    }
    static void pick(ParameterChoice& choice, ParameterWhat what, const QString& of, const char* from, const char* to, const char* steps) {
        choice.what().setCurrentIndex(choice.what().findData(static_cast<int>(what)));
        choice.of().setCurrentIndex(choice.of().findText(of, Qt::MatchStartsWith));
        choice.from().setText(QString::fromLatin1(from));
        choice.to().setText(QString::fromLatin1(to));
        choice.steps().setText(QString::fromLatin1(steps));
    }
    static void settle(SweepDialog& dialog) { EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog.busy(); }, 60'000)); }
    static std::string cell(SweepDialog& dialog, int row, int column) { return dialog.table().item(row, column)->text().toStdString(); }
    /// As the command writes them: each row solved by itself.
    static std::string rows_of(const Study& study, const std::string& plan_text) {
        const SweepPlan plan = read_sweep_plan(plan_text);
        std::string all = sweep_head(plan) + "\n";
        for (std::size_t n = 0; n < sweep_rows(study, plan); ++n) all += sweep_line(sweep_row(study, plan, n)) + "\n";
        return all;
    }
    void add_measure() {
        ASSERT_TRUE(window->document().edit(QStringLiteral("measure"), [](const Section& s) {
            Stretch stretch;
            stretch.id = "foot-height";
            stretch.name = "Foot height";
            stretch.line = {{-1 * mm, 100 * mm}, {300 * mm, 100 * mm}};
            stretch.moves = "up";
            stretch.measure = {{0, 0}, {0, 200 * mm}};
            stretch.min = 120 * mm;
            return add_stretch(s, stretch);
        }).empty());
    }
};

}  // namespace

TEST_F(WindowSweep, writes_the_rows_of_the_command_and_a_point_for_each) {
    open_small();
    SweepDialog& dialog = opened();
    EXPECT_EQ(dialog.first().what().currentData().toInt(), static_cast<int>(ParameterWhat::conductivity)) << "the picked piece is offered first";
    pick(dialog.first(), ParameterWhat::conductivity, QStringLiteral("Foot block"), "0.2", "1.4", "3");
    dialog.start().click();
    EXPECT_TRUE(dialog.stop().isEnabled());
    settle(dialog);
    ASSERT_EQ(dialog.done(), 4u);
    EXPECT_EQ(dialog.as_csv().toStdString(), rows_of(*window->document().study(), R"({"variants":["v1"],"change":[{"what":"conductivity","piece":"foot","from":0.2,"to":1.4,"steps":3}]})"));
    EXPECT_EQ(dialog.as_csv().toStdString(), rows_of(*window->document().study(), dialog.plan_text().toStdString())) << "and the plan it hands out is that plan";
    int points = 0;
    for (const auto* series : dialog.plot().chart().series())
        if (const auto* scatter = qobject_cast<const QScatterSeries*>(series)) points += static_cast<int>(scatter->count());
    EXPECT_EQ(points, 8) << "psi and fRsi";
    const QString path = folder.filePath(QStringLiteral("sweep.csv"));
    EXPECT_EQ(dialog.save_csv(path), QString());
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(QString::fromUtf8(file.readAll()), dialog.as_csv());
}

TEST_F(WindowSweep, marks_what_the_drawing_does_not_allow_and_goes_on) {
    open_small();
    add_measure();
    SweepDialog& dialog = opened();
    pick(dialog.first(), ParameterWhat::measure, QStringLiteral("Foot height"), "100", "220", "3");
    dialog.start().click();
    settle(dialog);
    ASSERT_EQ(dialog.done(), 4u);
    EXPECT_NE(cell(dialog, 0, 4).find("120"), std::string::npos) << cell(dialog, 0, 4);
    EXPECT_EQ(cell(dialog, 0, 1), "");
    for (int row = 1; row < 4; ++row) EXPECT_NE(cell(dialog, row, 1), "") << row;
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("1 row"))) << dialog.told().text().toStdString();
    bool marked = false;
    for (const auto* series : dialog.plot().chart().series()) marked = marked || series->name() == QStringLiteral("not possible");
    EXPECT_TRUE(marked);
}

TEST_F(WindowSweep, stops_and_goes_on_from_what_is_done) {
    open_small();
    SweepDialog& dialog = opened();
    pick(dialog.first(), ParameterWhat::extent, QStringLiteral("Outer insulation, to the right"), "100", "300", "40");
    dialog.start().click();
    ASSERT_TRUE(QTest::qWaitFor([&] { return dialog.done() >= 3; }, 60'000));
    dialog.stop().click();
    settle(dialog);
    const std::size_t before = dialog.done();
    ASSERT_LT(before, 41u) << "stopped on the way";
    const QString half = dialog.as_csv();
    EXPECT_TRUE(dialog.start().isEnabled());
    EXPECT_EQ(dialog.start().text(), QStringLiteral("&Go on"));
    dialog.start().click();
    settle(dialog);
    EXPECT_EQ(dialog.done(), 41u);
    EXPECT_TRUE(dialog.as_csv().startsWith(half)) << "nothing done twice, nothing lost";
    EXPECT_EQ(dialog.as_csv().toStdString(), rows_of(*window->document().study(), dialog.plan_text().toStdString()));
}

TEST_F(WindowSweep, shows_two_parameters_as_a_field) {
    open_small();
    SweepDialog& dialog = opened();
    pick(dialog.first(), ParameterWhat::conductivity, QStringLiteral("Foot block"), "0.2", "1.4", "2");
    dialog.second().what().setCurrentIndex(dialog.second().what().findData(static_cast<int>(ParameterWhat::moisture)));
    dialog.second().of().setCurrentIndex(dialog.second().of().findText(QStringLiteral("Leaf")));
    dialog.start().click();
    settle(dialog);
    ASSERT_EQ(dialog.done(), 12u) << "three values, four declared conditions";
    EXPECT_EQ(dialog.plot().currentWidget(), static_cast<QWidget*>(&dialog.plot().grid()));
    const QString told = dialog.plot().grid().told(2, 1);
    EXPECT_TRUE(told.contains(QStringLiteral("1.4"))) << told.toStdString();
    EXPECT_TRUE(told.contains(QString::fromStdString(cell(dialog, 9, 2)))) << told.toStdString() << cell(dialog, 9, 2);
}

TEST_F(WindowSweep, says_what_is_typed_wrong_and_waits) {
    open_small();
    SweepDialog& dialog = opened();
    pick(dialog.first(), ParameterWhat::conductivity, QStringLiteral("Foot block"), "0.2", "much", "2");
    EXPECT_FALSE(dialog.start().isEnabled());
    EXPECT_NE(dialog.told().text(), QString());
    dialog.first().to().setText(QStringLiteral("1,4"));
    EXPECT_TRUE(dialog.start().isEnabled());
    dialog.first().steps().setText(QStringLiteral("2.5"));
    EXPECT_FALSE(dialog.start().isEnabled());
    dialog.first().steps().setText(QStringLiteral("2"));
    pick(dialog.second(), ParameterWhat::conductivity, QStringLiteral("Foot block"), "0.2", "2", "2");
    EXPECT_FALSE(dialog.start().isEnabled()) << "the same parameter twice";
    dialog.second().what().setCurrentIndex(dialog.second().what().findData(static_cast<int>(ParameterWhat::moisture)));
    dialog.second().of().setCurrentIndex(dialog.second().of().findText(QStringLiteral("Foot block")));
    EXPECT_FALSE(dialog.start().isEnabled()) << "one conductivity in every condition";
    dialog.second().of().setCurrentIndex(dialog.second().of().findText(QStringLiteral("Leaf")));
    EXPECT_TRUE(dialog.start().isEnabled());
}
