// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>
#include <vector>

namespace wallfoot {

/// One thing the user can ask for. Menus, tool row, shortcuts and the list of keys are all made from the one table.
struct Command {
    const char* id;
    const char* menu;    ///< menu it stands in
    const char* text;    ///< as in the menu, with its access key
    const char* keys;    ///< portable key names separated by blanks, or ""
    const char* tip;     ///< one sentence
    /// `key_on_sheet`: in its menu, and its key is heard while the sheet has the focus; arrows belong to lists and fields elsewhere.
    enum Place : int { menu_only = 0, in_tool_row = 1, key_on_sheet = 2 };
    int place = menu_only;
    const char* group = "";  ///< commands of one group exclude each other (and can be checked)
    bool checkable = false;
};

/// All commands in the order of the menus.
const std::vector<Command>& commands();
/// Command of an id; throws std::out_of_range.
const Command& command(const QString& id);
/// Text, tip or menu name in the user's language.
QString translated(const char* text);

}  // namespace wallfoot
