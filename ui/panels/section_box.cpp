// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/section_box.hpp"

#include <QComboBox>
#include <QGridLayout>
#include <QLabel>
#include <QLineEdit>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr CutSide sides[] = {CutSide::left, CutSide::bottom, CutSide::right, CutSide::top};

Micrometres& place_of(Rect& cut, CutSide side) {
    switch (side) {
        case CutSide::left: return cut.left;
        case CutSide::bottom: return cut.bottom;
        case CutSide::right: return cut.right;
        default: return cut.top;
    }
}

}  // namespace

SectionBox::SectionBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* grid = new QGridLayout(this);
    grid->setContentsMargins(0, 0, 0, 0);
    grid->addWidget(new QLabel(tr("Cut at, mm"), this), 0, 1);
    grid->addWidget(new QLabel(tr("Beyond it, mm"), this), 0, 2);
    int at = 1;
    for (const CutSide side : sides) {
        auto* label = new QLabel(name_of(side), this);
        Row& row = rows_[side];
        row.cut = new QLineEdit(this);
        row.cut->setAccessibleName(tr("Cut at the %1, in mm").arg(name_of(side)));
        row.beyond = new QComboBox(this);
        row.beyond->setEditable(true);
        row.beyond->setInsertPolicy(QComboBox::NoInsert);
        row.beyond->setCompleter(nullptr);
        row.beyond->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        row.beyond->addItems({tr("nothing"), tr("by the standard")});
        row.beyond->setMinimumContentsLength(13);
        row.beyond->setAccessibleName(tr("What lies beyond the cut at the %1").arg(name_of(side)));
        row.beyond->setToolTip(tr("How far the section carries on beyond this side: nothing (no heat crosses the cut), the distance of the standard, or a distance in mm."));
        label->setBuddy(row.cut);
        grid->addWidget(label, at, 0);
        grid->addWidget(row.cut, at, 1);
        grid->addWidget(row.beyond, at++, 2);
        connect(row.cut, &QLineEdit::editingFinished, this, [this, side] { cut_typed(side); });
        connect(row.beyond, &QComboBox::activated, this, [this, side] { beyond_typed(side); });
        connect(row.beyond->lineEdit(), &QLineEdit::editingFinished, this, [this, side] { beyond_typed(side); });
    }
    grid->setColumnStretch(1, 2);
    grid->setColumnStretch(2, 3);
}

void SectionBox::show_section(const Section& section) {
    filling_ = true;
    Rect cut = section.cut;
    for (const auto& [side, row] : rows_) {
        show_text(*row.cut, words(number_text(to_mm(place_of(cut, side)))));
        if (row.beyond->lineEdit()->hasFocus() && row.beyond->lineEdit()->isModified()) continue;
        const auto beyond = section.beyond.find(side);
        if (beyond == section.beyond.end()) row.beyond->setCurrentIndex(0);
        else if (beyond->second.automatic) row.beyond->setCurrentIndex(1);
        else row.beyond->setEditText(words(number_text(to_mm(beyond->second.distance))));
    }
    filling_ = false;
}

void SectionBox::cut_typed(CutSide side) {
    if (filling_ || !document_.has_study()) return;
    const auto place = length_in(rows_.at(side).cut->text());
    if (!place) return;
    Rect cut = document_.section().cut;
    place_of(cut, side) = *place;
    act(tr("Change cut"), [&](const Section& s) { return set_cut(s, cut); });
}

void SectionBox::beyond_typed(CutSide side) {
    if (filling_ || !document_.has_study()) return;
    const QComboBox& field = *rows_.at(side).beyond;
    std::optional<Beyond> beyond;
    if (field.currentText() == field.itemText(1)) {
        beyond = Beyond{true, 0};
    } else if (field.currentText() != field.itemText(0) && !field.currentText().trimmed().isEmpty()) {
        const auto distance = length_in(field.currentText());
        if (!distance) return;
        beyond = Beyond{false, *distance};
    }
    act(tr("Change what lies beyond"), [&](const Section& s) { return set_beyond(s, side, beyond); });
}

}  // namespace wallfoot
