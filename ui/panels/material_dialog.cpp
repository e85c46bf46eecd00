// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/material_dialog.hpp"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGroupBox>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QStackedWidget>
#include <QTableWidget>
#include <QTreeWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "core/study/materials.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/mix_table.hpp"
#include "ui/panels/words.hpp"
#include "ui/panels/wrapping.hpp"

namespace wallfoot {

namespace {

/// Fields of units in mortar, in the order in which they are asked for.
struct JointField {
    const char* field;
    std::string ConductivityEntry::* text;
};
constexpr JointField joint_fields[] = {{"unit_length", &ConductivityEntry::unit_length}, {"unit_height", &ConductivityEntry::unit_height},
                                       {"bed", &ConductivityEntry::bed}, {"perpend", &ConductivityEntry::perpend}, {"mortar", &ConductivityEntry::mortar}};

QColor fault_colour(const QWidget& widget) {
    return (widget.palette().color(QPalette::Base).lightness() < 128 ? SheetColours::dark() : SheetColours::light()).fault;
}

}  // namespace

MaterialDialog::MaterialDialog(const QString& title, const Material& before, Take take, std::vector<Material> others, QWidget* parent)
    : QDialog(parent), before_(before), take_(std::move(take)), typed_(entry_of(before)) {
    setWindowTitle(title);
    auto* layout = new QVBoxLayout(this);
    layout->addWidget(make_head());
    std::erase_if(others, [&](const Material& other) { return other.id == before.id || !other.mix.empty() || other.lambda.by_condition.empty() || other.kind == MaterialKind::membrane; });
    pages_ = new QStackedWidget(this);
    pages_->addWidget(make_conductivities());
    auto* group = new QGroupBox(tr("Built of"), this);
    auto* parts = new QVBoxLayout(group);
    parts->addWidget(mix_ = new MixTable(typed_.mix, std::move(others), group));
    pages_->addWidget(group);
    pages_->setCurrentIndex(typed_.mixed ? 1 : 0);
    layout->addWidget(pages_, 1);
    layout->addWidget(make_use());
    connect(mix_, &MixTable::changed, this, &MaterialDialog::typed);
    connect(built_, &QComboBox::currentIndexChanged, this, [this](int index) {
        pages_->setCurrentIndex(index);
        typed();
    });
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    connect(buttons, &QDialogButtonBox::accepted, this, &MaterialDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &MaterialDialog::reject);
    layout->addWidget(buttons);
    fill_rows();
    show_row();
    tell();
    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    const int room = screen() ? screen()->availableGeometry().height() - 4 * fontMetrics().height() : 10'000;
    resize(70 * em, std::min(room, fontMetrics().height() * 45));
    name_->setFocus();
}

// ---- the fields --------------------------------------------------------------------------------------------------------

void MaterialDialog::put_with_fault(QFormLayout* form, const QString& label, QWidget* widget, const char* field) {
    auto* box = new QWidget(form->parentWidget());
    auto* column = new QVBoxLayout(box);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(1);
    column->addWidget(widget);
    auto* fault = new QLabel(box);
    fault->setWordWrap(true);
    fault->setObjectName(QStringLiteral("fault.") + QLatin1String(field));
    QPalette red = fault->palette();
    red.setColor(QPalette::WindowText, fault_colour(*this));
    fault->setPalette(red);
    fault->hide();
    column->addWidget(fault);
    faults_[QLatin1String(field)] = fault;
    auto* shown = new QLabel(label, form->parentWidget());
    shown->setBuddy(fields_.contains(QLatin1String(field)) ? fields_[QLatin1String(field)] : widget);
    form->addRow(shown, box);
}

QLineEdit* MaterialDialog::add_line(QFormLayout* form, const QString& label, const char* field) {
    auto* line = new QLineEdit(form->parentWidget());
    line->setObjectName(QLatin1String(field));
    line->setAccessibleName(QString(label).remove(QLatin1Char('&')));
    fields_[QLatin1String(field)] = line;
    connect(line, &QLineEdit::textEdited, this, &MaterialDialog::typed);
    connect(line, &QLineEdit::editingFinished, this, [this, field] { left(QLatin1String(field)); });
    if (form->objectName() != QLatin1String("own rows")) put_with_fault(form, label, line, field);
    return line;
}

QWidget* MaterialDialog::make_head() {
    auto* head = new QWidget(this);
    auto* both = new QHBoxLayout(head);
    both->setContentsMargins(0, 0, 0, 0);
    auto* first = new QWidget(head);
    auto* second = new QWidget(head);
    both->addWidget(first, 3);
    both->addWidget(second, 2);
    auto* form = new QFormLayout(first);
    form->setContentsMargins(0, 0, 0, 0);
    name_ = add_line(form, tr("&Name"), "name");
    name_->setText(words(typed_.name));
    kind_ = new QComboBox(first);
    kind_->setAccessibleName(tr("Kind"));
    for (const MaterialKind kind : material_kinds()) kind_->addItem(name_of(kind), static_cast<int>(kind));
    kind_->setCurrentIndex(kind_->findData(static_cast<int>(typed_.kind)));
    form->addRow(tr("&Kind"), kind_);
    capillary_ = new QComboBox(first);
    capillary_->setAccessibleName(tr("Capillary"));
    capillary_->setToolTip(tr("Whether it draws water up or in by itself."));
    capillary_->addItem(tr("not stated"));
    capillary_->addItem(tr("yes: draws water"));
    capillary_->addItem(tr("no: draws no water"));
    capillary_->setCurrentIndex(!typed_.capillary ? 0 : *typed_.capillary ? 1 : 2);
    form->addRow(tr("Ca&pillary"), capillary_);
    built_ = new QComboBox(first);
    built_->setAccessibleName(tr("Conductivity"));
    built_->addItems({tr("its own, by moisture condition"), tr("of the other materials it is built of")});
    built_->setCurrentIndex(typed_.mixed ? 1 : 0);
    form->addRow(tr("Conductivit&y"), built_);
    auto* numbers = new QFormLayout(second);
    numbers->setContentsMargins(0, 0, 0, 0);
    density_ = add_line(numbers, tr("&Density in kg/m³"), "density");
    density_->setText(words(typed_.density));
    strength_ = add_line(numbers, tr("S&trength in N/mm²"), "strength");
    strength_->setText(words(typed_.strength));
    aggregate_ = add_line(numbers, tr("Agg&regate"), "aggregate");
    aggregate_->setText(words(typed_.aggregate));
    aggregate_->setToolTip(tr("Of blocks and concrete: aerated, light, expanded clay, pumice or dense. Rules at the wall foot ask for it, and the ranges of what is not declared go by it."));
    for (QLineEdit* line : {density_, strength_, aggregate_}) line->setPlaceholderText(tr("not stated"));
    connect(kind_, &QComboBox::currentIndexChanged, this, &MaterialDialog::typed);
    connect(capillary_, &QComboBox::currentIndexChanged, this, &MaterialDialog::typed);
    return head;
}

QWidget* MaterialDialog::make_conductivities() {
    auto* group = new QGroupBox(tr("Conductivity by moisture condition"), this);
    auto* both = new QHBoxLayout(group);
    auto* side = new QVBoxLayout;
    rows_ = new QTreeWidget(group);
    rows_->setObjectName(QStringLiteral("conditions"));
    rows_->setAccessibleName(tr("Moisture conditions"));
    rows_->setColumnCount(2);
    rows_->setHeaderLabels({tr("Condition"), tr("Declared")});
    rows_->setRootIsDecorated(false);
    rows_->setIndentation(0);
    wrap_rows(*rows_);
    side->addWidget(rows_, 1);
    second_axis_ = new QCheckBox(tr("&Another one along the height"), group);
    second_axis_->setToolTip(tr("For units that conduct differently across the leaf and along its height, such as hollow blocks."));
    second_axis_->setChecked(typed_.second_axis);
    side->addWidget(second_axis_);
    auto* same = new QPushButton(tr("Sa&me in all conditions"), group);
    same->setObjectName(QStringLiteral("same"));
    same->setToolTip(tr("Puts what is stated here under every condition: for what moisture does not change, such as metal."));
    same->setAutoDefault(false);
    side->addWidget(same);
    both->addLayout(side, 5);
    auto* scroll = new QScrollArea(group);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setWidget(make_value_form());
    both->addWidget(scroll, 7);
    connect(rows_, &QTreeWidget::currentItemChanged, this, [this] {
        if (!filling_) show_row();
    });
    connect(second_axis_, &QCheckBox::toggled, this, [this](bool on) {
        typed_.second_axis = on;
        fill_rows();
        show_row();
        tell();
    });
    connect(same, &QPushButton::clicked, this, &MaterialDialog::same_in_all);
    return group;
}

/// What a conductivity is converted by to where it is used.
QWidget* MaterialDialog::make_use() {
    auto* group = new QGroupBox(tr("In use: temperature and age (ISO 10456)"), this);
    auto* both = new QHBoxLayout(group);
    const auto column = [&](int share) {
        auto* side = new QWidget(group);
        both->addWidget(side, share);
        auto* form = new QFormLayout(side);
        form->setContentsMargins(0, 0, 0, 0);
        form->setRowWrapPolicy(QFormLayout::WrapLongRows);
        return form;
    };
    auto *first = column(1), *second = column(1);
    coefficient_ = add_line(first, tr("Temperature coeff&icient in 1/K"), "coefficient");
    coefficient_->setText(words(typed_.temperature_coefficient));
    coefficient_->setToolTip(tr("How the conductivity rises per kelvin. Left empty, values hold as they are stated."));
    ageing_ = add_line(first, tr("Factor for ag&e"), "ageing");
    ageing_->setText(words(typed_.ageing));
    ageing_->setToolTip(tr("1 or more: what every conductivity is multiplied by for what it loses with the years. Left empty: none."));
    from_ = add_line(second, tr("Stated at, °C"), "from");
    from_->setText(words(typed_.temperature_from));
    to_ = add_line(second, tr("In use at, °C"), "to");
    to_->setText(words(typed_.temperature_to));
    for (QLineEdit* line : {coefficient_, from_, to_, ageing_}) line->setPlaceholderText(tr("not stated"));
    return group;
}

QWidget* MaterialDialog::make_value_form() {
    auto* values = new QWidget(this);
    auto* form = new QFormLayout(values);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    of_ = new QLabel(values);
    QFont bold = of_->font();
    bold.setBold(true);
    of_->setFont(bold);
    form->addRow(of_);
    const auto choice = [&](const QStringList& items, const QString& name, const char* id) {
        auto* list = new QComboBox(values);
        list->addItems(items);
        list->setAccessibleName(name);
        list->setObjectName(QLatin1String(id));
        list->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        list->setMinimumContentsLength(8);
        connect(list, &QComboBox::currentIndexChanged, this, &MaterialDialog::typed);
        return list;
    };
    stated_as_ = choice({tr("conductivity in W/(m·K)"), tr("R of a unit in m²·K/W"), tr("unit and mortar joints")}, tr("The paper states"), "stated_as");
    form->addRow(tr("The paper &states"), stated_as_);
    value_ = add_line(form, tr("&Value"), "value");
    value_->setPlaceholderText(tr("not declared"));
    thickness_ = add_line(form, tr("T&hickness of the unit"), "thickness");
    thickness_->setPlaceholderText(tr("mm"));
    const QString names[] = {tr("Lengt&h of the unit"), tr("Height of the &unit"), tr("Bed &joint"), tr("Perpend"), tr("Mortar in W/(m·K)")};
    for (std::size_t i = 0; i < joints_.size(); ++i) {
        joints_[i] = add_line(form, names[i], joint_fields[i].field);
        joints_[i]->setPlaceholderText(i < 2 ? tr("mm") : i < 4 ? tr("mm; empty: none") : QString());
    }
    joints_[2]->setToolTip(tr("Thickness of the level joint between two courses."));
    joints_[3]->setToolTip(tr("Thickness of the upright joint between two units of a course."));
    echo_ = new QLabel(values);
    echo_->setObjectName(QStringLiteral("echo"));
    echo_->setWordWrap(true);
    form->addRow(tr("Taken as"), echo_);
    QStringList bases;
    for (const Basis basis : all_bases()) bases << name_of(basis);
    basis_ = choice(bases, tr("Basis"), "basis");
    form->addRow(tr("&Basis"), basis_);
    auto* row = new QWidget(values);
    auto* parts = new QHBoxLayout(row);
    parts->setContentsMargins(0, 0, 0, 0);
    form->setObjectName(QStringLiteral("own rows"));
    moisture_ = add_line(form, tr("M&oisture content"), "moisture");
    form->setObjectName({});
    by_ = choice({tr("% by mass"), tr("% by volume")}, tr("Moisture by mass or by volume"), "by");
    parts->addWidget(moisture_, 1);
    parts->addWidget(by_, 1);
    put_with_fault(form, tr("M&oisture content"), row, "moisture");
    low_ = add_line(form, tr("&Low in W/(m·K)"), "low");
    high_ = add_line(form, tr("Hi&gh in W/(m·K)"), "high");
    fractile_ = add_line(form, tr("&Fractile in %"), "fractile");
    source_ = add_line(form, tr("Sour&ce"), "source");
    source_->setPlaceholderText(tr("document, page, date"));
    for (QLineEdit* line : {low_, high_, fractile_, moisture_}) line->setPlaceholderText(tr("not stated"));
    fractile_->setToolTip(tr("Share of the production that conducts no more than this, such as 50 or 90."));
    low_->setToolTip(tr("The least that the conductivity may be: what the paper leaves open."));
    high_->setToolTip(tr("The most that the conductivity may be: what the paper leaves open."));
    return values;
}

// ---- from row to row ---------------------------------------------------------------------------------------------------

MaterialDialog::Row MaterialDialog::row() const {
    const auto* item = rows_->currentItem();
    if (!item) return {};
    const int index = item->data(0, Qt::UserRole).toInt();
    const auto count = static_cast<int>(condition_count);
    return {index >= count, static_cast<std::size_t>(index % count)};
}

void MaterialDialog::fill_rows() {
    filling_ = true;
    const Row before = row();
    const auto count = static_cast<int>(condition_count);
    rows_->clear();
    for (int index = 0; index < (typed_.second_axis ? 2 * count : count); ++index) {
        const QString name = name_of(static_cast<Condition>(index % count));
        auto* item = new QTreeWidgetItem(rows_, {index < count ? name : tr("%1, along the height").arg(name)});
        item->setData(0, Qt::UserRole, index);
    }
    const int present = static_cast<int>(before.condition) + (before.up ? count : 0);
    rows_->setCurrentItem(rows_->topLevelItem(present < rows_->topLevelItemCount() ? present : 0));
    filling_ = false;
}

void MaterialDialog::show_row() {
    filling_ = true;
    const Row present = row();
    const MaterialEntry counts = restated(typed_, before_);
    const ConductivityEntry& shown = (present.up ? counts.up : counts.across)[present.condition];
    const QString name = name_of(static_cast<Condition>(present.condition));
    of_->setText(present.up ? tr("Along the height, %1").arg(name) : typed_.second_axis ? tr("Across the leaf, %1").arg(name) : name);
    stated_as_->setCurrentIndex(static_cast<int>(shown.stated));
    basis_->setCurrentIndex(static_cast<int>(std::find(all_bases().begin(), all_bases().end(), shown.basis) - all_bases().begin()));
    by_->setCurrentIndex(shown.by == MoistureBy::mass ? 0 : 1);
    value_->setText(words(shown.value));
    thickness_->setText(words(shown.thickness));
    for (std::size_t i = 0; i < joints_.size(); ++i) joints_[i]->setText(words(shown.*joint_fields[i].text));
    moisture_->setText(words(shown.moisture));
    low_->setText(words(shown.low));
    high_->setText(words(shown.high));
    fractile_->setText(words(shown.fractile));
    source_->setText(words(shown.source));
    source_->setCursorPosition(0);
    source_->setToolTip(words(shown.source));  // how a value was derived is longer than the field
    filling_ = false;
    tell();
}

void MaterialDialog::typed() {
    if (filling_) return;
    refused_.clear();
    typed_.name = name_->text().toStdString();
    typed_.kind = static_cast<MaterialKind>(kind_->currentData().toInt());
    typed_.density = density_->text().toStdString();
    typed_.strength = strength_->text().toStdString();
    typed_.aggregate = aggregate_->text().toStdString();
    typed_.temperature_coefficient = coefficient_->text().toStdString();
    typed_.temperature_from = from_->text().toStdString();
    typed_.temperature_to = to_->text().toStdString();
    typed_.ageing = ageing_->text().toStdString();
    typed_.mixed = built_->currentIndex() == 1;
    if (typed_.mixed || !typed_.mix.empty()) typed_.mix = mix_->parts();
    typed_.capillary = capillary_->currentIndex() == 0 ? std::nullopt : std::optional(capillary_->currentIndex() == 1);
    ConductivityEntry& present = entry(row());
    present.stated = static_cast<StatedAs>(stated_as_->currentIndex());
    present.basis = all_bases()[static_cast<std::size_t>(std::max(0, basis_->currentIndex()))];
    present.by = by_->currentIndex() == 0 ? MoistureBy::mass : MoistureBy::volume;
    present.value = value_->text().toStdString();
    present.thickness = thickness_->text().toStdString();
    for (std::size_t i = 0; i < joints_.size(); ++i) present.*joint_fields[i].text = joints_[i]->text().toStdString();
    present.moisture = moisture_->text().toStdString();
    present.low = low_->text().toStdString();
    present.high = high_->text().toStdString();
    present.fractile = fractile_->text().toStdString();
    present.source = source_->text().toStdString();
    tell();
}

void MaterialDialog::left(const QString& field) {
    if (static_cast<QLineEdit*>(fields_.at(field))->text().isEmpty()) return;
    left_.insert(pointer(field));
    tell();
}

void MaterialDialog::same_in_all() {
    const Row present = row();
    const ConductivityEntry same = entry(present);
    for (std::size_t c = 0; c < condition_count; ++c) entry({present.up, c}) = same;
    tell();
}

std::string MaterialDialog::pointer(const QString& field) const {
    const std::string name = field.toStdString();
    if (name == "name" || name == "density" || name == "strength" || name == "ageing") return "/" + name;
    if (name == "coefficient" || name == "from" || name == "to") return "/temperature/" + name;
    const Row present = row();
    return (present.up ? "/lambda_up/" : "/lambda/") + to_string(static_cast<Condition>(present.condition)) + "/" + name;
}

// ---- what is said ------------------------------------------------------------------------------------------------------

void MaterialDialog::tell() {
    const bool outer = filling_;
    filling_ = true;
    std::vector<Message> faults = read_entry(typed_, before_).faults;
    if (!all_told_) std::erase_if(faults, [&](const Message& fault) { return !left_.contains(fault.pointer); });
    faults.insert(faults.end(), refused_.begin(), refused_.end());
    for (const auto& [field, label] : faults_) {
        const auto fault = std::find_if(faults.begin(), faults.end(), [&](const Message& f) { return f.pointer == pointer(field); });
        label->setText(fault == faults.end() ? QString() : sentence(*fault));
        label->setVisible(fault != faults.end());
    }
    // Half a mix is no mistake while it is typed: its faults are told once it is tried, but for a sum that is off.
    std::vector<Message> of_mix = read_entry(typed_, before_).faults;
    if (!all_told_) std::erase_if(of_mix, [](const Message& fault) { return fault.pointer != "/mix"; });
    mix_->tell(typed_.mixed ? of_mix : std::vector<Message>{});
    const MaterialEntry counts = restated(typed_, before_);
    for (int index = 0; index < rows_->topLevelItemCount(); ++index) {
        const auto c = static_cast<std::size_t>(index) % condition_count;
        const bool up = static_cast<std::size_t>(index) >= condition_count;
        const std::string place = (up ? "/lambda_up/" : "/lambda/") + to_string(static_cast<Condition>(c)) + "/";
        const bool wrong = std::any_of(faults.begin(), faults.end(), [&](const Message& f) { return f.pointer.starts_with(place); });
        const auto value = entered_conductivity(counts, c, up);
        auto* item = rows_->topLevelItem(index);
        item->setText(1, wrong ? tr("to settle") : value ? value_words(*value, "W/(m·K)") : tr("not declared"));
        item->setForeground(1, wrong ? fault_colour(*this) : palette().color(value ? QPalette::Text : QPalette::PlaceholderText));
    }
    const Row present = row();
    const ConductivityEntry& shown = (present.up ? counts.up : counts.across)[present.condition];
    const auto value = entered_conductivity(counts, present.condition, present.up);
    const auto along = entered_conductivity(counts, present.condition, true);  // nothing while what is typed cannot be read
    auto* form = static_cast<QFormLayout*>(echo_->parentWidget()->layout());
    form->setRowVisible(thickness_->parentWidget(), shown.stated == StatedAs::resistance);
    for (QLineEdit* line : joints_) form->setRowVisible(line->parentWidget(), shown.stated == StatedAs::joints);
    static_cast<QLabel*>(form->labelForField(value_->parentWidget()))->setText(shown.stated == StatedAs::joints ? tr("&Value of the unit") : tr("&Value"));
    by_->setEnabled(shown.basis != Basis::oven_dry);
    moisture_->setEnabled(shown.basis != Basis::oven_dry);
    if (value && shown.value.empty()) echo_->setText(tr("%1, from the unit and joints across the leaf").arg(value_words(*value, "W/(m·K)", 6)));
    else if (value && shown.stated == StatedAs::joints)
        echo_->setText((present.up ? tr("%2 along the height; the source will name unit and joints") : tr("%1 across, %2 along the height; the source will name unit and joints").arg(value_words(*value, "W/(m·K)")))
                           .arg(along ? value_words(*along, "W/(m·K)") : QStringLiteral("–")));
    else if (!value) echo_->setText(shown.value.empty() ? tr("not declared: nothing is put in its place") : QStringLiteral("–"));
    else if (shown.stated == StatedAs::resistance) echo_->setText(tr("%1; the source will name R and thickness").arg(value_words(*value, "W/(m·K)", 6)));
    else echo_->setText(value_words(*value, "W/(m·K)", 6));
    filling_ = outer;
}

void MaterialDialog::accept() {
    refused_.clear();
    const ReadEntry read = read_entry(typed_, before_);
    std::vector<Message> faults = read.faults;
    if (faults.empty()) faults = refused_ = take_(read.material);
    if (faults.empty()) {
        QDialog::accept();
        return;
    }
    all_told_ = true;
    // To the first one that is wrong; what is typed stays.
    const std::string first = faults.front().pointer;
    const QString field = words(first.substr(first.rfind('/') + 1));
    for (int index = 0; index < rows_->topLevelItemCount(); ++index) {
        const auto c = static_cast<Condition>(static_cast<std::size_t>(index) % condition_count);
        const bool up = static_cast<std::size_t>(index) >= condition_count;
        if (first.starts_with((up ? "/lambda_up/" : "/lambda/") + to_string(c) + "/")) rows_->setCurrentItem(rows_->topLevelItem(index));
    }
    tell();
    if (first.starts_with("/mix")) mix_->table().setFocus(Qt::OtherFocusReason);
    if (fields_.contains(field)) fields_.at(field)->setFocus(Qt::OtherFocusReason);
}

}  // namespace wallfoot
