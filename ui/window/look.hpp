// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPalette>

namespace wallfoot {

/// The program's own calm colours over the plain style, light or dark.
QPalette window_palette(bool dark);
void use_look(bool dark);
/// True when the desktop's own palette is dark.
bool desktop_is_dark();

}  // namespace wallfoot
