// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/iso13788.hpp"

#include <algorithm>
#include <cmath>

namespace wallfoot::iso13788 {

namespace {

struct Branch {
    double factor, offset;
};
constexpr Branch over_water = {17.269, 237.3}, over_ice = {21.875, 265.5};
constexpr double pressure_at_zero_Pa = 610.5;
constexpr double coldest = -100, hottest = 100;

}  // namespace

double saturation_pressure(double celsius) {
    require_within("temperature", celsius, coldest, hottest);
    const Branch& branch = celsius >= 0 ? over_water : over_ice;
    return pressure_at_zero_Pa * std::exp(branch.factor * celsius / (branch.offset + celsius));
}

double saturation_temperature(double pressure_Pa) {
    require_within("pressure", pressure_Pa, saturation_pressure(coldest), saturation_pressure(hottest));
    const Branch& branch = pressure_Pa >= pressure_at_zero_Pa ? over_water : over_ice;
    const double logarithm = std::log(pressure_Pa / pressure_at_zero_Pa);
    return branch.offset * logarithm / (branch.factor - logarithm);
}

double dew_point(double celsius, double relative_humidity) {
    require_above_zero("humidity", relative_humidity);
    require_within("humidity", relative_humidity, 0, 1);
    return saturation_temperature(relative_humidity * saturation_pressure(celsius));
}

double required_surface_temperature(double inside_pressure_Pa, double surface_humidity_limit) {
    require_above_zero("humidity", surface_humidity_limit);
    require_within("humidity", surface_humidity_limit, 0, 1);
    require_above_zero("pressure", inside_pressure_Pa);
    return saturation_temperature(inside_pressure_Pa / surface_humidity_limit);
}

double vapour_excess(HumidityClass humidity_class, double outside_celsius) {
    require_within("temperature", outside_celsius, coldest, hottest);
    if (humidity_class == HumidityClass::c5) throw OutsideStandard("humidity-class-open", {});
    const double greatest = 270.0 * static_cast<int>(humidity_class);
    return greatest * std::clamp((20 - outside_celsius) / 20, 0.0, 1.0);
}

double inside_vapour_pressure(double outside_celsius, double outside_relative_humidity, double excess_Pa) {
    require_within("humidity", outside_relative_humidity, 0, 1);
    require_not_below_zero("excess", excess_Pa);
    return outside_relative_humidity * saturation_pressure(outside_celsius) + excess_margin * excess_Pa;
}

double temperature_factor(double surface_celsius, double outside_celsius, double inside_celsius) {
    for (double celsius : {surface_celsius, outside_celsius, inside_celsius})
        require_within("temperature", celsius, coldest, hottest);
    if (!(inside_celsius > outside_celsius))
        throw OutsideStandard("no-temperature-difference",
                              {{"inside", shown(inside_celsius)}, {"outside", shown(outside_celsius)}});
    return (surface_celsius - outside_celsius) / (inside_celsius - outside_celsius);
}

MonthRequirement required_at_pressure(const Month& month, double inside_pressure_Pa, double surface_humidity_limit) {
    MonthRequirement result;
    result.inside_pressure_Pa = inside_pressure_Pa;
    result.inside_relative_humidity = result.inside_pressure_Pa / saturation_pressure(month.inside_celsius);
    result.surface_celsius = required_surface_temperature(result.inside_pressure_Pa, surface_humidity_limit);
    result.fRsi = temperature_factor(result.surface_celsius, month.outside_celsius, month.inside_celsius);
    return result;
}

MonthRequirement required_in_month(const Month& month, HumidityClass humidity_class, double surface_humidity_limit) {
    const double excess = vapour_excess(humidity_class, month.outside_celsius);
    return required_at_pressure(month, inside_vapour_pressure(month.outside_celsius, month.outside_relative_humidity, excess), surface_humidity_limit);
}

std::optional<std::size_t> critical_month(const std::vector<Month>& months, HumidityClass humidity_class,
                                          double surface_humidity_limit) {
    std::optional<std::size_t> worst;
    double largest = 0;
    for (std::size_t i = 0; i < months.size(); ++i) {
        if (!(months[i].inside_celsius > months[i].outside_celsius)) continue;
        const double f = required_in_month(months[i], humidity_class, surface_humidity_limit).fRsi;
        if (!worst || f > largest) worst = i, largest = f;
    }
    return worst;
}

}  // namespace wallfoot::iso13788
