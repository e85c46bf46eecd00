// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/numbers.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "solver/findings/findings.hpp"

namespace wallfoot {

namespace {

constexpr int most_decimals = 10;
constexpr int most_shown = 6;  // in words: more says nothing to a reader; the bound is rounded outward

/// Difference of the two temperatures behind an fRsi, K.
double span_of(const Findings& findings, const SurfaceFinding& found) {
    if (!found.fRsi || std::abs(*found.fRsi - 1) < 1e-12) return 1;
    return std::abs((found.lowest - findings.temperatures[static_cast<std::size_t>(found.space)]) / (*found.fRsi - 1));
}

}  // namespace

Bracketed difference(const Bracketed& of, const Bracketed& from) { return {of.value - from.value, of.lower - from.upper, of.upper - from.lower}; }

int temperature_decimals(const Findings& findings, const SurfaceFinding& found) {
    return std::min(supported_decimals(found.fRsi ? found.estimate * span_of(findings, found) : found.estimate), 3);
}

int factor_decimals(const SurfaceFinding& found) { return std::min(supported_decimals(found.estimate), 4); }

std::string one_digit_up(double estimate) {
    if (!(estimate > 0)) return "0";
    const int decimals = std::max(0, int(std::ceil(-std::log10(estimate))));
    return decimals > 9 ? "below 1e-9" : fixed(rounded_up(estimate, decimals), decimals);
}

std::string estimate_beside(double value, double estimate, int decimals) {
    const double half_step = rounded(0.5 * std::pow(10.0, -decimals), decimals + 1);
    return one_digit_up(std::max(half_step, estimate + std::abs(value - rounded(value, decimals)) - 1e-15));
}

int supported_decimals(double half_width) {
    if (!(half_width > 0)) return most_decimals;
    return std::clamp(int(std::floor(-std::log10(half_width) + 1e-9)), 0, most_decimals);
}

std::string fixed(double value, int decimals) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*f", decimals, value);
    if (text[0] == '-' && std::strtod(text, nullptr) == 0) return text + 1;
    return text;
}

std::string padded(std::string text, std::size_t width) {
    std::size_t characters = 0;
    for (const char c : text) characters += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    if (characters < width) text.append(width - characters, ' ');
    return text;
}

// Through decimal text: the nearest double to a short decimal prints short again.
double rounded(double value, int decimals) {
    if (!std::isfinite(value) || std::abs(value) > 1e15) return value;
    return std::strtod(fixed(value, decimals).c_str(), nullptr);
}

double rounded_down(double value, int decimals) {
    const double near = rounded(value, decimals);
    return near <= value ? near : rounded(near - std::pow(10.0, -decimals), decimals);
}

double rounded_up(double value, int decimals) { return -rounded_down(-value, decimals); }

double significant(double value, int digits) {
    if (value == 0 || !std::isfinite(value)) return value;
    char text[64];
    std::snprintf(text, sizeof text, "%.*g", digits, value);
    return std::strtod(text, nullptr);
}

Printed printed(const Bracketed& value) {
    Printed result;
    const double half = 0.5 * value.width();
    result.decimals = supported_decimals(half);
    result.bound_decimals = result.decimals + 1;
    result.value = rounded(value.value, result.decimals);
    if (result.value < value.lower || result.value > value.upper) {
        ++result.decimals;
        ++result.bound_decimals;
        result.value = rounded(value.value, result.decimals);
    }
    result.lower = std::min(rounded_down(value.lower, result.bound_decimals), result.value);
    result.upper = std::max(rounded_up(value.upper, result.bound_decimals), result.value);
    return result;
}

std::string with_bracket(const Bracketed& value) {
    auto shown = printed(value);
    if (shown.decimals > most_shown) {
        shown.decimals = most_shown;
        shown.value = rounded(value.value, most_shown);
    }
    const double off = std::max({value.upper - shown.value, shown.value - value.lower, 1e-9});
    const int decimals = std::clamp(int(std::ceil(-std::log10(off) - 1e-9)), 0, most_shown);
    return fixed(shown.value, shown.decimals) + " ± " + fixed(rounded_up(off - 1e-15, decimals), decimals);
}

}  // namespace wallfoot
