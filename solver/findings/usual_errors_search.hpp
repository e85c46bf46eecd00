// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>

#include "solver/findings/seen_box.hpp"
#include "solver/findings/usual_errors.hpp"

namespace wallfoot {

/// The search for the usual errors of one variant. What it looks for stands in three files: errors of what is drawn and stated
/// (usual_errors_drawn), errors that others would make of it (usual_errors_read), and errors of the building site (usual_errors_site).
class ErrorSearch {
  public:
    ErrorSearch(const Study& study, const Variant& variant, const FindingsOptions& options, const Context& context)
        : study_(study), variant_(variant), section_(*variant.section), options_(options), context_(context) {}

    UsualErrors all();

  private:
    /// Null where the section cannot be solved: then the error has no size.
    std::shared_ptr<const Findings> tried(const Section& section) const { return tried(study_, section); }
    std::shared_ptr<const Findings> tried(const Study& study, const Section& section) const;
    UsualError& add(const std::string& code, std::map<std::string, std::string> args, bool present);

    /// One of the two sections that an error is told by: what it is, and what came out.
    struct Tried {
        const char* section;
        const Findings& findings;
    };
    struct ToldPsi {
        const char* name;
        Bracketed value;
        const char* source;
    };
    static constexpr const char *as_drawn = "this section as drawn", *mended_section = "this section without the error, worked out again", *tried_section = "this section with the error, worked out again";
    /// What the error does, and how that was worked out: the values with it less those without it.
    static void take_change(UsualError& error, const Tried& with, const Tried& without);
    static void take_psi(UsualError& error, const ToldPsi& with, const ToldPsi& without);
    static void take_factor(UsualError& error, const SurfaceFinding& with, const char* section_with, const SurfaceFinding& without, const char* section_without);
    /// psi is off by this much, by a formula of these inputs, and nothing else.
    static void take_psi(UsualError& error, double by, const char* formula, std::vector<Derivation::Input> inputs);
    static void take_psi(UsualError& error, const Bracketed& by, const char* formula, std::vector<Derivation::Input> inputs);
    static void begin_derivation(UsualError& error, const char* formula);

    // Of what is drawn and stated.
    void stated_drier();
    void drawn_sheets();
    void near_cuts();
    void own_lengths();
    void odd_conductivities();
    void odd_lengths();
    void warmer_outside();
    // What others would do to it.
    void dry_values();
    void little_ground();
    void other_floor();
    void other_resistance();
    void corrections_in_psi();
    void other_transmittance();
    void per_length();
    void other_lengths();
    void membrane_resistance();
    void unheated_as_outside();
    // Of the site, and of what is forgotten in the drawing.
    void edge_strip();
    void mortar_droppings();
    void heated_screed();

    /// The wettest condition that is asked of a piece.
    static Condition wettest_in(const Findings& findings, std::size_t piece);
    Condition wettest(std::size_t piece) const { return wettest_in(*drawn_, piece); }
    std::string filling_below(const Piece& of) const;
    const Material* material_of(const Piece& piece) const { return piece.fill == Fill::material ? study_.find_material(piece.filled_with) : nullptr; }
    /// The piece seen at a place; null for air, cutouts and what lies outside.
    const Piece* piece_at(Point p) const;
    /// Across, W/(m·K); 0 where no material is.
    double conductivity_at(Point p) const;
    /// The floor on soil of the headline's room; null where there is none.
    const Element* ground_floor_element() const;
    /// The plane elements of the headline psi, with their length in its system.
    std::vector<std::pair<const Element*, double>> taken_off() const;

    const Study& study_;
    const Variant& variant_;
    const Section& section_;
    const FindingsOptions& options_;
    const Context& context_;
    std::shared_ptr<const Findings> drawn_;
    std::vector<std::optional<SeenBox>> seen_;  ///< by piece
    std::vector<UsualError> errors_;
};

}  // namespace wallfoot
