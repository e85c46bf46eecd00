// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/study/material.hpp"

namespace wallfoot {

// How conductivity rises with moisture, by class of material: data (resources/moisture/classes.json).

/// Usual moisture content in a condition, kg/kg or m³/m³.
struct UsualMoisture {
    double low = 0, central = 0, high = 0;
    bool operator==(const UsualMoisture&) const = default;
};

/// λ/λ_dry over moisture, straight between the points; nothing is said beyond the last.
struct MoistureCurve {
    MoistureBy by = MoistureBy::mass;
    std::vector<std::pair<double, double>> points;  ///< from (0, 1), both rising
    std::optional<std::pair<double, double>> density;  ///< kg/m³ of what was measured
    std::string source;
    bool operator==(const MoistureCurve&) const = default;

    /// The ratio at a moisture; nothing outside the points.
    std::optional<double> ratio(double moisture) const;
    /// The moisture of a ratio; nothing outside the points.
    std::optional<double> moisture(double ratio) const;
};

/// Ratio to the dry value when soaked through.
struct SaturatedRatio {
    double low = 1, high = 1;
    std::string source;
    bool operator==(const SaturatedRatio&) const = default;
};

struct MoistureClass {
    std::string id, name;
    std::string note;                     ///< what the adviser has to know of all this
    std::vector<std::string> aggregates;  ///< of materials that belong to it, as they state it
    MoistureBy by = MoistureBy::mass;     ///< of `usual`
    std::map<Condition, UsualMoisture> usual;
    std::string usual_source;
    std::vector<MoistureCurve> curves;
    std::optional<SaturatedRatio> saturated;
    bool operator==(const MoistureClass&) const = default;
};

/// Throws InputFault with every fault, each with its pointer.
std::vector<MoistureClass> read_moisture_classes(const std::string& json);
/// Those that come with the program, or lie in the folder of --resources. Throws InputFault.
std::vector<MoistureClass> moisture_classes();
/// The class of masonry or concrete by the aggregate it states; null where it states none: nothing is guessed from a name.
const MoistureClass* class_of(const Material& material, const std::vector<MoistureClass>& classes);

}  // namespace wallfoot
