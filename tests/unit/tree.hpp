// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

namespace wallfoot {

/// Full path of a file of the source tree, such as in_tree("samples/plain-wall.wallfoot"). One file alone knows
/// where the tree lies, so that a compiler cache serves the other tests in any checkout.
std::string in_tree(const std::string& path);

}  // namespace wallfoot
