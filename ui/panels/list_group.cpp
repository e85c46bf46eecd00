// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/list_group.hpp"

#include <QTreeWidget>

namespace wallfoot {

QTreeWidgetItem* list_group(QTreeWidget* list, const QString& name) {
    auto* item = new QTreeWidgetItem(list, {name});
    QFont bold = list->font();
    bold.setBold(true);
    item->setFont(0, bold);
    item->setFlags(Qt::ItemIsEnabled);
    item->setFirstColumnSpanned(true);
    item->setExpanded(true);
    return item;
}

}  // namespace wallfoot
