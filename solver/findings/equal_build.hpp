// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

// Two variants that are compared for their junction are often meant to have the same wall or floor beside it. A measure of
// the one (a stretch line) is changed until an element has the U, or the thickness, that it has in the other.

enum class Alike { transmittance, thickness };

struct EqualBuild {
    std::string element, measure;   ///< id of the element; name of the measure, as shown
    double target = 0;              ///< U in W/(m²·K), or thickness in m, of the element in the other variant
    Micrometres before = 0;         ///< length of the measure as drawn
    double value_before = 0;        ///< U or thickness as drawn
    /// Lengths one step of the grid (1 µm) apart between which the target is passed; equal where it is met exactly.
    /// Nothing: not reachable, see `tried`.
    std::optional<std::pair<Micrometres, Micrometres>> bracket;
    std::optional<Micrometres> leaps_at;  ///< not reachable because the value leaps over the target here
    Micrometres length = 0;         ///< the nearer of the two
    double value = 0;               ///< U or thickness there
    std::shared_ptr<const Section> section;  ///< of the variant with that length; null where it is not reachable
    /// The lengths that the measure and the drawing allow, as far as they were tried, and the values there.
    struct Tried {
        Micrometres length = 0;
        double value = 0;
    };
    std::vector<Tried> tried;       ///< ascending by length
};

/// U or thickness of an element of a variant, without solving any field: U by ISO 6946 as in the findings; of a floor on soil
/// 1/(R_s + Σ d/λ) of its layers down to the soil, for with equal layers and width U on the ground is equal too. Throws
/// InputFault: "equal-unknown-element" (with those it has), "equal-no-transmittance", a faulty drawing.
double alike_value(const Study& study, const Variant& variant, const std::string& element, Alike alike, const Context& context = {});

/// Greatest length that is tried of a measure without one of its own, beyond what it is now.
constexpr Micrometres most_added = 1'000'000;

/// `measure`: id or name of a stretch line of `variant`. Its range is walked in steps, the change of sign nearest to the
/// present length is followed down to the grid. Throws InputFault: "equal-unknown-measure", and as alike_value; Cancelled.
EqualBuild equal_build(const Study& study, const Variant& variant, const std::string& measure, const std::string& element, Alike alike, double target,
                       const Context& context = {});

}  // namespace wallfoot
