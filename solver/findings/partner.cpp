// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/partner.hpp"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "core/text/refuse_faults.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void refuse(const std::string& code, std::map<std::string, std::string> args = {}) { throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); }

std::vector<std::string> ids_of(const Section& section, const std::vector<std::string>& names) {
    std::vector<std::string> ids;
    for (const auto& name : names) {
        const std::size_t before = ids.size();
        for (const Piece& piece : section.pieces)
            if ((piece.id == name || piece.name == name) && piece.fill == Fill::material) ids.push_back(piece.id);
        if (ids.size() == before) refuse("equal-unknown-piece", {{"piece", name}});
    }
    if (ids.empty()) refuse("equal-unknown-piece", {{"piece", ""}});
    return ids;
}

std::shared_ptr<const Findings> sound(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    auto findings = find(study, variant, options, context);
    refuse_faults(findings->messages);
    return findings;
}

/// The measure with its bracket; of fRsi the error estimate stands for one where there is none.
Bracketed measured(const Findings& findings, Measure measure) {
    if (measure == Measure::psi) {
        const Psi* psi = findings.headline_psi();
        if (psi && psi->value) return *psi->value;
    } else {
        const SurfaceFinding* surface = findings.headline_surface();
        if (surface && surface->fRsi) return {*surface->fRsi, *surface->fRsi - surface->estimate, *surface->fRsi + surface->estimate};
    }
    refuse("equal-no-value", {{"variant", findings.variant_name}});
}

constexpr const char* trial_id = "equal partner";

/// The variant as a function of the logarithm of one conductivity.
class Trial {
  public:
    Trial(const Study& study, const Variant& variant, const std::vector<std::string>& ids, Measure measure, const FindingsOptions& options, const Context& context)
        : study_(study), variant_(variant), measure_(measure), options_(options), context_(context) {
        Section section = *variant.section;
        for (const auto& id : ids) section = set_material(section, id, trial_id);
        variant_.section = std::make_shared<const Section>(std::move(section));
        study_.materials.push_back(plain_material(trial_id, 1));
    }
    Bracketed at(double logarithm) {
        study_.materials.back() = plain_material(trial_id, std::exp(logarithm));
        return measured(*sound(study_, variant_, options_, context_), measure_);
    }

  private:
    Study study_;
    Variant variant_;
    Measure measure_;
    FindingsOptions options_;
    const Context& context_;
};

/// The root between two logarithms at which the difference changes sign.
EqualRoot root_between(Trial& trial, double a, double b, double at_a, double at_b, const Bracketed& target) {
    const auto off = [&](double logarithm) { return trial.at(logarithm).value - target.value; };
    const auto near_enough = [](double low, double high) { return high - low < 2e-4; };  // of the conductivity, relative
    std::uintmax_t most = 40;
    const auto [low, high] = boost::math::tools::toms748_solve(off, a, b, at_a, at_b, near_enough, most);
    const double middle = (low + high) / 2;
    // To first order, from the slope of the secant and what both brackets leave open.
    const Bracketed here = trial.at(middle);
    const double slope = (at_b - at_a) / (b - a);
    const double open = (here.upper - here.lower) / 2 + (target.upper - target.lower) / 2;
    const double half = (high - low) / 2 + (slope != 0 ? std::abs(open / slope) : 0);
    return {std::exp(middle), std::exp(middle - half), std::exp(middle + half)};
}

struct Course {
    std::string piece, name;
    Micrometres left = 0, right = 0, bottom = 0, top = 0;
};

/// A rectangle's corners; refuses what is none.
Rect rectangle_of(const Piece& piece) {
    const auto [left, right] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point p, Point q) { return p.x < q.x; });
    const auto [low, high] = std::minmax_element(piece.outline.begin(), piece.outline.end(), [](Point p, Point q) { return p.y < q.y; });
    const Rect box{left->x, low->y, right->x, high->y};
    for (const Point p : piece.outline)
        if ((p.x != box.left && p.x != box.right && p.y != box.bottom && p.y != box.top) || !piece.holes.empty()) refuse("equal-not-rectangular", {{"piece", shown_name(piece)}});
    Area2 area = 0;
    for (std::size_t i = 0; i < piece.outline.size(); ++i) {
        const Point p = piece.outline[i], q = piece.outline[(i + 1) % piece.outline.size()];
        area += Area2(p.x) * q.y - Area2(q.x) * p.y;
    }
    if ((area < 0 ? -area : area) != Area2(2) * box.width() * box.height()) refuse("equal-not-rectangular", {{"piece", shown_name(piece)}});
    return box;
}

std::vector<Course> courses_of(const Section& section, const std::vector<std::string>& ids, Micrometres height) {
    std::vector<Course> courses;
    for (const auto& id : ids) {
        const Piece& piece = *find_piece(section, id);
        const Rect box = rectangle_of(piece);
        const Micrometres step = piece.courses && piece.courses->height > 0 ? piece.courses->height : height;
        Micrometres top = box.top;
        if (piece.courses) {
            // The uppermost course line below the top.
            const Micrometres above = ((box.top - piece.courses->from) % step + step) % step;
            if (above > 0) {
                courses.push_back({id, shown_name(piece), box.left, box.right, std::max(box.bottom, box.top - above), box.top});
                top = box.top - above;
            }
        }
        for (; top > box.bottom; top -= step) courses.push_back({id, shown_name(piece), box.left, box.right, std::max(box.bottom, top - step), top});
    }
    return courses;
}

/// The course as a piece just above its leaf, so that what covers the leaf still does.
Section with_course(const Section& section, const Course& course, const std::string& material) {
    Piece block;
    block.outline = rectangle_outline({course.left, course.bottom}, {course.right, course.top});
    block.filled_with = material;
    block.name = course.name;
    if (const Piece* leaf = find_piece(section, course.piece)) block.moisture = leaf->moisture;  // in the same place and condition
    Section result = add_piece(section, block);
    const std::string id = result.pieces.back().id;
    std::size_t above = 0;
    for (std::size_t i = 0; i < section.pieces.size(); ++i)
        if (section.pieces[i].id == course.piece) above = i + 1;
    return reorder_piece(result, id, above);
}

}  // namespace

EqualConductivity equal_conductivity(const Study& study, const Variant& variant, const std::vector<std::string>& pieces, const Findings& target, Measure measure,
                                     const FindingsOptions& options, const Context& context) {
    const Bracketed wanted = measured(target, measure);
    Trial trial(study, variant, ids_of(*variant.section, pieces), measure, options, context);
    EqualConductivity result;
    result.target = wanted.value;
    constexpr int steps = 14;
    const double from = std::log(least_tried), by = (std::log(most_tried) - from) / steps;
    std::vector<double> off;
    for (int i = 0; i <= steps; ++i) {
        const double value = trial.at(from + i * by).value;
        result.tried.push_back({std::exp(from + i * by), value});
        off.push_back(value - wanted.value);
    }
    const double sign = measure == Measure::psi ? 1 : -1;
    for (int i = 0; i < steps; ++i) {
        result.better_when_lower = result.better_when_lower && sign * (off[i + 1] - off[i]) > -options.tolerance;
        if (off[i] == 0) result.roots.push_back({result.tried[i].conductivity, result.tried[i].conductivity, result.tried[i].conductivity});
        else if (off[i] * off[i + 1] < 0) result.roots.push_back(root_between(trial, from + i * by, from + (i + 1) * by, off[i], off[i + 1], wanted));
    }
    return result;
}

EqualCourses equal_courses(const Study& study, const Variant& variant, const std::vector<std::string>& pieces, const std::string& material, const Findings& target,
                           Micrometres course_height, std::size_t most, const FindingsOptions& options, const Context& context) {
    const auto known = std::find_if(study.materials.begin(), study.materials.end(), [&](const Material& m) { return m.id == material || m.name == material; });
    if (known == study.materials.end()) refuse("equal-unknown-material", {{"material", material}});
    if (course_height <= 0) refuse("equal-course-height");
    EqualCourses result;
    result.target = measured(target, Measure::psi);
    Variant now = variant;
    result.before = sound(study, now, options, context);
    auto left = courses_of(*variant.section, ids_of(*variant.section, pieces), course_height);
    const auto as_good = [&](const Findings& findings) { return measured(findings, Measure::psi).upper <= result.target.upper; };
    if (as_good(*result.before)) result.equal_at = 0;
    while (!result.equal_at && result.steps.size() < most && !left.empty()) {
        std::size_t best = left.size();
        CourseStep step;
        std::shared_ptr<const Section> changed;
        for (std::size_t i = 0; i < left.size(); ++i) {
            Variant tried = now;
            tried.section = std::make_shared<const Section>(with_course(*now.section, left[i], known->id));
            auto findings = sound(study, tried, options, context);
            if (best < left.size() && measured(*findings, Measure::psi).value >= measured(*step.findings, Measure::psi).value) continue;
            best = i;
            step = {left[i].name, left[i].bottom, left[i].top, std::move(findings)};
            changed = tried.section;
        }
        now.section = changed;
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(best));
        result.steps.push_back(step);
        if (as_good(*step.findings)) result.equal_at = result.steps.size();
    }
    if (!result.equal_at) {
        const Findings& last = result.steps.empty() ? *result.before : *result.steps.back().findings;
        result.undecided = measured(last, Measure::psi).lower <= result.target.upper;
    }
    return result;
}

}  // namespace wallfoot
