// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/climate_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QDoubleSpinBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QGroupBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QTableWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "core/exchange/climate_table.hpp"
#include "core/file/study_file.hpp"
#include "core/standards/outside_standard.hpp"
#include "core/study/site.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/surface_verdicts.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum MonthColumn { outside_column, humidity_column, inside_column, required_column, month_columns };
constexpr int shown_role = Qt::UserRole, exact_role = Qt::UserRole + 1;
constexpr int stated_humidity = 5;  // data of the entry behind the four classes

QString in_decimals(double value, int decimals) { return words(fixed(value, decimals)); }

/// What a convention asks, in a few lines.
QString convention_words(const Convention& convention) {
    QStringList lines;
    lines << QApplication::translate("ClimateDialog", "psi in %1 lengths.").arg(words(word_of(length_system_words, convention.lengths)));
    const auto resistances = [](const SurfaceRule& rule) {
        return QApplication::translate("ClimateDialog", "inside %1 up, %2 horizontal, %3 down; outside %4 m²·K/W")
            .arg(in_decimals(rule.inside.up, 2), in_decimals(rule.inside.horizontal, 2), in_decimals(rule.inside.down, 2), in_decimals(rule.outside, 2));
    };
    lines << QApplication::translate("ClimateDialog", "Heat flow: %1.").arg(resistances(convention.heat_flow));
    lines << (convention.surface_check ? QApplication::translate("ClimateDialog", "Surface: %1.").arg(resistances(*convention.surface_check)) : QApplication::translate("ClimateDialog", "Surface: the same resistances as for heat flow."));
    QStringList limits;
    if (convention.least_fRsi) limits << QApplication::translate("ClimateDialog", "fRsi at least %1").arg(in_decimals(*convention.least_fRsi, 2));
    for (const auto& [use, limit] : convention.least_fRsi_by_use)
        limits << QApplication::translate("ClimateDialog", "fRsi at least %1 for %2").arg(in_decimals(limit, 2), words(site_value_text("use", use)));
    for (const auto& [zone, limit] : convention.least_fRsi_by_zone)
        limits << QApplication::translate("ClimateDialog", "fRsi at least %1 in climate zone %2").arg(in_decimals(limit, 2), words(zone));
    if (convention.most_psi) limits << QApplication::translate("ClimateDialog", "psi at most %1 W/(m·K)").arg(in_decimals(*convention.most_psi, 3));
    lines << (limits.isEmpty() ? QApplication::translate("ClimateDialog", "It sets no limit.") : limits.join(QStringLiteral("; ")) + QLatin1Char('.'));
    return lines.join(QLatin1Char('\n'));
}

}  // namespace

ClimateDialog::ClimateDialog(const Study& study, QWidget* parent) : QDialog(parent), conventions_(known_conventions(study)), before_(study.climate.value_or(Climate{})) {
    setWindowTitle(tr("Convention and climate"));
    auto* rows = new QVBoxLayout(this);
    rows->addWidget(convention_box(study));
    rows->addWidget(months_box());
    problem_ = new QLabel(this);
    problem_->setObjectName(QStringLiteral("problem"));
    problem_->setWordWrap(true);
    rows->addWidget(problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    rows->addWidget(buttons_);
    show_months(before_.months);
    convention_->setFocus();
    setMinimumWidth(fontMetrics().averageCharWidth() * 92);
    refresh();
}

QWidget* ClimateDialog::convention_box(const Study& study) {
    auto* box = new QGroupBox(tr("Convention; a copy goes into the study"), this);
    auto* rows = new QVBoxLayout(box);
    convention_ = new QComboBox(box);
    convention_->setAccessibleName(tr("Convention"));
    for (const Convention& convention : conventions_) convention_->addItem(convention.name.empty() ? words(convention.id) : words(convention.name), words(convention.id));
    convention_->setCurrentIndex(std::max(0, convention_->findData(words(study.convention))));
    rows->addWidget(convention_);
    about_ = new QLabel(box);
    about_->setWordWrap(true);
    rows->addWidget(about_);
    auto* form = new QFormLayout;
    share_ = new QComboBox(box);
    share_->setObjectName(QStringLiteral("share"));
    share_->addItem(tr("not stated: half of it each"), -1);
    share_->addItem(tr("half of it each"), static_cast<int>(DwellingShare::half));
    share_->addItem(tr("each the psi of its own side"), static_cast<int>(DwellingShare::by_side));
    share_->setToolTip(tr("What each of two dwellings enters of a psi that both share, where a space of the own and one of the neighbour's dwelling meet. It becomes part of the study's copy of the convention."));
    form->addRow(tr("psi that &two dwellings share"), share_);
    rows->addLayout(form);
    connect(convention_, &QComboBox::currentIndexChanged, this, [this] {
        zones_of_convention();
        refresh();
    });
    return box;
}

QLayout* ClimateDialog::indoor_row() {
    auto* row = new QHBoxLayout;
    indoor_ = new QComboBox(this);
    indoor_->setAccessibleName(tr("Air inside"));
    indoor_->addItem(tr("not stated: mould is not assessed"), 0);
    indoor_->addItem(tr("class 1: storage"), 1);
    indoor_->addItem(tr("class 2: offices, shops; dwellings normally occupied"), 2);
    indoor_->addItem(tr("class 3: dwellings, occupancy not known"), 3);
    indoor_->addItem(tr("class 4: sports halls, kitchens, canteens"), 4);
    indoor_->addItem(tr("a relative humidity"), stated_humidity);
    const auto percent = [&](double value, double least, double most, const QString& name) {
        auto* box = new QDoubleSpinBox(this);
        box->setRange(least, most);
        box->setDecimals(0);
        box->setSuffix(tr(" %"));
        box->setValue(value);
        box->setAccessibleName(name);
        return box;
    };
    const IndoorAir given = before_.indoor.value_or(IndoorAir{});
    humidity_ = percent(100 * given.humidity.value_or(0.5), 1, 100, tr("Relative humidity inside"));
    margin_ = percent(100 * given.margin, 0, 20, tr("Margin added to it"));
    indoor_->setCurrentIndex(indoor_->findData(given.humidity_class ? *given.humidity_class : given.humidity ? stated_humidity : 0));
    row->addWidget(indoor_, 1);
    row->addWidget(humidity_);
    row->addWidget(new QLabel(tr("and a margin of"), this));
    row->addWidget(margin_);
    connect(indoor_, &QComboBox::currentIndexChanged, this, &ClimateDialog::refresh);
    connect(humidity_, &QDoubleSpinBox::valueChanged, this, &ClimateDialog::refresh);
    connect(margin_, &QDoubleSpinBox::valueChanged, this, &ClimateDialog::refresh);
    return row;
}

QWidget* ClimateDialog::months_box() {
    auto* box = new QGroupBox(tr("Climate that inside surfaces are checked in"), this);
    auto* rows = new QVBoxLayout(box);
    auto* form = new QFormLayout;
    name_ = new QLineEdit(words(before_.name), box);
    source_ = new QLineEdit(words(before_.source), box);
    form->addRow(tr("&Place"), name_);
    form->addRow(tr("Sou&rce"), source_);
    zone_ = new QComboBox(box);
    zone_->setEditable(true);
    zone_->setInsertPolicy(QComboBox::NoInsert);
    zone_->lineEdit()->setObjectName(QStringLiteral("zone"));
    zone_->setAccessibleName(tr("Climate zone"));
    zone_->lineEdit()->setPlaceholderText(tr("as the convention names it, where its limit goes by climate zone"));
    zones_of_convention();
    zone_->setEditText(words(before_.zone));
    form->addRow(tr("Climate &zone"), zone_);
    auto* air = indoor_row();
    auto* air_label = new QLabel(tr("Air &inside"), box);
    air_label->setBuddy(indoor_);
    form->addRow(air_label, air);
    stated_by_ = new QComboBox(box);
    stated_by_->setAccessibleName(tr("The year is stated by"));
    stated_by_->addItems({tr("twelve months: for mould, and through the ground"), tr("mean and swing of the year: through the ground; mould by a relative humidity inside")});
    form->addRow(tr("The &year by"), stated_by_);
    rows->addLayout(form);
    pages_ = new QStackedWidget(box);
    pages_->addWidget(months_page());
    pages_->addWidget(year_page());
    rows->addWidget(pages_);
    stated_by_->setCurrentIndex(before_.year ? 1 : 0);
    pages_->setCurrentIndex(stated_by_->currentIndex());
    connect(stated_by_, &QComboBox::currentIndexChanged, this, [this](int index) {
        pages_->setCurrentIndex(index);
        refresh();
    });
    return box;
}

/// The zones that the chosen convention sets a limit for are offered; another one can be typed.
void ClimateDialog::zones_of_convention() {
    const Convention& convention = conventions_[static_cast<std::size_t>(convention_->currentIndex())];
    share_->setCurrentIndex(share_->findData(convention.dwelling_share ? static_cast<int>(*convention.dwelling_share) : -1));
    if (!zone_) return;
    const QString typed = zone_->currentText();
    zone_->clear();
    for (const auto& [zone, limit] : convention.least_fRsi_by_zone) zone_->addItem(words(zone));
    zone_->setEditText(typed);
}

QWidget* ClimateDialog::year_page() {
    auto* page = new QWidget(this);
    auto* form = new QFormLayout(page);
    auto* about = new QLabel(tr("Where months are not at hand: the temperature outside as one wave through the year. It serves what the ground stores through the year. Mould is assessed by it where a relative humidity inside is stated; a humidity class needs the twelve months."), page);
    about->setWordWrap(true);
    form->addRow(about);
    const YearWave given = before_.year.value_or(YearWave{});
    const auto add = [&](int at, const QString& label, double value, double least, double most, const char* name, const QString& tip) {
        YearField& of = wave_[at];
        of.field = new QLineEdit(page);
        of.field->setObjectName(QLatin1String(name));
        of.field->setAccessibleName(QString(label).remove(QLatin1Char('&')));
        of.field->setToolTip(tip);
        of.field->setPlaceholderText(at < 2 ? tr("not stated") : at == 2 ? tr("1: the middle of January") : tr("0: the same all year"));
        of.least = least;
        of.most = most;
        of.exact = value;
        of.shown = before_.year ? words(number_text(value, 3)) : QString();
        of.field->setText(of.shown);
        of.fault = new QLabel(page);
        of.fault->setWordWrap(true);
        QPalette red = of.fault->palette();
        red.setColor(QPalette::WindowText, (palette().color(QPalette::Base).lightness() < 128 ? SheetColours::dark() : SheetColours::light()).fault);
        of.fault->setPalette(red);
        auto* box = new QWidget(page);
        auto* column = new QVBoxLayout(box);
        column->setContentsMargins(0, 0, 0, 0);
        column->setSpacing(1);
        column->addWidget(of.field);
        column->addWidget(of.fault);
        auto* text = new QLabel(label, page);
        text->setBuddy(of.field);
        form->addRow(text, box);
        connect(of.field, &QLineEdit::textChanged, this, &ClimateDialog::refresh);
    };
    add(0, tr("&Mean of the year outside, °C"), given.outside_mean, -60, 60, "outside_mean", {});
    add(1, tr("S&wing outside, K"), given.outside_amplitude, 0, 60, "outside_amplitude", tr("Half of what lies between the warmest and the coldest month."));
    add(2, tr("Coldest mont&h, 1 to 12"), given.coldest_month, 1, 12, "coldest_month", tr("1 is the middle of January, 1.5 the end of it. Left empty: January."));
    add(3, tr("Swing i&nside, K"), given.inside_amplitude, 0, 60, "inside_amplitude", tr("Half of what lies between the warmest and the coldest month inside. Left empty: the same all year."));
    return page;
}

QWidget* ClimateDialog::months_page() {
    auto* box = new QWidget(this);
    auto* rows = new QVBoxLayout(box);
    rows->setContentsMargins(0, 0, 0, 0);
    table_ = new QTableWidget(static_cast<int>(months_of_a_year), month_columns, box);
    table_->setAccessibleName(tr("Twelve months"));
    table_->setHorizontalHeaderLabels({tr("outside, °C"), tr("humidity outside, %"), tr("inside, °C"), tr("fRsi it asks")});
    table_->horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    QStringList names;
    for (std::size_t i = 0; i < months_of_a_year; ++i) names << words(month_name(i));
    table_->setVerticalHeaderLabels(names);
    table_->verticalHeader()->setDefaultSectionSize(fontMetrics().height() + 6);
    table_->setMinimumHeight(table_->verticalHeader()->defaultSectionSize() * 12 + table_->horizontalHeader()->sizeHint().height() + 4);
    connect(table_, &QTableWidget::cellChanged, this, &ClimateDialog::refresh);
    rows->addWidget(table_);
    auto* line = new QHBoxLayout;
    most_ = new QLabel(box);
    most_->setWordWrap(true);
    line->addWidget(most_, 1);
    const auto button = [&](const QString& text, const QString& tip, auto act) {
        auto* made = new QPushButton(text, box);
        made->setToolTip(tip);
        made->setAutoDefault(false);
        connect(made, &QPushButton::clicked, this, act);
        line->addWidget(made);
    };
    button(tr("From a &file…"), tr("A table of twelve months, or an hourly weather file in the open EPW form."), [this] { take_file(); });
    button(tr("Pa&ste"), tr("Twelve rows copied from a spreadsheet: outside, humidity, and if you like inside."), [this] { take_text(QApplication::clipboard()->text()); });
    button(tr("&Empty"), tr("Take the months out: mould is then not assessed."), [this] { show_months({}); refresh(); });
    rows->addLayout(line);
    return box;
}

void ClimateDialog::show_months(const std::vector<ClimateMonth>& months) {
    filling_ = true;
    for (int row = 0; row < table_->rowCount(); ++row)
        for (int column = 0; column < month_columns; ++column) {
            QString text;
            double exact = 0;
            if (static_cast<std::size_t>(row) < months.size()) {
                const ClimateMonth& month = months[static_cast<std::size_t>(row)];
                if (column == outside_column) exact = month.outside, text = words(number_text(exact, 2));
                if (column == humidity_column) exact = month.humidity, text = words(number_text(100 * exact, 1));
                if (column == inside_column && month.inside) exact = *month.inside, text = words(number_text(exact, 2));
            }
            auto* item = new QTableWidgetItem(text);
            // A cell left as it is keeps the number behind it, with all its digits.
            item->setData(shown_role, text);
            item->setData(exact_role, exact);
            item->setTextAlignment(Qt::AlignRight | Qt::AlignVCenter);
            if (column == required_column) item->setFlags(Qt::ItemIsEnabled);
            table_->setItem(row, column, item);
        }
    filling_ = false;
}

void ClimateDialog::take_file() {
    const QString path = QFileDialog::getOpenFileName(this, tr("Climate from a file"), QString(), tr("Tables and weather files (*.csv *.txt *.tsv *.epw);;All files (*)"));
    if (path.isEmpty()) return;
    try {
        const Climate read = climate_from_file(path.toStdString());
        name_->setText(words(read.name));
        source_->setText(words(read.source));
        show_months(read.months);
        refresh();
    } catch (const InputFault& fault) {
        show_problem(sentence(fault.faults()));
    }
}

void ClimateDialog::take_text(const QString& text) {
    try {
        show_months(climate_from_table(text.toStdString()));
        source_->setText(tr("pasted"));  // no longer what it was
        name_->clear();
        refresh();
    } catch (const InputFault& fault) {
        show_problem(sentence(fault.faults()));
    }
}

void ClimateDialog::show_problem(const QString& problem) { problem_->setText(problem); }

std::vector<ClimateMonth> ClimateDialog::months(QString* problem) const {
    const auto complain = [&](const QString& text) {
        if (problem && problem->isEmpty()) *problem = text;
    };
    std::vector<ClimateMonth> months;
    int empty = 0;
    for (int row = 0; row < table_->rowCount(); ++row) {
        const auto cell = [&](MonthColumn column) { return table_->item(row, column)->text().trimmed().toStdString(); };
        const QString month = words(month_name(static_cast<std::size_t>(row)));
        if (cell(outside_column).empty() && cell(humidity_column).empty() && cell(inside_column).empty()) {
            ++empty;
            continue;
        }
        const auto number = [&](MonthColumn column, double least, double most) -> std::optional<double> {
            const QTableWidgetItem* item = table_->item(row, column);
            if (!item->text().isEmpty() && item->text() == item->data(shown_role).toString()) return item->data(exact_role).toDouble();
            const Entry entry = parse_number(cell(column));
            if (entry && *entry.value >= least && *entry.value <= most) return column == humidity_column ? *entry.value / 100 : *entry.value;
            complain(tr("%1: %2 should be a number from %3 to %4.").arg(month, table_->horizontalHeaderItem(column)->text()).arg(least).arg(most));
            return std::nullopt;
        };
        ClimateMonth entered;
        if (static_cast<std::size_t>(row) < before_.months.size()) entered.extra = before_.months[static_cast<std::size_t>(row)].extra;
        entered.outside = number(outside_column, -60, 60).value_or(0);
        entered.humidity = number(humidity_column, 1, 100).value_or(1);
        if (!cell(inside_column).empty()) entered.inside = number(inside_column, -60, 60);
        months.push_back(std::move(entered));
    }
    if (empty > 0 && !months.empty()) complain(tr("%n month(s) missing: fill all twelve, or none.", nullptr, empty));
    return months;
}

std::optional<YearWave> ClimateDialog::year(QString* problem) const {
    if (stated_by_->currentIndex() == 0) {
        for (const YearField& of : wave_) of.fault->hide();
        return std::nullopt;
    }
    const bool any = std::any_of(std::begin(wave_), std::end(wave_), [](const YearField& of) { return !of.field->text().trimmed().isEmpty(); });
    double values[4] = {0, 0, YearWave{}.coldest_month, 0};
    for (int at = 0; at < 4; ++at) {
        const YearField& of = wave_[at];
        const QString text = of.field->text().trimmed();
        QString wrong;
        if (!text.isEmpty() && text == of.shown) values[at] = of.exact;
        else if (const Entry entry = parse_number(text.toStdString()); text.isEmpty()) {
            if (any && at < 2) wrong = tr("Mean and swing are needed both.");
        } else if (!entry) wrong = sentence(entry.problem);
        else if (*entry.value < of.least || *entry.value > of.most) wrong = tr("It should be a number from %1 to %2.").arg(of.least).arg(of.most);
        else values[at] = *entry.value;
        of.fault->setText(wrong);
        of.fault->setVisible(!wrong.isEmpty());
        if (problem && problem->isEmpty()) *problem = wrong;
    }
    if (!any) return std::nullopt;
    YearWave wave{values[0], values[1], values[2], values[3], {}};
    if (before_.year) wave.extra = before_.year->extra;
    return wave;
}

std::optional<IndoorAir> ClimateDialog::indoor() const {
    const int chosen = indoor_->currentData().toInt();
    if (chosen == 0) return std::nullopt;
    IndoorAir air;
    if (before_.indoor) air.extra = before_.indoor->extra;
    if (chosen == stated_humidity) {
        // A box left as it is keeps the digits it does not show.
        const auto kept = [](const QDoubleSpinBox& box, double before) { return std::abs(box.value() - 100 * before) <= 0.5 ? before : box.value() / 100; };
        const IndoorAir was = before_.indoor.value_or(IndoorAir{});
        air.humidity = was.humidity ? kept(*humidity_, *was.humidity) : humidity_->value() / 100;
        air.margin = kept(*margin_, was.margin);
    } else {
        air.humidity_class = chosen;
    }
    return air;
}

void ClimateDialog::refresh() {
    if (filling_ || !buttons_) return;
    const Convention& convention = conventions_[static_cast<std::size_t>(convention_->currentIndex())];
    about_->setText(convention_words(convention));
    QStringList sources;
    for (const std::string& source : convention.sources) sources << words(source);
    about_->setToolTip(sources.join(QStringLiteral("\n\n")));
    const auto air = indoor();
    for (QDoubleSpinBox* box : {humidity_, margin_}) box->setEnabled(indoor_->currentData().toInt() == stated_humidity);
    QString problem;
    const bool by_months = stated_by_->currentIndex() == 0;
    const auto entered = months(by_months ? &problem : nullptr);
    year(&problem);
    std::optional<std::size_t> worst;
    double most = 0;
    filling_ = true;
    for (std::size_t i = 0; i < months_of_a_year; ++i) {
        std::optional<double> asked;
        try {
            if (problem.isEmpty() && i < entered.size() && air) asked = required_fRsi(entered[i], *air, convention.inside_temperature);
        } catch (const OutsideStandard&) {
            // a month beyond the formulas asks nothing that could be said
        }
        if (asked && (!worst || *asked > most)) worst = i, most = *asked;
        table_->item(static_cast<int>(i), required_column)->setText(asked ? in_decimals(*asked, 3) : QString());
    }
    filling_ = false;
    most_->setText(!by_months ? QString()  // they are not what is stated then
                   : worst ? tr("%1 asks most of a surface: fRsi %2 against mould.").arg(words(month_name(*worst)), in_decimals(most, 3))
                   : entered.empty() ? tr("No months: mould is not assessed.") : air ? QString() : tr("The air inside is not stated: mould is not assessed."));
    show_problem(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

Study ClimateDialog::applied(const Study& study) const {
    Study changed = with_convention(study, convention_->currentData().toString().toStdString());
    const int share = share_->currentData().toInt();
    changed.conventions.at(changed.convention).dwelling_share = share < 0 ? std::nullopt : std::optional(static_cast<DwellingShare>(share));
    Climate climate = before_;
    climate.name = name_->text().trimmed().toStdString();
    climate.source = source_->text().trimmed().toStdString();
    climate.zone = zone_->currentText().trimmed().toStdString();
    climate.year = year();
    // One or the other; a wave that is not stated takes no months away.
    QString unsound;
    climate.months = months(&unsound);
    if (climate.year) climate.months.clear();
    else if (!unsound.isEmpty()) climate.months = before_.months;
    climate.indoor = indoor();
    changed.climate = climate == Climate{} ? std::nullopt : std::optional(std::move(climate));
    return changed;
}

}  // namespace wallfoot
