// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/ground_floor_dialog.hpp"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include "core/text/number_entry.hpp"
#include "ui/paint/paint.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

/// A number above zero; nothing when the field is empty or wrong, then with what is wrong.
std::optional<double> above_zero(const QLineEdit& field, double least, double most, bool length, QString* problem) {
    const std::string text = field.text().trimmed().toStdString();
    if (text.empty()) return std::nullopt;
    const Entry entry = length ? parse_length(text) : parse_number(text);
    if (!entry) *problem = sentence(entry.problem);
    else if (!(*entry.value >= least) || *entry.value > most) *problem = QObject::tr("It should be between %1 and %2.").arg(words(number_text(least)), words(number_text(most)));
    else return entry.value;
    return std::nullopt;
}

constexpr double least_floor = 0.01, most_floor = 1e6, widest_floor_mm = 500'000;  // as the file takes them

}  // namespace

GroundFloorDialog::GroundFloorDialog(const Study& study, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Ground floor of the building"));
    auto* form = new QFormLayout(this);
    form->setRowWrapPolicy(QFormLayout::WrapLongRows);
    auto* about = new QLabel(tr("Of the whole ground floor, not of this section. With area and exposed perimeter psi is also told for the floor's own characteristic dimension B′ = A / (P/2), where it differs from what the section was worked out with."), this);
    about->setWordWrap(true);
    form->addRow(about);
    const auto add = [&](const QString& text, const QString& value, const QString& empty, const QString& tip, int at) {
        auto* field = new QLineEdit(value, this);
        field->setPlaceholderText(empty);
        field->setToolTip(tip);
        field->setAccessibleName(QString(text).remove(QLatin1Char('&')));
        form->addRow(text, field);
        faults_[at] = new QLabel(this);
        faults_[at]->setWordWrap(true);
        QPalette red = faults_[at]->palette();
        red.setColor(QPalette::WindowText, (palette().color(QPalette::Base).lightness() < 128 ? SheetColours::dark() : SheetColours::light()).fault);
        faults_[at]->setPalette(red);
        form->addRow(QString(), faults_[at]);
        connect(field, &QLineEdit::textChanged, this, &GroundFloorDialog::refresh);
        return field;
    };
    const auto floor = ground_floor(study);
    const auto shown = [](double value) { return words(number_text(value, 6)); };
    area_ = add(tr("&Area, m²"), floor ? shown(floor->area) : QString(), tr("not given"), tr("Area of the ground floor, between the inner faces of the outer walls."), 0);
    perimeter_ = add(tr("Exposed &perimeter, m"), floor ? shown(floor->perimeter) : QString(), tr("not given"), tr("Length of the outer walls around it; walls to heated neighbours do not count."), 1);
    own_ = new QLabel(this);
    own_->setWordWrap(true);
    form->addRow(tr("B′"), own_);
    const double by_convention = [&] {
        const auto used = study.conventions.find(study.convention);
        return to_mm(used == study.conventions.end() ? Convention{}.floor_width : used->second.floor_width);
    }();
    width_ = add(tr("&Width of the floor in the section, mm"), study.floor_width ? shown(to_mm(*study.floor_width)) : QString(), tr("%1 (convention)").arg(shown(by_convention)),
                 tr("How wide the section takes the floor to be: soil is then modelled that far. Empty: the width of the convention."), 2);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    setMinimumWidth(fontMetrics().averageCharWidth() * 76);
    area_->setFocus();
    refresh();
}

void GroundFloorDialog::refresh() {
    if (!buttons_) return;
    QString problems[3];
    const auto area = above_zero(*area_, least_floor, most_floor, false, &problems[0]), perimeter = above_zero(*perimeter_, least_floor, most_floor, false, &problems[1]);
    above_zero(*width_, 1, widest_floor_mm, true, &problems[2]);
    const bool one = area_->text().trimmed().isEmpty() != perimeter_->text().trimmed().isEmpty();
    if (one && perimeter_->text().trimmed().isEmpty()) problems[1] = tr("The perimeter is needed too, or leave both empty.");
    if (one && area_->text().trimmed().isEmpty()) problems[0] = tr("The area is needed too, or leave both empty.");
    own_->setText(area && perimeter ? tr("%1 m").arg(words(number_text(GroundFloor{*area, *perimeter}.characteristic(), 2))) : QStringLiteral("–"));
    bool sound = true;
    for (int at = 0; at < 3; ++at) {
        faults_[at]->setText(problems[at]);
        static_cast<QFormLayout*>(layout())->setRowVisible(faults_[at], !problems[at].isEmpty());
        sound = sound && problems[at].isEmpty();
    }
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(sound);
}

Study GroundFloorDialog::applied(const Study& study) const {
    QString ignored;
    const auto area = above_zero(*area_, least_floor, most_floor, false, &ignored), perimeter = above_zero(*perimeter_, least_floor, most_floor, false, &ignored), width = above_zero(*width_, 1, widest_floor_mm, true, &ignored);
    const auto before = ground_floor(study);
    const bool asked = area && perimeter;
    // What stands in the fields as it was shown keeps the digits that were not.
    const bool same = asked && before && number_text(before->area, 6) == number_text(*area, 6) && number_text(before->perimeter, 6) == number_text(*perimeter, 6);
    Study changed = same || (!asked && !before) ? study : set_ground_floor(study, asked ? std::optional(GroundFloor{*area, *perimeter}) : std::nullopt);
    changed.floor_width = width ? std::optional(from_mm(*width)) : std::nullopt;
    return changed;
}

}  // namespace wallfoot
