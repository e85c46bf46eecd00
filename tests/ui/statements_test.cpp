// SPDX-License-Identifier: GPL-3.0-or-later
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLabel>
#include <QPushButton>
#include <QTreeWidget>

#include "core/file/study_file.hpp"
#include "tests/ui/edits_fixture.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/mark_boxes.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/water_dialog.hpp"
#include "ui/panels/water_panel.hpp"

using namespace wallfoot;

namespace {

/// What is stated of spaces and of water.
class WindowStatements : public WindowEdits {
  protected:
    void open_and_listen() {
        open_small();
        QObject::connect(&window->sheet(), &Sheet::told, window.get(), [this](const QString& text) { told = text; });
    }
    int steps() { return window->document().undo_stack().index(); }
    const Space& space(const char* id) const { return *find_space(section(), id); }
    /// Answers the next dialog in the course of its own event loop.
    void answer_water(std::function<void(WaterDialog&)> act) {
        QTimer::singleShot(0, window.get(), [act] {
            auto* dialog = qobject_cast<WaterDialog*>(QApplication::activeModalWidget());
            ASSERT_TRUE(dialog);
            act(*dialog);
        });
    }
    QString told;
};

template <class T>
T* named(QWidget& dialog, const char* name) {
    for (T* child : dialog.findChildren<T*>())
        if (child->accessibleName() == QLatin1String(name)) return child;
    return nullptr;
}

QPushButton* ok_of(WaterDialog& dialog) { return dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok); }
QString problem_of(WaterDialog& dialog) { return dialog.findChild<QLabel*>(QStringLiteral("problem"))->text(); }

}  // namespace

TEST_F(WindowStatements, a_space_is_named_and_its_name_is_shown_everywhere) {
    open_and_listen();
    const Section before = section();
    window->sheet().set_picked({PickedKind::space, QStringLiteral("in")});
    SpaceBox& box = window->piece_panel().space();
    ASSERT_TRUE(box.isVisible());
    EXPECT_EQ(box.name()->placeholderText(), QStringLiteral("inside"));
    type(box.name(), "Kitchen");
    EXPECT_EQ(space("in").name, "Kitchen");
    EXPECT_EQ(steps(), 1);
    EXPECT_FALSE(window->contents_panel().findItems(QStringLiteral("Kitchen"), Qt::MatchExactly | Qt::MatchRecursive).isEmpty());
    window->sheet().set_picked({PickedKind::space, QStringLiteral("out")});
    type(box.name(), "Kitchen");
    EXPECT_TRUE(told.contains(QStringLiteral("called \"Kitchen\" already"))) << told.toStdString();
    EXPECT_EQ(space("out").name, "");
    EXPECT_EQ(box.name()->text(), QString()) << "the field shows what holds";
    EXPECT_EQ(steps(), 1);
    trigger("edit.undo");
    EXPECT_EQ(section(), before);
}

TEST_F(WindowStatements, a_temperature_that_cannot_be_is_said_and_changes_nothing) {
    open_and_listen();
    window->sheet().set_picked({PickedKind::space, QStringLiteral("in")});
    QLineEdit* field = window->piece_panel().temperature();
    for (const char* wrong : {"-300", "3000", "warm", "20 cm"}) {
        told.clear();
        type(field, wrong);
        EXPECT_FALSE(told.isEmpty()) << wrong;
        EXPECT_EQ(space("in").temperature, 20) << wrong;
        EXPECT_EQ(field->text(), QStringLiteral("20")) << wrong;
    }
    EXPECT_EQ(steps(), 0);
    type(field, "18,5");
    EXPECT_EQ(space("in").temperature, 18.5);
    field->selectAll();
    QTest::keyClick(field, Qt::Key_Delete);
    QTest::keyClick(field, Qt::Key_Return);
    EXPECT_FALSE(space("in").temperature) << "the convention's";
    trigger("edit.undo");
    trigger("edit.undo");
    EXPECT_EQ(space("in").temperature, 20);
}

TEST_F(WindowStatements, water_is_stated_as_one_step_and_kept_in_the_file) {
    open_and_listen();
    const Section before = section();
    ASSERT_FALSE(before.water);
    answer_water([](WaterDialog& dialog) {
        EXPECT_EQ(named<QComboBox>(dialog, "From the soil")->currentIndex(), 0);
        named<QComboBox>(dialog, "From the soil")->setCurrentIndex(1);
        named<QComboBox>(dialog, "Driving rain on outside faces")->setCurrentIndex(2);
        QTest::keyClicks(named<QLineEdit>(dialog, "Water level in mm"), QStringLiteral("-0,25 m"));
        EXPECT_EQ(problem_of(dialog), QString());
        QTest::mouseClick(ok_of(dialog), Qt::LeftButton);
    });
    trigger("site.water");
    ASSERT_TRUE(section().water);
    EXPECT_EQ(section().water->soil, true);
    EXPECT_EQ(section().water->rain, false);
    EXPECT_EQ(section().water->cavity_foot, std::nullopt);
    EXPECT_EQ(section().water->standing, std::nullopt);
    EXPECT_EQ(section().water->water_level, -250 * mm);
    EXPECT_EQ(steps(), 1);
    EXPECT_EQ(*read_study(write_study(*window->document().study())).study.variants[0].section, section());
    answer_water([](WaterDialog& dialog) {
        EXPECT_EQ(named<QLineEdit>(dialog, "Water level in mm")->text(), QStringLiteral("-250"));
        named<QLineEdit>(dialog, "Water level in mm")->clear();
        for (const char* name : {"From the soil", "Driving rain on outside faces"}) named<QComboBox>(dialog, name)->setCurrentIndex(0);
        QTest::mouseClick(ok_of(dialog), Qt::LeftButton);
    });
    QTest::mouseClick(&window->water_panel().state_button(), Qt::LeftButton);
    EXPECT_EQ(section(), before) << "nothing stated is nothing written";
    answer_water([](WaterDialog& dialog) { dialog.accept(); });
    trigger("site.water");
    EXPECT_EQ(steps(), 2) << "what changes nothing is no step";
}

TEST_F(WindowStatements, a_water_level_that_cannot_be_is_said_and_cannot_be_taken) {
    open_and_listen();
    const Section before = section();
    answer_water([](WaterDialog& dialog) {
        auto* level = named<QLineEdit>(dialog, "Water level in mm");
        for (const char* wrong : {"deep", "1.000,5", "600 m"}) {
            level->setText(QString::fromLatin1(wrong));
            EXPECT_FALSE(problem_of(dialog).isEmpty()) << wrong;
            EXPECT_FALSE(ok_of(dialog)->isEnabled()) << wrong;
        }
        level->setText({});
        named<QComboBox>(dialog, "Standing water, up to the ground")->setCurrentIndex(1);
        EXPECT_TRUE(problem_of(dialog).contains(QStringLiteral("no ground level"))) << "said, not refused";
        EXPECT_TRUE(ok_of(dialog)->isEnabled());
        dialog.reject();
    });
    trigger("site.water");
    EXPECT_EQ(section(), before);
    EXPECT_EQ(steps(), 0);
}
