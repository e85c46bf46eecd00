// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QAction>
#include <QLineEdit>
#include <QMouseEvent>
#include <QTimer>

#include "core/study/edits.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/panels/numbers_dialog.hpp"

namespace wallfoot {

/// A window in which things are picked, dragged and typed over.
class WindowEdits : public WindowTest {
  protected:
    const Section& section() const { return window->document().section(); }
    const Piece& piece(const char* id) const { return *find_piece(section(), id); }
    void trigger(const char* command) { window->action(QString::fromLatin1(command))->trigger(); }
    void pick(const char* id) { window->sheet().set_picked({PickedKind::piece, QString::fromLatin1(id)}); }
    void click(double x, double y, Qt::KeyboardModifiers keys = {}) { QTest::mouseClick(&window->sheet(), Qt::LeftButton, keys, on_sheet(x, y)); }
    void drag(QPoint from, QPoint to, Qt::KeyboardModifiers keys = {}) {
        QTest::mousePress(&window->sheet(), Qt::LeftButton, keys, from);
        for (const double share : {0.3, 0.7, 1.0}) {
            const QPoint at = from + (to - from) * share;
            QMouseEvent move(QEvent::MouseMove, at, window->sheet().mapToGlobal(at), Qt::NoButton, Qt::LeftButton, keys);
            QApplication::sendEvent(&window->sheet(), &move);
        }
        QTest::mouseRelease(&window->sheet(), Qt::LeftButton, keys, to);
    }
    void type(QLineEdit* field, const char* text) {
        field->setFocus();
        field->selectAll();
        QTest::keyClicks(field, QString::fromLatin1(text));
        QTest::keyClick(field, Qt::Key_Return);
    }
    /// Fills the dialog that comes up next.
    void answer(std::vector<const char*> texts) {
        QTimer::singleShot(0, [texts] {
            auto* dialog = qobject_cast<NumbersDialog*>(QApplication::activeModalWidget());
            ASSERT_TRUE(dialog);
            const auto fields = dialog->findChildren<QLineEdit*>();
            for (std::size_t i = 0; i < texts.size(); ++i)
                if (*texts[i]) fields[static_cast<qsizetype>(i)]->setText(QString::fromLatin1(texts[i]));
            dialog->accept();
        });
    }
    void measure_outer() {
        trigger("draw.measure");
        click(150, 300);
        click(150, 900);
        QTest::keyClick(&window->sheet(), Qt::Key_Return);
    }
};

}  // namespace wallfoot
