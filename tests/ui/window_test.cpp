// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QDialog>
#include <QLineEdit>
#include <QListWidget>
#include <QLocale>
#include <QMenu>
#include <QTableWidget>
#include <QTimer>
#include <QToolButton>
#include <cmath>

#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/findings_panel.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/variants_strip.hpp"
#include "ui/sheet/entry_box.hpp"

using namespace wallfoot;

namespace {

void choose(QComboBox* list, const QString& id) { list->setCurrentIndex(list->findData(id)); }

}  // namespace

TEST_F(WindowTest, a_study_opens_and_is_answered) {
    open_small();
    EXPECT_TRUE(std::isfinite(psi()));
    EXPECT_TRUE(window->answer_strip().text().contains(QStringLiteral("psi"))) << window->answer_strip().text().toStdString();
    EXPECT_TRUE(window->answer_strip().text().contains(QStringLiteral("fRsi")));
    EXPECT_GT(window->findings_panel().topLevelItemCount(), 3);
}

TEST_F(WindowTest, picking_by_mouse_and_in_the_contents_is_one_thing) {
    open_small();
    QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, on_sheet(50, -200));
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("foot"));
    ASSERT_EQ(window->contents_panel().selectedItems().size(), 1);
    EXPECT_EQ(window->contents_panel().selectedItems().first()->text(0), QStringLiteral("Foot block"));
    // A second click on the same place goes to the piece below.
    QTest::mouseClick(&window->sheet(), Qt::LeftButton, {}, on_sheet(50, -200));
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("under"));
}

TEST_F(WindowTest, another_block_at_the_foot_changes_the_answer_and_undo_brings_it_back) {
    open_small();
    const double dense = psi();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    choose(window->piece_panel().material(), QStringLiteral("light"));
    wait_for_rest();
    // A block that conducts an eighth of the heat lets less through the foot.
    EXPECT_LT(psi(), dense - 0.01);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Change material"));
    window->action(QStringLiteral("edit.undo"))->trigger();
    // The earlier answer is kept: it is there at once, to the last bit.
    EXPECT_TRUE(window->at_rest());
    EXPECT_EQ(psi(), dense);
    EXPECT_TRUE(window->document().is_clean());
}

TEST_F(WindowTest, a_piece_drawn_by_typed_lengths_undone_and_saved) {
    open_small();
    const std::string before = write_study(*window->document().study());
    window->action(QStringLiteral("draw.polygon"))->trigger();
    Sheet& sheet = window->sheet();
    QTest::mouseMove(&sheet, on_sheet(-400, 300));
    const auto type = [&](const char* first, const std::vector<const char*>& more) {
        type_on_sheet(first);
        ASSERT_TRUE(sheet.entry_box()->isVisible());
        for (const char* field : more) {
            QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
            QTest::keyClicks(QApplication::focusWidget(), QString::fromLatin1(field));
        }
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Return);
    };
    type("-500", {"0"});          // x, y
    type("200", {"0"});           // length, angle
    type("60+2,5", {"90"});       // a sum with a decimal comma
    type("20cm", {"180"});        // a unit
    ASSERT_NE(sheet.outline(), nullptr);
    ASSERT_EQ(sheet.outline()->corners().size(), 4u);
    QTest::keyClick(&sheet, Qt::Key_Return);
    const Section& section = window->document().section();
    ASSERT_EQ(section.pieces.size(), 6u);
    const Outline drawn = section.pieces.back().outline;
    EXPECT_EQ(drawn, (Outline{{-500'000, 0}, {-300'000, 0}, {-300'000, 62'500}, {-500'000, 62'500}}));
    EXPECT_EQ(sheet.picked().id.toStdString(), section.pieces.back().id);
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(write_study(*window->document().study()), before);
    window->action(QStringLiteral("edit.redo"))->trigger();
    const QString path = folder.filePath(QStringLiteral("saved.wallfoot"));
    ASSERT_TRUE(window->save_to(path));
    EXPECT_TRUE(window->document().is_clean());
    EXPECT_EQ(write_study(load_study(path.toStdString()).study), write_study(*window->document().study()));
}

TEST_F(WindowTest, typed_numbers_mean_the_same_in_a_german_locale) {
    const QLocale before;
    QLocale::setDefault(QLocale(QLocale::German, QLocale::Germany));
    open_small();
    window->action(QStringLiteral("draw.rectangle"))->trigger();
    Sheet& sheet = window->sheet();
    type_on_sheet("12.5");
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("12,5"));
    EXPECT_EQ(sheet.outline()->target(), (Point{12'500, 12'500}));
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Escape);
    EXPECT_FALSE(sheet.entry_box()->isVisible());

    window->sheet().set_picked({PickedKind::piece, QStringLiteral("slab")});
    auto* corners = window->piece_panel().corners();
    corners->item(2, 1)->setText(QStringLiteral("12.5"));
    EXPECT_EQ(find_piece(window->document().section(), "slab")->outline[2].y, 12'500);
    corners->item(2, 1)->setText(QStringLiteral("1,5 cm"));
    EXPECT_EQ(find_piece(window->document().section(), "slab")->outline[2].y, 15'000);
    QLocale::setDefault(before);
}

TEST_F(WindowTest, dragging_an_edge_takes_the_neighbours_along_and_esc_leaves_all_as_it_was) {
    open_small();
    Sheet& sheet = window->sheet();
    sheet.set_picked({PickedKind::piece, QStringLiteral("leaf")});
    const auto drag = [&](QPoint from, QPoint to) {
        QTest::mouseMove(&sheet, from);
        QTest::mousePress(&sheet, Qt::LeftButton, {}, from);
        QTest::mouseMove(&sheet, (from + to) / 2);
        QTest::mouseMove(&sheet, to);
    };
    const auto section = window->document().variant().section;
    drag(on_sheet(100, 700), on_sheet(130, 710));
    EXPECT_NE(sheet.shown(), section);
    QTest::keyClick(&sheet, Qt::Key_Escape);
    QTest::mouseRelease(&sheet, Qt::LeftButton, {}, on_sheet(130, 710));
    EXPECT_EQ(window->document().variant().section, section);

    drag(on_sheet(100, 700), on_sheet(130, 710));
    QTest::mouseRelease(&sheet, Qt::LeftButton, {}, on_sheet(130, 710));
    const Section& moved = window->document().section();
    const Micrometres face = find_piece(moved, "leaf")->outline[1].x;
    EXPECT_EQ(face % 10'000, 0);
    EXPECT_NEAR(static_cast<double>(face), 130'000, 10'000);
    EXPECT_EQ(find_piece(moved, "outer")->outline[0].x, face);
    EXPECT_EQ(find_piece(moved, "foot")->outline[1].x, face);
    EXPECT_EQ(window->document().undo_stack().count(), 1);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Move edge"));
}

TEST_F(WindowTest, a_faulty_file_is_explained_and_leaves_the_study) {
    open_small();
    const auto before = window->document().study();
    const QString broken = write(QStringLiteral("broken.wallfoot"), small_study().replace("0.12", "-1").replace("\"material\": \"board\"", "\"material\": \"none\""));
    int listed = 0;
    QTimer::singleShot(0, window.get(), [&] {
        auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(dialog, nullptr);
        listed = dialog->findChild<QListWidget*>(QStringLiteral("faults"))->count();
        dialog->reject();
    });
    EXPECT_FALSE(window->open_file(broken));
    EXPECT_GE(listed, 2);
    EXPECT_EQ(window->document().study(), before);
    EXPECT_TRUE(std::isfinite(psi()));
}

TEST_F(WindowTest, a_fault_of_the_drawing_takes_the_number_away_and_is_listed) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("leaf")});
    // Without the leaf and the outer insulation both spaces are one region of air with two marks.
    window->action(QStringLiteral("edit.delete"))->trigger();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("outer")});
    window->action(QStringLiteral("edit.delete"))->trigger();
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->findings() && window->findings()->has_fault(); }, 30'000));
    EXPECT_TRUE(window->answer_strip().text().contains(QStringLiteral("no answer"))) << window->answer_strip().text().toStdString();
    EXPECT_FALSE(window->answer_strip().text().contains(QStringLiteral("psi")));
    window->action(QStringLiteral("edit.undo"))->trigger();
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_TRUE(std::isfinite(psi()));
}

TEST_F(WindowTest, variants_show_their_difference) {
    open_small();
    window->action(QStringLiteral("variant.duplicate"))->trigger();
    ASSERT_EQ(window->document().study()->variants.size(), 2u);
    EXPECT_EQ(window->document().active(), 1u);
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    choose(window->piece_panel().material(), QStringLiteral("light"));
    wait_for_rest();
    EXPECT_TRUE(QTest::qWaitFor([&] { return window->variants_strip().texts().value(1).contains(QChar(0x2212)); }, 30'000))
        << window->variants_strip().texts().join(QLatin1Char('|')).toStdString();
    EXPECT_EQ(window->document().study()->variants[0].section->pieces[2].filled_with, "dense");
}

TEST_F(WindowTest, saving_to_an_impossible_place_loses_nothing) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    choose(window->piece_panel().material(), QStringLiteral("light"));
    QTimer::singleShot(0, window.get(), [&] { qobject_cast<QDialog*>(QApplication::activeModalWidget())->reject(); });
    EXPECT_FALSE(window->save_to(folder.filePath(QStringLiteral("no/such/folder/x.wallfoot"))));
    EXPECT_FALSE(window->document().is_clean());
    EXPECT_EQ(find_piece(window->document().section(), "foot")->filled_with, "light");
}

TEST_F(WindowTest, marks_stand_clear_of_the_coldest_point_and_of_each_other) {
    open_small();
    Sheet& sheet = window->sheet();
    const auto& at = window->findings()->headline_surface()->at;
    const Point coldest{std::llround(at[0]), std::llround(at[1])}, elsewhere{-600'000, -100'000};
    std::vector<Mark> marks(8, Mark{coldest, 1, false, {}});
    marks.push_back({elsewhere, 9, false, {}});
    sheet.set_marks(marks);
    std::vector<QPointF> places = sheet.mark_places();
    ASSERT_EQ(places.size(), 9u);
    EXPECT_EQ(places.back(), sheet.view().to_pixels(elsewhere)) << "nothing is in its way";
    places.push_back(sheet.view().to_pixels(coldest));
    for (std::size_t i = 0; i < places.size(); ++i)
        for (std::size_t j = 0; j < i; ++j) EXPECT_GT(QLineF(places[i], places[j]).length(), 24) << i << " and " << j;  // the width of a mark, pixels
}

TEST_F(WindowTest, no_label_is_cut_and_every_field_has_a_name) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    QTest::qWait(50);
    for (const auto* button : window->findChildren<QToolButton*>()) {
        if (!button->isVisible() || button->text().isEmpty()) continue;
        EXPECT_GE(button->width(), button->fontMetrics().horizontalAdvance(button->text().remove(QLatin1Char('&')))) << button->text().toStdString();
    }
    for (auto* widget : window->findChildren<QWidget*>()) {
        const bool field = qobject_cast<QLineEdit*>(widget) || qobject_cast<QComboBox*>(widget) || widget == &window->sheet();
        if (!field || !widget->isVisible()) continue;
        EXPECT_FALSE(widget->accessibleName().isEmpty()) << widget->metaObject()->className();
    }
    for (const Activity activity : {Activity::draw, Activity::heat}) {
        window->sheet().set_activity(activity);
        EXPECT_FALSE(window->sheet().grab().isNull());
    }
}
