// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/damp_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QGridLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPointer>
#include <QPushButton>
#include <QScrollArea>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <QtCharts/QCategoryAxis>
#include <QtCharts/QChart>
#include <QtCharts/QChartView>
#include <QtCharts/QLegendMarker>
#include <QtCharts/QLineSeries>
#include <QtCharts/QScatterSeries>
#include <QtCharts/QValueAxis>

#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum Column { state, own_conductivity, own_psi, own_factor, other_conductivity, other_psi, other_factor, column_count };

// Blue and vermilion are told apart with every kind of colour vision; circles and squares besides.
const QColor own_colour(0x00, 0x72, 0xb2), other_colour(0xd5, 0x5e, 0x00);

QString shown_state(const DampRow& row) {
    const QString name = row.condition == Condition::saturated ? QObject::tr("soaked for a time") : words(word_of(condition_words, row.condition));
    return row.as_drawn ? QObject::tr("%1 (as drawn)").arg(name) : name;
}

std::optional<double> psi_value(const std::shared_ptr<const Findings>& findings) {
    const Psi* psi = findings ? findings->headline_psi() : nullptr;
    return psi && psi->value ? std::optional(psi->value->value) : std::nullopt;
}

/// Two lines for a label of the plot, so that none is cut off.
QString label_of(Condition condition) {
    switch (condition) {
        case Condition::below_dpc: return QObject::tr("below<br>the DPC");
        case Condition::below_ground: return QObject::tr("below<br>ground");
        case Condition::saturated: return QObject::tr("soaked<br>for a time");
        default: return words(word_of(condition_words, condition));
    }
}

/// Points of what is declared, joined from dry to below the ground; an upright stroke for a range; soaked stands apart.
void add_series(QChart& chart, QAbstractAxis* x, QAbstractAxis* y, const std::vector<DampRow>& rows, const QString& name, QColor colour, QScatterSeries::MarkerShape shape, double shift,
                std::vector<double>& values) {
    const auto attach = [&](QXYSeries* series, bool in_key) {
        chart.addSeries(series);
        series->attachAxis(x);
        series->attachAxis(y);
        if (!in_key)
            for (QLegendMarker* marker : chart.legend()->markers(series)) marker->setVisible(false);
    };
    auto* points = new QScatterSeries;
    points->setName(name);
    points->setColor(colour);
    points->setBorderColor(colour);
    points->setMarkerShape(shape);
    points->setMarkerSize(10);
    // Neighbours are joined; where a condition between them is not declared, the line is broken.
    QList<QLineSeries*> lines;
    std::optional<QPointF> last;
    QList<QLineSeries*> ranges;
    for (const DampRow& row : rows) {
        const double at = static_cast<int>(row.condition) + 0.5 + shift;
        if (const auto psi = psi_value(row.findings)) {
            points->append(at, *psi);
            if (last && row.condition != Condition::saturated) {
                lines << new QLineSeries;
                lines.back()->setPen(QPen(colour, 1.5));
                lines.back()->append({*last, QPointF(at, *psi)});
            }
            last = QPointF(at, *psi);
            values.push_back(*psi);
            continue;
        }
        last.reset();
        if (const auto low = psi_value(row.at_low), high = psi_value(row.at_high); low && high) {
            auto* range = new QLineSeries;
            range->setPen(QPen(colour, 5, Qt::SolidLine, Qt::FlatCap));
            range->append(at, *low);
            range->append(at, *high);
            ranges << range;
            values.insert(values.end(), {*low, *high});
        }
    }
    for (QLineSeries* line : lines) attach(line, false);
    for (QLineSeries* range : ranges) attach(range, false);
    attach(points, true);
}

}  // namespace

QString masonry_at_damp_course(const Study& study, const Section& section) {
    std::optional<Micrometres> nearest;
    std::string id;
    for (const Piece& piece : section.pieces) {
        const Material* material = study.find_material(piece.filled_with);
        const auto level = section.dpc.both ? section.dpc.both : section.dpc.left ? section.dpc.left : section.dpc.right;
        if (!level || !material || material->kind != MaterialKind::masonry || piece.fill != Fill::material || piece.outline.empty()) continue;
        const auto highest = std::max_element(piece.outline.begin(), piece.outline.end(), [](Point a, Point b) { return a.y < b.y; });
        const Micrometres off = std::abs(highest->y - *level);
        if (nearest && *nearest <= off) continue;
        nearest = off;
        id = piece.id;
    }
    return words(id);
}

DampDialog::DampDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent) : QDialog(parent), study_(std::move(study)), variant_id_(variant_id) {
    setWindowTitle(tr("What damp costs"));
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("One piece in every moisture condition, all else as drawn. What is not declared is shown as a range from what is published of its class, else as not known; no dry value stands for it."), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    auto* grid = new QGridLayout;
    const auto add = [&](const QString& text, QComboBox*& box, int row) {
        auto* label = new QLabel(text, this);
        box = new QComboBox(this);
        box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        box->setAccessibleName(QString(text).remove(QLatin1Char('&')));
        label->setBuddy(box);
        grid->addWidget(label, row, 0);
        grid->addWidget(box, row, 1);
    };
    add(tr("&Piece"), piece_, 0);
    add(tr("&Against"), against_, 1);
    grid->setColumnStretch(1, 1);
    rows->addLayout(grid);
    const Variant& variant = *study_->find_variant(variant_id_);
    for (const bool masonry : {true, false})
        for (const Piece& of : variant.section->pieces)
            if (of.fill == Fill::material)
                if (const Material* material = study_->find_material(of.filled_with); material && !material->lambda.by_condition.empty() && (material->kind == MaterialKind::masonry) == masonry)
                    piece_->addItem(words(shown_name(of) + ": " + shown_name(*material)), words(of.id));
    const int picked = piece_->findData(piece);
    piece_->setCurrentIndex(picked >= 0 ? picked : std::max(0, piece_->findData(masonry_at_damp_course(*study_, *variant.section))));
    against_->addItem(tr("nothing: this material alone"));
    for (const Material& material : study_->materials)
        if (!material.lambda.by_condition.empty() && (material.kind == MaterialKind::masonry || material.kind == MaterialKind::concrete || material.kind == MaterialKind::insulation))
            against_->addItem(words(shown_name(material)), words(material.id));

    table_ = new QTableWidget(0, column_count, this);
    table_->setAccessibleName(tr("psi by moisture condition"));
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->verticalHeader()->hide();
    table_->horizontalHeader()->setStretchLastSection(true);
    table_->setTabKeyNavigation(false);
    rows->addWidget(table_);
    chart_ = new QChart;
    auto* view = new QChartView(chart_, this);
    view->setRenderHint(QPainter::Antialiasing);
    view->setAccessibleName(tr("psi by moisture condition, as a plot"));
    view->setMinimumHeight(fontMetrics().height() * 11);
    rows->addWidget(view, 3);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setTextFormat(Qt::PlainText);
    told_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    // As much as there is to say, and no more room than the dialog has.
    auto* said = new QScrollArea(this);
    said->setWidgetResizable(true);
    said->setFrameShape(QFrame::NoFrame);
    said->setWidget(told_);
    told_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    rows->addWidget(said, 2);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    copy_ = buttons->addButton(tr("&Copy as text"), QDialogButtonBox::ActionRole);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(copy_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(as_text()); });
    connect(piece_, &QComboBox::currentIndexChanged, this, &DampDialog::ask);
    connect(against_, &QComboBox::currentIndexChanged, this, &DampDialog::ask);
    resize(fontMetrics().horizontalAdvance(QLatin1Char('M')) * 72, fontMetrics().height() * 48);
    ask();
}

DampDialog::~DampDialog() {
    if (running_) running_->cancel();
    pool_.clear();
    pool_.waitForDone();
}

QString DampDialog::as_text() const { return words(text_); }

void DampDialog::ask() {
    if (running_) running_->cancel();
    ++asked_;
    text_.clear();
    copy_->setEnabled(false);
    if (piece_->count() == 0) {
        told_->setText(tr("No piece of this variant is filled with a material that declares a conductivity."));
        return;
    }
    busy_ = true;
    told_->setText(tr("being worked out…"));
    table_->setRowCount(0);
    chart_->removeAllSeries();
    running_ = std::make_shared<Context>();
    pool_.start([study = study_, variant = variant_id_, piece = piece_->currentData().toString().toStdString(), against = against_->currentData().toString().toStdString(), context = running_,
                 asked = asked_, self = QPointer(this)] {
        std::shared_ptr<const DampTable> found;
        QString problem;
        try {
            found = std::make_shared<const DampTable>(damp_table(*study, *study->find_variant(variant), piece, against, {}, *context));
        } catch (const Cancelled&) {
            return;
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, asked, found, problem] {
            if (!self || self->asked_ != asked) return;
            self->busy_ = false;
            if (!found) return self->told_->setText(problem);
            self->text_ = damp_text({*found});
            self->copy_->setEnabled(true);
            self->show_table(*found);
            self->show_plot(*found);
        });
    });
}

void DampDialog::show_table(const DampTable& found) {
    const bool both = found.alternative.has_value();
    const QString own = words(found.material), other = both ? words(found.alternative->material) : QString();
    table_->setHorizontalHeaderLabels({tr("Moisture condition"), tr("λ, W/(m·K)"), tr("psi, W/(m·K)"), tr("fRsi"), tr("other: λ"), tr("other: psi"), tr("other: fRsi")});
    for (const int column : {other_conductivity, other_psi, other_factor}) table_->setColumnHidden(column, !both);
    table_->setRowCount(static_cast<int>(found.rows.size()));
    QStringList how, derived;
    const auto tell = [&](const DampRow& row, const QString& name) {
        if (const Derivation derivation = damp_derivation(row, name.toStdString()); !derivation.of.empty()) derived << derived_words(derivation);
        for (const Message& message : row.value.how) how << tr("%1, %2: %3").arg(name, shown_state(row), sentence(message));
    };
    for (int r = 0; r < table_->rowCount(); ++r) {
        const DampRow& row = found.rows[static_cast<std::size_t>(r)];
        const auto put = [&](int column, const QString& text) { table_->setItem(r, column, new QTableWidgetItem(text)); };
        const auto put_row = [&](const DampRow& of, int first) {
            put(first, words(damp_conductivity_text(of)));
            put(first + 1, words(damp_psi_text(of)));
            put(first + 2, words(damp_factor_text(of)));
        };
        put(state, shown_state(row));
        put_row(row, own_conductivity);
        tell(row, own);
        if (!both) continue;
        put_row(found.alternative->rows[static_cast<std::size_t>(r)], other_conductivity);
        tell(found.alternative->rows[static_cast<std::size_t>(r)], other);
    }
    table_->resizeColumnsToContents();
    table_->resizeRowsToContents();
    for (const int column : {other_conductivity, other_psi, other_factor}) table_->horizontalHeaderItem(column)->setToolTip(tr("%1 in the same place and condition").arg(other));
    table_->setMinimumHeight(table_->horizontalHeader()->height() + table_->verticalHeader()->length() + 2 * table_->frameWidth() + 2);
    QStringList paragraphs;
    for (const NoBetter& limit : found.no_better) {
        QStringList said;
        for (const Message& message : no_better_sentences(found, limit)) said << sentence(message);
        paragraphs << said.join(QLatin1Char(' '));
    }
    how.removeDuplicates();
    if (!found.psi_rises) paragraphs << sentence(Message{Severity::note, "damp-psi-mixed", {{"piece", found.piece}}, {}, {}});
    paragraphs << how;
    paragraphs << tr("Soaked for a time is an event, not a lasting state; dry is none of masonry in service. Frost, strength and sulfate are not judged here; local rules and the maker decide whether a block may stand where it is wet.");
    if (!derived.isEmpty()) paragraphs << QString() << tr("How the conductivities were come by:") << derived;
    told_->setText(paragraphs.join(QStringLiteral("\n")));
}

void DampDialog::show_plot(const DampTable& found) {
    for (QAbstractAxis* axis : chart_->axes()) {
        chart_->removeAxis(axis);
        delete axis;
    }
    auto* x = new QCategoryAxis;
    x->setRange(0, static_cast<double>(condition_words.size()));
    for (std::size_t c = 0; c < condition_words.size(); ++c)
        x->append(label_of(condition_words[c].first), static_cast<double>(c + 1));
    auto* y = new QValueAxis;
    y->setTitleText(tr("psi"));
    y->setLabelFormat(QStringLiteral("%.3f"));
    chart_->addAxis(x, Qt::AlignBottom);
    chart_->addAxis(y, Qt::AlignLeft);
    std::vector<double> values;
    add_series(*chart_, x, y, found.rows, words(found.material), own_colour, QScatterSeries::MarkerShapeCircle, found.alternative ? -0.08 : 0, values);
    if (found.alternative) add_series(*chart_, x, y, found.alternative->rows, words(found.alternative->material), other_colour, QScatterSeries::MarkerShapeRectangle, 0.08, values);
    if (!values.empty()) {
        const auto [low, high] = std::minmax_element(values.begin(), values.end());
        const double margin = std::max(0.002, (*high - *low) * 0.1);
        y->setRange(*low - margin, *high + margin);
        y->applyNiceNumbers();
    }
    const QPalette& colours = palette();
    chart_->setBackgroundBrush(colours.base());
    chart_->legend()->setLabelColor(colours.color(QPalette::Text));
    chart_->setMargins({4, 4, 4, 4});
    for (QAbstractAxis* axis : {static_cast<QAbstractAxis*>(x), static_cast<QAbstractAxis*>(y)}) {
        axis->setLabelsColor(colours.color(QPalette::Text));
        axis->setTitleBrush(colours.text());
        axis->setGridLineColor(colours.color(QPalette::Mid));
    }
}

}  // namespace wallfoot
