// SPDX-License-Identifier: GPL-3.0-or-later
#include <QFontMetricsF>
#include <algorithm>
#include <cmath>

#include "ui/paint/field_lines.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"
#include "ui/paint/section_marks.hpp"

namespace wallfoot {
namespace {

constexpr double page_margin = 20, head_height = 62, column_width = 268;

/// Writes the column of numbers and keys from top to bottom.
class Column {
  public:
    Column(QPainter& painter, QRectF area, const SheetColours& colours) : painter_(painter), area_(area), colours_(colours) {}

    void line(const QString& text, double pixels, bool bold, QColor ink) {
        const QFont font = sheet_font(pixels, bold);
        const QFontMetricsF metrics(font);
        // Wrapped, never cut off.
        const QRectF box = metrics.boundingRect(QRectF(0, 0, area_.width(), 1000), Qt::TextWordWrap, text);
        if (y_ + box.height() > area_.height()) return;
        painter_.setFont(font);
        painter_.setPen(ink);
        painter_.drawText(QRectF(area_.left(), area_.top() + y_, area_.width(), box.height() + 2), Qt::TextWordWrap | Qt::TextDontClip, text);
        y_ += box.height() + 3;
    }
    void space(double pixels) { y_ += pixels; }
    QRectF block(double height) {
        const QRectF rect(area_.left(), area_.top() + y_, area_.width(), height);
        y_ += height;
        return rect;
    }
    double left() const { return area_.height() - y_; }
    void sample(const QPen& pen, const QString& text, bool arrow) {
        const QRectF row = block(22);
        painter_.setPen(pen);
        painter_.drawLine(QPointF(row.left(), row.center().y()), QPointF(row.left() + 44, row.center().y()));
        if (arrow) {
            painter_.setPen(Qt::NoPen);
            painter_.setBrush(colours_.ink);
            const QPointF c(row.left() + 22, row.center().y());
            painter_.drawPolygon(QPolygonF{c + QPointF(7, 0), c + QPointF(-4, 4.5), c + QPointF(-4, -4.5)});
            painter_.setBrush(Qt::NoBrush);
        }
        text_right_of(row, 54, text);
    }
    void swatch(const Hatch& hatch, int turn, const QString& name) {
        const QRectF row = block(30), box(row.left(), row.top() + 2, 44, 26);
        paint_hatch(painter_, {QPolygonF{box.topLeft(), box.topRight(), box.bottomRight(), box.bottomLeft()}}, hatch, turn, box.topLeft(), colours_);
        painter_.setPen(QPen(colours_.ink, 1));
        painter_.drawRect(box);
        text_right_of(row, 54, name);
    }

  private:
    void text_right_of(const QRectF& row, double indent, const QString& text) {
        const QFont font = sheet_font(12);
        painter_.setFont(font);
        painter_.setPen(colours_.ink);
        const QRectF box = row.adjusted(indent, 0, 0, 0);
        painter_.drawText(box, Qt::AlignVCenter | Qt::TextDontClip, QFontMetricsF(font).elidedText(text, Qt::ElideRight, box.width()));
    }
    QPainter& painter_;
    QRectF area_;
    const SheetColours& colours_;
    double y_ = 0;
};

QString name_of(const Section& section, int space) {
    if (space < 0 || space >= static_cast<int>(section.spaces.size())) return {};
    const Space& s = section.spaces[static_cast<std::size_t>(space)];
    return QString::fromStdString(s.name.empty() ? s.id : s.name);
}

void paint_head(QPainter& painter, double width, const Study& study, const Findings& findings, const SheetColours& colours) {
    const double room = width - 2 * page_margin;
    const QString title = QString::fromStdString(study.title), variant = QString::fromStdString(findings.variant_name);
    const auto row = [&](double y, double pixels, bool bold, const QString& text, QColor ink) {
        const QFont font = sheet_font(pixels, bold);
        painter.setFont(font);
        painter.setPen(ink);
        painter.drawText(QRectF(page_margin, y, room, pixels * 1.5), Qt::AlignVCenter | Qt::TextDontClip,
                         QFontMetricsF(font).elidedText(text, Qt::ElideRight, room));
    };
    row(10, 20, true, title.isEmpty() ? variant : title, colours.ink);
    if (!title.isEmpty()) row(38, 14, false, variant, colours.faint);
}

void write_numbers(Column& column, const Section& section, const Findings& findings, const SheetColours& colours) {
    if (const Psi* psi = findings.headline_psi()) {
        const QString lengths = words(psi->lengths == LengthSystem::internal ? "picture-lengths-internal" : "picture-lengths-external");
        column.line(words("picture-psi", {{"from", name_of(section, psi->a).toStdString()}, {"to", name_of(section, psi->b).toStdString()},
                                          {"lengths", lengths.toStdString()}}), 12, false, colours.faint);
        if (psi->value) {
            column.line(QStringLiteral("Ψ %1 W/(m·K)").arg(QString::fromStdString(with_bracket(*psi->value))), 17, true, colours.ink);
            column.line(words("picture-bracket"), 11, false, colours.faint);
        } else {
            column.line(words(psi->reason), 12, false, colours.ink);
        }
        column.space(8);
    }
    if (const SurfaceFinding* surface = findings.headline_surface()) {
        column.line(words("picture-surface", {{"space", name_of(section, surface->space).toStdString()}}), 12, false, colours.faint);
        QString text = number(surface->lowest, 1) + QStringLiteral(" °C");
        if (surface->fRsi) text += QStringLiteral("   fRsi ") + QString::number(*surface->fRsi, 'f', 3);
        column.line(text, 17, true, colours.ink);
        column.space(8);
    }
}

void write_materials(Column& column, const Study& study, const Section& section, const SheetColours& colours) {
    column.line(words("picture-materials"), 12, false, colours.faint);
    std::map<MaterialKind, int> met;
    std::vector<std::string> seen;
    std::vector<std::pair<const Material*, int>> rows;
    for (const Piece& piece : section.pieces) {
        const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
        if (material == nullptr || std::find(seen.begin(), seen.end(), material->id) != seen.end()) continue;
        seen.push_back(material->id);
        rows.emplace_back(material, met[material->kind]++ % 4);
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (column.left() < 52 && i + 1 < rows.size()) {
            column.line(words("picture-more", {{"count", std::to_string(rows.size() - i)}}), 12, false, colours.faint);
            return;
        }
        column.swatch(hatch_of(rows[i].first->kind), rows[i].second, QString::fromStdString(rows[i].first->name));
    }
}

TemperatureRange range_of(const Findings& findings) {
    if (findings.temperatures.empty()) return {};
    const auto [low, high] = std::minmax_element(findings.temperatures.begin(), findings.temperatures.end());
    return *high > *low ? TemperatureRange{*low, *high} : TemperatureRange{*low - 0.5, *low + 0.5};
}

void paint_lowest(QPainter& painter, const View& view, const SurfaceFinding& surface, const SheetColours& colours, LabelPlaces& places) {
    const QPointF p = view.to_pixels(surface.at[0] / 1000, surface.at[1] / 1000);
    if (!places.bounds().contains(p)) return;
    painter.setPen(QPen(colours.paper, 4.5));
    painter.drawEllipse(p, 6, 6);
    painter.setPen(QPen(colours.ink, 2));
    painter.drawEllipse(p, 6, 6);
    const QFont font = sheet_font(12, true);
    const QString text = words("mark-lowest", {{"temperature", number(surface.lowest, 1).toStdString()}});
    const QSizeF size = label_size(font, text);
    const double w = size.width() / 2 + 11, h = size.height() / 2 + 11;
    const QRectF where = places.take_anyway(size, {p + QPointF(-w, -h), p + QPointF(w, -h), p + QPointF(-w, h), p + QPointF(w, h),
                                                   p + QPointF(-w, -2.4 * h), p + QPointF(w, -2.4 * h)});
    paint_label(painter, where, text, font, colours.ink, colours.label_back);
}

}  // namespace

void paint_picture(QPainter& painter, const Study& study, const Findings& findings, const PictureOptions& options) {
    if (!findings.section || options.size.isEmpty()) return;
    const Section& section = *findings.section;
    // Everything is laid out on a page at least 1066 × 800 and scaled: text keeps its share of the picture.
    const double scale = std::min(options.size.width() / 1066.0, options.size.height() / 800.0);
    const QSizeF page(options.size.width() / scale, options.size.height() / scale);
    const SheetColours& colours = options.colours;
    const bool heat = options.heat && findings.solution != nullptr;
    painter.save();
    painter.scale(scale, scale);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF(QPointF(), page), colours.paper);
    paint_head(painter, page.width(), study, findings, colours);

    const QRectF sheet(page_margin, head_height, page.width() - column_width - 3 * page_margin, page.height() - head_height - page_margin - 34);
    const View view = View::fitting(section.cut, sheet.size(), 0.005);
    painter.save();
    painter.translate(sheet.topLeft());
    const QRectF shown = QRectF(view.to_pixels({section.cut.left, section.cut.top}), view.to_pixels({section.cut.right, section.cut.bottom})) &
                         QRectF(QPointF(), sheet.size());
    LabelPlaces places(shown.adjusted(2, 2, -2, -2));
    const SectionLook look{colours, !heat, true, false};
    const TemperatureRange range = range_of(findings);
    double kelvins = 0, watts = 0;
    if (heat) {
        // The map is cut at the section by taking that part of the image: the SVG painter cannot clip.
        const double ratio = scale * options.pixel_ratio;
        const QImage map = heat_map(view, ratio, *findings.solution, findings.temperatures, range);
        const QRect part = QRectF(shown.topLeft() * ratio, shown.size() * ratio).toAlignedRect() & QRect(QPoint(), map.size());
        QImage cut = map.copy(part);
        cut.setDevicePixelRatio(1);
        painter.drawImage(QRectF(QPointF(part.topLeft()) / ratio, QSizeF(part.size()) / ratio), cut);
    }
    paint_section_body(painter, view, study, section, &findings.arrangement, look);
    if (heat) watts = paint_heat_flow_lines(painter, view, *findings.solution, findings.temperatures, colours, shown);
    const SurfaceFinding* lowest = heat ? findings.headline_surface() : nullptr;
    if (lowest != nullptr) {
        const QPointF p = view.to_pixels(lowest->at[0] / 1000, lowest->at[1] / 1000);
        places.reserve(QRectF(p.x() - 8, p.y() - 8, 16, 16));
    }
    // Marks claim their places before the isotherms' labels do, but are painted over the lines.
    LabelPlaces for_lines = places;
    {
        QImage nowhere(1, 1, QImage::Format_ARGB32_Premultiplied);
        QPainter trial(&nowhere);
        paint_section_marks(trial, view, study, section, &findings.arrangement, look, for_lines);
        if (lowest != nullptr) paint_lowest(trial, view, *lowest, colours, for_lines);
    }
    if (heat) kelvins = paint_isotherms(painter, view, *findings.solution, findings.temperatures, range, colours, shown, for_lines);
    paint_section_marks(painter, view, study, section, &findings.arrangement, look, places);
    if (lowest != nullptr) paint_lowest(painter, view, *lowest, colours, places);
    painter.restore();
    paint_scale_bar(painter, QPointF(sheet.left() + shown.left(), page.height() - page_margin + 6), view, colours);

    Column column(painter, QRectF(page.width() - column_width - page_margin, head_height, column_width, page.height() - head_height - page_margin), colours);
    write_numbers(column, section, findings, colours);
    if (heat) {
        column.space(6);
        paint_key(painter, column.block(300), range, colours);
        column.space(12);
        column.sample(isotherm_pen(colours), words("key-isotherms", {{"step", number(kelvins, 3).toStdString()}}), false);
        if (watts > 0) column.sample(heat_flow_pen(colours), words("key-heat-flow", {{"watts", number(watts, 6).toStdString()}}), true);
    } else {
        column.space(6);
        write_materials(column, study, section, colours);
    }
    painter.restore();
}

}  // namespace wallfoot
