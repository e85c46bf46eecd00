// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>

#include "core/geometry/point.hpp"
#include "ui/sheet/snap.hpp"

namespace wallfoot {

/// Draws an outline, a line or a place from clicks and typed values. Knows the drawing's coordinates only, no widget.
class OutlineTool {
  public:
    /// `line` is open; `point` and `height` are set by one click.
    enum class Shape { polygon, rectangle, line, point, height };
    /// Fields of the entry at the cursor; which of them are offered depends on the step (fields()).
    enum Field { x, y, length, angle, dx, dy, height, temperature, field_count };
    /// Corners between two points of a line that follows what is drawn already.
    using Follow = std::function<Path(Point, Point)>;

    explicit OutlineTool(Shape shape) : shape_(shape) {}
    Shape shape() const { return shape_; }
    void set_follow(Follow follow) { follow_ = std::move(follow); }
    /// A point that needs a temperature as well: typed after the point is set.
    void ask_temperature() { asks_temperature_ = true; }
    std::optional<double> typed_temperature() const { return temperature_; }
    const Outline& corners() const { return corners_; }
    bool drawing() const { return !corners_.empty(); }
    /// First corner: x and y; then length, angle, dx, dy for a polygon or a line; dx, dy for a rectangle.
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
    /// Commits target(). On the first corner, with the second corner of a rectangle, or with the last that a point or
    /// height asks for, it is closed.
    Step commit();
    /// Closes a polygon or ends a line with the corners it has; refused with fewer than three, or two.
    Step close();
    /// Takes the last corner back with those that led to it; false when there is none.
    bool take_back();
    void reset();

    /// The corners as they would be with the one under the cursor, for the preview.
    Outline preview() const;

  private:
    std::optional<double> value(Field field) const;
    Path way_to(Point next) const;

    Shape shape_;
    Outline corners_;
    std::vector<std::size_t> steps_;  ///< number of corners before each commit
    Follow follow_;
    bool asks_temperature_ = false;
    std::optional<double> temperature_;
    Snap hover_;
    std::array<std::string, field_count> text_;
};

}  // namespace wallfoot
