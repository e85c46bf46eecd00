// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/element_box.hpp"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "core/study/edits_elements.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

ElementBox::ElementBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    U_ = new QLabel(this);
    U_->setWordWrap(true);
    U_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    column->addWidget(U_);
    auto* grid = new QGridLayout;
    grid->addWidget(new QLabel(tr("Measured to"), this), 0, 0);
    grid->addWidget(new QLabel(tr("x, mm"), this), 0, 1);
    grid->addWidget(new QLabel(tr("y, mm"), this), 0, 2);
    const QString names[] = {tr("&Inside"), tr("O&utside")};
    for (const LengthSystem lengths : {LengthSystem::internal, LengthSystem::external}) {
        const auto at = static_cast<int>(lengths);
        Row& row = rows_[static_cast<std::size_t>(lengths)];
        auto* label = new QLabel(names[at], this);
        row.x = new QLineEdit(this);
        row.y = new QLineEdit(this);
        row.pick = new QPushButton(lengths == LengthSystem::internal ? tr("&Point…") : tr("P&oint…"), this);
        row.length = new QLabel(this);
        label->setBuddy(row.x);
        const QString plain = QString(names[at]).remove(QLatin1Char('&'));
        row.x->setAccessibleName(tr("%1, x in mm").arg(plain));
        row.y->setAccessibleName(tr("%1, y in mm").arg(plain));
        row.pick->setToolTip(tr("Click the place on the sheet."));
        for (QLineEdit* field : {row.x, row.y}) {
            field->setPlaceholderText(tr("none"));
            connect(field, &QLineEdit::editingFinished, this, [this, lengths] { typed(lengths); });
        }
        connect(row.pick, &QPushButton::clicked, this, [this, lengths] { emit place_wanted(words(id_), cut_, lengths); });
        grid->addWidget(label, 1 + 2 * at, 0);
        grid->addWidget(row.x, 1 + 2 * at, 1);
        grid->addWidget(row.y, 1 + 2 * at, 2);
        grid->addWidget(row.pick, 1 + 2 * at, 3);
        grid->addWidget(row.length, 2 + 2 * at, 1, 1, 3);
    }
    column->addLayout(grid);
    note_ = new QLabel(this);
    note_->setWordWrap(true);
    column->addWidget(note_);
    auto* buttons = new QHBoxLayout;
    by_drawing_ = new QPushButton(tr("By the &drawing"), this);
    by_drawing_->setToolTip(tr("Measure to where the drawing has it again, in both lengths."));
    corrections_ = new QPushButton(tr("Fi&xings, air gaps…"), this);
    corrections_->setToolTip(tr("State ties, screws and gaps that the U of this element is corrected for; psi stays as it is."));
    for (QPushButton* button : {by_drawing_, corrections_, rows_[0].pick, rows_[1].pick}) button->setAutoDefault(false);
    buttons->addWidget(by_drawing_);
    buttons->addWidget(corrections_);
    buttons->addStretch();
    column->addLayout(buttons);
    connect(by_drawing_, &QPushButton::clicked, this, [this] {
        act(tr("Measure by the drawing"), [&](const Section& s) {
            return set_element_reference(set_element_reference(s, id_, cut_, LengthSystem::internal, {}), id_, cut_, LengthSystem::external, {});
        });
    });
    connect(corrections_, &QPushButton::clicked, this, [this] { emit corrections_wanted(words(id_)); });
}

void ElementBox::show_element(const std::string& id, std::shared_ptr<const Findings> findings, bool current) {
    filling_ = true;
    const std::string& variant = document_.variant().id;
    const bool another = id != id_ || variant != variant_;
    id_ = id;
    variant_ = variant;
    const Element* element = nullptr;
    if (findings)
        for (const Element& of : findings->elements)
            if (of.id == id && !element) element = &of;
    if (element) cut_ = element->side;
    else
        for (const ElementOverride& of : document_.section().elements)
            if (of.id == id) cut_ = of.cut;
    const ElementOverride* stated = find_element(document_.section(), id, cut_);
    // While findings are on their way, or the drawing is not settled, what was shown stays.
    const bool settled = findings && !findings->has_fault(), missing = !element && current && settled, kept = !element && !missing && !another;
    if (element) {
        QString text = element->U ? tr("<b>%1</b>: U %2").arg(words(id).toHtmlEscaped(), value_words(*element->U, "W/(m²·K)")) : element->ground ? tr("<b>%1</b>: floor on soil; a second section takes it off").arg(words(id).toHtmlEscaped())
                                                                                                                   : tr("<b>%1</b>: no U").arg(words(id).toHtmlEscaped());
        if (element->corrected_U) text += tr("; %1 with fixings and air gaps").arg(value_words(*element->corrected_U, "W/(m²·K)"));
        U_->setText(text);
    } else if (!missing && (another || current)) {
        U_->setText(current ? tr("Settle the drawing first (F4): until then it is not known whether \"%1\" is met at the cuts.").arg(words(id).toHtmlEscaped())
                            : tr("\"%1\" is shown once the drawing is settled and worked out.").arg(words(id).toHtmlEscaped()));
    } else if (missing) {
        U_->setText(tr("No element \"%1\" is met at the cuts now.").arg(words(id).toHtmlEscaped()));
    }
    for (const LengthSystem lengths : {LengthSystem::internal, LengthSystem::external}) {
        Row& row = rows_[static_cast<std::size_t>(lengths)];
        const bool internal = lengths == LengthSystem::internal;
        const auto own = stated ? (internal ? stated->internal : stated->external) : std::nullopt;
        if (kept && !own) continue;
        std::optional<Point> at = own;
        if (!at && element) at = internal ? element->internal_reference : element->external_reference;
        row.shown = at;
        show_text(*row.x, at ? words(number_text(to_mm(at->x))) : QString());
        show_text(*row.y, at ? words(number_text(to_mm(at->y))) : QString());
        const auto length = element ? (internal ? element->internal_length : element->external_length) : std::nullopt;
        if (!element) row.length->setText(missing ? tr("no length") : QString());
        else row.length->setText((length ? tr("l = %1 m").arg(words(number_text(to_m(*length)))) : tr("no length")) + (own ? tr(", as stated") : length ? tr(", by the drawing") : QString()));
        for (QWidget* field : {static_cast<QWidget*>(row.x), static_cast<QWidget*>(row.y), static_cast<QWidget*>(row.pick)}) field->setEnabled(element || stated);
    }
    by_drawing_->setEnabled(stated && (stated->internal || stated->external));
    corrections_->setEnabled((element && element->U) || (stated && stated->corrections));
    note_->setText(element && !element->reason.empty() ? sentence(Message{Severity::note, element->reason, {{"element", id}}, {}, {}}) : QString());
    note_->setVisible(!note_->text().isEmpty());
    filling_ = false;
}

void ElementBox::typed(LengthSystem lengths) {
    if (filling_ || !document_.has_study()) return;
    Row& row = rows_[static_cast<std::size_t>(lengths)];
    const QString x = row.x->text().trimmed(), y = row.y->text().trimmed();
    if (x.isEmpty() != y.isEmpty()) return;  // the other one is still to come
    std::optional<Point> at;
    if (!x.isEmpty()) {
        const auto to_x = length_in(x);
        if (!to_x) return;
        const auto to_y = length_in(y);
        if (!to_y) return;
        at = Point{*to_x, *to_y};
    }
    if (at == row.shown) return;
    const ElementOverride* stated = find_element(document_.section(), id_, cut_);
    if (!at && !(stated && (lengths == LengthSystem::internal ? stated->internal : stated->external))) {
        // By the drawing already: emptied fields show its place again.
        row.x->setText(words(number_text(to_mm(row.shown->x))));
        row.y->setText(words(number_text(to_mm(row.shown->y))));
        return;
    }
    act(tr("Move the place that \"%1\" is measured to").arg(words(id_)), [&](const Section& s) { return set_element_reference(s, id_, cut_, lengths, at); });
}

}  // namespace wallfoot
