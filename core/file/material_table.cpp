// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/material_table.hpp"

#include <algorithm>

#include "core/file/fields.hpp"
#include "core/resources/resources.hpp"

namespace wallfoot {

std::vector<Material> read_material_list(const std::string& text) {
    file::Found found;
    json::Value value;
    std::vector<Material> materials;
    if (json::parse(text, "", value, found.faults)) {
        const file::Where top("");
        file::Fields fields(found, value, top);
        fields.text("about");
        fields.need("materials");
        file::Ids ids;
        fields.each("materials", [&](const json::Value& item, const file::Where& place) {
            materials.push_back(file::read_material(found, item, place));
            ids.add(found, place, materials.back().id);
            // A material is copied into a study by itself; the parts of a mix would stay behind.
            if (!materials.back().mix.empty()) found.fault("table-with-mix", place, {{"material", materials.back().id}});
        });
        fields.rest();
    }
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return materials;
}

MaterialTable general_materials() {
    MaterialTable table;
    std::vector<bool> overriding;
    for (const std::string& path : resources_below("materials")) {
        if (!path.ends_with(".json")) continue;
        const bool own = resource_is_overridden(path);
        try {
            for (Material& material : read_material_list(resource(path))) {
                const auto same = std::find_if(table.materials.begin(), table.materials.end(), [&](const Material& m) { return m.id == material.id; });
                const auto index = static_cast<std::size_t>(same - table.materials.begin());
                if (same == table.materials.end()) {
                    table.materials.push_back(std::move(material));
                    overriding.push_back(own);
                } else if (own || !overriding[index]) {
                    *same = std::move(material);
                    overriding[index] = own;
                }
            }
        } catch (const InputFault& fault) {
            table.faults.push_back(Message{Severity::caution, "material-table-damaged",
                                           {{"file", path}, {"reason", one_line(fault.faults().front(), "")}}, {}, {}});
        }
    }
    return table;
}

}  // namespace wallfoot
