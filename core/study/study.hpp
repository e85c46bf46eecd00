// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/geometry/point.hpp"
#include "core/study/climate.hpp"
#include "core/study/convention.hpp"
#include "core/study/material.hpp"
#include "core/study/underlay.hpp"

namespace wallfoot {

// The study file as plain values. Field names, units and meanings follow FORMAT; `extra` holds unknown fields.

enum class SpaceKind { inside, outside, unheated, other };
enum class MembraneKind { dpc, dpm, tanking, gas, tray };
enum class Side { left, right };
enum class CutSide { left, bottom, right, top };

/// "surface_resistance" of a space: one value for all surfaces, or one by direction. m²·K/W.
struct Space {
    std::string id;
    SpaceKind kind = SpaceKind::inside;
    std::vector<Point> at;  ///< marks in the air; empty when a piece is filled with the space
    bool single_mark = true;  ///< the file wrote one point, not a list (kept for stable saving)
    std::optional<double> temperature;  ///< °C; absent: the convention's (inside, outside) or `balance`
    std::optional<std::string> balance; ///< JSON text of "balance"
    std::optional<SurfaceResistances> surface_resistance;
    bool single_resistance = true;      ///< the file wrote one number
    std::string side;                   ///< own | neighbour | common | ""
    std::string name;
    Extra extra;
    bool operator==(const Space&) const = default;
};

enum class Fill { material, space, cutout };

/// Courses of a block leaf.
struct Courses {
    Micrometres from = 0, height = 0;
    Extra extra;
    bool operator==(const Courses&) const = default;
};

/// An area of one filling. A hole shows what lies below the piece.
struct Piece {
    std::string id, name;
    Fill fill = Fill::material;
    std::string filled_with;              ///< material id or space id; empty for a cutout
    std::optional<Condition> moisture;    ///< absent = auto
    Outline outline;
    std::vector<Outline> holes;
    std::optional<Courses> courses;
    Extra extra;
    bool operator==(const Piece&) const = default;
};

struct Membrane {
    std::string id;
    MembraneKind kind = MembraneKind::dpc;
    Path path;
    std::optional<bool> sealed_laps;
    Extra extra;
    bool operator==(const Membrane&) const = default;
};

/// A level holds for both sides, or one per side.
struct Level {
    std::optional<Micrometres> both, left, right;
    Extra left_extra = {}, right_extra = {};  ///< unknown fields of the entry for that side
    bool operator==(const Level&) const = default;
    bool empty() const { return !both && !left && !right; }
};

enum class LevelKind { floor, ground, dpc };

/// Distance beyond the cut: absent = adiabatic at the cut; automatic = RULES 3; else the distance.
struct Beyond {
    bool automatic = false;
    Micrometres distance = 0;
    bool operator==(const Beyond&) const = default;
};

/// Ties or screws through a layer of insulation (ISO 6946 annex F).
struct ElementFixings {
    std::string layer;          ///< id of the piece that is the insulation
    double conductivity = 0;    ///< W/(m·K), of a fixing
    double area_mm2 = 0;        ///< section of one
    double per_m2 = 0;
    std::optional<Micrometres> length;  ///< of one within the insulation; absent: straight through
    bool empty_cavity = false;          ///< crosses an empty cavity
    Extra extra = {};
    bool operator==(const ElementFixings&) const = default;
};

/// What the U of a flanking element is corrected by, beside psi and never in it (RULES 5).
struct ElementCorrections {
    std::vector<ElementFixings> fixings;
    std::optional<int> air_gap_level;  ///< 0 … 2
    std::string air_gap_layer;         ///< id of the piece that is the insulation; with air_gap_level
    Extra extra = {};
    bool operator==(const ElementCorrections&) const = default;
};

/// User's own flanking element reference (only where RULES 5 is overridden).
struct ElementOverride {
    std::string id;
    CutSide cut = CutSide::top;
    std::optional<Point> internal, external;  ///< "reference"
    Extra reference_extra = {};
    std::optional<ElementCorrections> corrections = {};
    Extra extra;
    bool operator==(const ElementOverride&) const = default;
};

struct Water {
    std::optional<bool> soil, standing, rain, cavity_foot;
    std::optional<Micrometres> water_level;
    bool operator==(const Water&) const = default;
    Extra extra;
};

/// A named measure of the section: what lies strictly beyond `line` moves when it is changed (RULES 18).
struct Stretch {
    std::string id, name;
    Path line;           ///< runs on from its ends square to `moves`
    std::string moves;   ///< left | right | up | down: the way the far side goes
    Path measure;        ///< from one point to another; what is measured between them along `moves` is the value
    std::optional<Micrometres> min, max;
    Extra extra;
    bool operator==(const Stretch&) const = default;
};

/// A length shown on the drawing between two points. It has no part in the heat flow.
struct Dimension {
    std::string id;
    Point from, to;
    std::string along;        ///< x | y: the part of the distance that is measured; "" = straight from point to point
    Micrometres offset = 0;   ///< of its line from the points: upwards for x, to the right for y, to the left of the way from → to else
    std::string text;         ///< written behind the length
    Extra extra;
    bool operator==(const Dimension&) const = default;
};

/// A text on the drawing.
struct Note {
    std::string id;
    Point at;                 ///< left end of its first line
    std::string text;
    Extra extra;
    bool operator==(const Note&) const = default;
};

/// Pieces and membranes that are taken in hand together, by id.
struct Group {
    std::string id, name;
    std::vector<std::string> members;
    Extra extra;
    bool operator==(const Group&) const = default;
};

/// Most corners of one section.
constexpr std::size_t most_corners = 20'000;
/// Most spaces of one section: each one more is a field more to be solved and kept.
constexpr std::size_t most_spaces = 32;

/// A stretch of inside surface that a finish or a skirting hides: left out of the lowest surface temperature by an explicit act.
struct HiddenSurface {
    std::string id;
    Path path;           ///< along the surface; what of it lies on the surface of an inside or unheated space is hidden
    std::string reason;  ///< why nobody sees it; never empty
    Extra extra;
    bool operator==(const HiddenSurface&) const = default;
};

/// The drawing of one variant.
struct Section {
    Rect cut;
    std::map<CutSide, Beyond> beyond;
    Level floor, ground, dpc;
    std::vector<Space> spaces;
    std::vector<Piece> pieces;  ///< painter's order: a later piece covers an earlier one
    std::vector<Membrane> membranes;
    std::optional<Water> water;
    std::vector<ElementOverride> elements;
    std::vector<HiddenSurface> hidden = {};
    std::vector<Stretch> stretch;
    std::vector<Dimension> dimensions;
    std::vector<Note> texts;
    std::vector<Group> groups;
    std::vector<Underlay> underlays;        ///< lowest first
    Extra extra, level_extra, beyond_extra;
    bool operator==(const Section&) const = default;
};

Level& level_of(Section& section, LevelKind kind);
const Level& level_of(const Section& section, LevelKind kind);

struct Variant {
    std::string id, name, note;
    std::shared_ptr<const Section> section;  ///< never null; shared between undo steps
    Extra extra;
};

struct Project {
    std::string name, plot, drawing, revision, junction, author, checker, date;
    std::string enquiry;  ///< number under which it was asked
    std::string contact;  ///< whom to ask back
    Extra extra;
    bool operator==(const Project&) const = default;
};

/// A site or building fact: value as JSON text, with its source; absent = not known.
struct Fact {
    std::string value, source;
    Extra extra;
    bool operator==(const Fact&) const = default;
};

struct Study {
    std::string title, notes;
    std::optional<Project> project;
    std::string convention = "iso";
    std::map<std::string, Convention> conventions;
    std::map<std::string, Fact> site;
    std::optional<Climate> climate;          ///< that surfaces are checked in
    std::optional<Micrometres> floor_width;  ///< building.floor.width
    std::string building;                    ///< JSON text of the whole "building" object ("" = absent); floor_width is read from it
    std::vector<Material> materials;
    std::vector<Variant> variants;
    Attachments attachments;
    /// Parts kept as JSON text, "" = absent: rule_sets, lessons, dwelling, sweeps, issued.
    std::map<std::string, std::string> kept;
    Extra extra;

    const Material* find_material(const std::string& id) const;
    const Variant* find_variant(const std::string& id_or_name) const;
    /// The study's own convention; throws InputFault when it is not embedded.
    const Convention& used_convention() const;
};

/// Temperature of a space in °C: its own, or the convention's for inside and outside.
/// Throws InputFault (code "space-without-temperature") when there is none.
double space_temperature(const Study& study, const Space& space);
/// Temperatures of the spaces of a section for everything that asks for their order only (RULES 4): where a balance has yet to
/// find one, the middle of the stated ones, between which it must come to lie.
std::vector<double> ordering_temperatures(const Study& study, const Section& section);

// Names as the file writes them.
std::string to_string(MaterialKind kind);
std::string to_string(Condition condition);
std::string to_string(Basis basis);
std::string to_string(SpaceKind kind);
std::string to_string(MembraneKind kind);
std::string to_string(CutSide side);

}  // namespace wallfoot
