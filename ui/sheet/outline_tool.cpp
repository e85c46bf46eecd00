// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/outline_tool.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

Entry parsed(OutlineTool::Field field, const std::string& text) {
    return field == OutlineTool::angle || field == OutlineTool::temperature ? parse_number(text) : parse_length(text);
}

Micrometres held(double mm) {
    const double limit = to_mm(coordinate_limit);
    return from_mm(std::clamp(mm, -limit, limit));
}

/// Unit vector of an angle in degrees; exact along the axes.
std::array<double, 2> direction(double degrees) {
    const double turned = std::fmod(std::fmod(degrees, 360) + 360, 360);
    if (turned == 0) return {1, 0};
    if (turned == 90) return {0, 1};
    if (turned == 180) return {-1, 0};
    if (turned == 270) return {0, -1};
    const double radians = turned * std::numbers::pi / 180;
    return {std::cos(radians), std::sin(radians)};
}

}  // namespace

std::vector<OutlineTool::Field> OutlineTool::fields() const {
    if (shape_ == Shape::height) return {height};
    if (corners_.empty()) return {x, y};
    if (shape_ == Shape::point) return {temperature};
    if (shape_ == Shape::rectangle) return {dx, dy};
    return {length, angle, dx, dy};
}

void OutlineTool::type(Field field, const std::string& text) { text_[field] = text; }
void OutlineTool::clear_typed() { text_.fill({}); }
bool OutlineTool::typed() const {
    return std::any_of(text_.begin(), text_.end(), [](const std::string& text) { return !text.empty(); });
}

std::string OutlineTool::problem() const {
    for (const Field field : fields())
        if (!text_[field].empty())
            if (const Entry entry = parsed(field, text_[field]); !entry) return entry.problem;
    return {};
}

std::optional<double> OutlineTool::value(Field field) const {
    return text_[field].empty() ? std::nullopt : parsed(field, text_[field]).value;
}

Point OutlineTool::target() const {
    if (shape_ == Shape::height) {
        const auto typed = value(height);
        return {hover_.at.x, typed ? held(*typed) : hover_.at.y};
    }
    if (shape_ == Shape::point && !corners_.empty()) return corners_.front();
    if (corners_.empty()) {
        const auto typed_x = value(x), typed_y = value(y);
        return {typed_x ? held(*typed_x) : hover_.at.x, typed_y ? held(*typed_y) : hover_.at.y};
    }
    const Point last = corners_.back();
    if (const auto right = value(dx), up = value(dy); right || up) {
        const bool rectangle = shape_ == Shape::rectangle;
        return {right ? held(to_mm(last.x) + *right) : rectangle ? hover_.at.x : last.x,
                up ? held(to_mm(last.y) + *up) : rectangle ? hover_.at.y : last.y};
    }
    const auto typed_length = value(length), typed_angle = value(angle);
    if (!typed_length && !typed_angle) return hover_.at;
    const double to_x = to_mm(hover_.at.x - last.x), to_y = to_mm(hover_.at.y - last.y);
    const double reach = std::hypot(to_x, to_y);
    std::array<double, 2> way{1, 0};
    if (typed_angle) {
        way = direction(*typed_angle);
    } else if (reach > 0 && hover_.kind < SnapKind::grid) {
        way = {to_x / reach, to_y / reach};
    } else if (reach > 0) {
        way = direction(std::round(std::atan2(to_y, to_x) * 180 / std::numbers::pi / 15) * 15);
    }
    const double far = typed_length ? *typed_length : std::max(0.0, to_x * way[0] + to_y * way[1]);
    return {held(to_mm(last.x) + far * way[0]), held(to_mm(last.y) + far * way[1])};
}

/// What leads along the drawing to the next corner of a line, unless the user says exactly where.
Path OutlineTool::way_to(Point next) const {
    if (shape_ != Shape::line || !follow_ || typed() || hover_.kind == SnapKind::free || corners_.empty()) return {};
    return follow_(corners_.back(), next);
}

OutlineTool::Step OutlineTool::commit() {
    if (!problem().empty()) return Step::refused;
    const Point next = target();
    if (shape_ == Shape::point && !corners_.empty()) {
        temperature_ = value(temperature);
        return temperature_ ? Step::closed : Step::refused;
    }
    if (shape_ == Shape::polygon && corners_.size() > 2 && next == corners_.front()) return close();
    const auto first_same = shape_ == Shape::line && !corners_.empty() ? corners_.end() - 1 : corners_.begin();
    if (std::find(first_same, corners_.end(), next) != corners_.end()) return Step::refused;
    if (shape_ == Shape::rectangle && !corners_.empty()) {
        if (next.x == corners_[0].x || next.y == corners_[0].y) return Step::refused;
        corners_ = rectangle_outline(corners_[0], next);
        clear_typed();
        return Step::closed;
    }
    steps_.push_back(corners_.size());
    const Path way = way_to(next);
    corners_.insert(corners_.end(), way.begin(), way.end());
    corners_.push_back(next);
    clear_typed();
    const bool whole = shape_ == Shape::height || (shape_ == Shape::point && !asks_temperature_);
    return whole ? Step::closed : Step::corner_set;
}

OutlineTool::Step OutlineTool::close() {
    const bool enough = shape_ == Shape::polygon ? corners_.size() > 2 : shape_ == Shape::line && corners_.size() > 1;
    if (!enough) return Step::refused;
    clear_typed();
    return Step::closed;
}

bool OutlineTool::take_back() {
    if (corners_.empty()) return false;
    corners_.resize(steps_.back());
    steps_.pop_back();
    clear_typed();
    return true;
}

void OutlineTool::reset() {
    corners_.clear();
    steps_.clear();
    clear_typed();
}

Outline OutlineTool::preview() const {
    if (corners_.empty() || shape_ == Shape::point || shape_ == Shape::height) return {};
    const Point next = target();
    if (shape_ == Shape::rectangle) return rectangle_outline(corners_[0], next);
    Outline outline = corners_;
    const Path way = way_to(next);
    outline.insert(outline.end(), way.begin(), way.end());
    if (shape_ == Shape::line) {
        if (next != outline.back()) outline.push_back(next);
        return outline;
    }
    if (std::find(outline.begin(), outline.end(), next) == outline.end()) outline.push_back(next);
    return outline;
}

}  // namespace wallfoot
