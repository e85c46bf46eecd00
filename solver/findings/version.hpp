// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace wallfoot {

/// Version of the program as results name it; a test holds it equal to the one in CMakeLists.txt.
inline constexpr const char* program_version = "0.1.0";

}  // namespace wallfoot
