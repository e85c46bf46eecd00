// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/wrapping.hpp"

#include <QHeaderView>
#include <QStyledItemDelegate>
#include <QTimer>
#include <QTreeWidget>

namespace wallfoot {

namespace {

constexpr int room = 8;  // what the style puts left and right of a text

class WrappingDelegate : public QStyledItemDelegate {
  public:
    explicit WrappingDelegate(QTreeWidget& list) : QStyledItemDelegate(&list), list_(list) {}

    QSize sizeHint(const QStyleOptionViewItem& given, const QModelIndex& index) const override {
        QStyleOptionViewItem option = given;
        initStyleOption(&option, index);
        int depth = 1;
        for (auto up = index.parent(); up.isValid(); up = up.parent()) ++depth;
        const bool spanned = index.column() == 0 && list_.isFirstColumnSpanned(index.row(), index.parent());
        int width = spanned ? list_.viewport()->width() : list_.columnWidth(index.column());
        if (index.column() == 0) width -= depth * list_.indentation();
        if (!option.icon.isNull()) width -= option.decorationSize.width() + room;
        const QRect text = option.fontMetrics.boundingRect(QRect(0, 0, std::max(40, width - room), 100'000), Qt::TextWordWrap, option.text);
        return {std::max(40, width), std::max(text.height(), option.icon.isNull() ? 0 : option.decorationSize.height()) + 3};
    }

  protected:
    void initStyleOption(QStyleOptionViewItem* option, const QModelIndex& index) const override {
        QStyledItemDelegate::initStyleOption(option, index);
        // A unit such as W/(m·K) stays on one line: a word joiner behind its stroke.
        option->text.replace(QStringLiteral("/("), QStringLiteral("/\u2060("));
        option->features |= QStyleOptionViewItem::WrapText;
        option->displayAlignment = Qt::AlignLeft | Qt::AlignTop;
    }

  private:
    QTreeWidget& list_;
};

}  // namespace

void wrap_rows(QTreeWidget& list) {
    list.setItemDelegate(new WrappingDelegate(list));
    list.setUniformRowHeights(false);
    list.setWordWrap(true);
    list.setTextElideMode(Qt::ElideNone);
    list.setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list.header()->setSectionResizeMode(QHeaderView::Stretch);
    auto* later = new QTimer(&list);
    later->setSingleShot(true);
    QObject::connect(later, &QTimer::timeout, &list, [&list] { list.doItemsLayout(); });
    QObject::connect(list.header(), &QHeaderView::sectionResized, later, [later] { later->start(0); });
}

}  // namespace wallfoot
