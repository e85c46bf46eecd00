// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QDragMoveEvent>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QMimeData>
#include <QPushButton>
#include <QSettings>
#include <QTimer>
#include <QTreeWidget>
#include <functional>

#include "core/file/material_table.hpp"
#include "core/file/materials_exchange.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/materials_panel.hpp"
#include "ui/panels/piece_panel.hpp"

using namespace wallfoot;

namespace {

class WindowMaterials : public WindowTest {
  protected:
    MaterialsPanel& panel() { return window->materials_panel(); }
    void act(const char* command) { window->action(QString::fromLatin1(command))->trigger(); }
    /// Triggers a command and works in the dialog that it opens.
    void in_dialog(const char* command, const std::function<void(QDialog&)>& work) {
        bool opened = false;
        QTimer::singleShot(0, window.get(), [&] {
            auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
            ASSERT_NE(dialog, nullptr);
            opened = true;
            work(*dialog);
            if (dialog->isVisible()) dialog->reject();
        });
        act(command);
        EXPECT_TRUE(opened);
    }
    static void type(QDialog& dialog, const char* field, const char* text) {
        auto* line = dialog.findChild<QLineEdit*>(QString::fromLatin1(field));
        ASSERT_NE(line, nullptr) << field;
        line->setFocus();
        line->selectAll();
        QTest::keyClicks(line, QString::fromUtf8(text));
        if (!*text) QTest::keyClick(line, Qt::Key_Delete);
    }
    static void choose_condition(QDialog& dialog, int row) {
        auto* rows = dialog.findChild<QTreeWidget*>(QStringLiteral("conditions"));
        rows->scrollToItem(rows->topLevelItem(row));  // on a low screen not all of them are in view
        QTest::mouseClick(rows->viewport(), Qt::LeftButton, {}, rows->visualItemRect(rows->topLevelItem(row)).center());
    }
    static void ok(QDialog& dialog) {
        QTest::mouseClick(dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok), Qt::LeftButton);
    }
    static QString fault(QDialog& dialog, const char* field) {
        const auto* label = dialog.findChild<QLabel*>(QStringLiteral("fault.") + QLatin1String(field));
        return label->isVisible() ? label->text() : QString();
    }
    QTreeWidgetItem* row(const QString& name) {
        for (QTreeWidgetItemIterator it(panel().list()); *it; ++it)
            if ((*it)->text(0) == name) return *it;
        return nullptr;
    }
    int rows() {
        int count = 0;
        for (QTreeWidgetItemIterator it(panel().list()); *it; ++it) count += (*it)->flags().testFlag(Qt::ItemIsSelectable) ? 1 : 0;
        return count;
    }
    void mark(const QString& name) {
        ASSERT_NE(row(name), nullptr) << name.toStdString();
        panel().list()->setCurrentItem(row(name));
    }
};

}  // namespace

TEST_F(WindowMaterials, an_own_material_is_entered_and_given_to_a_piece_and_undo_brings_all_back) {
    open_small();
    const double before = psi();
    const std::string study_before = write_study(*window->document().study());
    in_dialog("material.add", [&](QDialog& dialog) {
        type(dialog, "name", "Paper block");
        type(dialog, "value", "0,30");
        choose_condition(dialog, 3);
        type(dialog, "value", "0.36");
        type(dialog, "source", "sheet 7, page 2");
        ok(dialog);
    });
    const Material* added = window->document().study()->find_material("paper-block");
    ASSERT_NE(added, nullptr);
    ASSERT_EQ(added->lambda.by_condition.size(), 2u);
    EXPECT_EQ(added->lambda.by_condition.at(Condition::dry).value, 0.3);
    EXPECT_EQ(added->lambda.by_condition.at(Condition::below_dpc).value, 0.36);
    EXPECT_EQ(added->lambda.by_condition.at(Condition::below_dpc).source, "sheet 7, page 2");

    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    ASSERT_TRUE(panel().marked().has_value());
    EXPECT_EQ(panel().marked()->material.id, "paper-block") << "what was added is marked";
    panel().list()->setFocus();
    QTest::keyClick(panel().list(), Qt::Key_Return);
    EXPECT_EQ(find_piece(window->document().section(), "foot")->filled_with, "paper-block");
    wait_for_rest();
    const double with_paper = psi();
    EXPECT_LT(with_paper, before - 0.01) << "0.3 in the place of 1.2 W/(m·K)";

    in_dialog("material.edit", [&](QDialog& dialog) {
        type(dialog, "value", "0.6");
        ok(dialog);
    });
    EXPECT_NE(psi(), with_paper) << "the old answer must not stand for the new material";
    wait_for_rest();
    EXPECT_GT(psi(), with_paper);

    EXPECT_EQ(window->document().undo_stack().count(), 3);
    act("edit.undo");
    wait_for_rest();
    EXPECT_DOUBLE_EQ(psi(), with_paper);
    act("edit.undo");
    wait_for_rest();
    EXPECT_DOUBLE_EQ(psi(), before);
    act("edit.undo");
    EXPECT_EQ(write_study(*window->document().study()), study_before);
}

TEST_F(WindowMaterials, a_wrong_entry_is_said_at_its_field_and_nothing_is_lost) {
    open_small();
    const auto before = window->document().study();
    in_dialog("material.add", [&](QDialog& dialog) {
        ok(dialog);
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_FALSE(fault(dialog, "name").isEmpty());
        type(dialog, "name", "Dense block");
        type(dialog, "value", "0,3x");
        choose_condition(dialog, 4);
        type(dialog, "low", "0.2");
        choose_condition(dialog, 1);
        EXPECT_TRUE(fault(dialog, "value").isEmpty()) << "the fault is of another condition";
        ok(dialog);
        EXPECT_TRUE(dialog.isVisible());
        auto* list = dialog.findChild<QTreeWidget*>(QStringLiteral("conditions"));
        EXPECT_EQ(list->indexOfTopLevelItem(list->currentItem()), 0) << "led to the first fault";
        EXPECT_FALSE(fault(dialog, "value").isEmpty());
        EXPECT_EQ(dialog.findChild<QLineEdit*>(QStringLiteral("value"))->text(), QStringLiteral("0,3x"));
        EXPECT_EQ(list->topLevelItem(4)->text(1), QStringLiteral("to settle"));
        EXPECT_EQ(list->topLevelItem(2)->text(1), QStringLiteral("not declared"));
        type(dialog, "value", "0,3");
        EXPECT_TRUE(fault(dialog, "value").isEmpty());
        ok(dialog);
        EXPECT_EQ(list->indexOfTopLevelItem(list->currentItem()), 4);
        EXPECT_EQ(dialog.findChild<QLineEdit*>(QStringLiteral("low"))->text(), QStringLiteral("0.2"));
        type(dialog, "value", "0.21");
        ok(dialog);
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_TRUE(fault(dialog, "name").contains(QStringLiteral("Dense block"))) << "taken";
        EXPECT_EQ(window->document().study(), before);
        type(dialog, "name", "Other block");
        ok(dialog);
        EXPECT_FALSE(dialog.isVisible());
    });
    EXPECT_EQ(window->document().study()->find_material("other-block")->lambda.by_condition.at(Condition::below_ground).low, 0.2);
}

// R = d / λ: 0.1 m / 0.5 m²·K/W = 0.2 W/(m·K).
TEST_F(WindowMaterials, a_unit_resistance_is_converted_and_echoed) {
    open_small();
    in_dialog("material.add", [&](QDialog& dialog) {
        type(dialog, "name", "Unit");
        dialog.findChild<QComboBox*>(QStringLiteral("stated_as"))->setCurrentIndex(1);
        type(dialog, "value", "0,5");
        type(dialog, "thickness", "10 cm");
        EXPECT_TRUE(dialog.findChild<QLabel*>(QStringLiteral("echo"))->text().startsWith(QStringLiteral("0.2"))) << "echo";
        QTest::mouseClick(dialog.findChild<QPushButton*>(QStringLiteral("same")), Qt::LeftButton);
        ok(dialog);
    });
    const Material* unit = window->document().study()->find_material("unit");
    ASSERT_NE(unit, nullptr);
    EXPECT_EQ(unit->lambda.by_condition.size(), 6u);
    EXPECT_EQ(unit->lambda.by_condition.at(Condition::saturated).value, 0.2);
}

// 0.197946 and 0.171837 by hand in tests/unit/standards/masonry_test.cpp.
TEST_F(WindowMaterials, units_in_mortar_are_worked_out_in_both_axes_and_the_source_says_how) {
    open_small();
    in_dialog("material.add", [&](QDialog& dialog) {
        auto* length = dialog.findChild<QLineEdit*>(QStringLiteral("unit_length"));
        EXPECT_FALSE(length->isVisible()) << "asked for only where they count";
        type(dialog, "name", "Leaf of units");
        dialog.findChild<QComboBox*>(QStringLiteral("stated_as"))->setCurrentIndex(2);
        EXPECT_TRUE(length->isVisible());
        type(dialog, "value", "0,15");
        type(dialog, "unit_length", "440");
        type(dialog, "unit_height", "215");
        type(dialog, "bed", "10");
        type(dialog, "perpend", "1 cm");
        ok(dialog);
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_TRUE(fault(dialog, "mortar").contains(QStringLiteral("mortar is needed"))) << fault(dialog, "mortar").toStdString();
        type(dialog, "mortar", "0,88");
        const QString echo = dialog.findChild<QLabel*>(QStringLiteral("echo"))->text();
        EXPECT_TRUE(echo.startsWith(QStringLiteral("0.1979")) && echo.contains(QStringLiteral("0.1718"))) << echo.toStdString();
        dialog.findChild<QCheckBox*>()->setChecked(true);
        auto* list = dialog.findChild<QTreeWidget*>(QStringLiteral("conditions"));
        EXPECT_TRUE(list->topLevelItem(6)->text(1).startsWith(QStringLiteral("0.1718"))) << "along the height it follows";
        ok(dialog);
        EXPECT_FALSE(dialog.isVisible());
    });
    const Material* leaf = window->document().study()->find_material("leaf-of-units");
    ASSERT_NE(leaf, nullptr);
    EXPECT_EQ(leaf->lambda.by_condition.at(Condition::dry).value, 0.197946);
    EXPECT_EQ(leaf->lambda_up.by_condition.at(Condition::dry).value, 0.171837);
    EXPECT_NE(leaf->lambda.by_condition.at(Condition::dry).source.find("440 mm × 215 mm"), std::string::npos);
    in_dialog("material.edit", [&](QDialog& dialog) {
        const auto* source = dialog.findChild<QLineEdit*>(QStringLiteral("source"));
        EXPECT_TRUE(source->text().contains(QStringLiteral("parallel paths"))) << "whoever opens it reads how";
        EXPECT_EQ(source->toolTip(), source->text()) << "the whole of it";
        dialog.reject();
    });
}

TEST_F(WindowMaterials, those_used_last_come_first_and_are_there_the_next_time) {
    open_small();
    EXPECT_EQ(panel().list()->topLevelItem(0)->text(0), QStringLiteral("In this study")) << "nothing was used yet";
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    auto* filling = window->piece_panel().material();
    filling->setCurrentIndex(filling->findData(QStringLiteral("light")));
    mark(QStringLiteral("Steel"));
    act("material.give");
    const auto recent = [&] {
        QStringList names;
        const auto* group = panel().list()->topLevelItem(0);
        for (int i = 0; group->text(0) == QStringLiteral("Used last") && i < group->childCount(); ++i) names << group->child(i)->text(0);
        return names;
    };
    EXPECT_EQ(recent(), (QStringList{QStringLiteral("Steel"), QStringLiteral("Light block")}));
    panel().search()->setText(QStringLiteral("light bl"));
    EXPECT_EQ(recent(), QStringList{QStringLiteral("Light block")}) << "the search holds for them too";
    panel().search()->clear();
    // One of this study alone, changed, is still at hand in the next one.
    in_dialog("material.add", [&](QDialog& dialog) {
        type(dialog, "name", "Paper block");
        type(dialog, "value", "0.31");
        ok(dialog);
    });
    act("material.give");
    EXPECT_EQ(recent().first(), QStringLiteral("Paper block"));
    window = std::make_unique<MainWindow>();
    window->resize(1200, 800);
    window->show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(window.get()));
    open_small();
    EXPECT_EQ(recent(), (QStringList{QStringLiteral("Paper block"), QStringLiteral("Steel"), QStringLiteral("Light block")}));
    ASSERT_EQ(window->document().study()->find_material("paper-block"), nullptr);
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("foot")});
    panel().list()->setCurrentItem(panel().list()->topLevelItem(0)->child(0));
    act("material.give");
    const Material* copied = window->document().study()->find_material("paper-block");
    ASSERT_NE(copied, nullptr);
    EXPECT_EQ(copied->lambda.by_condition.at(Condition::dry).value, 0.31);
    EXPECT_EQ(find_piece(window->document().section(), "foot")->filled_with, "paper-block");
    EXPECT_EQ(recent().size(), 3) << "none stands there twice";
    for (const char* name : {"under", "slab", "leaf", "outer"}) {
        window->sheet().set_picked({PickedKind::piece, QString::fromLatin1(name)});
        for (const char* id : {"dense", "board", "concrete", "light"}) filling = window->piece_panel().material(), filling->setCurrentIndex(filling->findData(QString::fromLatin1(id)));
    }
    EXPECT_EQ(recent().size(), 6) << "no more than fit";
    EXPECT_EQ(recent().first(), QStringLiteral("Light block"));
    // A damaged setting is no harm.
    QSettings().setValue(QStringLiteral("recent_materials"), QStringLiteral("{ not json"));
    window = std::make_unique<MainWindow>();
    EXPECT_TRUE(window->open_file(write(QStringLiteral("again.wallfoot"), small_study())));
    EXPECT_TRUE(recent().isEmpty());
}

TEST_F(WindowMaterials, search_and_kind_narrow_the_list_and_the_study_comes_first) {
    open_small();
    EXPECT_GT(rows(), 34);
    EXPECT_EQ(panel().list()->topLevelItem(0)->child(0)->text(0), QStringLiteral("Light block"));
    EXPECT_EQ(row(QStringLiteral("Light block"))->text(1), QStringLiteral("masonry\n0.12"));
    act("material.find");
    EXPECT_TRUE(panel().search()->hasFocus());
    QTest::keyClicks(panel().search(), QStringLiteral("BLOCK dense"));
    EXPECT_EQ(rows(), 2) << "one of the study, one of the table";
    panel().kinds()->setCurrentIndex(panel().kinds()->findData(static_cast<int>(MaterialKind::metal)));
    EXPECT_EQ(rows(), 0);
    panel().search()->clear();
    EXPECT_EQ(rows(), 4);
    EXPECT_NE(row(QStringLiteral("Steel")), nullptr);
}

TEST_F(WindowMaterials, dropping_one_of_the_table_copies_it_into_the_study_as_one_step) {
    open_small();
    const std::string before = write_study(*window->document().study());
    mark(QStringLiteral("Steel"));
    const std::unique_ptr<QMimeData> carried(panel().list()->model()->mimeData({panel().list()->currentIndex()}));
    const QPoint at = on_sheet(50, -200);
    QDragEnterEvent enter(at, Qt::CopyAction, carried.get(), Qt::LeftButton, {});
    QApplication::sendEvent(&window->sheet(), &enter);
    EXPECT_TRUE(enter.isAccepted());
    QDragMoveEvent into_air(on_sheet(600, 600), Qt::CopyAction, carried.get(), Qt::LeftButton, {});
    QApplication::sendEvent(&window->sheet(), &into_air);
    EXPECT_FALSE(into_air.isAccepted());
    QDragMoveEvent move(at, Qt::CopyAction, carried.get(), Qt::LeftButton, {});
    QApplication::sendEvent(&window->sheet(), &move);
    EXPECT_EQ(window->sheet().picked().id, QStringLiteral("foot"));
    QDropEvent drop(QPointF(at), Qt::CopyAction, carried.get(), Qt::LeftButton, {});
    QApplication::sendEvent(&window->sheet(), &drop);
    EXPECT_EQ(find_piece(window->document().section(), "foot")->filled_with, "steel");
    ASSERT_NE(window->document().study()->find_material("steel"), nullptr);
    EXPECT_EQ(window->document().undo_stack().count(), 1);
    EXPECT_EQ(read_study(write_study(*window->document().study())).study.materials.size(), 5u) << "the study stands by itself";
    wait_for_rest();
    act("edit.undo");
    EXPECT_EQ(write_study(*window->document().study()), before);
}

TEST_F(WindowMaterials, one_in_use_stays_and_the_refusal_says_where) {
    open_small();
    mark(QStringLiteral("Dense block"));
    const auto before = window->document().study();
    QString said;
    QTimer::singleShot(0, window.get(), [&] {
        auto* box = qobject_cast<QMessageBox*>(QApplication::activeModalWidget());
        ASSERT_NE(box, nullptr);
        said = box->text();
        box->reject();
    });
    act("material.remove");
    EXPECT_TRUE(said.contains(QStringLiteral("Base: Foot block"))) << said.toStdString();
    EXPECT_EQ(window->document().study(), before);
    act("material.duplicate");
    ASSERT_NE(window->document().study()->find_material("dense-block-2"), nullptr);
    EXPECT_EQ(panel().marked()->material.id, "dense-block-2");
    act("material.remove");
    EXPECT_EQ(window->document().study()->materials, before->materials);
}

TEST_F(WindowMaterials, the_panels_on_the_left_fold_away_one_by_one) {
    open_small();
    act("view.materials");
    EXPECT_FALSE(panel().isVisible());
    act("view.contents");
    act("view.materials");
    EXPECT_TRUE(panel().isVisible());
    act("view.materials");
    act("material.find");
    EXPECT_TRUE(panel().isVisible()) << "searching shows the list";
}

TEST_F(WindowTest, materials_go_out_and_come_in_as_one_act) {
    open_small();
    const std::size_t before = window->document().study()->materials.size();
    for (const char* name : {"out.json", "out.csv"}) {
        ASSERT_EQ(window->export_materials_to(folder.filePath(QString::fromLatin1(name))), QString());
        EXPECT_TRUE(window->import_materials_from(folder.filePath(QString::fromLatin1(name))).empty());
        EXPECT_EQ(window->document().study()->materials.size(), before) << name << ": all are there already";
    }
    const QString path = write(QStringLiteral("more.csv"), "name,kind,condition,lambda\nCork,insulation,dry,0.045\n");
    ASSERT_TRUE(window->import_materials_from(path).empty());
    EXPECT_EQ(window->document().study()->materials.size(), before + 1);
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(window->document().study()->materials.size(), before);
    EXPECT_FALSE(window->import_materials_from(write(QStringLiteral("bad.csv"), "name,kind\nCork,cheese\n")).empty());
    EXPECT_FALSE(window->import_materials_from(folder.filePath(QStringLiteral("nothing.json"))).empty());
    EXPECT_FALSE(window->export_materials_to(folder.filePath(QStringLiteral("no/such/out.csv"))).isEmpty());
}

TEST_F(WindowMaterials, joints_are_restated_while_the_height_is_half_typed) {
    open_small();
    const auto in_joints = [](QDialog& dialog, const char* unit) {
        dialog.findChild<QComboBox*>(QStringLiteral("stated_as"))->setCurrentIndex(2);
        type(dialog, "value", unit);
        for (const auto& [field, text] : {std::pair("unit_length", "440"), std::pair("unit_height", "215"), std::pair("bed", "10"), std::pair("perpend", "10"), std::pair("mortar", "0.88")}) type(dialog, field, text);
    };
    in_dialog("material.add", [&](QDialog& dialog) {
        type(dialog, "name", "Paper block");
        in_joints(dialog, "0.15");
        ok(dialog);
    });
    in_dialog("material.edit", [&](QDialog& dialog) {
        in_joints(dialog, "0.3");
        const auto* echo = dialog.findChild<QLabel*>(QStringLiteral("echo"));
        EXPECT_TRUE(echo->text().contains(QStringLiteral("0.3217"))) << echo->text().toStdString();
        const int along = 6;  // dry, along the height
        choose_condition(dialog, along);
        EXPECT_EQ(dialog.findChild<QLineEdit*>(QStringLiteral("value"))->text(), QString()) << "it follows from the joints";
        type(dialog, "value", "0.2x");
        choose_condition(dialog, 0);
        EXPECT_TRUE(echo->text().contains(QStringLiteral("– along the height"))) << echo->text().toStdString();
    });
}

TEST_F(WindowMaterials, used_last_is_what_was_used_not_the_namesake_of_the_table) {
    open_small();
    const Material general = general_materials().materials.front();
    Material own = general;
    own.lambda = {};
    own.lambda.by_condition[Condition::dry].value = 0.777;
    own.lambda_up = {};
    own.mix.clear();
    QSettings().setValue(QStringLiteral("recent_materials"), QString::fromStdString(materials_json({own})));
    window = std::make_unique<MainWindow>();
    window->show();
    open_small();
    const auto* group = panel().list()->topLevelItem(0);
    ASSERT_EQ(group->text(0), QStringLiteral("Used last"));
    panel().list()->setCurrentItem(group->child(0));
    ASSERT_TRUE(panel().marked().has_value());
    EXPECT_EQ(panel().marked()->material.lambda.by_condition.at(Condition::dry).value, 0.777);
}
