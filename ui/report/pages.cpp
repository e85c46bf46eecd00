// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/pages.hpp"

#include <QBuffer>
#include <QPdfWriter>
#include <QSvgGenerator>
#include <array>
#include <stdexcept>

#include "solver/report/parts.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/report/letterhead.hpp"
#include "ui/report/strips.hpp"

namespace wallfoot {

namespace {

constexpr double margin = paper_margin_mm * pixels_per_paper_mm, head_room = 26, foot_room = 34, office_foot_step = 13;
const QColor ink(0x1b, 0x1b, 0x1b), faint(0x55, 0x55, 0x55);
/// 1 : these, the usual scales of drawings.
constexpr std::array scales{2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0, 1000.0};

/// 100 mm on paper, to check that a printer kept the scale.
void paint_check_bar(QPainter& painter, QPointF at) {
    const double length = 100 * pixels_per_paper_mm;
    painter.setPen(QPen(ink, 1));
    painter.drawLine(at, at + QPointF(length, 0));
    for (int i = 0; i <= 10; ++i) painter.drawLine(at + QPointF(i * length / 10, i % 5 == 0 ? -6 : -3), at + QPointF(i * length / 10, 0));
    painter.setFont(sheet_font(9));
    painter.drawText(QRectF(at.x() + length + 6, at.y() - 10, 220, 14), Qt::AlignVCenter | Qt::TextDontClip, caption("report-check-bar"));
}

}  // namespace

ReportPages::ReportPages(Report report, std::shared_ptr<const ReportSource> source, QPageSize::PageSizeId paper, bool one_page)
    : report_(std::move(report)), source_(std::move(source)), size_(QPageSize(paper).size(QPageSize::Millimeter) * pixels_per_paper_mm), letterhead_(report_.office ? letterhead_height(*report_.office, size_.width() - 2 * margin) : 0) {
    choose_scale();
    lay_out(1, false);
    // Letters of 12 pixels are 9 points.
    for (const bool run_on : {false, true})
        for (const double zoom : {1.0, 0.96, 0.92, 8.0 / 9}) {
            if (!one_page || count() == 1) return;
            lay_out(zoom, true, run_on);
        }
    if (one_page && count() > 1) lay_out(1, false);
}

/// `close`: half the room between paragraphs.
void ReportPages::lay_out(double zoom, bool close, bool run_on) {
    zoom_ = zoom;
    strips_.clear();
    tags_.clear();
    if (report_.office && report_.office->logo)
        logo_tag_ = add_tag(&tags_, {.kind = "Figure", .words = report_.office->office.empty() ? report_part::say("template-logo") : report_part::say("template-logo-of", {{"office", report_.office->office}})});
    if (report_.office && report_.office->has_head()) office_tag_ = add_tag(&tags_, {.kind = "P"});
    title_tag_ = add_tag(&tags_, {.kind = "H1"});
    if (letterhead_ > 0) {  // its room on the first page; painted with the head of the page
        Strip room;
        room.height = letterhead_ / zoom_;
        room.keep_with_next = true;
        strips_.push_back(std::move(room));
    }
    add_strips(run_on);
    for (Strip& strip : strips_) strip.before *= close ? 0.5 : 1;
    const auto foot_lines = report_.office ? office_foot_lines(*report_.office, size_.width() - 2 * margin).size() : 0;
    const double foot_line = foot_lines > 0 ? 10 + office_foot_step * static_cast<double>(foot_lines - 1) : 0;
    pages_ = flow(strips_, (size_.height() - 2 * margin - head_room - foot_room - foot_line) / zoom_);
}

/// One scale for all pictures: the largest at which one fits on a page with room for a heading, or of several two.
void ReportPages::choose_scale() {
    const double width = size_.width() - 2 * margin, height = (size_.height() - 2 * margin - head_room - foot_room) * (source_->findings.size() > 1 ? 0.49 : 0.75);
    for (const double scale : scales) {
        scale_ = scale;
        bool fits = true;
        for (const auto& item : report_.items)
            if (const auto* picture = std::get_if<ReportPicture>(&item); picture && picture->shows != ReportPicture::Shows::key) {
                const QSizeF size = picture_size(*source_, *picture, scale);
                fits = fits && size.width() <= width && size.height() <= height;
            }
        if (fits) return;
    }
}

namespace {

/// The points below a heading as one paragraph each; cautions stay by themselves.
std::vector<ReportItem> run_on_items(const std::vector<ReportItem>& items) {
    std::vector<ReportItem> joined;
    int headings = 0;  // the answer itself, below the first, keeps its paragraphs
    for (const ReportItem& item : items) {
        const auto* text = std::get_if<ReportText>(&item);
        auto* before = joined.empty() ? nullptr : std::get_if<ReportText>(&joined.back());
        headings += std::holds_alternative<ReportHeading>(item);
        if (headings > 1 && text && before && !text->caution && !before->caution) before->text += "  •  " + text->text;
        else joined.push_back(item);
    }
    return joined;
}

}  // namespace

void ReportPages::add_strips(bool run_on) {
    const double width = (size_.width() - 2 * margin) / zoom_;
    const auto add = [&](std::vector<Strip> more) {
        for (auto& strip : more) strips_.push_back(std::move(strip));
    };
    const auto items = run_on ? run_on_items(report_.items) : report_.items;
    bool after_picture = false;
    for (const auto& item : items) {
        const bool is_picture = std::holds_alternative<ReportPicture>(item);
        if (const auto* heading = std::get_if<ReportHeading>(&item)) add(heading_strips(*heading, width, &tags_));
        else if (const auto* text = std::get_if<ReportText>(&item)) add(text_strips(*text, width, &tags_));
        else if (const auto* table = std::get_if<ReportTable>(&item)) add(table_strips(*table, width, &tags_));
        else if (!strips_.empty() && !after_picture) strips_.back().keep_with_next = true;  // what leads to a picture stays with it
        after_picture = is_picture;
        if (is_picture) strips_.push_back(picture_strip(source_, std::get<ReportPicture>(item), width, scale_, 3, &tags_));
    }
}

void ReportPages::paint(QPainter& painter, int page) const {
    painter.save();
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing | QPainter::LosslessImageRendering);
    const QRectF inner = QRectF(QPointF(), size_).adjusted(margin, margin, -margin, -margin);
    const bool first = page == 0;
    if (first && report_.office) paint_letterhead(painter, *report_.office, QRectF(inner.left(), inner.top() - 10, inner.width(), letterhead_), logo_tag_, office_tag_);
    const double title_top = inner.top() - (first ? 10 - letterhead_ : 0);
    painter.setPen(first ? ink : faint);
    const QFont title = sheet_font(first ? 20 : 10, first);
    painter.setFont(title);
    if (first) begin_tag(painter, title_tag_);
    painter.drawText(QRectF(inner.left(), title_top, inner.width(), head_room), Qt::AlignLeft | Qt::AlignTop | Qt::TextDontClip,
                     QFontMetricsF(title).elidedText(QString::fromStdString(report_.title), Qt::ElideRight, inner.width()));
    if (first) end_tag(painter, title_tag_);
    painter.setPen(faint);
    painter.setFont(office_foot_font());
    const QRectF foot(inner.left(), inner.bottom() - 14, inner.width(), 14);
    painter.drawText(foot, Qt::AlignRight | Qt::AlignVCenter, caption("report-page", {{"page", std::to_string(page + 1)}, {"pages", std::to_string(count())}}));
    if (report_.office) {
        double up = 16;
        const QStringList lines = office_foot_lines(*report_.office, foot.width());
        for (auto line = lines.rbegin(); line != lines.rend(); ++line, up += office_foot_step) painter.drawText(foot.translated(0, -up), Qt::AlignLeft | Qt::AlignVCenter | Qt::TextDontClip, *line);
    }
    if (first) paint_check_bar(painter, QPointF(inner.left(), inner.bottom() - 2));
    else painter.drawText(foot, Qt::AlignLeft | Qt::AlignVCenter, QString::fromStdString(report_.program + ", " + report_.date));
    painter.translate(inner.topLeft() + QPointF(0, head_room));
    painter.scale(zoom_, zoom_);
    for (const auto& placed : pages_[static_cast<std::size_t>(page)]) {
        painter.save();
        painter.translate(0, placed.y);
        placed.paint(painter);
        painter.restore();
    }
    painter.restore();
}

QByteArray report_pdf(const ReportPages& pages, const QByteArray& study, const QString& study_name) {
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    constexpr int dots = 1200;
    writer.setResolution(dots);
    writer.setPageSize(QPageSize(pages.size() / pixels_per_paper_mm, QPageSize::Millimeter, {}, QPageSize::FuzzyMatch));
    writer.setPageMargins({});
    writer.setTitle(QString::fromStdString(pages.report().title));
    writer.setCreator(QString::fromStdString(pages.report().program));
    if (!study.isEmpty()) writer.addFileAttachment(study_name, study, QStringLiteral("application/json"));
    QPainter painter(&writer);
    if (!painter.isActive()) throw std::runtime_error("PDF");
    painter.scale(dots / 96.0, dots / 96.0);
    for (int page = 0; page < pages.count(); ++page) {
        if (page > 0) writer.newPage();
        pages.paint(painter, page);
    }
    painter.end();
    return with_tags(bytes, "en-GB", pages.tags());
}

QByteArray report_picture_svg(const ReportSource& source, const ReportPicture& picture) {
    const auto shared = std::make_shared<const ReportSource>(source);
    constexpr double width = 900;
    double scale = 1;
    while (picture.shows != ReportPicture::Shows::key && (picture_size(source, picture, scale).width() > width || picture_size(source, picture, scale).height() > width)) scale *= 1.05;
    const QSizeF size = picture_size(source, picture, scale);
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QSvgGenerator generator;
    generator.setOutputDevice(&buffer);
    generator.setResolution(96);
    generator.setSize(size.toSize());
    generator.setViewBox(QRectF(QPointF(), size));
    QPainter painter(&generator);
    painter.setRenderHint(QPainter::Antialiasing);
    picture_strip(shared, picture, size.width(), scale, 1.5).paint(painter);
    painter.end();
    return bytes;
}

}  // namespace wallfoot
