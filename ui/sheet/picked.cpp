// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/picked.hpp"

#include <algorithm>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "core/study/underlays.hpp"

namespace wallfoot {

QString text_of(const LevelName& name) {
    const int side = !name.side ? 0 : *name.side == Side::left ? 1 : 2;
    return QStringLiteral("%1 %2").arg(static_cast<int>(name.kind)).arg(side);
}

LevelName level_of(const QString& text) {
    const int kind = text.section(QLatin1Char(' '), 0, 0).toInt(), side = text.section(QLatin1Char(' '), 1, 1).toInt();
    return {static_cast<LevelKind>(kind), side == 0 ? std::nullopt : std::optional(side == 1 ? Side::left : Side::right)};
}

std::optional<Micrometres> height_of(const Section& section, const LevelName& name) {
    const Level& level = level_of(section, name.kind);
    return !name.side ? level.both : *name.side == Side::left ? level.left : level.right;
}

Taken taken_of(const Picked& picked) {
    Taken taken;
    if (picked.hole) return taken;
    const auto take = [&](PickedKind kind, const QString& id) {
        if (kind == PickedKind::piece) taken.pieces.push_back(id.toStdString());
        if (kind == PickedKind::membrane) taken.membranes.push_back(id.toStdString());
        if (kind == PickedKind::dimension) taken.dimensions.push_back(id.toStdString());
        if (kind == PickedKind::note) taken.texts.push_back(id.toStdString());
    };
    take(picked.kind, picked.id);
    for (const auto& [kind, id] : picked.more) take(kind, id);
    return taken;
}

Picked picked_of(const Taken& taken) {
    std::vector<std::pair<PickedKind, QString>> all;
    for (const auto& [kind, ids] : {std::pair(PickedKind::piece, &taken.pieces), std::pair(PickedKind::membrane, &taken.membranes),
                                    std::pair(PickedKind::dimension, &taken.dimensions), std::pair(PickedKind::note, &taken.texts)})
        for (const std::string& id : *ids) all.emplace_back(kind, QString::fromStdString(id));
    if (all.empty()) return {};
    Picked picked{all.front().first, all.front().second};
    picked.more.assign(all.begin() + 1, all.end());
    return picked;
}

Picked with_groups(const Section& section, const Picked& picked) {
    if (section.groups.empty() || picked.hole) return picked;
    Picked result = picked;
    const auto has = [&](PickedKind kind, const QString& id) {
        return (result.kind == kind && result.id == id) || std::find(result.more.begin(), result.more.end(), std::pair(kind, id)) != result.more.end();
    };
    const Taken taken = taken_of(picked);
    for (const auto* ids : {&taken.pieces, &taken.membranes})
        for (const std::string& id : *ids)
            if (const Group* group = group_of(section, id))
                for (const std::string& member : group->members) {
                    const PickedKind kind = find_piece(section, member) ? PickedKind::piece : PickedKind::membrane;
                    if (const QString name = QString::fromStdString(member); !has(kind, name)) result.more.emplace_back(kind, name);
                }
    return result;
}

Picked toggled(const Picked& picked, const Picked& one) {
    // What the acts on several things do not know is picked alone.
    if (taken_of({one.kind, one.id}) == Taken{}) return picked == one ? Picked{} : one;
    if (picked.hole) return {one.kind, one.id};
    std::vector<std::pair<PickedKind, QString>> all;
    if (picked_of(taken_of(picked)).kind != PickedKind::nothing) all.emplace_back(picked.kind, picked.id);
    all.insert(all.end(), picked.more.begin(), picked.more.end());
    const std::pair<PickedKind, QString> wanted(one.kind, one.id);
    if (std::erase(all, wanted) == 0) all.insert(all.begin(), wanted);
    if (all.empty()) return {};
    Picked result{all.front().first, all.front().second};
    result.more.assign(all.begin() + 1, all.end());
    return result;
}

Picked carried(const Section& before, const Section& after, const Picked& picked, bool same_variant) {
    if (!picked.hole) return picked;
    Picked result{picked.kind, picked.id};
    const Piece *old = find_piece(before, picked.id.toStdString()), *present = find_piece(after, picked.id.toStdString());
    const std::size_t h = *picked.hole;
    if (!old || !present || h >= old->holes.size()) return result;
    if (const auto same = std::find(present->holes.begin(), present->holes.end(), old->holes[h]); same != present->holes.end()) {
        result.hole = static_cast<std::size_t>(same - present->holes.begin());
    } else if (same_variant && present->holes.size() == old->holes.size()) {
        std::vector<Outline> otherwise = present->holes;
        otherwise[h] = old->holes[h];
        if (otherwise == old->holes) result.hole = h;
    }
    return result;
}

bool is_there(const Section& section, const Picked& picked) {
    const std::string id = picked.id.toStdString();
    for (const auto& [kind, other] : picked.more)
        if (!is_there(section, Picked{kind, other})) return false;
    switch (picked.kind) {
        case PickedKind::nothing: return true;
        case PickedKind::piece: {
            const Piece* piece = find_piece(section, id);
            return piece && (!picked.hole || *picked.hole < piece->holes.size());
        }
        case PickedKind::membrane: return find_membrane(section, id);
        case PickedKind::space: return find_space(section, id);
        case PickedKind::level: return height_of(section, level_of(picked.id)).has_value();
        case PickedKind::stretch: return find_stretch(section, id);
        case PickedKind::dimension: return find_dimension(section, id);
        case PickedKind::note: return find_note(section, id);
        case PickedKind::underlay: return find_underlay(section, id);
        case PickedKind::hidden: return find_hidden(section, id);
        case PickedKind::element: return true;  // found in the section when it is worked out
    }
    return false;
}

}  // namespace wallfoot
