// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/hidden_box.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QVBoxLayout>

#include "core/study/edits_elements.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

HiddenBox::HiddenBox(Document& document, QWidget* parent) : PropertyBox(document, parent) {
    auto* form = form_of(this);
    reason_ = new QLineEdit(this);
    reason_->setToolTip(tr("Why nobody sees this stretch; the report repeats it."));
    add_row(*form, tr("Hidden &by"), reason_);
    corners_ = new CornerTable(this);
    corners_->setAccessibleName(tr("Corners of the hidden stretch"));
    corners_->setToolTip(tr("Type a new place; the stretch counts where it lies on an inside surface."));
    form->addRow(corners_);
    auto* about = new QLabel(tr("This stretch is left out of the lowest surface temperature and of fRsi; the findings tell both values. Del lets it count again."), this);
    about->setWordWrap(true);
    form->addRow(about);
    const auto changed = [this](const QString& text, const std::function<void(HiddenSurface&)>& change) {
        act(text, [&](const Section& section) {
            const HiddenSurface* present = find_hidden(section, id_);
            HiddenSurface hidden;
            hidden.id = id_;
            if (present) hidden = *present;
            change(hidden);
            return present && hidden == *present ? section : change_hidden(section, hidden);
        });
    };
    connect(reason_, &QLineEdit::editingFinished, this, [this, changed] {
        const std::string reason = reason_->text().trimmed().toStdString();
        changed(tr("Change the reason of a hidden surface"), [&](HiddenSurface& hidden) { hidden.reason = reason; });
    });
    connect(corners_, &CornerTable::typed, this, [changed](int row, Point to) {
        changed(tr("Move hidden surface"), [&](HiddenSurface& hidden) {
            if (row >= 0 && static_cast<std::size_t>(row) < hidden.path.size()) hidden.path[static_cast<std::size_t>(row)] = to;
        });
    });
    connect(corners_, &CornerTable::refused, this, [this](const QString& text) {
        emit told(text);
        emit refused();
    });
}

void HiddenBox::show_hidden(const HiddenSurface& hidden) {
    filling_ = true;
    id_ = hidden.id;
    show_text(*reason_, words(hidden.reason));
    corners_->show_corners(hidden.path);
    filling_ = false;
}

HiddenReasonDialog::HiddenReasonDialog(QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Hidden surface"));
    auto* form = new QFormLayout(this);
    auto* about = new QLabel(tr("This stretch will be left out of the lowest surface temperature and of fRsi, because nobody sees it. The report says so and repeats your reason; the value with the stretch is told as well."), this);
    about->setWordWrap(true);
    form->addRow(about);
    reason_ = new QComboBox(this);
    reason_->setEditable(true);
    reason_->setInsertPolicy(QComboBox::NoInsert);
    reason_->addItems({tr("skirting"), tr("floor finish"), tr("lining"), tr("fitted furniture"), tr("pipe duct")});
    reason_->setCurrentIndex(-1);
    reason_->lineEdit()->setPlaceholderText(tr("type it, or choose from the list"));
    reason_->setAccessibleName(tr("What hides it"));
    form->addRow(tr("What &hides it"), reason_);
    problem_ = new QLabel(this);
    problem_->setObjectName(QStringLiteral("problem"));
    problem_->setWordWrap(true);
    form->addRow(QString(), problem_);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(buttons_);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(reason_, &QComboBox::currentTextChanged, this, &HiddenReasonDialog::refresh);
    setMinimumWidth(fontMetrics().averageCharWidth() * 62);
    reason_->setFocus();
    refresh();
}

QString HiddenReasonDialog::text() const { return reason_->currentText().trimmed(); }

void HiddenReasonDialog::refresh() {
    const bool given = !text().isEmpty();
    problem_->setText(given ? QString() : tr("Say what hides it: without a reason nothing is left out."));
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(given);
}

std::optional<std::string> ask_hidden_reason(QWidget* parent) {
    HiddenReasonDialog dialog(parent);
    if (dialog.exec() != QDialog::Accepted) return std::nullopt;
    return dialog.text().toStdString();
}

}  // namespace wallfoot
