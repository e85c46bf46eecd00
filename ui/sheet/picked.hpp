// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QMetaType>
#include <QString>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/study/edits.hpp"

namespace wallfoot {

enum class PickedKind { nothing, piece, membrane, space, level, stretch, dimension, note, underlay, hidden, element };

/// What is picked on the sheet or in the contents.
struct Picked {
    PickedKind kind = PickedKind::nothing;
    QString id;                 ///< of a level: its LevelName as text
    std::optional<Point> mark = {};  ///< of a space: the mark that was taken hold of
    std::vector<std::pair<PickedKind, QString>> more = {};  ///< pieces, membranes, dimensions and texts picked with it
    std::optional<std::size_t> hole = {};  ///< of a piece: that hole of it alone
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

/// All that is picked, as the edits of several things take it; nothing for a hole, which is no thing of its own.
Taken taken_of(const Picked& picked);
/// The other way round; the first piece, else membrane, dimension or text is the one that leads.
Picked picked_of(const Taken& taken);
/// With everything of the groups that what is picked belongs to; a hole stays alone.
Picked with_groups(const Section& section, const Picked& picked);
/// Adds to what is picked, or takes from it what is picked already. A hole goes with nothing else: its piece is meant.
Picked toggled(const Picked& picked, const Picked& one);

/// What is picked of `before`, when `after` stands in its place: a hole is found again by its outline, or as the only one of
/// its piece that changed (`same_variant` only); else its piece is picked.
Picked carried(const Section& before, const Section& after, const Picked& picked, bool same_variant);

/// Whether what is picked is still in the section.
bool is_there(const Section& section, const Picked& picked);

}  // namespace wallfoot
Q_DECLARE_METATYPE(wallfoot::Picked)
