// SPDX-License-Identifier: GPL-3.0-or-later
#include <QBuffer>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QPdfWriter>
#include <QTextDocument>
#include <array>
#include <stdexcept>

#include "core/resources/resources.hpp"
#include "core/study/names.hpp"
#include "solver/lesson/lesson_answer.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/heat_lines.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/section_marks.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/teach/lesson_files.hpp"
#include "ui/teach/lesson_picture.hpp"

// Worksheets for a class. Lengths in pixels of 1/96 inch.
namespace wallfoot {

namespace {

constexpr double sheet_margin = 15 * pixels_per_paper_mm;
constexpr std::array sheet_scales{2.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0, 1000.0};

struct SheetOf {
    const LessonSource& source;
    std::shared_ptr<const Findings> findings;
    QSizeF size;
    QRectF inner() const { return QRectF(QPointF(), size).adjusted(sheet_margin, sheet_margin, -sheet_margin, -sheet_margin); }
    /// Room for the section on a page.
    QSizeF room() const { return {inner().width(), inner().height() - 110}; }
    /// What has to be seen, mm: where the lesson first looks closer, else the whole cut.
    QRectF wanted() const {
        const Rect& cut = findings->section->cut;
        const QRectF whole(to_mm(cut.left), to_mm(cut.bottom), to_mm(cut.width()), to_mm(cut.height()));
        for (const LessonStep& step : source.lesson.steps) {
            if (!step.centre || !step.width) continue;
            const double side = to_mm(*step.width);
            const QRectF part = QRectF(to_mm(step.centre->x) - side / 2, to_mm(step.centre->y) - side / 2, side, side) & whole;
            if (!part.isEmpty()) return part;
        }
        return whole;
    }
    /// The largest usual scale at which that fits: layers are to be drawn in.
    double scale() const {
        for (const double scale : sheet_scales)
            if (wanted().width() / scale * pixels_per_paper_mm <= room().width() && wanted().height() / scale * pixels_per_paper_mm <= room().height()) return scale;
        return sheet_scales.back();
    }
    /// What is shown, mm: as much around it as the page and the cut have.
    QRectF shown() const {
        const Rect& cut = findings->section->cut;
        const QSizeF size = room() / pixels_per_paper_mm * scale();
        return QRectF(wanted().center() - QPointF(size.width() / 2, size.height() / 2), size) & QRectF(to_mm(cut.left), to_mm(cut.bottom), to_mm(cut.width()), to_mm(cut.height()));
    }
};

/// The spaces and how warm they are; their marks may lie outside what is shown.
QString spaces_line(const Findings& findings) {
    QStringList parts;
    for (std::size_t i = 0; i < findings.section->spaces.size() && i < findings.temperatures.size(); ++i)
        parts << QString::fromStdString(shown_name(*findings.section, findings.section->spaces[i])) + QStringLiteral(" ") + number(findings.temperatures[i], 1) + QStringLiteral(" °C");
    return parts.join(QStringLiteral(", "));
}

void section_sheet(QPainter& painter, const SheetOf& sheet, bool answer) {
    const QRectF inner = sheet.inner();
    const Section& section = *sheet.findings->section;
    const double scale = sheet.scale();
    View view;
    view.pixels_per_mm = pixels_per_paper_mm / scale;
    const QRectF part = sheet.shown();
    view.viewport = part.size() * view.pixels_per_mm;
    view.centre_mm = part.center();
    const QRectF shown(QPointF(), view.viewport);
    painter.save();
    painter.translate(inner.left() + (inner.width() - shown.width()) / 2, inner.top() + 76);
    painter.setClipRect(shown);
    SectionLook look;
    look.hatches = false;
    LabelPlaces places(shown.adjusted(2, 2, -2, -2));
    LineSteps steps;
    if (answer) {
        const TemperatureRange range = range_of(*sheet.findings);
        const QImage map = heat_map(view, 2, *sheet.findings->solution, sheet.findings->temperatures, range);
        painter.drawImage(shown, map);
        HeatLook heat;
        heat.range = range;
        heat.flow_lines = false;
        heat.lowest = sheet.findings->headline_surface();
        steps = paint_over_heat(painter, view, *sheet.source.study, section, &sheet.findings->arrangement, *sheet.findings, look, heat, shown, places);
    } else {
        paint_section_body(painter, view, *sheet.source.study, section, &sheet.findings->arrangement, look);
        paint_section_marks(painter, view, *sheet.source.study, section, &sheet.findings->arrangement, look, places);
    }
    painter.setClipping(false);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(SheetColours::light().faint, 0.8));
    painter.drawRect(shown);
    painter.restore();
    const std::string variant = sheet.findings->variant_name;
    painter.setPen(SheetColours::light().ink);
    painter.setFont(sheet_font(15, true));
    painter.drawText(QRectF(inner.left(), inner.top(), inner.width(), 44), Qt::AlignLeft | Qt::AlignTop | Qt::TextWordWrap,
                     answer ? caption("pack-answer", {{"step", number(steps.kelvins, 2).toStdString()}, {"variant", variant}}) : caption("pack-blank", {{"variant", variant}}));
    painter.setFont(sheet_font(11));
    painter.drawText(QRectF(inner.left(), inner.top() + 46, inner.width(), 18), Qt::AlignRight | Qt::AlignTop, caption("pack-scale", {{"scale", number(scale, 0).toStdString()}}));
    painter.drawText(QRectF(inner.left(), inner.top() + 46, inner.width() - 90, 28), Qt::AlignLeft | Qt::AlignTop | Qt::TextWordWrap, spaces_line(*sheet.findings));
    if (!answer) painter.drawText(QRectF(inner.left(), inner.bottom() - 26, inner.width(), 26), Qt::AlignLeft | Qt::TextWordWrap, caption("pack-draw-hint"));
}

QString glossary_html() {
    QString html = QStringLiteral("<h2>%1</h2>").arg(caption("pack-glossary").toHtmlEscaped());
    for (const auto& entry : QJsonDocument::fromJson(QByteArray::fromStdString(resource("lessons/glossary.json"))).array())
        html += QStringLiteral("<p><b>%1</b><br/>%2</p>").arg(entry.toObject().value(QStringLiteral("term")).toString().toHtmlEscaped(), entry.toObject().value(QStringLiteral("words")).toString().toHtmlEscaped());
    return html;
}

QString tally_html(const LessonSource& source) {
    QString html = QStringLiteral("<h2>%1</h2><p>%2</p>").arg(caption("pack-tally", {{"lesson", source.lesson.title}}).toHtmlEscaped(), caption("pack-no-names").toHtmlEscaped());
    const QString boxes = QStringLiteral("□ ").repeated(20);
    const auto name = [&](const std::string& id) {
        const Variant* variant = source.study->find_variant(id);
        return variant ? variant->name : id;
    };
    int number_of = 0;
    for (const LessonStep& step : source.lesson.steps) {
        if (!step.question) continue;
        html += QStringLiteral("<p><b>%1. %2</b></p>").arg(++number_of).arg(QString::fromStdString(question_text(*step.question, name(step.variant), name(step.question->other))).toHtmlEscaped());
        const auto options = question_options(*step.question, name(step.variant), name(step.question->other));
        for (const auto& option : options) html += QStringLiteral("<p>%1<br/>%2</p>").arg(QString::fromStdString(option).toHtmlEscaped(), boxes);
        if (options.empty()) html += QStringLiteral("<p>%1</p>").arg(QStringLiteral("________ &nbsp; ").repeated(8));
    }
    return html;
}

/// For who leads the class: each question with what is said to it.
QString answers_html(const LessonSource& source) {
    const auto found = [&](const std::string& id) -> const Findings* {
        for (std::size_t v = 0; v < source.study->variants.size() && v < source.findings.size(); ++v)
            if (source.study->variants[v].id == id || source.study->variants[v].name == id) return source.findings[v].get();
        return nullptr;
    };
    QString html = QStringLiteral("<h2>%1</h2>").arg(caption("pack-answers", {{"lesson", source.lesson.title}}).toHtmlEscaped());
    int number_of = 0;
    for (const LessonStep& step : source.lesson.steps) {
        if (!step.question) continue;
        const Findings *shown = found(step.variant), *other = found(step.question->other);
        const auto name = [](const Findings* of) { return of ? of->variant_name : std::string(); };
        html += QStringLiteral("<p><b>%1. %2</b></p>").arg(++number_of).arg(QString::fromStdString(question_text(*step.question, name(shown), name(other))).toHtmlEscaped());
        if (!shown) continue;
        LessonAnswer answer = lesson_answer(*step.question, *shown, other);
        say_everyday_difference(*source.study, *shown, answer);
        for (const Message& message : answer.says) html += QStringLiteral("<p>%1</p>").arg(QString::fromStdString(english(message)).toHtmlEscaped());
    }
    return number_of > 0 ? html : QString();
}

/// Text as it flows over pages.
void text_pages(QPainter& painter, QPdfWriter& writer, const SheetOf& sheet, const QString& html) {
    QTextDocument document;
    document.setDefaultFont(sheet_font(15));
    document.setDocumentMargin(0);
    document.setPageSize(sheet.inner().size());
    document.setHtml(html);
    for (int page = 0; page < document.pageCount(); ++page) {
        writer.newPage();
        painter.save();
        const QRectF part(0, page * sheet.inner().height(), sheet.inner().width(), sheet.inner().height());
        painter.translate(sheet.inner().topLeft() - part.topLeft());
        document.drawContents(&painter, part);
        painter.restore();
    }
}

}  // namespace

QByteArray lesson_worksheets(const LessonSource& source, bool a3, const Context& context, const MadeSoFar& so_far) {
    if (source.lesson.steps.empty()) throw InputFault(Message{Severity::fault, "lesson-none", {}, {}, {}});
    std::shared_ptr<const Findings> findings;
    const std::string& first = source.lesson.steps.front().variant;
    for (std::size_t v = source.findings.size(); v-- > 0;)
        if (v < source.study->variants.size() && (source.study->variants[v].id == first || source.study->variants[v].name == first)) findings = source.findings[v];
    if (!findings || !findings->solution) throw InputFault(Message{Severity::fault, "lesson-being-worked-out", {}, {}, {}});
    const SheetOf sheet{source, findings, QPageSize(a3 ? QPageSize::A3 : QPageSize::A4).size(QPageSize::Millimeter) * pixels_per_paper_mm};
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QPdfWriter writer(&buffer);
    constexpr int dots = 1200;
    writer.setResolution(dots);
    writer.setPageSize(QPageSize(a3 ? QPageSize::A3 : QPageSize::A4));
    writer.setPageMargins({});
    writer.setTitle(QString::fromStdString(source.lesson.title));
    QPainter painter(&writer);
    if (!painter.isActive()) throw std::runtime_error("PDF");
    painter.scale(dots / 96.0, dots / 96.0);
    painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing | QPainter::LosslessImageRendering);
    const auto part = [&](int done) {
        context.check();
        if (so_far) so_far(done, 5);
    };
    part(0);
    section_sheet(painter, sheet, false);
    part(1);
    writer.newPage();
    section_sheet(painter, sheet, true);
    part(2);
    text_pages(painter, writer, sheet, glossary_html());
    part(3);
    text_pages(painter, writer, sheet, tally_html(source));
    part(4);
    if (const QString answers = answers_html(source); !answers.isEmpty()) text_pages(painter, writer, sheet, answers);
    painter.end();
    return bytes;
}

}  // namespace wallfoot
