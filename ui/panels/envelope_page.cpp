// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/envelope_page.hpp"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>
#include <set>

#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum EnvelopeColumn { envelope_name, envelope_area, envelope_U, envelope_source, envelope_columns };

std::optional<double> number_in(const QString& text) {
    const Entry entry = parse_number(text.toStdString());
    return entry ? entry.value : std::nullopt;
}
QString number_shown(double value) { return words(number_text(value, 9)); }

std::string new_envelope_id(const std::set<std::string>& taken) {
    for (int n = 1;; ++n) {
        std::string id("e");
        id += std::to_string(n);
        if (!taken.contains(id)) return id;
    }
}

}  // namespace

EnvelopePage::EnvelopePage(QWidget* parent) : QWidget(parent) {
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("Areas towards the outside, the ground and unheated spaces, by the lengths of the dwelling, with the U that the calculation uses."), this);
    head->setWordWrap(true);
    rows->addWidget(head);
    table_ = new QTableWidget(0, envelope_columns, this);
    table_->setAccessibleName(tr("Envelope"));
    table_->setHorizontalHeaderLabels({tr("Element"), tr("Area, m²"), tr("U, W/(m²·K)"), tr("Source")});
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
    table_->horizontalHeader()->setSectionResizeMode(envelope_source, QHeaderView::Stretch);
    table_->verticalHeader()->hide();
    table_->setTabKeyNavigation(false);
    rows->addWidget(table_, 1);
    auto* buttons = new QHBoxLayout;
    auto* add = new QPushButton(tr("Add an &element"), this);
    auto* remove = new QPushButton(tr("&Remove it"), this);
    buttons->addWidget(add);
    buttons->addWidget(remove);
    buttons->addStretch();
    rows->addLayout(buttons);
    connect(add, &QPushButton::clicked, this, &EnvelopePage::add_row);
    connect(remove, &QPushButton::clicked, this, &EnvelopePage::remove_row);
    connect(table_, &QTableWidget::itemChanged, this, &EnvelopePage::told);

    auto* grid = new QGridLayout;
    int line = 0;
    const auto put = [&](const char* name, const QString& label, int column, const QString& hint = {}) {
        auto* field = new QLineEdit(this);
        auto* shown = new QLabel(label, this);
        shown->setBuddy(field);
        field->setAccessibleName(QString(label).remove(QLatin1Char('&')));
        field->setPlaceholderText(hint);
        grid->addWidget(shown, line, column);
        grid->addWidget(field, line, column + 1);
        fields_[QString::fromLatin1(name)] = field;
        connect(field, &QLineEdit::textChanged, this, &EnvelopePage::told);
    };
    const QString not_stated = tr("not stated"), day = tr("YYYY-MM-DD");
    put("degree_days", tr("&Degree days, K·d a year"), 0, not_stated);
    put("degree_days.base", tr("base and place"), 2);
    put("degree_days.source", tr("source"), 4);
    ++line;
    put("price", tr("&Price per kWh delivered"), 0, not_stated);
    put("price.date", tr("date"), 2, day);
    put("price.source", tr("source"), 4);
    ++line;
    put("carbon", tr("Car&bon, kg CO2 per kWh"), 0, not_stated);
    put("carbon.date", tr("date"), 2, day);
    put("carbon.source", tr("source"), 4);
    ++line;
    put("currency", tr("C&urrency"), 0);
    put("efficiency", tr("heat per energy delivered"), 2, tr("1"));
    for (const int column : {1, 3, 5}) grid->setColumnStretch(column, column == 5 ? 2 : 1);
    rows->addLayout(grid);
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    rows->addWidget(problem_);
}

void EnvelopePage::load(const Dwelling& dwelling) {
    loading_ = true;
    table_->setRowCount(0);
    for (const EnvelopeElement& element : dwelling.envelope) {
        add_row();
        const int row = table_->rowCount() - 1;
        table_->item(row, envelope_name)->setData(Qt::UserRole, words(element.id));
        table_->item(row, envelope_name)->setText(words(element.name));
        table_->item(row, envelope_area)->setText(number_shown(element.area));
        table_->item(row, envelope_U)->setText(number_shown(element.U));
        table_->item(row, envelope_source)->setText(words(element.source));
    }
    for (const auto& [name, field] : fields_) field->clear();
    const auto put = [&](const char* name, const QString& text) { fields_.at(QString::fromLatin1(name))->setText(text); };
    if (dwelling.degree_days) {
        put("degree_days", number_shown(dwelling.degree_days->value));
        put("degree_days.base", words(dwelling.degree_days->base));
        put("degree_days.source", words(dwelling.degree_days->source));
    }
    const auto put_dated = [&](const std::string& name, const std::optional<DatedValue>& of) {
        if (!of) return;
        put(name.c_str(), number_shown(of->value));
        put((name + ".date").c_str(), words(of->date));
        put((name + ".source").c_str(), words(of->source));
    };
    put_dated("price", dwelling.energy_price);
    put_dated("carbon", dwelling.carbon_factor);
    put("currency", words(dwelling.currency));
    if (dwelling.efficiency) put("efficiency", number_shown(*dwelling.efficiency));
    loading_ = false;
    problem_->setText(problem());
}

QString EnvelopePage::text(const char* name) const { return fields_.at(QString::fromLatin1(name))->text().trimmed(); }
std::optional<double> EnvelopePage::number(const char* name) const { return number_in(text(name)); }

std::optional<DatedValue> EnvelopePage::dated(const char* name, const std::optional<DatedValue>& before) const {
    const std::string key = name;
    const QString date = text((key + ".date").c_str()), source = text((key + ".source").c_str());
    if (text(name).isEmpty() && date.isEmpty() && source.isEmpty()) return std::nullopt;
    const auto value = number(name);
    if (!value || date.isEmpty() || source.isEmpty()) return before;
    return DatedValue{*value, date.toStdString(), source.toStdString(), before ? before->extra : Extra{}};
}

Dwelling EnvelopePage::applied(const Dwelling& dwelling) const {
    Dwelling next = dwelling;
    next.envelope.clear();
    std::set<std::string> taken;
    for (const EnvelopeElement& element : dwelling.envelope) taken.insert(element.id);
    for (int row = 0; row < table_->rowCount(); ++row) {
        const QString id = table_->item(row, envelope_name)->data(Qt::UserRole).toString();
        const EnvelopeElement* before = dwelling.find_envelope(id.toStdString());
        EnvelopeElement element = before ? *before : EnvelopeElement{};
        const auto area = number_in(table_->item(row, envelope_area)->text()), U = number_in(table_->item(row, envelope_U)->text());
        if (!before && (!area || !U)) continue;
        if (!before) {
            // It keeps its id from here on.
            element.id = id.isEmpty() ? new_envelope_id(taken) : id.toStdString();
            taken.insert(element.id);
            const QSignalBlocker quiet(table_);
            table_->item(row, envelope_name)->setData(Qt::UserRole, words(element.id));
        }
        element.name = table_->item(row, envelope_name)->text().trimmed().toStdString();
        element.area = area.value_or(element.area);
        element.U = U.value_or(element.U);
        element.source = table_->item(row, envelope_source)->text().trimmed().toStdString();
        next.envelope.push_back(std::move(element));
    }
    // What refers to an element that was taken out says nothing any more.
    for (Junction& junction : next.junctions) std::erase_if(junction.calculation, [&](const CalculationU& used) { return !used.as.empty() && !next.find_envelope(used.as); });
    if (text("degree_days").isEmpty() && text("degree_days.base").isEmpty() && text("degree_days.source").isEmpty()) next.degree_days.reset();
    else if (const auto days = number("degree_days"); days && !text("degree_days.source").isEmpty())
        next.degree_days = DegreeDays{*days, text("degree_days.base").toStdString(), text("degree_days.source").toStdString(), dwelling.degree_days ? dwelling.degree_days->extra : Extra{}};
    next.energy_price = dated("price", dwelling.energy_price);
    next.carbon_factor = dated("carbon", dwelling.carbon_factor);
    next.currency = text("currency").toStdString();
    if (text("efficiency").isEmpty()) next.efficiency.reset();
    else if (const auto efficiency = number("efficiency")) next.efficiency = efficiency;
    return next;
}

QString EnvelopePage::problem() const {
    for (int row = 0; row < table_->rowCount(); ++row)
        for (const int column : {envelope_area, envelope_U})
            if (!number_in(table_->item(row, column)->text())) return tr("Row %1 of the envelope needs an area and a U as numbers; until then it does not count as typed.").arg(row + 1);
    const auto whole = [&](const char* name, const QString& what, const QStringList& parts) -> QString {
        const bool empty = text(name).isEmpty() && std::all_of(parts.begin(), parts.end(), [&](const QString& part) { return fields_.at(part)->text().trimmed().isEmpty(); });
        const bool full = number(name) && std::none_of(parts.begin(), parts.end(), [&](const QString& part) { return fields_.at(part)->text().trimmed().isEmpty(); });
        return empty || full ? QString() : what;
    };
    if (auto wrong = whole("degree_days", tr("Degree days need a number and a source; until then they do not count as typed."), {QStringLiteral("degree_days.source")}); !wrong.isEmpty()) return wrong;
    if (auto wrong = whole("price", tr("The price needs a number, a date and a source; until then it does not count as typed."), {QStringLiteral("price.date"), QStringLiteral("price.source")}); !wrong.isEmpty()) return wrong;
    if (auto wrong = whole("carbon", tr("Carbon needs a number, a date and a source; until then it does not count as typed."), {QStringLiteral("carbon.date"), QStringLiteral("carbon.source")}); !wrong.isEmpty()) return wrong;
    if (!text("efficiency").isEmpty() && !number("efficiency")) return tr("Heat per energy delivered is a number, such as 0.9 of a boiler or 2.8 of a heat pump.");
    return {};
}

void EnvelopePage::told() {
    if (loading_) return;
    problem_->setText(problem());
    emit edited();
}

void EnvelopePage::add_row() {
    const QSignalBlocker quiet(table_);
    const int row = table_->rowCount();
    table_->insertRow(row);
    for (int column = 0; column < envelope_columns; ++column) table_->setItem(row, column, new QTableWidgetItem);
    if (loading_) return;
    problem_->setText(problem());
    table_->setCurrentCell(row, envelope_name);
    table_->editItem(table_->item(row, envelope_name));
}

void EnvelopePage::remove_row() {
    if (table_->currentRow() < 0) return;
    table_->removeRow(table_->currentRow());
    told();
}

}  // namespace wallfoot
