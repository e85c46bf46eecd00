// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <QAction>
#include <QKeySequence>
#include <QKeySequenceEdit>
#include <QLineEdit>
#include <QMenuBar>
#include <QPushButton>
#include <QTimer>
#include <set>

#include "tests/ui/window_fixture.hpp"
#include "ui/commands/keys.hpp"
#include "ui/panels/commands_dialog.hpp"

using namespace wallfoot;

TEST(Commands, no_key_and_no_id_is_taken_twice) {
    std::set<QString> ids;
    std::map<QString, QString> taken;
    for (const Command& entry : commands()) {
        EXPECT_TRUE(ids.insert(QString::fromLatin1(entry.id)).second) << entry.id;
        EXPECT_STRNE(entry.tip, "") << entry.id;
        for (const auto& key : QString::fromLatin1(entry.keys).split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
            const QKeySequence sequence = QKeySequence::fromString(key, QKeySequence::PortableText);
            ASSERT_EQ(sequence.count(), 1) << entry.id;
            ASSERT_NE(sequence[0].key(), Qt::Key_unknown) << entry.id << " " << key.toStdString();
            const QString name = sequence.toString(QKeySequence::PortableText);
            EXPECT_TRUE(taken.emplace(name, QString::fromLatin1(entry.id)).second)
                << name.toStdString() << " is taken by " << taken[name].toStdString() << " and " << entry.id;
        }
    }
}

TEST(Commands, access_keys_differ_within_a_menu) {
    std::map<std::string, std::set<QChar>> taken;
    std::set<QChar> menus;
    std::set<std::string> seen;
    for (const Command& entry : commands()) {
        const QString text = QString::fromUtf8(entry.text), menu = QString::fromUtf8(entry.menu);
        const auto at = text.indexOf(QLatin1Char('&'));
        ASSERT_GE(at, 0) << entry.id;
        EXPECT_TRUE(taken[entry.menu].insert(text[at + 1].toLower()).second) << entry.id;
        if (seen.insert(entry.menu).second) {
            EXPECT_TRUE(menus.insert(menu[menu.indexOf(QLatin1Char('&')) + 1].toLower()).second) << entry.menu;
        }
    }
}

TEST_F(WindowTest, every_command_stands_in_a_menu_and_has_an_action) {
    std::set<QAction*> in_menus;
    for (const auto* menu : window->menuBar()->findChildren<QMenu*>())
        for (auto* action : menu->actions()) in_menus.insert(action);
    for (const Command& entry : commands()) {
        QAction* action = window->action(QString::fromLatin1(entry.id));
        ASSERT_NE(action, nullptr);
        EXPECT_TRUE(in_menus.contains(action)) << entry.id;
    }
}

TEST_F(WindowTest, a_command_is_found_by_its_words_and_done) {
    open_small();
    QTimer::singleShot(0, [] {
        auto* dialog = qobject_cast<CommandsDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        auto* search = dialog->findChild<QLineEdit*>();
        QTest::keyClicks(search, QStringLiteral("side other"));
        EXPECT_EQ(dialog->chosen(), QStringLiteral("edit.mirror")) << "words of what it does are enough";
        QTest::keyClicks(search, QStringLiteral(" nowhere"));
        EXPECT_TRUE(dialog->chosen().isEmpty());
        for (int i = 0; i < 8; ++i) QTest::keyClick(search, Qt::Key_Backspace);
        QTest::keyClick(search, Qt::Key_Return);
    });
    window->action(QStringLiteral("help.keys"))->trigger();
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Mirror"));
}

TEST_F(WindowTest, a_key_is_changed_refused_while_another_has_it_and_given_back) {
    open_small();
    QTimer::singleShot(0, [] {
        auto* dialog = qobject_cast<CommandsDialog*>(QApplication::activeModalWidget());
        ASSERT_TRUE(dialog);
        auto* search = dialog->findChild<QLineEdit*>();
        auto* key = dialog->findChild<QKeySequenceEdit*>();
        const auto give = [&](const char* text) {
            key->setKeySequence(QKeySequence(QString::fromLatin1(text)));
            for (auto* button : dialog->findChildren<QPushButton*>())
                if (button->text() == QStringLiteral("&Give this key")) button->click();
        };
        QTest::keyClicks(search, QStringLiteral("mirror"));
        give("Ctrl+S");
        EXPECT_NE(holder_of(QKeySequence(QStringLiteral("Ctrl+S")), command(QStringLiteral("edit.mirror"))), nullptr) << "still saves";
        EXPECT_TRUE(keys_of(command(QStringLiteral("edit.mirror"))).isEmpty());
        give("Ctrl+J");
        dialog->reject();
    });
    window->action(QStringLiteral("help.keys"))->trigger();
    EXPECT_EQ(window->action(QStringLiteral("edit.mirror"))->shortcut(), QKeySequence(QStringLiteral("Ctrl+J")));
    window->activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(window.get()));
    QTest::keyClick(window.get(), Qt::Key_J, Qt::ControlModifier);
    EXPECT_EQ(window->document().undo_stack().undoText(), QStringLiteral("Mirror"));
    MainWindow later;
    EXPECT_EQ(later.action(QStringLiteral("edit.mirror"))->shortcut(), QKeySequence(QStringLiteral("Ctrl+J"))) << "kept for the next time";
    forget_own_keys();
    EXPECT_TRUE(keys_of(command(QStringLiteral("edit.mirror"))).isEmpty());
}
