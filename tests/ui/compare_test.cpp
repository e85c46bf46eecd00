// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCheckBox>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QMimeData>
#include <QPushButton>
#include <QTabWidget>
#include <QTimer>
#include <QtCharts/QChart>
#include <QtCharts/QLineSeries>
#include <QtCharts/QScatterSeries>
#include <cmath>

#include "core/file/quantities.hpp"
#include "core/study/edits.hpp"
#include "solver/findings/heat_loss.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/compare_charts.hpp"
#include "ui/panels/compare_pictures.hpp"
#include "ui/panels/compare_view.hpp"
#include "ui/panels/equal_build_dialog.hpp"
#include "ui/panels/quantities_dialog.hpp"

namespace wallfoot {
namespace {

/// Two variants, the second with the light block at the foot, set side by side.
class CompareTest : public WindowTest {
  protected:
    void open_two() {
        open_small();
        window->action(QStringLiteral("variant.duplicate"))->trigger();
        window->document().edit(QStringLiteral("Light foot"), [](const Section& section) { return set_material(section, "foot", "light"); });
        window->action(QStringLiteral("view.compare"))->trigger();
        ASSERT_TRUE(QTest::qWaitFor([&] { return view().table()->columnCount() == 2 && cell(CompareTable::psi_change, 1).contains(QStringLiteral("loses less")); }, 30'000))
            << cell(CompareTable::psi_change, 1).toStdString();
    }
    CompareView& view() { return window->compare_view(); }
    QString cell(int row, int column) { return view().table()->item(row, column) ? view().table()->item(row, column)->text() : QString(); }
    double number_in(int row, int column) { return cell(row, column).section(QLatin1Char(' '), 0, 0).toDouble(); }
};

TEST_F(CompareTest, variants_are_compared_side_by_side) {
    open_two();
    EXPECT_TRUE(cell(CompareTable::flanking, 0).contains(QStringLiteral("W/(m²·K)"))) << cell(CompareTable::flanking, 0).toStdString();
    EXPECT_TRUE(cell(CompareTable::mould, 0).contains(QStringLiteral("not assessed"))) << cell(CompareTable::mould, 0).toStdString();
    EXPECT_TRUE(QTest::qWaitFor([&] { return cell(CompareTable::rules, 1).contains(QStringLiteral(" met, ")); }, 30'000)) << cell(CompareTable::rules, 1).toStdString();
    EXPECT_EQ(cell(CompareTable::psi_change, 0), QStringLiteral("compared with"));
    EXPECT_TRUE(cell(CompareTable::psi_change, 1).startsWith(QLatin1Char('-'))) << cell(CompareTable::psi_change, 1).toStdString();
    EXPECT_TRUE(cell(CompareTable::differs, 1).contains(QStringLiteral("Foot block is Light block instead of Dense block"))) << cell(CompareTable::differs, 1).toStdString();
    // The difference is that of the two psi shown, each within its bracket.
    EXPECT_NEAR(number_in(CompareTable::psi_change, 1), number_in(CompareTable::psi, 1) - number_in(CompareTable::psi, 0), 2e-4);
    ASSERT_TRUE(QTest::qWaitFor([&] { return !view().table()->item(0, 1)->data(Qt::DecorationRole).isNull(); }, 30'000)) << "a picture comes";
    // Seen from the other side the sign turns.
    view().base()->setCurrentIndex(1);
    EXPECT_TRUE(cell(CompareTable::psi_change, 0).startsWith(QLatin1Char('+'))) << cell(CompareTable::psi_change, 0).toStdString();
    const QStringList lines = view().table()->as_text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    ASSERT_EQ(lines.size(), CompareTable::row_count);
    for (const QString& line : lines) EXPECT_EQ(line.count(QLatin1Char('\t')), 2) << line.toStdString();
    emit view().chosen(QStringLiteral("v1"));
    EXPECT_EQ(window->document().active(), 0u) << "a column leads to its drawing";
}

TEST_F(CompareTest, the_whole_loss_says_what_to_enter_and_then_adds_up) {
    open_two();
    EXPECT_TRUE(cell(CompareTable::loss, 0).contains(QStringLiteral("Enter the length of the junction"))) << cell(CompareTable::loss, 0).toStdString();
    EXPECT_TRUE(cell(CompareTable::loss, 0).contains(QStringLiteral("left"))) << cell(CompareTable::loss, 0).toStdString();
    EXPECT_EQ(cell(CompareTable::loss_change, 1), QStringLiteral("–"));
    const auto before = window->findings();
    QTimer::singleShot(0, window.get(), [&] {
        auto* dialog = window->findChild<QuantitiesDialog*>();
        ASSERT_TRUE(dialog);
        auto* ok = dialog->findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok);
        dialog->junction().setText(QStringLiteral("-1"));
        EXPECT_FALSE(ok->isEnabled()) << "less than nothing is no length";
        dialog->junction().setText(QStringLiteral("28,5"));
        dialog->area(0).setText(QStringLiteral("40"));
        dialog->area(1).setText(QStringLiteral("35"));
        ok->click();
    });
    emit view().quantities_wanted();
    const Study& study = *window->document().study();
    EXPECT_EQ(quantities(study).junction, 28.5);
    ASSERT_EQ(quantities(study).areas.size(), 2u);
    EXPECT_EQ(window->findings(), before) << "what counts in the building changes no result of the section";
    // Psi times the length is all that differs: the flanking elements are the same.
    EXPECT_NEAR(number_in(CompareTable::loss_change, 1), 28.5 * number_in(CompareTable::psi_change, 1), 28.5 * 2e-4);
    EXPECT_NEAR(number_in(CompareTable::loss, 1) - number_in(CompareTable::loss, 0), number_in(CompareTable::loss_change, 1), 0.02);
    EXPECT_TRUE(cell(CompareTable::loss, 0).contains(QStringLiteral("× 28.5 m (junction)"))) << cell(CompareTable::loss, 0).toStdString();
    window->document().undo_stack().undo();
    ASSERT_TRUE(QTest::qWaitFor([&] { return cell(CompareTable::loss_change, 1) == QStringLiteral("–"); }, 30'000)) << "one step of undo";
}

TEST_F(CompareTest, columns_are_sorted_by_any_row_and_equal_ones_keep_their_order) {
    open_two();
    window->document().set_active(0);
    window->action(QStringLiteral("variant.duplicate"))->trigger();  // as the base
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().table()->columnCount() == 3 && cell(CompareTable::psi_change, 1).contains(QStringLiteral("no difference")) && cell(CompareTable::psi_change, 2).contains(QStringLiteral("loses less")); }, 30'000));
    const auto heads = [&] {
        QStringList names;
        for (int column = 0; column < view().table()->columnCount(); ++column) names << view().table()->horizontalHeaderItem(column)->text();
        return names;
    };
    const QStringList drawn = heads();
    const QString base = drawn[0], copy = drawn[1], light = drawn[2];
    emit view().table()->verticalHeader()->sectionClicked(CompareTable::psi);
    EXPECT_EQ(heads(), (QStringList{light, base, copy})) << "least psi first";
    EXPECT_TRUE(view().table()->verticalHeaderItem(CompareTable::psi)->text().contains(QStringLiteral("▲")));
    emit view().table()->verticalHeader()->sectionClicked(CompareTable::psi);
    EXPECT_EQ(heads(), (QStringList{base, copy, light})) << "greatest first, equal ones as in the study";
    view().sorted_by()->setCurrentIndex(view().sorted_by()->findData(CompareTable::factor));
    EXPECT_EQ(heads(), (QStringList{light, base, copy})) << "by fRsi, the greatest first";
    view().sorted_by()->setCurrentIndex(view().sorted_by()->findData(CompareTable::loss));
    EXPECT_EQ(heads(), drawn) << "where none has a value, all stay";
    view().sorted_by()->setCurrentIndex(0);
    EXPECT_EQ(heads(), drawn);
    // What is alike is left out on request, what is hidden stays the base.
    for (QAction* action : view().variants_menu()->actions())
        if (action->text() == light) action->setChecked(false);
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().table()->columnCount() == 2; }));
    EXPECT_EQ(heads(), (QStringList{base, copy}));
    view().only_differing()->setChecked(true);
    for (int row = CompareTable::psi; row < CompareTable::row_count; ++row) EXPECT_TRUE(view().table()->isRowHidden(row)) << row;
    EXPECT_EQ(view().table()->as_text().count(QLatin1Char('\n')), 1) << "only the names are left to copy";
    view().base()->setCurrentIndex(2);
    EXPECT_FALSE(view().table()->isRowHidden(CompareTable::psi)) << "compared with the one that is hidden, both differ";
    EXPECT_TRUE(cell(CompareTable::differs, 0).contains(QStringLiteral("Foot block is Dense block instead of Light block")));
}

TEST_F(CompareTest, controls_go_on_in_further_lines_where_the_window_is_narrow) {
    open_two();
    // No wider than the section's own table needs: the panels beside it take their share of a small screen.
    EXPECT_LE(view().minimumSizeHint().width(), view().fontMetrics().averageCharWidth() * 60);
    const auto rightmost = [&] {
        int x = 0;
        for (const QWidget* control : view().findChildren<QWidget*>(Qt::FindDirectChildrenOnly))
            if (control->isVisible()) x = std::max(x, control->geometry().right());
        return x;
    };
    window->resize(window->minimumSizeHint().expandedTo({600, 700}));
    QTest::qWait(0);
    EXPECT_LT(rightmost(), view().width());
}

TEST_F(CompareTest, the_table_is_copied_for_spreadsheets_and_for_letters) {
    open_two();
    window->document().change(QStringLiteral("Rename"), [&] {
        Study study = *window->document().study();
        study.variants[1].name = "A < B & C";
        return study;
    }(), 1);
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().table()->columnCount() == 2 && view().table()->horizontalHeaderItem(1)->text() == QStringLiteral("A < B & C") && !cell(CompareTable::psi, 1).isEmpty(); }, 30'000));
    view().copy();
    const QMimeData* data = QApplication::clipboard()->mimeData();
    ASSERT_TRUE(data && data->hasText() && data->hasHtml());
    EXPECT_TRUE(data->text().startsWith(QStringLiteral("Variant\tBase\tA < B & C\n"))) << data->text().toStdString();
    EXPECT_TRUE(data->html().contains(QStringLiteral("<th>A &lt; B &amp; C</th>"))) << data->html().toStdString();
    EXPECT_EQ(data->html().count(QStringLiteral("<tr>")), data->text().count(QLatin1Char('\n')));
    EXPECT_TRUE(data->html().contains(cell(CompareTable::psi, 1)));
}

TEST_F(CompareTest, another_study_is_set_beside_and_only_read) {
    open_two();
    QByteArray other = small_study();
    other.replace("\"protected\": 1.2", "\"protected\": 0.9");
    const QString path = write(QStringLiteral("neighbour.wallfoot"), other);
    view().set_beside(path);
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().table()->columnCount() == 3 && cell(CompareTable::psi_change, 2).contains(QStringLiteral("±")); }, 30'000)) << view().told()->text().toStdString();
    EXPECT_EQ(view().table()->horizontalHeaderItem(2)->text(), QStringLiteral("neighbour: Base"));
    EXPECT_TRUE(cell(CompareTable::differs, 2).contains(QStringLiteral("Dense block is stated otherwise: protected 0.9 instead of 1.2"))) << cell(CompareTable::differs, 2).toStdString();
    EXPECT_TRUE(cell(CompareTable::psi_change, 2).contains(QStringLiteral("loses less")));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(file.readAll(), other);
    EXPECT_FALSE(window->isWindowModified() && window->document().is_clean());
    emit view().table()->chosen(QStringLiteral("neighbour\nv1"));
    EXPECT_EQ(window->document().active(), 1u) << "a column of another file leads nowhere here";
    // It may also be what all are compared with.
    view().base()->setCurrentIndex(2);
    EXPECT_TRUE(cell(CompareTable::psi_change, 0).contains(QStringLiteral("loses more"))) << cell(CompareTable::psi_change, 0).toStdString();
    view().take_away();
    EXPECT_EQ(view().table()->columnCount(), 2);
    view().set_beside(write(QStringLiteral("broken.wallfoot"), "{ \"wallfoot\": 1 }"));
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().told()->text().contains(QStringLiteral("broken cannot be set beside")); }, 30'000)) << view().told()->text().toStdString();
    EXPECT_EQ(view().table()->columnCount(), 2);
}

TEST_F(CompareTest, charts_show_values_ranges_and_the_limit) {
    QByteArray ranged = small_study();
    ranged.replace("\"lambda\": { \"dry\": 0.035 }", "\"lambda\": { \"dry\": { \"value\": 0.035, \"low\": 0.03, \"high\": 0.042 } }");
    ASSERT_TRUE(window->open_file(write(QStringLiteral("ranged.wallfoot"), ranged)));
    wait_for_rest();
    window->action(QStringLiteral("view.compare"))->trigger();
    view().tabs()->setCurrentWidget(view().charts());
    CompareCharts& charts = *view().charts();
    ASSERT_TRUE(QTest::qWaitFor([&] { return charts.told().text().contains(QStringLiteral("Insulation board")); }, 60'000)) << charts.told().text().toStdString();
    const auto range = input_range(*window->document().study(), window->document().variant());
    const auto has_stroke = [](QChart& chart, double from, double to) {
        for (QAbstractSeries* series : chart.series())
            if (auto* line = qobject_cast<QLineSeries*>(series); line && line->count() == 2 && std::abs(line->at(0).x() - from) < 1e-9 && std::abs(line->at(1).x() - to) < 1e-9) return true;
        return false;
    };
    EXPECT_TRUE(has_stroke(charts.psi_chart(), range.psi->low, range.psi->high));
    EXPECT_TRUE(has_stroke(charts.factor_chart(), range.fRsi->low, range.fRsi->high));
    bool marked = false;
    for (QAbstractSeries* series : charts.psi_chart().series())
        if (auto* points = qobject_cast<QScatterSeries*>(series)) marked = points->count() == 1 && std::abs(points->at(0).x() - psi()) < 1e-9;
    EXPECT_TRUE(marked) << "a mark at psi as drawn";
    EXPECT_FALSE(has_stroke(charts.factor_chart(), 0.75, 0.75)) << "the convention sets no limit";
    charts.limit().setText(QStringLiteral("0,75"));
    EXPECT_TRUE(has_stroke(charts.factor_chart(), 0.75, 0.75));
}

TEST_F(CompareTest, a_line_is_pulled_across_two_pictures) {
    open_two();
    view().tabs()->setCurrentWidget(view().pictures());
    ComparePictures& pictures = *view().pictures();
    DividedPicture& picture = pictures.picture();
    const auto settled = [&] { return QTest::qWaitFor([&] { return !pictures.busy() && picture.isVisible(); }, 30'000); };
    ASSERT_TRUE(settled());
    EXPECT_NE(pictures.left().currentIndex(), pictures.right().currentIndex());
    const auto grabbed = [&](double share) {
        picture.set_share(share);
        return picture.grab().toImage();
    };
    const QImage left = grabbed(1), right = grabbed(0), both = grabbed(0.5);
    const QRect away(20, 40, both.width() - 40, static_cast<int>(picture.picture_size().height()) - 40);  // from the names, and from the line at an edge
    const QRect at_left(away.left(), away.top(), away.width() / 2 - 20, away.height()), at_right(both.width() / 2 + 20, away.top(), away.width() / 2 - 20, away.height());
    EXPECT_EQ(both.copy(at_left), left.copy(at_left));
    EXPECT_EQ(both.copy(at_right), right.copy(at_right));
    EXPECT_NE(left.copy(at_left), right.copy(at_left));
    EXPECT_NE(left.copy(at_right), right.copy(at_right));
    QTest::mouseClick(&picture, Qt::LeftButton, {}, QPoint(picture.width() / 4, 60));
    EXPECT_NEAR(picture.share(), 0.25, 0.01);
    QTest::keyClick(&picture, Qt::Key_Right);
    EXPECT_NEAR(picture.share(), 0.26, 0.01);
    QTest::keyClick(&picture, Qt::Key_Right, Qt::ShiftModifier);
    EXPECT_NEAR(picture.share(), 0.36, 0.01);
    QTest::keyClick(&picture, Qt::Key_Home);
    EXPECT_EQ(picture.share(), 0);
    QTest::keyClick(&picture, Qt::Key_Left);
    EXPECT_EQ(picture.share(), 0) << "no further than the edge";
    pictures.shows().setCurrentIndex(ComparePictures::difference);
    ASSERT_TRUE(settled());
    EXPECT_NE(picture.grab().toImage().copy(away), right.copy(away));
    QTest::keyClick(&picture, Qt::Key_End);
    EXPECT_TRUE(pictures.told().text().contains(QStringLiteral("less Base"))) << pictures.told().text().toStdString();
}

TEST_F(CompareTest, a_measure_is_changed_until_the_wall_has_the_u_of_the_other) {
    QByteArray measured = small_study();
    measured.replace("\"membranes\":", "\"stretch\": [ { \"id\": \"s\", \"name\": \"Outside insulation\", \"line\": [[150,-400],[150,1200]], \"moves\": \"right\", \"measure\": [[100,600],[200,600]], \"min\": 20, \"max\": 250 } ], \"membranes\":");
    ASSERT_TRUE(window->open_file(write(QStringLiteral("measured.wallfoot"), measured)));
    wait_for_rest();
    window->action(QStringLiteral("variant.duplicate"))->trigger();
    window->document().edit(QStringLiteral("Thinner"), [](const Section& section) { return set_stretch(section, "s", 60'000); });
    window->action(QStringLiteral("view.compare"))->trigger();
    ASSERT_TRUE(QTest::qWaitFor([&] { return view().answered().size() == 2 && cell(CompareTable::psi_change, 1).contains(QStringLiteral("±")); }, 30'000));
    QTimer::singleShot(0, window.get(), [&] {
        auto* dialog = window->findChild<EqualBuildDialog*>();
        ASSERT_TRUE(dialog);
        dialog->element().setCurrentIndex(dialog->element().findText(QStringLiteral("top")));
        ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->busy(); }, 30'000));
        // The same wall but for the insulation: as thick as there, 100 mm.
        EXPECT_TRUE(dialog->told().text().contains(QStringLiteral("Equal at 100 mm"))) << dialog->told().text().toStdString();
        dialog->make().click();
    });
    emit view().equal_wanted();
    const Study& study = *window->document().study();
    ASSERT_EQ(study.variants.size(), 3u);
    EXPECT_EQ(stretch_length(study.variants[2].section->stretch.front()), 100'000);
    EXPECT_EQ(study.variants[2].name, "Base 2, U of top as in Base");
    EXPECT_EQ(stretch_length(study.variants[1].section->stretch.front()), 60'000) << "the variant itself stays";
}

}  // namespace
}  // namespace wallfoot
