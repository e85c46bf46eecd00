// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QLayout>
#include <QList>

namespace wallfoot {

/// Lays widgets from left to right, and on in further lines where the width does not hold them: a row of controls that forces
/// no width on its window.
class FlowRow : public QLayout {
  public:
    explicit FlowRow(int spacing = 6);
    ~FlowRow() override;

    void addItem(QLayoutItem* item) override { items_ << item; }
    int count() const override { return static_cast<int>(items_.size()); }
    QLayoutItem* itemAt(int index) const override { return items_.value(index); }
    QLayoutItem* takeAt(int index) override { return index >= 0 && index < items_.size() ? items_.takeAt(index) : nullptr; }
    Qt::Orientations expandingDirections() const override { return {}; }
    bool hasHeightForWidth() const override { return true; }
    int heightForWidth(int width) const override { return placed({0, 0, width, 0}, false); }
    QSize minimumSize() const override;
    QSize sizeHint() const override;
    void setGeometry(const QRect& rect) override;

  private:
    /// Height of all lines within `rect`; moves the widgets when `move`.
    int placed(const QRect& rect, bool move) const;

    QList<QLayoutItem*> items_;
};

}  // namespace wallfoot
