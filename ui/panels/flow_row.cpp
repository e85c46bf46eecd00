// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/flow_row.hpp"

#include <QWidget>
#include <algorithm>
#include <utility>
#include <vector>

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
    std::vector<std::pair<QLayoutItem*, QSize>> line;
    int used = 0, y = room.top();
    // What is left of a line goes to those that want more, each up to twice what it asks for.
    const auto end_line = [&] {
        int wanting = 0, height = 0, x = room.left();
        for (const auto& [item, size] : line) {
            wanting += (item->expandingDirections() & Qt::Horizontal) != 0;
            height = std::max(height, size.height());
        }
        const int more = wanting > 0 ? std::max(0, (room.width() - used) / wanting) : 0;
        for (auto& [item, size] : line) {
            if (item->expandingDirections() & Qt::Horizontal) size.rwidth() += std::min(more, size.width());
            if (move) item->setGeometry({QPoint(x, y), size});
            x += size.width() + spacing();
        }
        y += height + spacing();
        line.clear();
        used = 0;
    };
    for (QLayoutItem* item : items_) {
        if (item->isEmpty()) continue;  // hidden
        const QSize size(std::min(item->sizeHint().width(), std::max(room.width(), item->minimumSize().width())), item->sizeHint().height());
        if (!line.empty() && used + spacing() + size.width() > room.width()) end_line();
        used += (line.empty() ? 0 : spacing()) + size.width();
        line.emplace_back(item, size);
    }
    if (!line.empty()) end_line();
    return y - (y > room.top() ? spacing() : 0) - rect.top() + margins.bottom();
}

}  // namespace wallfoot
