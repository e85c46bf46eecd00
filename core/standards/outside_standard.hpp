// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <stdexcept>
#include <string>

namespace wallfoot {

/// Thrown when input lies outside what a standard's formula may be used for. `code` is a key of the catalogue of texts,
/// `args` fill its sentence, as those of a Message do.
class OutsideStandard : public std::domain_error {
  public:
    OutsideStandard(std::string code, std::map<std::string, std::string> args);
    const std::string& code() const { return code_; }
    const std::map<std::string, std::string>& args() const { return args_; }

  private:
    std::string code_;
    std::map<std::string, std::string> args_;
};

/// A number as the texts show it: six significant digits.
std::string shown(double value);

// Checks shared by the standards; they throw with args quantity, value and, for a range, least and most.

/// Throws OutsideStandard("not-above-zero") unless value is finite and > 0.
void require_above_zero(const char* quantity, double value);
/// Throws OutsideStandard("below-zero") unless value is finite and ≥ 0.
void require_not_below_zero(const char* quantity, double value);
/// Throws OutsideStandard("outside-range") unless least ≤ value ≤ most.
void require_within(const char* quantity, double value, double least, double most);

}  // namespace wallfoot
