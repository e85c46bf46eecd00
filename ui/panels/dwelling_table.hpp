// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QTableWidget>
#include <optional>

#include "core/dwelling/balance.hpp"

namespace wallfoot {

// The table of junctions: rows of the dwelling, then the kinds that are open for want of a row.

enum DwellingColumn { dwelling_kind, dwelling_where, dwelling_length, dwelling_value, dwelling_loss, dwelling_standing, dwelling_from, dwelling_columns };

QTableWidget* make_dwelling_table(QWidget* parent);
/// Fills it without telling; the marked row stays marked.
void fill_dwelling_table(QTableWidget& table, const Dwelling& dwelling, const Balance& sums);
/// Index of the junction in a row of the table; nothing for an open kind.
std::optional<std::size_t> dwelling_row(const QTableWidget& table, int row);
/// Kind of a row, also of an open one; "" for none.
std::string dwelling_row_kind(const QTableWidget& table, int row);
/// The dwelling with what was typed into a cell: a name, a length or a count; an open kind becomes a row. Nothing when the
/// text is no number.
std::optional<Dwelling> with_cell(const Dwelling& dwelling, const QTableWidget& table, int row, int column, const QString& text);

/// Values are solved while a dialog is open: what it began with may be older than what stands in the dwelling now. The newer
/// one of the same study and variant goes into what was entered.
template <class Value>
void keep_newest(Value& entered, const Value& now) {
    auto* of = std::get_if<FromStudy>(&entered);
    const auto* there = std::get_if<FromStudy>(&now);
    if (of && there && of->file == there->file && of->variant == there->variant) of->last = there->last;
}

}  // namespace wallfoot
