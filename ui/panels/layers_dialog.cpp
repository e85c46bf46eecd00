// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/layers_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "core/text/number_entry.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

LayersDialog::LayersDialog(const Study& study, const std::vector<Layer>& begin, QWidget* parent) : QDialog(parent), study_(study) {
    setWindowTitle(tr("Layers along a line"));
    auto* layout = new QVBoxLayout(this);
    auto* head = new QLabel(tr("Type the layers of a wall or floor in order, the first against the line you will draw. A layer left open stays air, as a cavity does."), this);
    head->setWordWrap(true);
    table_ = new QTableWidget(0, 2, this);
    table_->setAccessibleName(tr("Layers"));
    table_->setHorizontalHeaderLabels({tr("Thickness, mm"), tr("Material")});
    table_->horizontalHeader()->setSectionResizeMode(1, QHeaderView::Stretch);
    table_->setColumnWidth(0, fontMetrics().horizontalAdvance(QStringLiteral("  Thickness, mm    ")) + 16);
    table_->setTabKeyNavigation(false);
    auto* row = new QHBoxLayout;
    const auto button = [&](const QString& text, auto act) {
        auto* made = new QPushButton(text, this);
        made->setAutoDefault(false);
        row->addWidget(made);
        connect(made, &QPushButton::clicked, this, act);
    };
    button(tr("&Add layer"), [this] {
        add_row({});
        table_->cellWidget(table_->rowCount() - 1, 0)->setFocus();
    });
    button(tr("&Remove layer"), [this] { remove_row(); });
    button(tr("&Up"), [this] { move_row(-1); });
    button(tr("&Down"), [this] { move_row(1); });
    button(tr("Re&verse"), [this] {
        auto all = layers();
        std::reverse(all.begin(), all.end());
        set_rows(all);
    });
    row->addStretch();
    total_ = new QLabel(this);
    total_->setWordWrap(true);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    buttons_->button(QDialogButtonBox::Ok)->setText(tr("Draw the &line"));
    layout->addWidget(head);
    layout->addWidget(table_, 1);
    layout->addLayout(row);
    layout->addWidget(total_);
    layout->addWidget(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    set_rows(begin);
    if (begin.empty()) add_row({});
    table_->cellWidget(0, 0)->setFocus();
    resize(fontMetrics().averageCharWidth() * 70, fontMetrics().height() * 24);
}

void LayersDialog::set_rows(const std::vector<Layer>& layers) {
    table_->setRowCount(0);
    for (const Layer& layer : layers) add_row(layer);
    refresh();
}

void LayersDialog::add_row(const Layer& layer) {
    const int row = table_->rowCount();
    table_->insertRow(row);
    auto* thickness = new QLineEdit(table_);
    thickness->setFrame(false);
    thickness->setAccessibleName(tr("Thickness of layer %1, mm").arg(row + 1));
    thickness->installEventFilter(this);
    if (layer.thickness > 0) thickness->setText(words(number_text(to_mm(layer.thickness))));
    auto* material = new QComboBox(table_);
    material->setAccessibleName(tr("Material of layer %1").arg(row + 1));
    fill_materials(*material, study_);
    material->addItem(tr("left open (air)"), QString());
    const int at = material->findData(words(layer.material));
    material->setCurrentIndex(layer.thickness > 0 && at >= 0 ? at : 0);
    table_->setCellWidget(row, 0, thickness);
    table_->setCellWidget(row, 1, material);
    connect(thickness, &QLineEdit::textChanged, this, &LayersDialog::refresh);
    connect(material, &QComboBox::currentIndexChanged, this, &LayersDialog::refresh);
    refresh();
}

/// The row whose field has the focus; the table's own current one else.
static int row_in_hand(const QTableWidget& table) {
    for (int row = 0; row < table.rowCount(); ++row)
        for (int column = 0; column < 2; ++column)
            if (table.cellWidget(row, column)->hasFocus()) return row;
    return table.currentRow();
}

void LayersDialog::remove_row() {
    if (const int row = row_in_hand(*table_); row >= 0) table_->removeRow(row);
    refresh();
}

void LayersDialog::move_row(int by) {
    const int row = row_in_hand(*table_), to = row + by;
    auto all = layers();
    // A row that says nothing yet has no place in the order.
    if (row < 0 || to < 0 || to >= static_cast<int>(all.size()) || row >= static_cast<int>(all.size())) return;
    std::swap(all[static_cast<std::size_t>(row)], all[static_cast<std::size_t>(to)]);
    set_rows(all);
    table_->setCurrentCell(to, 0);
}

std::optional<Layer> LayersDialog::layer_in(int row, QString* problem) const {
    const auto* field = qobject_cast<QLineEdit*>(table_->cellWidget(row, 0));
    const auto* material = qobject_cast<QComboBox*>(table_->cellWidget(row, 1));
    if (field->text().trimmed().isEmpty()) return {};
    const Entry entry = parse_length(field->text().trimmed().toStdString());
    if (!entry) {
        if (problem) *problem = tr("Layer %1: %2").arg(row + 1).arg(sentence(entry.problem));
        return {};
    }
    Layer layer;
    layer.thickness = from_mm(*entry.value);
    layer.material = material->currentData().toString().toStdString();
    if (const Material* found = study_.find_material(layer.material)) layer.name = found->name;
    if (layer.thickness <= 0 && problem) *problem = tr("Layer %1 needs a thickness above 0 mm.").arg(row + 1);
    return layer;
}

std::vector<Layer> LayersDialog::layers() const {
    std::vector<Layer> result;
    for (int row = 0; row < table_->rowCount(); ++row)
        if (const auto layer = layer_in(row, nullptr)) result.push_back(*layer);
    return result;
}

void LayersDialog::refresh() {
    QString problem;
    Micrometres total = 0;
    int count = 0;
    for (int row = 0; row < table_->rowCount(); ++row) {
        if (!table_->cellWidget(row, 1)) return;  // the row is just being made
        if (const auto layer = layer_in(row, &problem)) {
            total += layer->thickness;
            ++count;
        }
    }
    total_->setText(!problem.isEmpty() ? problem : count == 0 ? tr("No layer yet: type a thickness; Enter goes on to the next.") : tr("Layers: %1, together %2.").arg(count).arg(length_words(to_mm(total))));
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty() && count > 0);
}

bool LayersDialog::eventFilter(QObject* object, QEvent* event) {
    if (event->type() != QEvent::KeyPress) return QDialog::eventFilter(object, event);
    const int key = static_cast<QKeyEvent*>(event)->key();
    if (key != Qt::Key_Return && key != Qt::Key_Enter) return QDialog::eventFilter(object, event);
    // Enter goes on to the next layer, and makes one after the last; on a row without a thickness the list is done.
    int row = 0;
    while (row < table_->rowCount() && table_->cellWidget(row, 0) != object) ++row;
    if (row == table_->rowCount() || qobject_cast<QLineEdit*>(object)->text().trimmed().isEmpty()) {
        buttons_->button(QDialogButtonBox::Ok)->setFocus();
        return true;
    }
    if (row + 1 == table_->rowCount()) add_row({});
    table_->cellWidget(row + 1, 0)->setFocus();
    return true;
}

}  // namespace wallfoot
