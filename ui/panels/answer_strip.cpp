// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/answer_strip.hpp"

#include <QHBoxLayout>
#include <QLabel>
#include <QToolButton>
#include <cmath>

#include "ui/panels/words.hpp"

namespace wallfoot {

AnswerStrip::AnswerStrip(QWidget* parent) : QWidget(parent) {
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(8, 4, 8, 4);
    left_ = new QHBoxLayout;
    left_->setSpacing(2);
    layout->addLayout(left_);
    layout->addStretch(0);  // only while there is no answer to take the room
    psi_ = new QLabel(this);
    fRsi_ = new QToolButton(this);
    faults_ = new QToolButton(this);
    QFont large = font();
    large.setPointSizeF(large.pointSizeF() * 1.2);
    large.setBold(true);
    for (QWidget* part : {static_cast<QWidget*>(psi_), static_cast<QWidget*>(fRsi_), static_cast<QWidget*>(faults_)}) part->setFont(large);
    psi_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    fRsi_->setAutoRaise(true);
    fRsi_->setToolTip(tr("Temperature factor of the lowest inside surface temperature. Show the place."));
    faults_->setToolTip(tr("Go to the first thing to settle."));
    // A long reason wraps: it neither widens the window nor is cut off.
    psi_->setWordWrap(true);
    psi_->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    layout->addWidget(psi_, 1);
    layout->addSpacing(16);
    layout->addWidget(fRsi_);
    layout->addWidget(faults_);
    connect(fRsi_, &QToolButton::clicked, this, [this] { emit place_wanted(place_); });
    connect(faults_, &QToolButton::clicked, this, &AnswerStrip::faults_wanted);
    show_nothing();
}

void AnswerStrip::arrange(const QString& psi, const QString& fRsi, const QString& faults) {
    // What goes is hidden before what comes is shown: for a moment both would need room, and the window would grow.
    psi_->setHidden(psi.isEmpty() || psi_->isHidden());
    fRsi_->setHidden(fRsi.isEmpty() || fRsi_->isHidden());
    faults_->setHidden(faults.isEmpty() || faults_->isHidden());
    psi_->setText(psi);
    psi_->setVisible(!psi.isEmpty());
    psi_->setAccessibleName(tr("Answer: %1").arg(psi));
    psi_->setEnabled(true);
    fRsi_->setText(fRsi);
    fRsi_->setVisible(!fRsi.isEmpty());
    fRsi_->setEnabled(true);
    faults_->setText(faults);
    faults_->setVisible(!faults.isEmpty());
}

void AnswerStrip::show_nothing() { arrange({}, {}, {}); }

void AnswerStrip::show_working() { arrange(tr("working…"), {}, {}); }

void AnswerStrip::show_faults(int count) { arrange({}, {}, tr("no answer: %n thing(s) to settle", nullptr, count).replace(QStringLiteral("thing(s)"), count == 1 ? tr("thing") : tr("things"))); }

void AnswerStrip::show_said(const QString& text) { arrange(text, {}, {}); }

void AnswerStrip::show_findings(const Findings& findings, bool at_rest, const QString& of) {
    QString psi;
    if (const Psi* headline = findings.headline_psi()) {
        psi = headline->value ? tr("psi %1").arg(bracket_words(*headline->value, "W/(m·K)"))
                              : tr("no psi: see the findings for why");
        psi_->setToolTip(headline->value ? QString() : words(why_missing(findings, headline->a, headline->b, headline->lengths, headline->reason)));
    } else if (!findings.couplings.empty() && findings.couplings.front().value) {
        psi = tr("L2D %1").arg(bracket_words(*findings.couplings.front().value, "W/(m·K)"));
    }
    if (!at_rest && !psi.isEmpty()) psi += tr(" …");
    QString fRsi;
    if (const SurfaceFinding* lowest = findings.headline_surface()) {
        place_ = {std::llround(lowest->at[0]), std::llround(lowest->at[1])};
        fRsi = lowest->fRsi ? tr("fRsi %1 at x %2, y %3").arg(value_words(*lowest->fRsi, "", 3)).arg(to_mm(place_.x), 0, 'f', 0).arg(to_mm(place_.y), 0, 'f', 0)
                            : tr("lowest %1").arg(value_words(lowest->lowest, "°C", 3));
    }
    if (psi.isEmpty()) psi = tr("no heat flows between two spaces here");
    arrange(of.isEmpty() ? psi : QStringLiteral("%1: %2").arg(of, psi), fRsi, {});
}

QString AnswerStrip::text() const {
    QStringList parts;
    if (!psi_->text().isEmpty()) parts << psi_->text();
    if (!fRsi_->text().isEmpty()) parts << fRsi_->text();
    if (!faults_->text().isEmpty()) parts << faults_->text();
    return parts.join(QStringLiteral("; "));
}

}  // namespace wallfoot
