// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/find_dialog.hpp"

#include <QApplication>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QGridLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPointer>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

enum FoundColumn { found_title, found_project, found_enquiry, found_date, found_file, found_columns };

std::vector<std::string> words_of_search(const QString& text) {
    std::vector<std::string> all;
    for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) all.push_back(word.toStdString());
    return all;
}

QString listed(const std::vector<std::string>& names) {
    QStringList all;
    for (const std::string& name : names) all << wallfoot::words(name);
    return all.join(QStringLiteral(", "));
}

}  // namespace

FindDialog::FindDialog(const QString& folder, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Find a study"));
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    auto* grid = new QGridLayout;
    folder_field_ = new QLineEdit(this);
    folder_field_->setReadOnly(true);
    auto* folder_label = new QLabel(tr("In the &folder"), this);
    auto* browse = new QPushButton(tr("&Choose…"), this);
    browse->setAutoDefault(false);
    folder_label->setBuddy(browse);
    words_ = new QLineEdit(this);
    words_->setPlaceholderText(tr("block, detail, soil, enquiry number, place …"));
    words_->setClearButtonEnabled(true);
    auto* words_label = new QLabel(tr("&Words"), this);
    words_label->setBuddy(words_);
    grid->addWidget(folder_label, 0, 0);
    grid->addWidget(folder_field_, 0, 1);
    grid->addWidget(browse, 0, 2);
    grid->addWidget(words_label, 1, 0);
    grid->addWidget(words_, 1, 1, 1, 2);
    rows->addLayout(grid);
    table_ = new QTableWidget(0, found_columns, this);
    table_->setAccessibleName(tr("Studies found"));
    table_->setHorizontalHeaderLabels({tr("Title"), tr("Project"), tr("Enquiry"), tr("Date"), tr("File")});
    table_->horizontalHeader()->setStretchLastSection(true);
    table_->verticalHeader()->hide();
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setSelectionMode(QAbstractItemView::SingleSelection);
    table_->setTabKeyNavigation(false);
    rows->addWidget(table_, 1);
    detail_ = new QLabel(this);
    detail_->setWordWrap(true);
    detail_->setTextFormat(Qt::PlainText);
    detail_->setMinimumHeight(fontMetrics().lineSpacing() * 3);
    detail_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    rows->addWidget(detail_);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setTextFormat(Qt::PlainText);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Open | QDialogButtonBox::Cancel, this);
    open_ = buttons->button(QDialogButtonBox::Open);
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &FindDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(browse, &QPushButton::clicked, this, [this] {
        if (const QString chosen = QFileDialog::getExistingDirectory(this, tr("Look for studies in"), folder_); !chosen.isEmpty()) look_in(chosen);
    });
    connect(words_, &QLineEdit::textChanged, this, &FindDialog::show_found);
    connect(table_, &QTableWidget::currentCellChanged, this, &FindDialog::show_marked);
    connect(table_, &QTableWidget::cellDoubleClicked, this, &FindDialog::accept);
    const QSize room = parent ? parent->screen()->availableSize() * 9 / 10 : QSize(1100, 700);
    resize(QSize(fontMetrics().averageCharWidth() * 130, fontMetrics().height() * 30).boundedTo(room));
    words_->setFocus();
    look_in(folder);
}

FindDialog::~FindDialog() {
    if (running_) running_->cancel();
    pool_.waitForDone();
}

void FindDialog::look_in(const QString& folder) {
    if (running_) running_->cancel();
    folder_ = folder;
    folder_field_->setText(folder);
    found_.reset();
    show_found();
    auto context = std::make_shared<Context>();
    running_ = context;
    told_->setText(tr("Reading the studies…"));
    pool_.start([folder = folder.toStdString(), context, self = QPointer(this)] {
        std::shared_ptr<const FoundStudies> found;
        QString problem;
        try {
            found = std::make_shared<const FoundStudies>(studies_below(folder, *context));
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = wallfoot::words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, context, found, problem] {
            if (!self || self->running_ != context) return;
            self->running_.reset();
            self->found_ = found;
            self->show_found();
            if (!problem.isEmpty()) self->told_->setText(problem);
        });
    });
}

void FindDialog::show_found() {
    shown_.clear();
    const auto words = words_of_search(words_->text());
    for (std::size_t i = 0; found_ && i < found_->studies.size(); ++i)
        if (is_found(found_->studies[i], words)) shown_.push_back(i);
    table_->setRowCount(static_cast<int>(shown_.size()));
    for (std::size_t row = 0; row < shown_.size(); ++row) {
        const FoundStudy& study = found_->studies[shown_[row]];
        const auto put = [&](int column, const QString& text) {
            auto* item = new QTableWidgetItem(text);
            item->setToolTip(QStringLiteral("<span>%1</span>").arg(text.toHtmlEscaped()));
            table_->setItem(static_cast<int>(row), column, item);
        };
        put(found_title, wallfoot::words(study.title));
        put(found_project, wallfoot::words(study.project));
        put(found_enquiry, wallfoot::words(study.enquiry));
        put(found_date, wallfoot::words(study.date));
        put(found_file, QDir(folder_).relativeFilePath(wallfoot::words(study.path)));
    }
    table_->resizeColumnsToContents();
    if (!shown_.empty()) table_->setCurrentCell(0, 0);
    show_marked();
    if (!found_) return;
    QString text = tr("%1 of %n study(s)", nullptr, static_cast<int>(found_->studies.size())).arg(shown_.size());
    if (!found_->unread.empty()) {
        text += QStringLiteral("; ") + tr("%n file(s) could not be read, such as %1", nullptr, static_cast<int>(found_->unread.size())).arg(QDir(folder_).relativeFilePath(wallfoot::words(found_->unread.front().first)));
    }
    told_->setText(text);
}

void FindDialog::show_marked() {
    const int row = table_->currentRow();
    const bool marked = row >= 0 && static_cast<std::size_t>(row) < shown_.size();
    open_->setEnabled(marked);
    detail_->clear();
    if (!marked) return;
    const FoundStudy& study = found_->studies[shown_[static_cast<std::size_t>(row)]];
    detail_->setText(tr("Variants: %1\nMaterials: %2").arg(listed(study.variants), listed(study.materials)));
}

void FindDialog::accept() {
    const int row = table_->currentRow();
    if (row < 0 || static_cast<std::size_t>(row) >= shown_.size()) return;
    chosen_ = wallfoot::words(found_->studies[shown_[static_cast<std::size_t>(row)]].path);
    QDialog::accept();
}

}  // namespace wallfoot
