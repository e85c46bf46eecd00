// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "core/study/material.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// The general table of materials that comes with the program, `resources/materials/*.json`: each file is an object with
/// "about" (which values these are) and "materials", as in a study. With --resources a file of the same path takes the
/// place of the program's, and a material of the same id the place of its namesake. A damaged file is left out and told.
struct MaterialTable {
    std::vector<Material> materials;  ///< files by name, order of the file
    std::vector<Message> faults;      ///< "material-table-damaged"
};
MaterialTable general_materials();

/// The materials of one such file. Throws InputFault with every fault and its place ("table-with-mix" for a mix).
std::vector<Material> read_material_list(const std::string& text);

}  // namespace wallfoot
