// SPDX-License-Identifier: GPL-3.0-or-later
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLineEdit>
#include <QPushButton>
#include <QTimer>
#include <QTreeWidget>

#include "core/study/site.hpp"
#include "tests/ui/window_fixture.hpp"
#include "tests/unit/tree.hpp"
#include "ui/panels/rules_panel.hpp"
#include "ui/panels/site_dialog.hpp"

using namespace wallfoot;

namespace {

class RulesWindow : public WindowTest {
  protected:
    void open_sample() {
        QFile file(QString::fromStdString(in_tree("samples/slab-insulation-below.wallfoot")));
        ASSERT_TRUE(file.open(QIODevice::ReadOnly));
        ASSERT_TRUE(window->open_file(write(QStringLiteral("foot.wallfoot"), file.readAll())));
        window->action(QStringLiteral("view.rules"))->trigger();
        ASSERT_TRUE(QTest::qWaitFor([&] { return row_with(QStringLiteral("Membrane against ground gas")) != nullptr; }, 30'000));
    }
    QTreeWidgetItem* row_with(const QString& text) {
        for (QTreeWidgetItemIterator it(&window->rules_panel().list()); *it; ++it)
            if ((*it)->text(0).contains(text)) return *it;
        return nullptr;
    }
    /// The head of the group a row stands in.
    QString group_of(const QString& text) {
        auto* item = row_with(text);
        while (item && item->parent()) item = item->parent();
        return item ? item->text(0) : QString();
    }
    /// Answers the next dialog in the course of its own event loop.
    void answer(std::function<void(SiteDialog&)> act) {
        QTimer::singleShot(0, window.get(), [act] {
            auto* dialog = qobject_cast<SiteDialog*>(QApplication::activeModalWidget());
            ASSERT_TRUE(dialog);
            act(*dialog);
        });
    }
};

template <class T>
T* named(SiteDialog& dialog, const QString& name) {
    for (T* child : dialog.findChildren<T*>())
        if (child->accessibleName() == name) return child;
    return nullptr;
}

QPushButton* ok_of(SiteDialog& dialog) { return dialog.findChild<QDialogButtonBox*>()->button(QDialogButtonBox::Ok); }

}  // namespace

TEST_F(RulesWindow, SaysWhatIsMetAndWhatIsOpenInWordsAndSigns) {
    open_sample();
    EXPECT_TRUE(group_of(QStringLiteral("Damp-proof course above the ground")).startsWith(QStringLiteral("✓ meets")));
    EXPECT_TRUE(group_of(QStringLiteral("Membrane against ground gas")).startsWith(QStringLiteral("? undecided")));
    auto* row = row_with(QStringLiteral("Damp-proof course above the ground"));
    bool source = false;
    for (int i = 0; i < row->childCount(); ++i) source |= row->child(i)->text(0).startsWith(QStringLiteral("Source: "));
    EXPECT_TRUE(source) << "it opens to text and source";
    const View before = window->sheet().view();
    View away = before;
    away.centre_mm += QPointF(9000, 9000);
    window->sheet().set_view(away);
    emit window->rules_panel().list().itemClicked(row, 0);
    const QPointF at = window->sheet().view().to_pixels(Point{from_mm(301.25), from_mm(-75)});
    EXPECT_TRUE(QRectF(window->sheet().rect()).contains(at)) << "a click shows the place";
}

TEST_F(RulesWindow, AFactStatedDecidesAndIsOneStepOfUndo) {
    open_sample();
    const auto before = window->document().study();
    answer([](SiteDialog& dialog) {
        auto* gas = named<QComboBox>(dialog, QStringLiteral("ground gas"));
        ASSERT_TRUE(gas);
        EXPECT_EQ(gas->currentIndex(), 0) << "not known";
        gas->setCurrentIndex(gas->findData(QStringLiteral("needed")));
        named<QLineEdit>(dialog, QStringLiteral("Source of ground gas"))->setText(QStringLiteral("map of the county"));
        auto* water = named<QLineEdit>(dialog, QStringLiteral("highest ground water below the ground outside, mm"));
        ASSERT_TRUE(water);
        water->setText(QStringLiteral("deep"));
        EXPECT_FALSE(ok_of(dialog)->isEnabled()) << "what cannot be stated is not taken";
        water->setText(QStringLiteral("3000"));
        EXPECT_TRUE(ok_of(dialog)->isEnabled());
        ok_of(dialog)->click();
    });
    QTest::mouseClick(&window->rules_panel().site_button(), Qt::LeftButton);
    const auto after = window->document().study();
    ASSERT_NE(after, before);
    EXPECT_EQ(site_value(*after, "gas"), "needed");
    EXPECT_EQ(site_source(*after, "gas"), "map of the county");
    EXPECT_EQ(site_value(*after, "ground_water"), "3000");
    EXPECT_EQ(site_value(*after, "soil"), site_value(*before, "soil"));
    EXPECT_FALSE(site_value(*after, "frost"));
    EXPECT_TRUE(after->kept.contains("rule_sets")) << "the study carries the rules it was checked by";
    EXPECT_TRUE(QTest::qWaitFor([&] { return group_of(QStringLiteral("Membrane against ground gas:")).startsWith(QStringLiteral("✗ does not meet")); }, 30'000));
    window->action(QStringLiteral("edit.undo"))->trigger();
    EXPECT_EQ(window->document().study(), before);
    EXPECT_TRUE(QTest::qWaitFor([&] { return group_of(QStringLiteral("Membrane against ground gas:")).startsWith(QStringLiteral("? undecided")); }, 30'000));
}

TEST_F(RulesWindow, QuestionsAreCopied) {
    open_sample();
    QApplication::clipboard()->clear();
    QTest::mouseClick(&window->rules_panel().copy_button(), Qt::LeftButton);
    const QString copied = QApplication::clipboard()->text();
    EXPECT_TRUE(copied.startsWith(QStringLiteral("1. "))) << copied.toStdString();
    EXPECT_TRUE(copied.contains(QStringLiteral("Does the site need a membrane")));
}

TEST_F(RulesWindow, TheFrostBandIsDrawnWhileTheRulesAreShown) {
    open_sample();
    const auto band = [&] {
        const QImage image = window->sheet().grab().toImage();
        const double ratio = window->sheet().devicePixelRatioF();
        const QPointF from = window->sheet().view().to_pixels(Point{from_mm(255), from_mm(-90)}) * ratio, to = window->sheet().view().to_pixels(Point{from_mm(347), from_mm(-360)}) * ratio;
        return image.copy(QRectF(from, to).toRect());
    };
    const QImage rules = band();
    window->action(QStringLiteral("view.draw"))->trigger();
    EXPECT_NE(band(), rules);
    window->action(QStringLiteral("view.rules"))->trigger();
    EXPECT_EQ(band(), rules);
}

TEST_F(RulesWindow, AFaultyDrawingSaysWhyNothingIsAsked) {
    open_sample();
    window->document().edit(QStringLiteral("spoil"), [](Section s) {
        s.spaces.clear();
        return s;
    });
    EXPECT_TRUE(QTest::qWaitFor([&] { return row_with(QStringLiteral("once the drawing is settled")) != nullptr; }, 30'000));
}
