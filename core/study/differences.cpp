// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/differences.hpp"

#include <algorithm>

#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

using Args = std::map<std::string, std::string>;

/// Without corners that lie straight between their neighbours (they change no area), from the least corner on.
Outline plain(const Outline& outline) {
    Outline result;
    for (std::size_t i = 0, n = outline.size(); i < n; ++i)
        if (cross(outline[(i + n - 1) % n], outline[i], outline[(i + 1) % n]) != 0) result.push_back(outline[i]);
    if (!result.empty()) std::rotate(result.begin(), std::min_element(result.begin(), result.end()), result.end());
    return result;
}

std::vector<Outline> plain(const std::vector<Outline>& outlines) {
    std::vector<Outline> result;
    for (const Outline& outline : outlines) result.push_back(plain(outline));
    return result;
}

class Comparison {
  public:
    Comparison(const Study& study, const Section& base, const Section& other) : study_(study), base_(base), other_(other) {}

    std::vector<Message> all() {
        pieces();
        membranes();
        for (const auto& [kind, code] : {std::pair{LevelKind::floor, "differs-level-floor"}, {LevelKind::ground, "differs-level-ground"}, {LevelKind::dpc, "differs-level-dpc"}}) level(kind, code);
        spaces();
        if (base_.cut != other_.cut) say("differs-cut");
        if (base_.beyond != other_.beyond) say("differs-beyond");
        if (base_.water != other_.water) say("differs-water");
        if (said_.empty() && !(base_ == other_)) say("differs-else");
        return std::move(said_);
    }

  private:
    void say(const std::string& code, Args args = {}, std::optional<Point> at = {}) { said_.push_back({Severity::note, code, std::move(args), at, {}}); }

    static std::string text(Micrometres length) { return number_text(to_mm(length)); }

    std::string filling(const Piece& piece) const {
        if (piece.fill == Fill::material) {
            const Material* material = study_.find_material(piece.filled_with);
            return material ? shown_name(*material) : piece.filled_with;
        }
        const Message word{Severity::note, piece.fill == Fill::cutout ? "filled-cutout" : "filled-space", {{"space", piece.filled_with}}, {}, {}};
        return english(word);
    }

    static std::string moisture(const Piece& piece) { return piece.moisture ? word_of(condition_words, *piece.moisture) : "auto"; }

    void pieces() {
        for (const Piece& piece : other_.pieces) {
            const Piece* before = find_piece(base_, piece.id);
            if (!before) say("differs-piece-more", {{"piece", shown_name(piece)}, {"filling", filling(piece)}}, piece.outline.front());
            else of(*before, piece);
        }
        for (const Piece& piece : base_.pieces)
            if (!find_piece(other_, piece.id)) say("differs-piece-less", {{"piece", shown_name(piece)}, {"filling", filling(piece)}}, piece.outline.front());
        if (order(base_, other_) != order(other_, base_)) say("differs-order");
    }

    /// The pieces both have, in the painter's order of the first.
    static std::vector<std::string> order(const Section& of, const Section& also) {
        std::vector<std::string> ids;
        for (const Piece& piece : of.pieces)
            if (find_piece(also, piece.id)) ids.push_back(piece.id);
        return ids;
    }

    void of(const Piece& before, const Piece& piece) {
        const Point at = piece.outline.front();
        if (before.fill != piece.fill || before.filled_with != piece.filled_with)
            say("differs-filling", {{"piece", shown_name(piece)}, {"from", filling(before)}, {"to", filling(piece)}}, at);
        if (before.moisture != piece.moisture) say("differs-moisture", {{"piece", shown_name(piece)}, {"from", moisture(before)}, {"to", moisture(piece)}}, at);
        const Outline was = plain(before.outline), is = plain(piece.outline);
        const bool same_holes = plain(before.holes) == plain(piece.holes);
        if (was == is && same_holes) return;
        const Micrometres dx = is.front().x - was.front().x, dy = is.front().y - was.front().y;
        const bool moved = was.size() == is.size() && same_holes &&
                           std::equal(was.begin(), was.end(), is.begin(), [&](Point p, Point q) { return Point{p.x + dx, p.y + dy} == q; });
        if (moved) say("differs-moved", {{"piece", shown_name(piece)}, {"dx", text(dx)}, {"dy", text(dy)}}, at);
        else say("differs-outline", {{"piece", shown_name(piece)}, {"from", size(before.outline)}, {"to", size(piece.outline)}}, at);
    }

    /// Width by height of the box around an outline.
    static std::string size(const Outline& outline) {
        const auto by_x = [](Point p, Point q) { return p.x < q.x; };
        const auto by_y = [](Point p, Point q) { return p.y < q.y; };
        const auto [left, right] = std::minmax_element(outline.begin(), outline.end(), by_x);
        const auto [low, high] = std::minmax_element(outline.begin(), outline.end(), by_y);
        return text(right->x - left->x) + " × " + text(high->y - low->y);
    }

    void membranes() {
        for (const Membrane& membrane : other_.membranes) {
            const Args args{{"membrane", membrane.id}, {"kind", word_of(membrane_kind_words, membrane.kind)}};
            const Membrane* before = find_membrane(base_, membrane.id);
            if (!before) say("differs-membrane-more", args, membrane.path.front());
            else if (!(*before == membrane)) say("differs-membrane", args, membrane.path.front());
        }
        for (const Membrane& membrane : base_.membranes)
            if (!find_membrane(other_, membrane.id)) say("differs-membrane-less", {{"membrane", membrane.id}, {"kind", word_of(membrane_kind_words, membrane.kind)}}, membrane.path.front());
    }

    void level(LevelKind kind, const std::string& code) {
        const Level &before = level_of(base_, kind), &now = level_of(other_, kind);
        if (before == now) return;
        const auto height = [](const Level& level) {
            const auto one = [](const std::optional<Micrometres>& at) { return at ? text(*at) : std::string("–"); };
            return level.both ? text(*level.both) : level.empty() ? std::string("–") : one(level.left) + " / " + one(level.right);
        };
        say(code, {{"from", height(before)}, {"to", height(now)}});
    }

    void spaces() {
        for (const Space& space : other_.spaces) {
            const Space* before = find_space(base_, space.id);
            if (!before) say("differs-space-more", {{"space", space.id}});
            else if (!(*before == space)) say("differs-space", {{"space", space.id}});
        }
        for (const Space& space : base_.spaces)
            if (!find_space(other_, space.id)) say("differs-space-less", {{"space", space.id}});
    }

    const Study& study_;
    const Section &base_, &other_;
    std::vector<Message> said_;
};

}  // namespace

std::vector<Message> differences(const Study& study, const Section& base, const Section& other) { return Comparison(study, base, other).all(); }

}  // namespace wallfoot
