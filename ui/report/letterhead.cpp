// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/letterhead.hpp"

#include <QBuffer>
#include <QImageReader>
#include <QSvgRenderer>
#include <algorithm>

#include "core/text/message.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/exchange/pdf_tags.hpp"
#include "ui/paint/labels.hpp"

namespace wallfoot {

namespace {

constexpr double most_logo_height = 18 * pixels_per_paper_mm, most_logo_width = 70 * pixels_per_paper_mm;
constexpr double name_size = 13, contact_size = 10, line_room = 1.35, below_head = 14;
constexpr int most_logo_side = 6000;  // pixels

QByteArray logo_bytes(const OfficeLogo& logo) { return QByteArray(logo.bytes.data(), static_cast<qsizetype>(logo.bytes.size())); }

/// Null where it cannot be read.
QImage logo_image(const OfficeLogo& logo) {
    QByteArray bytes = logo_bytes(logo);
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::ReadOnly);
    QImageReader reader(&buffer);
    reader.setAutoTransform(true);
    const QSize size = reader.size();
    if (size.width() > most_logo_side || size.height() > most_logo_side) return {};
    return reader.read();
}

/// Size of a logo as it is painted; empty where it cannot be read.
QSizeF logo_size(const OfficeLogo& logo) {
    QSizeF size;
    if (logo.media_type == "image/svg+xml") {
        const QSvgRenderer renderer(logo_bytes(logo));
        size = renderer.isValid() ? renderer.viewBoxF().size() : QSizeF();
    } else {
        size = logo_image(logo).size();
    }
    if (!(size.width() > 0) || !(size.height() > 0)) return {};
    return size.scaled(most_logo_width, most_logo_height, Qt::KeepAspectRatio);
}

double lines_height(const OfficeTemplate& office) { return ((office.office.empty() ? 0 : name_size) + contact_size * static_cast<double>(office.contact.size())) * line_room; }

}  // namespace

void need_sound_logo(const OfficeTemplate& office) {
    if (office.logo && logo_size(*office.logo).isEmpty()) throw InputFault(Message{Severity::fault, "template-logo-broken", {}, {}, "/logo"});
}

double letterhead_height(const OfficeTemplate& office) {
    if (!office.has_head()) return 0;
    return std::max(office.logo ? logo_size(*office.logo).height() : 0.0, lines_height(office)) + below_head;
}

void paint_letterhead(QPainter& painter, const OfficeTemplate& office, const QRectF& box, int logo_tag, int lines_tag) {
    if (!office.has_head()) return;
    painter.save();
    double taken = 0;
    if (office.logo) {
        const QRectF place(box.topLeft(), logo_size(*office.logo));
        begin_tag(painter, logo_tag);
        if (office.logo->media_type == "image/svg+xml") QSvgRenderer(logo_bytes(*office.logo)).render(&painter, place);
        else painter.drawImage(place, logo_image(*office.logo));
        end_tag(painter, logo_tag);
        taken = place.width() + 16;
    }
    // Beside a logo to the right, alone to the left.
    double y = box.top();
    const auto put = [&](const std::string& text, double size, bool bold) {
        const QFont font = sheet_font(size, bold);
        painter.setFont(font);
        painter.setPen(QColor(0x1b, 0x1b, 0x1b));
        const QRectF line(box.left() + taken, y, box.width() - taken, size * line_room);
        begin_tag(painter, lines_tag);
        painter.drawText(line, (office.logo ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter | Qt::TextDontClip, QFontMetricsF(font).elidedText(QString::fromStdString(text), Qt::ElideRight, line.width()));
        end_tag(painter, lines_tag);
        y += line.height();
    };
    if (!office.office.empty()) put(office.office, name_size, true);
    for (const std::string& line : office.contact) put(line, contact_size, false);
    painter.setPen(QPen(QColor(0x55, 0x55, 0x55), 0.8));
    painter.drawLine(QPointF(box.left(), box.bottom() - below_head + 5), QPointF(box.right(), box.bottom() - below_head + 5));
    painter.restore();
}

}  // namespace wallfoot
