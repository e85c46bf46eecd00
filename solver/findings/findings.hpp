// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/arrangement/conductivities.hpp"
#include "core/arrangement/surfaces.hpp"
#include "core/standards/formula_versions.hpp"
#include "core/study/convention.hpp"
#include "core/text/message.hpp"
#include "solver/bracket/solution.hpp"
#include "solver/findings/criteria.hpp"
#include "solver/findings/seasons.hpp"
#include "solver/findings/surface_verdicts.hpp"

namespace wallfoot {

/// How a number was worked out: printed the same in window, JSON and report.
struct Derivation {
    std::string of;                       ///< such as "psi in–out, internal"
    std::string formula;                  ///< with clause
    struct Input {
        std::string name;
        double value = 0;
        std::string unit, source;
        bool operator==(const Input&) const = default;
    };
    std::vector<Input> inputs;            ///< also intermediate values, in order
    std::vector<std::string> notes;
    std::string id = {};                  ///< of the formula, one of known_formulas(); it stays whatever its words become
    int version = 1;                      ///< of that formula
    bool operator==(const Derivation&) const = default;
};

/// A flanking element met at a side of the frame.
struct Element {
    std::string id;              ///< "top", "left", "left-2" …, or the user's
    CutSide side = CutSide::top;
    int warm_space = -1, cold_space = -1;  ///< indices into Section::spaces; warm has the higher temperature
    bool ground = false;         ///< ends in soil: its share comes from the floor-alone section (RULES 6)
    std::optional<double> U;     ///< W/(m²·K); nothing where layers are not square to the cut, or for ground
    std::optional<Micrometres> internal_length, external_length;
    std::optional<Point> internal_reference, external_reference;
    struct Layer {
        std::string name;
        double thickness_m = 0, conductivity = 0, resistance = 0;
        std::string source;  ///< condition under which the conductivity holds, and its stated source
        int face = -1;       ///< of the arrangement; -1 where nothing of it is known
    };
    std::vector<Layer> layers;   ///< from warm to cold
    double surface_warm = 0, surface_cold = 0;  ///< m²·K/W used in U
    std::string reason;          ///< message code when U or length is missing
    std::optional<double> corrected_U = {};  ///< W/(m²·K), U + ΔU for fixings and gaps that the study states; never in psi
};

/// What is taken off L2D for psi: U·length, or the coupling of the floor-alone section.
struct TakenOff {
    std::string element;
    std::optional<double> U, length_m;
    std::optional<Bracketed> floor_alone;
    std::string method;          ///< "U times length" | "second section"
};

struct Psi {
    int a = -1, b = -1;          ///< spaces, a the warmer
    LengthSystem lengths = LengthSystem::internal;
    std::optional<Bracketed> value;  ///< nothing: see reason
    std::string reason;              ///< message code
    std::vector<TakenOff> taken_off;
    std::optional<Bracketed> by_iso13370 = {};  ///< psi with the floor's U by ISO 13370 in the place of the second section, internal lengths
    std::optional<Bracketed> other_reading;  ///< psi by the other floor reading, where it differs
    bool headline = false;           ///< inside with the coldest outside space, in the convention's lengths
};

struct Coupling {
    int a = -1, b = -1;
    std::optional<Bracketed> value;
    std::string reason;
};

/// Lowest surface temperature of one inside space.
struct SurfaceFinding {
    int space = -1;
    Purpose purpose = Purpose::heat_flow;
    double lowest = 0;               ///< °C
    std::array<double, 2> at{};      ///< µm
    std::optional<double> fRsi;      ///< only with two different temperatures
    double estimate = 0;             ///< error estimate of fRsi (of the temperature in K where fRsi is absent)
    std::optional<Bracketed> mean;   ///< fRsi of the mean temperature over `mean_length_mm` beside the lowest, bracketed
    double mean_length_mm = 0;
    /// Where stretches are hidden: of the whole surface, those included. `lowest`, `at` and `fRsi` are then of what is seen.
    struct Whole {
        double lowest = 0;           ///< °C
        std::array<double, 2> at{};  ///< µm
        std::optional<double> fRsi;
        double estimate = 0;         ///< of fRsi, or of the temperature where it is absent
    };
    std::optional<Whole> whole = {};
    std::vector<double> weights = {};  ///< weighting factors g of the spaces there, θ_si = Σ g_j·θ_j, Σ g = 1 (ISO 10211:2017, more than two temperatures; from memory)
    bool headline = false;
};

/// What one input does to the results, per share: a slope of 0.2 says that 1 % more of the input adds 0.002. Summed over
/// all conductivities less all resistances they give L2D and psi themselves, and 0 for fRsi.
struct InputSlope {
    std::vector<int> pieces;     ///< a conductivity: the pieces it fills (indices into Section::pieces), else empty
    double conductivity = 0;     ///< W/(m·K), across
    int space = -1;              ///< a surface resistance: of this space, m²·K/W
    double resistance = 0;
    std::vector<std::optional<Slope>> coupling, psi;  ///< W/(m·K), parallel to Findings::couplings and ::psi
    std::optional<Slope> surface;                     ///< of the bracketed fRsi of the headline surface
};

/// psi with another width of the floor than the section was worked out with: that of the convention, or the floor's own
/// characteristic dimension B′. The section is worked out again with it, soil and floor as far as the convention then asks.
struct FloorWidthPsi {
    double width = 0;            ///< B′ of an endless strip as wide as the floor, m
    bool own = false;            ///< the study's own; else the convention's
    LengthSystem lengths = LengthSystem::internal;
    std::optional<Bracketed> second_section, by_iso13370;  ///< W/(m·K), of the headline's pair
    std::string reason = {};     ///< message code where there is none
};

/// One junction that two dwellings share: psi of the whole and what each enters, by the convention.
struct SharedPsi {
    LengthSystem lengths = LengthSystem::internal;
    DwellingShare share = DwellingShare::half;
    Bracketed total;             ///< Σ of psi of both with the coldest outside space, W/(m·K)
    struct Side {
        int space = -1;
        Bracketed psi;           ///< of its own pair
        Bracketed enter;         ///< what this dwelling enters
    };
    std::array<Side, 2> sides;   ///< own first
};

struct PointTemperature { Point at; double temperature = 0; };

/// Everything computed from one variant. Built once, then immutable and shared.
struct Findings {
    std::string variant_id, variant_name, input_hash;
    std::shared_ptr<const Section> section;
    Arrangement arrangement;
    std::vector<FaceConductivity> conductivity;
    std::vector<double> temperatures;          ///< of the spaces, °C
    std::shared_ptr<const Solution> solution;  ///< heat-flow run; null when the drawing has a fault
    std::shared_ptr<const Solution> check_solution;  ///< with the resistances of the surface check; null where they are those for heat flow
    std::vector<Bracketed> heat_flow;          ///< per space, W/m into the construction
    std::vector<Coupling> couplings;
    std::vector<Element> elements;
    std::vector<Psi> psi;
    std::vector<SurfaceFinding> surface;
    std::vector<SurfaceVerdict> verdicts;      ///< of the headline surface and psi by the convention and the climate
    std::optional<Criteria> criteria;         ///< when FindingsOptions::criteria asked for them
    std::optional<Seasons> seasons = {};      ///< when FindingsOptions::seasons asked for them and the section meets soil
    std::vector<PointTemperature> points;
    std::vector<FloorWidthPsi> floor_widths = {};  ///< when FindingsOptions::floor_widths asked for them
    std::vector<SharedPsi> shared = {};        ///< by length system, the convention's first; empty where no two dwellings meet
    std::vector<InputSlope> slopes;            ///< when FindingsOptions::slopes asked for them
    std::vector<Message> messages;             ///< faults, cautions, gaps, notes
    std::vector<Derivation> derivations;
    FormulaVersions formulas = {};             ///< that were asked for
    double tolerance = 0, seconds = 0;
    bool converged = false;                    ///< every psi (L2D where there is none) is within the tolerance

    const Psi* headline_psi() const;           ///< null where there is none
    const SurfaceFinding* headline_surface() const;
    bool has_fault() const;
};

/// Width of the bracket of psi, W/(m·K): at rest, as on the command line, and while a drag is followed.
constexpr double tolerance_at_rest = 1e-4, dragging_tolerance = 1e-3;

struct FindingsOptions {
    double tolerance = tolerance_at_rest;  ///< W/(m·K), upper − lower of every psi (of L2D where there is none)
    double share = 0;             ///< when above 0: that tolerance is this share of the largest L2D instead
    std::vector<Point> at;        ///< points whose temperature is asked
    bool criteria = false;        ///< also the numerical criteria of the standard, with a mesh of twice the elements
    bool seasons = false;         ///< also the wave of the year through the ground, with what is asked of surfaces in it
    bool floor_widths = false;    ///< also psi with the other width of the floor, where the study states its own
    bool slopes = false;          ///< also how fast the results change with every input
    FormulaVersions formulas = {};  ///< versions to work with, for a record of its time; the newest unless stated
    /// Called with a first, coarse, already bracketed answer before refinement; may be empty.
    std::function<void(std::shared_ptr<const Findings>)> on_coarse;
    /// Takes the place of solve() (see Reuse); may be empty.
    std::function<Solution(const Model&, const SolveOptions&, const Context&)> solve;
};

/// Works a variant out. Faults of the drawing are in messages (then there is no solution); a point asked in air is the
/// fault "point-not-in-solid". Throws InputFault for a study that lacks what it needs, Cancelled when cancelled before
/// the coarse answer.
std::shared_ptr<const Findings> find(const Study& study, const Variant& variant, const FindingsOptions& options = {},
                                     const Context& context = {});

/// Findings of several variants as the JSON of FORMAT (numbers with no more digits than their bracket supports).
std::string to_json(const Study& study, const std::string& study_path, const std::vector<std::shared_ptr<const Findings>>& all);
/// The same as a table for a terminal.
std::string to_table(const Study& study, const std::vector<std::shared_ptr<const Findings>>& all);

/// The sentence for a missing psi or L2D of a pair of spaces, with what it speaks of filled in.
std::string why_missing(const Findings& findings, int a, int b, LengthSystem lengths, const std::string& reason);

/// A value in words with the digits its bracket supports: "0.132 ± 0.0005".
std::string with_bracket(const Bracketed& value);

}  // namespace wallfoot
