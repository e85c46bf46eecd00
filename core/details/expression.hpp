// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace wallfoot {

/// Why an expression has no value.
struct ExpressionProblem {
    enum Kind { malformed, unknown_name, divides_by_zero } kind = malformed;
    std::string name;    ///< the name that is not known
    std::size_t at = 0;  ///< byte of the text
};

/// The value of a name, or nothing when there is no such name. May throw.
using NameLookup = std::function<std::optional<double>(std::string_view)>;

/// Value of an expression: numbers with a decimal point, names (a letter, then letters, digits, `_`; `a.b` counts as one
/// name), + - * / ( ), min(a, b, …) and max(a, b, …). Throws ExpressionProblem.
double evaluate(std::string_view text, const NameLookup& lookup);

/// Whether `text` can be a name: a small letter, then small letters, digits and `_`; not min or max.
bool is_expression_name(std::string_view text);

}  // namespace wallfoot
