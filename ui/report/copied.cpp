// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/copied.hpp"

#include <QPainter>
#include <QStringList>
#include <cmath>

#include "ui/report/strips.hpp"

namespace wallfoot {

namespace {

constexpr double pixel_per_inch = 96, mm_per_inch = 25.4, widest_mm = 170;  // what fits on A4

QString cell_text(const std::string& cell) { return QString::fromStdString(cell).simplified(); }

template <class Row>
QString tabbed_line(const Row& cells) {
    QStringList texts;
    for (const std::string& cell : cells) texts << cell_text(cell);
    return texts.join(QLatin1Char('\t')) + QLatin1Char('\n');
}

template <class Row>
QString html_row(const Row& cells, const std::vector<bool>& figures, const char* tag) {
    QString row = QStringLiteral("<tr>");
    for (std::size_t i = 0; i < cells.size(); ++i)
        row += QStringLiteral("<%1%2>%3</%1>").arg(QLatin1String(tag), QLatin1String(i < figures.size() && figures[i] ? " align=\"right\"" : ""), cell_text(cells[i]).toHtmlEscaped());
    return row + QStringLiteral("</tr>\n");
}

}  // namespace

QString table_as_text(const ReportTable& table) {
    QString text = tabbed_line(table.head);
    for (const auto& row : table.rows) text += tabbed_line(row);
    return text;
}

QString table_as_html(const ReportTable& table) {
    QString html = QStringLiteral("<table border=\"1\" cellspacing=\"0\" cellpadding=\"3\">\n");
    if (!table.caption.empty()) html += QStringLiteral("<caption>%1</caption>\n").arg(cell_text(table.caption).toHtmlEscaped());
    html += html_row(table.head, table.figures, "th");
    for (const auto& row : table.rows) html += html_row(row, table.figures, "td");
    return html + QStringLiteral("</table>\n");
}

QImage picture_as_image(const std::shared_ptr<const ReportSource>& source, const ReportPicture& picture, int dots_per_inch) {
    constexpr double widest = widest_mm / mm_per_inch * pixel_per_inch;
    double scale = 1;
    if (picture.shows != ReportPicture::Shows::key)
        while (picture_size(*source, picture, scale).width() > widest) scale *= 1.05;
    const double width = picture.shows == ReportPicture::Shows::key ? widest : picture_size(*source, picture, scale).width(), ratio = dots_per_inch / pixel_per_inch;
    const Strip strip = picture_strip(source, picture, width, scale, ratio);
    QImage image(static_cast<int>(std::ceil(width * ratio)), static_cast<int>(std::ceil(strip.height * ratio)), QImage::Format_RGB32);
    if (image.isNull()) return image;
    image.fill(Qt::white);
    image.setDotsPerMeterX(static_cast<int>(std::lround(dots_per_inch / mm_per_inch * 1000)));
    image.setDotsPerMeterY(image.dotsPerMeterX());
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.scale(ratio, ratio);
    strip.paint(painter);
    return image;
}

std::vector<CopyablePart> copyable_parts(const Report& report) {
    std::vector<CopyablePart> parts;
    QString first, second;
    for (std::size_t i = 0; i < report.items.size(); ++i) {
        const ReportItem& item = report.items[i];
        if (const auto* heading = std::get_if<ReportHeading>(&item)) {
            (heading->level == 1 ? first : second) = cell_text(heading->text);
            if (heading->level == 1) second.clear();
            continue;
        }
        const auto* table = std::get_if<ReportTable>(&item);
        const auto* picture = std::get_if<ReportPicture>(&item);
        if (!table && !picture) continue;
        const QString caption = cell_text(table ? table->caption : picture->caption);
        QStringList name;
        for (const QString& part : {second, caption})
            if (!part.isEmpty()) name << part;
        parts.push_back({i, first.isEmpty() ? QString::fromStdString(report.title) : first, name.isEmpty() ? first : name.join(QStringLiteral(": "))});
    }
    return parts;
}

}  // namespace wallfoot
