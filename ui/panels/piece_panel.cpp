// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/piece_panel.hpp"

#include <QComboBox>
#include <QFormLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QSignalBlocker>
#include <QTableWidget>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/paint/labels.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr Condition conditions[] = {Condition::dry, Condition::protected_, Condition::exposed, Condition::below_dpc, Condition::below_ground, Condition::saturated};

void shrinkable(QComboBox* list) {
    list->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    list->setMinimumContentsLength(12);
}

}  // namespace

void fill_materials(QComboBox& list, const Study& study) {
    const QSignalBlocker quiet(&list);
    const QVariant before = list.currentData();
    list.clear();
    for (const auto& material : study.materials)
        if (material.kind != MaterialKind::membrane) list.addItem(words(material.name.empty() ? material.id : material.name), words(material.id));
    list.setCurrentIndex(std::max(0, list.findData(before)));
}

PiecePanel::PiecePanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(6, 6, 6, 6);
    hint_ = new QLabel(tr("Pick a piece on the sheet or in the contents to see and change what it is."), this);
    hint_->setWordWrap(true);
    layout->addWidget(hint_);

    piece_box_ = new QWidget(this);
    auto* form = new QFormLayout(piece_box_);
    form->setContentsMargins(0, 0, 0, 0);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    name_ = new QLineEdit(piece_box_);
    material_ = new QComboBox(piece_box_);
    moisture_ = new QComboBox(piece_box_);
    shrinkable(material_);
    shrinkable(moisture_);
    conductivity_ = new QLabel(piece_box_);
    conductivity_->setWordWrap(true);
    conductivity_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    corners_ = new QTableWidget(0, 2, piece_box_);
    corners_->setHorizontalHeaderLabels({tr("x in mm"), tr("y in mm")});
    corners_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    corners_->setAccessibleName(tr("Corners of the piece"));
    corners_->setToolTip(tr("Type a new place; corners of neighbours on the same point go along."));
    corners_->setTabKeyNavigation(false);
    const int row = corners_->fontMetrics().height() + 6;
    corners_->verticalHeader()->setDefaultSectionSize(row);
    corners_->setMinimumHeight(5 * row + 6);  // four corners and the head
    form->addRow(tr("&Name"), name_);
    form->addRow(tr("Ma&terial"), material_);
    form->addRow(tr("M&oisture"), moisture_);
    form->addRow(tr("In use"), conductivity_);
    form->addRow(corners_);
    layout->addWidget(piece_box_, 1);
    for (QWidget* field : {static_cast<QWidget*>(name_), static_cast<QWidget*>(material_), static_cast<QWidget*>(moisture_)})
        field->setAccessibleName(static_cast<QLabel*>(form->labelForField(field))->text().remove(QLatin1Char('&')));

    space_box_ = new QWidget(this);
    auto* space_form = new QFormLayout(space_box_);
    space_form->setContentsMargins(0, 0, 0, 0);
    space_kind_ = new QLabel(space_box_);
    temperature_ = new QLineEdit(space_box_);
    temperature_->setAccessibleName(tr("Temperature in °C"));
    space_form->addRow(tr("Space"), space_kind_);
    space_form->addRow(tr("T&emperature in °C"), temperature_);
    layout->addWidget(space_box_);
    layout->addStretch(0);

    moisture_->addItem(tr("auto (from the place)"));
    for (const Condition condition : conditions) moisture_->addItem(name_of(condition), static_cast<int>(condition));

    connect(name_, &QLineEdit::editingFinished, this, [this] {
        const std::string text = name_->text().trimmed().toStdString();
        if (!filling_ && picked_.kind == PickedKind::piece && document_.has_study())
            report(document_.edit(tr("Rename piece"), [&](const Section& s) { return rename_piece(s, picked_.id.toStdString(), text); }));
    });
    connect(material_, &QComboBox::currentIndexChanged, this, [this] {
        if (filling_ || material_->currentIndex() < 0) return;
        const std::string material = material_->currentData().toString().toStdString();
        report(document_.edit(tr("Change material"), [&](const Section& s) { return set_material(s, picked_.id.toStdString(), material); }));
    });
    connect(moisture_, &QComboBox::currentIndexChanged, this, [this](int index) {
        if (filling_ || index < 0) return;
        const std::optional<Condition> moisture = index == 0 ? std::nullopt : std::optional(conditions[index - 1]);
        report(document_.edit(tr("Change moisture condition"), [&](const Section& s) { return set_moisture(s, picked_.id.toStdString(), moisture); }));
    });
    connect(corners_, &QTableWidget::cellChanged, this, &PiecePanel::corner_typed);
    connect(temperature_, &QLineEdit::editingFinished, this, &PiecePanel::temperature_typed);
    show_picked({}, nullptr, false);
}

void PiecePanel::report(const std::vector<Message>& refusals) {
    emit told(refusals.empty() ? QString() : sentence(refusals.front()));
    if (!refusals.empty()) show_picked(picked_, findings_, current_);
}

void PiecePanel::show_picked(const Picked& picked, std::shared_ptr<const Findings> findings, bool current) {
    picked_ = picked;
    findings_ = std::move(findings);
    current_ = current;
    const Piece* piece = nullptr;
    const Space* space = nullptr;
    if (document_.has_study()) {
        const std::string id = picked.id.toStdString();
        if (picked.kind == PickedKind::piece) piece = find_piece(document_.section(), id);
        if (picked.kind == PickedKind::space)
            for (const auto& candidate : document_.section().spaces)
                if (candidate.id == id) space = &candidate;
    }
    hint_->setVisible(!piece && !space);
    piece_box_->setVisible(piece);
    space_box_->setVisible(space);
    filling_ = true;
    if (piece) fill_piece(*piece);
    if (space) fill_space(*space);
    filling_ = false;
}

void PiecePanel::fill_piece(const Piece& piece) {
    if (!name_->hasFocus() || name_->text() != words(piece.name)) name_->setText(words(piece.name));
    const bool solid = piece.fill == Fill::material;
    material_->setEnabled(solid);
    moisture_->setEnabled(solid);
    fill_materials(*material_, *document_.study());
    material_->setCurrentIndex(solid ? material_->findData(words(piece.filled_with)) : -1);
    moisture_->setCurrentIndex(!solid ? -1 : piece.moisture ? 1 + static_cast<int>(std::find(std::begin(conditions), std::end(conditions), *piece.moisture) - conditions) : 0);
    show_conductivity(piece);
    fill_corners(piece);
}

void PiecePanel::show_conductivity(const Piece& piece) {
    QStringList lines;
    if (piece.fill == Fill::space) lines << tr("air of the space %1").arg(words(piece.filled_with));
    if (piece.fill == Fill::cutout) lines << tr("cutout: nothing flows in it");
    const auto& pieces = document_.section().pieces;
    const int index = static_cast<int>(&piece - pieces.data());
    if (findings_ && current_ && piece.fill == Fill::material)
        for (std::size_t f = 0; f < findings_->conductivity.size() && f < findings_->arrangement.faces.size(); ++f) {
            const Face& face = findings_->arrangement.faces[f];
            if (face.kind != FaceKind::solid || face.piece != index) continue;
            const FaceConductivity& used = findings_->conductivity[f];
            QString line = value_words(used.across, "W/(m·K)");
            if (used.up != used.across) line += tr(" across, %1 up").arg(value_words(used.up, "W/(m·K)"));
            line += tr(", %1").arg(name_of(used.used));
            if (used.undeclared) line += tr(" (%1 is not declared)").arg(name_of(used.asked));
            if (!lines.contains(line)) lines << line;
        }
    conductivity_->setText(lines.isEmpty() ? QStringLiteral("–") : lines.join(QLatin1Char('\n')));
}

void PiecePanel::fill_corners(const Piece& piece) {
    const QSignalBlocker quiet(corners_);
    corners_->setRowCount(static_cast<int>(piece.outline.size()));
    for (int row = 0; row < corners_->rowCount(); ++row) {
        const Point p = piece.outline[static_cast<std::size_t>(row)];
        for (int column = 0; column < 2; ++column) {
            auto* item = corners_->item(row, column);
            if (!item) corners_->setItem(row, column, item = new QTableWidgetItem);
            item->setText(words(number_text(to_mm(column == 0 ? p.x : p.y))));
            item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
        }
    }
}

void PiecePanel::corner_typed(int row, int column) {
    const Piece* piece = picked_.kind == PickedKind::piece ? find_piece(document_.section(), picked_.id.toStdString()) : nullptr;
    if (!piece || row >= static_cast<int>(piece->outline.size())) return;
    const Entry entry = parse_length(corners_->item(row, column)->text().toStdString());
    if (!entry) {
        report({Message{Severity::fault, entry.problem, {}, {}, {}}});
        return;
    }
    const Point from = piece->outline[static_cast<std::size_t>(row)];
    Point to = from;
    (column == 0 ? to.x : to.y) = from_mm(*entry.value);
    report(document_.edit(tr("Move corner"), [&](const Section& s) { return move_corner(s, from, to); }));
}

void PiecePanel::fill_space(const Space& space) {
    space_kind_->setText(space_name(document_.section(), space));
    temperature_->setText(space.temperature ? words(number_text(*space.temperature)) : QString());
    QString from_convention;
    try {
        Space without = space;
        without.temperature.reset();
        from_convention = tr("%1 (convention)").arg(words(number_text(space_temperature(*document_.study(), without))));
    } catch (const InputFault&) {
    }
    temperature_->setPlaceholderText(from_convention);
}

void PiecePanel::temperature_typed() {
    if (filling_ || picked_.kind != PickedKind::space) return;
    const std::string text = temperature_->text().trimmed().toStdString();
    std::optional<double> value;
    if (!text.empty()) {
        const Entry entry = parse_number(text);
        if (!entry) {
            report({Message{Severity::fault, entry.problem, {}, {}, {}}});
            return;
        }
        value = entry.value;
    }
    report(document_.edit(tr("Change temperature"), [&](const Section& s) { return set_temperature(s, picked_.id.toStdString(), value); }));
}

}  // namespace wallfoot
