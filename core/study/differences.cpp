// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/differences.hpp"

#include <algorithm>
#include <tuple>

#include "core/file/quantities.hpp"
#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
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
        hidden();
        elements();
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
        if (!(as_called(*was, *is) == *is) && was->id != is->id && shown_name(*was) != shown_name(*is)) return false;
        stated(*was, *is);
        return true;
    }

    /// The first with the names of the second; a part of its mix that is called alike counts as the same one.
    Material as_called(const Material& was, const Material& is) const {
        Material renamed = was;
        renamed.id = is.id;
        renamed.name = is.name;
        for (MixPart& part : renamed.mix) {
            const Material* then = base_study_.find_material(part.material);
            for (const MixPart& other : is.mix)
                if (const Material* now = study_.find_material(other.material); then && now && shown_name(*then) == shown_name(*now)) part.material = other.material;
        }
        return renamed;
    }

    /// What a material is stated to be in two studies, and what it is built of; each once.
    void stated(const Material& was, const Material& is) {
        if (std::find(stated_.begin(), stated_.end(), is.id) != stated_.end()) return;
        stated_.push_back(is.id);
        if (!(as_called(was, is) == is)) {
            const std::size_t before = said_.size();
            const std::string material = shown_name(is);
            const auto tell = [&](const char* code, const std::string& from, const std::string& to) {
                if (from != to) say(code, {{"material", material}, {"from", from}, {"to", to}});
            };
            if (const std::string values = values_of(was, is); !values.empty()) say("differs-material", {{"material", material}, {"values", values}});
            const int digits = parts_of(base_study_, was, 3) == parts_of(study_, is, 3) ? 9 : 3;
            tell("differs-material-parts", parts_of(base_study_, was, digits), parts_of(study_, is, digits));
            tell("differs-material-temperature", temperature_of(was), temperature_of(is));
            tell("differs-material-ageing", ageing_of(was), ageing_of(is));
            if (said_.size() == before) say("differs-material-else", {{"material", material}});
        }
        for (const MixPart& part : is.mix) {
            const Material* now = study_.find_material(part.material);
            const Material* then = nullptr;
            for (const MixPart& other : was.mix)
                if (const Material* of = base_study_.find_material(other.material); of && now && (of->id == now->id || shown_name(*of) == shown_name(*now))) then = of;
            if (now && then) stated(*then, *now);
        }
    }

    /// "85 % Insulation board, 15 % Timber".
    static std::string parts_of(const Study& study, const Material& material, int digits) {
        std::string all;
        for (const MixPart& part : material.mix) {
            const Material* of = study.find_material(part.material);
            all += (all.empty() ? "" : ", ") + number_text(100 * part.fraction, digits) + " % " + (of ? shown_name(*of) : part.material);
        }
        return all.empty() ? "one material" : all;
    }

    static std::string temperature_of(const Material& material) {
        if (!material.temperature) return "as stated";
        const TemperatureConversion& use = *material.temperature;
        return "from " + number_text(use.from) + " to " + number_text(use.to) + " °C by " + number_text(use.coefficient, 6) + " 1/K";
    }

    static std::string ageing_of(const Material& material) { return material.ageing ? number_text(*material.ageing, 6) : "none"; }

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
        if (base_study_.climate != study_.climate) say("differs-climate");
        if (base_study_.floor_width != study_.floor_width) say("differs-floor-width", {{"from", width(base_study_)}, {"to", width(study_)}});
        const auto floor = [](const std::optional<GroundFloor>& of) { return of ? number_text(of->area) + " m² with " + number_text(of->perimeter) + " m of edge" : std::string("not stated"); };
        if (const auto before = ground_floor(base_study_), now = ground_floor(study_); before != now) say("differs-ground-floor", {{"from", floor(before)}, {"to", floor(now)}});
        const auto edge = [](const std::optional<StatedFloorEdge>& of) {
            if (!of) return std::string("not stated");
            return std::string(of->vertical ? "upright, " : "level, ") + number_text(1000 * of->width_m) + (of->vertical ? " mm deep, " : " mm wide, ") + number_text(1000 * of->thickness_m) + " mm thick, " + number_text(of->conductivity, 6) + " W/(m·K)";
        };
        if (const auto before = stated_floor_edge(base_study_), now = stated_floor_edge(study_); before != now) say("differs-floor-edge", {{"from", edge(before)}, {"to", edge(now)}});
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
            else if (!(*before == space)) of(*before, space);
        }
        for (const Space& space : base_.spaces)
            if (!find_space(other_, space.id)) say("differs-space-less", {{"space", space.id}});
    }

    void of(const Space& before, const Space& space) {
        const std::size_t told = said_.size();
        const std::string name = shown_name(other_, space);
        const std::optional<Point> at = space.at.empty() ? std::optional<Point>{} : space.at.front();
        const auto tell = [&](const char* code, const std::string& from, const std::string& to) {
            if (from != to) say(code, {{"space", name}, {"from", from}, {"to", to}}, at);
        };
        tell("differs-space-kind", word_of(space_kind_words, before.kind), word_of(space_kind_words, space.kind));
        tell("differs-space-temperature", temperature(before), temperature(space));
        if (before.balance && space.balance && *before.balance != *space.balance) say("differs-space-balance", {{"space", name}}, at);
        tell("differs-space-side", dwelling(before.side), dwelling(space.side));
        if (before.at != space.at) say("differs-space-marks", {{"space", name}}, at);
        if (before.surface_resistance != space.surface_resistance) say("differs-space-surface", {{"space", name}}, at);
        if (said_.size() == told) say("differs-space", {{"space", name}}, at);
    }

    static std::string temperature(const Space& space) {
        return space.temperature ? number_text(*space.temperature) + " °C" : space.balance ? "that of its balance" : "that of the convention";
    }

    static std::string dwelling(const std::string& side) {
        return side == "own" ? "the own dwelling" : side == "neighbour" ? "the neighbour's dwelling" : side == "common" ? "what both share" : "no dwelling in particular";
    }

    /// Those that are alike are paired first, however they are called; the rest by id.
    void hidden() {
        std::vector<const HiddenSurface*> was, is;
        for (const HiddenSurface& before : base_.hidden) was.push_back(&before);
        for (const HiddenSurface& now : other_.hidden) {
            const auto alike = std::find_if(was.begin(), was.end(), [&](const HiddenSurface* before) { return before->path == now.path && before->reason == now.reason; });
            if (alike == was.end()) is.push_back(&now);
            else was.erase(alike);
        }
        for (const HiddenSurface* now : is) {
            const auto found = std::find_if(was.begin(), was.end(), [&](const HiddenSurface* of) { return of->id == now->id; });
            const HiddenSurface* before = found == was.end() ? nullptr : *found;
            if (before) was.erase(found);
            if (!before) say("differs-hidden-more", {{"reason", now->reason}}, now->path.front());
            else if (before->path == now->path) say("differs-hidden-reason", {{"from", before->reason}, {"to", now->reason}}, now->path.front());
            else say("differs-hidden", {{"reason", now->reason}}, now->path.front());
            mark({now->path}, false);
            if (before && before->path != now->path) mark({before->path}, false, true);
        }
        for (const HiddenSurface* before : was) say("differs-hidden-less", {{"reason", before->reason}}, before->path.front()), mark({before->path}, false, true);
    }

    /// What is stated of flanking elements; one that a section says nothing of is as the drawing has it.
    void elements() {
        for (const ElementOverride& now : other_.elements) {
            const ElementOverride* before = find_element(base_, now.id, now.cut);
            of(before ? *before : ElementOverride{}, now, now.id);
        }
        for (const ElementOverride& before : base_.elements)
            if (!find_element(other_, before.id, before.cut)) of(before, ElementOverride{}, before.id);
    }

    void of(const ElementOverride& before, const ElementOverride& now, const std::string& element) {
        const auto place = [](const std::optional<Point>& at) { return at ? "x " + text(at->x) + ", y " + text(at->y) + " mm" : std::string("where the drawing has it"); };
        for (const auto& [lengths, was, is] : {std::tuple("internal", &before.internal, &now.internal), std::tuple("external", &before.external, &now.external)})
            if (*was != *is) say("differs-element-reference", {{"element", element}, {"lengths", lengths}, {"from", place(*was)}, {"to", place(*is)}}, *is ? *is : *was);
        if (before.corrections != now.corrections)
            say("differs-element-corrections", {{"element", element}, {"from", corrections(before.corrections)}, {"to", corrections(now.corrections)}});
    }

    /// "4 fixings per m² of 12.6 mm² and 17 W/(m·K) in ins, air gaps of level 1 in ins".
    static std::string corrections(const std::optional<ElementCorrections>& stated) {
        std::string all;
        const auto add = [&](const std::string& one) { all += (all.empty() ? "" : ", ") + one; };
        for (const ElementFixings& of : stated ? stated->fixings : std::vector<ElementFixings>{}) {
            std::string one = number_text(of.per_m2) + " fixings per m² of " + number_text(of.area_mm2) + " mm² and " + number_text(of.conductivity) + " W/(m·K) in " + of.layer;
            if (of.length) one += ", " + text(*of.length) + " mm long";
            if (of.empty_cavity) one += ", across an empty cavity";
            add(one);
        }
        if (stated && stated->air_gap_level) add(std::string("air gaps of level ") + std::to_string(*stated->air_gap_level) + " in " + stated->air_gap_layer);
        return all.empty() ? "none" : all;
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
