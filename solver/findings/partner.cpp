// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/partner.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <map>

#include "core/study/edits.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/reuse.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void refuse(const std::string& code, std::map<std::string, std::string> args = {}) { throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); }

std::shared_ptr<const Findings> sound(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    auto findings = find(study, variant, options, context);
    context.check();  // cut short, it is not at rest
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

/// How much better than the target, by value; above 0 is worse.
double worse_by(Measure measure, double value, double target) { return measure == Measure::psi ? value - target : target - value; }

/// The measures of the variant at one value of the parameter.
struct Tried {
    std::map<Measure, Bracketed> measured;
    std::string problem;
};

/// The variant as a function of the parameter, on the scale on which the steps are even. Each value is solved once.
class Trial {
  public:
    Trial(const Study& study, const Variant& variant, const EqualAsked& asked, const FindingsOptions& options, const Context& context)
        : study_(study), variant_(variant), asked_(asked), options_(reuse_.at_rest(options)), context_(context), by_ratio_(goes_by_ratio(asked.parameter)) {}

    double value_at(double scaled) const { return by_ratio_ ? std::exp(scaled) : scaled; }
    double scaled(double value) const { return by_ratio_ ? std::log(value) : value; }
    /// What is near enough on that scale: 0.02 % of a conductivity, 0.01 of a mm or °C.
    double near_enough() const { return by_ratio_ ? 2e-4 : 0.01; }

    const Tried& at(double scaled) {
        const auto known = known_.find(scaled);
        if (known != known_.end()) return known->second;
        Tried tried;
        Study study = study_;
        Variant variant = variant_;
        try {
            variant.section = std::make_shared<const Section>(with_number(study, variant_, *variant_.section, asked_.parameter, value_at(scaled)));
            const auto findings = sound(study, variant, options_, context_);
            for (const Measure measure : asked_.measures) tried.measured[measure] = measured(*findings, measure);
        } catch (const InputFault& fault) {
            // A name that is nowhere, or a measure that is not there, is nowhere along the range.
            const std::string& code = fault.faults().front().code;
            if (!asked_.parameter.moves_lines() || code.find("unknown") != std::string::npos) throw;
            tried.problem = english(fault.faults().front());
        }
        return known_.emplace(scaled, std::move(tried)).first->second;
    }

  private:
    const Study& study_;
    const Variant& variant_;
    const EqualAsked& asked_;
    Reuse reuse_;
    FindingsOptions options_;
    const Context& context_;
    bool by_ratio_;
    std::map<double, Tried> known_;
};

/// Thrown out of a search that came to a value the drawing does not allow: there is none to be followed.
struct NotAllowed {};

/// The search for the places where one measure passes the target.
class Search {
  public:
    Search(Trial& trial, Measure measure, const Bracketed& target) : trial_(trial), measure_(measure), target_(target) {}

    double off(double scaled) {
        const Tried& tried = trial_.at(scaled);
        if (!tried.problem.empty()) throw NotAllowed();
        return tried.measured.at(measure_).value - target_.value;
    }

    std::vector<EqualRoot> roots(const std::vector<double>& steps) {
        std::vector<std::optional<double>> offs;
        for (const double step : steps) offs.push_back(trial_.at(step).problem.empty() ? std::optional(off(step)) : std::nullopt);
        for (std::size_t i = 0; i < steps.size(); ++i) {
            if (!offs[i]) continue;
            if (i + 1 < steps.size() && offs[i + 1]) {
                if (*offs[i] * *offs[i + 1] < 0) follow(steps[i], steps[i + 1]);
                else if (*offs[i] == 0 && *offs[i + 1] != 0) end_of_equality(steps[i], steps[i + 1]);
                else if (*offs[i] != 0 && *offs[i + 1] == 0) end_of_equality(steps[i + 1], steps[i]);
            }
            // Over a gap that the drawing does not allow nothing can be followed.
            std::size_t next = i + 1;
            while (next < steps.size() && !offs[next]) ++next;
            if (next > i + 1 && next < steps.size() && *offs[i] * *offs[next] < 0) lost_.emplace_back(trial_.value_at(steps[i]), trial_.value_at(steps[next]));
            if (i > 0 && i + 1 < steps.size() && offs[i - 1] && offs[i + 1]) look_for_turn(steps[i - 1], steps[i + 1], *offs[i - 1], *offs[i], *offs[i + 1]);
        }
        std::sort(found_.begin(), found_.end(), [](const EqualRoot& a, const EqualRoot& b) { return a.value < b.value; });
        // A step that hits the target by itself is met from both sides.
        const auto same = [&](const EqualRoot& a, const EqualRoot& b) { return trial_.scaled(b.value) - trial_.scaled(a.value) < 2 * trial_.near_enough(); };
        found_.erase(std::unique(found_.begin(), found_.end(), same), found_.end());
        return found_;
    }

    const std::vector<std::pair<double, double>>& lost() const { return lost_; }
    /// Whether what is left open by both overlaps at any of the steps.
    bool overlaps(const std::vector<double>& steps) {
        return std::any_of(steps.begin(), steps.end(), [&](double step) {
            const Tried& tried = trial_.at(step);
            if (!tried.problem.empty()) return false;
            const Bracketed& here = tried.measured.at(measure_);
            return here.lower <= target_.upper && here.upper >= target_.lower;
        });
    }
    bool alike(const std::vector<double>& steps) {
        return std::all_of(steps.begin(), steps.end(), [&](double step) { return trial_.at(step).problem.empty() && off(step) == 0; });
    }

  private:
    /// The very same on one side, as where both variants are one; the place where that ends.
    void end_of_equality(double same, double other) try {
        while (std::abs(other - same) > trial_.near_enough()) {
            const double middle = (same + other) / 2;
            (off(middle) == 0 ? same : other) = middle;
        }
        const Bracketed here = trial_.at(other).measured.at(measure_);
        const double value = trial_.value_at(same);
        found_.push_back({value, value, value, std::abs(off(other)) > 2 * here.width()});
    } catch (const NotAllowed&) {
    }

    /// The root between two values at which the difference changes sign.
    void follow(double a, double b) try {
        const double at_a = off(a), at_b = off(b), near = trial_.near_enough();
        std::uintmax_t most = 60;
        const auto [low, high] = boost::math::tools::toms748_solve([this](double x) { return off(x); }, a, b, at_a, at_b, [near](double l, double h) { return h - l < near; }, most);
        const double middle = (low + high) / 2, fall = std::abs(off(high) - off(low));
        // To first order, from the slope of the secant and what both brackets leave open.
        const Bracketed here = trial_.at(middle).measured.at(measure_);
        const double slope = (at_b - at_a) / (b - a);
        const double open = (here.upper - here.lower) / 2 + (target_.upper - target_.lower) / 2;
        // Most of what happens over the whole step happens in its last hundredth of a mm, and more than any bracket leaves open.
        const bool leap = fall > 0.5 * std::abs(at_b - at_a) && fall > 4 * open && high - low < 0.05 * (b - a);
        const double half = (high - low) / 2 + (slope != 0 && !leap ? std::abs(open / slope) : 0);
        found_.push_back({trial_.value_at(middle), trial_.value_at(middle - half), trial_.value_at(middle + half), leap});
    } catch (const NotAllowed&) {
        lost_.emplace_back(trial_.value_at(a), trial_.value_at(b));
    }

    /// Three values on one side of the target, the middle one nearest to it: between the outer two it may touch or pass the target.
    void look_for_turn(double a, double c, double at_a, double at_b, double at_c) try {
        if (at_a * at_b <= 0 || at_b * at_c <= 0 || std::abs(at_b) >= std::abs(at_a) || std::abs(at_b) >= std::abs(at_c)) return;
        std::optional<double> beyond;
        std::uintmax_t most = 24;
        const auto distance = [&](double x) {
            if (beyond) return 0.0;  // it is found; the search runs out
            const double here = off(x);
            if (here * at_b <= 0) beyond = x;
            return std::abs(here);
        };
        boost::math::tools::brent_find_minima(distance, a, c, 16, most);
        if (!beyond) return;
        if (off(*beyond) == 0) return found_.push_back({trial_.value_at(*beyond), trial_.value_at(*beyond), trial_.value_at(*beyond)});
        follow(a, *beyond);
        follow(*beyond, c);
    } catch (const NotAllowed&) {
    }

    Trial& trial_;
    Measure measure_;
    Bracketed target_;
    std::vector<EqualRoot> found_;
    std::vector<std::pair<double, double>> lost_;
};

/// Where every measure is as good as its target: between steps and roots nothing changes sides.
std::vector<EqualRange> ranges_as_good(Trial& trial, const std::vector<double>& steps, const std::vector<EqualBy>& by) {
    const auto good = [&](double scaled) {
        const Tried& tried = trial.at(scaled);
        return tried.problem.empty() && std::all_of(by.begin(), by.end(), [&](const EqualBy& one) { return worse_by(one.measure, tried.measured.at(one.measure).value, one.target) <= 0; });
    };
    std::vector<EqualRange> ranges;
    const auto add = [&](double from, double to) {
        if (!ranges.empty() && ranges.back().to == trial.value_at(from)) ranges.back().to = trial.value_at(to);
        else ranges.push_back({trial.value_at(from), trial.value_at(to)});
    };
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const bool allowed = trial.at(steps[i]).problem.empty();
        if (i + 1 == steps.size() || !allowed || !trial.at(steps[i + 1]).problem.empty()) {
            // The last before a gap: a value by itself, when nothing joined it.
            if (allowed && good(steps[i]) && (ranges.empty() || ranges.back().to != trial.value_at(steps[i]))) add(steps[i], steps[i]);
            continue;
        }
        std::vector<double> marks{steps[i]};
        for (const EqualBy& one : by)
            for (const EqualRoot& root : one.roots)
                if (const double at = trial.scaled(root.value); at > steps[i] && at < steps[i + 1]) marks.push_back(at);
        marks.push_back(steps[i + 1]);
        std::sort(marks.begin(), marks.end());
        for (std::size_t m = 0; m + 1 < marks.size(); ++m) {
            const double a = marks[m], b = marks[m + 1];
            // Without a root on it the ends speak for what is between.
            if (marks.size() == 2 ? good(a) && good(b) : good((a + b) / 2)) add(a, b);
            else if (m == 0 && good(a) && marks.size() == 2 && (ranges.empty() || ranges.back().to != trial.value_at(a))) add(a, a);
        }
    }
    return ranges;
}

}  // namespace

bool goes_by_ratio(const Parameter& parameter) { return parameter.what == ParameterWhat::conductivity || parameter.what == ParameterWhat::material_conductivity; }

EqualRange usual_range(const Study& study, const Variant& variant, const Parameter& parameter) {
    if (goes_by_ratio(parameter)) return {least_tried, most_tried};
    const double now = present_number(study, variant, parameter).value_or(0);
    if (parameter.what == ParameterWhat::temperature) return {now - 10, now + 10};
    if (parameter.what == ParameterWhat::membrane) return {std::max(0.001, now - 500), now + 500};
    EqualRange range{now / 4, now * 4};
    if (parameter.what == ParameterWhat::measure)
        for (const Stretch& stretch : variant.section->stretch)
            if (stretch.id == parameter.targets.front() || stretch.name == parameter.targets.front()) {
                if (stretch.min) range.from = to_mm(*stretch.min);
                if (stretch.max) range.to = to_mm(*stretch.max);
            }
    return range;
}

std::vector<std::string> piece_ids(const Section& section, const std::vector<std::string>& names) {
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

EqualAnswer equal_parameter(const Study& study, const Variant& variant, const EqualAsked& asked, const Findings& target, const FindingsOptions& options, const Context& context) {
    const ParameterRange allowed = range_of(asked.parameter.what);
    if (!(asked.from < asked.to) || asked.from < allowed.least || asked.to > allowed.most || asked.steps < 2 || asked.measures.empty() || asked.parameter.takes_words()) refuse("equal-range");
    Trial trial(study, variant, asked, options, context);
    const double from = trial.scaled(asked.from), to = trial.scaled(asked.to);
    std::vector<double> steps;
    for (int i = 0; i <= asked.steps; ++i) steps.push_back(i == asked.steps ? to : from + (to - from) * i / asked.steps);
    EqualAnswer answer;
    for (const double step : steps) {
        const Tried& tried = trial.at(step);
        EqualSample sample{trial.value_at(step), {}, {}, tried.problem};
        for (const auto& [measure, value] : tried.measured) (measure == Measure::psi ? sample.psi : sample.fRsi) = value.value;
        answer.tried.push_back(std::move(sample));
        context.report(static_cast<double>(answer.tried.size()) / static_cast<double>(2 * steps.size()));
    }
    for (const Measure measure : asked.measures) {
        const Bracketed wanted = measured(target, measure);
        Search search(trial, measure, wanted);
        EqualBy by{.measure = measure, .target = wanted.value, .lost = {}, .roots = search.roots(steps)};
        by.lost = search.lost();
        by.alike_throughout = search.alike(steps);
        by.undecided = by.roots.empty() && !by.alike_throughout && search.overlaps(steps);
        std::optional<double> before;
        for (const EqualSample& sample : answer.tried)
            if (const auto& now = measure == Measure::psi ? sample.psi : sample.fRsi) {
                if (before) by.better_when_lower = by.better_when_lower && worse_by(measure, *now, *before) > -options.tolerance;
                before = now;
            }
        answer.by.push_back(std::move(by));
    }
    answer.as_good = ranges_as_good(trial, steps, answer.by);
    return answer;
}

EqualCourses equal_courses(const Study& study, const Variant& variant, const std::vector<std::string>& pieces, const std::string& material, const Findings& target,
                           Micrometres course_height, std::size_t most, const std::vector<Measure>& measures, const FindingsOptions& options, const Context& context) {
    const auto known = std::find_if(study.materials.begin(), study.materials.end(), [&](const Material& m) { return m.id == material || m.name == material; });
    if (known == study.materials.end()) refuse("equal-unknown-material", {{"material", material}});
    if (measures.empty()) refuse("equal-range");
    Reuse reuse;
    const FindingsOptions shared = reuse.at_rest(options);
    EqualCourses result;
    for (const Measure measure : measures) (measure == Measure::psi ? result.psi : result.fRsi) = measured(target, measure);
    Variant now = variant;
    result.before = sound(study, now, shared, context);
    auto left = courses_of(*variant.section, piece_ids(*variant.section, pieces), course_height);
    const auto as_good = [&](const Findings& findings) {
        return (!result.psi || measured(findings, Measure::psi).upper <= result.psi->upper) && (!result.fRsi || measured(findings, Measure::fRsi).value >= result.fRsi->value);
    };
    if (as_good(*result.before)) result.equal_at = 0;
    while (!result.equal_at && result.steps.size() < most && !left.empty()) {
        std::size_t best = left.size();
        CourseStep step;
        std::shared_ptr<const Section> changed;
        for (std::size_t i = 0; i < left.size(); ++i) {
            Variant tried = now;
            tried.section = std::make_shared<const Section>(with_course(*now.section, left[i], known->id));
            auto findings = sound(study, tried, shared, context);
            if (best < left.size() && worse_by(measures.front(), measured(*findings, measures.front()).value, measured(*step.findings, measures.front()).value) >= 0) continue;
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
        result.undecided = (!result.psi || measured(last, Measure::psi).lower <= result.psi->upper) && (!result.fRsi || measured(last, Measure::fRsi).upper >= result.fRsi->lower);
    }
    return result;
}

}  // namespace wallfoot
