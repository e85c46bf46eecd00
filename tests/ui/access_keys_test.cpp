// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAbstractButton>
#include <QDialog>
#include <QFileDialog>
#include <QGroupBox>
#include <QKeySequence>
#include <QLabel>
#include <QMessageBox>
#include <QStackedWidget>
#include <QTabBar>
#include <map>
#include <set>

#include "core/dwelling/dwelling.hpp"
#include "core/study/edits_elements.hpp"
#include "tests/ui/edits_fixture.hpp"
#include "ui/commands/commands.hpp"
#include "ui/panels/balance_dialog.hpp"
#include "ui/panels/compare_view.hpp"
#include "ui/panels/hidden_box.hpp"
#include "ui/panels/junction_dialog.hpp"
#include "ui/panels/materials_panel.hpp"
#include "ui/panels/measure_dialog.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/quantities_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/panels/rules_panel.hpp"
#include "ui/panels/variants_strip.hpp"
#include "ui/panels/water_panel.hpp"
#include "ui/teach/teach_view.hpp"

// Alt and a letter goes to one place only, in every dialog and panel.
using namespace wallfoot;

namespace {

/// The texts with an access key that can be seen together.
std::vector<QString> texts_with_keys(QWidget& root) {
    std::vector<QString> texts;
    const auto add = [&](const QString& text) {
        if (!QKeySequence::mnemonic(text).isEmpty()) texts.push_back(text);
    };
    for (QWidget* child : root.findChildren<QWidget*>()) {
        if (child->window() != root.window() || !child->isVisibleTo(&root)) continue;
        if (const auto* label = qobject_cast<QLabel*>(child); label && label->buddy()) add(label->text());
        if (const auto* button = qobject_cast<QAbstractButton*>(child)) add(button->text());
        if (const auto* group = qobject_cast<QGroupBox*>(child)) add(group->title());
        if (const auto* tabs = qobject_cast<QTabBar*>(child))
            for (int i = 0; i < tabs->count(); ++i) add(tabs->tabText(i));
    }
    return texts;
}

/// Pairs of texts with one key, on any page of the stacks and tabs inside.
std::set<std::string> clashes_in(QWidget& root) {
    std::set<std::string> clashes;
    const auto look = [&] {
        std::map<QString, QString> taken;
        for (const QString& text : texts_with_keys(root)) {
            const auto [before, first] = taken.emplace(QKeySequence::mnemonic(text).toString(), text);
            if (!first) clashes.insert((before->second + QStringLiteral(" | ") + text).toStdString());
        }
    };
    look();
    for (auto* stack : root.findChildren<QStackedWidget*>()) {
        if (stack->window() != root.window()) continue;
        const QSignalBlocker quiet(stack);
        const int before = stack->currentIndex();
        for (int page = 0; page < stack->count(); ++page) {
            stack->setCurrentIndex(page);
            look();
        }
        stack->setCurrentIndex(before);
    }
    return clashes;
}

void expect_no_clash(QWidget& root, const std::string& name) {
    for (const std::string& clash : clashes_in(root)) ADD_FAILURE() << name << ": " << clash;
}

class AccessKeysWindow : public WindowEdits {};

}  // namespace

TEST_F(AccessKeysWindow, clashes_are_seen) {
    QDialog dialog;
    auto* one = new QPushButton(QStringLiteral("&One"), &dialog);
    new QPushButton(QStringLiteral("&Other"), &dialog);
    EXPECT_EQ(clashes_in(dialog).size(), 1u);
    one->hide();
    EXPECT_TRUE(clashes_in(dialog).empty()) << "what is not there together does not clash";
    auto* stack = new QStackedWidget(&dialog);
    stack->addWidget(new QPushButton(QStringLiteral("T&wo")));
    stack->addWidget(new QPushButton(QStringLiteral("&Opposite")));
    EXPECT_EQ(clashes_in(dialog).size(), 1u) << "also on a page that is not in front";
}

TEST_F(AccessKeysWindow, differ_in_every_dialog_that_a_command_opens) {
    open_small();
    window->sheet().set_picked({PickedKind::piece, QStringLiteral("outer")});
    std::set<std::string> looked_at;
    for (const Command& entry : commands()) {
        const QString id = QString::fromLatin1(entry.id);
        if (!QString::fromUtf8(entry.text).endsWith(QStringLiteral("…")) && id != QLatin1String("help.keys")) continue;
        QTimer looking;
        int turns = 0;
        QObject::connect(&looking, &QTimer::timeout, [&] {
            auto* modal = qobject_cast<QDialog*>(QApplication::activeModalWidget());
            if (!modal) return;
            if (!qobject_cast<QFileDialog*>(modal)) {
                expect_no_clash(*modal, entry.id);
                looked_at.insert(entry.id);
            }
            ASSERT_LT(++turns, 20) << entry.id << " asks without end";
            modal->reject();
        });
        looking.start(0);
        window->action(id)->trigger();
        looking.stop();
        for (QWidget* top : QApplication::topLevelWidgets())
            if (auto* dialog = qobject_cast<QDialog*>(top); dialog && dialog->isVisible()) {
                expect_no_clash(*dialog, entry.id);
                looked_at.insert(entry.id);
                dialog->close();
            }
        if (window->sheet().asks_places()) QTest::keyClick(&window->sheet(), Qt::Key_Escape);
    }
    EXPECT_GE(looked_at.size(), 25u) << "dialogs that came up";
}

TEST_F(AccessKeysWindow, differ_in_dialogs_that_come_from_elsewhere) {
    open_small();
    BalanceDialog balance(section(), "out", window.get());
    expect_no_clash(balance, "balance");
    HiddenReasonDialog hidden(window.get());
    expect_no_clash(hidden, "hidden surface");
    QuantitiesDialog quantities({}, {{"top", {}}, {"left", {}}}, QStringLiteral("internal"), window.get());
    expect_no_clash(quantities, "quantities");
    Dwelling dwelling;
    dwelling.junctions.push_back({"j1", "lintel", "", 4, FromElsewhere{0.1, {}, {}, ValueBasis::published, "a table", {}, {}}, {}, {}});
    JunctionDialog junction(dwelling, 0, dwelling.junctions[0], {}, window.get());
    expect_no_clash(junction, "junction");
    MeasureDialog measure(dwelling, {}, [](const std::string&) { return std::vector<std::pair<QString, QString>>{}; }, window.get());
    expect_no_clash(measure, "measure");
}

TEST_F(AccessKeysWindow, differ_in_every_panel) {
    open_small();
    measure_outer();
    Sheet& sheet = window->sheet();
    window->document().edit(QStringLiteral("more"), [](const Section& s) {
        Section with = add_dimension(s, {"", {0, 0}, {0, 200 * mm}, "", 0, "", {}});
        with = add_note(with, {"", {0, 0}, "here", {}});
        with = set_courses(with, "leaf", Courses{0, 250 * mm, {}});
        return add_hidden(with, {"", {{0, 0}, {0, 200 * mm}}, "skirting", {}});
    });
    const Picked all[] = {{},
                          {PickedKind::piece, QStringLiteral("leaf")},
                          {PickedKind::membrane, QStringLiteral("dpc1")},
                          {PickedKind::space, QStringLiteral("in")},
                          {PickedKind::level, text_of({LevelKind::floor, {}})},
                          {PickedKind::stretch, QStringLiteral("s1")},
                          {PickedKind::dimension, QStringLiteral("d1")},
                          {PickedKind::note, QStringLiteral("t1")},
                          {PickedKind::hidden, QStringLiteral("h1")},
                          {PickedKind::element, QStringLiteral("top")}};
    for (const Picked& picked : all) {
        sheet.set_picked(picked);
        ASSERT_EQ(sheet.picked(), picked);
        expect_no_clash(window->piece_panel(), std::string("properties ") + std::to_string(static_cast<int>(picked.kind)));
    }
    for (const auto& [panel, name] : {std::pair<QWidget*, const char*>(&window->materials_panel(), "materials"), {&window->compare_view(), "compare"}, {&window->report_view(), "report"},
                                      {&window->rules_panel(), "rules"}, {&window->water_panel(), "water"}, {&window->variants_strip(), "variants"}, {&window->teach_view(), "teach"}})
        expect_no_clash(*panel, name);
}
