// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "solver/bracket/solution.hpp"

namespace wallfoot {

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

/// Fixed point with that many decimals; never "-0.00".
std::string fixed(double value, int decimals);
/// Pads to a width counted in characters, not bytes.
std::string padded(std::string text, std::size_t width);
/// Rounded to significant digits.
double significant(double value, int digits);

}  // namespace wallfoot
