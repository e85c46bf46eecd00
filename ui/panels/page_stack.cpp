// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/page_stack.hpp"

#include <QPaintEvent>
#include <QPainter>
#include <QPointer>
#include <cmath>

namespace wallfoot {

namespace {

constexpr double gap = 14;

QImage painted(const ReportPages& pages, int page, double scale) {
    QImage image((pages.size() * scale).toSize(), QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.scale(scale, scale);
    pages.paint(painter, page);
    return image;
}

}  // namespace

void PageStack::show_pages(std::shared_ptr<const ReportPages> pages) {
    pages_ = std::move(pages);
    ++generation_;
    asked_.clear();
    // Old pages stay to be seen until the new ones are painted.
    if (!pages_) images_.clear();
    else images_.erase(images_.lower_bound(pages_->count()), images_.end());
    fit_size();
    update();
}

void PageStack::set_zoom(double zoom) {
    if (zoom == zoom_) return;
    zoom_ = zoom;
    ++generation_;
    asked_.clear();
    fit_size();
    update();
}

void PageStack::fit_size() {
    if (!pages_) return setMinimumSize(0, 0);
    const QSizeF size = pages_->size() * zoom_;
    setMinimumSize(std::lround(size.width() + 2 * gap), std::lround(pages_->count() * (size.height() + gap) + gap));
}

QRectF PageStack::page_rect(int page) const {
    const QSizeF size = pages_->size() * zoom_;
    return QRectF(QPointF(std::max(gap, (width() - size.width()) / 2), gap + page * (size.height() + gap)), size);
}

void PageStack::ask_for(int page) {
    if (!asked_.insert(page).second) return;
    pool_.start([pages = pages_, page, scale = zoom_ * devicePixelRatioF(), generation = generation_, self = QPointer(this)] {
        QImage image = painted(*pages, page, scale);
        QMetaObject::invokeMethod(qApp, [self, page, generation, image] {
            if (!self || self->generation_ != generation) return;
            self->images_[page] = image;
            self->update();
        });
    });
}

void PageStack::paintEvent(QPaintEvent* event) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    if (!pages_) return;
    for (int page = 0; page < pages_->count(); ++page) {
        const QRectF rect = page_rect(page);
        if (!rect.intersects(event->rect())) continue;
        ask_for(page);
        painter.fillRect(rect, Qt::white);
        if (const auto image = images_.find(page); image != images_.end()) painter.drawImage(rect, image->second);
        painter.setPen(palette().mid().color());
        painter.drawRect(rect);
    }
}

}  // namespace wallfoot
