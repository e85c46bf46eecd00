// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

// Every edit is a function of a section (or study) that returns a new one; the old one stays as it was.
// An edit that would break an outline throws InputFault with the fault of check_outline and its place; an unknown id
// throws InputFault "edit-unknown-id". Corners are the same corner when they lie on the same grid point.

/// Moves everything that lies on `from` – corners of outlines, holes and membranes – to `to`.
/// Throws InputFault "edit-no-corner" when nothing lies there.
Section move_corner(const Section& section, Point from, Point to);

/// The grid points that go along when the edge a–b is moved: its ends, every corner between them, and the same for every
/// edge on the same line that overlaps it, and so on. Sorted.
std::vector<Point> points_moved_with_edge(const Section& section, Point a, Point b);
/// Moves the edge a–b by (dx, dy) with all that lies along it (points_moved_with_edge).
Section move_edge(const Section& section, Point a, Point b, Micrometres dx, Micrometres dy);

/// A new corner at `at` in every outline, hole and membrane whose edge passes within 1 µm of it.
/// Throws InputFault "edit-no-edge" when none does.
Section insert_corner(const Section& section, Point at);
/// Takes the corner at `at` out of every outline, hole and membrane that has it.
Section remove_corner(const Section& section, Point at);

/// Adds a piece on top. An empty id is replaced by a free one ("p1", "p2", …). Its corners that lie on edges of other
/// pieces become corners there as well, so that both can be moved together later.
Section add_piece(const Section& section, Piece piece);
Section delete_piece(const Section& section, const std::string& id);
/// Moves the corners of one piece only.
Section move_piece(const Section& section, const std::string& id, Micrometres dx, Micrometres dy);
/// A copy of a piece on top of all, beside it on its right: one more block of a row.
Section duplicate_piece(const Section& section, const std::string& id);
/// Everything seen from the other side, about the middle of the cut, which stays.
Section mirror_section(const Section& section);
/// Makes a dimension longer or shorter: all that lies strictly beyond a straight line moves away from it (RULES 18) –
/// corners, membranes, marks, levels, the cut; what lies on the line or before it stays. `upright`: the line x = `at`,
/// else y = `at`; `beyond`: what lies to its right or above moves, else to its left or below; `by` may be negative.
/// Refuses ("stretch-too-far") where a piece or the cut would pass itself or vanish.
Section stretch_section(const Section& section, bool upright, Micrometres at, bool beyond, Micrometres by);
Section set_material(const Section& section, const std::string& id, const std::string& material);
/// A piece of material, of the air of a space, or a cutout (`filled_with` is a material's or a space's id, or unused).
Section set_fill(const Section& section, const std::string& id, Fill fill, const std::string& filled_with);
/// nullopt = auto.
Section set_moisture(const Section& section, const std::string& id, std::optional<Condition> moisture);
Section rename_piece(const Section& section, const std::string& id, const std::string& name);
/// Moves a piece to another place in the painter's order; 0 = lowest, clamped to the number of pieces.
Section reorder_piece(const Section& section, const std::string& id, std::size_t index);

// Membranes. Corners that land on an edge of a piece or of another membrane become corners there as well.

/// An empty id is replaced by a free one ("m1", "m2", …).
Section add_membrane(const Section& section, Membrane membrane);
/// Leads a membrane along other corners; what else lies on its old ones stays.
Section set_membrane_path(const Section& section, const std::string& id, const Path& path);
Section move_membrane(const Section& section, const std::string& id, Micrometres dx, Micrometres dy);
Section set_membrane_kind(const Section& section, const std::string& id, MembraneKind kind);
/// nullopt = not stated.
Section set_sealed_laps(const Section& section, const std::string& id, std::optional<bool> sealed);
Section delete_membrane(const Section& section, const std::string& id);

// Spaces and their marks.

/// A space with one mark, named by a free id after its kind. Refused ("space-without-temperature") when the convention
/// gives none for the kind and none is given here.
Section add_space(const Section& section, SpaceKind kind, Point at, std::optional<double> celsius = {});
/// One mark more of a space that is there.
Section add_mark(const Section& section, const std::string& space_id, Point at);
/// Throws InputFault "edit-no-mark" when the space has no mark at `from`.
Section move_mark(const Section& section, const std::string& space_id, Point from, Point to);
/// With the last mark of a space that fills no piece the space goes too.
Section delete_mark(const Section& section, const std::string& space_id, Point at);
/// Refused ("edit-space-in-use") while a piece is filled with it.
Section delete_space(const Section& section, const std::string& space_id);
/// Refused ("space-without-temperature") as add_space.
Section set_space_kind(const Section& section, const std::string& space_id, SpaceKind kind);
/// nullopt = the convention's; refused ("space-without-temperature") for kinds the convention gives none for.
Section set_temperature(const Section& section, const std::string& space_id, std::optional<double> celsius);

// Levels and the cut.

/// Sets a level for both sides (no `side`), or for one: the other then keeps what it had. nullopt takes it away.
Section set_level(const Section& section, LevelKind kind, std::optional<Side> side, std::optional<Micrometres> height);
/// Throws InputFault "cut-empty".
Section set_cut(const Section& section, const Rect& cut);
/// nullopt = nothing lies beyond that side. Throws InputFault "beyond-too-far" (over 500 m), "edit-negative-distance".
Section set_beyond(const Section& section, CutSide side, std::optional<Beyond> beyond);

const Piece* find_piece(const Section& section, const std::string& id);
const Membrane* find_membrane(const Section& section, const std::string& id);
const Space* find_space(const Section& section, const std::string& id);
Outline rectangle_outline(Point a, Point b);

/// The study with the section of one variant replaced.
Study with_section(const Study& study, std::size_t variant, Section section);
/// A copy of a variant behind it; shares the section. The name is made distinct ("Base 2") when `name` is empty.
Study duplicate_variant(const Study& study, std::size_t variant, const std::string& name = "");
Study rename_variant(const Study& study, std::size_t variant, const std::string& name);
/// Refuses ("edit-last-variant") to take the last one.
Study remove_variant(const Study& study, std::size_t variant);

}  // namespace wallfoot
