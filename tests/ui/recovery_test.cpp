// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDir>
#include <QLockFile>
#include <QMessageBox>
#include <QPushButton>
#include <QTimer>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/recovery_dialog.hpp"
#include "ui/window/recovery.hpp"

using namespace wallfoot;

namespace {

class RecoveryTest : public WindowTest {
  protected:
    void rename_foot(const std::string& name) {
        window->document().edit(QStringLiteral("Rename"), [&](const Section& s) { return rename_piece(s, "foot", name); });
    }
    QString own_folder() const {
        const auto folders = QDir(recovery_folder()).entryInfoList(QDir::Dirs | QDir::NoDotAndDotDot);
        return folders.isEmpty() ? QString() : folders.first().filePath();
    }
    /// What a crash leaves: the folder as it is, its lock of a process that is no more.
    void copy_as_of_a_gone_program() {
        const QDir own(own_folder());
        const QString gone = recovery_folder() + QStringLiteral("/gone");
        QDir().mkpath(gone);
        for (const auto& name : own.entryList(QDir::Files))
            if (name != QStringLiteral("running")) QFile::copy(own.filePath(name), gone + QLatin1Char('/') + name);
    }
    void keep() {
        window->recovery().keep_now();
        ASSERT_TRUE(QTest::qWaitFor([&] { return window->recovery().idle(); }, 20'000));
    }
    QStringList copies() const { return QDir(own_folder()).entryList({QStringLiteral("*.wallfoot")}, QDir::Files); }
};

/// Answers the next dialog of that kind when it opens.
template <class Dialog>
void when_asked(const std::function<void(Dialog*)>& answer) {
    QTimer::singleShot(0, [answer] {
        if (auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget())) answer(dialog);
        else when_asked<Dialog>(answer);
    });
}

}  // namespace

TEST_F(RecoveryTest, UnsavedWorkIsCopiedAndTheLastThreeAreKept) {
    open_small();
    keep();
    EXPECT_TRUE(copies().isEmpty()) << "nothing has changed yet";
    for (const char* name : {"One", "Two", "Three", "Four"}) {
        rename_foot(name);
        keep();
    }
    EXPECT_EQ(copies().size(), 3);
    ASSERT_TRUE(window->save_to(window->document().path()));
    EXPECT_TRUE(copies().isEmpty()) << "saved work needs no copy";
}

TEST_F(RecoveryTest, ACopyThatIsBeingWrittenWhileTheStudyIsSavedDoesNotStay) {
    open_small();
    rename_foot("Half done");
    for (int i = 0; i < 30; ++i) window->recovery().keep_now();  // the last is not there when the study is saved
    ASSERT_TRUE(window->save_to(window->document().path()));
    ASSERT_FALSE(window->recovery().idle());
    rename_foot("Changed again");
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->recovery().idle(); }, 20'000));
    EXPECT_TRUE(copies().isEmpty()) << "it is older than what was saved";
    keep();
    EXPECT_EQ(copies().size(), 1);
    // And one that is being written when the window goes is not left behind.
    window->recovery().keep_now();
    window.reset();
    EXPECT_TRUE(own_folder().isEmpty());
}

TEST_F(RecoveryTest, ACopyIsWrittenByItselfAfterAnAct) {
    open_small();
    rename_foot("Renamed");
    EXPECT_TRUE(QTest::qWaitFor([&] { return !copies().isEmpty(); }, 20'000));
}

TEST_F(RecoveryTest, WhatAProgramThatIsGoneLeftIsOfferedAndOpenedUnsaved) {
    open_small();
    const QString path = window->document().path();
    rename_foot("Half done");
    keep();
    copy_as_of_a_gone_program();
    EXPECT_EQ(window->recovery().left_behind().size(), 1u) << "the folder of the program that runs is not offered";
    window.reset();

    window = std::make_unique<MainWindow>();
    ASSERT_EQ(window->recovery().left_behind().size(), 1u);
    when_asked<RecoveryDialog>([](RecoveryDialog* dialog) { dialog->accept(); });
    ASSERT_TRUE(window->offer_recovery());
    EXPECT_EQ(find_piece(window->document().section(), "foot")->name, "Half done");
    EXPECT_EQ(window->document().path(), path);
    EXPECT_FALSE(window->document().is_clean());
    EXPECT_EQ(window->recovery().left_behind().size(), 1u) << "not before it is copied anew";
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->recovery().idle(); }, 20'000));
    EXPECT_TRUE(window->recovery().left_behind().empty()) << "it is copied anew by the one that opened it";
    EXPECT_EQ(copies().size(), 1);
    window->save_to(path);
}

TEST_F(RecoveryTest, DiscardedWorkIsNotOfferedAgain) {
    open_small();
    rename_foot("Half done");
    keep();
    copy_as_of_a_gone_program();
    when_asked<RecoveryDialog>([](RecoveryDialog* dialog) {
        when_asked<QMessageBox>([](QMessageBox* box) { box->button(QMessageBox::Yes)->click(); });
        dialog->done(RecoveryDialog::discard);
    });
    EXPECT_FALSE(window->offer_recovery());
    EXPECT_TRUE(window->recovery().left_behind().empty());
    EXPECT_EQ(find_piece(window->document().section(), "foot")->name, "Half done") << "the open study is untouched";
}

TEST_F(RecoveryTest, ABrokenCopyIsToldAndKept) {
    const QString gone = recovery_folder() + QStringLiteral("/gone");
    QDir().mkpath(gone);
    QFile file(gone + QStringLiteral("/00000001.wallfoot"));
    ASSERT_TRUE(file.open(QIODevice::WriteOnly));
    file.write("{ \"wallfoot\": 1, ");
    file.close();
    when_asked<RecoveryDialog>([](RecoveryDialog* dialog) {
        when_asked<QDialog>([](QDialog* faults) { faults->reject(); });
        dialog->accept();
    });
    EXPECT_FALSE(window->offer_recovery());
    EXPECT_TRUE(QFile::exists(file.fileName()));
}

TEST_F(RecoveryTest, AFileOpenElsewhereIsOpenedAsACopyOrNotAtAll) {
    const QString path = write(QStringLiteral("small.wallfoot"), small_study());
    MainWindow other;
    ASSERT_TRUE(other.open_file(path));
    when_asked<QMessageBox>([](QMessageBox* box) { box->button(QMessageBox::Cancel)->click(); });
    EXPECT_FALSE(window->open_file(path));
    EXPECT_FALSE(window->document().has_study());
    when_asked<QMessageBox>([](QMessageBox* box) {
        for (auto* button : box->buttons())
            if (box->buttonRole(button) == QMessageBox::AcceptRole) return button->click();
    });
    EXPECT_TRUE(window->open_file(path));
    EXPECT_TRUE(window->document().path().isEmpty());
    when_asked<QMessageBox>([](QMessageBox* box) { box->accept(); });
    EXPECT_FALSE(window->save_to(path)) << "not over what the other window holds";
    EXPECT_TRUE(window->save_to(folder.filePath(QStringLiteral("another.wallfoot"))));
    EXPECT_TRUE(other.open_file(path)) << "its own file may be read again";
}

TEST_F(RecoveryTest, WorkThatIsSavedBeforeItIsCopiedAnewIsNotOfferedAgain) {
    open_small();
    const QString path = window->document().path();
    rename_foot("Half done");
    keep();
    copy_as_of_a_gone_program();
    window.reset();
    window = std::make_unique<MainWindow>();
    when_asked<RecoveryDialog>([](RecoveryDialog* dialog) { dialog->accept(); });
    ASSERT_TRUE(window->offer_recovery());
    ASSERT_FALSE(window->recovery().idle());
    ASSERT_TRUE(window->save_to(path));
    ASSERT_TRUE(QTest::qWaitFor([&] { return window->recovery().idle(); }, 20'000));
    EXPECT_TRUE(window->recovery().left_behind().empty()) << "what was saved is newer";
    EXPECT_TRUE(copies().isEmpty());
}
