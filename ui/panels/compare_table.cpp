// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/compare_table.hpp"

#include <QApplication>
#include <QHeaderView>
#include <QPainter>
#include <QPointer>
#include <algorithm>
#include <functional>

#include "core/foot/foot_report.hpp"
#include "core/study/differences.hpp"
#include "solver/findings/heat_loss.hpp"
#include "solver/findings/numbers.hpp"
#include "ui/paint/difference_map.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr int picture_width = 260, picture_height = 250;

const QString& nothing() {
    static const QString dash = QStringLiteral("–");
    return dash;
}

/// All in one scale: that at which the largest section fits.
double scale_of(const std::vector<Compared>& variants) {
    double scale = 0;
    for (const auto& of : variants) {
        const View view = View::fitting(of.section->cut, QSizeF(picture_width, picture_height), 0.01);
        scale = scale == 0 ? view.pixels_per_mm : std::min(scale, view.pixels_per_mm);
    }
    return scale;
}

View view_of(const Section& section, double pixels_per_mm) {
    View view = View::fitting(section.cut, QSizeF(picture_width, picture_height), 0.01);
    view.pixels_per_mm = pixels_per_mm;
    return view;
}

/// Calls paint(painter, what is shown of the cut) on a white picture.
QImage pictured(const View& view, const Section& section, double ratio, const std::function<void(QPainter&, const QRectF&)>& paint) {
    QImage image((view.viewport * ratio).toSize(), QImage::Format_RGB32);
    image.setDevicePixelRatio(ratio);
    image.fill(Qt::white);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    const QRectF shown = cut_in_pixels(view, section);
    painter.setClipRect(shown);
    paint(painter, shown);
    return image;
}

QImage variant_thumbnail(const Compared& of, bool heat, TemperatureRange range, double pixels_per_mm, double ratio) {
    const View view = view_of(*of.section, pixels_per_mm);
    return pictured(view, *of.section, ratio, [&](QPainter& painter, const QRectF& shown) {
        paint_variant(painter, view, *of.study, *of.findings, heat, range, SheetColours::light(), shown, ratio, false);
    });
}

void paint_outlines(QPainter& painter, const View& view, const Compared& of) {
    SectionLook look;
    look.hatches = look.labels = look.faults = false;
    paint_section(painter, view, *of.study, *of.section, &of.findings->arrangement, look);
}

/// Every variant less the base, all in the scale of the largest difference; the base itself holds the key.
std::vector<QImage> difference_thumbnails(const std::vector<Compared>& variants, const Compared& base, double pixels_per_mm, double ratio) {
    std::vector<std::optional<TemperatureDifference>> all(variants.size());
    double largest = 0;
    for (std::size_t i = 0; i < variants.size(); ++i) {
        if (!variants[i].findings || variants[i].findings == base.findings) continue;
        all[i] = temperature_difference(view_of(*variants[i].section, pixels_per_mm), ratio, *variants[i].findings, *base.findings);
        largest = std::max(largest, all[i]->largest);
    }
    const DifferenceScale scale = difference_scale(largest);
    std::vector<QImage> images(variants.size());
    for (std::size_t i = 0; i < variants.size(); ++i) {
        if (!variants[i].findings) continue;
        const View view = view_of(*variants[i].section, pixels_per_mm);
        images[i] = pictured(view, *variants[i].section, ratio, [&](QPainter& painter, const QRectF&) {
            if (all[i]) painter.drawImage(0, 0, difference_map(*all[i], scale));
            paint_outlines(painter, view, variants[i]);
            if (all[i]) return;
            painter.setClipping(false);
            const QRectF key(4, picture_height - 54, picture_width - 8, 52);
            painter.fillRect(key, Qt::white);
            paint_difference_key(painter, key, scale, SheetColours::light());
        });
    }
    return images;
}

const Bracketed* psi_in(const Compared& of) {
    const Psi* psi = of.findings ? of.findings->headline_psi() : nullptr;
    return psi && psi->value ? &*psi->value : nullptr;
}

const Bracketed* coupling_in(const Compared& of) {
    const Psi* psi = of.findings ? of.findings->headline_psi() : nullptr;
    if (!psi) return nullptr;
    for (const auto& coupling : of.findings->couplings)
        if (coupling.a == psi->a && coupling.b == psi->b && coupling.value) return &*coupling.value;
    return nullptr;
}

const SurfaceFinding* surface_in(const Compared& of) { return of.findings ? of.findings->headline_surface() : nullptr; }

QString no_difference() { return QObject::tr("no difference beyond the brackets"); }

/// "+0.115 ± 0.0002 (loses more)", of psi or of the whole loss.
QString change_words(const std::optional<Bracketed>& by) {
    if (!by) return nothing();
    if (by->lower <= 0 && by->upper >= 0) return no_difference();
    return (by->value > 0 ? QStringLiteral("+") : QString()) + words(with_bracket(*by)) + QLatin1Char(' ') + (by->value > 0 ? QObject::tr("(loses more)") : QObject::tr("(loses less)"));
}

std::optional<Bracketed> psi_difference(const Compared& of, const Compared& base) {
    if (!psi_in(of) || !psi_in(base) || of.findings->headline_psi()->lengths != base.findings->headline_psi()->lengths) return std::nullopt;  // of other lengths, no difference
    return difference(*psi_in(of), *psi_in(base));
}

/// "mould, January: meets, 2.3 K to spare", a line for each demand.
QString verdict_words(const Findings& findings) {
    const QString names[] = {QObject::tr("fRsi of the convention"), QObject::tr("mould"), QObject::tr("condensation"), QObject::tr("psi of the convention")};
    QStringList lines;
    for (const SurfaceVerdict& verdict : findings.verdicts) {
        QString line = QStringLiteral("%1: %2").arg(names[static_cast<int>(verdict.demand)], words(verdict_text(verdict.verdict)));
        if (verdict.margin_K) line += (*verdict.margin_K < 0 ? QObject::tr(", %1 K short") : QObject::tr(", %1 K to spare")).arg(words(fixed(std::abs(*verdict.margin_K), 1)));
        lines << line;
    }
    return lines.isEmpty() ? nothing() : lines.join(QLatin1Char('\n'));
}

QString flanking_words(const Findings& findings) {
    QStringList lines;
    for (const Element& element : findings.elements) {
        if (element.U) lines << QStringLiteral("%1: %2 W/(m²·K)").arg(words(element.id), words(fixed(*element.U, 3)));
        else if (element.ground) lines << QObject::tr("%1: floor on ground").arg(words(element.id));
    }
    return lines.isEmpty() ? nothing() : lines.join(QLatin1Char('\n'));
}

/// What the rules at the foot say of a variant, counted; what is not met by name.
QString rules_words(const Study& study, const Findings& findings) {
    try {
        const UsedRules used = used_foot_rules(study);
        int met = 0, open = 0;
        QStringList failed;
        for (const Check& check : foot_checks(study, *findings.section, findings.arrangement, water_way(study, *findings.section, findings.arrangement), used.rules)) {
            met += check.verdict == Verdict::meets;
            open += check.verdict == Verdict::undecided;
            if (check.verdict == Verdict::does_not_meet && !failed.contains(words(check.name))) failed << words(check.name);
        }
        QString text = QObject::tr("%1 met, %2 open").arg(met).arg(open);
        return failed.isEmpty() ? text : text + QObject::tr("\nnot met: %1").arg(failed.join(QStringLiteral("; ")));
    } catch (const InputFault& fault) {
        return sentence(fault.faults());
    }
}

QString told_lines(const std::vector<Message>& messages) {
    QStringList said;
    for (const Message& message : messages) said << sentence(message);
    return said.join(QLatin1Char('\n'));
}

QString loss_words(const HeatLoss& loss) {
    if (!loss.value) return told_lines(loss.missing);
    const QString sum = words(sum_text(loss)).replace(QStringLiteral(" + "), QStringLiteral("\n+ "));
    return words(with_bracket(*loss.value)) + QStringLiteral("\n= ") + sum + QLatin1Char('\n') + told_lines(loss.notes);
}

}  // namespace

CompareTable::CompareTable(QWidget* parent) : QTableWidget(row_count, 0, parent) {
    pool_.setMaxThreadCount(1);
    rules_pool_.setMaxThreadCount(1);
    setAccessibleName(tr("Variants side by side"));
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setWordWrap(true);
    setTabKeyNavigation(false);
    setHorizontalScrollMode(QAbstractItemView::ScrollPerPixel);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    verticalHeader()->setSectionsClickable(true);
    verticalHeader()->setToolTip(tr("Click the name of a row to sort by it."));
    mark_sorted(picture, false);
    const auto choose = [this](int column) {
        if (column >= 0 && column < static_cast<int>(columns_.shown.size())) emit chosen(columns_.shown[static_cast<std::size_t>(column)].key());
    };
    connect(this, &QTableWidget::cellDoubleClicked, this, [choose](int, int column) { choose(column); });
    connect(horizontalHeader(), &QHeaderView::sectionDoubleClicked, this, choose);
    connect(verticalHeader(), &QHeaderView::sectionClicked, this, &CompareTable::sort_wanted);
}

CompareTable::~CompareTable() {
    pool_.clear();
    rules_pool_.clear();
    pool_.waitForDone();
    rules_pool_.waitForDone();
}

QString CompareTable::row_name(Row row) {
    switch (row) {
        case picture: return tr("Picture");
        case psi: return tr("psi\nW/(m·K)");
        case psi_change: return tr("Difference\nW/(m·K)");
        case factor: return tr("fRsi");
        case lowest: return tr("Coldest\ninside surface");
        case mould: return tr("Mould and\nlimits");
        case rules: return tr("Rules at\nthe foot");
        case flow: return tr("Heat loss\nper metre and K");
        case flanking: return tr("U of what\nmeets there");
        case loss: return tr("Heat loss of\nthe whole, W/K");
        case loss_change: return tr("Difference\nof it, W/K");
        default: return tr("Otherwise than\nthe one\ncompared with");
    }
}

void CompareTable::mark_sorted(Row row, bool descending) {
    sorted_ = row;
    descending_ = descending;
    for (int r = picture; r < row_count; ++r) {
        QString name = row_name(static_cast<Row>(r));
        if (r == sorted_ && r != picture) name += descending_ ? QStringLiteral(" ▼") : QStringLiteral(" ▲");
        setVerticalHeaderItem(r, new QTableWidgetItem(name));
    }
}

std::optional<double> CompareTable::sort_value(Row row, const Compared& of, const Columns& columns) {
    const auto value = [](const Bracketed* bracketed) { return bracketed ? std::optional(bracketed->value) : std::nullopt; };
    const SurfaceFinding* surface = surface_in(of);
    switch (row) {
        case psi:
        case psi_change: return value(psi_in(of));
        case factor: return surface ? surface->fRsi : std::nullopt;
        case lowest: return surface ? std::optional(surface->lowest) : std::nullopt;
        case flow: return value(coupling_in(of));
        case mould: {
            std::optional<double> least;
            if (of.findings)
                for (const SurfaceVerdict& verdict : of.findings->verdicts)
                    if (verdict.margin_K) least = std::min(least.value_or(*verdict.margin_K), *verdict.margin_K);
            return least;
        }
        case loss:
        case loss_change: {
            const HeatLoss whole = of.findings ? heat_loss(*columns.study, *of.findings) : HeatLoss{};
            return whole.value ? std::optional(whole.value->value) : std::nullopt;
        }
        case differs: return columns.base ? std::optional(static_cast<double>(differences(*columns.base->study, *columns.base->section, *of.study, *of.section).size())) : std::nullopt;
        default: return std::nullopt;
    }
}

void CompareTable::show_columns(Columns columns) {
    columns_ = std::move(columns);
    setColumnCount(static_cast<int>(columns_.shown.size()));
    for (int column = 0; column < columnCount(); ++column) fill_column(column, columns_.shown[static_cast<std::size_t>(column)]);
    hide_alike();
    resizeRowsToContents();
    setRowHeight(picture, picture_height + 8);
    paint_pictures();
    ask_rules();
}

void CompareTable::set_pictures(Pictures pictures) {
    pictures_ = pictures;
    paint_pictures();
}

void CompareTable::set_only_differing(bool only) {
    only_differing_ = only;
    hide_alike();
}

void CompareTable::fill_column(int column, const Compared& of) {
    auto* head = new QTableWidgetItem(of.shown());
    head->setToolTip(of.shown());
    setHorizontalHeaderItem(column, head);
    setColumnWidth(column, picture_width + 10);
    const auto put = [&](int row, const QString& text, bool bold = false) {
        auto* item = new QTableWidgetItem(text);
        item->setTextAlignment(Qt::AlignLeft | Qt::AlignVCenter);
        if (bold) {
            QFont font = item->font();
            font.setBold(true);
            item->setFont(font);
        }
        setItem(row, column, item);
    };
    const bool is_base = columns_.base && columns_.base->key() == of.key();
    const QString against = tr("compared with");
    put(picture, of.findings ? QString() : of.why);
    const Psi* headline = of.findings ? of.findings->headline_psi() : nullptr;
    put(psi, psi_in(of) ? words(with_bracket(*psi_in(of))) : headline ? words(why_missing(*of.findings, headline->a, headline->b, headline->lengths, headline->reason)) : nothing(), true);
    put(psi_change, is_base ? against : columns_.base ? change_words(psi_difference(of, *columns_.base)) : nothing());
    const SurfaceFinding* surface = surface_in(of);
    put(factor, surface && surface->fRsi ? words(fixed(*surface->fRsi, factor_decimals(*surface))) : nothing());
    put(lowest, surface ? tr("%1 °C at x %2, y %3 mm").arg(words(fixed(surface->lowest, temperature_decimals(*of.findings, *surface))), words(fixed(surface->at[0] / 1000, 0)), words(fixed(surface->at[1] / 1000, 0))) : nothing());
    put(mould, of.findings ? verdict_words(*of.findings) : nothing());
    put(rules, of.findings ? tr("being asked…") : nothing());
    put(flanking, of.findings ? flanking_words(*of.findings) : nothing());
    put(flow, coupling_in(of) ? tr("L2D %1").arg(words(with_bracket(*coupling_in(of)))) : nothing());
    const HeatLoss whole = of.findings ? heat_loss(*columns_.study, *of.findings) : HeatLoss{};
    const HeatLoss before = columns_.base && columns_.base->findings ? heat_loss(*columns_.study, *columns_.base->findings) : HeatLoss{};
    put(loss, of.findings ? loss_words(whole) : nothing());
    put(loss_change, is_base ? against : adds_up_otherwise(whole, before) ? sentence("loss-adds-up-otherwise") : change_words(loss_difference(whole, before)));
    const QString said = is_base || !columns_.base ? QString() : told_lines(differences(*columns_.base->study, *columns_.base->section, *of.study, *of.section));
    const Variant* variant = of.study->find_variant(of.id);
    const QString note = variant && !variant->note.empty() ? tr("Note: %1\n").arg(words(variant->note)) : QString();
    put(differs, note + (said.isEmpty() && !is_base ? tr("Nothing.") : said));
}

/// A row differs when a variant stands in it otherwise than another, beyond the brackets where it has them.
void CompareTable::hide_alike() {
    const auto text = [&](int row, int column) { return item(row, column) ? item(row, column)->text() : QString(); };
    const auto is_base = [&](int column) { return columns_.base && columns_.shown[static_cast<std::size_t>(column)].key() == columns_.base->key(); };
    const auto all = [&](int row, const QString& said) {
        for (int column = 0; column < columnCount(); ++column)
            if (!is_base(column) && text(row, column) != said) return false;
        return true;
    };
    const auto same = [&](int row) {
        for (int column = 1; column < columnCount(); ++column)
            if (text(row, column) != text(row, 0)) return false;
        return true;
    };
    for (int row = psi; row < row_count; ++row) {
        bool alike = false;
        switch (row) {
            case psi:
            case psi_change: alike = all(psi_change, no_difference()) || (same(psi) && all(psi_change, nothing())); break;
            case loss:
            case loss_change: alike = all(loss_change, no_difference()) || (same(loss) && all(loss_change, nothing())); break;
            case differs: alike = all(differs, tr("Nothing.")); break;
            default: alike = same(row);
        }
        setRowHidden(row, only_differing_ && alike);
    }
}

void CompareTable::ask_rules() {
    ++rules_asked_;
    rules_pool_.clear();
    rules_pool_.start([shown = columns_.shown, asked = rules_asked_, self = QPointer(this)] {
        for (std::size_t i = 0; i < shown.size(); ++i) {
            if (!shown[i].findings) continue;
            const QString text = rules_words(*shown[i].study, *shown[i].findings);
            QMetaObject::invokeMethod(qApp, [self, text, column = static_cast<int>(i), asked] {
                if (!self || self->rules_asked_ != asked || !self->item(rules, column)) return;
                self->item(rules, column)->setText(text);
                self->hide_alike();
                self->resizeRowToContents(rules);
            });
        }
    });
}

void CompareTable::paint_pictures() {
    ++asked_;
    pool_.clear();
    for (int column = 0; column < columnCount(); ++column)
        if (item(picture, column)) item(picture, column)->setData(Qt::DecorationRole, {});
    pool_.start([columns = columns_, pictures = pictures_, ratio = devicePixelRatioF(), asked = asked_, self = QPointer(this)] {
        const auto show = [&](std::size_t column, const QImage& image) {
            QMetaObject::invokeMethod(qApp, [self, image, column, asked] {
                if (!self || self->asked_ != asked) return;
                if (auto* item = self->item(picture, static_cast<int>(column))) item->setData(Qt::DecorationRole, QPixmap::fromImage(image));
            });
        };
        const auto& shown = columns.shown;
        const double scale = scale_of(shown);
        if (pictures == temperature_differences && columns.base && columns.base->findings) {
            const auto images = difference_thumbnails(shown, *columns.base, scale, ratio);
            for (std::size_t i = 0; i < images.size(); ++i)
                if (!images[i].isNull()) show(i, images[i]);
            return;
        }
        std::vector<std::shared_ptr<const Findings>> all;
        for (const auto& of : shown)
            if (of.findings) all.push_back(of.findings);
        const TemperatureRange range = range_of(all);
        for (std::size_t i = 0; i < shown.size(); ++i)
            if (shown[i].findings) show(i, variant_thumbnail(shown[i], pictures == heat_maps, range, scale, ratio));
    });
}

std::vector<QStringList> CompareTable::seen() const {
    std::vector<QStringList> lines(1, {tr("Variant")});
    for (const auto& of : columns_.shown) lines.front() << of.shown();
    for (int row = psi; row < row_count; ++row) {
        if (isRowHidden(row)) continue;
        lines.push_back({row_name(static_cast<Row>(row)).replace(QLatin1Char('\n'), QLatin1Char(' '))});
        for (int column = 0; column < columnCount(); ++column) lines.back() << item(row, column)->text();
    }
    return lines;
}

QString CompareTable::as_text() const {
    QString text;
    for (const QStringList& fields : seen()) {
        QString line = fields.join(QLatin1Char('\t'));
        text += line.replace(QLatin1Char('\n'), QLatin1Char(' ')) + QLatin1Char('\n');
    }
    return text;
}

QString CompareTable::as_html() const {
    QString html = QStringLiteral("<table border=\"1\" cellspacing=\"0\" cellpadding=\"4\">\n");
    bool head = true;
    for (const QStringList& fields : seen()) {
        html += QStringLiteral("<tr>");
        for (qsizetype i = 0; i < fields.size(); ++i) {
            const QString tag = head || i == 0 ? QStringLiteral("th") : QStringLiteral("td");
            html += QStringLiteral("<%1>%2</%1>").arg(tag, fields[i].toHtmlEscaped().replace(QLatin1Char('\n'), QStringLiteral("<br>")));
        }
        html += QStringLiteral("</tr>\n");
        head = false;
    }
    return html + QStringLiteral("</table>\n");
}

}  // namespace wallfoot
