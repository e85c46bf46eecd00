// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/unit/tree.hpp"

namespace wallfoot {

std::string in_tree(const std::string& path) { return SOURCE_DIR "/" + path; }

}  // namespace wallfoot
