// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <QAction>
#include <QKeySequence>
#include <QMenuBar>
#include <set>

#include "tests/ui/window_fixture.hpp"
#include "ui/commands/commands.hpp"

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
