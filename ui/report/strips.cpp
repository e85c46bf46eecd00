// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/strips.hpp"

#include <QTextLayout>
#include <algorithm>
#include <cmath>

#include "core/study/names.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/variant_picture.hpp"

namespace wallfoot {

namespace {

constexpr double text_size = 12, table_size = 11, cell_gap = 10, row_gap = 3;
constexpr double key_width = 92, caption_room = 34;
const QColor text_ink(0x1b, 0x1b, 0x1b), line_ink(0x9a, 0x9a, 0x9a), shade(0xf1, 0xf1, 0xf1);

QFont page_font(double pixels, bool bold = false) {
    QFont font = sheet_font(pixels, bold);
    font.setHintingPreference(QFont::PreferNoHinting);  // the same breaks at every resolution
    return font;
}

/// Text broken to a width, shared by the strips that paint its lines.
std::shared_ptr<QTextLayout> laid(const QString& text, const QFont& font, double width, bool to_the_right = false) {
    auto layout = std::make_shared<QTextLayout>(QString(text).replace(QLatin1Char('\n'), QChar::LineSeparator), font);
    QTextOption option;
    option.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);
    if (to_the_right) option.setAlignment(Qt::AlignRight);
    option.setUseDesignMetrics(true);
    layout->setTextOption(option);
    layout->beginLayout();
    double y = 0;
    for (QTextLine line = layout->createLine(); line.isValid(); line = layout->createLine()) {
        line.setLineWidth(std::max(width, 1.0));
        line.setPosition({0, y});
        y += line.height();
    }
    layout->endLayout();
    return layout;
}

double height_of(const QTextLayout& layout) {
    const int n = layout.lineCount();
    return n == 0 ? 0 : layout.lineAt(n - 1).y() + layout.lineAt(n - 1).height();
}

/// One strip per line; neither the first nor the last line of a text stands alone on a page.
std::vector<Strip> line_strips(std::shared_ptr<QTextLayout> layout, double indent, double before, bool keep_with_next, bool marked, int tag = -1) {
    std::vector<Strip> strips;
    const int n = layout->lineCount();
    for (int i = 0; i < n; ++i) {
        Strip strip;
        strip.height = layout->lineAt(i).height();
        strip.before = i == 0 ? before : 0;
        strip.keep_with_next = i + 1 < n ? i == 0 || i + 2 == n : keep_with_next;
        strip.paint = [layout, i, indent, marked, tag](QPainter& painter) {
            const QTextLine line = layout->lineAt(i);
            if (marked) painter.fillRect(QRectF(0, 0, 3, line.height()), text_ink);
            painter.setPen(text_ink);
            begin_tag(painter, tag);
            line.draw(&painter, QPointF(indent, -line.y()));
            end_tag(painter, tag);
        };
        strips.push_back(std::move(strip));
    }
    return strips;
}

struct Widths {
    std::vector<double> at, width;
};

double widest_word(const QString& text, const QFontMetricsF& metrics) {
    double widest = 0;
    for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) widest = std::max(widest, metrics.horizontalAdvance(word));
    return widest;
}

Widths widths_of(const ReportTable& table, double width) {
    const std::size_t n = table.head.size();
    std::vector<double> least(n, 0), most(n, 0);
    const auto measure = [&](const std::vector<std::string>& row, bool bold) {
        const QFontMetricsF metrics(page_font(table_size, bold));
        for (std::size_t c = 0; c < n; ++c) {
            const QString text = QString::fromStdString(row[c]);
            // Figures stay whole; a fingerprint without blanks may break.
            const double word = table.figures[c] && !bold ? metrics.horizontalAdvance(text) : widest_word(text, metrics);
            least[c] = std::max(least[c], std::ceil(std::min(word, width / 3)) + 1 + cell_gap);
            most[c] = std::max(most[c], std::ceil(metrics.horizontalAdvance(text)) + 1 + cell_gap);  // what just fits must not break for a rounding
        }
    };
    measure(table.head, true);
    for (const auto& row : table.rows) measure(row, false);
    double sum_least = 0, sum_more = 0;
    for (std::size_t c = 0; c < n; ++c) {
        sum_least += least[c];
        sum_more += std::max(most[c] - least[c], 0.0);
    }
    Widths result;
    double x = 0;
    const double rest = width - sum_least;
    for (std::size_t c = 0; c < n; ++c) {
        const double share = rest < 0 ? least[c] * width / sum_least : least[c] + (sum_more > rest ? rest * (most[c] - least[c]) / sum_more : most[c] - least[c]);
        result.at.push_back(x);
        result.width.push_back(share);
        x += share;
    }
    return result;
}

/// `within`: the element of the table; -1 = the row is not put down, such as a head that is repeated.
Strip row_strip(const ReportTable& table, const std::vector<std::string>& row, const Widths& widths, double width, bool head, TagTree* tags, int within) {
    std::vector<int> marks(row.size(), -1);
    if (within >= 0) {
        const int line = add_tag(tags, {.kind = "TR", .parent = within});
        for (std::size_t c = 0; c < row.size(); ++c) marks[c] = add_tag(tags, {.kind = head || c == 0 ? "TH" : "TD", .parent = line, .of_row = !head});
    }
    std::vector<std::shared_ptr<QTextLayout>> cells;
    double height = 0;
    for (std::size_t c = 0; c < row.size(); ++c) {
        QString text = QString::fromStdString(row[c]);
        // A unit stays whole: it goes to a line of its own.
        if (const qsizetype unit = text.lastIndexOf(QStringLiteral(", ")); head && unit > 0 && QFontMetricsF(page_font(table_size, head)).horizontalAdvance(text) > widths.width[c] - cell_gap) text[unit + 1] = QLatin1Char('\n');
        cells.push_back(laid(text, page_font(table_size, head), widths.width[c] - cell_gap, table.figures[c]));
        height = std::max(height, height_of(*cells.back()));
    }
    Strip strip;
    strip.height = height + 2 * row_gap;
    strip.paint = [cells, marks, at = widths.at, width, height = strip.height, head](QPainter& painter) {
        if (head) painter.fillRect(QRectF(0, 0, width, height), shade);
        painter.setPen(QPen(line_ink, 0.6));
        painter.drawLine(QPointF(0, height), QPointF(width, height));
        painter.setPen(text_ink);
        for (std::size_t c = 0; c < cells.size(); ++c) {
            begin_tag(painter, marks[c]);
            cells[c]->draw(&painter, QPointF(at[c] + cell_gap / 2, row_gap));
            end_tag(painter, marks[c]);
        }
    };
    return strip;
}

QString caption_of(const ReportPicture& picture, double scale) {
    return caption("report-picture-scale", {{"caption", picture.caption}, {"scale", number(scale, 0).toStdString()}});
}

constexpr double hatch_row = 24, swatch_width = 34, swatch_height = 17, key_width_least = 640;

/// Materials that are drawn alike, and how.
struct KeyEntry {
    MaterialKind kind;
    int turn = 0;
    QStringList names;
};

/// All materials of all variants, those of a kind together.
std::vector<KeyEntry> key_entries(const ReportSource& source) {
    std::vector<KeyEntry> entries;
    for (const auto& [id, turn] : hatch_turns(*source.study, source.findings)) {
        const Material* material = source.study->find_material(id);
        if (!material) continue;
        const QString name = QString::fromStdString(shown_name(*material));
        auto same = std::find_if(entries.begin(), entries.end(), [&, turn = turn](const KeyEntry& entry) { return entry.kind == material->kind && entry.turn == turn; });
        if (same == entries.end()) {
            entries.push_back(KeyEntry{material->kind, turn, {}});
            same = std::prev(entries.end());
        }
        if (!same->names.contains(name)) same->names << name;
    }
    std::stable_sort(entries.begin(), entries.end(), [](const KeyEntry& a, const KeyEntry& b) { return std::pair(a.kind, a.turn) < std::pair(b.kind, b.turn); });
    return entries;
}

/// The key laid out in the least width: two columns, unless a name takes more than half of it. Long names go over lines.
struct HatchKey {
    struct Placed {
        KeyEntry entry;
        QPointF at;
        std::shared_ptr<QTextLayout> names;
    };
    std::vector<Placed> placed;
    double height = 0;
};

HatchKey hatch_key(const ReportSource& source) {
    constexpr double beside = swatch_width + 16;
    const auto entries = key_entries(source);
    const QFont font = page_font(table_size);
    const QFontMetricsF metrics(font);
    const bool narrow = std::all_of(entries.begin(), entries.end(), [&](const KeyEntry& entry) { return metrics.horizontalAdvance(entry.names.join(QStringLiteral(", "))) < key_width_least / 2 - beside; });
    const std::size_t columns = narrow ? 2 : 1, rows = (entries.size() + columns - 1) / columns;
    const double column = key_width_least / static_cast<double>(columns);
    HatchKey key;
    double y = 0;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        if (i % rows == 0) y = 0;
        auto names = laid(entries[i].names.join(QStringLiteral(", ")), font, column - beside);
        key.placed.push_back({entries[i], QPointF(static_cast<double>(i / rows) * column, y), names});
        y += std::max(hatch_row, height_of(*names) + hatch_row - swatch_height);
        key.height = std::max(key.height, y);
    }
    return key;
}

/// Swatches with the names of what they stand for, in columns.
void paint_hatch_key(QPainter& painter, const HatchKey& key) {
    for (const auto& [entry, at, names] : key.placed) {
        const QRectF swatch(at, QSizeF(swatch_width, swatch_height));
        paint_hatch(painter, {QPolygonF(swatch)}, hatch_of(entry.kind), entry.turn, swatch.topLeft(), SheetColours::light());
        painter.setPen(QPen(text_ink, 0.8));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(swatch);
        const double line = names->lineCount() > 0 ? names->lineAt(0).height() : 0;
        names->draw(&painter, at + QPointF(swatch_width + 8, std::max(0.0, (swatch_height - line) / 2)));
    }
}

}  // namespace

std::vector<Strip> heading_strips(const ReportHeading& heading, double width, TagTree* tags) {
    const bool first = heading.level == 1;
    const int tag = add_tag(tags, {.kind = first ? "H2" : "H3"});  // H1 is the title
    return line_strips(laid(QString::fromStdString(heading.text), page_font(first ? 17 : 14, true), width), 0, first ? 22 : 12, true, false, tag);
}

std::vector<Strip> text_strips(const ReportText& text, double width, TagTree* tags) {
    const double indent = text.caution ? 10 : 0;
    return line_strips(laid(QString::fromStdString(text.text), page_font(text_size), width - indent), indent, 6, false, text.caution, add_tag(tags, {.kind = "P"}));
}

std::vector<Strip> table_strips(const ReportTable& table, double width, TagTree* tags) {
    std::vector<Strip> strips;
    if (table.rows.empty()) return strips;
    const int tag = add_tag(tags, {.kind = "Table"});
    if (!table.caption.empty()) strips = line_strips(laid(QString::fromStdString(table.caption), page_font(text_size, true), width), 0, 12, true, false, tag < 0 ? -1 : add_tag(tags, {.kind = "Caption", .parent = tag}));
    const Widths widths = widths_of(table, width);
    const bool titled = std::any_of(table.head.begin(), table.head.end(), [](const std::string& title) { return !title.empty(); });
    std::shared_ptr<const Strip> head;
    if (titled) {
        head = std::make_shared<const Strip>(row_strip(table, table.head, widths, width, true, tags, -1));
        strips.push_back(row_strip(table, table.head, widths, width, true, tags, tag));
        strips.back().keep_with_next = true;
        strips.back().before = 4;
    }
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        strips.push_back(row_strip(table, table.rows[r], widths, width, false, tags, tag));
        strips.back().head = r > 0 ? head : nullptr;  // the first stays with the head anyway
        // Neither the first nor the last row stands alone.
        strips.back().keep_with_next = r + 2 == table.rows.size() || (r == 0 && table.rows.size() > 2);
    }
    return strips;
}

QSizeF picture_size(const ReportSource& source, const ReportPicture& picture, double scale) {
    if (picture.shows == ReportPicture::Shows::key) return {key_width_least, hatch_key(source).height + caption_room};
    const Rect& cut = source.findings[picture.variant]->section->cut;
    const double each = pixels_per_paper_mm / scale;
    return {to_mm(cut.width()) * each + 4 + (picture.shows == ReportPicture::Shows::heat ? key_width : 0), to_mm(cut.height()) * each + 4 + caption_room};
}

Strip picture_strip(std::shared_ptr<const ReportSource> source, const ReportPicture& picture, double width, double scale, double ratio, TagTree* tags) {
    const int tag = add_tag(tags, {.kind = "Figure", .words = picture.words}), caption_tag = add_tag(tags, {.kind = "P"});
    Strip strip;
    strip.before = 10;
    strip.height = picture_size(*source, picture, scale).height();
    if (picture.shows == ReportPicture::Shows::key) {
        strip.paint = [key = hatch_key(*source), picture, width, tag, caption_tag, y = strip.height - caption_room + 2](QPainter& painter) {
            begin_tag(painter, tag);
            paint_hatch_key(painter, key);
            end_tag(painter, tag);
            painter.setPen(text_ink);
            begin_tag(painter, caption_tag);
            laid(QString::fromStdString(picture.caption), page_font(text_size), width)->draw(&painter, QPointF(0, y));
            end_tag(painter, caption_tag);
        };
        return strip;
    }
    strip.paint = [source, picture, width, scale, ratio, tag, caption_tag](QPainter& painter) {
        const Findings& findings = *source->findings[picture.variant];
        const Section& section = *findings.section;
        const SheetColours colours = SheetColours::light();
        const bool heat = picture.shows == ReportPicture::Shows::heat;
        View view;
        view.pixels_per_mm = pixels_per_paper_mm / scale;
        view.viewport = QSizeF(to_mm(section.cut.width()), to_mm(section.cut.height())) * view.pixels_per_mm + QSizeF(4, 4);
        view.centre_mm = {to_mm(section.cut.left + section.cut.width() / 2), to_mm(section.cut.bottom + section.cut.height() / 2)};
        const QRectF shown = cut_in_pixels(view, section);
        const TemperatureRange range = range_of(source->findings);
        const auto turns = hatch_turns(*source->study, source->findings);
        begin_tag(painter, tag);
        painter.save();
        painter.setClipRect(QRectF(QPointF(), view.viewport));
        const LineSteps steps = paint_variant(painter, view, *source->study, findings, heat, range, colours, shown, ratio, true, &turns);
        painter.restore();
        painter.setPen(QPen(line_ink, 0.6));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(shown);
        if (heat) {
            const double x = view.viewport.width() + 10;
            paint_key(painter, QRectF(x, 0, key_width - 12, std::min(220.0, view.viewport.height())), range, colours);
        }
        end_tag(painter, tag);
        const double y = view.viewport.height() + 2;
        QString text = caption_of(picture, scale);
        if (steps.kelvins > 0) text += QLatin1Char(' ') + caption("report-isotherms", {{"step", number(steps.kelvins, 3).toStdString()}});
        if (steps.watts > 0) text += QLatin1Char(' ') + caption("report-tubes", {{"watts", number(steps.watts, 6).toStdString()}});
        painter.setPen(text_ink);
        begin_tag(painter, caption_tag);
        laid(text, page_font(text_size), width)->draw(&painter, QPointF(0, y));
        end_tag(painter, caption_tag);
    };
    return strip;
}

}  // namespace wallfoot
