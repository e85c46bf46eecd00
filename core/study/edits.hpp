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
Section delete_membrane(const Section& section, const std::string& id);
/// Moves the corners of one piece only.
Section move_piece(const Section& section, const std::string& id, Micrometres dx, Micrometres dy);
Section set_material(const Section& section, const std::string& id, const std::string& material);
/// nullopt = auto.
Section set_moisture(const Section& section, const std::string& id, std::optional<Condition> moisture);
Section rename_piece(const Section& section, const std::string& id, const std::string& name);
/// Moves a piece to another place in the painter's order; 0 = lowest, clamped to the number of pieces.
Section reorder_piece(const Section& section, const std::string& id, std::size_t index);
/// nullopt = the convention's; refused ("space-without-temperature") for kinds the convention gives none for.
Section set_temperature(const Section& section, const std::string& space_id, std::optional<double> celsius);

const Piece* find_piece(const Section& section, const std::string& id);
Outline rectangle_outline(Point a, Point b);

/// The study with the section of one variant replaced.
Study with_section(const Study& study, std::size_t variant, Section section);
/// A copy of a variant behind it; shares the section. The name is made distinct ("Base 2") when `name` is empty.
Study duplicate_variant(const Study& study, std::size_t variant, const std::string& name = "");
Study rename_variant(const Study& study, std::size_t variant, const std::string& name);
/// Refuses ("edit-last-variant") to take the last one.
Study remove_variant(const Study& study, std::size_t variant);

}  // namespace wallfoot
