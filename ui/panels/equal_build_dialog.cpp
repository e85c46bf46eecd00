// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/equal_build_dialog.hpp"

#include <QApplication>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QPointer>
#include <QPushButton>
#include <QSignalBlocker>
#include <algorithm>

#include "core/study/edits.hpp"
#include "core/text/number_entry.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QString alike_words(Alike alike, double value) { return alike == Alike::transmittance ? QObject::tr("U %1 W/(m²·K)").arg(value, 0, 'f', 4) : QObject::tr("%1 mm thick").arg(value * 1000, 0, 'f', 1); }

QString measured_length(Micrometres length) { return words(length_text(to_mm(length))); }

}  // namespace

EqualBuildDialog::EqualBuildDialog(std::vector<Compared> variants, const QString& base, QWidget* parent) : QDialog(parent) {
    pool_.setMaxThreadCount(1);
    setWindowTitle(tr("Equal wall or floor"));
    for (Compared& of : variants) {
        if (of.key() == base) base_ = of;
        else others_.push_back(std::move(of));
    }
    auto* form = new QFormLayout(this);
    auto* head = new QLabel(tr("Junctions compare fairly when the wall and the floor beside them are equal. A measure of one variant is made longer or shorter until an element of it has the U, or the thickness, that it has in %1.").arg(base_.shown()), this);
    head->setWordWrap(true);
    form->addRow(head);
    const auto add = [&](const QString& text) {
        auto* box = new QComboBox(this);
        box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        form->addRow(text, box);
        return box;
    };
    variant_ = add(tr("&Change"));
    measure_ = add(tr("&Measure"));
    element_ = add(tr("&Element"));
    alike_ = add(tr("E&qual in"));
    for (const Compared& of : others_) variant_->addItem(of.shown(), of.key());
    alike_->addItem(tr("U"), static_cast<int>(Alike::transmittance));
    alike_->addItem(tr("thickness"), static_cast<int>(Alike::thickness));
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    told_->setMinimumHeight(fontMetrics().height() * 5);
    told_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    form->addRow(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    make_ = buttons->addButton(tr("Make it a &variant"), QDialogButtonBox::AcceptRole);
    form->addRow(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(variant_, &QComboBox::currentIndexChanged, this, &EqualBuildDialog::offer);
    for (QComboBox* box : {measure_, element_, alike_}) connect(box, &QComboBox::currentIndexChanged, this, &EqualBuildDialog::ask);
    setMinimumWidth(fontMetrics().averageCharWidth() * 72);
    offer();
}

EqualBuildDialog::~EqualBuildDialog() {
    if (running_) running_->cancel();
    pool_.clear();
    pool_.waitForDone();
}

const Compared* EqualBuildDialog::changed() const { return variant_->currentIndex() < 0 ? nullptr : &others_[static_cast<std::size_t>(variant_->currentIndex())]; }

QString EqualBuildDialog::outcome_name() const {
    return changed() ? tr("%1, %2 as in %3").arg(words(changed()->name), alike_->currentText() == tr("U") ? tr("U of %1").arg(element_->currentText()) : tr("thickness of %1").arg(element_->currentText()), words(base_.name)) : QString();
}

/// The measures of the variant, and the elements that both variants have.
void EqualBuildDialog::offer() {
    {
        const QSignalBlocker quiet(measure_), quiet_too(element_);
        measure_->clear();
        element_->clear();
        if (const Compared* of = changed()) {
            for (const Stretch& stretch : of->section->stretch) measure_->addItem(tr("%1 (%2)").arg(words(stretch.name.empty() ? stretch.id : stretch.name), measured_length(stretch_length(stretch))), words(stretch.id));
            for (const Element& element : of->findings->elements) {
                const auto& there = base_.findings->elements;
                if (std::any_of(there.begin(), there.end(), [&](const Element& e) { return e.id == element.id; }) && element_->findText(words(element.id)) < 0) element_->addItem(words(element.id));
            }
        }
    }
    ask();
}

void EqualBuildDialog::ask() {
    if (running_) running_->cancel();
    running_.reset();
    section_.reset();
    make_->setEnabled(false);
    const Compared* of = changed();
    if (!of) return told_->setText(tr("There is no other variant to be changed."));
    if (measure_->count() == 0) return told_->setText(tr("This variant has no measure. Draw one through the insulation (T), or keep a stretch under a name (Ctrl+T)."));
    if (element_->count() == 0) return told_->setText(tr("The two variants have no element in common."));
    told_->setText(tr("being worked out…"));
    running_ = std::make_shared<Context>();
    const auto alike = static_cast<Alike>(alike_->currentData().toInt());
    pool_.start([of = *of, base = base_, measure = measure_->currentData().toString().toStdString(), element = element_->currentText().toStdString(), alike, context = running_, self = QPointer(this)] {
        EqualBuild found;
        QString problem;
        try {
            const double target = alike_value(*base.study, *base.study->find_variant(base.id), element, alike, *context);
            found = equal_build(*of.study, *of.study->find_variant(of.id), measure, element, alike, target, *context);
        } catch (const Cancelled&) {
            return;
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, context, found, problem] {
            if (!self || self->running_ != context) return;
            self->running_.reset();
            if (!problem.isEmpty()) return self->told_->setText(problem);
            self->show_outcome(found);
        });
    });
}

void EqualBuildDialog::show_outcome(const EqualBuild& found) {
    const auto alike = static_cast<Alike>(alike_->currentData().toInt());
    section_ = found.section;
    make_->setEnabled(section_ && found.length != found.before);
    const QString wanted = tr("%1 has there %2, here %3 with %4 of %5.").arg(words(found.element), alike_words(alike, found.target), alike_words(alike, found.value_before), measured_length(found.before), words(found.measure));
    if (found.bracket) {
        const auto [low, high] = *found.bracket;
        const QString between = low == high ? QString() : tr(", between %1 and %2").arg(measured_length(low), measured_length(high));
        return told_->setText(wanted + QLatin1Char('\n') + (found.length == found.before ? tr("They are equal already.") : tr("Equal at %1 of %2%3: %4.").arg(measured_length(found.length), words(found.measure), between, alike_words(alike, found.value))));
    }
    if (found.leaps_at) return told_->setText(wanted + QLatin1Char('\n') + tr("Passed at once at %1 of %2, where a layer begins or ends: no length gives it.").arg(measured_length(*found.leaps_at), words(found.measure)));
    if (found.tried.empty()) return told_->setText(wanted + QLatin1Char('\n') + tr("Not reachable: the drawing allows no other length of this measure."));
    told_->setText(wanted + QLatin1Char('\n') + tr("Not reachable with this measure: from %1 to %2 it goes from %3 to %4.").arg(measured_length(found.tried.front().length), measured_length(found.tried.back().length), alike_words(alike, found.tried.front().value), alike_words(alike, found.tried.back().value)));
}

}  // namespace wallfoot
