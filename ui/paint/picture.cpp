// SPDX-License-Identifier: GPL-3.0-or-later
#include <QFontMetricsF>
#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "ui/paint/field_lines.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/heat_lines.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"
#include "ui/paint/variant_picture.hpp"

namespace wallfoot {
namespace {

constexpr double page_margin = 20, head_height = 62, column_width = 268;

/// Writes the column of numbers and keys from top to bottom.
class Column {
  public:
    Column(QPainter& painter, QRectF area, const SheetColours& colours)
        : painter_(painter), area_(area), colours_(colours) {}

    void line(const QString& text, double pixels, bool bold, QColor ink) {
        const QFont font = sheet_font(pixels, bold);
        const QFontMetricsF metrics(font);
        // Wrapped, never cut off.
        const QRectF box = metrics.boundingRect(QRectF(0, 0, area_.width(), 1000), Qt::TextWordWrap, text);
        if (y_ + box.height() > area_.height()) return;
        painter_.setFont(font);
        painter_.setPen(ink);
        painter_.drawText(QRectF(area_.left(), area_.top() + y_, area_.width(), box.height() + 2),
                          Qt::TextWordWrap | Qt::TextDontClip, text);
        y_ += box.height() + 3;
    }
    /// A value with its unit on one line, smaller where the column is narrow.
    void value(const QString& text, QColor ink) {
        double pixels = 17;
        while (pixels > 11 && QFontMetricsF(sheet_font(pixels, true)).horizontalAdvance(text) > area_.width()) pixels -= 1;
        const QFont font = sheet_font(pixels, true);
        const double height = QFontMetricsF(font).height();
        if (y_ + height > area_.height()) return;
        painter_.setFont(font);
        painter_.setPen(ink);
        painter_.drawText(QRectF(area_.left(), area_.top() + y_, area_.width(), height + 2), Qt::TextSingleLine | Qt::TextDontClip, text);
        y_ += height + 3;
    }
    void space(double pixels) { y_ += pixels; }
    void move_to(QRectF area) { area_ = area, y_ = 0; }
    QRectF block(double height) {
        const QRectF rect(area_.left(), area_.top() + y_, area_.width(), height);
        y_ += height;
        return rect;
    }
    double left() const { return area_.height() - y_; }
    void sample(const QPen& pen, const QString& text, bool arrow) {
        const QRectF row = block(30);
        paint_line_sample(painter_, QRectF(row.left(), row.top() + 6, 44, row.height() - 12), pen, arrow);
        text_right_of(row, 54, text);
    }
    void swatch(const Hatch& hatch, int turn, const QString& name) {
        const QRectF row = block(30), box(row.left(), row.top() + 2, 44, 26);
        paint_hatch(painter_, {QPolygonF{box.topLeft(), box.topRight(), box.bottomRight(), box.bottomLeft()}}, hatch,
                    turn, box.topLeft(), colours_);
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
        const QFontMetricsF metrics(font);
        const bool two_lines = metrics.boundingRect(QRectF(0, 0, box.width(), 1000), Qt::TextWordWrap, text).height() <= row.height();
        painter_.drawText(box, Qt::AlignVCenter | Qt::TextDontClip | (two_lines ? Qt::TextWordWrap : Qt::TextSingleLine),
                          two_lines ? text : metrics.elidedText(text, Qt::ElideRight, box.width()));
    }
    QPainter& painter_;
    QRectF area_;
    const SheetColours& colours_;
    double y_ = 0;
};

QString name_of(const Section& section, int space) {
    if (space < 0 || space >= static_cast<int>(section.spaces.size())) return {};
    return space_name(section, section.spaces[static_cast<std::size_t>(space)]);
}

void paint_head(QPainter& painter, double width, const Study& study, const Findings& findings,
                const SheetColours& colours) {
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
        const QString lengths =
            caption(psi->lengths == LengthSystem::internal ? "picture-lengths-internal" : "picture-lengths-external");
        column.line(caption("picture-psi", {{"from", name_of(section, psi->a).toStdString()},
                                            {"to", name_of(section, psi->b).toStdString()},
                                            {"lengths", lengths.toStdString()}}),
                    12, false, colours.faint);
        if (psi->value) {
            column.value(QStringLiteral("Ψ %1 W/(m·K)").arg(QString::fromStdString(with_bracket(*psi->value))), colours.ink);
            column.line(caption("picture-bracket"), 11, false, colours.faint);
        } else {
            column.line(QString::fromStdString(why_missing(findings, psi->a, psi->b, psi->lengths, psi->reason)), 12, false, colours.ink);
        }
        column.space(8);
    }
    if (const SurfaceFinding* surface = findings.headline_surface()) {
        column.line(caption("picture-surface", {{"space", name_of(section, surface->space).toStdString()}}), 12, false,
                    colours.faint);
        QString text = number(surface->lowest, 1) + QStringLiteral(" °C");
        if (surface->fRsi) text += QStringLiteral("   fRsi ") + QString::number(*surface->fRsi, 'f', 3);
        column.value(text, colours.ink);
        column.space(8);
    }
}

void write_materials(Column& column, const Study& study, const Section& section, const SheetColours& colours) {
    column.line(caption("picture-materials"), 12, false, colours.faint);
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
            column.line(caption("picture-more", {{"count", std::to_string(rows.size() - i)}}), 12, false,
                        colours.faint);
            return;
        }
        column.swatch(hatch_of(rows[i].first->kind), rows[i].second, QString::fromStdString(rows[i].first->name));
    }
}

/// Where things stand on the page: numbers and keys beside the drawing, or below it on a picture higher than wide.
struct Layout {
    double scale = 1;
    QSizeF page;
    QRectF sheet, numbers, keys;
    bool upright = false;
};

Layout layout_of(QSize size, const Rect& cut) {
    Layout l;
    l.upright = size.height() > size.width();
    // The page is at least 1066 × 800 (or 800 × 1066) and scaled: text keeps its share of the picture.
    l.scale = l.upright ? std::min(size.width() / 800.0, size.height() / 1066.0)
                        : std::min(size.width() / 1066.0, size.height() / 800.0);
    l.page = QSizeF(size) / l.scale;
    const double inner = l.page.width() - 2 * page_margin, height = l.page.height() - head_height - page_margin;
    const double below = l.upright ? 380 : 44;
    const QSizeF room(l.upright ? inner : inner - column_width - page_margin, height - below);
    const double fit = std::min(room.width() / to_mm(cut.width()), room.height() / to_mm(cut.height()));
    l.sheet = QRectF(page_margin, head_height, room.width(), std::min(room.height(), fit * to_mm(cut.height())));
    if (l.upright) {
        const double top = l.sheet.bottom() + 56, half = (inner - page_margin) / 2;
        l.numbers = QRectF(page_margin, top, half, l.page.height() - top - page_margin);
        l.keys = l.numbers.translated(half + page_margin, 0);
    } else {
        l.numbers = QRectF(l.page.width() - column_width - page_margin, head_height, column_width, height);
    }
    return l;
}

}  // namespace

void paint_picture(QPainter& painter, const Study& study, const Findings& findings, const PictureOptions& options) {
    if (!findings.section || options.size.isEmpty()) return;
    const Section& section = *findings.section;
    const SheetColours& colours = options.colours;
    const Layout layout = layout_of(options.size, section.cut);
    painter.save();
    painter.scale(layout.scale, layout.scale);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillRect(QRectF(QPointF(), layout.page), colours.paper);
    paint_head(painter, layout.page.width(), study, findings, colours);

    const View view = View::fitting(section.cut, layout.sheet.size(), 0.003);
    const QRectF shown = cut_in_pixels(view, section) & QRectF(QPointF(), layout.sheet.size());
    painter.save();
    painter.translate(layout.sheet.topLeft());
    const LineSteps steps = paint_variant(painter, view, study, findings, options.heat, range_of(findings), colours, shown, layout.scale * options.pixel_ratio);
    painter.restore();
    paint_scale_bar(painter, QPointF(layout.sheet.left() + shown.left(), layout.sheet.bottom() + 40), view, colours);

    Column column(painter, layout.numbers, colours);
    write_numbers(column, section, findings, colours);
    if (layout.upright)
        column.move_to(layout.keys);
    else
        column.space(6);
    if (steps.kelvins > 0) {
        paint_key(painter, column.block(layout.upright ? 64 : 300), range_of(findings), colours);
        column.space(12);
        column.sample(isotherm_pen(), caption("key-isotherms", {{"step", number(steps.kelvins, 3).toStdString()}}),
                      false);
        if (steps.watts > 0)
            column.sample(heat_flow_pen(), caption("key-heat-flow", {{"watts", number(steps.watts, 6).toStdString()}}),
                          true);
    } else {
        write_materials(column, study, section, colours);
    }
    painter.restore();
}

}  // namespace wallfoot
