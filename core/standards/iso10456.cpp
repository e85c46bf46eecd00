// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso10456.hpp"

#include <cmath>

namespace wallfoot::iso10456 {

double temperature_factor(double coefficient_per_K, double from_celsius, double to_celsius) {
    require_within("coefficient", coefficient_per_K, -1, 1);
    require_within("temperature", from_celsius, -100, 200);
    require_within("temperature", to_celsius, -100, 200);
    return std::exp(coefficient_per_K * (to_celsius - from_celsius));
}

double moisture_factor_by_mass(double coefficient, double from_kg_per_kg, double to_kg_per_kg) {
    require_not_below_zero("coefficient", coefficient);
    require_not_below_zero("moisture", from_kg_per_kg);
    require_not_below_zero("moisture", to_kg_per_kg);
    return std::exp(coefficient * (to_kg_per_kg - from_kg_per_kg));
}

double moisture_factor_by_volume(double coefficient, double from_m3_per_m3, double to_m3_per_m3) {
    require_not_below_zero("coefficient", coefficient);
    require_within("moisture", from_m3_per_m3, 0, 1);
    require_within("moisture", to_m3_per_m3, 0, 1);
    return std::exp(coefficient * (to_m3_per_m3 - from_m3_per_m3));
}

double moisture_by_volume(double moisture_kg_per_kg, double dry_density_kg_per_m3) {
    require_not_below_zero("moisture", moisture_kg_per_kg);
    require_above_zero("density", dry_density_kg_per_m3);
    constexpr double water_kg_per_m3 = 1000;
    return moisture_kg_per_kg * dry_density_kg_per_m3 / water_kg_per_m3;
}

double convert_moisture(double conductivity, const MoistureConversion& conversion, double stated_moisture,
                        double asked_moisture) {
    require_above_zero("conductivity", conductivity);
    require_not_below_zero("coefficient", conversion.coefficient);
    for (double moisture : {stated_moisture, asked_moisture}) {
        require_not_below_zero("moisture", moisture);
        if (!(moisture <= conversion.valid_to))
            throw OutsideStandard("moisture-beyond-validity",
                                  {{"moisture", shown(moisture)}, {"valid_to", shown(conversion.valid_to)}});
    }
    return conductivity * std::exp(conversion.coefficient * (asked_moisture - stated_moisture));
}

}  // namespace wallfoot::iso10456
