// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/dwelling_dialog.hpp"

#include <QAction>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QTimer>

#include "core/dwelling/dwelling_file.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/dwelling_table.hpp"
#include "ui/panels/envelope_page.hpp"
#include "ui/panels/junction_dialog.hpp"
#include "ui/panels/measure_dialog.hpp"

using namespace wallfoot;

namespace {

class WindowDwelling : public WindowTest {
  protected:
    DwellingDialog& opened() {
        open_small();
        window->action(QStringLiteral("file.dwelling"))->trigger();
        auto* dialog = window->findChild<DwellingDialog*>();
        EXPECT_NE(dialog, nullptr);
        settle(*dialog);
        return *dialog;
    }
    static void settle(DwellingDialog& dialog) {
        QCoreApplication::processEvents();
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog.busy(); }, 60'000));
        QCoreApplication::processEvents();
    }
    static QString cell(DwellingDialog& dialog, int row, int column) { return dialog.table().item(row, column)->text(); }
    /// As a person types into a cell.
    static void type_into(DwellingDialog& dialog, int row, int column, const QString& text) {
        dialog.table().item(row, column)->setText(text);
        QCoreApplication::processEvents();
    }
    static int row_of_kind(DwellingDialog& dialog, const QString& name) {
        for (int row = 0; row < dialog.table().rowCount(); ++row)
            if (cell(dialog, row, dwelling_kind) == name) return row;
        return -1;
    }
    static QPushButton* button(DwellingDialog& dialog, const QString& text) {
        for (QPushButton* of : dialog.findChildren<QPushButton*>())
            if (of->text() == text) return of;
        return nullptr;
    }
    /// Answers the next question of this kind.
    static void answer(QMessageBox::StandardButton with) {
        QTimer::singleShot(0, [with] {
            auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
            ASSERT_TRUE(box);
            box->button(with)->click();
        });
    }
    static Junction stated(const std::string& kind, double length, double psi) { return {"x-" + kind, kind, "", length, FromElsewhere{psi, {}, {}, ValueBasis::published, "a table", {}, {}}, {}, {}}; }
};

}  // namespace

TEST_F(WindowDwelling, lists_usual_junctions_as_open_until_they_have_a_row_or_are_said_not_to_be_there) {
    DwellingDialog& dialog = opened();
    const int all = dialog.table().rowCount();
    EXPECT_GT(all, 8);
    EXPECT_TRUE(dialog.sums().text().contains(QStringLiteral("at least")));
    const int eaves = row_of_kind(dialog, QStringLiteral("Eaves"));
    ASSERT_GE(eaves, 0);
    EXPECT_EQ(cell(dialog, eaves, dwelling_standing), QStringLiteral("open"));
    // A length typed into an open kind makes a row, which is open still: it has no value.
    type_into(dialog, eaves, dwelling_length, QStringLiteral("11,2"));
    ASSERT_EQ(dialog.dwelling().junctions.size(), 1u);
    EXPECT_EQ(dialog.dwelling().junctions[0].kind, "eaves");
    EXPECT_DOUBLE_EQ(*dialog.dwelling().junctions[0].length, 11.2);
    EXPECT_EQ(dialog.table().rowCount(), all);
    EXPECT_EQ(cell(dialog, 0, dwelling_value), QStringLiteral("open"));

    dialog.table().setCurrentCell(row_of_kind(dialog, QStringLiteral("Gable")), 0);
    button(dialog, QStringLiteral("Not &in this dwelling"))->click();
    EXPECT_EQ(dialog.dwelling().absent, std::vector<std::string>{"gable"});
    EXPECT_EQ(row_of_kind(dialog, QStringLiteral("Gable")), -1);
    button(dialog, QStringLiteral("Ask for them a&gain"))->click();
    EXPECT_GE(row_of_kind(dialog, QStringLiteral("Gable")), 0);
    dialog.undo();
    EXPECT_EQ(row_of_kind(dialog, QStringLiteral("Gable")), -1);
    dialog.redo();
    EXPECT_GE(row_of_kind(dialog, QStringLiteral("Gable")), 0);
}

TEST_F(WindowDwelling, takes_the_study_in_the_window_as_a_row_and_sums_as_lengths_are_typed) {
    DwellingDialog& dialog = opened();
    ASSERT_TRUE(dialog.add_study_row("v1", "ground-floor-external-wall", 10));
    settle(dialog);
    ASSERT_EQ(dialog.dwelling().junctions.size(), 1u);
    const auto& last = std::get<FromStudy>(dialog.dwelling().junctions[0].value).last;
    ASSERT_TRUE(last) << dialog.told().text().toStdString();
    EXPECT_NEAR(last->psi, psi(), 2e-4);
    EXPECT_EQ(cell(dialog, 0, dwelling_standing), QStringLiteral("up to date"));
    EXPECT_TRUE(dialog.sums().text().contains(QString::number(10 * last->psi, 'f', 3))) << dialog.sums().text().toStdString();
    type_into(dialog, 0, dwelling_length, QStringLiteral("20"));
    EXPECT_TRUE(dialog.sums().text().contains(QString::number(20 * last->psi, 'f', 3))) << dialog.sums().text().toStdString();
    type_into(dialog, 0, dwelling_length, QStringLiteral("twenty"));
    EXPECT_EQ(cell(dialog, 0, dwelling_length), QStringLiteral("20")) << "what is no number changes nothing";
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("twenty")));
    type_into(dialog, 0, dwelling_length, QStringLiteral("-3"));
    EXPECT_DOUBLE_EQ(*dialog.dwelling().junctions[0].length, 20);
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("out of range"))) << dialog.told().text().toStdString();
}

TEST_F(WindowDwelling, marks_what_is_out_of_date_keeps_it_and_updates_it_away_from_the_window) {
    DwellingDialog& dialog = opened();
    ASSERT_TRUE(dialog.add_study_row("v1", "ground-floor-external-wall", 10));
    settle(dialog);
    const QString path = folder.filePath(QStringLiteral("d.dwelling"));
    ASSERT_TRUE(dialog.save_to(path));
    settle(dialog);
    EXPECT_EQ(std::get<FromStudy>(dialog.dwelling().junctions[0].value).file, "small.wallfoot") << "from the folder of the dwelling";
    EXPECT_EQ(cell(dialog, 0, dwelling_standing), QStringLiteral("up to date"));
    const double before = std::get<FromStudy>(dialog.dwelling().junctions[0].value).last->psi;

    write(QStringLiteral("small.wallfoot"), small_study().replace("0.035", "0.030"));
    ASSERT_TRUE(dialog.open_file(path));
    settle(dialog);
    EXPECT_EQ(cell(dialog, 0, dwelling_standing), QStringLiteral("out of date"));
    EXPECT_TRUE(dialog.sums().text().contains(QString::number(10 * before, 'f', 3))) << "the last value is counted";
    EXPECT_TRUE(dialog.sheet().toPlainText().contains(QStringLiteral("out of date")));
    EXPECT_TRUE(dialog.sums().text().contains(QStringLiteral("1 out of date")));
    dialog.update_values();
    EXPECT_TRUE(dialog.busy()) << "the window does not wait";
    settle(dialog);
    EXPECT_EQ(cell(dialog, 0, dwelling_standing), QStringLiteral("up to date"));
    EXPECT_NE(std::get<FromStudy>(dialog.dwelling().junctions[0].value).last->psi, before);

    QFile::remove(folder.filePath(QStringLiteral("small.wallfoot")));
    ASSERT_TRUE(dialog.save_to(path));
    settle(dialog);
    EXPECT_EQ(cell(dialog, 0, dwelling_standing), QStringLiteral("out of date"));
    dialog.update_values();
    settle(dialog);
    EXPECT_TRUE(dialog.told().text().contains(QStringLiteral("cannot be read")) || dialog.told().text().contains(QStringLiteral("No such file"))) << dialog.told().text().toStdString();
    // An update that is stopped leaves the values as they are.
    const Dwelling whole = dialog.dwelling();
    dialog.update_values();
    dialog.stop();
    settle(dialog);
    EXPECT_TRUE(dialog.dwelling() == whole);
}

TEST_F(WindowDwelling, finds_its_studies_again_after_it_was_saved_elsewhere) {
    DwellingDialog& dialog = opened();
    ASSERT_TRUE(dialog.add_study_row("v1", "ground-floor-external-wall", 10));
    settle(dialog);
    ASSERT_TRUE(QDir(folder.path()).mkpath(QStringLiteral("deep/er")));
    ASSERT_TRUE(dialog.save_to(folder.filePath(QStringLiteral("a.dwelling"))));
    ASSERT_TRUE(dialog.save_to(folder.filePath(QStringLiteral("deep/er/b.dwelling"))));
    settle(dialog);
    EXPECT_EQ(std::get<FromStudy>(dialog.dwelling().junctions[0].value).file, "../../small.wallfoot");
    EXPECT_EQ(cell(dialog, 0, dwelling_standing), QStringLiteral("up to date"));
    // What was worked out belongs to the row: one act takes both back, and brings both again, by the way from the new place.
    dialog.undo();
    EXPECT_TRUE(dialog.dwelling().junctions.empty());
    dialog.redo();
    ASSERT_EQ(dialog.dwelling().junctions.size(), 1u);
    EXPECT_TRUE(std::get<FromStudy>(dialog.dwelling().junctions[0].value).last);
    EXPECT_EQ(std::get<FromStudy>(dialog.dwelling().junctions[0].value).file, "../../small.wallfoot");
}

TEST_F(WindowDwelling, asks_before_changes_are_lost) {
    DwellingDialog& dialog = opened();
    Dwelling next = dialog.dwelling();
    next.junctions.push_back(stated("lintel", 4, 0.3));
    ASSERT_TRUE(dialog.change(next));
    EXPECT_TRUE(dialog.isWindowModified());
    answer(QMessageBox::Cancel);
    dialog.close();
    EXPECT_TRUE(dialog.isVisible());
    answer(QMessageBox::Cancel);
    window->close();
    EXPECT_TRUE(window->isVisible()) << "the window beside takes no dwelling along";
    const QString path = folder.filePath(QStringLiteral("kept.dwelling"));
    ASSERT_TRUE(dialog.save_to(path));
    settle(dialog);
    EXPECT_FALSE(dialog.isWindowModified());
    next.junctions[0].length = 5;
    ASSERT_TRUE(dialog.change(next));
    answer(QMessageBox::Save);
    dialog.close();
    EXPECT_DOUBLE_EQ(*load_dwelling(path.toStdString()).dwelling.junctions[0].length, 5);
}

TEST_F(WindowDwelling, takes_prices_once_they_are_whole) {
    DwellingDialog& dialog = opened();
    Dwelling next = dialog.dwelling();
    next.junctions.push_back(stated("lintel", 10, 0.1));
    next.envelope.push_back({"w", "Wall", 50, 0.2, "", {}});
    ASSERT_TRUE(dialog.save_to(folder.filePath(QStringLiteral("p.dwelling"))));
    ASSERT_TRUE(dialog.change(next));
    dialog.undo();
    dialog.redo();  // the page shows what is there
    EnvelopePage& page = dialog.envelope();
    ASSERT_EQ(page.table().rowCount(), 1);
    page.table().item(0, 1)->setText(QStringLiteral("40"));
    EXPECT_DOUBLE_EQ(dialog.dwelling().envelope[0].area, 40);
    page.field(QStringLiteral("degree_days")).setText(QStringLiteral("2000"));
    EXPECT_FALSE(dialog.dwelling().degree_days);
    EXPECT_TRUE(page.problem().contains(QStringLiteral("source"))) << page.problem().toStdString();
    page.field(QStringLiteral("degree_days.source")).setText(QStringLiteral("a list"));
    ASSERT_TRUE(dialog.dwelling().degree_days);
    page.field(QStringLiteral("price")).setText(QStringLiteral("0,5"));
    page.field(QStringLiteral("price.date")).setText(QStringLiteral("2026-11-26"));
    EXPECT_FALSE(dialog.dwelling().energy_price);
    page.field(QStringLiteral("price.source")).setText(QStringLiteral("bill"));
    ASSERT_TRUE(dialog.dwelling().energy_price);
    // 10 m of 0.1 W/(m·K): 1 W/K, 48 kWh in 2000 K·d, 24 at half a coin.
    EXPECT_TRUE(dialog.sums().text().contains(QStringLiteral("<b>48</b>"))) << dialog.sums().text().toStdString();
    EXPECT_TRUE(dialog.sums().text().contains(QStringLiteral("<b>24.00</b>"))) << dialog.sums().text().toStdString();
    EXPECT_TRUE(dialog.worked_out().toPlainText().contains(QStringLiteral("1 W/K · 2000 K·d"))) << dialog.worked_out().toPlainText().toStdString();
    page.table().setCurrentCell(0, 0);
    page.table().removeRow(0);
}

TEST_F(WindowDwelling, shows_the_sheet_to_be_typed_and_copies_it) {
    DwellingDialog& dialog = opened();
    Dwelling next = dialog.dwelling();
    next.junctions.push_back(stated("lintel", 4, 0.0345));
    ASSERT_TRUE(dialog.change(next));
    EXPECT_TRUE(dialog.sheet().toPlainText().contains(QStringLiteral("+0.035")));
    EXPECT_TRUE(dialog.sheet().toPlainText().contains(QStringLiteral("Check sum: +0.140 W/K")));
    button(dialog, QStringLiteral("&Copy as text"))->click();
    EXPECT_EQ(QApplication::clipboard()->text(), dialog.sheet().toPlainText());
    button(dialog, QStringLiteral("Copy for a sp&readsheet"))->click();
    EXPECT_TRUE(QApplication::clipboard()->text().contains(QStringLiteral("1,Lintel,,4.00,+0.035,")));
    dialog.sheet_template().setCurrentIndex(dialog.sheet_template().findData(QStringLiteral("junction-list-outer")));
    EXPECT_TRUE(dialog.sheet().toPlainText().contains(QStringLiteral("+0.03 "))) << dialog.sheet().toPlainText().toStdString();
    dialog.undo();
    dialog.close();
}

TEST_F(WindowDwelling, row_from_elsewhere_needs_its_source_and_takes_a_comma) {
    Dwelling dwelling;
    dwelling.envelope.push_back({"w", "Wall", 50, 0.2, "", {}});
    JunctionDialog dialog(dwelling, {}, Junction{"j1", "lintel", "", {}, {}, {}, {}}, {});
    auto* ok = dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok);
    EXPECT_FALSE(ok->isEnabled());
    dialog.field(QStringLiteral("psi")).setText(QStringLiteral("-0,05"));
    EXPECT_FALSE(ok->isEnabled());
    EXPECT_TRUE(dialog.problem().text().contains(QStringLiteral("where the value is from"))) << dialog.problem().text().toStdString();
    dialog.field(QStringLiteral("source")).setText(QStringLiteral("a table"));
    EXPECT_TRUE(ok->isEnabled()) << dialog.problem().text().toStdString();
    dialog.field(QStringLiteral("lower")).setText(QStringLiteral("0"));
    EXPECT_FALSE(ok->isEnabled()) << "the bounds hold the value";
    dialog.field(QStringLiteral("lower")).clear();
    dialog.field(QStringLiteral("length")).setText(QStringLiteral("four"));
    EXPECT_FALSE(ok->isEnabled());
    dialog.field(QStringLiteral("length")).setText(QStringLiteral("4"));
    const Junction made = dialog.junction();
    EXPECT_DOUBLE_EQ(std::get<FromElsewhere>(made.value).psi, -0.05);
    EXPECT_DOUBLE_EQ(*made.length, 4);
    dialog.from().setCurrentIndex(2);  // nothing known yet
    EXPECT_TRUE(ok->isEnabled());
    EXPECT_TRUE(std::holds_alternative<std::monostate>(dialog.junction().value));

    Junction of_study{"j1", "lintel", "", 4, FromStudy{"a.wallfoot", "v1", LastValue{0.1, 0.1, 0.1, "h", "2026-11-26", DwellingLengths::internal, {{"top", 0.25, 1.5, {}}}, {}, {}}, {}}, {{"top", {}, "w", {}}}, {}};
    JunctionDialog edit(dwelling, {}, of_study, {{QStringLiteral("v1"), QStringLiteral("One")}, {QStringLiteral("v2"), QStringLiteral("Two")}});
    EXPECT_EQ(edit.junction(), of_study) << "nothing is lost where nothing is changed";
    edit.variant().setCurrentIndex(1);
    EXPECT_FALSE(std::get<FromStudy>(edit.junction().value).last) << "it was that of another variant";
}

TEST(DwellingValues, what_was_solved_while_a_dialog_was_open_is_kept) {
    LastValue old, newer;
    old.psi = 0.1, newer.psi = 0.2;
    decltype(DwellingMeasure::value) entered = FromStudy{"a.wallfoot", "v1", old, {}}, now = FromStudy{"a.wallfoot", "v1", newer, {}};
    keep_newest(entered, now);
    EXPECT_EQ(std::get<FromStudy>(entered).last->psi, 0.2);
    entered = FromStudy{"a.wallfoot", "v2", {}, {}};
    keep_newest(entered, now);
    EXPECT_FALSE(std::get<FromStudy>(entered).last) << "that of another variant says nothing";
}

TEST_F(WindowDwelling, a_measure_is_entered_weighed_and_taken_out) {
    DwellingDialog& dialog = opened();
    EXPECT_FALSE(button(dialog, QStringLiteral("A&dd a measure…"))->isEnabled()) << "it needs a row";
    Dwelling next = dialog.dwelling();
    next.junctions.push_back(stated("lintel", 4, 0.3));
    ASSERT_TRUE(dialog.change(next));
    const auto fill = [&](const QString& psi, const QString& date) {
        QTimer::singleShot(0, window.get(), [=] {
            auto* measure = qobject_cast<MeasureDialog*>(QApplication::activeModalWidget());
            ASSERT_NE(measure, nullptr);
            auto* ok = measure->findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok);
            EXPECT_FALSE(ok->isEnabled());
            measure->field(QStringLiteral("name")).setText(QStringLiteral("Lintel in two halves"));
            measure->field(QStringLiteral("psi")).setText(psi);
            measure->field(QStringLiteral("source")).setText(QStringLiteral("a table"));
            EXPECT_TRUE(ok->isEnabled()) << measure->problem().text().toStdString();
            measure->field(QStringLiteral("cost")).setText(QStringLiteral("90"));
            EXPECT_FALSE(ok->isEnabled()) << "a price needs its day";
            measure->field(QStringLiteral("cost.date")).setText(date);
            measure->field(QStringLiteral("cost.source")).setText(QStringLiteral("an offer"));
            EXPECT_TRUE(ok->isEnabled()) << measure->problem().text().toStdString();
            measure->accept();
        });
    };
    fill(QStringLiteral("0,05"), QStringLiteral("2026-11-26"));
    button(dialog, QStringLiteral("A&dd a measure…"))->click();
    ASSERT_EQ(dialog.dwelling().measures.size(), 1u);
    EXPECT_DOUBLE_EQ(std::get<FromElsewhere>(dialog.dwelling().measures[0].value).psi, 0.05);
    EXPECT_DOUBLE_EQ(dialog.dwelling().measures[0].cost->value, 90);
    ASSERT_EQ(dialog.measures().rowCount(), 1);
    // 4 m of 0.25 W/(m·K) less.
    EXPECT_TRUE(dialog.measures().item(0, 2)->text().startsWith(QStringLiteral("saves 1.000 W/K"))) << dialog.measures().item(0, 2)->text().toStdString();
    dialog.measures().setCurrentCell(0, 0);
    for (QPushButton* of : dialog.findChildren<QPushButton*>())
        if (of->text() == QStringLiteral("&Remove") && of->parentWidget() == dialog.measures().parentWidget()) of->click();
    EXPECT_TRUE(dialog.dwelling().measures.empty());
    dialog.undo();
    EXPECT_EQ(dialog.dwelling().measures.size(), 1u);
}

TEST_F(WindowDwelling, asks_before_it_saves_over_what_somebody_else_wrote) {
    DwellingDialog& dialog = opened();
    Dwelling next = dialog.dwelling();
    next.junctions.push_back(stated("lintel", 4, 0.3));
    ASSERT_TRUE(dialog.change(next));
    const QString path = folder.filePath(QStringLiteral("two.dwelling"));
    ASSERT_TRUE(dialog.save_to(path));
    settle(dialog);
    Dwelling others = next;
    others.junctions[0].length = 7;
    save_dwelling(others, path.toStdString());
    next.junctions[0].length = 5;
    ASSERT_TRUE(dialog.change(next));
    answer(QMessageBox::Cancel);
    EXPECT_FALSE(dialog.save_to(path));
    EXPECT_DOUBLE_EQ(*load_dwelling(path.toStdString()).dwelling.junctions[0].length, 7);
    answer(QMessageBox::Save);
    EXPECT_TRUE(dialog.save_to(path));
    EXPECT_DOUBLE_EQ(*load_dwelling(path.toStdString()).dwelling.junctions[0].length, 5);
}

TEST_F(WindowDwelling, a_crash_leaves_a_copy_that_is_offered) {
    const QString copies = folder.filePath(QStringLiteral("copies"));
    Dwelling changed;
    changed.name = "Plot nine";
    changed.junctions.push_back(stated("lintel", 4, 0.3));
    {
        DwellingDialog dialog([] { return StudyInWindow{}; }, nullptr, copies);
        ASSERT_TRUE(dialog.change(changed));
        dialog.keep_copy_now();
        dialog.finish_copy();
        EXPECT_TRUE(KeptCopy::left_behind(copies).empty()) << "of a program that runs";
        const QString copy = QDir(copies).entryInfoList({QStringLiteral("*.copy")}).value(0).filePath();
        ASSERT_FALSE(copy.isEmpty());
        // As after a crash: the copy is there, nobody holds its lock.
        ASSERT_TRUE(QFile::copy(copy, QDir(copies).filePath(QStringLiteral("gone.copy"))));
    }
    ASSERT_EQ(KeptCopy::left_behind(copies).size(), 1u) << "who leaves in good order leaves none";
    DwellingDialog dialog([] { return StudyInWindow{}; }, nullptr, copies);
    QTimer::singleShot(0, [] {
        auto* question = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
        ASSERT_NE(question, nullptr);
        for (QAbstractButton* of : question->buttons())
            if (of->text() == QStringLiteral("Open the copy")) of->click();
    });
    EXPECT_TRUE(dialog.offer_left_behind());
    EXPECT_EQ(dialog.dwelling().name, "Plot nine");
    EXPECT_EQ(dialog.dwelling().junctions.size(), 1u);
    EXPECT_TRUE(dialog.changed());
    EXPECT_FALSE(QFile::exists(QDir(copies).filePath(QStringLiteral("gone.copy"))));
}
