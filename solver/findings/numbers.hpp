// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "solver/bracket/solution.hpp"

namespace wallfoot {

struct Findings;
struct SurfaceFinding;

/// Decimals that a half width supports: the last one is not smaller than it. 0 … 10.
int supported_decimals(double half_width);
double rounded(double value, int decimals);
double rounded_down(double value, int decimals);
double rounded_up(double value, int decimals);

/// A bracketed value as it is printed: the value with the digits the bracket supports and inside the bounds, the bounds
/// one digit further, rounded outwards.
struct Printed {
    double value = 0, lower = 0, upper = 0;
    int decimals = 0, bound_decimals = 0;
};
Printed printed(const Bracketed& value);

/// Difference of two bracketed values: as far as both may be off.
Bracketed difference(const Bracketed& of, const Bracketed& from);

/// Decimals that the error estimate of a surface finding supports, of its temperature in °C and of its fRsi.
int temperature_decimals(const Findings& findings, const SurfaceFinding& found);
int factor_decimals(const SurfaceFinding& found);
/// An error estimate with one digit, rounded up.
std::string one_digit_up(double estimate);
/// An estimated error beside a value printed with so many decimals: with what the rounding adds, never less than half a step of the
/// last digit. One digit, rounded up.
std::string estimate_beside(double value, double estimate, int decimals);

/// Fixed point with that many decimals; never "-0.00".
std::string fixed(double value, int decimals);
/// Pads to a width counted in characters, not bytes.
std::string padded(std::string text, std::size_t width);
/// Rounded to significant digits.
double significant(double value, int digits);

}  // namespace wallfoot
