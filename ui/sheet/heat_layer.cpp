// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/sheet/heat_layer.hpp"

namespace wallfoot {

void HeatLayer::want(const Wish& wish) {
    if (wanted_ && wanted_->same(wish)) return;
    wanted_ = wish;
    background_.run_instead([this, wish]() -> Background::Done {
        QImage image = heat_map(wish.view, wish.ratio, *wish.findings->solution, wish.findings->temperatures, wish.range);
        return [this, wish, image] {
            if (!wanted_) return;  // cleared meanwhile
            shown_ = wish;
            image_ = image;
            emit ready();
        };
    });
}

void HeatLayer::clear() {
    wanted_.reset();
    shown_.reset();
    image_ = {};
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
