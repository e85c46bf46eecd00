// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/unwritten.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "core/study/names.hpp"
#include "core/text/message.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

/// Levels of one direction, tied in chains.
class Levels {
  public:
    void tie(Micrometres a, Micrometres b) { above_[root(a)] = root(b); }
    bool tied(Micrometres a, Micrometres b) const { return root(a) == root(b); }

  private:
    Micrometres root(Micrometres level) const {
        for (auto found = above_.find(level); found != above_.end() && found->second != level; found = above_.find(level)) {
            // Half as far the next time.
            if (const auto next = above_.find(found->second); next != above_.end()) found->second = next->second;
            level = found->second;
        }
        return level;
    }
    mutable std::map<Micrometres, Micrometres> above_;
};

class Written {
  public:
    explicit Written(const Section& section) : cut_(section.cut) {
        for (const Dimension& d : section.dimensions) {
            if (d.along == "x" || (d.along.empty() && d.from.y == d.to.y)) across_.tie(d.from.x, d.to.x);
            else if (d.along == "y" || (d.along.empty() && d.from.x == d.to.x)) up_.tie(d.from.y, d.to.y);
            else straight_.insert(std::minmax(d.from, d.to));
        }
    }
    bool needs_one(Point a, Point b) const {
        const bool broken_across = a.x != b.x && (off(a.x, cut_.left, cut_.right) || off(b.x, cut_.left, cut_.right));
        const bool broken_up = a.y != b.y && (off(a.y, cut_.bottom, cut_.top) || off(b.y, cut_.bottom, cut_.top));
        if (broken_across || broken_up) return false;
        if (straight_.contains(std::minmax(a, b))) return false;
        return !across_.tied(a.x, b.x) || !up_.tied(a.y, b.y);
    }
    bool seen(const Piece& piece) const {
        const auto any = [&](auto inside) { return std::any_of(piece.outline.begin(), piece.outline.end(), inside); };
        return any([&](Point p) { return p.x > cut_.left; }) && any([&](Point p) { return p.x < cut_.right; }) && any([&](Point p) { return p.y > cut_.bottom; }) &&
               any([&](Point p) { return p.y < cut_.top; });
    }

  private:
    static bool off(Micrometres level, Micrometres low, Micrometres high) { return level <= low || level >= high; }
    Rect cut_;
    Levels across_, up_;
    std::set<std::pair<Point, Point>> straight_;
};

std::string span(const char* code, Micrometres a, Micrometres b) {
    return english({Severity::note, code, {{"from", number_text(to_mm(std::min(a, b)))}, {"to", number_text(to_mm(std::max(a, b)))}}, {}, {}});
}

}  // namespace

std::vector<UnwrittenPiece> unwritten_edges(const Section& section) {
    const Written written(section);
    std::vector<UnwrittenPiece> result;
    for (int i = static_cast<int>(section.pieces.size()) - 1; i >= 0; --i) {
        const Piece& piece = section.pieces[static_cast<std::size_t>(i)];
        if (!written.seen(piece)) continue;
        UnwrittenPiece found{i, {}};
        const auto look = [&](const Outline& outline) {
            for (std::size_t k = 0; k < outline.size(); ++k) {
                const Point a = outline[k], b = outline[(k + 1) % outline.size()];
                if (written.needs_one(a, b)) found.edges.push_back({a, b});
            }
        };
        look(piece.outline);
        for (const Outline& hole : piece.holes) look(hole);
        if (!found.edges.empty()) result.push_back(std::move(found));
    }
    return result;
}

std::string where_unwritten(const UnwrittenPiece& piece) {
    constexpr std::size_t most = 12;
    std::vector<std::string> spans;
    for (const auto& [a, b] : piece.edges) {
        const std::string told = a.y == b.y   ? span("unwritten-across", a.x, b.x)
                                 : a.x == b.x ? span("unwritten-up", a.y, b.y)
                                              : english({Severity::note, "unwritten-slanted", {{"x1", number_text(to_mm(a.x))}, {"y1", number_text(to_mm(a.y))}, {"x2", number_text(to_mm(b.x))}, {"y2", number_text(to_mm(b.y))}}, {}, {}});
        if (std::find(spans.begin(), spans.end(), told) == spans.end()) spans.push_back(told);
    }
    std::string text;
    for (std::size_t i = 0; i < spans.size() && i < most; ++i) text += (i > 0 ? "; " : "") + spans[i];
    if (spans.size() > most) text += english({Severity::note, "unwritten-more", {{"number", std::to_string(spans.size() - most)}}, {}, {}});
    return text;
}

std::string underlays_not_to_scale(const Study& study, const Section& section) {
    std::string names;
    for (const Underlay& underlay : section.underlays)
        if (underlay.not_to_scale) names += (names.empty() ? "" : ", ") + shown_name(study, underlay);
    return names;
}

}  // namespace wallfoot
