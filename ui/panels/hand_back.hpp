// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QComboBox;
class QWidget;

namespace wallfoot {

/// Once something is chosen in the list's popup, opened by the mouse, the keyboard belongs to `sheet` again: who draws types
/// on at once. With `of_tool` also after Return, Esc or the first sign of a number in the list, which goes along; other
/// lists keep the keyboard of those who go through the fields by keys.
void hand_back(QComboBox& list, QWidget& sheet, bool of_tool);

}  // namespace wallfoot
