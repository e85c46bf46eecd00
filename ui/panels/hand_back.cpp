// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/hand_back.hpp"

#include <QAbstractItemView>
#include <QApplication>
#include <QComboBox>
#include <QKeyEvent>
#include <QPointer>
#include <QTimer>

namespace wallfoot {

namespace {

class HandBack : public QObject {
  public:
    HandBack(QComboBox& list, QWidget& sheet, bool of_tool) : QObject(&list), list_(list), sheet_(&sheet), of_tool_(of_tool) {
        list.installEventFilter(this);
        list.view()->installEventFilter(this);
    }

  protected:
    bool eventFilter(QObject* watched, QEvent* event) override {
        if (watched == list_.view() && event->type() == QEvent::Hide) {
            // The popup gives the focus back to the list after this.
            if (of_tool_ || by_mouse_) QTimer::singleShot(0, this, [this] { give(); });
            by_mouse_ = false;
            return false;
        }
        if (watched == &list_ && event->type() == QEvent::MouseButtonPress) by_mouse_ = true;
        if (watched != &list_ || !of_tool_ || event->type() != QEvent::KeyPress) return false;
        auto* key = static_cast<QKeyEvent*>(event);
        if (key->modifiers() & (Qt::ControlModifier | Qt::AltModifier)) return false;
        if (key->key() == Qt::Key_Return || key->key() == Qt::Key_Enter || key->key() == Qt::Key_Escape) return give();
        if (key->text().size() != 1 || !QStringLiteral("0123456789.,-(").contains(key->text()) || !give()) return false;
        QKeyEvent typed(QEvent::KeyPress, key->key(), key->modifiers(), key->text());
        QApplication::sendEvent(sheet_, &typed);
        return true;
    }

  private:
    bool give() {
        if (!sheet_ || !sheet_->isVisible() || QApplication::activeModalWidget()) return false;
        sheet_->setFocus();
        return true;
    }

    QComboBox& list_;
    QPointer<QWidget> sheet_;
    bool of_tool_ = false, by_mouse_ = false;
};

}  // namespace

void hand_back(QComboBox& list, QWidget& sheet, bool of_tool) { new HandBack(list, sheet, of_tool); }

}  // namespace wallfoot
