// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/tool_choice.hpp"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QSignalBlocker>
#include <QStackedWidget>

#include "core/study/words.hpp"
#include "ui/paint/labels.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

ToolChoice::ToolChoice(QWidget* parent) : QWidget(parent) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(12, 0, 4, 0);
    label_ = new QLabel(this);
    lists_ = new QStackedWidget(this);
    row->addWidget(label_);
    row->addWidget(lists_);
    lists_->setSizePolicy(QSizePolicy::Maximum, QSizePolicy::Fixed);
    setSizePolicy(QSizePolicy::Maximum, QSizePolicy::Fixed);
    material_ = add_list(tr("Material of new pieces"), tr("Material of the piece drawn next."));
    membrane_ = add_list(tr("Kind of new membranes"), tr("Kind of the membrane drawn next."));
    space_ = add_list(tr("Space of new marks"), tr("Space of the mark set next: one that is there, or a new one."));
    level_ = add_list(tr("Level to set"), tr("The level that is set next."));
    side_ = add_list(tr("Side of the layers"), tr("On which side of the line the layers lie, seen along the way it is drawn."));
    side_->addItems({tr("to the right of the line"), tr("to the left of the line")});
    for (const auto& [kind, word] : membrane_kind_words) membrane_->addItem(name_of(kind), static_cast<int>(kind));
    for (const LevelKind kind : {LevelKind::floor, LevelKind::ground, LevelKind::dpc})
        for (const auto& side : {std::optional<Side>(), std::optional(Side::left), std::optional(Side::right)})
            level_->addItem(name_of(LevelName{kind, side}), text_of({kind, side}));
    show_tool(Tool::pick);
}

QComboBox* ToolChoice::add_list(const QString& name, const QString& tip) {
    auto* list = new QComboBox(lists_);
    list->setAccessibleName(name);
    list->setToolTip(tip);
    list->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    list->setMinimumContentsLength(22);
    list->setMinimumWidth(fontMetrics().horizontalAdvance(QLatin1Char('M')) * 9);
    lists_->addWidget(list);
    connect(list, &QComboBox::currentIndexChanged, this, &ToolChoice::chosen);
    return list;
}

void ToolChoice::show_tool(Tool tool) {
    switch (tool) {
        case Tool::membrane:
            label_->setText(tr("Membrane:"));
            lists_->setCurrentWidget(membrane_);
            break;
        case Tool::space:
            label_->setText(tr("Mark of:"));
            lists_->setCurrentWidget(space_);
            break;
        case Tool::level:
            label_->setText(tr("Set:"));
            lists_->setCurrentWidget(level_);
            break;
        case Tool::layers:
            label_->setText(tr("Layers:"));
            lists_->setCurrentWidget(side_);
            break;
        default:
            label_->setText(tr("Material:"));
            lists_->setCurrentWidget(material_);
    }
}

void ToolChoice::show_study(const Study& study, const Section& section) {
    fill_materials(*material_, study);
    show_spaces(section);
    emit chosen();
}

void ToolChoice::show_spaces(const Section& section) {
    const QSignalBlocker quiet(space_);
    const QVariant before = space_->currentData();
    space_->clear();
    // A list of one word, the id, is a space that is there; of two, a new one of that kind.
    for (const Space& space : section.spaces) space_->addItem(space_name(section, space), QStringList{words(space.id)});
    if (space_->count() > 0) space_->insertSeparator(space_->count());
    for (const SpaceKind kind : {SpaceKind::inside, SpaceKind::outside, SpaceKind::unheated})
        space_->addItem(tr("new space: %1").arg(name_of(kind)), QStringList{QStringLiteral("new"), QString::number(static_cast<int>(kind))});
    space_->setCurrentIndex(before.isValid() ? std::max(0, space_->findData(before)) : 0);
}

void ToolChoice::set_layers(const std::vector<Layer>& layers) {
    layers_ = layers;
    emit chosen();
}

Next ToolChoice::next() const {
    Next next;
    next.material = material_->currentData().toString();
    next.membrane = static_cast<MembraneKind>(membrane_->currentData().toInt());
    const QStringList space = space_->currentData().toStringList();
    if (space.size() == 1) next.space = space[0];
    if (space.size() == 2) next.space_kind = static_cast<SpaceKind>(space[1].toInt());
    next.level = level_of(level_->currentData().toString());
    next.layers = layers_;
    next.layers_on_left = side_->currentIndex() == 1;
    return next;
}

}  // namespace wallfoot
