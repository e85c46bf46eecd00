// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/mark_boxes.hpp"

#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "ui/paint/labels.hpp"
#include "ui/panels/balance_dialog.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QLabel* wrapping(const QString& text, QWidget* parent) {
    auto* label = new QLabel(text, parent);
    label->setWordWrap(true);
    return label;
}

}  // namespace

// ---- membrane ----------------------------------------------------------------------------------------------------------

MembraneBox::MembraneBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    kind_ = new QComboBox(this);
    for (const auto& [kind, word] : membrane_kind_words) kind_->addItem(name_of(kind), static_cast<int>(kind));
    laps_ = new QComboBox(this);
    laps_->addItems({tr("not stated"), tr("sealed"), tr("not sealed")});
    laps_->setToolTip(tr("A lap keeps water out only where it is stated as sealed."));
    corners_ = new CornerTable(this);
    corners_->setAccessibleName(tr("Corners of the membrane"));
    corners_->setToolTip(tr("Type a new place; the pieces beside the membrane stay where they are."));
    add_row(*form, tr("Membrane"), kind_);
    add_row(*form, tr("&Laps"), laps_);
    form->addRow(corners_);
    connect(kind_, &QComboBox::currentIndexChanged, this, [this] {
        const auto kind = static_cast<MembraneKind>(kind_->currentData().toInt());
        act(tr("Change membrane"), [&](const Section& s) { return set_membrane_kind(s, id_, kind); });
    });
    connect(laps_, &QComboBox::currentIndexChanged, this, [this](int index) {
        const std::optional<bool> sealed = index == 0 ? std::nullopt : std::optional(index == 1);
        act(tr("Change laps"), [&](const Section& s) { return set_sealed_laps(s, id_, sealed); });
    });
    connect(corners_, &CornerTable::typed, this, [this](int row, Point to) {
        act(tr("Move corner of the membrane"), [&](const Section& s) {
            const Membrane* membrane = find_membrane(s, id_);
            Path path = membrane ? membrane->path : Path{};
            if (row < static_cast<int>(path.size())) path[static_cast<std::size_t>(row)] = to;
            return set_membrane_path(s, id_, path);
        });
    });
    connect(corners_, &CornerTable::refused, this, [this](const QString& text) {
        emit told(text);
        emit refused();
    });
}

void MembraneBox::show_membrane(const Membrane& membrane) {
    filling_ = true;
    id_ = membrane.id;
    kind_->setCurrentIndex(kind_->findData(static_cast<int>(membrane.kind)));
    laps_->setCurrentIndex(!membrane.sealed_laps ? 0 : *membrane.sealed_laps ? 1 : 2);
    corners_->show_corners(membrane.path);
    filling_ = false;
}

// ---- space -------------------------------------------------------------------------------------------------------------

SpaceBox::SpaceBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    name_ = new QLineEdit(this);
    kind_ = new QComboBox(this);
    temperature_ = new QLineEdit(this);
    add_row(*form, tr("Spa&ce"), name_);
    name_->setToolTip(tr("What it is called in findings and the report; empty: the name of its kind."));
    connect(name_, &QLineEdit::editingFinished, this, &SpaceBox::name_typed);
    add_row(*form, tr("&Kind"), kind_);
    add_row(*form, tr("T&emperature in °C"), temperature_);
    balance_ = new QPushButton(tr("By a &balance…"), this);
    balance_->setAutoDefault(false);
    balance_->setToolTip(tr("Let the temperature follow from what reaches the unheated space and what it loses elsewhere."));
    form->addRow(QString(), balance_);
    connect(balance_, &QPushButton::clicked, this, &SpaceBox::balance_wanted);
    side_ = new QComboBox(this);
    side_->addItem(tr("not stated"), QString());
    side_->addItem(tr("the own dwelling"), QStringLiteral("own"));
    side_->addItem(tr("the neighbour's dwelling"), QStringLiteral("neighbour"));
    side_->addItem(tr("what both share"), QStringLiteral("common"));
    side_->setToolTip(tr("Where two dwellings meet: whose air it is. With one space of the own and one of the neighbour's dwelling, psi is shared between both as the convention says."));
    add_row(*form, tr("Be&longs to"), side_);
    connect(side_, &QComboBox::currentIndexChanged, this, [this] {
        const std::string side = side_->currentData().toString().toStdString();
        act(tr("Change whose a space is"), [&](const Section& s) { return set_space_side(s, id_, side); });
    });
    form->addRow(wrapping(tr("Drag a mark to move it; Del takes the picked mark out, with the last one the space."), this));
    connect(kind_, &QComboBox::currentIndexChanged, this, [this] {
        const auto kind = static_cast<SpaceKind>(kind_->currentData().toInt());
        act(tr("Change space"), [&](const Section& s) { return set_space_kind(s, id_, kind); });
    });
    connect(temperature_, &QLineEdit::editingFinished, this, &SpaceBox::temperature_typed);
}

void SpaceBox::show_space(const Space& space) {
    filling_ = true;
    id_ = space.id;
    show_text(*name_, words(space.name));
    Space nameless = space;
    nameless.name.clear();
    name_->setPlaceholderText(space_name(document_.section(), nameless));
    kind_->clear();
    for (const auto& [kind, word] : space_kind_words)
        if (kind != SpaceKind::other || space.kind == kind) kind_->addItem(name_of(kind), static_cast<int>(kind));
    kind_->setCurrentIndex(kind_->findData(static_cast<int>(space.kind)));
    show_text(*temperature_, space.temperature ? words(number_text(*space.temperature)) : QString());
    QString from_convention;
    try {
        Space without = space;
        without.temperature.reset();
        from_convention = tr("%1 (convention)").arg(words(number_text(space_temperature(*document_.study(), without))));
    } catch (const InputFault&) {
    }
    temperature_->setPlaceholderText(space.balance ? tr("by its balance: see the findings") : from_convention);
    balance_->setVisible(space.kind == SpaceKind::unheated);
    side_->setCurrentIndex(std::max(0, side_->findData(words(space.side))));
    filling_ = false;
}

void SpaceBox::balance_wanted() {
    const Section before = document_.section();
    BalanceDialog dialog(before, id_, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const std::string balance = space_balance_json(dialog.balance());
    act(tr("State a balance"), [&](const Section& s) { return set_balance(s, id_, balance); });
}

void SpaceBox::name_typed() {
    const std::string name = name_->text().trimmed().toStdString();
    act(tr("Rename space"), [&](const Section& s) { return rename_space(s, id_, name); });
}

void SpaceBox::temperature_typed() {
    const std::string text = temperature_->text().trimmed().toStdString();
    std::optional<double> value;
    if (!text.empty()) {
        const Entry entry = parse_number(text);
        if (!entry) return refuse(entry.problem);
        value = entry.value;
    }
    act(tr("Change temperature"), [&](const Section& s) { return set_temperature(s, id_, value); });
}

// ---- level -------------------------------------------------------------------------------------------------------------

LevelBox::LevelBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    name_ = new QLabel(this);
    form->addRow(tr("Level"), name_);
    const QString labels[] = {tr("&Both sides, mm"), tr("L&eft side, mm"), tr("&Right side, mm")};
    for (int i = 0; i < 3; ++i) {
        fields_[i] = new QLineEdit(this);
        add_row(*form, labels[i], fields_[i]);
        connect(fields_[i], &QLineEdit::editingFinished, this, [this, i] { typed(i); });
    }
    form->addRow(wrapping(tr("An empty field takes the level away. Given for one side alone it holds everywhere; given for each, the sides meet in the middle of the cut."), this));
}

void LevelBox::show_level(LevelKind kind) {
    filling_ = true;
    kind_ = kind;
    name_->setText(name_of(kind));
    const Level& level = level_of(document_.section(), kind);
    const std::optional<Micrometres>* heights[] = {&level.both, &level.left, &level.right};
    for (int i = 0; i < 3; ++i) show_text(*fields_[i], *heights[i] ? words(number_text(to_mm(**heights[i]))) : QString());
    filling_ = false;
}

void LevelBox::typed(int field) {
    if (filling_ || !document_.has_study()) return;
    const Level& level = level_of(document_.section(), kind_);
    const std::optional<Micrometres>* before[] = {&level.both, &level.left, &level.right};
    std::optional<Micrometres> height;
    if (!fields_[field]->text().trimmed().isEmpty()) {
        height = length_in(fields_[field]->text());
        if (!height) return;
    }
    if (height == *before[field]) return;
    const std::optional<Side> side = field == 0 ? std::nullopt : std::optional(field == 1 ? Side::left : Side::right);
    act(tr("Change level"), [&](const Section& s) { return set_level(s, kind_, side, height); });
}

}  // namespace wallfoot
