// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/outside_standard.hpp"

#include <cmath>
#include <sstream>

namespace wallfoot {

namespace {

std::string described(const std::string& code, const std::map<std::string, std::string>& args) {
    std::ostringstream text;
    text << code;
    for (const auto& [name, value] : args) text << ' ' << name << '=' << value;
    return text.str();
}

}  // namespace

OutsideStandard::OutsideStandard(std::string code, std::map<std::string, std::string> args)
    : std::domain_error(described(code, args)), code_(std::move(code)), args_(std::move(args)) {}

std::string shown(double value) {
    std::ostringstream text;
    text << value;
    return text.str();
}

void require_above_zero(const char* quantity, double value) {
    if (!std::isfinite(value) || value <= 0)
        throw OutsideStandard("not-above-zero", {{"quantity", quantity}, {"value", shown(value)}});
}

void require_not_below_zero(const char* quantity, double value) {
    if (!std::isfinite(value) || value < 0)
        throw OutsideStandard("below-zero", {{"quantity", quantity}, {"value", shown(value)}});
}

void require_within(const char* quantity, double value, double least, double most) {
    if (!(value >= least && value <= most))
        throw OutsideStandard("outside-range", {{"quantity", quantity}, {"value", shown(value)},
                                                {"least", shown(least)}, {"most", shown(most)}});
}

}  // namespace wallfoot
