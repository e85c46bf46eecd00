// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QTreeWidget;

namespace wallfoot {

/// Lets the rows of a list with columns grow so that no text is cut: texts wrap at the column's width.
void wrap_rows(QTreeWidget& list);

}  // namespace wallfoot
