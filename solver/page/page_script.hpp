// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace wallfoot {

/// Style and script of pages in one file; the script expects the words and grids as JSON in #words and #grids.
std::string page_style();
std::string page_script();

}  // namespace wallfoot
