// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QMetaType>
#include <QString>
#include <optional>
#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

enum class PickedKind { nothing, piece, membrane, space, level, underlay };

/// What is picked on the sheet or in the contents.
struct Picked {
    PickedKind kind = PickedKind::nothing;
    QString id;                 ///< of a level: its LevelName as text
    std::optional<Point> mark = {};  ///< of a space: the mark that was taken hold of
    bool operator==(const Picked&) const = default;
};

/// One of the heights of a level: for both sides, or of one.
struct LevelName {
    LevelKind kind = LevelKind::floor;
    std::optional<Side> side;
    bool operator==(const LevelName&) const = default;
};
QString text_of(const LevelName& name);
LevelName level_of(const QString& text);
/// What is given for it; nothing when the level is given otherwise or not at all.
std::optional<Micrometres> height_of(const Section& section, const LevelName& name);

/// Whether what is picked is still in the section.
bool is_there(const Section& section, const Picked& picked);

}  // namespace wallfoot
Q_DECLARE_METATYPE(wallfoot::Picked)
