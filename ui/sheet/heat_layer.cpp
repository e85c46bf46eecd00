// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/heat_layer.hpp"

namespace wallfoot {

HeatLayer::HeatLayer(QObject* parent) : QObject(parent) {
    thread_ = std::jthread([this](std::stop_token stop) { run(stop); });
}

HeatLayer::~HeatLayer() {
    thread_.request_stop();
    wake_.notify_all();
}

void HeatLayer::want(const Wish& wish) {
    if (wanted_ && wanted_->same(wish)) return;
    wanted_ = wish;
    const std::scoped_lock lock(mutex_);
    waiting_ = wish;
    wake_.notify_all();
}

void HeatLayer::clear() {
    wanted_.reset();
    shown_.reset();
    image_ = {};
    const std::scoped_lock lock(mutex_);
    waiting_.reset();
}

void HeatLayer::run(std::stop_token stop) {
    while (!stop.stop_requested()) {
        Wish wish;
        {
            std::unique_lock lock(mutex_);
            if (!wake_.wait(lock, stop, [this] { return waiting_.has_value(); })) return;
            wish = *std::exchange(waiting_, std::nullopt);
        }
        QImage image = heat_map(wish.view, wish.ratio, *wish.findings->solution, wish.findings->temperatures, wish.range);
        QMetaObject::invokeMethod(
            this,
            [this, wish, image] {
                if (!wanted_) return;  // cleared meanwhile
                shown_ = wish;
                image_ = image;
                emit ready();
            },
            Qt::QueuedConnection);
    }
}

void HeatLayer::paint(QPainter& painter, const View& view) const {
    if (!shown_ || image_.isNull()) return;
    const View& then = shown_->view;
    const QPointF corner = view.to_pixels(then.to_mm({0, 0}).x(), then.to_mm({0, 0}).y());
    const double scale = view.pixels_per_mm / then.pixels_per_mm;
    const QSizeF size(image_.width() / shown_->ratio * scale, image_.height() / shown_->ratio * scale);
    painter.setRenderHint(QPainter::SmoothPixmapTransform, scale != 1);
    painter.drawImage(QRectF(corner, size), image_, QRectF(image_.rect()));
}

}  // namespace wallfoot
