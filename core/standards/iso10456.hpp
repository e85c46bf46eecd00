// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/standards/outside_standard.hpp"

/// ISO 10456:2007, conversion of conductivities: λ₂ = λ₁·F_T·F_m (7, formulas from memory, to be confirmed in the
/// standard; the ageing factor F_a is 1 for what is not foamed). Coefficients and their validity come with the material.
namespace wallfoot::iso10456 {

/// F_T = exp(f_T·(T₂ − T₁)). coefficient in 1/K, temperatures °C.
double temperature_factor(double coefficient_per_K, double from_celsius, double to_celsius);

/// F_m = exp(f_u·(u₂ − u₁)), moisture in kg/kg, ≥ 0.
double moisture_factor_by_mass(double coefficient, double from_kg_per_kg, double to_kg_per_kg);
/// F_m = exp(f_ω·(ω₂ − ω₁)), moisture in m³/m³, 0 to 1.
double moisture_factor_by_volume(double coefficient, double from_m3_per_m3, double to_m3_per_m3);

/// ω = u·ρ/ρ_w: moisture by volume from moisture by mass; density of the dry material kg/m³, water 1000 kg/m³.
double moisture_by_volume(double moisture_kg_per_kg, double dry_density_kg_per_m3);

/// A material's moisture coefficient and the greatest moisture it is valid to, in the same unit as the moistures below.
struct MoistureConversion {
    double coefficient = 0;  ///< ≥ 0
    double valid_to = 0;     ///< kg/kg or m³/m³
};
/// Conductivity at another moisture, from the moisture it was stated at (never from an assumed dry one). conductivity > 0
/// W/(m·K); both moistures in the coefficient's unit. Throws OutsideStandard "moisture-beyond-validity" when either lies
/// beyond the stated validity: the formula is not carried on past it.
double convert_moisture(double conductivity, const MoistureConversion& conversion, double stated_moisture,
                        double asked_moisture);

}  // namespace wallfoot::iso10456
