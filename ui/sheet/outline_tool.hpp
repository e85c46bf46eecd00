// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <string>

#include "core/geometry/point.hpp"
#include "ui/sheet/snap.hpp"

namespace wallfoot {

/// Draws an outline corner by corner from clicks and typed values. Knows the drawing's coordinates only, no widget.
class OutlineTool {
  public:
    enum class Shape { polygon, rectangle };
    /// Fields of the entry at the cursor; which of them are offered depends on the step (fields()).
    enum Field { x, y, length, angle, dx, dy, field_count };

    explicit OutlineTool(Shape shape) : shape_(shape) {}
    Shape shape() const { return shape_; }
    const Outline& corners() const { return corners_; }
    bool drawing() const { return !corners_.empty(); }
    /// First corner: x and y; then length, angle, dx, dy for a polygon; dx, dy for a rectangle.
    std::vector<Field> fields() const;

    void hover(Snap snap) { hover_ = snap; }
    /// Sets a typed field; empty text clears it.
    void type(Field field, const std::string& text);
    void clear_typed();
    bool typed() const;
    /// Message code of the first field that cannot be understood, or "".
    std::string problem() const;

    /// Where the next corner will be: typed values first, the cursor for what is not typed. With only a length typed the
    /// direction is the cursor's, to the nearest 15° unless the cursor is held by the drawing. With only dx or dy typed
    /// the other is 0 for a polygon and the cursor's for a rectangle.
    Point target() const;

    enum class Step { refused, corner_set, closed };
    /// Commits target(). On the first corner, or with the second corner of a rectangle, the outline is closed.
    Step commit();
    /// Closes a polygon with the corners it has; refused with fewer than three.
    Step close();
    /// Takes the last corner back; false when there is none.
    bool take_back();
    void reset();

    /// The outline as it would be with the corner under the cursor, for the preview.
    Outline preview() const;

  private:
    std::optional<double> value(Field field) const;

    Shape shape_;
    Outline corners_;
    Snap hover_;
    std::array<std::string, field_count> text_;
};

}  // namespace wallfoot
