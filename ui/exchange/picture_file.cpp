// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/picture_file.hpp"

#include <QBuffer>
#include <QFile>
#include <QFileInfo>
#include <QImageReader>
#include <QPainter>
#include <QTransform>
#include <algorithm>
#include <cmath>

#include "core/text/message.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void refuse_picture(const char* code, std::map<std::string, std::string> args = {}) { throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); }

double cross(QPointF a, QPointF b, QPointF c) { return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x()); }

/// Four corners that turn one way, none near a line of two others.
bool is_convex(const std::array<QPointF, 4>& q) {
    int turns = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        const QPointF a = q[i], b = q[(i + 1) % 4], c = q[(i + 2) % 4];
        const double area = cross(a, b, c), sides = std::hypot(b.x() - a.x(), b.y() - a.y()) * std::hypot(c.x() - b.x(), c.y() - b.y());
        if (!(std::abs(area) > 0.01 * sides)) return false;
        turns += area > 0 ? 1 : -1;
    }
    return std::abs(turns) == 4;
}

/// The part of the photo on the side of the vanishing line where the rectangle lies, well off that line.
QPolygonF front_of(const QTransform& t, const QRectF& photo, double at_rectangle) {
    const auto w = [&](QPointF p) { return (t.m13() * p.x() + t.m23() * p.y() + t.m33()) / at_rectangle; };
    constexpr double least = 0.25;  // of what it is at the rectangle: four times its scale there
    QPolygonF kept;
    const QPolygonF ring{photo.topLeft(), photo.topRight(), photo.bottomRight(), photo.bottomLeft()};
    for (qsizetype i = 0; i < ring.size(); ++i) {
        const QPointF a = ring[i], b = ring[(i + 1) % ring.size()];
        const double wa = w(a), wb = w(b);
        if (wa >= least) kept << a;
        if ((wa >= least) != (wb >= least)) kept << a + (least - wa) / (wb - wa) * (b - a);
    }
    return kept;
}

}  // namespace

std::string bytes_of_file(const QString& path, std::size_t limit) {
    QFile file(path);
    if (QFileInfo(path).isDir()) refuse_picture("file-unreadable", {{"reason", "it is a folder"}});
    if (!file.open(QIODevice::ReadOnly)) refuse_picture("file-unreadable", {{"reason", file.errorString().toStdString()}});
    const QByteArray bytes = file.read(static_cast<qint64>(limit) + 1);
    if (static_cast<std::size_t>(bytes.size()) > limit) refuse_picture("underlay-file-too-large", {{"limit", std::to_string(limit / 1'000'000)}});
    return bytes.toStdString();
}

QImage decoded_picture(const std::string& bytes) {
    QByteArray data = QByteArray::fromRawData(bytes.data(), static_cast<qsizetype>(bytes.size()));
    QBuffer buffer(&data);
    QImageReader reader(&buffer);
    reader.setAutoTransform(true);
    if (const QByteArray format = reader.format(); format != "png" && format != "jpeg") refuse_picture("picture-damaged");
    const QSize size = reader.size();
    if (!size.isValid() || size.isEmpty()) refuse_picture("picture-damaged");
    if (qint64(size.width()) * size.height() > most_pixels)
        refuse_picture("picture-too-many-pixels", {{"width", std::to_string(size.width())}, {"height", std::to_string(size.height())}, {"limit", std::to_string(most_pixels / 1'000'000)}});
    static const bool limited = (QImageReader::setAllocationLimit(600), true);  // MB: the pixels are counted above; once, as two threads read
    static_cast<void>(limited);
    const QImage image = reader.read();
    if (image.isNull()) refuse_picture("picture-damaged");
    return image;
}

AttachedFile png_attachment(QImage image, const QString& name, double* factor) {
    *factor = 1;
    for (;;) {
        QByteArray bytes;
        QBuffer buffer(&bytes);
        buffer.open(QIODevice::WriteOnly);
        image.save(&buffer, "PNG");
        if (static_cast<std::size_t>(bytes.size()) <= attachment_limit || image.width() < 64) return attached_file("image/png", name.toStdString(), bytes.toStdString());
        const QSize smaller = image.size() * 0.8;
        *factor *= double(smaller.width()) / image.width();
        image = image.scaled(smaller, Qt::IgnoreAspectRatio, Qt::SmoothTransformation);
    }
}

Straightened straightened(const QImage& photo, const std::array<QPointF, 4>& corners, double width, double height) {
    if (!(width > 0) || !(height > 0) || !std::isfinite(width) || !std::isfinite(height) || !is_convex(corners)) refuse_picture("straighten-impossible");
    // In mm with y downwards, the first corner (lower left) at (0, height).
    const QPolygonF seen{corners[0], corners[1], corners[2], corners[3]}, true_size{{0, height}, {width, height}, {width, 0}, {0, 0}};
    QTransform to_mm;
    if (!QTransform::quadToQuad(seen, true_size, to_mm) || !to_mm.isInvertible()) refuse_picture("straighten-impossible");
    const auto w = [&](QPointF p) { return to_mm.m13() * p.x() + to_mm.m23() * p.y() + to_mm.m33(); };
    double most = 0;
    for (const QPointF c : corners) most = std::max(most, std::abs(w(c)));
    const double at_rectangle = std::copysign(most, w(corners[0]));
    const QPolygonF front = front_of(to_mm, QRectF(photo.rect()), at_rectangle);
    QRectF box = to_mm.map(front).boundingRect();
    const double far = 4 * std::max(width, height);
    box &= QRectF(-far, -far, width + 2 * far, height + 2 * far);
    if (!box.isValid()) refuse_picture("straighten-impossible");
    // As fine as the photo is at the rectangle, and not more pixels than a photo has.
    double longest = 0;
    for (std::size_t i = 0; i < 4; ++i) longest = std::max(longest, std::hypot(corners[i].x() - corners[(i + 1) % 4].x(), corners[i].y() - corners[(i + 1) % 4].y()) / (i % 2 == 0 ? width : height));
    constexpr double most_side = 4000;
    const double pixels_per_mm = std::min({longest, most_side / box.width(), most_side / box.height()});
    const QSize size(std::max(1, static_cast<int>(std::ceil(box.width() * pixels_per_mm))), std::max(1, static_cast<int>(std::ceil(box.height() * pixels_per_mm))));
    Straightened result;
    result.image = QImage(size, QImage::Format_ARGB32_Premultiplied);
    result.image.fill(Qt::transparent);
    QPainter painter(&result.image);
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    const QTransform to_pixels = to_mm * QTransform::fromTranslate(-box.left(), -box.top()) * QTransform::fromScale(pixels_per_mm, pixels_per_mm);
    QPainterPath clip;
    clip.addPolygon(to_pixels.map(front));
    painter.setClipPath(clip);
    painter.setTransform(to_pixels);
    painter.drawImage(0, 0, photo);
    painter.end();
    result.mm_per_pixel = 1 / pixels_per_mm;
    result.first = QPointF(-box.left() * pixels_per_mm, size.height() - (height - box.top()) * pixels_per_mm);
    return result;
}

}  // namespace wallfoot
