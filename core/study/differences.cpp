// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/differences.hpp"

#include <algorithm>
#include <tuple>

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
    Comparison(const Study& base_study, const Section& base, const Study& study, const Section& other) : base_study_(base_study), study_(study), base_(base), other_(other) {}

    MarkedDifferences all() {
        pieces();
        if (&base_study_ != &study_) studies();
        membranes();
        for (const auto& [kind, code] : {std::pair{LevelKind::floor, "differs-level-floor"}, {LevelKind::ground, "differs-level-ground"}, {LevelKind::dpc, "differs-level-dpc"}}) level(kind, code);
        spaces();
        if (base_.cut != other_.cut) say("differs-cut");
        if (base_.beyond != other_.beyond) say("differs-beyond");
        if (base_.water != other_.water) say("differs-water");
        if (base_.hidden != other_.hidden) say("differs-hidden");
        if (said_.empty() && !(base_ == other_)) say("differs-else");
        return {std::move(said_), std::move(marks_)};
    }

  private:
    void say(const std::string& code, Args args = {}, std::optional<Point> at = {}) { said_.push_back({Severity::note, code, std::move(args), at, {}}); }

    /// Marks what was said last; what is marked there already takes one more number.
    void mark(std::vector<std::vector<Point>> lines, bool closed, bool gone = false) {
        const auto there = std::find_if(marks_.begin(), marks_.end(), [&](const DifferenceMark& of) { return of.lines == lines && of.gone == gone; });
        if (there != marks_.end()) there->said.push_back(said_.size() - 1);
        else marks_.push_back({{said_.size() - 1}, std::move(lines), closed, gone});
    }

    void mark(const Piece& piece, bool gone = false) {
        std::vector<std::vector<Point>> lines{piece.outline};
        lines.insert(lines.end(), piece.holes.begin(), piece.holes.end());
        mark(std::move(lines), true, gone);
    }

    static std::string text(Micrometres length) { return number_text(to_mm(length)); }

    std::string filling(const Piece& piece) const { return filling(study_, piece); }

    static std::string filling(const Study& study, const Piece& piece) {
        if (piece.fill == Fill::material) {
            const Material* material = study.find_material(piece.filled_with);
            return material ? shown_name(*material) : piece.filled_with;
        }
        const Message word{Severity::note, piece.fill == Fill::cutout ? "filled-cutout" : "filled-space", {{"space", piece.filled_with}}, {}, {}};
        return english(word);
    }

    static std::string moisture(const Piece& piece) { return piece.moisture ? word_of(condition_words, *piece.moisture) : "by its place"; }

    void pieces() {
        for (const Piece& piece : other_.pieces) {
            const Piece* before = find_piece(base_, piece.id);
            if (before) of(*before, piece);
            else say("differs-piece-more", {{"piece", shown_name(piece)}, {"filling", filling(piece)}}, piece.outline.front()), mark(piece);
        }
        for (const Piece& piece : base_.pieces)
            if (!find_piece(other_, piece.id)) say("differs-piece-less", {{"piece", shown_name(piece)}, {"filling", filling(base_study_, piece)}}, piece.outline.front()), mark(piece, true);
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
        if (!same_filling(before, piece)) say("differs-filling", {{"piece", shown_name(piece)}, {"from", filling(base_study_, before)}, {"to", filling(piece)}}, at), mark(piece);
        if (before.moisture != piece.moisture) say("differs-moisture", {{"piece", shown_name(piece)}, {"from", moisture(before)}, {"to", moisture(piece)}}, at), mark(piece);
        const Outline was = plain(before.outline), is = plain(piece.outline);
        const bool same_holes = plain(before.holes) == plain(piece.holes);
        if (was == is && same_holes) return;
        const Micrometres dx = is.front().x - was.front().x, dy = is.front().y - was.front().y;
        const bool moved = was.size() == is.size() && same_holes &&
                           std::equal(was.begin(), was.end(), is.begin(), [&](Point p, Point q) { return Point{p.x + dx, p.y + dy} == q; });
        if (moved) say("differs-moved", {{"piece", shown_name(piece)}, {"dx", text(dx)}, {"dy", text(dy)}}, at);
        else say("differs-outline", {{"piece", shown_name(piece)}, {"from", size(before.outline)}, {"to", size(piece.outline)}}, at);
        mark(piece);
        mark(before, true);
    }

    /// Of two studies: by name, and what a material of that name is stated to be is told apart.
    bool same_filling(const Piece& before, const Piece& piece) {
        if (before.fill != piece.fill) return false;
        if (&base_study_ == &study_ || piece.fill != Fill::material) return before.filled_with == piece.filled_with;
        const Material *was = base_study_.find_material(before.filled_with), *is = study_.find_material(piece.filled_with);
        if (!was || !is) return before.filled_with == piece.filled_with;
        Material renamed = *was;
        renamed.id = is->id;
        renamed.name = is->name;
        if (renamed == *is) return true;
        if (was->id != is->id && shown_name(*was) != shown_name(*is)) return false;
        if (std::find(stated_.begin(), stated_.end(), is->id) == stated_.end()) {
            stated_.push_back(is->id);
            const std::string values = values_of(*was, *is);
            if (values.empty()) say("differs-material-else", {{"material", shown_name(*is)}});
            else say("differs-material", {{"material", shown_name(*is)}, {"values", values}});
        }
        return true;
    }

    /// "dry 0.12 instead of 0.15; exposed 0.2 instead of not declared", W/(m·K).
    static std::string values_of(const Material& was, const Material& is) {
        std::string all;
        const auto value = [](const Conductivities& of, Condition condition) {
            const auto found = of.by_condition.find(condition);
            return found == of.by_condition.end() ? std::string("not declared") : number_text(found->second.value, 6);
        };
        for (const auto& [before, now, axis] : {std::tuple(&was.lambda, &is.lambda, ""), std::tuple(&was.lambda_up, &is.lambda_up, " along the height")})
            for (const auto& [condition, word] : condition_words)
                if (const std::string from = value(*before, condition), to = value(*now, condition); from != to)
                    all += (all.empty() ? "" : "; ") + std::string(word) + axis + " " + to + " instead of " + from;
        return all;
    }

    /// What two studies state for all their sections.
    void studies() {
        const auto convention = [](const Study& study) {
            const auto found = study.conventions.find(study.convention);
            return found == study.conventions.end() ? nullptr : &found->second;
        };
        const Convention *was = convention(base_study_), *is = convention(study_);
        if (was && is && !(*was == *is)) say("differs-convention", {{"from", was->name.empty() ? was->id : was->name}, {"to", is->name.empty() ? is->id : is->name}});
        const auto width = [](const Study& study) { return study.floor_width ? text(*study.floor_width) + " mm" : std::string("–"); };
        if (base_study_.floor_width != study_.floor_width) say("differs-floor-width", {{"from", width(base_study_)}, {"to", width(study_)}});
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
            if (before && *before == membrane) continue;
            say(before ? "differs-membrane" : "differs-membrane-more", args, membrane.path.front());
            mark({membrane.path}, false);
            if (before && before->path != membrane.path) mark({before->path}, false, true);
        }
        for (const Membrane& membrane : base_.membranes)
            if (!find_membrane(other_, membrane.id)) {
                say("differs-membrane-less", {{"membrane", membrane.id}, {"kind", word_of(membrane_kind_words, membrane.kind)}}, membrane.path.front());
                mark({membrane.path}, false, true);
            }
    }

    void level(LevelKind kind, const std::string& code) {
        const Level &before = level_of(base_, kind), &now = level_of(other_, kind);
        if (before == now) return;
        const auto height = [](const Level& level) {
            const auto one = [](const std::optional<Micrometres>& at) { return at ? text(*at) : std::string("–"); };
            return level.both ? text(*level.both) : level.empty() ? std::string("–") : one(level.left) + " / " + one(level.right);
        };
        say(code, {{"from", height(before)}, {"to", height(now)}});
        mark_level(now, other_.cut, false);
        mark_level(before, base_.cut, true);
    }

    /// Across the half of the side it is given for.
    void mark_level(const Level& level, const Rect& cut, bool gone) {
        const Micrometres middle = cut.left + (cut.right - cut.left) / 2;
        if (level.both) mark({{{cut.left, *level.both}, {cut.right, *level.both}}}, false, gone);
        if (level.left) mark({{{cut.left, *level.left}, {middle, *level.left}}}, false, gone);
        if (level.right) mark({{{middle, *level.right}, {cut.right, *level.right}}}, false, gone);
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

    const Study &base_study_, &study_;
    const Section &base_, &other_;
    std::vector<std::string> stated_;  ///< materials that were told
    std::vector<Message> said_;
    std::vector<DifferenceMark> marks_;
};

}  // namespace

std::vector<Message> differences(const Study& study, const Section& base, const Section& other) { return differences(study, base, study, other); }

std::vector<Message> differences(const Study& base_study, const Section& base, const Study& other_study, const Section& other) {
    return marked_differences(base_study, base, other_study, other).said;
}

MarkedDifferences marked_differences(const Study& base_study, const Section& base, const Study& other_study, const Section& other) {
    return Comparison(base_study, base, other_study, other).all();
}

}  // namespace wallfoot
