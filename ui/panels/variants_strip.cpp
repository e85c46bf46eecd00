// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/variants_strip.hpp"

#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QScrollBar>
#include <QToolButton>
#include <cmath>

#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

const Bracketed* headline(const Findings* findings) {
    const Psi* psi = findings ? findings->headline_psi() : nullptr;
    return psi && psi->value ? &*psi->value : nullptr;
}

/// Difference with the digits both brackets support together, always with its sign.
QString change_in_strip(const Bracketed& value, const Bracketed& first) {
    const Bracketed d = difference(value, first);
    const QString text = short_value(d);
    return d.value < 0 ? QString(text).replace(QLatin1Char('-'), QChar(0x2212)) : QLatin1Char('+') + text;
}

}  // namespace

VariantsStrip::VariantsStrip(QWidget* parent) : QScrollArea(parent) {
    setAccessibleName(tr("Variants"));
    setFrameShape(QFrame::NoFrame);
    setWidgetResizable(true);
    setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFocusPolicy(Qt::NoFocus);
    auto* inside = new QWidget(this);
    row_ = new QHBoxLayout(inside);
    row_->setContentsMargins(8, 2, 8, 2);
    row_->addWidget(new QLabel(tr("variants:"), inside));
    add_ = new QToolButton(inside);
    add_->setText(QStringLiteral("+"));
    add_->setToolTip(tr("Make a copy of the active variant."));
    add_->setAccessibleName(tr("Duplicate variant"));
    connect(add_, &QToolButton::clicked, this, &VariantsStrip::duplicate_wanted);
    row_->addWidget(add_);
    row_->addStretch(1);
    setWidget(inside);
    setFixedHeight(inside->sizeHint().height() + 4);
}

void VariantsStrip::show_variants(const Study& study, std::size_t active, const std::vector<std::shared_ptr<const Findings>>& findings) {
    while (buttons_.size() > study.variants.size()) {
        buttons_.back()->deleteLater();
        buttons_.back()->hide();
        buttons_.pop_back();
    }
    while (buttons_.size() < study.variants.size()) {
        auto* button = new QToolButton(widget());
        button->setCheckable(true);
        button->setAutoRaise(true);
        button->installEventFilter(this);
        const std::size_t index = buttons_.size();
        connect(button, &QToolButton::clicked, this, [this, index] { emit chosen(index); });
        row_->insertWidget(static_cast<int>(index) + 1, button);
        buttons_.push_back(button);
    }
    const Bracketed* first = headline(findings.front().get());
    for (std::size_t i = 0; i < buttons_.size(); ++i) {
        QString text = words(study.variants[i].name.empty() ? study.variants[i].id : study.variants[i].name);
        if (const Bracketed* value = headline(findings[i].get())) {
            text += QStringLiteral("  ") + short_value(*value);
            if (i > 0 && first) text += QStringLiteral(" (%1)").arg(change_in_strip(*value, *first));
        } else if (findings[i] && findings[i]->has_fault()) {
            text += tr("  no answer");
        }
        buttons_[i]->setText(text.replace(QLatin1Char('&'), QStringLiteral("&&")));
        buttons_[i]->setChecked(i == active);
        buttons_[i]->setToolTip(tr("Go to this variant; double click to rename it. psi in W/(m·K), difference to the first variant."));
    }
}

QStringList VariantsStrip::texts() const {
    QStringList list;
    for (const auto* button : buttons_) list << button->text();
    return list;
}

bool VariantsStrip::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::MouseButtonDblClick) {
        const auto at = std::find(buttons_.begin(), buttons_.end(), watched);
        if (at != buttons_.end()) emit rename_wanted(static_cast<std::size_t>(at - buttons_.begin()));
        return true;
    }
    return false;
}

}  // namespace wallfoot
