// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/file_name.hpp"
#include "ui/panels/dwelling_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QFontDatabase>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPlainTextEdit>
#include <QPointer>
#include <QProgressBar>
#include <QPushButton>
#include <QScreen>
#include <QShortcut>
#include <QTabWidget>
#include <QTableWidget>
#include <QTimer>
#include <QVBoxLayout>

#include "core/dwelling/dwelling_file.hpp"
#include "solver/dwelling/dwelling_derive.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "solver/dwelling/update.hpp"
#include "ui/panels/dwelling_table.hpp"
#include "ui/panels/envelope_page.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

QString dwelling_filter() { return QObject::tr("Dwellings (*.dwelling)"); }

QPushButton* button_in(QHBoxLayout& row, const QString& text, const QString& tip, QWidget* parent) {
    auto* button = new QPushButton(text, parent);
    button->setToolTip(tip);
    button->setAutoDefault(false);
    row.addWidget(button);
    return button;
}

QPlainTextEdit* page_of_text(const QString& name, QWidget* parent) {
    auto* text = new QPlainTextEdit(parent);
    text->setReadOnly(true);
    text->setAccessibleName(name);
    text->setLineWrapMode(QPlainTextEdit::NoWrap);
    text->setFont(QFontDatabase::systemFont(QFontDatabase::FixedFont));
    text->setTabChangesFocus(true);
    return text;
}

void show_from_its_begin(QLineEdit& field, const std::string& text) {
    field.setText(words(text));
    field.setCursorPosition(0);
}

template <class Act>
void each_value(Dwelling& dwelling, Act act) {
    for (Junction& junction : dwelling.junctions) act(junction.value);
    for (DwellingMeasure& measure : dwelling.measures) act(measure.value);
}

}  // namespace

DwellingDialog::DwellingDialog(std::function<StudyInWindow()> beside, QWidget* parent, const QString& copies)
    : QDialog(parent), beside_(std::move(beside)), copies_(copies), copy_(copies) {
    constexpr int keep_after = 3000;  // ms after the last change
    keep_soon_ = new QTimer(this);
    keep_soon_->setSingleShot(true);
    keep_soon_->setInterval(keep_after);
    connect(keep_soon_, &QTimer::timeout, this, &DwellingDialog::keep_copy_now);
    pool_.setMaxThreadCount(1);
    auto* rows = new QVBoxLayout(this);
    rows->addWidget(make_head());
    pages_ = new QTabWidget(this);
    pages_->addTab(make_junctions(), tr("&Junctions"));
    envelope_ = new EnvelopePage(this);
    pages_->addTab(envelope_, tr("En&velope and prices"));
    pages_->addTab(make_measures(), tr("&Measures"));
    pages_->addTab(make_sheet(), tr("&Transfer sheet"));
    worked_out_ = page_of_text(tr("How the sums are worked out"), this);
    worked_out_->setLineWrapMode(QPlainTextEdit::WidgetWidth);
    pages_->addTab(worked_out_, tr("How it is wor&ked out"));
    rows->addWidget(pages_, 1);
    // What is refused stays on the page, and counts as a change that is not saved.
    connect(envelope_, &EnvelopePage::edited, this, [this] {
        refused_ = !change(envelope_->applied(dwelling()));
        if (refused_) setWindowModified(true);
    });
    sums_ = new QLabel(this);
    sums_->setWordWrap(true);
    sums_->setTextFormat(Qt::RichText);
    sums_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    sums_->setAccessibleName(tr("Sums"));
    rows->addWidget(sums_);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    told_->setMinimumHeight(fontMetrics().height() * 2 + 4);
    told_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    rows->addWidget(told_);
    connect(new QShortcut(QKeySequence::Undo, this), &QShortcut::activated, this, &DwellingDialog::undo);
    connect(new QShortcut(QKeySequence::Redo, this), &QShortcut::activated, this, &DwellingDialog::redo);
    connect(new QShortcut(QKeySequence::Save, this), &QShortcut::activated, this, [this] { ask_and_save(false); });
    const QSize room = parent ? parent->screen()->availableSize() * 9 / 10 : QSize(1100, 700);
    resize(QSize(fontMetrics().averageCharWidth() * 172, fontMetrics().height() * 42).boundedTo(room));
    begin({}, {});
}

DwellingDialog::~DwellingDialog() {
    if (running_) running_->cancel();
    pool_.clear();
    pool_.waitForDone();
}

QWidget* DwellingDialog::make_head() {
    auto* head = new QWidget(this);
    // Two rows: one would be wider than a small screen.
    auto* lines = new QVBoxLayout(head);
    lines->setContentsMargins(0, 0, 0, 0);
    auto* row = new QHBoxLayout;
    lines->addLayout(row);
    connect(button_in(*row, tr("&New"), tr("Begin another dwelling."), this), &QPushButton::clicked, this, [this] {
        if (may_leave()) begin({}, {});
    });
    connect(button_in(*row, tr("&Open…"), tr("Open a dwelling file."), this), &QPushButton::clicked, this, &DwellingDialog::ask_and_open);
    connect(button_in(*row, tr("&Save"), tr("Save the dwelling to its file (Ctrl+S)."), this), &QPushButton::clicked, this, [this] { ask_and_save(false); });
    connect(button_in(*row, tr("Save &as…"), tr("Save the dwelling to another file and go on with that."), this), &QPushButton::clicked, this, [this] { ask_and_save(true); });
    undo_ = button_in(*row, tr("Undo"), tr("Take the last change back (Ctrl+Z)."), this);
    redo_ = button_in(*row, tr("Redo"), tr("Do again what was taken back."), this);
    connect(undo_, &QPushButton::clicked, this, &DwellingDialog::undo);
    connect(redo_, &QPushButton::clicked, this, &DwellingDialog::redo);
    row->addStretch();
    row = new QHBoxLayout;
    lines->addLayout(row);
    auto* name_label = new QLabel(tr("Name"), this);
    name_ = new QLineEdit(this);
    name_label->setBuddy(name_);
    row->addWidget(name_label);
    row->addWidget(name_, 1);
    connect(name_, &QLineEdit::textEdited, this, [this](const QString& text) {
        Dwelling next = dwelling();
        next.name = text.toStdString();
        change(std::move(next));
    });
    auto* lengths_label = new QLabel(tr("&Lengths"), this);
    lengths_ = new QComboBox(this);
    lengths_label->setBuddy(lengths_);
    lengths_->addItem(tr("internal"), static_cast<int>(DwellingLengths::internal));
    lengths_->addItem(tr("overall internal"), static_cast<int>(DwellingLengths::overall_internal));
    lengths_->addItem(tr("external"), static_cast<int>(DwellingLengths::external));
    lengths_->setToolTip(tr("Internal: between the inner surfaces of each room. Overall internal: of the whole, inner walls and floors counted in. External: between the outer surfaces. One kind for all lengths, areas and values."));
    row->addWidget(lengths_label);
    row->addWidget(lengths_);
    connect(lengths_, &QComboBox::activated, this, [this] {
        Dwelling next = dwelling();
        const DwellingLengths before = next.lengths;
        next.lengths = static_cast<DwellingLengths>(lengths_->currentData().toInt());
        if (next.lengths == before) return;
        // A value from elsewhere was meant for the lengths that held when it was entered.
        each_value(next, [&](JunctionValue& value) {
            if (auto* from = std::get_if<FromElsewhere>(&value); from && !from->lengths) from->lengths = before;
        });
        if (change(std::move(next))) told_->setText(tr("The lengths and areas that were typed are those of the other kind: measure and type them again."));
    });
    return head;
}

QWidget* DwellingDialog::make_junctions() {
    auto* page = new QWidget(this);
    auto* rows = new QVBoxLayout(page);
    auto* head = new QLabel(tr("Every usual kind of junction is listed until it has a row: open ones stand in no sum. Type a length into the table; an open kind becomes a row."), page);
    head->setWordWrap(true);
    rows->addWidget(head);
    table_ = make_dwelling_table(page);
    rows->addWidget(table_, 1);
    auto* buttons = new QHBoxLayout;
    connect(button_in(*buttons, tr("Add the st&udy in the window…"), tr("A row whose psi is that of a variant of the study in the window."), this), &QPushButton::clicked, this, &DwellingDialog::add_study);
    connect(button_in(*buttons, tr("Add &from elsewhere…"), tr("A row with a psi, or a point transmittance, from a table, a paper or another calculation."), this), &QPushButton::clicked, this, &DwellingDialog::add_elsewhere);
    edit_ = button_in(*buttons, tr("&Edit…"), tr("Change the marked row: kind, value, source, and the U that the calculation uses."), this);
    remove_ = button_in(*buttons, tr("&Remove"), tr("Take the marked row out."), this);
    not_there_ = button_in(*buttons, tr("Not &in this dwelling"), tr("The marked open kind does not occur here; it is asked for no more."), this);
    buttons->addStretch();
    rows->addLayout(buttons);
    auto* below = new QHBoxLayout;
    update_ = button_in(*below, tr("Up&date"), tr("Solve again what is not up to date."), this);
    stop_ = button_in(*below, tr("Sto&p"), tr("Stop the update; what is solved so far is dropped."), this);
    progress_ = new QProgressBar(this);
    progress_->setAccessibleName(tr("Update under way"));
    progress_->setMaximumWidth(fontMetrics().averageCharWidth() * 16);
    below->addWidget(progress_);
    absent_ = new QLabel(page);
    absent_->setWordWrap(true);
    below->addWidget(absent_, 1);
    ask_again_ = button_in(*below, tr("Ask for them a&gain"), tr("List the kinds that are said not to be in this dwelling again."), this);
    rows->addLayout(below);
    connect(edit_, &QPushButton::clicked, this, &DwellingDialog::edit_row);
    connect(remove_, &QPushButton::clicked, this, &DwellingDialog::remove_row);
    connect(not_there_, &QPushButton::clicked, this, &DwellingDialog::not_there);
    connect(ask_again_, &QPushButton::clicked, this, [this] {
        Dwelling next = dwelling();
        next.absent.clear();
        change(std::move(next));
    });
    connect(update_, &QPushButton::clicked, this, &DwellingDialog::update_values);
    connect(stop_, &QPushButton::clicked, this, &DwellingDialog::stop);
    // The editor of the cell closes first.
    connect(table_, &QTableWidget::cellChanged, this, &DwellingDialog::cell_changed, Qt::QueuedConnection);
    connect(table_, &QTableWidget::cellDoubleClicked, this, [this](int, int column) {
        if (picked() && column != dwelling_where && column != dwelling_length) edit_row();
    });
    connect(table_, &QTableWidget::currentCellChanged, this, [this](int row) {
        const QTableWidgetItem* item = row < 0 ? nullptr : table_->item(row, dwelling_kind);
        edit_->setEnabled(picked().has_value());
        remove_->setEnabled(picked().has_value());
        not_there_->setEnabled(item && !picked());
        if (item) told_->setText(item->toolTip());
    });
    return page;
}

QWidget* DwellingDialog::make_sheet() {
    auto* page = new QWidget(this);
    auto* rows = new QVBoxLayout(page);
    auto* head = new QHBoxLayout;
    auto* label = new QLabel(tr("As it is asked for &by"), page);
    template_ = new QComboBox(page);
    label->setBuddy(template_);
    for (const std::string& id : transfer_ids()) {
        QString name = words(id);
        try {
            if (const auto used = transfer_template(id); !used.name.empty()) name = words(used.name);
        } catch (const InputFault&) {
            // A damaged one stands here by its id, and says what is wrong once it is chosen.
        }
        template_->addItem(name, words(id));
    }
    template_->setCurrentIndex(std::max(0, template_->findData(QStringLiteral("junction-list"))));
    head->addWidget(label);
    head->addWidget(template_, 1);
    connect(button_in(*head, tr("&Copy as text"), tr("Copy the sheet as it is shown."), this), &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(sheet_->toPlainText()); });
    connect(button_in(*head, tr("Copy for a sp&readsheet"), tr("Copy the sheet as a table of cells (CSV)."), this), &QPushButton::clicked, this, [this] {
        try {
            const auto used = transfer_template(template_->currentData().toString().toStdString());
            QApplication::clipboard()->setText(words(transfer_csv(dwelling(), transfer_sheet(dwelling(), balance(dwelling(), studies_), used))));
        } catch (const InputFault& fault) {
            told_->setText(sentence(fault.faults()));
        }
    });
    rows->addLayout(head);
    sheet_ = page_of_text(tr("Transfer sheet"), page);
    rows->addWidget(sheet_, 1);
    connect(template_, &QComboBox::currentIndexChanged, this, [this] { fill_sheet(balance(dwelling(), studies_)); });
    return page;
}

void DwellingDialog::begin(Dwelling dwelling, const QString& path) {
    stop();
    ++life_;
    history_.assign(1, dwelling);
    at_ = 0;
    saved_ = std::move(dwelling);
    in_file_ = saved_;
    copy_.drop();
    keep_soon_->stop();
    path_ = path;
    studies_.clear();
    refused_ = false;
    show_from_its_begin(*name_, this->dwelling().name);
    envelope_->load(this->dwelling());
    told_->clear();
    refresh();
    look();
}

bool DwellingDialog::changed() const { return refused_ || !(dwelling() == saved_) || !envelope_->problem().isEmpty(); }

bool DwellingDialog::change(Dwelling next) {
    if (next == dwelling()) return true;
    try {
        read_dwelling(write_dwelling(next));
    } catch (const InputFault& fault) {
        told_->setText(sentence(fault.faults()));
        refresh();
        return false;
    }
    history_.resize(at_ + 1);
    history_.push_back(std::move(next));
    ++at_;
    told_->clear();
    refresh();
    keep_soon_->start();
    return true;
}

void DwellingDialog::undo() {
    if (at_ == 0) return;
    --at_;
    refused_ = false;
    show_from_its_begin(*name_, this->dwelling().name);
    envelope_->load(dwelling());
    refresh();
}

void DwellingDialog::redo() {
    if (at_ + 1 == history_.size()) return;
    ++at_;
    refused_ = false;
    show_from_its_begin(*name_, this->dwelling().name);
    envelope_->load(dwelling());
    refresh();
}

QString DwellingDialog::folder() const { return path_.isEmpty() ? QString() : QFileInfo(path_).absolutePath(); }

bool DwellingDialog::open_file(const QString& path) {
    try {
        auto read = load_dwelling(path.toStdString());
        begin(std::move(read.dwelling), path);
        if (!read.warnings.empty()) told_->setText(sentence(read.warnings));
        return true;
    } catch (const InputFault& fault) {
        QMessageBox::warning(this, tr("Not opened"), words(one_line(fault.faults().front(), QFileInfo(path).fileName().toStdString())));
        return false;
    }
}

bool DwellingDialog::save_to(const QString& path) {
    const bool solving = running_ != nullptr;
    const QString before = folder(), now = QFileInfo(path).absolutePath();
    std::vector<Dwelling> history = history_;
    // Studies are found from the folder of the file: a new place is another way to them, also for what undo brings back.
    if (before != now && solving) stop();  // it would find its rows by their old way no more
    if (before != now)
        for (Dwelling& past : history)
            each_value(past, [&](JunctionValue& value) {
                if (auto* from = std::get_if<FromStudy>(&value)) {
                    const QString file = words(from->file);
                    from->file = QDir(now).relativeFilePath(QDir::isAbsolutePath(file) ? file : QDir(before).absoluteFilePath(file)).toStdString();
                }
            });
    const auto overwrite = [&] {
        return QMessageBox::question(this, tr("Changed meanwhile"), tr("\"%1\" was changed by somebody else since it was opened here. Save over it? What was changed there is lost then; Save as keeps both.").arg(QFileInfo(path).fileName()), QMessageBox::Save | QMessageBox::Cancel, QMessageBox::Cancel) == QMessageBox::Save;
    };
    if (path == path_ && changed_meanwhile(in_file_, path.toStdString()) && !overwrite()) return false;
    try {
        save_dwelling(history[at_], path.toStdString());
    } catch (const std::exception& failure) {
        QMessageBox::warning(this, tr("Not saved"), words(failure.what()));
        return false;
    }
    history_ = std::move(history);
    saved_ = dwelling();
    in_file_ = saved_;
    path_ = path;
    copy_.drop();
    keep_soon_->stop();
    told_->setText(refused_ ? tr("Saved, but without what was typed last on the page of the envelope: it cannot stand as it is.") : tr("Saved."));
    refresh();
    look();
    if (before != now && solving) update_values();
    return true;
}

bool DwellingDialog::ask_and_save(bool as) {
    QString path = path_;
    if (as || path.isEmpty()) {
        path = QFileDialog::getSaveFileName(this, tr("Save the dwelling"), path_.isEmpty() ? QFileInfo(beside_().path).absolutePath() : path_, dwelling_filter());
        path = with_ending(this, path, QStringLiteral(".dwelling"));
        if (path.isEmpty()) return false;
    }
    return save_to(path);
}

void DwellingDialog::ask_and_open() {
    if (!may_leave()) return;
    const QString path = QFileDialog::getOpenFileName(this, tr("Open a dwelling"), path_.isEmpty() ? QFileInfo(beside_().path).absolutePath() : folder(), dwelling_filter());
    if (!path.isEmpty()) open_file(path);
}

bool DwellingDialog::may_leave() {
    if (!changed()) return true;
    QMessageBox question(QMessageBox::Question, tr("Changes"), tr("The dwelling \"%1\" has changes that are not saved.").arg(words(dwelling().name)), QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel, this);
    if (const QString part = envelope_->problem(); !part.isEmpty()) question.setInformativeText(part);
    else if (refused_) question.setInformativeText(tr("What was typed last on the page of the envelope cannot stand as it is, and would be lost."));
    question.setDefaultButton(QMessageBox::Save);
    switch (question.exec()) {
        case QMessageBox::Save: return ask_and_save(false);
        case QMessageBox::Discard: return true;
        default: return false;
    }
}

void DwellingDialog::reject() {
    if (!may_leave()) return;
    stop();
    QDialog::reject();
}

bool DwellingDialog::event(QEvent* event) {
    // Studies may have been saved in the window beside.
    if (event->type() == QEvent::WindowActivate && !busy()) look();
    return QDialog::event(event);
}

void DwellingDialog::refresh() {
    const Balance sums = balance(dwelling(), studies_);
    const QString file = path_.isEmpty() ? tr("new dwelling") : QFileInfo(path_).fileName();
    setWindowTitle(tr("Dwelling: %1[*]").arg(file));
    setWindowModified(changed());
    lengths_->setCurrentIndex(lengths_->findData(static_cast<int>(dwelling().lengths)));
    undo_->setEnabled(at_ > 0);
    redo_->setEnabled(at_ + 1 < history_.size());
    fill_dwelling_table(*table_, dwelling(), sums);
    const auto kinds = junction_kinds();
    QStringList absent;
    for (const std::string& kind : dwelling().absent) absent << words(kind_name(kinds, kind)).toLower();
    absent_->setText(absent.isEmpty() ? QString() : tr("Not in this dwelling: %1.").arg(absent.join(QStringLiteral(", "))));
    ask_again_->setVisible(!absent.isEmpty());
    edit_->setEnabled(picked().has_value());
    remove_->setEnabled(picked().has_value());
    not_there_->setEnabled(table_->currentRow() >= 0 && !picked());
    const bool studies = std::any_of(dwelling().junctions.begin(), dwelling().junctions.end(), [](const Junction& j) { return std::holds_alternative<FromStudy>(j.value); });
    update_->setEnabled(studies && !running_);
    stop_->setVisible(running_ != nullptr);
    progress_->setVisible(running_ != nullptr);
    QStringList shown;
    // Said once for all of them.
    const QString least = QStringLiteral("at least ");
    for (const DwellingLine& line : dwelling_lines(dwelling(), sums)) {
        const QString name = words(line.name);
        shown << tr("%1 <b>%2</b>&nbsp;%3").arg((name.startsWith(least) ? name.mid(least.size()) : name).toHtmlEscaped(), words(line.value), words(line.unit).toHtmlEscaped());
    }
    const QString open = sums.open() > 0 ? tr("<b>%1 open</b>, so at least: ").arg(sums.open()) : QString();
    const QString old = sums.out_of_date > 0 ? tr("<b>%1 out of date.</b> ").arg(sums.out_of_date) : QString();
    sums_->setText(old + open + shown.join(QStringLiteral(" &nbsp;·&nbsp; ")));
    QString text;
    for (const std::string& line : balance_equations(dwelling(), sums)) text += words(line) + QLatin1Char('\n');
    for (std::size_t m = 0; m < sums.measures.size(); ++m) text += (m == 0 ? QStringLiteral("\n") : QString()) + words(dwelling().measures[m].name) + QStringLiteral(": ") + words(measure_text(dwelling(), sums.measures[m])) + QLatin1Char('\n');
    text += QLatin1Char('\n');
    for (const std::string& remark : dwelling_remarks(dwelling(), sums)) text += words(remark) + QLatin1Char('\n');
    for (const Derivation& derivation : dwelling_derivations(dwelling(), sums)) text += QLatin1Char('\n') + derived_words(derivation);
    worked_out_->setPlainText(text);
    fill_measures(sums);
    fill_sheet(sums);
}

void DwellingDialog::fill_sheet(const Balance& sums) {
    try {
        sheet_->setPlainText(words(transfer_text(dwelling(), transfer_sheet(dwelling(), sums, transfer_template(template_->currentData().toString().toStdString())))));
    } catch (const InputFault& fault) {
        sheet_->setPlainText(words(one_line(fault.faults().front(), "")));
    }
}

void DwellingDialog::look() {
    ++looking_;
    pool_.start([dwelling = dwelling(), folder = folder().toStdString(), life = life_, self = QPointer(this)] {
        StudiesNow studies;
        try {
            studies = studies_now(dwelling, folder);
        } catch (const std::exception&) {
            // What could not be looked at stays out of date.
        }
        QMetaObject::invokeMethod(qApp, [self, life, studies] {
            if (!self) return;
            --self->looking_;
            if (self->life_ != life) return;
            self->studies_ = studies;
            self->refresh();
        });
    });
}

void DwellingDialog::update_values() {
    if (running_) return;
    auto context = std::make_shared<Context>([self = QPointer(this), life = life_](double share) {
        QMetaObject::invokeMethod(qApp, [self, life, share] {
            if (self && self->life_ == life) self->progress_->setValue(static_cast<int>(100 * share));
        });
    });
    running_ = context;
    progress_->setValue(0);
    told_->setText(tr("Solving what is not up to date…"));
    refresh();
    pool_.start([dwelling = dwelling(), folder = folder().toStdString(), today = QDate::currentDate().toString(Qt::ISODate).toStdString(), context, self = QPointer(this)] {
        std::shared_ptr<const Updated> updated;
        QString problem;
        try {
            updated = std::make_shared<const Updated>(update_dwelling(dwelling, folder, today, UpdateWhat::out_of_date, *context));
        } catch (const Cancelled&) {
            problem = QObject::tr("Stopped; the values are as they were.");
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        QMetaObject::invokeMethod(qApp, [self, context, updated, problem] {
            if (!self || self->running_ != context) return;
            self->running_.reset();
            if (updated) return self->take(*updated);
            self->refresh();
            self->told_->setText(problem);
        });
    });
}

void DwellingDialog::stop() {
    if (!running_) return;
    running_->cancel();
    running_.reset();
    told_->setText(tr("Stopped; the values are as they were."));
    refresh();
}

/// Rows may have been edited meanwhile: each takes the value of its study and variant.
void DwellingDialog::take(const Updated& updated) {
    std::map<std::string, std::optional<LastValue>> found;
    Dwelling of = updated.dwelling;
    each_value(of, [&](JunctionValue& value) {
        if (const auto* from = std::get_if<FromStudy>(&value)) found[study_key(*from)] = from->last;
    });
    // What was worked out is no act of the user: it holds for every state that undo may bring back.
    const Dwelling before = dwelling();
    for (Dwelling& state : history_)
        each_value(state, [&](JunctionValue& value) {
            if (auto* from = std::get_if<FromStudy>(&value))
                if (const auto last = found.find(study_key(*from)); last != found.end() && last->second) from->last = last->second;
        });
    if (!(before == dwelling())) keep_soon_->start();
    for (const auto& [key, now] : updated.studies) studies_[key] = now;
    refresh();
    QStringList said;
    for (const auto& [key, trouble] : updated.troubles) said << sentence(trouble);
    // Rows that came, or changed, while it was solving.
    bool open = false;
    Dwelling here = dwelling();
    each_value(here, [&](JunctionValue& value) {
        const auto* from = std::get_if<FromStudy>(&value);
        open = open || (from && !found.contains(study_key(*from)));
    });
    if (open || here.lengths != updated.dwelling.lengths) return update_values();
    if (!updated.reached) said << tr("Not every bracket became as narrow as asked.");
    told_->setText(said.isEmpty() ? tr("Up to date.") : said.join(QLatin1Char('\n')));
}

}  // namespace wallfoot
