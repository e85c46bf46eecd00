// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>
#include <vector>

#include "core/text/message.hpp"
#include "solver/findings/findings.hpp"
#include "ui/sheet/picked.hpp"

namespace wallfoot {

// How the window says values and names; sentences of the trade come from the catalogue.

QString words(const std::string& utf8);
QString sentence(const Message& message);
/// Of a code without arguments.
QString sentence(const std::string& code);
/// The first one, or nothing.
QString sentence(const std::vector<Message>& messages);
/// Shown name of a piece: its name, else its id.
QString name_of(const Piece& piece);
QString name_of(Condition condition);
QString name_of(MembraneKind kind);
QString name_of(SpaceKind kind);
QString name_of(CutSide side);
QString name_of(LevelKind kind);
QString name_of(const LevelName& level);
QString name_of(MaterialKind kind);
QString name_of(Basis basis);
/// In the order in which they are offered.
const std::vector<MaterialKind>& material_kinds();
const std::vector<Basis>& all_bases();
QString space_label(const Section& section, int space);
/// "12.5 mm"; "0.145 W/(m·K)" with the digits that matter.
QString length_words(double mm);
QString value_words(double value, const char* unit, int significant = 4);
/// "psi 0.132 ± 0.0005 W/(m·K)" parts.
QString bracket_words(const Bracketed& value, const char* unit);
/// One number with the digits its bracket supports, for narrow places.
QString short_value(const Bracketed& value);

/// A derivation as lines: what it is of, formula, quantities with unit and source, notes.
QString derived_words(const Derivation& derivation);

/// Places to settle first: faults with a place, then faults without.
std::vector<Message> faults_of(const std::vector<Message>& messages);

}  // namespace wallfoot
