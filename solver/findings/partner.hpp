// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "solver/findings/findings.hpp"

namespace wallfoot {

// The equal partner: what would make one variant as good as another. Heat only; strength, frost, sound, fire and movement
// are not in it.

enum class Measure { psi, fRsi };

/// A conductivity at which the variant is as good as the target.
struct EqualRoot {
    double conductivity = 0;      ///< W/(m·K)
    double lower = 0, upper = 0;  ///< about what both brackets leave open (of fRsi the estimated error), by the slope over a step of the range
};

struct ConductivitySample {
    double conductivity = 0;
    double value = 0;  ///< psi, W/(m·K), or fRsi
};

struct EqualConductivity {
    double target = 0;
    std::vector<EqualRoot> roots;            ///< ascending; empty: not reachable in the range tried
    std::vector<ConductivitySample> tried;   ///< the range, ascending: psi need not be monotone
    bool better_when_lower = true;           ///< over the whole range the measure improves as the conductivity falls
};

/// Range of conductivities that is tried, W/(m·K): from the best insulants to dense stone.
constexpr double least_tried = 0.02, most_tried = 5;

/// The conductivity that the pieces (ids or names) of `variant` would need, in place and in every moisture condition, to
/// reach the target (psi or fRsi of another variant's findings). Every sign change over the range is followed; two roots
/// closer than a step of the range (a ratio of 1.5) can be missed. Throws InputFault: "equal-unknown-piece",
/// "equal-no-value" (a variant without the measure), a faulty drawing; Cancelled.
EqualConductivity equal_conductivity(const Study& study, const Variant& variant, const std::vector<std::string>& pieces, const Findings& target,
                                     Measure measure, const FindingsOptions& options = {}, const Context& context = {});

/// One course of a leaf that was changed to the other block.
struct CourseStep {
    std::string piece;                       ///< name of the leaf
    Micrometres bottom = 0, top = 0;
    std::shared_ptr<const Findings> findings;  ///< with this and all earlier steps
};

struct EqualCourses {
    Bracketed target;
    std::shared_ptr<const Findings> before;
    std::vector<CourseStep> steps;         ///< in the order in which each lowers psi most
    std::optional<std::size_t> equal_at;   ///< number of courses from which the upper bound of psi is not above that of the target
    bool undecided = false;                ///< the brackets overlap at the last step that was tried
};

/// Changes whole courses of the pieces (rectangular leaves) to a material, one after the other, each time the one that lowers
/// psi most, until psi is as low as the target's or `most` courses are changed. Courses are those of the leaf where it has
/// any, else of `course_height` from its top down; a cut course counts as one. Throws InputFault: "equal-unknown-piece",
/// "equal-not-rectangular", "equal-unknown-material", "equal-no-value", a faulty drawing; Cancelled.
EqualCourses equal_courses(const Study& study, const Variant& variant, const std::vector<std::string>& pieces, const std::string& material,
                           const Findings& target, Micrometres course_height, std::size_t most, const FindingsOptions& options = {},
                           const Context& context = {});

}  // namespace wallfoot
