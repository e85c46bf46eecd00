// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/page_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QPushButton>
#include <QSpinBox>
#include <cmath>

#include "core/text/number_entry.hpp"
#include "ui/exchange/pdf_file.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

PageDialog::PageDialog(const PdfFile& file, const QString& name, QWidget* parent) : QDialog(parent), file_(file) {
    setWindowTitle(tr("Add %1").arg(name));
    auto* form = new QFormLayout(this);
    page_ = new QSpinBox(this);
    page_->setRange(1, file.pages());
    page_->setSuffix(tr(" of %1").arg(file.pages()));
    scale_ = new QComboBox(this);
    scale_->setEditable(true);
    scale_->setInsertPolicy(QComboBox::NoInsert);
    for (const int n : {1, 2, 5, 10, 20, 25, 50}) scale_->addItem(QStringLiteral("1:%1").arg(n));
    scale_->setCurrentText(QStringLiteral("1:10"));
    scale_->setToolTip(tr("As the title block says. Where it is not known, take any, and set the scale by a known length afterwards."));
    picture_ = new QLabel(this);
    picture_->setAlignment(Qt::AlignCenter);
    picture_->setMinimumHeight(fontMetrics().height() * 14);
    size_ = new QLabel(this);
    problem_ = new QLabel(this);
    problem_->setWordWrap(true);
    buttons_ = new QDialogButtonBox(QDialogButtonBox::Ok | QDialogButtonBox::Cancel, this);
    form->addRow(tr("&Page"), page_);
    form->addRow(picture_);
    form->addRow(tr("Drawn at &scale"), scale_);
    form->addRow(tr("Size"), size_);
    form->addRow(problem_);
    form->addRow(buttons_);
    connect(page_, &QSpinBox::valueChanged, this, &PageDialog::show_page);
    connect(scale_, &QComboBox::editTextChanged, this, &PageDialog::refresh);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    setMinimumWidth(fontMetrics().averageCharWidth() * 56);
    show_page();
}

int PageDialog::page() const { return page_->value(); }

std::optional<double> PageDialog::scale() const {
    QString text = scale_->currentText().trimmed();
    if (const auto colon = text.indexOf(QLatin1Char(':')); colon >= 0) {
        if (text.left(colon).trimmed() != QStringLiteral("1")) return {};
        text = text.mid(colon + 1).trimmed();
    }
    bool sound = false;
    const double n = text.toDouble(&sound);
    return sound && n >= 0.01 && n <= 10'000 ? std::optional(n) : std::nullopt;
}

void PageDialog::show_page() {
    trouble_.clear();
    try {
        const int side = picture_->minimumHeight();
        picture_->setPixmap(QPixmap::fromImage(file_.image(page(), 4.0 * side * side)).scaled(2 * side, side, Qt::KeepAspectRatio, Qt::SmoothTransformation));
    } catch (const InputFault& fault) {
        picture_->clear();
        trouble_ = sentence(fault.faults());
    }
    refresh();
}

void PageDialog::refresh() {
    QString problem = trouble_;
    size_->setText(QStringLiteral("–"));
    if (problem.isEmpty() && !scale()) problem = tr("Type a scale such as 1:10.");
    if (problem.isEmpty()) {
        const QSizeF size = file_.size(page()) * (25.4 / 72 * *scale());
        size_->setText(tr("%1 wide, %2 high").arg(length_words(std::round(size.width())), length_words(std::round(size.height()))));
    }
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(problem.isEmpty());
}

}  // namespace wallfoot
