// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/reports_dialog.hpp"

#include <QCheckBox>
#include <QDate>
#include <QDesktopServices>
#include <QDialogButtonBox>
#include <QDir>
#include <QFileDialog>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QScreen>
#include <QTableWidget>
#include <QTimer>
#include <QUrl>
#include <QVBoxLayout>
#include <mutex>

#include "core/text/message.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QString reports_below(const QString& studies) { return studies.isEmpty() ? QString() : QDir(studies).filePath(QStringLiteral("reports")); }

enum ReportsColumn { reports_study, reports_psi, reports_files, reports_state, reports_columns };

}  // namespace

/// What the thread that writes and the dialog share.
struct ReportsDialog::Run {
    Context context;
    std::mutex mutex;
    std::vector<BatchRow> rows;   ///< so far
    int all = 0;
};

ReportsDialog::ReportsDialog(const QString& folder, std::shared_ptr<const OfficeTemplate> office, QWidget* parent) : QDialog(parent), office_(std::move(office)) {
    setWindowTitle(tr("Reports of a folder"));
    setAttribute(Qt::WA_DeleteOnClose);
    auto* column = new QVBoxLayout(this);
    auto* grid = new QGridLayout;
    const auto folder_row = [&](const QString& text, const QString& asked, int row) {
        auto* field = new QLineEdit(this);
        auto* label = new QLabel(text, this);
        label->setBuddy(field);
        auto* choose = new QPushButton(tr("Choose…"), this);
        choose->setAutoDefault(false);
        choose->setAccessibleName(asked);
        connect(choose, &QPushButton::clicked, this, [this, field, asked] {
            if (const QString chosen = QFileDialog::getExistingDirectory(this, asked, field->text()); !chosen.isEmpty()) {
                field->setText(chosen);
                field->setModified(true);
            }
        });
        grid->addWidget(label, row, 0);
        grid->addWidget(field, row, 1);
        grid->addWidget(choose, row, 2);
        return field;
    };
    studies_ = folder_row(tr("&Studies below"), tr("Folder with studies"), 0);
    reports_ = folder_row(tr("&Reports into"), tr("Folder for the reports"), 1);
    // The one for the reports goes along until somebody names another.
    connect(studies_, &QLineEdit::textChanged, this, [this](const QString& text) {
        if (!reports_->isModified()) reports_->setText(reports_below(text));
    });
    set_folders(folder, reports_below(folder));
    column->addLayout(grid);
    auto* forms = new QHBoxLayout;
    for (const auto& [ending, text] : {std::pair(QStringLiteral("pdf"), tr("&PDF")), {QStringLiteral("html"), tr("&HTML")}, {QStringLiteral("csv"), tr("CSV")}, {QStringLiteral("json"), tr("&JSON")}, {QStringLiteral("txt"), tr("Plain &text")}}) {
        auto* box = new QCheckBox(text, this);
        box->setChecked(ending == QStringLiteral("pdf") || ending == QStringLiteral("html"));
        forms->addWidget(box);
        forms_.emplace_back(ending, box);
    }
    brief_ = new QCheckBox(tr("short &answer only"), this);
    errors_ = new QCheckBox(tr("with usual &errors"), this);
    errors_->setChecked(true);
    forms->addSpacing(16);
    forms->addWidget(brief_);
    forms->addWidget(errors_);
    forms->addStretch(1);
    column->addLayout(forms);
    table_ = new QTableWidget(0, reports_columns, this);
    table_->setAccessibleName(tr("What became of each study"));
    table_->setHorizontalHeaderLabels({tr("Study"), tr("psi, W/(m·K)"), tr("Reports"), tr("State")});
    table_->verticalHeader()->hide();
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setSelectionBehavior(QAbstractItemView::SelectRows);
    table_->setTabKeyNavigation(false);
    table_->setWordWrap(true);
    table_->horizontalHeader()->setStretchLastSection(true);
    column->addWidget(table_, 1);
    bar_ = new QProgressBar(this);
    bar_->hide();
    column->addWidget(bar_);
    told_ = new QLabel(tr("Studies are read as they were last saved. Each report replaces an earlier one of its name, never another file, and only when it is whole; index.html lists them all."), this);
    told_->setWordWrap(true);
    told_->setTextFormat(Qt::PlainText);
    column->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    start_ = buttons->addButton(tr("&Write the reports"), QDialogButtonBox::ActionRole);
    stop_ = buttons->addButton(tr("St&op"), QDialogButtonBox::ActionRole);
    show_ = buttons->addButton(tr("Open the &list"), QDialogButtonBox::ActionRole);
    stop_->setEnabled(false);
    show_->setEnabled(false);
    start_->setDefault(true);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::close);
    connect(start_, &QPushButton::clicked, this, &ReportsDialog::start);
    connect(stop_, &QPushButton::clicked, this, [this] {
        run_->context.cancel();
        stop_->setEnabled(false);
        told_->setText(tr("Stopping…"));
    });
    connect(show_, &QPushButton::clicked, this, [this] { QDesktopServices::openUrl(QUrl::fromLocalFile(index_)); });
    auto* look = new QTimer(this);
    connect(look, &QTimer::timeout, this, [this] {
        if (at_work()) show_rows();
    });
    look->start(150);
    const QSize room = parent ? parent->screen()->availableSize() * 9 / 10 : QSize(1100, 700);
    resize(QSize(fontMetrics().averageCharWidth() * 120, fontMetrics().height() * 30).boundedTo(room));
}

ReportsDialog::~ReportsDialog() {
    if (run_) run_->context.cancel();
}

void ReportsDialog::set_folders(const QString& studies, const QString& reports) {
    studies_->setText(studies);
    reports_->setText(reports);
    reports_->setModified(reports != reports_below(studies));
}

QString ReportsDialog::told() const { return told_->text(); }

QCheckBox& ReportsDialog::form(const QString& ending) {
    for (const auto& [name, box] : forms_)
        if (name == ending) return *box;
    return *forms_.front().second;
}

void ReportsDialog::start() {
    if (at_work()) return;
    ReportBatch batch{{}, reports_->text(), {}, {QDate::currentDate().toString(Qt::ISODate), {}, false, brief_->isChecked(), errors_->isChecked(), office_}};
    for (const auto& [ending, box] : forms_)
        if (box->isChecked()) batch.endings << ending;
    if (studies_->text().isEmpty() || batch.folder.isEmpty()) return told_->setText(tr("Name the folder with the studies and the one for the reports."));
    if (batch.endings.isEmpty()) return told_->setText(tr("Tick at least one form, such as PDF."));
    run_ = std::make_shared<Run>();
    table_->setRowCount(0);
    start_->setEnabled(false);
    show_->setEnabled(false);
    stop_->setEnabled(true);
    bar_->setRange(0, 0);
    bar_->show();
    told_->setText(tr("Looking for studies…"));
    index_ = QDir(batch.folder).filePath(QStringLiteral("index.html"));
    work_.run([this, run = run_, batch, studies = studies_->text()]() mutable -> Background::Done {
        QString text;
        try {
            batch.files = studies_named({studies});
            {
                const std::scoped_lock lock(run->mutex);
                run->all = static_cast<int>(batch.files.size());
            }
            make_reports(batch, [&](std::size_t, const BatchRow& row) {
                const std::scoped_lock lock(run->mutex);
                run->rows.push_back(row);
            }, run->context);
        } catch (const InputFault& fault) {
            text = sentence(fault.faults());
        } catch (const std::exception& error) {
            text = tr("The list of the reports could not be written: %1").arg(words(error.what()));
        }
        return [this, text] { finish(text); };
    });
}

void ReportsDialog::show_rows() {
    if (!run_) return;
    std::vector<BatchRow> rows;
    int all = 0;
    {
        const std::scoped_lock lock(run_->mutex);
        rows.assign(run_->rows.begin() + std::min<std::ptrdiff_t>(table_->rowCount(), std::ptrdiff_t(run_->rows.size())), run_->rows.end());
        all = run_->all;
    }
    for (const BatchRow& row : rows) {
        const int at = table_->rowCount();
        table_->insertRow(at);
        QStringList psi, made;
        for (const BatchRow::Answer& answer : row.answers) psi << words(answer.variant) + QStringLiteral(": ") + words(answer.psi);
        for (const std::string& name : row.made) made << words(name);
        const auto put = [&](int column, const QString& text) {
            auto* item = new QTableWidgetItem(text);
            item->setToolTip(QStringLiteral("<span>%1</span>").arg(text.toHtmlEscaped()));
            table_->setItem(at, column, item);
        };
        put(reports_study, QDir(studies_->text()).relativeFilePath(words(row.file)));
        put(reports_psi, psi.join(QLatin1Char('\n')));
        put(reports_files, made.join(QLatin1Char('\n')));
        QStringList state{row.stopped ? words(row.failed) : !row.failed.empty() ? tr("failed: %1").arg(words(row.failed)) : row.converged ? tr("made") : tr("made; not as close as asked")};
        for (const std::string& note : row.notes) state << words(note);
        put(reports_state, state.join(QLatin1Char('\n')));
    }
    if (!rows.empty()) {
        for (const int column : {int(reports_study), int(reports_psi), int(reports_files)}) table_->resizeColumnToContents(column);
        table_->resizeRowsToContents();
        table_->scrollToBottom();
    }
    if (all > 0 && at_work()) {
        bar_->setRange(0, all);
        bar_->setValue(table_->rowCount());
        if (!run_->context.cancelled()) told_->setText(tr("%1 of %2 done").arg(table_->rowCount()).arg(all));
    }
}

void ReportsDialog::finish(const QString& text) {
    show_rows();
    bar_->hide();
    start_->setEnabled(true);
    stop_->setEnabled(false);
    if (!text.isEmpty()) return told_->setText(text);
    show_->setEnabled(true);
    BatchCount count;
    {
        const std::scoped_lock lock(run_->mutex);
        count = batch_count(run_->rows);
    }
    const QString where = tr("The list is in %1.").arg(index_);
    if (count.stopped > 0) return told_->setText(words(batch_stopped_words(count)) + QLatin1Char(' ') + where);
    told_->setText(count.failed == 0 ? tr("All reports are made. %1").arg(where) : tr("%n of the studies failed; the reason stands beside each. %1", nullptr, static_cast<int>(count.failed)).arg(where));
}

}  // namespace wallfoot
