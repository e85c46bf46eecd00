// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

#include "core/file/study_file.hpp"
#include "solver/findings/derive.hpp"
#include "solver/findings/edge_insulation.hpp"
#include "solver/findings/find_stated.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/floor_option.hpp"
#include "solver/findings/fractiles.hpp"
#include "solver/findings/hidden_surface.hpp"
#include "solver/findings/mixed_layers.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"
#include "solver/findings/season_work.hpp"
#include "solver/findings/shared_psi.hpp"
#include "solver/findings/slopes.hpp"
#include "solver/mesh/corner_exponent.hpp"

namespace wallfoot {

namespace {

double widest_coupling(const Solution& solution) {
    double widest = 0;
    for (int a = 0; a < solution.contacts; ++a)
        for (int b = a + 1; b < solution.contacts; ++b) widest = std::max(widest, solution.coupling(a, b).width());
    return widest;
}

/// The surface check refines for its own temperature; its heat flow need not be as close as that of psi.
constexpr double anything = 1e30;  // a tolerance that the first solve meets
constexpr double surface_check_tolerance = 1e-3;
/// Where heat passes between good conductors through a point the bounds do not close on any mesh: an early, honest stop.
constexpr int most_triangles_when_unsettled = 20'000;
/// RULES 6: a difference of the two readings above it is a caution, W/(m·K).
constexpr double readings_caution = 0.01;

struct Solved {
    std::shared_ptr<const Solution> main;
    std::shared_ptr<const Solution> check;
    std::optional<Solution> alone, other;
};

/// One variant on its way from drawing to findings.
class Work {
  public:
    Work(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context)
        : study_(study), variant_(variant), options_(options), context_(context) {}

    std::shared_ptr<const Findings> run();
    /// The fault with the variant as its place in the file, where it names none.
    InputFault placed(const InputFault& fault) const {
        auto faults = fault.faults();
        for (Message& message : faults)
            if (message.pointer.empty()) message.pointer = pointer_;
        return InputFault(std::move(faults));
    }

  private:
    using Clock = std::chrono::steady_clock;

    bool prepare();
    void take_temperatures();
    void check_points();
    void caution_touching();
    void correct_elements();
    void scale_temperatures();
    SolveOptions solve_options(double tolerance) const;
    void ask_for_surface(SolveOptions& options) const;
    Solution solve_model(const Model& model, const SolveOptions& options) const { return options_.solve ? options_.solve(model, options, context_) : solve(model, options, context_); }
    void solve_others(Solved& solved, double tolerance_for_floor, double tolerance_for_surface) const;
    std::shared_ptr<const Findings> assemble(const Solved& solved, bool finished) const;
    void read_couplings(Findings& findings, const Solution& solution) const;
    void read_surfaces(Findings& findings, const Solved& solved) const;
    void say_what_is_hidden(Findings& findings, const Solved& solved) const;
    void add_surface(Findings& findings, const Solution& solution, int space, Purpose purpose) const;
    void explain_floor_option(Findings& findings) const;
    void explain(Findings& findings, const FloorCouplings& floor) const;
    void note_step(const Solution& step);
    std::optional<Criteria> criteria(const Solution& main, SolveOptions options);
    std::vector<InputSlope> slopes(const Findings& findings, const Solved& solved) const;
    std::optional<Seasons> seasons(const Solved& solved) const;
    void say_what_is_missing(Findings& findings) const;
    bool reached(const Findings& findings) const;
    bool floor_section() const { return alone_ && alone_->refusal.empty(); }
    FloorReading reading() const { return study_.used_convention().floor_reading; }
    SectionView view() const {
        return {study_, *base_.section, base_.arrangement, base_.conductivity, surfaces_, base_.temperatures};
    }
    void say(Findings& findings, Severity severity, std::string code, std::map<std::string, std::string> args,
             std::optional<Point> at) const {
        findings.messages.push_back({severity, std::move(code), std::move(args), at, pointer_});
    }

    const Study& study_;
    const Variant& variant_;
    const FindingsOptions& options_;
    const Context& context_;
    Clock::time_point start_ = Clock::now();
    std::string pointer_;
    Findings base_;
    std::vector<double> scaled_;  ///< temperatures of the spaces on the scale 0–1
    double lowest_temperature_ = 0, span_ = 0;
    bool unsettled_ = false;  ///< good conductors touch at a point
    std::vector<SurfaceEdge> surfaces_;
    std::vector<FoundElement> elements_;
    std::optional<FloorAlone> alone_;
    Model model_;
    std::optional<Model> check_model_;
    std::vector<int> face_region_, check_face_region_;
    std::vector<MeshStep> steps_;  ///< of the main run
    std::optional<Criteria> criteria_;
    std::optional<Seasons> seasons_;
};

bool touches_solid(const Arrangement& arrangement, Point p) {
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        if (arrangement.faces[arrangement.triangle_face[t]].kind != FaceKind::solid) continue;
        const auto& [a, b, c] = arrangement.triangles[t];
        const Point pa = arrangement.vertices[a], pb = arrangement.vertices[b], pc = arrangement.vertices[c];
        if (cross(pa, pb, p) >= 0 && cross(pb, pc, p) >= 0 && cross(pc, pa, p) >= 0) return true;
    }
    return false;
}

void Work::take_temperatures() {
    for (const Space& space : base_.section->spaces) base_.temperatures.push_back(space_temperature(study_, space));
}

/// The solver sees the scale 0–1 only (RULES 7): fRsi then does not depend on the temperatures.
void Work::scale_temperatures() {
    scaled_.assign(base_.temperatures.size(), 0);
    if (scaled_.empty()) return;
    const auto [low, high] = std::minmax_element(base_.temperatures.begin(), base_.temperatures.end());
    lowest_temperature_ = *low;
    span_ = *high - *low;
    if (span_ == 0) return;
    for (std::size_t i = 0; i < scaled_.size(); ++i) scaled_[i] = (base_.temperatures[i] - lowest_temperature_) / span_;
}

SolveOptions Work::solve_options(double tolerance) const {
    SolveOptions options;
    options.tolerance = tolerance;
    if (unsettled_) options.most_triangles = most_triangles_when_unsettled;
    return options;
}

/// Has a run refine for the lowest surface temperature of the headline's inside space as well.
void Work::ask_for_surface(SolveOptions& options) const {
    if (span_ == 0) return;
    options.surface_contact = headline_inside(*base_.section);
    options.temperatures = scaled_;
    options.surface_slopes = options_.slopes;
}

void Work::check_points() {
    for (const Point p : options_.at) {
        if (base_.arrangement.frame.contains(p) && touches_solid(base_.arrangement, p)) continue;
        say(base_, Severity::fault, "point-not-in-solid", {{"x", fixed(to_mm(p.x), 3)}, {"y", fixed(to_mm(p.y), 3)}}, p);
    }
}

/// Two materials that touch at one point: what passes there is not settled by the drawing, and no mesh can find it.
void Work::caution_touching() {
    const auto corners = corners_of(model_);
    for (std::size_t v = 0; v < corners.size(); ++v) {
        if (corners[v].touching()) say(base_, Severity::caution, "touching-at-a-point", {}, model_.vertices[v]);
        unsettled_ |= corners[v].alpha < Corner::least_settled;
    }
}

/// U + ΔU where the study states fixings and gaps, beside psi.
void Work::correct_elements() {
    for (const ElementOverride& stated : base_.section->elements) {
        if (!stated.corrections) continue;
        const auto found = std::find_if(elements_.begin(), elements_.end(), [&](const FoundElement& e) { return e.element.side == stated.cut && e.element.id == stated.id; });
        if (found == elements_.end()) say(base_, Severity::caution, "correction-without-element", {{"element", stated.id}}, std::nullopt);
        else if (auto derivation = correct_transmittance(view(), found->element, *stated.corrections, base_.messages)) base_.derivations.push_back(std::move(*derivation));
    }
}

/// Everything before the first solve; false when the drawing has a fault.
bool Work::prepare() {
    base_.variant_id = variant_.id;
    base_.variant_name = variant_.name;
    base_.section = variant_.section;
    base_.tolerance = options_.tolerance;
    base_.formulas = options_.formulas;
    for (std::size_t i = 0; i < study_.variants.size(); ++i)
        if (&study_.variants[i] == &variant_ || study_.variants[i].id == variant_.id) pointer_ = "/variants/" + std::to_string(i);
    base_.input_hash = input_hash(study_, variant_);
    take_temperatures();
    base_.arrangement = arrange(study_, *base_.section, context_);
    for (auto message : base_.arrangement.messages) {
        if (message.pointer.empty()) message.pointer = pointer_;
        base_.messages.push_back(std::move(message));
    }
    if (base_.has_fault()) return false;
    base_.conductivity = conductivities(study_, *base_.section, base_.arrangement, base_.messages);
    if (auto mixed = mixed_fractiles(study_)) base_.messages.push_back(std::move(*mixed));
    check_points();
    if (base_.has_fault()) return false;
    context_.check();
    scale_temperatures();
    const auto& section = *base_.section;
    const int spaces = int(section.spaces.size());
    surfaces_ = surfaces(study_, section, base_.arrangement, Purpose::heat_flow);
    const auto built_of_parts = [](const FaceConductivity& face) { return !face.parts.empty(); };
    if (std::any_of(base_.conductivity.begin(), base_.conductivity.end(), built_of_parts)) {
        const int version = options_.formulas.of("iso6946-parts");
        if (version == 1) take_parts_across(base_.conductivity);
        base_.derivations = resolve_mixed_layers(view(), find_elements(view()), base_.conductivity, base_.messages, version);
        for (Message& message : base_.messages)
            if (message.pointer.empty()) message.pointer = pointer_;
        if (base_.has_fault()) return false;
    }
    model_ = reduce(base_.arrangement, base_.conductivity, surfaces_, spaces, &face_region_);
    caution_touching();
    if (study_.used_convention().surface_check) {
        const auto checked = surfaces(study_, section, base_.arrangement, Purpose::surface_check);
        const bool same = std::equal(surfaces_.begin(), surfaces_.end(), checked.begin(), checked.end(),
                                     [](const SurfaceEdge& a, const SurfaceEdge& b) { return a.resistance == b.resistance; });
        if (!same) check_model_ = reduce(base_.arrangement, base_.conductivity, checked, spaces, &check_face_region_);
    }
    elements_ = find_elements(view());
    correct_elements();
    alone_ = floor_alone(view(), elements_, options_.formulas.of("iso10211-floor-alone"), context_);
    return true;
}

void Work::solve_others(Solved& solved, double tolerance_for_floor, double tolerance_for_surface) const {
    SolveOptions options = solve_options(tolerance_for_floor);
    if (floor_section()) {
        solved.alone = solve_model(alone_->used(reading())->model, options);
        if (const auto* other = alone_->other(reading())) solved.other = solve_model(other->model, options);
    }
    options.tolerance = tolerance_for_surface;
    if (!check_model_) return;
    if (tolerance_for_surface != anything) ask_for_surface(options);
    solved.check = std::make_shared<Solution>(solve_model(*check_model_, options));
}

void Work::read_couplings(Findings& findings, const Solution& solution) const {
    const auto& temperatures = findings.temperatures;
    const int spaces = int(temperatures.size());
    for (int i = 0; i < spaces; ++i)
        for (int j = i + 1; j < spaces; ++j) {
            const bool swap = temperatures[j] > temperatures[i];
            Coupling coupling{.a = swap ? j : i, .b = swap ? i : j, .value = {}, .reason = {}};
            if (solution.touching_fixed)
                coupling.reason = "no-coupling-touching";
            else
                coupling.value = solution.coupling(coupling.a, coupling.b);
            findings.couplings.push_back(coupling);
        }
    if (solution.touching_fixed) return;
    for (int i = 0; i < spaces; ++i) findings.heat_flow.push_back(solution.heat_flow(i, temperatures));
}

void Work::add_surface(Findings& findings, const Solution& solution, int space, Purpose purpose) const {
    const auto whole = surface_minimum(solution, space, scaled_);
    if (!whole) return;
    const SeenParts seen = seen_parts(*base_.section);
    const auto of_seen = seen ? surface_minimum(solution, space, scaled_, seen) : whole;  // nothing where all is hidden
    const bool hides = of_seen && of_seen->temperature > whole->temperature;
    const auto lowest = hides ? of_seen : whole;
    SurfaceFinding found{.space = space, .purpose = purpose, .lowest = lowest_temperature_ + span_ * lowest->temperature,
                         .at = lowest->at, .fRsi = {}, .estimate = span_ * lowest->estimate, .mean = {}};
    const int outside = coldest_outside_space(*findings.section, findings.temperatures);
    const double difference = outside < 0 ? 0 : scaled_[space] - scaled_[outside];
    const auto factor = [&](double scaled) { return (scaled - scaled_[outside]) / difference; };
    if (hides) found.whole = SurfaceFinding::Whole{lowest_temperature_ + span_ * whole->temperature, whole->at, {}, span_ * whole->estimate};
    if (difference > 0) {
        found.fRsi = factor(lowest->temperature);
        found.estimate = lowest->estimate / std::abs(difference);
        if (hides) {
            found.whole->fRsi = factor(whole->temperature);
            found.whole->estimate = whole->estimate / std::abs(difference);
        } else if (solution.surface_mean && solution.surface_mean->contact == space) {
            const auto& mean = solution.surface_mean->temperature;
            const double one = factor(mean.lower), two = factor(mean.upper);
            found.mean = Bracketed{factor(mean.value), std::min(one, two), std::max(one, two)};
            found.mean_length_mm = solution.surface_mean->length_mm;
        }
    }
    const std::size_t spaces = scaled_.size();
    for (std::size_t k = 0; spaces > 2 && k < spaces; ++k) {
        std::vector<double> unit(spaces, 0);
        unit[k] = 1;
        if (const auto weight = solution.temperature_at(found.at[0], found.at[1], unit)) found.weights.push_back(*weight);
    }
    if (found.weights.size() != spaces) found.weights.clear();
    findings.surface.push_back(std::move(found));
}

void Work::read_surfaces(Findings& findings, const Solved& solved) const {
    const bool has_check = study_.used_convention().surface_check.has_value();
    const auto& spaces = findings.section->spaces;
    for (std::size_t i = 0; i < spaces.size(); ++i) {
        if (spaces[i].kind != SpaceKind::inside && spaces[i].kind != SpaceKind::unheated) continue;
        add_surface(findings, *solved.main, int(i), Purpose::heat_flow);
        if (has_check) add_surface(findings, solved.check ? *solved.check : *solved.main, int(i), Purpose::surface_check);
    }
    SurfaceFinding* headline = nullptr;
    for (auto& found : findings.surface) {
        if (spaces[found.space].kind != SpaceKind::inside) continue;
        if ((found.purpose == Purpose::surface_check) != has_check) continue;
        const auto measure = [](const SurfaceFinding& f) { return f.fRsi.value_or(f.lowest); };
        if (!headline || measure(found) < measure(*headline)) headline = &found;
    }
    if (headline) headline->headline = true;
    say_what_is_hidden(findings, solved);
    const int outside = coldest_outside_space(*findings.section, findings.temperatures);
    for (const auto& found : findings.surface)
        if (!found.fRsi && outside >= 0 && found.purpose == Purpose::heat_flow && found.space != outside)
            say(findings, Severity::caution, "no-fRsi-not-warmer", {{"space", spaces[found.space].id}, {"outside", spaces[outside].id}}, std::nullopt);
}

void Work::say_what_is_hidden(Findings& findings, const Solved& solved) const {
    const auto& section = *findings.section;
    if (section.hidden.empty()) return;
    for (const auto& found : findings.surface)
        if (found.headline && !surface_minimum(*solved.main, found.space, scaled_, seen_parts(section))) {
            say(findings, Severity::caution, "hidden-everything", {{"space", section.spaces[found.space].id}}, section.hidden.front().path.front());
            return;
        }
    for (const HiddenSurface& hidden : section.hidden) {
        bool anywhere = false;
        for (const auto& found : findings.surface) anywhere |= lies_on_surface(hidden, *solved.main, found.space);
        say(findings, Severity::caution, anywhere ? "surface-hidden" : "hidden-not-on-surface", {{"id", hidden.id}, {"reason", hidden.reason}}, hidden.path.front());
    }
    for (const auto& found : findings.surface)
        if (found.headline && found.whole && found.fRsi)
            say(findings, Severity::caution, "surface-hidden-effect",
                {{"space", section.spaces[found.space].id}, {"seen", fixed(*found.fRsi, factor_decimals(found))}, {"whole", fixed(*found.whole->fRsi, factor_decimals(found))}},
                Point{std::llround(found.whole->at[0]), std::llround(found.whole->at[1])});
}

void Work::say_what_is_missing(Findings& findings) const {
    const bool internal = study_.used_convention().lengths == LengthSystem::internal;
    for (const auto& found : elements_) {
        const auto& element = found.element;
        const auto& length = internal ? element.internal_length : element.external_length;
        const auto kind = findings.section->spaces[element.warm_space].kind;
        if (element.ground && kind == SpaceKind::unheated)
            say(findings, Severity::note, "void-over-soil", {{"space", findings.section->spaces[element.warm_space].id}}, found.warm_end);
        else if (!element.ground && !element.U)
            say(findings, Severity::caution, "element-not-square", {{"element", element.id}}, found.warm_end);
        else if (!element.ground && !length)
            say(findings, Severity::caution, "element-no-reference", {{"element", element.id}}, found.warm_end);
    }
    if (alone_ && !alone_->refusal.empty())
        say(findings, Severity::caution, "floor-alone-refused", {{"why", alone_->refusal}}, alone_->at);
    for (const auto& coupling : findings.couplings)
        if (coupling.reason == "no-coupling-touching") {
            say(findings, Severity::caution, coupling.reason, {}, std::nullopt);
            break;
        }
}

void Work::explain_floor_option(Findings& findings) const {
    if (!floor_section()) return;
    const auto by = floor_by_standard(view(), elements_[alone_->floor], *alone_);
    for (auto& psi : findings.psi)
        for (const auto& coupling : findings.couplings) {
            if (!by || coupling.a != psi.a || coupling.b != psi.b) continue;
            psi.by_iso13370 = psi_by_standard(psi, coupling, *by);
            if (!psi.by_iso13370) continue;
            findings.derivations.push_back(derive_floor_option(view(), psi, *by));
            if (const auto edge = floor_edge(view(), elements_[alone_->floor], *alone_, *by))
                if (auto derivation = derive_floor_edge(view(), psi, *by, *edge, findings.messages)) findings.derivations.push_back(std::move(*derivation));
        }
}

void Work::explain(Findings& findings, const FloorCouplings& floor) const {
    for (const auto& found : elements_)
        if (!found.element.ground) findings.derivations.push_back(derive_transmittance(view(), found.element));
    if (floor_section())
        findings.derivations.push_back(derive_floor_alone(view(), elements_[alone_->floor], *alone_, floor));
    for (const auto& psi : findings.psi)
        for (const auto& coupling : findings.couplings)
            if (coupling.a == psi.a && coupling.b == psi.b && psi.value)
                findings.derivations.push_back(derive_psi(view(), psi, coupling));
    explain_floor_option(findings);
    for (Derivation& heated : derive_heated_layers(view(), headline_inside(*findings.section), findings.couplings, findings.messages)) findings.derivations.push_back(std::move(heated));
    if (alone_ && !alone_->refusal.empty())
        if (auto basement = derive_basement(view(), elements_, findings.couplings)) findings.derivations.push_back(std::move(*basement));
    for (const auto& shared : findings.shared) findings.derivations.push_back(derive_shared(view(), shared));
    if (!findings.shared.empty()) findings.messages.push_back(shared_message(*findings.section, findings.shared.front()));
    const int outside = coldest_outside_space(*findings.section, findings.temperatures);
    for (const auto& surface : findings.surface) findings.derivations.push_back(derive_surface(view(), surface, outside));
    if (!floor.used || !floor.other) return;
    const double difference = std::abs(floor.used->value - floor.other->value);
    if (difference > readings_caution)
        say(findings, Severity::caution, "floor-readings-differ",
            {{"used", fixed(floor.used->value, 3)}, {"other", fixed(floor.other->value, 3)}, {"difference", fixed(difference, 3)}},
            alone_->at);
}

std::vector<InputSlope> Work::slopes(const Findings& findings, const Solved& solved) const {
    SlopeSource source{.face_region = face_region_, .solution = *solved.main, .elements = elements_};
    if (solved.alone) {
        source.floor_section = alone_->used(reading());
        source.floor_solution = &*solved.alone;
    }
    const Solution& surface = solved.check ? *solved.check : *solved.main;
    if (surface.surface_mean) {
        source.surface_solution = &surface;
        source.surface_face_region = solved.check ? &check_face_region_ : &face_region_;
    }
    return input_slopes(view(), findings, source);
}

std::optional<Seasons> Work::seasons(const Solved& solved) const {
    // The wave needs no more elements than the drawing at rest has: of a closer solution the section is solved once more, lightly.
    constexpr std::size_t plenty = 12'000;
    std::array<std::optional<Solution>, 3> lighter;
    const auto light = [&](const Solution& solution, const Model& model, bool for_surface, std::optional<Solution>& kept) -> const Solution& {
        if (solution.triangles.size() <= plenty) return solution;
        SolveOptions options = solve_options(surface_check_tolerance);
        options.most_triangles = int(plenty);
        if (for_surface) ask_for_surface(options);
        return kept.emplace(solve(model, options, context_));
    };
    const auto apart = [](const Solution& of, const std::vector<int>& face_region) { return SeasonSection{of, faces_by_region(face_region, of.regions.size())}; };
    const Solution& main = light(*solved.main, model_, !check_model_, lighter[0]);
    SeasonSource source{.view = view(), .balanced = {}, .inside = headline_inside(*base_.section), .outside = coldest_outside_space(*base_.section, base_.temperatures),
                        .flows = apart(main, face_region_), .surfaces = {}, .floor = {}, .standard = {}, .others_go_along = options_.formulas.of("year-wave") == 1};
    const Variant* stated = study_.find_variant(variant_.id);
    const auto& spaces = base_.section->spaces;
    for (std::size_t i = 0; i < spaces.size(); ++i) {
        const bool own = stated && i < stated->section->spaces.size() && stated->section->spaces[i].temperature;
        source.balanced.push_back(spaces[i].balance && !own);
    }
    if (solved.check) source.surfaces.emplace(apart(light(*solved.check, *check_model_, true, lighter[1]), check_face_region_));
    if (floor_section() && solved.alone) {
        const auto& alone = *alone_->used(reading());
        source.floor.emplace(SeasonSection{light(*solved.alone, alone.model, false, lighter[2]), alone.junction_faces, false});
        source.standard = floor_by_standard(view(), elements_[alone_->floor], *alone_);
    }
    return seasons_of(source, context_);
}

void Work::note_step(const Solution& step) {
    if (step.touching_fixed) return;
    MeshStep noted{.elements = step.triangles.size(), .flow = 0, .fRsi = {}};
    for (int i = 0; i < int(scaled_.size()); ++i) noted.flow += std::abs(step.heat_flow(i, scaled_).value);
    const int inside = headline_inside(*base_.section), outside = coldest_outside_space(*base_.section, base_.temperatures);
    if (inside >= 0 && outside >= 0 && scaled_[inside] != scaled_[outside])
        if (const auto lowest = surface_minimum(step, inside, scaled_, seen_parts(*base_.section))) noted.fRsi = (lowest->temperature - scaled_[outside]) / (scaled_[inside] - scaled_[outside]);
    steps_.push_back(noted);
}

/// A step of the run with half the elements is the coarse mesh; where there is none a finer one is solved beside it.
std::optional<Criteria> Work::criteria(const Solution& main, SolveOptions options) {
    constexpr int most_tries = 4;
    constexpr double finer = 0.2;
    if (span_ == 0 || steps_.empty()) return std::nullopt;
    Criteria found{.coarse = steps_.back(), .fine = steps_.back(), .cuts = {}};
    const auto half = std::find_if(steps_.rbegin(), steps_.rend(), [&](const MeshStep& step) { return 2 * step.elements <= main.triangles.size(); });
    if (half != steps_.rend()) found.coarse = *half;
    options.share = 0;
    for (int i = 0; i < most_tries && found.fine.elements < 2 * found.coarse.elements; ++i) {
        options.tolerance *= finer;
        solve(model_, options, context_);
        found.fine = steps_.back();
    }
    if (found.fine.elements < 2 * found.coarse.elements) return std::nullopt;
    double sum = 0, all = 0;
    for (int i = 0; i < int(scaled_.size()); ++i) {
        const double flow = main.heat_flow(i, scaled_).value;
        sum += flow, all += std::abs(flow);
    }
    found.balance = all == 0 ? 0 : std::abs(sum) / (all / 2);
    Section asked = *base_.section;
    for (const CutSide side : {CutSide::left, CutSide::bottom, CutSide::right, CutSide::top}) asked.beyond[side] = {.automatic = true};
    const Rect needed = arrange(study_, asked, context_).frame, present = base_.arrangement.frame, drawn = base_.section->cut;
    found.cuts = {{CutSide::left, drawn.left - needed.left, drawn.left - present.left}, {CutSide::bottom, drawn.bottom - needed.bottom, drawn.bottom - present.bottom},
                  {CutSide::right, needed.right - drawn.right, present.right - drawn.right}, {CutSide::top, needed.top - drawn.top, present.top - drawn.top}};
    return found;
}

bool Work::reached(const Findings& findings) const {
    const double most = findings.tolerance * (1 + 1e-9);
    for (const auto& coupling : findings.couplings) {
        if (!coupling.value) continue;
        double width = coupling.value->width();
        for (const auto& psi : findings.psi)
            if (psi.a == coupling.a && psi.b == coupling.b && psi.value && psi.lengths == LengthSystem::internal)
                width = psi.value->width();
        if (!(width <= most)) return false;
    }
    return true;
}

std::shared_ptr<const Findings> Work::assemble(const Solved& solved, bool finished) const {
    auto findings = std::make_shared<Findings>(base_);
    findings->solution = solved.main;
    findings->check_solution = solved.check;
    for (const auto& found : elements_) findings->elements.push_back(found.element);
    read_couplings(*findings, *solved.main);
    FloorCouplings floor;
    if (solved.alone) floor.used = solved.alone->coupling(0, 1);
    if (solved.other) floor.other = solved.other->coupling(0, 1);
    findings->psi = psi_values(view(), elements_, alone_ ? &*alone_ : nullptr, floor, findings->couplings);
    findings->shared = shared_psi(view(), findings->psi);
    read_surfaces(*findings, solved);
    for (const Point p : options_.at)
        if (const auto t = solved.main->temperature_at(double(p.x), double(p.y), findings->temperatures))
            findings->points.push_back({p, *t});
    say_what_is_missing(*findings);
    explain(*findings, floor);
    findings->verdicts = surface_verdicts(study_, *findings);
    if (seasons_) {
        findings->seasons = seasons_;
        findings->seasons->checks = season_verdicts(study_, *findings);
        findings->derivations.push_back(derive_seasons(study_, *findings));
    }
    findings->criteria = criteria_;
    if (criteria_) findings->derivations.push_back(derive_criteria(*findings));
    for (Message& message : findings->messages)
        if (message.pointer.empty()) message.pointer = pointer_;
    for (Derivation& derivation : findings->derivations) derivation.version = findings->formulas.of(derivation.id);
    if (options_.slopes && finished && !solved.main->touching_fixed) findings->slopes = slopes(*findings, solved);
    findings->converged = finished && reached(*findings);
    findings->seconds = std::chrono::duration<double>(Clock::now() - start_).count();
    return findings;
}

std::shared_ptr<const Findings> Work::run() {
    context_.check();
    if (!prepare()) {
        base_.seconds = std::chrono::duration<double>(Clock::now() - start_).count();
        return std::make_shared<Findings>(base_);
    }
    std::shared_ptr<const Findings> coarse;
    const double part = floor_section() ? 0.5 : 1;  // the widths of psi add
    SolveOptions options = solve_options(part * options_.tolerance);
    options.share = part * options_.share;
    if (!check_model_) ask_for_surface(options);
    if (options_.on_coarse || options_.criteria)
        options.on_step = [&](const Solution& step) {
            if (options_.criteria) note_step(step);
            if (coarse || !options_.on_coarse) return;
            Solved first{.main = std::make_shared<Solution>(step), .check = {}, .alone = {}, .other = {}};
            solve_others(first, anything, anything);
            coarse = assemble(first, false);
            options_.on_coarse(coarse);
        };
    Solved solved;
    solved.main = std::make_shared<Solution>(solve_model(model_, options));
    if (context_.cancelled() && coarse) return coarse;
    try {
        if (const double asked = options_.share * solved.main->largest_coupling(); asked > 0) base_.tolerance = asked;
        solve_others(solved, part * base_.tolerance, std::max(base_.tolerance, surface_check_tolerance));
        if (options_.seasons && !context_.cancelled()) seasons_ = seasons(solved);
        if (options_.criteria && !solved.main->touching_fixed) {
            criteria_ = criteria(*solved.main, options);
            // A field that a quadratic element holds exactly leaves a gap of round-off only, on any mesh.
            const double largest = solved.main->largest_coupling(), open = largest > 0 ? widest_coupling(*solved.main) / largest : 1;
            constexpr double round_off = 1e-9;
            if (!criteria_) say(base_, Severity::note, open < round_off ? "criteria-exact" : "criteria-not-assessed", {}, std::nullopt);
        }
    } catch (const Cancelled&) {
        if (coarse) return coarse;
        throw;
    }
    return assemble(solved, !context_.cancelled());
}

}  // namespace

std::shared_ptr<const Findings> find_stated(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context) {
    Work work(study, variant, options, context);
    try {
        return work.run();
    } catch (const InputFault& fault) {
        throw work.placed(fault);
    }
}

}  // namespace wallfoot
