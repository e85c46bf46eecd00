// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/page_dialog.hpp"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLabel>
#include <QPointer>
#include <QPushButton>
#include <QSpinBox>
#include <cmath>

#include "core/text/number_entry.hpp"
#include "ui/exchange/pdf_file.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

PageDialog::PageDialog(std::shared_ptr<const PdfFile> file, Background& background, const QString& name, QWidget* parent)
    : QDialog(parent), file_(std::move(file)), background_(background), wanted_(std::make_shared<std::atomic<int>>(1)) {
    setWindowTitle(tr("Add %1").arg(name));
    auto* form = new QFormLayout(this);
    page_ = new QSpinBox(this);
    page_->setRange(1, file_->pages());
    page_->setSuffix(tr(" of %1").arg(file_->pages()));
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
    connect(page_, &QSpinBox::valueChanged, this, &PageDialog::ask_page);
    connect(scale_, &QComboBox::editTextChanged, this, &PageDialog::refresh);
    connect(buttons_, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons_, &QDialogButtonBox::rejected, this, &QDialog::reject);
    setMinimumWidth(fontMetrics().averageCharWidth() * 56);
    ask_page();
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

void PageDialog::ask_page() {
    loading_ = true;
    shown_ = {};
    picture_->setText(tr("Loading …"));
    refresh();
    *wanted_ = page();
    const int side = picture_->minimumHeight();
    background_.run([file = file_, wanted = wanted_, number = page(), side, dialog = QPointer<PageDialog>(this)]() -> Background::Done {
        if (*wanted != number) return {};
        Shown shown;
        try {
            shown.size = file->size(number);
            shown.picture = file->image(number, 4.0 * side * side).scaled(2 * side, side, Qt::KeepAspectRatio, Qt::SmoothTransformation);
        } catch (const InputFault& fault) {
            shown.trouble = sentence(fault.faults());
        } catch (const std::exception& error) {
            shown.trouble = QString::fromUtf8(error.what());
        }
        return [dialog, shown, number] {
            if (dialog && dialog->page() == number) dialog->show_page(shown);
        };
    });
}

void PageDialog::show_page(const Shown& shown) {
    loading_ = false;
    shown_ = shown;
    if (shown.picture.isNull()) picture_->clear();
    else picture_->setPixmap(QPixmap::fromImage(shown.picture));
    refresh();
}

void PageDialog::refresh() {
    QString problem = shown_.trouble;
    size_->setText(QStringLiteral("–"));
    if (problem.isEmpty() && !scale()) problem = tr("Type a scale such as 1:10.");
    const bool ready = problem.isEmpty() && !loading_;
    if (ready) {
        const QSizeF size = shown_.size * (25.4 / 72 * *scale());
        size_->setText(tr("%1 wide, %2 high").arg(length_words(std::round(size.width())), length_words(std::round(size.height()))));
    }
    problem_->setText(problem);
    buttons_->button(QDialogButtonBox::Ok)->setEnabled(ready);
}

}  // namespace wallfoot
