// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/drawing_dialog.hpp"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QSignalBlocker>
#include <cmath>

#include "core/exchange/dxf.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

struct Unit {
    const char* name;
    double mm;
};
constexpr Unit units[] = {{QT_TR_NOOP("millimetres"), 1}, {QT_TR_NOOP("centimetres"), 10}, {QT_TR_NOOP("metres"), 1000}, {QT_TR_NOOP("inches"), 25.4}, {QT_TR_NOOP("feet"), 304.8}};

QListWidget* list_of(const QString& name, int rows, QWidget* parent) {
    auto* list = new QListWidget(parent);
    list->setAccessibleName(name);
    list->setWordWrap(true);
    list->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list->setMaximumHeight(rows * (list->fontMetrics().height() + 4) + 6);
    return list;
}

}  // namespace

DrawingDialog::DrawingDialog(std::string bytes, Drawing read, const QString& name, QWidget* parent) : QDialog(parent), bytes_(std::move(bytes)), read_(std::move(read)) {
    setWindowTitle(tr("Add %1").arg(name));
    auto* form = new QFormLayout(this);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    unit_ = new QComboBox(this);
    int given = 0;
    for (const Unit& unit : units) {
        if (std::abs(unit.mm - read_.mm_per_unit) < 1e-9) given = unit_->count();
        unit_->addItem(tr(unit.name), unit.mm);
    }
    if (read_.mm_per_unit > 0 && std::abs(unit_->itemData(given).toDouble() - read_.mm_per_unit) > 1e-9) {
        given = unit_->count();
        unit_->addItem(tr("as the drawing says: %1 mm").arg(read_.mm_per_unit), read_.mm_per_unit);
    }
    unit_->setCurrentIndex(given);
    size_ = new QLabel(this);
    size_->setWordWrap(true);
    layers_ = list_of(tr("Layers"), 7, this);
    for (const DrawingLayer& layer : read_.layers) {
        const auto count = std::count_if(read_.strokes.begin(), read_.strokes.end(), [&](const Stroke& s) { return &read_.layers[static_cast<std::size_t>(s.layer)] == &layer; });
        auto* item = new QListWidgetItem(tr("%1 (lines: %2)%3").arg(words(layer.name)).arg(count).arg(layer.shown ? QString() : tr(", hidden in the drawing")), layers_);
        item->setHidden(count == 0);
        item->setCheckState(layer.shown && count > 0 ? Qt::Checked : Qt::Unchecked);
    }
    to_origin_ = new QCheckBox(tr("Move its lower left corner to x 0, y 0"), this);
    gap_ = new QLineEdit(QStringLiteral("0.5"), this);
    closed_ = new QLabel(this);
    closed_->setWordWrap(true);
    open_ = list_of(tr("Open ends"), 4, this);
    pieces_ = new QCheckBox(tr("Make a &piece of every closed outline"), this);
    left_out_ = list_of(tr("Not understood"), 4, this);
    for (const auto& [kind, count] : read_.left_out) left_out_->addItem(tr("%1 × %2").arg(count).arg(words(kind)));
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(tr("One &unit is in"), unit_);
    form->addRow(tr("Size"), size_);
    form->addRow(tr("La&yers"), layers_);
    form->addRow(to_origin_);
    form->addRow(tr("Join ends up to, &mm"), gap_);
    form->addRow(tr("Outlines"), closed_);
    form->addRow(tr("&Open ends"), open_);
    form->addRow(pieces_);
    if (left_out_->count() > 0) form->addRow(tr("&Not understood, left out"), left_out_);
    left_out_->setVisible(left_out_->count() > 0);
    form->addRow(problem_);
    form->addRow(buttons_);
    connect(unit_, &QComboBox::currentIndexChanged, this, &DrawingDialog::read_again);
    connect(layers_, &QListWidget::itemChanged, this, &DrawingDialog::refresh);
    connect(to_origin_, &QCheckBox::toggled, this, &DrawingDialog::refresh);
    connect(gap_, &QLineEdit::textChanged, this, &DrawingDialog::refresh);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    // A detail near the origin keeps its place; site coordinates do not.
    const Extent box = extent_of(read_, wanted());
    constexpr double near = 100'000;  // mm
    const double mm = mm_per_unit();
    to_origin_->setChecked(!box.empty() && std::max({std::abs(box.left), std::abs(box.bottom), std::abs(box.right), std::abs(box.top)}) * mm > near);
    setMinimumWidth(fontMetrics().averageCharWidth() * 72);
    read_again();
}

double DrawingDialog::mm_per_unit() const { return unit_->currentData().toDouble(); }
bool DrawingDialog::pieces_wanted() const { return pieces_->isChecked(); }

std::vector<bool> DrawingDialog::wanted() const {
    std::vector<bool> wanted;
    for (int i = 0; i < layers_->count(); ++i) wanted.push_back(layers_->item(i)->checkState() == Qt::Checked);
    return wanted;
}

Drawing DrawingDialog::drawing() const {
    const Extent box = extent_of(read_, wanted());
    return in_mm(read_, wanted(), mm_per_unit(), to_origin_->isChecked() && !box.empty() ? Place{box.left, box.bottom} : Place{});
}

std::vector<Outline> DrawingDialog::outlines() const {
    std::vector<Outline> outlines;
    for (const auto& closed : joined_.closed) {
        Outline& outline = outlines.emplace_back();
        for (const Place p : closed)
            if (const Point point{from_mm(p.x), from_mm(p.y)}; outline.empty() || outline.back() != point) outline.push_back(point);
        while (outline.size() > 1 && outline.front() == outline.back()) outline.pop_back();
    }
    return outlines;
}

/// Curves are broken up by the true size.
void DrawingDialog::read_again() {
    try {
        read_ = read_dxf(bytes_, mm_per_unit());
    } catch (const InputFault& fault) {  // finer chords of a larger unit may be too many
        problem_->setText(sentence(fault.faults()));
        buttons_->button(QDialogButtonBox::Ok)->setEnabled(false);
        return;
    }
    refresh();
}

void DrawingDialog::refresh() {
    constexpr int most_listed = 100;
    QString problem;
    const Drawing chosen = drawing();
    const Extent box = extent_of(chosen, std::vector<bool>(chosen.layers.size(), true));
    open_->clear();
    closed_->clear();
    joined_ = {};
    if (box.empty()) {
        size_->setText(QStringLiteral("–"));
        problem = tr("There is no line on the layers chosen. Choose a layer with lines.");
    } else {
        size_->setText(tr("%1 wide, %2 high; from x %3, y %4").arg(length_words(box.width()), length_words(box.height()), length_words(box.left), length_words(box.bottom)));
        const double limit = to_mm(coordinate_limit);
        if (std::max({std::abs(box.left), std::abs(box.bottom), std::abs(box.right), std::abs(box.top)}) > limit)
            problem = tr("It lies or reaches further than 500 m. Choose another unit, or move it to x 0, y 0.");
    }
    const Entry gap = parse_length(gap_->text().trimmed().toStdString());
    constexpr double most_gap = 50;  // mm; more would join what does not belong together, and take long to seek
    if (problem.isEmpty() && gap && *gap.value > most_gap) problem = tr("A gap of more than %1 is none to be joined. Type less.").arg(length_words(most_gap));
    if (problem.isEmpty() && (!gap || *gap.value < 0)) problem = gap ? tr("A gap cannot be negative. Type 0 or more, in mm.") : sentence(gap.problem);
    if (problem.isEmpty()) {
        joined_ = joined(chosen, *gap.value);
        closed_->setText(tr("closed: %1, open ends: %2").arg(joined_.closed.size()).arg(joined_.open.size()) +
                         (joined_.branches > 0 ? tr("; at %1 places more than two lines meet, and no outline is made there").arg(joined_.branches) : QString()));
        for (const OpenEnd& end : joined_.open) {
            if (open_->count() == most_listed) {
                open_->addItem(tr("and %1 more").arg(joined_.open.size() - most_listed));
                break;
            }
            open_->addItem(tr("x %1, y %2%3").arg(length_words(end.at.x), length_words(end.at.y), std::isfinite(end.gap) ? tr(": %1 to the next end").arg(length_words(end.gap)) : QString()));
        }
    }
    pieces_->setEnabled(!joined_.closed.empty());
    if (joined_.closed.empty()) pieces_->setChecked(false);
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot
