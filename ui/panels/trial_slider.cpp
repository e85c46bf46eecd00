// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/trial_slider.hpp"

#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QSlider>
#include <cmath>

namespace wallfoot {

namespace {

constexpr int most = 100, steps_per_doubling = 50;

}  // namespace

TrialSlider::TrialSlider(QWidget* parent) : QWidget(parent), slider_(new QSlider(Qt::Horizontal, this)), shown_(new QLabel(this)) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    slider_->setRange(-most, most);
    slider_->setPageStep(10);
    slider_->setAccessibleName(tr("Try another conductivity"));
    setFocusProxy(slider_);
    setToolTip(tr("Hold it to see what another conductivity of this material would do; let go, and the study is as before."));
    shown_->setMinimumWidth(shown_->fontMetrics().horizontalAdvance(QStringLiteral("λ × 0.00")));
    row->addWidget(slider_, 1);
    row->addWidget(shown_);
    const auto tell = [this] {
        shown_->setText(QStringLiteral("λ × %1").arg(factor(), 0, 'f', 2));
        emit moved(factor());
    };
    connect(slider_, &QSlider::valueChanged, this, tell);
    connect(slider_, &QSlider::sliderReleased, this, [this] { end(); });
    slider_->installEventFilter(this);
    tell();
}

void TrialSlider::end() { slider_->setValue(0); }

double TrialSlider::factor() const { return std::exp2(static_cast<double>(slider_->value()) / steps_per_doubling); }

bool TrialSlider::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::FocusOut || event->type() == QEvent::Hide) end();
    if (event->type() == QEvent::Wheel) {  // scrolling past must not try anything
        event->ignore();
        return true;
    }
    return QWidget::eventFilter(watched, event);
}

}  // namespace wallfoot
