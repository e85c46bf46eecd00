// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/junction_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/dwelling/dwelling_file.hpp"
#include "core/text/number_entry.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QString entry_text(std::optional<double> value) { return value ? words(number_text(*value, 9)) : QString(); }
std::optional<double> entered_number(const QLineEdit& field) {
    const Entry entry = parse_number(field.text().toStdString());
    return entry ? entry.value : std::nullopt;
}
/// Typed, but no number.
bool is_no_number(const QLineEdit& field) { return !field.text().trimmed().isEmpty() && !entered_number(field); }

}  // namespace

JunctionDialog::JunctionDialog(const Dwelling& dwelling, std::optional<std::size_t> row, const Junction& begin, const std::vector<std::pair<QString, QString>>& variants, QWidget* parent)
    : QDialog(parent), dwelling_(dwelling), row_(row), begin_(begin) {
    setWindowTitle(row ? tr("Junction") : tr("Add a junction"));
    auto* rows = new QVBoxLayout(this);
    form_ = new QFormLayout;
    rows->addLayout(form_);
    kind_ = new QComboBox(this);
    for (const JunctionKind& kind : junction_kinds()) kind_->addItem(words(kind.name), words(kind.id));
    kind_->setCurrentIndex(std::max(0, kind_->findData(words(begin.kind))));
    form_->addRow(tr("&Kind of junction"), kind_);
    add_field(*form_, QStringLiteral("name"), tr("&Where"), words(begin.name));
    add_field(*form_, QStringLiteral("length"), tr("&Length, m"), entry_text(begin.length));

    from_ = new QComboBox(this);
    const auto* of_study = std::get_if<FromStudy>(&begin.value);
    if (of_study) from_->addItem(tr("a study"), study);
    from_->addItem(tr("elsewhere: psi with its source"), elsewhere);
    from_->addItem(tr("elsewhere: point transmittance chi, with a count"), point);
    from_->addItem(tr("not known yet: open"), nothing);
    form_->addRow(tr("Value &from"), from_);
    const auto* other = std::get_if<FromElsewhere>(&begin.value);
    const auto* single = std::get_if<PointValue>(&begin.value);
    file_ = new QLabel(of_study ? words(of_study->file) : QString(), this);
    form_->addRow(tr("Study"), file_);
    variant_ = new QComboBox(this);
    for (const auto& [id, name] : variants) variant_->addItem(name, id);
    if (of_study && variant_->findData(words(of_study->variant)) < 0) variant_->addItem(words(of_study->variant), words(of_study->variant));
    variant_->setCurrentIndex(of_study ? variant_->findData(words(of_study->variant)) : -1);
    form_->addRow(tr("&Variant"), variant_);
    add_field(*form_, QStringLiteral("psi"), tr("&psi, W/(m·K)"), other ? entry_text(other->psi) : QString());
    add_field(*form_, QStringLiteral("lower"), tr("at least, where a range is given"), other ? entry_text(other->lower) : QString());
    add_field(*form_, QStringLiteral("upper"), tr("at most"), other ? entry_text(other->upper) : QString());
    add_field(*form_, QStringLiteral("chi"), tr("c&hi, W/K"), single ? entry_text(single->chi) : QString());
    add_field(*form_, QStringLiteral("count"), tr("Cou&nt"), single ? entry_text(single->count) : QString());
    basis_ = new QComboBox(this);
    for (const auto& [basis, word] : value_basis_words) basis_->addItem(words(std::string(word)), static_cast<int>(basis));
    basis_->setCurrentIndex(basis_->findData(static_cast<int>(other ? other->basis : single ? single->basis : ValueBasis::default_value)));
    form_->addRow(tr("&Basis"), basis_);
    add_field(*form_, QStringLiteral("source"), tr("&Source"), words(other ? other->source : single ? single->source : std::string()));
    if (of_study && of_study->last)
        for (const FlankingElement& element : of_study->last->flanking) {
            auto* box = new QComboBox(this);
            box->setEditable(true);
            box->addItem(tr("not stated"));
            for (const EnvelopeElement& of : dwelling.envelope) box->addItem(tr("%1: %2").arg(words(of.name.empty() ? of.id : of.name), entry_text(of.U)), words(of.id));
            for (const CalculationU& used : begin.calculation)
                if (used.element == element.element) {
                    if (used.U) box->setEditText(entry_text(used.U));
                    else box->setCurrentIndex(std::max(0, box->findData(words(used.as))));
                }
            form_->addRow(tr("U of the calculation, %1 (study: %2 over %3 m)").arg(words(flanking_text(element.element)), words(number_text(element.U, 4)), words(number_text(element.length, 3))), box);
            connect(box, &QComboBox::editTextChanged, this, &JunctionDialog::refresh);
            used_.emplace_back(element.element, box);
        }
    from_->setCurrentIndex(from_->findData(of_study ? study : single ? point : other || !row ? elsewhere : nothing));

    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    problem_->setMinimumHeight(fontMetrics().height() * 3);
    problem_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    rows->addWidget(problem_);
    rows->addStretch();
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    rows->addWidget(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    for (QComboBox* box : {kind_, from_, variant_, basis_}) connect(box, &QComboBox::currentIndexChanged, this, &JunctionDialog::refresh);
    setMinimumWidth(fontMetrics().averageCharWidth() * 84);
    refresh();
}

QLineEdit* JunctionDialog::add_field(QFormLayout& form, const QString& name, const QString& label, const QString& text) {
    auto* field = new QLineEdit(text, this);
    form.addRow(label, field);
    connect(field, &QLineEdit::textChanged, this, &JunctionDialog::refresh);
    return fields_[name] = field;
}

Junction JunctionDialog::junction() const {
    const auto text = [&](const char* name) { return fields_.at(QString::fromLatin1(name))->text().trimmed().toStdString(); };
    const auto number = [&](const char* name) { return entered_number(*fields_.at(QString::fromLatin1(name))); };
    Junction made = begin_;
    made.kind = kind_->currentData().toString().toStdString();
    made.name = text("name");
    made.length = number("length");
    const auto basis = static_cast<ValueBasis>(basis_->currentData().toInt());
    switch (from_->currentData().toInt()) {
        case study: {
            auto& of = std::get<FromStudy>(made.value);
            const std::string chosen = variant_->currentData().toString().toStdString();
            if (chosen != of.variant) of.last.reset();  // it was that of another variant
            of.variant = chosen;
            break;
        }
        case elsewhere: {
            FromElsewhere of = std::holds_alternative<FromElsewhere>(begin_.value) ? std::get<FromElsewhere>(begin_.value) : FromElsewhere{};
            of.psi = number("psi").value_or(0);
            of.lower = number("lower");
            of.upper = number("upper");
            of.basis = basis;
            of.source = text("source");
            made.value = std::move(of);
            break;
        }
        case point: {
            PointValue of = std::holds_alternative<PointValue>(begin_.value) ? std::get<PointValue>(begin_.value) : PointValue{};
            of.chi = number("chi").value_or(0);
            of.count = number("count").value_or(0);
            of.basis = basis;
            of.source = text("source");
            made.value = std::move(of);
            made.length.reset();
            break;
        }
        default: made.value = std::monostate{};
    }
    if (used_.empty()) return made;
    made.calculation.clear();
    for (const auto& [element, box] : used_) {
        const int chosen = box->currentIndex();
        CalculationU used{element, {}, {}, {}};
        if (chosen > 0 && box->itemText(chosen) == box->currentText()) used.as = box->itemData(chosen).toString().toStdString();
        else if (const Entry entry = parse_number(box->currentText().toStdString())) used.U = entry.value;
        if (used.U || !used.as.empty()) made.calculation.push_back(std::move(used));
    }
    return made;
}

void JunctionDialog::refresh() {
    if (!buttons_) return;
    const int from = from_->currentData().toInt();
    const auto show = [&](QWidget* field, bool shown) { form_->setRowVisible(field, shown); };
    show(fields_[QStringLiteral("length")], from != point);
    show(file_, from == study);
    show(variant_, from == study);
    for (const char* name : {"psi", "lower", "upper"}) show(fields_[QString::fromLatin1(name)], from == elsewhere);
    for (const char* name : {"chi", "count"}) show(fields_[QString::fromLatin1(name)], from == point);
    show(basis_, from == elsewhere || from == point);
    show(fields_[QStringLiteral("source")], from == elsewhere || from == point);
    for (const auto& [element, box] : used_) show(box, from == study);

    QString problem;
    const auto want = [&](const char* name, const QString& what) {
        if (problem.isEmpty() && fields_[QString::fromLatin1(name)]->text().trimmed().isEmpty()) problem = what;
    };
    for (const auto& [name, field] : fields_)
        if (name != QStringLiteral("name") && name != QStringLiteral("source") && field->isVisibleTo(this) && is_no_number(*field)) problem = tr("\"%1\" is no number. Type one such as 0.05.").arg(field->text());
    if (from == elsewhere) want("psi", tr("psi is missing. Type it with its sign."));
    if (from == point) want("chi", tr("chi is missing. Type it.")), want("count", tr("The count is missing. Type how many there are."));
    if (from == elsewhere || from == point) want("source", tr("Say where the value is from."));
    for (const auto& [element, box] : used_) {
        const QString typed = box->currentText().trimmed();
        const bool an_item = box->currentIndex() >= 0 && box->itemText(box->currentIndex()) == box->currentText();
        if (problem.isEmpty() && from == study && !typed.isEmpty() && !an_item && !parse_number(typed.toStdString())) problem = tr("\"%1\" is neither a U nor an element of the envelope.").arg(typed);
    }
    if (problem.isEmpty()) {
        // Whatever could not stand in the file is refused by its reader.
        Dwelling next = dwelling_;
        const Junction made = junction();
        std::erase(next.absent, made.kind);
        if (row_) next.junctions.at(*row_) = made;
        else next.junctions.push_back(made);
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
