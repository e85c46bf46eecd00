// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QTreeWidgetItemIterator>

#include "core/file/quantities.hpp"
#include "core/file/study_file.hpp"
#include "core/study/edits_elements.hpp"
#include "tests/ui/edits_fixture.hpp"
#include "ui/panels/climate_dialog.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/corrections_dialog.hpp"
#include "ui/panels/element_box.hpp"
#include "ui/panels/findings_panel.hpp"
#include "ui/panels/ground_floor_dialog.hpp"
#include "ui/panels/hidden_box.hpp"
#include "ui/panels/mark_boxes.hpp"
#include "ui/panels/material_dialog.hpp"
#include "ui/panels/mix_table.hpp"
#include "ui/panels/piece_panel.hpp"

// What is entered beside the drawing: lengths of elements, corrections, hidden surfaces, dwellings, floor, climate, mixes.
using namespace wallfoot;

namespace {

class EntryWindow : public WindowEdits {
  protected:
    /// Works in the dialog of that kind that a command opens.
    template <class Dialog>
    void in(const char* command, std::function<void(Dialog&)> work) {
        bool came = false;
        QTimer::singleShot(0, window.get(), [&] {
            auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget());
            ASSERT_TRUE(dialog);
            came = true;
            work(*dialog);
            if (dialog->isVisible()) dialog->reject();
        });
        trigger(command);
        EXPECT_TRUE(came) << command;
    }
    static QPushButton& ok_of(QDialog& dialog) { return *dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok); }
    void undo() { window->document().undo_stack().undo(); }
    std::optional<ElementLength> drawn(const char* element) {
        for (const ElementLength& length : window->sheet().lengths_drawn())
            if (length.element == element) return length;
        return std::nullopt;
    }
    const Element& found(const char* id) {
        const auto findings = window->findings();
        for (const Element& element : findings->elements)
            if (element.id == id) return element;
        throw std::out_of_range(id);
    }
};

}  // namespace

TEST_F(EntryWindow, lengths_behind_psi_are_drawn_in_either_system) {
    open_small();
    EXPECT_TRUE(window->sheet().lengths_drawn().empty());
    trigger("view.lengths");
    ASSERT_TRUE(drawn("top") && drawn("left"));
    // The room is 1200 mm high and wide up to the corner of floor and wall.
    EXPECT_EQ(drawn("top")->reference, (Point{0, 0}));
    EXPECT_TRUE(drawn("top")->text.startsWith(QStringLiteral("top: l = 1.2 m, U = 0."))) << drawn("top")->text.toStdString();
    EXPECT_NEAR(drawn("top")->line.length(), 1200 * window->sheet().view().pixels_per_mm, 0.01);
    EXPECT_LT(drawn("top")->line.x1(), on_sheet(-1200, 0).x()) << "beside the section, on the side of the room";
    EXPECT_LT(drawn("left")->line.y1(), on_sheet(0, 1200).y()) << "above it";
    trigger("view.other_lengths");
    ASSERT_TRUE(drawn("top") && drawn("left"));
    // Outer face at x = 200, underside of the floor at y = -250: 1200 + 250 and 1200 + 200 mm.
    EXPECT_EQ(drawn("top")->reference, (Point{200 * mm, -250 * mm}));
    EXPECT_TRUE(drawn("top")->text.startsWith(QStringLiteral("top: l = 1.45 m"))) << drawn("top")->text.toStdString();
    EXPECT_TRUE(drawn("left")->text.startsWith(QStringLiteral("left: l = 1.4 m"))) << drawn("left")->text.toStdString();
    EXPECT_GT(drawn("top")->line.x1(), on_sheet(900, 0).x());
    trigger("view.lengths");
    EXPECT_TRUE(window->sheet().lengths_drawn().empty());
}

TEST_F(EntryWindow, the_place_an_element_is_measured_to_is_dragged_and_taken_back) {
    open_small();
    const double before = psi(), U = *found("top").U;
    trigger("view.lengths");
    drag(on_sheet(0, 0), on_sheet(0, 200));
    ASSERT_EQ(section().elements.size(), 1u);
    EXPECT_EQ(section().elements[0].id, "top");
    EXPECT_EQ(section().elements[0].internal, (Point{0, 200 * mm}));
    wait_for_rest();
    EXPECT_NEAR(psi(), before + 0.2 * U, 3e-4) << "0.2 m less of the wall are taken off";
    ASSERT_TRUE(drawn("top"));
    EXPECT_TRUE(drawn("top")->text.startsWith(QStringLiteral("top: l = 1 m"))) << drawn("top")->text.toStdString();
    undo();
    EXPECT_TRUE(section().elements.empty());
}

TEST_F(EntryWindow, a_row_of_the_findings_shows_its_element_which_keys_can_change) {
    open_small();
    QTreeWidgetItem* row = nullptr;
    for (QTreeWidgetItemIterator it(&window->findings_panel()); *it; ++it)
        if ((*it)->text(0) == QStringLiteral("left") && (*it)->parent()) row = *it;
    ASSERT_TRUE(row);
    emit window->findings_panel().itemActivated(row, 0);
    EXPECT_EQ(window->sheet().picked().kind, PickedKind::element);
    ASSERT_TRUE(drawn("left")) << "without the switch";
    EXPECT_FALSE(drawn("top"));
    ElementBox& box = window->piece_panel().element();
    ASSERT_TRUE(box.isVisible());
    EXPECT_TRUE(box.transmittance()->text().contains(QStringLiteral("U 0.")));
    EXPECT_EQ(box.x(LengthSystem::internal)->text(), QStringLiteral("0"));
    EXPECT_EQ(box.y(LengthSystem::external)->text(), QStringLiteral("-250"));
    for (QLineEdit* field : {box.x(LengthSystem::internal), box.y(LengthSystem::internal)}) field->clear();
    QTest::keyClick(box.y(LengthSystem::internal), Qt::Key_Return);
    EXPECT_EQ(box.x(LengthSystem::internal)->text(), QStringLiteral("0")) << "by the drawing: emptied it is shown again";
    type(box.x(LengthSystem::internal), "-50");
    ASSERT_TRUE(find_element(section(), "left", CutSide::left));
    EXPECT_EQ(find_element(section(), "left", CutSide::left)->internal, (Point{-50 * mm, 0}));
    type(box.x(LengthSystem::internal), "-1300");
    EXPECT_EQ(find_element(section(), "left", CutSide::left)->internal, (Point{-50 * mm, 0})) << "beyond the cut: refused";
    EXPECT_EQ(box.x(LengthSystem::internal)->text(), QStringLiteral("-50"));
    wait_for_rest();
    trigger("move.left");
    EXPECT_EQ(find_element(section(), "left", CutSide::left)->internal, (Point{-51 * mm, 0}));
    trigger("edit.delete");
    EXPECT_TRUE(section().elements.empty()) << "by the drawing again";
    undo();
    EXPECT_EQ(section().elements.size(), 1u);
}

TEST_F(EntryWindow, each_press_of_an_arrow_moves_on_while_findings_are_on_their_way) {
    open_small();
    window->sheet().set_picked({PickedKind::element, QStringLiteral("left")});
    for (int press = 0; press < 3; ++press) trigger("move.left");
    ASSERT_TRUE(find_element(section(), "left", CutSide::left));
    EXPECT_EQ(find_element(section(), "left", CutSide::left)->internal, (Point{-3 * mm, 0}));
    EXPECT_EQ(window->piece_panel().element().x(LengthSystem::internal)->text(), QStringLiteral("-3"));
}

TEST_F(EntryWindow, an_element_of_a_drawing_with_a_fault_is_not_said_to_be_gone) {
    open_small();
    window->sheet().set_picked({PickedKind::element, QStringLiteral("top")});
    ElementBox& box = window->piece_panel().element();
    window->document().edit(QStringLiteral("x"), [](const Section& s) { return delete_space(s, "out"); });
    EXPECT_EQ(box.x(LengthSystem::internal)->text(), QStringLiteral("0")) << "stays while findings are on their way";
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->findings() && window->findings()->has_fault(); }, 30'000));
    EXPECT_TRUE(box.transmittance()->text().contains(QStringLiteral("Settle the drawing"))) << box.transmittance()->text().toStdString();
    EXPECT_EQ(box.x(LengthSystem::internal)->text(), QStringLiteral("0"));
}

TEST_F(EntryWindow, corrections_of_an_element_that_is_no_more_are_taken_back) {
    open_small();
    ElementCorrections corrections;
    corrections.air_gap_level = 1;
    corrections.air_gap_layer = "outer";
    window->document().edit(QStringLiteral("x"), [&](const Section& s) { return set_element_corrections(s, "right-2", CutSide::right, corrections); });
    window->sheet().set_picked({PickedKind::element, QStringLiteral("right-2")});
    in<CorrectionsDialog>("site.corrections", [](CorrectionsDialog& dialog) {
        EXPECT_EQ(dialog.level().currentIndex(), 2);
        dialog.level().setCurrentIndex(0);
        dialog.accept();
    });
    EXPECT_TRUE(section().elements.empty());
}

TEST_F(EntryWindow, corrections_left_as_they_are_keep_all_digits) {
    ElementCorrections before;
    before.fixings.push_back({"ins", 17.1234567890123, 12.6, 1.0 / 3, {}, false, {}});
    CorrectionsDialog dialog(QStringLiteral("top"), before, {{QStringLiteral("Insulation"), QStringLiteral("Insulation")}, {QStringLiteral("ins"), QStringLiteral("Insulation")}});
    EXPECT_EQ(dialog.corrections(), before);
    dialog.table().item(0, 3)->setText(QStringLiteral("0.5"));
    EXPECT_EQ(dialog.corrections().fixings[0].per_m2, 0.5);
}

TEST_F(EntryWindow, fixings_raise_the_U_beside_psi) {
    open_small();
    const double before = psi();
    window->sheet().set_picked({PickedKind::element, QStringLiteral("top")});
    in<CorrectionsDialog>("site.corrections", [](CorrectionsDialog& dialog) {
        dialog.add_fixings({});
        EXPECT_FALSE(ok_of(dialog).isEnabled()) << "no layer and nothing typed";
        const int outer = dialog.layer_of(0).findData(QStringLiteral("outer"));
        ASSERT_GE(outer, 0);
        dialog.layer_of(0).setCurrentIndex(outer);
        dialog.table().item(0, 1)->setText(QStringLiteral("50"));
        dialog.table().item(0, 2)->setText(QStringLiteral("many"));
        dialog.table().item(0, 3)->setText(QStringLiteral("10"));
        EXPECT_FALSE(ok_of(dialog).isEnabled());
        EXPECT_TRUE(dialog.findChild<QLabel*>(QStringLiteral("problem"))->text().startsWith(QStringLiteral("Row 1, section of"))) << dialog.findChild<QLabel*>(QStringLiteral("problem"))->text().toStdString();
        dialog.table().item(0, 2)->setText(QStringLiteral("50"));
        EXPECT_TRUE(ok_of(dialog).isEnabled()) << dialog.findChild<QLabel*>(QStringLiteral("problem"))->text().toStdString();
        dialog.level().setCurrentIndex(2);
        EXPECT_FALSE(ok_of(dialog).isEnabled()) << "gaps of no layer";
        dialog.level_layer().setCurrentIndex(dialog.level_layer().findData(QStringLiteral("outer")));
        dialog.accept();
    });
    ASSERT_TRUE(find_element(section(), "top", CutSide::top));
    const ElementCorrections corrections = *find_element(section(), "top", CutSide::top)->corrections;
    ASSERT_EQ(corrections.fixings.size(), 1u);
    EXPECT_EQ(corrections.fixings[0].area_mm2, 50);
    EXPECT_EQ(corrections.air_gap_level, 1);
    wait_for_rest();
    ASSERT_TRUE(found("top").corrected_U);
    EXPECT_GT(*found("top").corrected_U, *found("top").U);
    EXPECT_NEAR(psi(), before, 1e-9) << "beside psi";
    EXPECT_TRUE(window->piece_panel().element().transmittance()->text().contains(QStringLiteral("with fixings")));
    in<CorrectionsDialog>("site.corrections", [&](CorrectionsDialog& dialog) {
        EXPECT_EQ(dialog.corrections(), corrections) << "shown back";
        dialog.reject();
    });
    undo();
    EXPECT_TRUE(section().elements.empty());
}

TEST_F(EntryWindow, a_hidden_surface_is_drawn_with_its_reason_and_counts_again_when_deleted) {
    open_small();
    trigger("draw.hidden");
    click(0, 0);
    click(0, 200);
    QTimer::singleShot(0, window.get(), [] {
        auto* dialog = qobject_cast<HiddenReasonDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        EXPECT_FALSE(ok_of(*dialog).isEnabled()) << "no reason, nothing hidden";
        dialog->reason().setEditText(QStringLiteral(" skirting "));
        EXPECT_TRUE(ok_of(*dialog).isEnabled());
        dialog->accept();
    });
    QTest::keyClick(&window->sheet(), Qt::Key_Return);
    ASSERT_EQ(section().hidden.size(), 1u);
    EXPECT_EQ(section().hidden[0].reason, "skirting");
    EXPECT_EQ(section().hidden[0].path.front(), (Point{0, 0}));
    EXPECT_EQ(section().hidden[0].path.back(), (Point{0, 200 * mm}));
    EXPECT_EQ(window->sheet().picked(), (Picked{PickedKind::hidden, QStringLiteral("h1")}));
    bool listed = false;
    for (QTreeWidgetItemIterator it(&window->contents_panel()); *it; ++it) listed = listed || (*it)->text(0) == QStringLiteral("skirting");
    EXPECT_TRUE(listed);
    HiddenBox& box = window->piece_panel().hidden();
    ASSERT_TRUE(box.isVisible());
    type(box.reason(), "lining");
    EXPECT_EQ(section().hidden[0].reason, "lining");
    box.reason()->selectAll();
    box.reason()->setFocus();
    QTest::keyClick(box.reason(), Qt::Key_Delete);
    QTest::keyClick(box.reason(), Qt::Key_Return);
    EXPECT_EQ(section().hidden[0].reason, "lining") << "never without a reason";
    EXPECT_EQ(box.reason()->text(), QStringLiteral("lining"));
    box.corners()->item(box.corners()->rowCount() - 1, 1)->setText(QStringLiteral("150"));
    EXPECT_EQ(section().hidden[0].path.back(), (Point{0, 150 * mm}));
    trigger("edit.delete");
    EXPECT_TRUE(section().hidden.empty());
    undo();
    EXPECT_EQ(section().hidden.size(), 1u);
}

TEST_F(EntryWindow, a_space_belongs_to_a_dwelling) {
    open_small();
    window->sheet().set_picked({PickedKind::space, QStringLiteral("in")});
    QComboBox* side = window->piece_panel().space().side();
    EXPECT_EQ(side->currentIndex(), 0);
    side->setCurrentIndex(side->findData(QStringLiteral("neighbour")));
    EXPECT_EQ(find_space(section(), "in")->side, "neighbour");
    undo();
    EXPECT_EQ(find_space(section(), "in")->side, "");
    EXPECT_EQ(side->currentIndex(), 0);
}

TEST_F(EntryWindow, the_ground_floor_is_stated_whole_or_not_at_all) {
    open_small();
    in<GroundFloorDialog>("site.floor", [](GroundFloorDialog& dialog) {
        dialog.area().setText(QStringLiteral("60"));
        EXPECT_FALSE(ok_of(dialog).isEnabled());
        dialog.perimeter().setText(QStringLiteral("0"));
        EXPECT_FALSE(ok_of(dialog).isEnabled());
        dialog.perimeter().setText(QStringLiteral("20"));
        EXPECT_TRUE(ok_of(dialog).isEnabled());
        dialog.width().setText(QStringLiteral("6 m"));
        dialog.accept();
    });
    EXPECT_EQ(ground_floor(*window->document().study()), (GroundFloor{60, 20}));
    EXPECT_EQ(window->document().study()->floor_width, 6000 * mm);
    const Study again = read_study(write_study(*window->document().study())).study;
    EXPECT_EQ(ground_floor(again), (GroundFloor{60, 20}));
    EXPECT_EQ(again.floor_width, 6000 * mm);
    in<GroundFloorDialog>("site.floor", [](GroundFloorDialog& dialog) {
        EXPECT_EQ(dialog.area().text(), QStringLiteral("60"));
        EXPECT_EQ(dialog.width().text(), QStringLiteral("6000"));
        dialog.area().clear();
        dialog.perimeter().clear();
        dialog.width().clear();
        dialog.accept();
    });
    EXPECT_FALSE(ground_floor(*window->document().study()));
    EXPECT_FALSE(window->document().study()->floor_width);
    undo();
    EXPECT_TRUE(ground_floor(*window->document().study()));
}

TEST_F(EntryWindow, a_year_as_one_wave_and_a_shared_psi_are_stated_with_the_climate) {
    open_small();
    in<ClimateDialog>("site.climate", [](ClimateDialog& dialog) {
        dialog.stated_by().setCurrentIndex(1);
        EXPECT_TRUE(ok_of(dialog).isEnabled()) << "nothing stated is sound";
        dialog.findChild<QLineEdit*>(QStringLiteral("outside_mean"))->setText(QStringLiteral("9,5"));
        EXPECT_FALSE(ok_of(dialog).isEnabled()) << "a mean without a swing";
        dialog.findChild<QLineEdit*>(QStringLiteral("outside_amplitude"))->setText(QStringLiteral("8"));
        dialog.findChild<QLineEdit*>(QStringLiteral("coldest_month"))->setText(QStringLiteral("13"));
        EXPECT_FALSE(ok_of(dialog).isEnabled());
        dialog.findChild<QLineEdit*>(QStringLiteral("coldest_month"))->setText(QStringLiteral("1.5"));
        EXPECT_TRUE(ok_of(dialog).isEnabled());
        auto* share = dialog.findChild<QComboBox*>(QStringLiteral("share"));
        share->setCurrentIndex(share->findData(static_cast<int>(DwellingShare::by_side)));
        dialog.accept();
    });
    const Study& study = *window->document().study();
    ASSERT_TRUE(study.climate && study.climate->year);
    EXPECT_EQ(study.climate->year->outside_mean, 9.5);
    EXPECT_EQ(study.climate->year->outside_amplitude, 8);
    EXPECT_EQ(study.climate->year->coldest_month, 1.5);
    EXPECT_EQ(study.climate->year->inside_amplitude, 0);
    EXPECT_TRUE(study.climate->months.empty());
    EXPECT_EQ(study.used_convention().dwelling_share, DwellingShare::by_side);
    const Climate stated = *study.climate;
    in<ClimateDialog>("site.climate", [](ClimateDialog& dialog) {
        EXPECT_EQ(dialog.stated_by().currentIndex(), 1);
        EXPECT_EQ(dialog.findChild<QLineEdit*>(QStringLiteral("outside_mean"))->text(), QStringLiteral("9.5"));
        dialog.accept();
    });
    EXPECT_EQ(*window->document().study()->climate, stated) << "what is left as it was stays";
    in<ClimateDialog>("site.climate", [](ClimateDialog& dialog) {
        dialog.stated_by().setCurrentIndex(0);
        dialog.accept();
    });
    EXPECT_FALSE(window->document().study()->climate && window->document().study()->climate->year) << "one or the other";
    Climate monthly;
    for (std::size_t i = 0; i < months_of_a_year; ++i) monthly.months.push_back({5, 0.85, {}, {}});
    Study with_months = *window->document().study();
    with_months.climate = monthly;
    ClimateDialog dialog(with_months);
    dialog.stated_by().setCurrentIndex(1);
    EXPECT_EQ(dialog.applied(with_months).climate, monthly) << "a wave that is not stated takes no months away";
    dialog.findChild<QLineEdit*>(QStringLiteral("outside_mean"))->setText(QStringLiteral("9.5"));
    dialog.findChild<QLineEdit*>(QStringLiteral("outside_amplitude"))->setText(QStringLiteral("8"));
    EXPECT_TRUE(dialog.applied(with_months).climate->months.empty());
}

TEST_F(EntryWindow, a_material_is_built_of_others_and_converted_to_its_use) {
    open_small();
    in<MaterialDialog>("material.add", [](MaterialDialog& dialog) {
        dialog.findChild<QLineEdit*>(QStringLiteral("name"))->setText(QStringLiteral("Board between studs"));
        dialog.built().setCurrentIndex(1);
        MixTable& mix = dialog.mix();
        ASSERT_EQ(mix.table().rowCount(), 2);
        mix.part(0).setCurrentIndex(mix.part(0).findData(QStringLiteral("board")));
        mix.part(1).setCurrentIndex(mix.part(1).findData(QStringLiteral("light")));
        mix.table().item(0, 1)->setText(QStringLiteral("85"));
        mix.table().item(1, 1)->setText(QStringLiteral("10"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible()) << "95 % is no whole";
        EXPECT_TRUE(mix.findChild<QLabel*>(QStringLiteral("fault.mix"))->text().contains(QStringLiteral("95"))) << mix.findChild<QLabel*>(QStringLiteral("fault.mix"))->text().toStdString();
        mix.table().item(1, 1)->setText(QStringLiteral("15"));
        QTest::keyClicks(dialog.findChild<QLineEdit*>(QStringLiteral("ageing")), QStringLiteral("0.5"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible()) << "age makes nothing better";
        EXPECT_TRUE(dialog.findChild<QLabel*>(QStringLiteral("fault.ageing"))->isVisible());
        auto* ageing = dialog.findChild<QLineEdit*>(QStringLiteral("ageing"));
        ageing->selectAll();
        QTest::keyClicks(ageing, QStringLiteral("1.1"));
        for (const auto& [field, text] : {std::pair("coefficient", "0.003"), {"from", "10"}, {"to", "15"}}) QTest::keyClicks(dialog.findChild<QLineEdit*>(QLatin1String(field)), QLatin1String(text));
        dialog.accept();
        EXPECT_FALSE(dialog.isVisible());
    });
    const Material& made = window->document().study()->materials.back();
    EXPECT_EQ(made.name, "Board between studs");
    ASSERT_EQ(made.mix.size(), 2u);
    EXPECT_EQ(made.mix[1].material, "light");
    EXPECT_DOUBLE_EQ(made.mix[1].fraction, 0.15);
    EXPECT_TRUE(made.lambda.by_condition.empty());
    EXPECT_EQ(made.ageing, 1.1);
    ASSERT_TRUE(made.temperature);
    EXPECT_EQ(made.temperature->to, 15);
    const Study again = read_study(write_study(*window->document().study())).study;
    EXPECT_EQ(again.materials.back(), made) << "a file holds it";
    undo();
    EXPECT_EQ(window->document().study()->materials.size(), 4u);
}
