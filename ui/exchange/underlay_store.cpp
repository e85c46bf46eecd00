// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/underlay_store.hpp"

#include <QCoreApplication>
#include <QPainter>
#include <algorithm>
#include <cmath>
#include <set>

#include "core/exchange/dxf.hpp"
#include "core/study/names.hpp"
#include "ui/exchange/pdf_file.hpp"
#include "ui/exchange/picture_file.hpp"
#include "ui/paint/labels.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr double most_shown_pixels = 16e6;

/// Half as large, and so on, so that a picture seen from afar is neither slow nor jagged.
std::vector<QImage> levels_of(QImage image) {
    if (const double pixels = double(image.width()) * image.height(); pixels > most_shown_pixels)
        image = image.scaled(image.size() * std::sqrt(most_shown_pixels / pixels), Qt::IgnoreAspectRatio, Qt::SmoothTransformation);
    std::vector<QImage> levels{image.convertToFormat(QImage::Format_ARGB32_Premultiplied)};
    while (levels.back().width() > 512 && levels.back().height() > 2)
        levels.push_back(levels.back().scaled(levels.back().size() / 2, Qt::IgnoreAspectRatio, Qt::SmoothTransformation));
    return levels;
}

void show_drawing(const Attachment& attachment, UnderlayContent& content) {
    const Drawing drawing = read_dxf(attachment.bytes, 1);
    const Extent box = extent_of(drawing, std::vector<bool>(drawing.layers.size(), true));
    if (!box.empty()) content.box = QRectF(QPointF(box.left, box.bottom), QPointF(box.right, box.top));
    content.size = content.box.size();
    for (const Stroke& stroke : drawing.strokes) {
        QPolygonF line;
        for (const Place p : stroke.points) line << QPointF(p.x, p.y);
        if (stroke.closed) line << line.front();
        for (qsizetype i = 1; i < line.size(); ++i) content.held.emplace_back(line[i - 1], line[i]);
        content.lines.push_back(std::move(line));
    }
}

/// Says at its lower left corner, or as near as is in sight, why nothing is seen of an underlay.
void paint_in_its_place(QPainter& painter, const View& view, const QString& name, bool loading, QPointF corner, const SheetColours& colours) {
    const QString text = QCoreApplication::translate("Underlay", loading ? "Loading %1 …" : "%1 cannot be shown").arg(name);
    const QFont font = sheet_font(12);
    const QSizeF size = label_size(font, text);
    const QPointF at(std::clamp(corner.x(), 4.0, std::max(4.0, view.viewport.width() - size.width() - 4)),
                     std::clamp(corner.y() - size.height(), 4.0, std::max(4.0, view.viewport.height() - size.height() - 4)));
    paint_label(painter, QRectF(at, size), text, font, colours.ink, colours.label_back);
}

/// From y downwards, as images and pages have it, to y upwards.
QTransform upright(QSizeF size) { return {1, 0, 0, -1, 0, size.height()}; }

}  // namespace

UnderlayContent sound_content_of(const Attachment& attachment, UnderlayKind kind, int page) {
    UnderlayContent content;
    if (kind == UnderlayKind::picture) {
        const QImage image = decoded_picture(attachment.bytes);
        content.size = image.size();
        content.levels = levels_of(image);
    } else if (kind == UnderlayKind::pdf) {
        const PdfFile file(attachment.bytes);
        content.size = file.size(page);
        content.levels = levels_of(file.image(page, most_shown_pixels));
        content.held = file.lines(page);
    } else {
        show_drawing(attachment, content);
    }
    if (kind != UnderlayKind::dxf) content.box = QRectF(QPointF(), content.size);
    return content;
}

UnderlayContent content_of(const Attachment& attachment, UnderlayKind kind, int page) {
    UnderlayContent nothing;
    try {
        return sound_content_of(attachment, kind, page);
    } catch (const InputFault& fault) {
        nothing.trouble = sentence(fault.faults());
    } catch (const std::exception& error) {
        nothing.trouble = QString::fromUtf8(error.what());
    }
    return nothing;
}

std::shared_ptr<const UnderlayContent> UnderlayStore::content(const Study& study, const Underlay& underlay) {
    auto& kept = kept_[key_of(underlay)];
    if (kept) return kept;
    auto nothing = std::make_shared<UnderlayContent>();
    const auto attachment = study.attachments.find(underlay.attachment);
    if (attachment == study.attachments.end()) {
        nothing->trouble = sentence(Message{Severity::caution, "underlay-without-attachment", {{"underlay", underlay.id}}, {}, {}});
        return nothing;
    }
    nothing->loading = true;
    kept = nothing;
    background_.run([this, key = key_of(underlay), file = attachment->second, name = words(shown_name(study, underlay))]() -> Background::Done {
        auto content = std::make_shared<const UnderlayContent>(content_of(*file, std::get<1>(key), std::get<2>(key)));
        return [this, key, name, content] {
            const auto waiting = kept_.find(key);
            if (waiting == kept_.end() || !waiting->second || !waiting->second->loading) return;  // of no use any more
            waiting->second = content;
            if (arrived_) arrived_(name, content->trouble);
        };
    });
    return nothing;
}

void UnderlayStore::tidy(const Study& study) {
    std::set<Key> used;
    for (const Variant& variant : study.variants)
        for (const Underlay& underlay : variant.section->underlays) used.insert(key_of(underlay));
    std::erase_if(kept_, [&](const auto& entry) { return !used.contains(entry.first); });
}

QTransform transform_of(const View& view, const Underlay& underlay) {
    const auto pixels = [&](double u, double v) {
        const Place p = placed(underlay, u, v);
        return view.to_pixels(p.x, p.y);
    };
    // Far apart, so that a small scale loses no digits.
    constexpr double far = 1000;
    const QPointF origin = pixels(0, 0), u = (pixels(far, 0) - origin) / far, v = (pixels(0, far) - origin) / far;
    return {u.x(), u.y(), v.x(), v.y(), origin.x(), origin.y()};
}

void paint_underlays(QPainter& painter, const View& view, const Study& study, const Section& section, UnderlayStore& store, const SheetColours& colours) {
    for (const Underlay& underlay : section.underlays) {
        if (!underlay.visible) continue;
        const auto content = store.content(study, underlay);
        const QTransform to_pixels = transform_of(view, underlay);
        if (content->loading || !content->trouble.isEmpty()) {
            paint_in_its_place(painter, view, words(shown_name(study, underlay)), content->loading, to_pixels.map(QPointF()), colours);
            continue;
        }
        painter.save();
        painter.setRenderHint(QPainter::SmoothPixmapTransform);
        painter.setRenderHint(QPainter::Antialiasing);
        painter.setOpacity(underlay.opacity);
        if (!content->levels.empty()) {
            const double shown = content->size.width() * underlay.scale * view.pixels_per_mm * painter.device()->devicePixelRatioF();
            auto level = content->levels.begin();
            while (level + 1 != content->levels.end() && (level + 1)->width() >= shown) ++level;
            painter.setTransform(upright(content->size) * to_pixels, true);
            painter.drawImage(QRectF(QPointF(), content->size), *level);
        }
        if (!content->lines.empty()) {
            painter.setPen(QPen(colours.ink, 1));
            const QRectF device(-50, -50, view.viewport.width() + 100, view.viewport.height() + 100);
            for (const QPolygonF& line : content->lines) {
                const QPolygonF shown = to_pixels.map(line);
                // A straight line has no box with an area: it is made one.
                if (shown.boundingRect().adjusted(-1, -1, 1, 1).intersects(device)) painter.drawPolyline(shown);
            }
        }
        painter.restore();
    }
}

bool lies_on(const UnderlayContent& content, const Underlay& underlay, QPointF mm) {
    const Place p = unplaced(underlay, mm.x(), mm.y());
    return underlay.visible && content.box.contains(p.x, p.y);
}

std::vector<std::pair<Point, Point>> held_lines(const Study& study, const Section& section, UnderlayStore& store) {
    std::vector<std::pair<Point, Point>> lines;
    const double limit = to_mm(coordinate_limit);
    for (const Underlay& underlay : section.underlays) {
        if (!underlay.visible) continue;
        for (const QLineF& line : store.content(study, underlay)->held) {
            const Place a = placed(underlay, line.x1(), line.y1()), b = placed(underlay, line.x2(), line.y2());
            if (std::max({std::abs(a.x), std::abs(a.y), std::abs(b.x), std::abs(b.y)}) < limit)
                lines.push_back({{from_mm(a.x), from_mm(a.y)}, {from_mm(b.x), from_mm(b.y)}});
        }
    }
    return lines;
}

}  // namespace wallfoot
