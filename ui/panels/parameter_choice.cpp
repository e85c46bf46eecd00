// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/parameter_choice.hpp"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <algorithm>
#include <cmath>
#include <set>

#include "core/study/edits.hpp"
#include "core/study/names.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/partner.hpp"
#include "ui/panels/damp_dialog.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

constexpr ParameterWhat offered_whats[] = {ParameterWhat::measure,    ParameterWhat::conductivity, ParameterWhat::material_conductivity, ParameterWhat::moisture,
                                           ParameterWhat::extent,     ParameterWhat::membrane,     ParameterWhat::temperature};
constexpr double most_steps_in_window = 500;

QString towards(CutSide side) {
    switch (side) {
        case CutSide::left: return QObject::tr("to the left");
        case CutSide::right: return QObject::tr("to the right");
        case CutSide::bottom: return QObject::tr("downwards");
        default: return QObject::tr("upwards");
    }
}

Entry read_parameter(const Parameter& parameter, const QString& text) {
    const std::string typed = text.trimmed().toStdString();
    return parameter.takes_words() || unit_of(parameter.what) != QLatin1String("mm") ? parse_number(typed) : parse_length(typed);
}

/// Where a sweep goes by itself: half to double a conductivity, the range a measure allows, ten degrees.
std::pair<double, double> range_to_sweep(const Section& section, const Parameter& parameter, double now) {
    if (parameter.what == ParameterWhat::temperature) return {now - 5, now + 5};
    double from = now / 2, to = parameter.moves_lines() ? now * 1.5 : now * 2;
    if (parameter.what == ParameterWhat::measure)
        if (const Stretch* stretch = find_stretch(section, parameter.targets.front())) {
            if (stretch->min) from = to_mm(*stretch->min);
            if (stretch->max) to = to_mm(*stretch->max);
        }
    if (parameter.what == ParameterWhat::membrane) from = now, to = now + 300;  // on from where it ends
    const int digits = parameter.moves_lines() ? 6 : 3;
    return {significant(from, digits), significant(to, digits)};
}

}  // namespace

QString name_of(ParameterWhat what) {
    switch (what) {
        case ParameterWhat::conductivity: return QObject::tr("conductivity of a piece");
        case ParameterWhat::material_conductivity: return QObject::tr("conductivity of a material");
        case ParameterWhat::moisture: return QObject::tr("moisture condition of a piece");
        case ParameterWhat::material: return QObject::tr("material of a piece");
        case ParameterWhat::measure: return QObject::tr("named measure");
        case ParameterWhat::extent: return QObject::tr("how far a piece reaches");
        case ParameterWhat::membrane: return QObject::tr("length of a membrane");
        default: return QObject::tr("temperature of a space");
    }
}

QString unit_of(ParameterWhat what) {
    switch (what) {
        case ParameterWhat::conductivity:
        case ParameterWhat::material_conductivity: return QStringLiteral("W/(m·K)");
        case ParameterWhat::moisture:
        case ParameterWhat::material: return {};
        case ParameterWhat::temperature: return QStringLiteral("°C");
        default: return QStringLiteral("mm");
    }
}

QString shown_value(const SweepChange& change, std::size_t n) {
    if (change.what != ParameterWhat::moisture) return change.words.empty() ? words(number_text(change.numbers.at(n), 6)) : words(change.words.at(n));
    for (const auto& [condition, word] : condition_words)
        if (word == change.words.at(n)) return name_of(condition);
    return words(change.words.at(n));
}

ParameterChoice::ParameterChoice(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& title, Offered offered, const QString& piece, QWidget* parent)
    : QWidget(parent), study_(std::move(study)), variant_(study_->find_variant(variant_id)), offered_(offered), piece_(piece.isEmpty() ? masonry_at_damp_course(*study_, *variant_->section) : piece) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    auto* label = new QLabel(title, this);
    what_ = new QComboBox(this);
    of_ = new QComboBox(this);
    what_->setAccessibleName(tr("What changes"));
    of_->setAccessibleName(tr("Of what"));
    of_->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    of_->setMinimumContentsLength(18);
    label->setBuddy(what_);
    row->addWidget(label);
    row->addWidget(what_);
    row->addWidget(of_, 1);
    const auto add = [&](const QString& text, QLineEdit*& edit, int width) {
        auto* name = new QLabel(text, this);
        edit = new QLineEdit(this);
        edit->setAccessibleName(text);
        edit->setFixedWidth(width * fontMetrics().horizontalAdvance(QLatin1Char('0')));
        name->setBuddy(edit);
        row->addWidget(name);
        row->addWidget(edit);
        for_numbers_.insert(for_numbers_.end(), {name, edit});
        connect(edit, &QLineEdit::textChanged, this, &ParameterChoice::changed);
    };
    add(tr("from"), from_, 9);
    add(tr("to"), to_, 9);
    unit_ = new QLabel(this);
    row->addWidget(unit_);
    add(tr("in steps"), steps_, 6);
    steps_->setToolTip(tr("Number of steps between the two; there is one value more than steps."));
    through_ = new QLabel(this);
    through_->setWordWrap(true);
    row->addWidget(through_, 1);
    row->addStretch(0);
    what_->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    steps_->setText(QStringLiteral("10"));
    offer();
    const bool optional = offered == Offered::one_or_none;
    if (optional) what_->addItem(tr("nothing else"), -1);
    for (const ParameterWhat what : offered_whats)
        if ((offered != Offered::numbers || what != ParameterWhat::moisture) && std::any_of(offers_.begin(), offers_.end(), [&](const Offer& offer) { return offer.parameter.what == what; })) what_->addItem(name_of(what), static_cast<int>(what));
    if (!optional && !piece.isEmpty()) what_->setCurrentIndex(std::max(0, what_->findData(static_cast<int>(ParameterWhat::conductivity))));
    connect(what_, &QComboBox::currentIndexChanged, this, &ParameterChoice::show_what);
    connect(of_, &QComboBox::currentIndexChanged, this, &ParameterChoice::show_of);
    show_what();
}

void ParameterChoice::offer() {
    const Section& section = *variant_->section;
    const auto add = [&](ParameterWhat what, const std::string& id, const QString& name, CutSide side = CutSide::bottom) { offers_.push_back({{what, {id}, side}, name, name}); };
    for (const Stretch& stretch : section.stretch) add(ParameterWhat::measure, stretch.id, words(stretch.name.empty() ? stretch.id : stretch.name));
    std::set<std::string> met;
    for (const Piece& piece : section.pieces) {
        if (piece.fill != Fill::material) continue;
        const QString name = words(shown_name(piece));
        const Material* material = study_->find_material(piece.filled_with);
        add(ParameterWhat::conductivity, piece.id, name);
        if (material) offers_.back().name = tr("%1: %2").arg(name, words(shown_name(*material)));
        Parameter moisture{ParameterWhat::moisture, {piece.id}, {}};
        if (declared_conditions(moisture).size() > 1) offers_.push_back({moisture, name, name});
        for (const CutSide side : {CutSide::left, CutSide::right, CutSide::bottom, CutSide::top}) add(ParameterWhat::extent, piece.id, tr("%1, %2").arg(name, towards(side)), side);
        if (material && met.insert(material->id).second) add(ParameterWhat::material_conductivity, material->id, words(shown_name(*material)));
    }
    for (const Membrane& membrane : section.membranes)
        for (const CutSide side : {CutSide::left, CutSide::right, CutSide::bottom, CutSide::top})
            add(ParameterWhat::membrane, membrane.id, tr("%1 %2, %3").arg(name_of(membrane.kind), words(membrane.id), towards(side)), side);
    for (const Space& space : section.spaces) add(ParameterWhat::temperature, space.id, words(shown_name(section, space)));
}

std::vector<std::string> ParameterChoice::declared_conditions(const Parameter& parameter) const {
    std::vector<std::string> all;
    const Piece* piece = find_piece(*variant_->section, parameter.targets.front());
    const Material* material = piece ? study_->find_material(piece->filled_with) : nullptr;
    if (material)
        for (const auto& [condition, word] : condition_words)
            if (material->lambda.by_condition.contains(condition)) all.emplace_back(word);
    return all;
}

const ParameterChoice::Offer* ParameterChoice::chosen() const {
    const int index = of_->currentIndex() < 0 ? -1 : of_->currentData().toInt();
    return index < 0 || index >= static_cast<int>(offers_.size()) ? nullptr : &offers_[static_cast<std::size_t>(index)];
}

void ParameterChoice::show_what() {
    const int what = what_->count() == 0 ? -1 : what_->currentData().toInt();
    {
        const QSignalBlocker quiet(of_);
        of_->clear();
        for (std::size_t i = 0; i < offers_.size(); ++i)
            if (static_cast<int>(offers_[i].parameter.what) == what) {
                of_->addItem(offers_[i].name, static_cast<int>(i));
                if (words(offers_[i].parameter.targets.front()) == piece_ && words(offers_[static_cast<std::size_t>(of_->currentData().toInt())].parameter.targets.front()) != piece_) of_->setCurrentIndex(of_->count() - 1);
            }
    }
    of_->setVisible(what >= 0);
    show_of();
}

void ParameterChoice::show_of() {
    const Offer* offer = chosen();
    const bool numbers = offer && !offer->parameter.takes_words();
    for (QWidget* widget : for_numbers_) widget->setVisible(numbers);
    unit_->setVisible(numbers);
    through_->setVisible(offer && !numbers);
    if (numbers) {
        unit_->setText(unit_of(offer->parameter.what));
        const auto now = present_number(*study_, *variant_, offer->parameter);
        auto [from, to] = now ? range_to_sweep(*variant_->section, offer->parameter, *now) : offer->parameter.what == ParameterWhat::temperature ? std::pair(0.0, 20.0) : std::pair(0.04, 2.0);
        if (offered_ == Offered::numbers && goes_by_ratio(offer->parameter)) from = least_tried, to = most_tried;  // what is sought may be far off
        const QSignalBlocker quiet_from(from_), quiet_to(to_);
        from_->setText(words(number_text(from, 6)));
        to_->setText(words(number_text(to, 6)));
        const QString is = now ? tr("It is %1 %2 as drawn.").arg(words(number_text(*now, 6)), unit_of(offer->parameter.what)) : offer->parameter.what == ParameterWhat::temperature ? tr("As drawn it is found by the balance of the space.") : tr("No conductivity is declared for it.");
        from_->setToolTip(is);
        to_->setToolTip(is);
    } else if (offer) {
        QStringList names;
        const auto declared = declared_conditions(offer->parameter);
        for (const auto& [condition, word] : condition_words)
            if (std::find(declared.begin(), declared.end(), word) != declared.end()) names << name_of(condition);
        through_->setText(tr("through what is declared: %1").arg(names.join(QStringLiteral(", "))));
    }
    emit changed();
}

QString ParameterChoice::read_numbers(double& from, double& to, int& steps) const {
    const Parameter& parameter = chosen()->parameter;
    const ParameterRange range = range_of(parameter.what);
    for (const auto& [edit, number] : {std::pair(from_, &from), std::pair(to_, &to)}) {
        const Entry entry = read_parameter(parameter, edit->text());
        if (!entry) return sentence(entry.problem);
        if (*entry.value < range.least || *entry.value > range.most) return tr("%1 is out of range: from %2 to %3 %4.").arg(edit->text(), words(number_text(range.least, 6)), words(number_text(range.most)), unit_of(parameter.what));
        *number = *entry.value;
    }
    const Entry entry = parse_number(steps_->text().trimmed().toStdString());
    if (!entry) return sentence(entry.problem);
    if (*entry.value < 1 || *entry.value > most_steps_in_window || *entry.value != std::floor(*entry.value)) return tr("Steps are a whole number from 1 to %1.").arg(most_steps_in_window);
    if (from == to) return tr("The two ends are the same. Give two different ones.");
    steps = static_cast<int>(*entry.value);
    return {};
}

QString ParameterChoice::problem() const {
    double from = 0, to = 0;
    int steps = 0;
    return chosen() && !chosen()->parameter.takes_words() ? read_numbers(from, to, steps) : QString();
}

std::optional<SweepChange> ParameterChoice::change() const {
    const Offer* offer = chosen();
    if (!offer) return std::nullopt;
    SweepChange change{offer->parameter, {}, {}};
    if (offer->parameter.takes_words()) {
        change.words = declared_conditions(offer->parameter);
        return change;
    }
    double from = 0, to = 0;
    int steps = 0;
    if (!read_numbers(from, to, steps).isEmpty()) return std::nullopt;
    change.numbers = even_steps(from, to, steps);
    return change;
}

QString ParameterChoice::title() const {
    const Offer* offer = chosen();
    if (!offer) return {};
    const QString unit = unit_of(offer->parameter.what);
    QString title;
    switch (offer->parameter.what) {
        case ParameterWhat::measure: title = offer->in_title; break;
        case ParameterWhat::moisture: title = tr("%1: moisture condition").arg(offer->in_title); break;
        case ParameterWhat::extent:
        case ParameterWhat::membrane: title = offer->in_title; break;
        case ParameterWhat::temperature: title = tr("temperature, %1").arg(offer->in_title); break;
        default: title = tr("λ of %1").arg(offer->in_title); break;
    }
    return unit.isEmpty() ? title : tr("%1, %2").arg(title, unit);
}

}  // namespace wallfoot
