// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/study/courses.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/parameter.hpp"

namespace wallfoot {

// The equal partner: what would make one variant as good as another. Heat only; what else there is to ask stands beside it
// (beside_heat).

enum class Measure { psi, fRsi };

/// A value of the parameter at which the variant is as good as the target.
struct EqualRoot {
    double value = 0;             ///< in the parameter's unit
    double lower = 0, upper = 0;  ///< about what both brackets leave open (of fRsi the estimated error), by the slope over a step of the range
    /// No value gives equality: here the measure leaps over it, as where a membrane begins to keep a piece dry.
    bool leap = false;
};

/// A value that was tried, solved to rest.
struct EqualSample {
    double at = 0;
    std::optional<double> psi, fRsi;  ///< W/(m·K), –
    std::string problem;              ///< why the drawing does not allow it
};

/// One measure against the target's.
struct EqualBy {
    Measure measure = Measure::psi;
    double target = 0;
    bool undecided = false;         ///< no root, yet at some value that was tried what both brackets leave open overlaps (RULES 17)
    bool alike_throughout = false;  ///< the very same at every value that was tried
    /// It changes sides between these two, and what lies between the drawing does not allow.
    std::vector<std::pair<double, double>> lost;
    std::vector<EqualRoot> roots;   ///< ascending; the measure need not follow the parameter one way only
    bool better_when_lower = true;  ///< over the whole range it improves as the parameter falls
};

struct EqualRange {
    double from = 0, to = 0;
};

struct EqualAnswer {
    std::vector<EqualBy> by;          ///< one for each measure asked
    std::vector<EqualSample> tried;   ///< ascending
    std::vector<EqualRange> as_good;  ///< where every measure asked is at least as good; empty: not reachable in the range tried
};

struct EqualAsked {
    Parameter parameter;             ///< one that goes through numbers
    double from = 0, to = 0;         ///< the range, ascending
    std::vector<Measure> measures{Measure::psi};
    int steps = 14;
};

/// Range of conductivities that is tried by itself, W/(m·K): from the best insulants to dense stone.
constexpr double least_tried = 0.02, most_tried = 5;
/// The range that is tried where none is asked: for conductivities that above, of a measure what it allows, else about what
/// is drawn.
EqualRange usual_range(const Study& study, const Variant& variant, const Parameter& parameter);
/// Steps over the range are even in the logarithm.
bool goes_by_ratio(const Parameter& parameter);

/// Where the parameter of `variant` makes it as good as the target (another variant's findings). Every sign change over the
/// steps of the range is followed to its place, and where three steps show a turn towards the target, the turn is looked for:
/// it may hide two. Two roots closer than a step without such a turn can be missed. Values the drawing does not allow are
/// left out and told in `tried`. Throws InputFault: names that are nowhere, "equal-no-value" (a variant without the measure),
/// "equal-range" (an empty range, or one out of the parameter's), a faulty drawing; Cancelled.
EqualAnswer equal_parameter(const Study& study, const Variant& variant, const EqualAsked& asked, const Findings& target, const FindingsOptions& options = {}, const Context& context = {});

/// Ids of the pieces of material called so, by id or name. Throws InputFault "equal-unknown-piece".
std::vector<std::string> piece_ids(const Section& section, const std::vector<std::string>& names);

/// One course of a leaf that was changed to the other block.
struct CourseStep {
    std::string piece;                       ///< name of the leaf
    Micrometres bottom = 0, top = 0;
    std::shared_ptr<const Findings> findings;  ///< with this and all earlier steps
};

struct EqualCourses {
    std::optional<Bracketed> psi, fRsi;    ///< of the target, each where it is asked
    std::shared_ptr<const Findings> before;
    std::vector<CourseStep> steps;         ///< in the order in which each helps most
    std::optional<std::size_t> equal_at;   ///< number of courses from which on it is as good
    bool undecided = false;                ///< what is left open overlaps at the last step that was tried
};

/// Changes whole courses of the pieces (rectangular leaves) to a material, one after the other, each time the one that helps
/// the first measure most, until every measure is as good as the target's (the upper bound of psi not above that of the
/// target, fRsi not below) or `most` courses are changed. Courses as courses_of, of `course_height` where a leaf has none.
/// Throws InputFault: "equal-unknown-piece", "equal-not-rectangular", "equal-unknown-material", "equal-no-value", a faulty
/// drawing; Cancelled.
EqualCourses equal_courses(const Study& study, const Variant& variant, const std::vector<std::string>& pieces, const std::string& material,
                           const Findings& target, Micrometres course_height, std::size_t most, const std::vector<Measure>& measures = {Measure::psi},
                           const FindingsOptions& options = {}, const Context& context = {});

/// Either answer in lines of text.
std::string equal_text(const Parameter& parameter, const EqualAnswer& answer);
std::string equal_courses_text(const EqualCourses& found);

/// What heat does not decide where a parameter is changed to match another variant: strength, frost, sound, fire, movement,
/// with what the study declares of the materials in question. `other`: a material that takes their place, "" = none.
std::vector<Message> beside_heat(const Study& study, const Variant& variant, const Parameter& parameter, const std::string& other = "");

}  // namespace wallfoot
