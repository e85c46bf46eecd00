// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMessageBox>
#include <QPushButton>
#include <QTableWidget>
#include <QTimer>
#include <functional>

#include "tests/ui/window_fixture.hpp"
#include "ui/panels/detail_dialog.hpp"
#include "ui/panels/faults_dialog.hpp"

using namespace wallfoot;

namespace {

class WindowDetails : public WindowTest {
  protected:
    void in_dialog(const std::function<void(DetailDialog&)>& work) {
        bool opened = false;
        QTimer::singleShot(0, window.get(), [&] {
            auto* dialog = qobject_cast<DetailDialog*>(QApplication::activeModalWidget());
            ASSERT_NE(dialog, nullptr);
            opened = true;
            work(*dialog);
            if (dialog->isVisible()) dialog->reject();
        });
        window->action(QStringLiteral("file.new_from_detail"))->trigger();
        EXPECT_TRUE(opened);
    }
    static void choose(DetailDialog& dialog, const char* name) {
        auto* list = dialog.findChild<QListWidget*>(QStringLiteral("details"));
        const auto found = list->findItems(QString::fromUtf8(name), Qt::MatchExactly);
        ASSERT_EQ(found.size(), 1) << name;
        list->setCurrentItem(found.front());
    }
    static void type(DetailDialog& dialog, const char* field, const char* text) {
        auto* line = dialog.findChild<QLineEdit*>(QString::fromLatin1(field));
        ASSERT_NE(line, nullptr) << field;
        line->setFocus();
        line->selectAll();
        QTest::keyClicks(line, QString::fromUtf8(text));
    }
    static QPushButton* ok(DetailDialog& dialog) { return dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok); }
    static QImage picture(DetailDialog& dialog) { return dialog.findChild<QWidget*>(QStringLiteral("picture"))->grab().toImage(); }
    static constexpr const char* below = "Cavity wall on a ground slab, insulation below";
};

TEST_F(WindowDetails, AStudyBeginsUnnamedAndUnsaved) {
    in_dialog([&](DetailDialog& dialog) {
        choose(dialog, below);
        const QImage before = picture(dialog);
        type(dialog, "inner_leaf", "14 cm");
        EXPECT_NE(picture(dialog), before) << "the picture follows what is typed";
        const QImage plain = picture(dialog);
        QTest::mouseClick(dialog.findChild<QCheckBox*>(QStringLiteral("no_edge_strip")), Qt::LeftButton, {}, QPoint(8, 8));
        EXPECT_NE(picture(dialog), plain) << "a fault that is ticked is shown";
        EXPECT_EQ(dialog.findChild<QComboBox*>(QStringLiteral("variant"))->currentText(), QStringLiteral("Edge strip left out"));
        QTest::mouseClick(ok(dialog), Qt::LeftButton);
    });
    ASSERT_TRUE(window->document().has_study());
    const auto& study = *window->document().study();
    ASSERT_EQ(study.variants.size(), 2u);
    EXPECT_EQ(study.variants[1].name, "Edge strip left out");
    EXPECT_TRUE(window->document().path().isEmpty());
    EXPECT_FALSE(window->document().is_clean()) << "what was set would be lost";
    wait_for_rest();
    EXPECT_NEAR(psi(), 0.09, 0.03);
    // The window must not ask about it when the test ends.
    window->document().set_study(window->document().study(), {});
}

TEST_F(WindowDetails, WhatIsWrongIsToldAtItsFieldAndOkWaits) {
    in_dialog([&](DetailDialog& dialog) {
        choose(dialog, below);
        const QImage before = picture(dialog);
        auto* fault = dialog.findChild<QLabel*>(QStringLiteral("fault.slab"));
        for (const char* text : {"5000", "1,2,3", "abc"}) {
            type(dialog, "slab", text);
            EXPECT_TRUE(fault->isVisible()) << text;
            EXPECT_FALSE(fault->text().isEmpty()) << text;
            EXPECT_FALSE(fault->text().contains(QLatin1Char('{')));
            EXPECT_FALSE(ok(dialog)->isEnabled()) << text;
        }
        type(dialog, "slab", "150");
        EXPECT_FALSE(fault->isVisible());
        EXPECT_TRUE(ok(dialog)->isEnabled());
        EXPECT_EQ(picture(dialog).size(), before.size()) << "the picture keeps its place";
    });
    EXPECT_FALSE(window->document().has_study()) << "cancelled";
}

TEST_F(WindowDetails, EveryDetailHasItsPictureAndItsOwnFields) {
    in_dialog([&](DetailDialog& dialog) {
        auto* list = dialog.findChild<QListWidget*>(QStringLiteral("details"));
        ASSERT_GE(list->count(), 2);
        std::vector<QImage> seen;
        for (int row = 0; row < list->count(); ++row) {
            list->setCurrentRow(row);
            QApplication::processEvents();
            EXPECT_TRUE(ok(dialog)->isEnabled()) << row;
            EXPECT_FALSE(dialog.findChild<QLabel*>(QStringLiteral("about"))->text().isEmpty());
            for (auto* box : dialog.findChildren<QCheckBox*>()) {
                box->setChecked(true);
                EXPECT_TRUE(ok(dialog)->isEnabled()) << box->text().toStdString();
                EXPECT_FALSE(dialog.findChild<QLabel*>(QStringLiteral("told"))->text().isEmpty()) << "what goes wrong is said";
                box->setChecked(false);
            }
            const QImage shown = picture(dialog);
            for (const QImage& other : seen) EXPECT_NE(shown, other) << row;
            seen.push_back(shown);
        }
    });
}

}  // namespace

TEST_F(WindowDetails, WhatTheFaultsCostIsTold) {
    in_dialog([&](DetailDialog& dialog) {
        choose(dialog, below);
        dialog.findChild<QPushButton*>(QStringLiteral("costs"))->click();
        auto* costs = dialog.findChild<FaultsDialog*>();
        ASSERT_NE(costs, nullptr);
        ASSERT_TRUE(QTest::qWaitFor([&] { return !costs->busy(); }, 60'000));
        ASSERT_GT(costs->table().rowCount(), 3);
        // The most harmful first, each with its sign.
        EXPECT_TRUE(costs->table().item(0, 1)->text().startsWith(QLatin1Char('+')));
        EXPECT_TRUE(costs->table().item(0, 2)->text().startsWith(QLatin1Char('-')));
        costs->reject();
    });
}
