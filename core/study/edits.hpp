// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
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
/// A hole in a piece, which shows what lies below it. Refused as check_hole says.
Section add_hole(const Section& section, const std::string& id, Outline hole);
/// Fills a hole: the piece covers again what lay below. Throws InputFault "edit-no-hole" when it has no such hole.
Section delete_hole(const Section& section, const std::string& id, std::size_t hole);
/// Moves the corners of one hole only. Refused as check_hole says, and "edit-no-hole".
Section move_hole(const Section& section, const std::string& id, std::size_t hole, Micrometres dx, Micrometres dy);
/// Moves the edge a–b of a piece, and what lies along it, square to itself: outwards by `distance`, inwards when negative.
/// Throws InputFault "edit-no-edge" when the piece has no such edge.
Section offset_edge(const Section& section, const std::string& id, Point a, Point b, Micrometres distance);
/// Makes a piece so long towards a side of the cut: its outermost corners on that side move square to it, those of nothing
/// else. Refused ("extent-not-above-zero") and as check_outline says.
Section set_extent(const Section& section, const std::string& id, CutSide side, Micrometres length);
/// From its outermost corner on that side to the opposite one.
Micrometres piece_extent(const Piece& piece, CutSide side);
/// nullopt = no courses are shown. Refused ("courses-without-height").
Section set_courses(const Section& section, const std::string& id, std::optional<Courses> courses);
/// A copy of a piece on top of all, beside it on its right: one more block of a row.
Section duplicate_piece(const Section& section, const std::string& id);
/// Everything seen from the other side, about the middle of the cut, which stays. Refused where what is stated of an element of the
/// top or bottom would go to another ("mirror-other-element") or cannot be told apart in a faulty drawing ("mirror-unsettled").
Section mirror_section(const Section& section);
Section set_material(const Section& section, const std::string& id, const std::string& material);
/// A piece of material, of the air of a space, or a cutout (`filled_with` is a material's or a space's id, or unused).
Section set_fill(const Section& section, const std::string& id, Fill fill, const std::string& filled_with);
/// nullopt = auto.
Section set_moisture(const Section& section, const std::string& id, std::optional<Condition> moisture);
Section rename_piece(const Section& section, const std::string& id, const std::string& name);
/// Moves a piece to another place in the painter's order; 0 = lowest, clamped to the number of pieces.
Section reorder_piece(const Section& section, const std::string& id, std::size_t index);

// Stretching: all that lies strictly beyond a line moves (RULES 18) – corners, membranes, marks, levels, the cut; what lies
// on the line or before it stays. Refused ("stretch-too-far") where a piece, a membrane or the cut would pass itself or vanish.

/// Whether `p` lies strictly on the far side of a line, which runs on from its ends square to `moves` (left|right|up|down).
bool lies_beyond(const Path& line, const std::string& moves, Point p);
/// All beyond the line moves by `by` the way `moves` says; levels and sides of the cut when they lie beyond all of the line.
Section move_beyond(const Section& section, const Path& line, const std::string& moves, Micrometres by);
/// The same for a straight line: `upright`: x = `at`, else y = `at`; `beyond`: what lies to its right or above moves, else
/// to its left or below; away from it, or towards it when `by` is negative.
Section stretch_section(const Section& section, bool upright, Micrometres at, bool beyond, Micrometres by);

// Named measures. What one measures must have one end beyond its line and one not ("stretch-measures-nothing").

/// A measure through a piece, or through the whole section (nullptr), for a line.
Stretch stretch_through(const Section& section, Path line, const std::string& moves, const Piece* piece);
/// An empty id is replaced by a free one ("s1", "s2", …).
Section add_stretch(const Section& section, Stretch stretch);
/// Puts one in the place of that with its id: name, line, way or range changed.
Section change_stretch(const Section& section, const Stretch& stretch);
Section delete_stretch(const Section& section, const std::string& id);
/// The present length.
Micrometres stretch_length(const Stretch& stretch);
/// Makes the measure `length` long. Refused outside its range ("stretch-below-least", "stretch-above-most").
Section set_stretch(const Section& section, const std::string& id, Micrometres length);
const Stretch* find_stretch(const Section& section, const std::string& id);

// Dimensions and texts.

/// An empty id is replaced by a free one ("d1", …). Refused ("dimension-empty") where there is nothing to measure.
Section add_dimension(const Section& section, Dimension dimension);
Section change_dimension(const Section& section, const Dimension& dimension);
/// Measures from or to another point; the line of one along x or y stays where it is. Refused as add_dimension.
Section move_dimension_end(const Section& section, const std::string& id, bool to, Point at);
Section delete_dimension(const Section& section, const std::string& id);
/// mm
double dimension_length(const Dimension& dimension);
/// Both ends of its line, in mm: beside the points it measures between, by its offset.
std::array<Place, 2> dimension_line(const Dimension& dimension);
/// What is written at it: its length in mm to a tenth, then its text.
std::string dimension_words(const Dimension& dimension);
/// Makes what is measured `length` long: one end stays, the other moves along the dimension with everything at or beyond
/// it, seen square to the dimension. Levels and the cut move with a dimension along x or y only.
/// Refused ("dimension-empty", "stretch-too-far").
Section set_dimension(const Section& section, const std::string& id, Micrometres length, bool to_moves);
const Dimension* find_dimension(const Section& section, const std::string& id);

/// An empty id is replaced by a free one ("t1", …). Refused ("note-empty") without a text.
Section add_note(const Section& section, Note note);
Section change_note(const Section& section, const Note& note);
Section delete_note(const Section& section, const std::string& id);
const Note* find_note(const Section& section, const std::string& id);

// Several things at once. An unknown id is refused ("edit-unknown-id").

struct Taken {
    std::vector<std::string> pieces = {}, membranes = {}, dimensions = {}, texts = {};
    bool operator==(const Taken&) const = default;
};
/// Moves the corners of what is taken only.
Section move_taken(const Section& section, const Taken& taken, Micrometres dx, Micrometres dy);
/// Turns it about a point, anticlockwise; exact on the grid for whole quarters.
Section rotate_taken(const Section& section, const Taken& taken, Point about, double degrees);
/// Mirrors it about the upright line x = `at`, or the level one y = `at`.
Section mirror_taken(const Section& section, const Taken& taken, bool upright, Micrometres at);
Section delete_taken(const Section& section, const Taken& taken);
/// `number` copies on top of all, each (dx, dy) further on. Refused ("copies-number") outside 1 … 200.
Section copy_taken(const Section& section, const Taken& taken, int number, Micrometres dx, Micrometres dy);
/// A copy of what is taken of one section, on top in another. `added` receives what it became there.
Section paste_taken(const Section& section, const Section& from, const Taken& taken, Micrometres dx, Micrometres dy, Taken* added = nullptr);
Section set_material_of(const Section& section, const std::vector<std::string>& pieces, const std::string& material);

/// Groups are sets of ids that are taken in hand together. What is in another group leaves it.
/// Refused ("group-too-small") with fewer than two.
Section add_group(const Section& section, const std::vector<std::string>& members, const std::string& name = "");
Section delete_group(const Section& section, const std::string& id);
/// The group a piece or membrane is in; null when there is none.
const Group* group_of(const Section& section, const std::string& member);

// Membranes. Corners that land on an edge of a piece or of another membrane become corners there as well.

/// An empty id is replaced by a free one ("m1", "m2", …).
Section add_membrane(const Section& section, Membrane membrane);
/// Leads a membrane along other corners; what else lies on its old ones stays.
Section set_membrane_path(const Section& section, const std::string& id, const Path& path);
/// Makes a membrane so long: of its ends the one that lies nearer to that side of the cut goes on along its last straight
/// run, or back on it. Refused ("membrane-run-used-up") where the run would be gone.
Section set_membrane_length(const Section& section, const std::string& id, CutSide side, Micrometres length);
/// Along all its runs.
Micrometres membrane_length(const Membrane& membrane);
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
/// An empty name is that of its kind. Refused ("space-name-taken") when another space has it.
Section rename_space(const Section& section, const std::string& space_id, const std::string& name);
/// Refused ("space-without-temperature") as add_space.
Section set_space_kind(const Section& section, const std::string& space_id, SpaceKind kind);
/// Closed range of the temperature of a space, °C.
inline constexpr double least_celsius = -273.15, most_celsius = 2000;
/// nullopt = the convention's; refused ("space-without-temperature") for kinds the convention gives none for, and
/// "temperature-absurd" out of range.
Section set_temperature(const Section& section, const std::string& space_id, std::optional<double> celsius);
/// The temperature of an unheated space follows from its balance (JSON of `core/study/space_balance.hpp`). Throws InputFault
/// "balance-of-heated" for another kind.
Section set_balance(const Section& section, const std::string& space_id, const std::string& balance);

/// Where water comes from, of this section; all of it not stated is written as nothing. Refused ("coordinate-too-large").
Section set_water(const Section& section, const Water& water);

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
