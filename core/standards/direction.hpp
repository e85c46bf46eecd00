// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace wallfoot {

/// Direction of a heat flow; horizontal holds within 30° of the horizontal (ISO 6946, surface resistances; from memory).
enum class Direction { up, horizontal, down };

}  // namespace wallfoot
