// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/underlay_box.hpp"

#include <QCheckBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QSlider>

#include "core/study/names.hpp"
#include "core/study/underlays.hpp"
#include "core/study/unwritten.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

QString underlay_name(const Study& study, const Underlay& underlay) { return words(shown_name(study, underlay)); }

QString underlay_words(const Study& study, const Underlay& underlay) {
    QStringList parts;
    switch (underlay.kind) {
        case UnderlayKind::picture: parts << UnderlayBox::tr("picture"); break;
        case UnderlayKind::pdf: parts << UnderlayBox::tr("page %1").arg(underlay.page); break;
        case UnderlayKind::dxf: parts << UnderlayBox::tr("lines"); break;
    }
    if (!study.attachments.contains(underlay.attachment)) parts << UnderlayBox::tr("its file is missing");
    if (underlay.not_to_scale) parts << UnderlayBox::tr("not to scale: written dimensions rule");
    if (!underlay.visible) parts << UnderlayBox::tr("hidden");
    if (!underlay.locked) parts << UnderlayBox::tr("not locked");
    return parts.join(QStringLiteral(", "));
}

QStringList unwritten_words(const Section& section) {
    QStringList lines;
    for (const UnwrittenPiece& piece : unwritten_edges(section))
        lines << UnderlayBox::tr("%1 (%2): %3").arg(words(shown_name(section.pieces[static_cast<std::size_t>(piece.piece)]))).arg(piece.edges.size()).arg(words(where_unwritten(piece)));
    return lines;
}

UnderlayBox::UnderlayBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = new QFormLayout(this);
    form->setContentsMargins(0, 0, 0, 0);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    name_ = new QLabel(this);
    name_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);  // a long name does not widen the panel
    x_ = new QLineEdit(this);
    y_ = new QLineEdit(this);
    scale_ = new QLineEdit(this);
    scale_label_ = new QLabel(this);
    scale_label_->setBuddy(scale_);
    rotation_ = new QLineEdit(this);
    opacity_ = new QSlider(Qt::Horizontal, this);
    opacity_->setRange(0, 100);
    opacity_->setTracking(false);  // one act when it is let go
    visible_ = new QCheckBox(tr("&Visible"), this);
    locked_ = new QCheckBox(tr("Loc&ked"), this);
    locked_->setToolTip(tr("A locked underlay is neither dragged nor picked on the sheet."));
    not_to_scale_ = new QCheckBox(tr("&Not to scale"), this);
    not_to_scale_->setToolTip(tr("Its paper says so: the written dimensions rule."));
    note_ = new QLabel(this);
    note_->setWordWrap(true);
    unwritten_ = new QListWidget(this);
    unwritten_->setAccessibleName(tr("Edges without a written dimension, in mm"));
    unwritten_->setWordWrap(true);
    unwritten_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    unwritten_->setSelectionMode(QAbstractItemView::NoSelection);
    unwritten_->setFixedHeight(9 * fontMetrics().height());
    form->addRow(tr("Underlay"), name_);
    add_row(*form, tr("&x of its lower left, mm"), x_);
    add_row(*form, tr("&y of its lower left, mm"), y_);
    form->addRow(scale_label_, scale_);
    add_row(*form, tr("&Turned by, degrees"), rotation_);
    add_row(*form, tr("&Strength"), opacity_);
    form->addRow(visible_);
    form->addRow(locked_);
    form->addRow(not_to_scale_);
    form->addRow(note_);
    form->addRow(unwritten_);
    for (QLineEdit* field : {x_, y_, scale_, rotation_}) connect(field, &QLineEdit::editingFinished, this, [this, field] { number_typed(field); });
    connect(opacity_, &QSlider::valueChanged, this, [this](int percent) { change(tr("Change underlay"), [&](Underlay& u) { u.opacity = percent / 100.0; }); });
    connect(visible_, &QCheckBox::toggled, this, [this](bool on) { change(on ? tr("Show underlay") : tr("Hide underlay"), [&](Underlay& u) { u.visible = on; }); });
    connect(locked_, &QCheckBox::toggled, this, [this](bool on) { change(on ? tr("Lock underlay") : tr("Unlock underlay"), [&](Underlay& u) { u.locked = on; }); });
    connect(not_to_scale_, &QCheckBox::toggled, this, [this](bool on) { change(tr("Change underlay"), [&](Underlay& u) { u.not_to_scale = on; }); });
}

void UnderlayBox::show_underlay(const Underlay& underlay) {
    filling_ = true;
    id_ = underlay.id;
    name_->setText(underlay_name(*document_.study(), underlay));
    name_->setToolTip(QStringLiteral("%1 (%2)").arg(name_->text(), underlay_words(*document_.study(), underlay)));
    show_text(*x_, words(number_text(to_mm(underlay.origin.x))));
    show_text(*y_, words(number_text(to_mm(underlay.origin.y))));
    // Of a page what its title block says: 1 point is 25.4/72 mm of paper.
    const bool page = underlay.kind == UnderlayKind::pdf;
    scale_label_->setText(page ? tr("Drawn at &1:") : underlay.kind == UnderlayKind::picture ? tr("&mm per pixel") : tr("&mm per unit"));
    scale_->setAccessibleName(scale_label_->text().remove(QLatin1Char('&')));
    show_text(*scale_, words(number_text(page ? underlay.scale * 72 / 25.4 : underlay.scale, 6)));
    show_text(*rotation_, words(number_text(underlay.rotation)));
    opacity_->setValue(static_cast<int>(std::lround(underlay.opacity * 100)));
    visible_->setChecked(underlay.visible);
    locked_->setChecked(underlay.locked);
    not_to_scale_->setChecked(underlay.not_to_scale);
    unwritten_->clear();
    if (underlay.not_to_scale) unwritten_->addItems(unwritten_words(document_.section()));
    note_->setText(tr("Type the dimensions that are written; do not take them off the picture. ") +
                   (unwritten_->count() == 0 ? tr("Every edge of a piece has one.") : tr("Edges without one, by piece, in mm:")));
    note_->setVisible(underlay.not_to_scale);
    unwritten_->setVisible(unwritten_->count() > 0);
    filling_ = false;
}

void UnderlayBox::change(const QString& text, const std::function<void(Underlay&)>& edit) {
    act(text, [&](const Section& s) {
        const Underlay* present = find_underlay(s, id_);
        Underlay changed = present ? *present : Underlay{};
        edit(changed);
        return present ? set_underlay(s, changed) : s;
    });
}

void UnderlayBox::number_typed(QLineEdit* field) {
    if (filling_ || !document_.has_study() || !field->isModified()) return;
    if (field == x_ || field == y_) {
        const auto place = length_in(field->text());
        if (place) change(tr("Move underlay"), [&](Underlay& u) { (field == x_ ? u.origin.x : u.origin.y) = *place; });
        return;
    }
    bool sound = false;
    const double number = QString(field->text()).replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&sound);
    if (!sound) return refuse("underlay-placement");
    change(field == scale_ ? tr("Scale underlay") : tr("Turn underlay"), [&](Underlay& u) {
        if (field == rotation_) u.rotation = number;
        else u.scale = u.kind == UnderlayKind::pdf ? number * 25.4 / 72 : number;
    });
}

}  // namespace wallfoot
