// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace wallfoot {

/// What a typed entry means. Exactly one of `value` and `problem` is set.
struct Entry {
    std::optional<double> value;
    std::string problem;  ///< message code: entry-empty | entry-not-a-number | entry-two-separators | entry-units | entry-divides-by-zero | entry-too-large
    std::size_t at = 0;   ///< byte of the text where the problem is
    explicit operator bool() const { return value.has_value(); }
};

/// A length in mm: numbers with `.` or `,` as decimal sign (never a group sign), sums, products, brackets, and the units
/// mm, cm, m ("12,5cm + 3"); a number without a unit counts as mm. Does not depend on any locale. |value| ≤ 500 m.
Entry parse_length(std::string_view text);
/// A plain number by the same rules; a degree sign behind it is allowed. Units of length are a problem.
Entry parse_number(std::string_view text);

/// A length the way this program writes it: "125 mm", "12.5 mm", "0.004 mm"; at most three decimals, `.` as decimal sign.
std::string length_text(double mm);
/// The same without the unit.
std::string number_text(double value, int most_decimals = 3);

}  // namespace wallfoot
