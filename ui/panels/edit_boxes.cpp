// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/edit_boxes.hpp"

#include <QComboBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr const char* ways[] = {"right", "left", "up", "down"};

QString in_mm(std::optional<Micrometres> length) { return length ? words(number_text(to_mm(*length))) : QString(); }

}  // namespace

// ---- named measure -----------------------------------------------------------------------------------------------------

StretchBox::StretchBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    name_ = new QLineEdit(this);
    value_ = new QLineEdit(this);
    moves_ = new QComboBox(this);
    moves_->addItems({tr("what lies to the right"), tr("what lies to the left"), tr("what lies above"), tr("what lies below")});
    least_ = new QLineEdit(this);
    most_ = new QLineEdit(this);
    add_row(*form, tr("&Measure"), name_);
    add_row(*form, tr("&Length, mm"), value_);
    add_row(*form, tr("It mo&ves"), moves_);
    add_row(*form, tr("L&east, mm"), least_);
    add_row(*form, tr("&Greatest, mm"), most_);
    auto* help = new QLabel(tr("All that lies beyond the line moves; what is on it or before it stays. The handle on the line can be dragged."), this);
    help->setWordWrap(true);
    form->addRow(help);
    connect(name_, &QLineEdit::editingFinished, this, [this] {
        const std::string name = name_->text().trimmed().toStdString();
        changed(tr("Rename measure"), [&](Stretch& stretch) { stretch.name = name; });
    });
    connect(value_, &QLineEdit::editingFinished, this, &StretchBox::value_typed);
    connect(moves_, &QComboBox::currentIndexChanged, this, [this](int index) {
        if (index < 0) return;
        changed(tr("Change measure"), [&](Stretch& stretch) { stretch.moves = ways[index]; });
    });
    connect(least_, &QLineEdit::editingFinished, this, [this] { range_typed(*least_, &Stretch::min); });
    connect(most_, &QLineEdit::editingFinished, this, [this] { range_typed(*most_, &Stretch::max); });
}

void StretchBox::show_stretch(const Stretch& stretch) {
    filling_ = true;
    id_ = stretch.id;
    show_text(*name_, words(stretch.name));
    show_text(*value_, in_mm(stretch_length(stretch)));
    moves_->setCurrentIndex(static_cast<int>(std::find(std::begin(ways), std::end(ways), stretch.moves) - std::begin(ways)));
    show_text(*least_, in_mm(stretch.min));
    show_text(*most_, in_mm(stretch.max));
    filling_ = false;
}

void StretchBox::changed(const QString& text, const std::function<void(Stretch&)>& change) {
    act(text, [&](const Section& section) {
        const Stretch* present = find_stretch(section, id_);
        Stretch stretch;
        stretch.id = id_;
        if (present) stretch = *present;
        change(stretch);
        return present && stretch == *present ? section : change_stretch(section, stretch);
    });
}

void StretchBox::value_typed() {
    if (filling_ || !document_.has_study() || !value_->isModified()) return;
    const auto length = length_in(value_->text());
    if (!length) return;
    act(tr("Change measure"), [&](const Section& section) { return set_stretch(section, id_, *length); });
}

void StretchBox::range_typed(QLineEdit& field, std::optional<Micrometres> Stretch::* limit) {
    if (filling_ || !document_.has_study() || !field.isModified()) return;
    std::optional<Micrometres> length;
    if (!field.text().trimmed().isEmpty() && !(length = length_in(field.text()))) return;
    changed(tr("Change range of the measure"), [&](Stretch& stretch) { stretch.*limit = length; });
}

// ---- dimension ---------------------------------------------------------------------------------------------------------

DimensionBox::DimensionBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    value_ = new QLineEdit(this);
    side_ = new QComboBox(this);
    side_->addItems({tr("right or upper side"), tr("left or lower side")});
    side_->setToolTip(tr("The side that moves when the length is changed, with all that lies beyond it."));
    along_ = new QComboBox(this);
    along_->addItems({tr("straight from point to point"), tr("width"), tr("height")});
    text_ = new QLineEdit(this);
    add_row(*form, tr("&Dimension, mm"), value_);
    add_row(*form, tr("&Changing it moves the"), side_);
    add_row(*form, tr("It s&hows the"), along_);
    add_row(*form, tr("&Text behind it"), text_);
    connect(value_, &QLineEdit::editingFinished, this, &DimensionBox::value_typed);
    connect(along_, &QComboBox::currentIndexChanged, this, [this](int index) {
        changed(tr("Change dimension"), [&](Dimension& dimension) { dimension.along.assign(index > 0 ? 1 : 0, index == 1 ? 'x' : 'y'); });
    });
    connect(text_, &QLineEdit::editingFinished, this, [this] {
        const std::string text = text_->text().trimmed().toStdString();
        changed(tr("Change dimension"), [&](Dimension& dimension) { dimension.text = text; });
    });
}

void DimensionBox::show_dimension(const Dimension& dimension) {
    filling_ = true;
    id_ = dimension.id;
    show_text(*value_, words(number_text(dimension_length(dimension))));
    along_->setCurrentIndex(dimension.along == "x" ? 1 : dimension.along == "y" ? 2 : 0);
    show_text(*text_, words(dimension.text));
    filling_ = false;
}

void DimensionBox::changed(const QString& text, const std::function<void(Dimension&)>& change) {
    act(text, [&](const Section& section) {
        const Dimension* present = find_dimension(section, id_);
        Dimension dimension;
        dimension.id = id_;
        if (present) dimension = *present;
        change(dimension);
        return present && dimension == *present ? section : change_dimension(section, dimension);
    });
}

void DimensionBox::value_typed() {
    if (filling_ || !document_.has_study() || !value_->isModified()) return;
    const auto length = length_in(value_->text());
    if (!length) return;
    act(tr("Change length"), [&](const Section& section) {
        // "Right or upper" is said of the drawing; the dimension knows its first and second point.
        const Dimension* dimension = find_dimension(section, id_);
        const bool forwards = !dimension || (dimension->along != "y" && dimension->to.x != dimension->from.x ? dimension->to.x > dimension->from.x : dimension->to.y > dimension->from.y);
        return set_dimension(section, id_, *length, forwards == (side_->currentIndex() == 0));
    });
}

// ---- text --------------------------------------------------------------------------------------------------------------

NoteBox::NoteBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    text_ = new QLineEdit(this);
    add_row(*form, tr("&Text"), text_);
    connect(text_, &QLineEdit::editingFinished, this, [this] {
        const std::string text = text_->text().trimmed().replace(QStringLiteral(" / "), QStringLiteral("\n")).toStdString();
        act(tr("Change text"), [&](const Section& section) {
            const Note* present = find_note(section, id_);
            Note note;
        note.id = id_;
        if (present) note = *present;
            note.text = text;
            return change_note(section, note);
        });
    });
    auto* help = new QLabel(tr("\" / \" begins a new line."), this);
    form->addRow(help);
}

void NoteBox::show_note(const Note& note) {
    filling_ = true;
    id_ = note.id;
    show_text(*text_, words(note.text).replace(QLatin1Char('\n'), QStringLiteral(" / ")));
    filling_ = false;
}

}  // namespace wallfoot
