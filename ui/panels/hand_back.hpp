// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QComboBox;
class QWidget;

namespace wallfoot {

/// Once something is chosen in the list's popup, or Return, Esc or the first sign of a number is typed in the closed list,
/// the keyboard belongs to `sheet` again, and that sign with it: who draws types on at once.
void hand_back(QComboBox& list, QWidget& sheet);

}  // namespace wallfoot
