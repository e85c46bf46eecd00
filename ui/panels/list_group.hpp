// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTreeWidgetItem>

namespace wallfoot {

/// A heading of a list, in bold over all columns, opened; it cannot be picked.
QTreeWidgetItem* list_group(QTreeWidget* list, const QString& name);

}  // namespace wallfoot
