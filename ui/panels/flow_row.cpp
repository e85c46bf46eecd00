// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/flow_row.hpp"

#include <QWidget>
#include <algorithm>

namespace wallfoot {

FlowRow::FlowRow(int spacing) {
    setSpacing(spacing);
    setContentsMargins(8, 6, 8, 0);
}

FlowRow::~FlowRow() { qDeleteAll(items_); }

QSize FlowRow::minimumSize() const {
    QSize size;
    for (const QLayoutItem* item : items_)
        if (!item->isEmpty()) size = size.expandedTo(item->minimumSize());
    const QMargins margins = contentsMargins();
    return size + QSize(margins.left() + margins.right(), margins.top() + margins.bottom());
}

QSize FlowRow::sizeHint() const {
    int width = 0, height = 0;
    for (const QLayoutItem* item : items_) {
        if (item->isEmpty()) continue;
        width += item->sizeHint().width() + spacing();
        height = std::max(height, item->sizeHint().height());
    }
    const QMargins margins = contentsMargins();
    return {width + margins.left() + margins.right(), height + margins.top() + margins.bottom()};
}

void FlowRow::setGeometry(const QRect& rect) {
    QLayout::setGeometry(rect);
    placed(rect, true);
}

int FlowRow::placed(const QRect& rect, bool move) const {
    const QMargins margins = contentsMargins();
    const QRect room = rect.marginsRemoved(margins);
    int x = room.left(), y = room.top(), line = 0;
    for (QLayoutItem* item : items_) {
        if (item->isEmpty()) continue;  // hidden
        const QSize size(std::min(item->sizeHint().width(), std::max(room.width(), item->minimumSize().width())), item->sizeHint().height());
        if (x > room.left() && x + size.width() > room.left() + room.width()) {
            x = room.left();
            y += line + spacing();
            line = 0;
        }
        if (move) item->setGeometry({QPoint(x, y), size});
        x += size.width() + spacing();
        line = std::max(line, size.height());
    }
    return y + line - rect.top() + margins.bottom();
}

}  // namespace wallfoot
