// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/variants_strip.hpp"

#include <QContextMenuEvent>
#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QScrollBar>
#include <QToolButton>
#include <cmath>

#include "core/study/differences.hpp"
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

/// What is noted of it, what it has otherwise, and what the button does.
QString tip_of(const Study& study, std::size_t index) {
    constexpr std::size_t most_told = 6;
    const auto paragraph = [](const QString& text) { return QStringLiteral("<p>%1</p>").arg(text.toHtmlEscaped().replace(QLatin1Char('\n'), QStringLiteral("<br>"))); };
    const Variant& variant = study.variants[index];
    QString text;
    if (!variant.note.empty()) text += paragraph(words(variant.note));
    if (index > 0) {
        const std::vector<Message> said = differences(study, *study.variants.front().section, *variant.section);
        QStringList lines;
        for (std::size_t i = 0; i < said.size() && i < most_told; ++i) lines << QStringLiteral("%1  %2").arg(i + 1).arg(sentence(said[i]));
        if (said.size() > most_told) lines << VariantsStrip::tr("and %1 more, in Compare (F12)").arg(said.size() - most_told);
        if (said.empty()) lines << VariantsStrip::tr("The same drawing as the first variant.");
        text += paragraph(lines.join(QLatin1Char('\n')));
    }
    return text + paragraph(VariantsStrip::tr("psi in W/(m·K), difference to the first variant. A click goes to it, a double click to its name and note, the right button to more."));
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
    marks_ = new QToolButton(inside);
    marks_->setAutoRaise(true);
    row_->addWidget(marks_);
    row_->addStretch(1);
    setWidget(inside);
    setFixedHeight(inside->sizeHint().height() + 4);
}

void VariantsStrip::show_variants(std::shared_ptr<const Study> shown, std::size_t active, const std::vector<std::shared_ptr<const Findings>>& findings) {
    study_ = std::move(shown);
    const Study& study = *study_;
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
    // Worked out when it is asked for: a long list of variants costs nothing at each edit.
    if (event->type() == QEvent::ToolTip) {
        const auto at = std::find(buttons_.begin(), buttons_.end(), watched);
        const auto index = static_cast<std::size_t>(at - buttons_.begin());
        if (at != buttons_.end() && index < study_->variants.size()) (*at)->setToolTip(tip_of(*study_, index));
        return false;
    }
    if (event->type() == QEvent::ContextMenu) {
        const auto at = std::find(buttons_.begin(), buttons_.end(), watched);
        if (at != buttons_.end()) emit menu_wanted(static_cast<std::size_t>(at - buttons_.begin()), static_cast<QContextMenuEvent*>(event)->globalPos());
        return true;
    }
    return false;
}

}  // namespace wallfoot
