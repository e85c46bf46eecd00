// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/entry_box.hpp"

#include <QGridLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QSignalBlocker>

namespace wallfoot {

EntryBox::EntryBox(QWidget* parent) : QFrame(parent) {
    setFrameShape(QFrame::StyledPanel);
    setAutoFillBackground(true);
    setCursor(Qt::ArrowCursor);
    auto* layout = new QGridLayout(this);
    layout->setContentsMargins(8, 6, 8, 6);
    const QString names[] = {tr("x"), tr("y"), tr("length"), tr("angle"), tr("dx"), tr("dy"), tr("height"), tr("temperature")};
    for (int i = 0; i < OutlineTool::field_count; ++i) {
        auto* label = new QLabel(names[i], this);
        auto* edit = new QLineEdit(this);
        edit->setAccessibleName(i == OutlineTool::angle ? tr("angle in degrees") : i == OutlineTool::temperature ? tr("temperature in °C") : tr("%1 in mm").arg(names[i]));
        edit->setFixedWidth(edit->fontMetrics().horizontalAdvance(QStringLiteral("00000000000")));
        edit->installEventFilter(this);
        label->setBuddy(edit);
        layout->addWidget(label, 0, i);
        layout->addWidget(edit, 1, i);
        connect(edit, &QLineEdit::textChanged, this, [this, i](const QString& text) { emit typed(i, text); });
        labels_.push_back(label);
        edits_.push_back(edit);
    }
    understood_ = new QLabel(this);
    layout->addWidget(understood_, 2, 0, 1, OutlineTool::field_count);
    hide();
}

void EntryBox::begin(const OutlineTool& tool, QPoint cursor, const QString& first) {
    const auto fields = tool.fields();
    QLineEdit* front = nullptr;
    for (int i = 0; i < OutlineTool::field_count; ++i) {
        const bool offered = std::find(fields.begin(), fields.end(), i) != fields.end();
        labels_[i]->setVisible(offered);
        edits_[i]->setVisible(offered);
        const QSignalBlocker quiet(edits_[i]);
        edits_[i]->clear();
        if (offered && !front) front = edits_[i];
    }
    show();
    adjustSize();
    const QRect room = parentWidget()->rect().adjusted(4, 4, -4, -4);
    QPoint place = cursor + QPoint(18, 18);
    place.setX(std::max(room.left(), std::min(place.x(), room.right() - width())));
    place.setY(std::max(room.top(), std::min(place.y(), room.bottom() - height())));
    move(place);
    raise();
    front->setFocus(Qt::OtherFocusReason);
    front->setText(first);
    front->end(false);
}

void EntryBox::tell(const QString& text, bool is_problem) {
    understood_->setText(text);
    QFont font = this->font();
    font.setBold(is_problem);
    understood_->setFont(font);
    adjustSize();
}

void EntryBox::step_focus(QObject* from, int by) {
    const int count = static_cast<int>(edits_.size());
    int at = static_cast<int>(std::find(edits_.begin(), edits_.end(), from) - edits_.begin());
    do at = (at + by + count) % count;
    while (!edits_[at]->isVisibleTo(this));
    edits_[at]->setFocus(Qt::TabFocusReason);
    edits_[at]->selectAll();
}

bool EntryBox::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() != QEvent::KeyPress) return false;
    switch (static_cast<QKeyEvent*>(event)->key()) {
        case Qt::Key_Return:
        case Qt::Key_Enter: emit committed(); return true;
        case Qt::Key_Escape: emit left(); return true;
        case Qt::Key_Tab: step_focus(watched, 1); return true;
        case Qt::Key_Backtab: step_focus(watched, -1); return true;
        default: return false;
    }
}

}  // namespace wallfoot
