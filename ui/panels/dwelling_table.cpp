// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/dwelling_table.hpp"

#include <QApplication>
#include <QHeaderView>
#include <QStyle>

#include "core/text/number_entry.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr int index_role = Qt::UserRole, kind_role = Qt::UserRole + 1;

/// Puts a text into a cell, made when it is not there; what is shown stays the same item while it is edited.
QTableWidgetItem& cell_of(QTableWidget& table, int row, int column, const QString& text, const QString& tip, bool editable) {
    QTableWidgetItem* item = table.item(row, column);
    if (!item) table.setItem(row, column, item = new QTableWidgetItem);
    item->setText(text);
    item->setToolTip(tip);
    item->setFlags(editable ? item->flags() | Qt::ItemIsEditable : item->flags() & ~Qt::ItemIsEditable);
    item->setIcon({});
    QFont font = table.font();
    item->setFont(font);
    return *item;
}

void mark_standing(QTableWidgetItem& item, Standing standing) {
    if (standing != Standing::open && standing != Standing::out_of_date) return;
    QFont font = item.font();
    font.setBold(true);
    item.setFont(font);
    item.setIcon(QApplication::style()->standardIcon(standing == Standing::open ? QStyle::SP_MessageBoxQuestion : QStyle::SP_MessageBoxWarning));
}

QString tip_of(const RowResult& row, const Junction& junction) {
    QStringList said;
    if (!row.why.code.empty()) said << sentence(row.why);
    for (const Message& note : row.notes) said << sentence(note);
    if (said.isEmpty()) said << words(dwelling_source_text(junction));
    return said.join(QLatin1Char('\n'));
}

}  // namespace

QTableWidget* make_dwelling_table(QWidget* parent) {
    auto* table = new QTableWidget(0, dwelling_columns, parent);
    table->setAccessibleName(QObject::tr("Junctions of the dwelling"));
    table->setHorizontalHeaderLabels({QObject::tr("Junction"), QObject::tr("Where"), QObject::tr("Length, m"), QObject::tr("psi, W/(m·K)"), QObject::tr("W/K"), QObject::tr("Standing"), QObject::tr("From")});
    table->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table->horizontalHeader()->setSectionResizeMode(dwelling_from, QHeaderView::Stretch);
    table->horizontalHeader()->moveSection(dwelling_where, dwelling_standing);  // numbers and standing first, where room is short
    table->verticalHeader()->hide();
    table->setTabKeyNavigation(false);
    table->setWordWrap(false);
    table->setSelectionBehavior(QAbstractItemView::SelectRows);
    table->setSelectionMode(QAbstractItemView::SingleSelection);
    table->setEditTriggers(QAbstractItemView::DoubleClicked | QAbstractItemView::EditKeyPressed | QAbstractItemView::AnyKeyPressed);
    return table;
}

void fill_dwelling_table(QTableWidget& table, const Dwelling& dwelling, const Balance& sums) {
    const QSignalBlocker quiet(table);
    const auto kinds = junction_kinds();
    const auto count = static_cast<int>(sums.rows.size());
    table.setRowCount(count + static_cast<int>(sums.open_kinds.size()));
    for (int r = 0; r < table.rowCount(); ++r) {
        const auto put = [&](int column, const QString& text, const QString& tip, bool editable = false) -> QTableWidgetItem& { return cell_of(table, r, column, text, tip, editable); };
        if (r >= count) {
            const std::string& kind = sums.open_kinds[static_cast<std::size_t>(r - count)];
            const QString tip = QObject::tr("A usual junction without a row yet: type its length, add a value, or say that it is not in this dwelling.");
            QTableWidgetItem& first = put(dwelling_kind, words(kind_name(kinds, kind)), tip);
            first.setData(index_role, -1);
            first.setData(kind_role, words(kind));
            put(dwelling_where, {}, tip);
            put(dwelling_length, {}, tip, true);
            for (const int column : {dwelling_value, dwelling_loss}) put(column, QObject::tr("open"), tip);
            mark_standing(put(dwelling_standing, words(standing_text(Standing::open)).toLower(), tip), Standing::open);
            put(dwelling_from, QObject::tr("no row yet"), tip);
            continue;
        }
        const Junction& junction = dwelling.junctions[static_cast<std::size_t>(r)];
        const RowResult& row = sums.rows[static_cast<std::size_t>(r)];
        const QString tip = tip_of(row, junction);
        const auto* point = std::get_if<PointValue>(&junction.value);
        QTableWidgetItem& first = put(dwelling_kind, words(kind_name(kinds, junction.kind)), tip);
        first.setData(index_role, r);
        first.setData(kind_role, words(junction.kind));
        put(dwelling_where, words(junction.name), tip, true);
        QTableWidgetItem& length = put(dwelling_length, words(point ? number_text(point->count, 9) : junction.length ? number_text(*junction.length, 9) : ""), point ? QObject::tr("A count: this is a point transmittance.") : tip, true);
        length.setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        put(dwelling_value, point ? QObject::tr("chi %1 W/K").arg(words(dwelling_value_text(row))) : words(dwelling_value_text(row)), tip);
        put(dwelling_loss, words(dwelling_loss_text(row)), tip).setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        mark_standing(put(dwelling_standing, words(standing_text(row.standing)).toLower(), tip), row.standing);
        put(dwelling_from, words(dwelling_source_text(junction)), tip);
    }
}

std::optional<std::size_t> dwelling_row(const QTableWidget& table, int row) {
    const QTableWidgetItem* item = row < 0 ? nullptr : table.item(row, dwelling_kind);
    if (!item || item->data(index_role).toInt() < 0) return std::nullopt;
    return static_cast<std::size_t>(item->data(index_role).toInt());
}

std::string dwelling_row_kind(const QTableWidget& table, int row) {
    const QTableWidgetItem* item = row < 0 ? nullptr : table.item(row, dwelling_kind);
    return item ? item->data(kind_role).toString().toStdString() : std::string();
}

std::optional<Dwelling> with_cell(const Dwelling& dwelling, const QTableWidget& table, int row, int column, const QString& text) {
    Dwelling next = dwelling;
    const auto index = dwelling_row(table, row);
    const bool empty = text.trimmed().isEmpty();
    if (column == dwelling_where) {
        if (index) next.junctions.at(*index).name = text.trimmed().toStdString();
        return next;
    }
    const Entry entry = parse_number(text.toStdString());
    if (!entry && !empty) return std::nullopt;
    if (!index) {
        if (!empty) next.junctions.push_back(Junction{new_junction_id(next), dwelling_row_kind(table, row), "", entry.value, {}, {}, {}});
        return next;
    }
    Junction& junction = next.junctions.at(*index);
    if (auto* point = std::get_if<PointValue>(&junction.value)) {
        if (empty) return std::nullopt;
        point->count = *entry.value;
    } else {
        junction.length = entry.value;
    }
    return next;
}

}  // namespace wallfoot
