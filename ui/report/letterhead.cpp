// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/letterhead.hpp"

#include <QBuffer>
#include <QImageReader>
#include <QSvgRenderer>
#include <QTextLayout>
#include <algorithm>
#include <vector>

#include "core/text/message.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/exchange/pdf_tags.hpp"
#include "ui/paint/labels.hpp"

namespace wallfoot {

namespace {

constexpr double most_logo_height = 18 * pixels_per_paper_mm, most_logo_width = 70 * pixels_per_paper_mm;
constexpr double name_size = 13, contact_size = 10, line_room = 1.35, below_head = 14;
constexpr int most_logo_side = 4000;  // pixels: QImageReader reads at most 128 MB, of 8 bytes a pixel

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

/// Name and contact lines as they go over lines in a width, and what of the template each is.
struct HeadLine {
    QString text;
    double size = 0;
    bool bold = false;
};

QStringList broken(const QString& text, const QFont& font, double width) {
    QTextLayout layout(text, font);
    QTextOption option;
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
    option.setUseDesignMetrics(true);
    layout.setTextOption(option);
    QStringList lines;
    layout.beginLayout();
    for (QTextLine line = layout.createLine(); line.isValid(); line = layout.createLine()) {
        line.setLineWidth(std::max(width - 2, 1.0));
        lines << text.mid(line.textStart(), line.textLength()).trimmed();
    }
    layout.endLayout();
    return lines;
}

/// The logo and the gap beside it.
double beside_logo(const OfficeTemplate& office) { return office.logo ? logo_size(*office.logo).width() + 16 : 0; }

std::vector<HeadLine> head_lines(const OfficeTemplate& office, double width) {
    std::vector<HeadLine> lines;
    const double room = width - beside_logo(office);
    const auto add = [&](const std::string& text, double size, bool bold) {
        for (const QString& line : broken(QString::fromStdString(text), sheet_font(size, bold), room)) lines.push_back({line, size, bold});
    };
    if (!office.office.empty()) add(office.office, name_size, true);
    for (const std::string& line : office.contact) add(line, contact_size, false);
    return lines;
}

}  // namespace

QFont office_foot_font() { return sheet_font(10); }

QStringList office_foot_lines(const OfficeTemplate& office, double width) { return office.foot.empty() ? QStringList{} : broken(QString::fromStdString(office.foot), office_foot_font(), width); }

void need_printable(const OfficeTemplate& office) {
    if (office.logo && logo_size(*office.logo).isEmpty()) throw InputFault(Message{Severity::fault, "template-logo-broken", {}, {}, "/logo"});
    constexpr double a4_width = (210 - 2 * paper_margin_mm) * pixels_per_paper_mm;
    constexpr qsizetype most_lines = 2;
    std::vector<Message> faults;
    const auto need_room = [&](const std::string& text, const QFont& font, double width, const char* pointer) {
        if (broken(QString::fromStdString(text), font, width).size() > most_lines) faults.push_back(Message{Severity::fault, "template-too-long", {{"text", QString::fromStdString(text).left(60).toStdString()}}, {}, pointer});
    };
    const double beside = a4_width - beside_logo(office);
    need_room(office.office, sheet_font(name_size, true), beside, "/office");
    for (const std::string& line : office.contact) need_room(line, sheet_font(contact_size), beside, "/contact");
    need_room(office.foot, office_foot_font(), a4_width, "/foot");
    if (!faults.empty()) throw InputFault(std::move(faults));
}

double letterhead_height(const OfficeTemplate& office, double width) {
    if (!office.has_head()) return 0;
    double height = 0;
    for (const HeadLine& line : head_lines(office, width)) height += line.size * line_room;
    return std::max(office.logo ? logo_size(*office.logo).height() : 0.0, height) + below_head;
}

void paint_letterhead(QPainter& painter, const OfficeTemplate& office, const QRectF& box, int logo_tag, int lines_tag) {
    if (!office.has_head()) return;
    painter.save();
    if (office.logo) {
        const QRectF place(box.topLeft(), logo_size(*office.logo));
        begin_tag(painter, logo_tag);
        if (office.logo->media_type == "image/svg+xml") QSvgRenderer(logo_bytes(*office.logo)).render(&painter, place);
        else painter.drawImage(place, logo_image(*office.logo));
        end_tag(painter, logo_tag);
    }
    // Beside a logo to the right, alone to the left.
    const double taken = beside_logo(office);
    double y = box.top();
    for (const HeadLine& line : head_lines(office, box.width())) {
        painter.setFont(sheet_font(line.size, line.bold));
        painter.setPen(QColor(0x1b, 0x1b, 0x1b));
        const QRectF place(box.left() + taken, y, box.width() - taken, line.size * line_room);
        begin_tag(painter, lines_tag);
        painter.drawText(place, (office.logo ? Qt::AlignRight : Qt::AlignLeft) | Qt::AlignVCenter | Qt::TextDontClip, line.text);
        end_tag(painter, lines_tag);
        y += place.height();
    }
    painter.setPen(QPen(QColor(0x55, 0x55, 0x55), 0.8));
    painter.drawLine(QPointF(box.left(), box.bottom() - below_head + 5), QPointF(box.right(), box.bottom() - below_head + 5));
    painter.restore();
}

}  // namespace wallfoot
