// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/measure_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>
#include <algorithm>

#include "core/dwelling/dwelling_file.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QString typed_value(std::optional<double> value) { return value ? words(number_text(*value, 9)) : QString(); }

std::string new_measure_id(const Dwelling& dwelling) {
    for (int number = 1;; ++number) {
        std::string id = "m";
        id += std::to_string(number);
        if (std::none_of(dwelling.measures.begin(), dwelling.measures.end(), [&](const DwellingMeasure& of) { return of.id == id; })) return id;
    }
}

}  // namespace

MeasureDialog::MeasureDialog(const Dwelling& dwelling, std::optional<std::size_t> index, VariantsOf variants_of, QWidget* parent)
    : QDialog(parent), dwelling_(dwelling), index_(index), variants_of_(std::move(variants_of)) {
    setWindowTitle(index ? tr("Measure") : tr("Add a measure"));
    if (index) begin_ = dwelling.measures.at(*index);
    else begin_.id = new_measure_id(dwelling);
    auto* rows = new QVBoxLayout(this);
    form_ = new QFormLayout;
    rows->addLayout(form_);
    add_field(QStringLiteral("name"), tr("&What is done"), words(begin_.name));
    row_ = new QComboBox(this);
    const auto kinds = junction_kinds();
    for (const Junction& junction : dwelling.junctions) row_->addItem(words(shown_name(junction, kinds)), words(junction.id));
    row_->setCurrentIndex(std::max(0, row_->findData(words(begin_.junction))));
    form_->addRow(tr("At which &row"), row_);
    from_ = new QComboBox(this);
    from_->addItem(tr("another variant of the row's study"), study);
    from_->addItem(tr("elsewhere: psi with its source"), elsewhere);
    form_->addRow(tr("New value &from"), from_);
    variant_ = new QComboBox(this);
    form_->addRow(tr("&Variant"), variant_);
    const auto* other = std::get_if<FromElsewhere>(&begin_.value);
    add_field(QStringLiteral("psi"), tr("&psi, W/(m·K)"), other ? typed_value(other->psi) : QString());
    basis_ = new QComboBox(this);
    for (const auto& [basis, word] : value_basis_words) basis_->addItem(words(std::string(word)), static_cast<int>(basis));
    basis_->setCurrentIndex(basis_->findData(static_cast<int>(other ? other->basis : ValueBasis::calculated)));
    form_->addRow(tr("&Basis"), basis_);
    add_field(QStringLiteral("source"), tr("&Source"), words(other ? other->source : std::string()));
    add_field(QStringLiteral("cost"), dwelling.currency.empty() ? tr("&Cost of the whole row") : tr("&Cost of the whole row, %1").arg(words(dwelling.currency)), begin_.cost ? typed_value(begin_.cost->value) : QString(), tr("Your own price; left empty, no payback is worked out."));
    add_field(QStringLiteral("cost.date"), tr("&Date of the price"), words(begin_.cost ? begin_.cost->date : std::string()), tr("Year-month-day, such as 2026-05-31."));
    add_field(QStringLiteral("cost.source"), tr("Source of the pr&ice"), words(begin_.cost ? begin_.cost->source : std::string()));
    from_->setCurrentIndex(from_->findData(other ? elsewhere : study));
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    problem_->setMinimumHeight(fontMetrics().height() * 3);
    problem_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    rows->addWidget(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    rows->addWidget(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(row_, &QComboBox::currentIndexChanged, this, &MeasureDialog::row_changed);
    for (QComboBox* box : {from_, variant_, basis_}) connect(box, &QComboBox::currentIndexChanged, this, &MeasureDialog::refresh);
    setMinimumWidth(fontMetrics().averageCharWidth() * 80);
    row_changed();
}

void MeasureDialog::add_field(const QString& name, const QString& label, const QString& text, const QString& tip) {
    auto* field = new QLineEdit(text, this);
    field->setToolTip(tip);
    form_->addRow(label, field);
    connect(field, &QLineEdit::textChanged, this, &MeasureDialog::refresh);
    fields_[name] = field;
}

const Junction& MeasureDialog::chosen_row() const { return dwelling_.junctions.at(static_cast<std::size_t>(std::max(0, row_->currentIndex()))); }

/// The variants that can be chosen are those of the row's study, but for the one it has.
void MeasureDialog::row_changed() {
    const auto* of = std::get_if<FromStudy>(&chosen_row().value);
    {
        const QSignalBlocker quiet(variant_), also(from_);
        variant_->clear();
        if (of) {
            for (const auto& [id, name] : variants_of_(of->file))
                if (id != words(of->variant)) variant_->addItem(name, id);
            const auto* chosen = std::get_if<FromStudy>(&begin_.value);
            if (chosen && chosen->file == of->file) {
                if (variant_->findData(words(chosen->variant)) < 0) variant_->addItem(words(chosen->variant), words(chosen->variant));
                variant_->setCurrentIndex(variant_->findData(words(chosen->variant)));
            }
        }
        if (!of || variant_->count() == 0) from_->setCurrentIndex(from_->findData(elsewhere));
    }
    refresh();
}

DwellingMeasure MeasureDialog::measure() const {
    const auto text = [&](const char* name) { return fields_.at(QString::fromLatin1(name))->text().trimmed().toStdString(); };
    const auto number = [&](const char* name) {
        const Entry entry = parse_number(text(name));
        return entry ? entry.value : std::nullopt;
    };
    DwellingMeasure made = begin_;
    made.name = text("name");
    made.junction = chosen_row().id;
    if (from_->currentData().toInt() == study) {
        const auto* of = std::get_if<FromStudy>(&chosen_row().value);
        const FromStudy before = std::holds_alternative<FromStudy>(begin_.value) ? std::get<FromStudy>(begin_.value) : FromStudy{};
        FromStudy now{of ? of->file : before.file, variant_->currentData().toString().toStdString(), {}, before.extra};
        if (now.file == before.file && now.variant == before.variant) now.last = before.last;
        made.value = std::move(now);
    } else {
        FromElsewhere now = std::holds_alternative<FromElsewhere>(begin_.value) ? std::get<FromElsewhere>(begin_.value) : FromElsewhere{};
        now.psi = number("psi").value_or(0);
        now.basis = static_cast<ValueBasis>(basis_->currentData().toInt());
        now.source = text("source");
        made.value = std::move(now);
    }
    if (text("cost").empty()) made.cost.reset();
    else made.cost = DatedValue{number("cost").value_or(0), text("cost.date"), text("cost.source"), begin_.cost ? begin_.cost->extra : Extra{}};
    return made;
}

void MeasureDialog::refresh() {
    const int from = from_->currentData().toInt();
    form_->setRowVisible(variant_, from == study);
    form_->setRowVisible(basis_, from == elsewhere);
    for (const char* name : {"psi", "source"}) form_->setRowVisible(fields_[QString::fromLatin1(name)], from == elsewhere);
    QString problem;
    const auto say = [&](const QString& what) {
        if (problem.isEmpty()) problem = what;
    };
    const auto typed = [&](const char* name) { return fields_[QString::fromLatin1(name)]->text().trimmed(); };
    if (typed("name").isEmpty()) say(tr("Say what is done."));
    if (from == study && variant_->currentIndex() < 0) say(std::holds_alternative<FromStudy>(chosen_row().value) ? tr("The row's study has no other variant, or cannot be read.") : tr("The row has no study: give a psi from elsewhere."));
    for (const char* name : {"psi", "cost"})
        if (const QString text = typed(name); !text.isEmpty() && !parse_number(text.toStdString()) && (from == elsewhere || qstrcmp(name, "cost") == 0)) say(tr("\"%1\" is no number. Type one such as 0.05.").arg(text));
    if (from == elsewhere && typed("psi").isEmpty()) say(tr("psi is missing. Type it with its sign."));
    if (from == elsewhere && typed("source").isEmpty()) say(tr("Say where the value is from."));
    if (!typed("cost").isEmpty() && typed("cost.date").isEmpty()) say(tr("Say of which day the price is."));
    if (problem.isEmpty()) {
        Dwelling next = dwelling_;
        if (index_) next.measures.at(*index_) = measure();
        else next.measures.push_back(measure());
        try {
            read_dwelling(write_dwelling(next));
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        }
    }
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot
