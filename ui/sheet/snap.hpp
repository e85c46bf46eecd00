// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPointF>
#include <QString>
#include <optional>
#include <vector>

#include "core/study/study.hpp"

namespace wallfoot {

/// What the cursor is held by, in order of priority.
enum class SnapKind { corner, crossing, midpoint, on_edge, in_line, guide, grid, free };

/// A line the user has laid over the sheet: x = `at` when upright, else y = `at`.
struct Guide {
    bool upright = true;
    Micrometres at = 0;
    bool operator==(const Guide&) const = default;
};

struct Snap {
    Point at;
    SnapKind kind = SnapKind::free;
};
QString name_of(SnapKind kind);

/// Finds what the cursor is held by: corner before crossing before midpoint before edge before guide before grid; within a
/// kind the nearest. While a line is drawn, level with and plumb to its last corner counts as a line too. Lines are outlines, holes, membranes, the cut and the levels across it.
class Snapper {
  public:
    /// Corners in `moving` (sorted) and the lines that end there are left out: nothing snaps to what is dragged.
    explicit Snapper(const Section& section, const std::vector<Point>& moving = {});
    void set_guides(std::vector<Guide> guides) { guides_ = std::move(guides); }
    /// One line more that holds the cursor, with its ends.
    void add_line(Point a, Point b);
    /// `radius_mm`: reach of all kinds but the grid; `grid_mm`: spacing of the grid.
    /// `last`: the corner before, if a line is being drawn.
    Snap snap(QPointF mm, double radius_mm, double grid_mm, std::optional<Point> last = {}) const;

  private:
    struct Line {
        Point a, b;
    };
    std::vector<Point> corners_;
    std::vector<Line> lines_;
    std::vector<Guide> guides_;
};

/// Without any snapping: the nearest 0.1 mm, kept inside the coordinate limit.
Point free_point(QPointF mm);
/// The nearest point of the grid.
Snap grid_point(QPointF mm, double grid_mm);
/// Grid spacing that is at least some pixels wide: 1, 10, 100 or 1000 mm.
double grid_step_mm(double pixels_per_mm);

/// Pieces that cover a point, topmost first (indices into section.pieces). On the outline counts as covered.
std::vector<std::size_t> pieces_at(const Section& section, Point p);
/// Holes in which a point lies, those of the topmost piece first: indices of the piece and of its hole.
std::vector<std::pair<std::size_t, std::size_t>> holes_at(const Section& section, Point p);

}  // namespace wallfoot
