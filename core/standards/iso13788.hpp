// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "core/standards/outside_standard.hpp"

/// ISO 13788:2012, humidity at inside surfaces. Formulas and values from memory, to be confirmed in the standard.
/// Temperatures °C, pressures Pa, relative humidities 0 to 1. The method leaves out capillary suction, storage of moisture
/// and movement of air: a wet wall foot is not in its scope (clause 1).
/// Every function throws OutsideStandard for values outside the stated range.
namespace wallfoot::iso13788 {

/// p_sat(θ), annex E: θ ≥ 0: 610.5·exp(17.269θ/(237.3 + θ)), else 610.5·exp(21.875θ/(265.5 + θ)). −100 ≤ θ ≤ 100
/// (our own guard, not the standard's).
double saturation_pressure(double celsius);
/// The temperature at which p is the saturation pressure: the inverse, branches meet at 610.5 Pa.
double saturation_temperature(double pressure_Pa);
/// Temperature at which air of this temperature and humidity (> 0, ≤ 1) is saturated.
double dew_point(double celsius, double relative_humidity);

/// Greatest mean humidity at a surface without mould (5.2).
constexpr double mould_humidity = 0.8;
/// θ_si,min: lowest surface temperature at which the surface humidity is not above the limit (5.2 d, e). The inside
/// vapour pressure is > 0, 0 < limit ≤ 1 (0.8 mould, 0.6 corrosion, 1 condensation).
double required_surface_temperature(double inside_pressure_Pa, double surface_humidity_limit = mould_humidity);

/// Internal humidity classes (annex A): 1 storage; 2 offices, shops, dwellings of known normal occupancy; 3 dwellings of
/// unknown occupancy; 4 sports halls, kitchens, canteens; 5 laundries, breweries, pools.
enum class HumidityClass { c1 = 1, c2, c3, c4, c5 };
/// Upper Δp of a class: 270, 540, 810, 1080 Pa up to 0 °C outside, falling in a straight line to zero at 20 °C. Class 5 has
/// no upper limit: throws OutsideStandard "humidity-class-open", state the excess instead.
double vapour_excess(HumidityClass humidity_class, double outside_celsius);

/// Margin on Δp (5.2 b).
constexpr double excess_margin = 1.10;
/// p_i = p_e + 1.10·Δp, p_e = φ_e·p_sat(θ_e).
double inside_vapour_pressure(double outside_celsius, double outside_relative_humidity, double excess_Pa);

/// f_Rsi = (θ_si − θ_e)/(θ_i − θ_e). Throws OutsideStandard "no-temperature-difference" unless θ_i > θ_e.
double temperature_factor(double surface_celsius, double outside_celsius, double inside_celsius);

struct Month {
    double outside_celsius = 0, outside_relative_humidity = 0, inside_celsius = 20;
};
struct MonthRequirement {
    double inside_pressure_Pa = 0;
    double inside_relative_humidity = 0;  ///< may exceed 1: then no surface can be dry enough
    double surface_celsius = 0;           ///< θ_si,min
    double fRsi = 0;                      ///< required; above 1 no construction reaches it
};
/// What a month asks of the coldest surface when the inside air holds this vapour pressure, Pa.
MonthRequirement required_at_pressure(const Month& month, double inside_pressure_Pa, double surface_humidity_limit = mould_humidity);
/// What a month asks of the coldest surface (5.3), by humidity class.
MonthRequirement required_in_month(const Month& month, HumidityClass humidity_class,
                                   double surface_humidity_limit = mould_humidity);
/// Index of the month with the largest required f_Rsi (5.3 h), the first of equals; months not colder outside than inside
/// ask nothing. Nothing when no month asks anything.
std::optional<std::size_t> critical_month(const std::vector<Month>& months, HumidityClass humidity_class,
                                          double surface_humidity_limit = mould_humidity);

}  // namespace wallfoot::iso13788
