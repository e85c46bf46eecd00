// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QKeySequence>
#include <QList>

#include "ui/commands/commands.hpp"

namespace wallfoot {

/// The keys of a command: the user's own where they were changed, else those of the table.
QList<QKeySequence> keys_of(const Command& entry);
/// As shown in lists, "Ctrl+S"; several with "or" between them.
QString key_words(const Command& entry);
/// The other command that has a key, or null.
const Command* holder_of(const QKeySequence& key, const Command& besides);
/// Gives a command a key of the user's own (an empty one: none). The caller has made sure nobody holds it.
void set_own_key(const Command& entry, const QKeySequence& key);
/// All commands have the keys of the table again.
void forget_own_keys();

}  // namespace wallfoot
