// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>

#include "core/file/study_file.hpp"
#include "tests/ui/edits_fixture.hpp"
#include "ui/panels/balance_dialog.hpp"
#include "ui/panels/climate_dialog.hpp"
#include "ui/panels/findings_panel.hpp"
#include "ui/panels/mark_boxes.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/profile_dialog.hpp"
#include "ui/panels/project_dialog.hpp"

using namespace wallfoot;

namespace {

class WindowClimate : public WindowEdits {
  protected:
    /// Answers the next dialog of that kind in the course of its own event loop.
    template <class Dialog>
    void answer(std::function<void(Dialog&)> act) {
        QTimer::singleShot(0, window.get(), [act] {
            auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget());
            ASSERT_TRUE(dialog);
            act(*dialog);
        });
    }
};

template <class T>
T* child_named(QWidget& dialog, const char* name) {
    for (T* child : dialog.findChildren<T*>())
        if (child->accessibleName() == QLatin1String(name)) return child;
    return nullptr;
}

QPushButton* ok_button(QWidget& dialog) { return dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok); }
QString problem_in(QWidget& dialog) { return dialog.findChild<QLabel*>(QStringLiteral("problem"))->text(); }

QString twelve_rows(const QString& row) {
    QString text;
    for (int i = 0; i < 12; ++i) text += row + QLatin1Char('\n');
    return text;
}

}  // namespace

TEST_F(WindowClimate, convention_and_months_go_into_the_study_as_one_step) {
    open_small();
    const int steps = window->document().undo_stack().index();
    answer<ClimateDialog>([](ClimateDialog& dialog) {
        auto* convention = child_named<QComboBox>(dialog, "Convention");
        auto* indoor = child_named<QComboBox>(dialog, "Air inside");
        auto* table = child_named<QTableWidget>(dialog, "Twelve months");
        ASSERT_TRUE(convention && indoor && table);
        EXPECT_GE(convention->findData("uk-ireland"), 0);
        convention->setCurrentIndex(convention->findData("uk-ireland"));
        dialog.take_text(twelve_rows("5\t85"));
        indoor->setCurrentIndex(indoor->findData(3));
        // ISO 13788 from memory: class 3 at 5 °C and 85 % asks fRsi 0.701.
        EXPECT_NEAR(table->item(0, 3)->text().toDouble(), 0.701, 0.002);
        table->item(4, 1)->setText("140");
        EXPECT_FALSE(ok_button(dialog)->isEnabled());
        EXPECT_TRUE(problem_in(dialog).contains("May")) << problem_in(dialog).toStdString();
        table->item(4, 1)->setText("85");
        EXPECT_TRUE(ok_button(dialog)->isEnabled());
        auto* zone = dialog.findChild<QLineEdit*>(QStringLiteral("zone"));
        ASSERT_TRUE(zone);
        zone->setText(" cold ");
        dialog.accept();
    });
    window->action(QStringLiteral("site.climate"))->trigger();
    const Study& study = *window->document().study();
    EXPECT_EQ(study.convention, "uk-ireland");
    ASSERT_TRUE(study.climate);
    EXPECT_EQ(study.climate->months.size(), 12u);
    EXPECT_EQ(study.climate->zone, "cold");
    EXPECT_EQ(study.climate->indoor->humidity_class, 3);
    EXPECT_EQ(window->document().undo_stack().index(), steps + 1);
    window->document().undo_stack().undo();
    EXPECT_FALSE(window->document().study()->climate);
    EXPECT_EQ(window->document().study()->convention, "iso");
}

TEST_F(WindowClimate, the_head_of_the_report_is_entered_as_one_step) {
    open_small();
    answer<ProjectDialog>([](ProjectDialog& dialog) {
        auto* enquiry = child_named<QLineEdit>(dialog, "Enquiry number");
        ASSERT_TRUE(enquiry);
        enquiry->setText("E-31");
        child_named<QLineEdit>(dialog, "Author")->setText("A. Author");
        dialog.accept();
    });
    window->action(QStringLiteral("file.head"))->trigger();
    ASSERT_TRUE(window->document().study()->project);
    EXPECT_EQ(window->document().study()->project->enquiry, "E-31");
    EXPECT_EQ(window->document().study()->title, "Small foot") << "what was not touched stays";
    window->document().undo_stack().undo();
    EXPECT_FALSE(window->document().study()->project);
}

TEST_F(WindowClimate, along_the_surface_a_curve_with_the_lowest_place) {
    open_small();
    window->action(QStringLiteral("site.profile"))->trigger();
    auto* dialog = window->findChild<ProfileDialog*>();
    ASSERT_TRUE(dialog);
    ASSERT_EQ(dialog->profile().size(), 1u);
    EXPECT_GT(dialog->profile()[0].size(), 20u);
}

TEST_F(WindowClimate, what_cannot_be_read_is_said_and_leaves_the_table) {
    open_small();
    answer<ClimateDialog>([](ClimateDialog& dialog) {
        dialog.take_text(twelve_rows("5\t85"));
        dialog.take_text("no climate");
        EXPECT_FALSE(problem_in(dialog).isEmpty());
        EXPECT_EQ(child_named<QTableWidget>(dialog, "Twelve months")->item(0, 0)->text(), "5");
        dialog.reject();
    });
    window->action(QStringLiteral("site.climate"))->trigger();
    EXPECT_FALSE(window->document().study()->climate);
}

TEST_F(WindowClimate, an_unheated_space_takes_its_temperature_from_a_balance) {
    open_small();
    window->sheet().set_picked({PickedKind::space, QStringLiteral("out")});
    SpaceBox& box = window->piece_panel().space();
    EXPECT_FALSE(box.balance()->isVisible()) << "only an unheated space has one";
    box.kind()->setCurrentIndex(box.kind()->findData(static_cast<int>(SpaceKind::unheated)));
    ASSERT_EQ(find_space(section(), "out")->kind, SpaceKind::unheated);
    ASSERT_TRUE(box.balance()->isVisible());
    answer<BalanceDialog>([](BalanceDialog& dialog) {
        EXPECT_FALSE(ok_button(dialog)->isEnabled()) << "without a length";
        dialog.length()->setText("6");
        dialog.add_loss({});
        EXPECT_FALSE(ok_button(dialog)->isEnabled()) << "without numbers";
        dialog.table()->item(0, 3)->setText("10");
        dialog.table()->item(0, 4)->setText("0.5");
        EXPECT_EQ(dialog.table()->item(0, 6)->text(), "5");
        EXPECT_TRUE(ok_button(dialog)->isEnabled()) << problem_in(dialog).toStdString();
        dialog.accept();
    });
    box.balance()->click();
    const Space& space = *find_space(section(), "out");
    EXPECT_FALSE(space.temperature);
    ASSERT_TRUE(space.balance);
    const SpaceBalance balance = read_space_balance(*space.balance, "", {"in", "out"});
    EXPECT_EQ(balance.length, 6);
    ASSERT_EQ(balance.losses.size(), 1u);
    EXPECT_EQ(balance.losses[0].to, "in");
    EXPECT_EQ(balance.losses[0].watts_per_kelvin(), 5);
}
