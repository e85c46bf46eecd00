// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QComboBox;
class QWidget;

namespace wallfoot {

/// Once Return, Esc or the first sign of a number is typed in the list, or something is chosen in its popup, the keyboard
/// belongs to `sheet` again, and that sign with it: who draws types on at once. For lists of the tools.
void hand_back(QComboBox& list, QWidget& sheet);

}  // namespace wallfoot
