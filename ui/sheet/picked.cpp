// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/picked.hpp"

#include "core/study/edits.hpp"
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

bool is_there(const Section& section, const Picked& picked) {
    const std::string id = picked.id.toStdString();
    switch (picked.kind) {
        case PickedKind::nothing: return true;
        case PickedKind::piece: return find_piece(section, id);
        case PickedKind::membrane: return find_membrane(section, id);
        case PickedKind::space: return find_space(section, id);
        case PickedKind::level: return height_of(section, level_of(picked.id)).has_value();
        case PickedKind::underlay: return find_underlay(section, id);
    }
    return false;
}

}  // namespace wallfoot
