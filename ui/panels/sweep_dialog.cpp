// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/sweep_dialog.hpp"

#include <QApplication>
#include <QClipboard>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QHeaderView>
#include <QLabel>
#include <QMessageBox>
#include <QPointer>
#include <QProgressBar>
#include <QPushButton>
#include <QSaveFile>
#include <QScreen>
#include <QSplitter>
#include <QTableWidget>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

#include "solver/findings/reuse.hpp"
#include "ui/panels/parameter_choice.hpp"
#include "ui/panels/words.hpp"

namespace wallfoot {

namespace {

/// More than that is work for the command on several machines.
constexpr std::size_t most_rows_in_window = 2'000;
constexpr int redraw_after = 80;  // ms

}  // namespace

SweepDialog::SweepDialog(std::shared_ptr<const Study> study, const std::string& variant_id, const QString& piece, QWidget* parent) : QDialog(parent), study_(std::move(study)), variant_id_(variant_id) {
    const Variant& variant = *study_->find_variant(variant_id_);
    setWindowTitle(tr("Sweep: %1").arg(words(variant.name.empty() ? variant.id : variant.name)));
    pool_.setMaxThreadCount(1);
    redraw_ = new QTimer(this);
    redraw_->setSingleShot(true);
    redraw_->setInterval(redraw_after);
    connect(redraw_, &QTimer::timeout, this, &SweepDialog::refresh_plot);
    auto* rows = new QVBoxLayout(this);
    auto* head = new QLabel(tr("Goes through one or two parameters step by step, all else as drawn when this was opened; the study stays as it is."), this);
    if (variant.section->stretch.empty()) head->setText(head->text() + QLatin1Char(' ') + tr("The section has no named measure: draw one (T) to sweep a thickness or a width."));
    head->setWordWrap(true);
    rows->addWidget(head);
    make_choices(piece);
    rows->addWidget(first_);
    rows->addWidget(second_);
    make_run_row(*rows);
    auto* split = new QSplitter(Qt::Vertical, this);
    plot_ = new SweepPlot(split);
    plot_->setMinimumHeight(fontMetrics().height() * 11);
    table_ = new QTableWidget(0, 0, split);
    table_->setAccessibleName(tr("The rows of the sweep"));
    table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
    table_->setTabKeyNavigation(false);
    table_->verticalHeader()->hide();
    table_->horizontalHeader()->setStretchLastSection(true);
    split->addWidget(plot_);
    split->addWidget(table_);
    split->setSizes({3000, 1700});
    split->setStretchFactor(0, 3);
    split->setStretchFactor(1, 2);
    rows->addWidget(split, 1);
    told_ = new QLabel(this);
    told_->setWordWrap(true);
    rows->addWidget(told_);
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
    copy_ = buttons->addButton(tr("&Copy table"), QDialogButtonBox::ActionRole);
    save_ = buttons->addButton(tr("S&ave table…"), QDialogButtonBox::ActionRole);
    copy_plan_ = buttons->addButton(tr("Copy &plan"), QDialogButtonBox::ActionRole);
    copy_plan_->setToolTip(tr("The plan as the command \"wallfoot sweep\" reads it, to run a large one on several machines."));
    rows->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(copy_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(as_csv()); });
    connect(copy_plan_, &QPushButton::clicked, this, [this] { QApplication::clipboard()->setText(plan_text()); });
    connect(save_, &QPushButton::clicked, this, [this] {
        const QString path = QFileDialog::getSaveFileName(this, tr("Save the table"), QStringLiteral("sweep.csv"), tr("Tables (*.csv)"));
        if (path.isEmpty()) return;
        if (const QString why = save_csv(path); !why.isEmpty()) QMessageBox::warning(this, tr("Not saved"), why);
    });
    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    const QSize room = screen() ? screen()->availableGeometry().size() - QSize(2 * em, 4 * fontMetrics().height()) : QSize(10'000, 10'000);
    resize(std::min(room.width(), 84 * em), std::min(room.height(), fontMetrics().height() * 46));
    choice_changed();
}

SweepDialog::~SweepDialog() {
    if (running_) running_->cancel();
    pool_.clear();
    pool_.waitForDone();
}

void SweepDialog::make_choices(const QString& piece) {
    first_ = new ParameterChoice(study_, variant_id_, tr("&1st"), ParameterChoice::Offered::one, piece, this);
    second_ = new ParameterChoice(study_, variant_id_, tr("&2nd"), ParameterChoice::Offered::one_or_none, piece, this);
    for (ParameterChoice* choice : {first_, second_}) connect(choice, &ParameterChoice::changed, this, &SweepDialog::choice_changed);
}

void SweepDialog::make_run_row(QVBoxLayout& rows) {
    auto* row = new QHBoxLayout;
    start_ = new QPushButton(tr("&Start"), this);
    start_->setDefault(true);
    stop_ = new QPushButton(tr("S&top"), this);
    progress_ = new QProgressBar(this);
    progress_->setFormat(tr("%v of %m"));
    progress_->setAccessibleName(tr("Rows worked out"));
    auto* label = new QLabel(tr("Sho&w"), this);
    shown_ = new QComboBox(this);
    shown_->setAccessibleName(tr("What is plotted"));
    for (const SweepQuantity quantity : {SweepQuantity::psi, SweepQuantity::fRsi, SweepQuantity::coupling}) shown_->addItem(title_of(quantity), static_cast<int>(quantity));
    label->setBuddy(shown_);
    row->addWidget(start_);
    row->addWidget(stop_);
    row->addWidget(progress_, 1);
    row->addWidget(label);
    row->addWidget(shown_);
    rows.addLayout(row);
    connect(start_, &QPushButton::clicked, this, &SweepDialog::run);
    connect(stop_, &QPushButton::clicked, this, &SweepDialog::stop_run);
    connect(shown_, &QComboBox::currentIndexChanged, this, &SweepDialog::refresh_plot);
}

std::optional<SweepPlan> SweepDialog::chosen(QString& problem) const {
    problem = first_->problem().isEmpty() ? second_->problem() : first_->problem();
    if (!problem.isEmpty()) return std::nullopt;
    SweepPlan plan{{variant_id_}, {}};
    for (const ParameterChoice* choice : {first_, second_})
        if (const auto change = choice->change()) plan.changes.push_back(*change);
    if (plan.changes.empty()) return std::nullopt;
    if (plan.changes.size() > 1 && static_cast<const Parameter&>(plan.changes[0]) == static_cast<const Parameter&>(plan.changes[1])) {
        problem = tr("Both are the same parameter. Choose another, or nothing else.");
        return std::nullopt;
    }
    const auto goes = [&](ParameterWhat what) { return std::any_of(plan.changes.begin(), plan.changes.end(), [&](const SweepChange& change) { return change.what == what; }); };
    if (plan.changes.size() > 1 && goes(ParameterWhat::conductivity) && goes(ParameterWhat::moisture) && plan.changes[0].targets == plan.changes[1].targets) {
        problem = tr("A conductivity that is swept holds in every moisture condition, so that the other would change nothing. Choose another piece for one of them.");
        return std::nullopt;
    }
    if (sweep_rows(*study_, plan) > most_rows_in_window) {
        problem = tr("That is %1 rows, and the window goes up to %2. Give fewer steps, or copy the plan of a smaller one and run it by the command.").arg(sweep_rows(*study_, plan)).arg(most_rows_in_window);
        return std::nullopt;
    }
    return plan;
}

/// Another plan: what is known of it from before stands at once when it is started.
void SweepDialog::choice_changed() {
    if (busy_) stop_run();
    ++asked_;
    busy_ = false;
    QString problem;
    const auto plan = chosen(problem);
    plan_ = plan.value_or(SweepPlan{});
    titles_ = {first_->title(), second_->title()};
    points_.assign(plan ? sweep_rows(*study_, plan_) : 0, {});
    lines_.assign(points_.size(), {});
    told_->setText(problem);
    fill_table();
    refresh_plot();
    refresh_buttons();
}

void SweepDialog::run() {
    if (busy_ || points_.empty()) return;
    busy_ = true;
    told_->setText(tr("being worked out…"));
    std::vector<std::size_t> open;
    for (std::size_t n = 0; n < points_.size(); ++n)
        if (lines_[n].empty()) open.push_back(n);
    running_ = std::make_shared<Context>();
    refresh_buttons();
    pool_.start([study = study_, plan = plan_, open, known = known_, context = running_, asked = ++asked_, self = QPointer(this)] {
        const auto post = [&](auto act) {
            QMetaObject::invokeMethod(qApp, [self, asked, act] {
                if (self && self->asked_ == asked) act(*self);
            });
        };
        QString problem;
        Reuse reuse;
        try {
            // A first look at all of it on kept meshes, then each row as it counts.
            for (const bool quick : {true, false}) {
                if (quick && !keeps_drawing(plan)) continue;
                const FindingsOptions options = quick ? reuse.quick() : reuse.at_rest();
                for (const std::size_t n : open) {
                    context->check();
                    const SweepRow row = sweep_row(*study, plan, n);
                    const auto before = known.find(row.hash);
                    if (quick && before != known.end()) continue;
                    const SweepResult result = before != known.end() ? before->second : sweep_result(row, options, *context);
                    const std::string line = quick ? std::string() : sweep_line(row, result);
                    const SweepState state = quick ? SweepState::first_look : SweepState::at_rest;
                    post([n, state, result, line, hash = row.hash](SweepDialog& dialog) { dialog.arrived(n, state, result, line, hash); });
                }
            }
        } catch (const Cancelled&) {
            return post([](SweepDialog& dialog) { dialog.ended(tr("Stopped. What is done stays; Go on takes up the rest.")); });
        } catch (const InputFault& fault) {
            problem = sentence(fault.faults());
        } catch (const std::exception& failure) {
            problem = words(failure.what());
        }
        post([problem](SweepDialog& dialog) { dialog.ended(problem); });
    });
}

void SweepDialog::stop_run() {
    if (running_) running_->cancel();
    stop_->setEnabled(false);
}

void SweepDialog::arrived(std::size_t row, SweepState state, const SweepResult& result, const std::string& line, const std::string& hash) {
    points_[row] = {state, result};
    lines_[row] = line;
    if (state == SweepState::at_rest && result.problem.empty() && result.converged) known_[hash] = result;
    put_row(row);
    progress_->setValue(static_cast<int>(done()));
    if (!redraw_->isActive()) redraw_->start();
}

void SweepDialog::ended(const QString& problem) {
    busy_ = false;
    running_.reset();
    const auto refused = std::count_if(points_.begin(), points_.end(), [](const SweepPoint& point) { return !point.result.problem.empty(); });
    QStringList said;
    if (!problem.isEmpty()) said << problem;
    else said << tr("Every row is solved to rest, as on the command line; the band around a line is its bracket, of fRsi the estimated error.");
    if (refused > 0) said << tr("%n row(s) the drawing does not allow: the table says why.", nullptr, static_cast<int>(refused));
    told_->setText(said.join(QLatin1Char(' ')));
    fit_columns();
    redraw_->stop();
    refresh_plot();
    refresh_buttons();
}

std::size_t SweepDialog::done() const {
    return static_cast<std::size_t>(std::count_if(lines_.begin(), lines_.end(), [](const std::string& line) { return !line.empty(); }));
}

void SweepDialog::refresh_buttons() {
    const std::size_t ready = done();
    start_->setText(ready > 0 && ready < lines_.size() ? tr("&Go on") : tr("&Start"));
    start_->setEnabled(!busy_ && ready < lines_.size());
    stop_->setEnabled(busy_);
    progress_->setMaximum(std::max(1, static_cast<int>(lines_.size())));
    progress_->setValue(static_cast<int>(ready));
    copy_->setEnabled(ready > 0);
    save_->setEnabled(ready > 0);
    copy_plan_->setEnabled(!points_.empty());
}

void SweepDialog::refresh_plot() {
    plot_->show_points(plan_.changes, titles_, points_, static_cast<SweepQuantity>(shown_->currentData().toInt()));
    if (busy_) refresh_buttons();
}

void SweepDialog::fill_table() {
    table_->clear();
    QStringList head;
    for (std::size_t c = 0; c < plan_.changes.size(); ++c) head << titles_[static_cast<int>(c)];
    for (const SweepQuantity quantity : {SweepQuantity::psi, SweepQuantity::fRsi, SweepQuantity::coupling}) head << title_of(quantity);
    head << tr("Besides");
    table_->setColumnCount(static_cast<int>(head.size()));
    table_->setHorizontalHeaderLabels(head);
    table_->setRowCount(static_cast<int>(points_.size()));
    for (std::size_t n = 0; n < points_.size(); ++n) {
        std::size_t rest = n;
        for (std::size_t c = plan_.changes.size(); c-- > 0;) {
            const std::size_t count = plan_.changes[c].count();
            table_->setItem(static_cast<int>(n), static_cast<int>(c), new QTableWidgetItem(shown_value(plan_.changes[c], rest % count)));
            rest /= count;
        }
        put_row(n);
    }
    fit_columns();
}

void SweepDialog::fit_columns() {
    table_->resizeColumnsToContents();
    table_->horizontalHeader()->setStretchLastSection(false);  // or the last would stay as narrow as its head
    table_->horizontalHeader()->setStretchLastSection(true);
}

void SweepDialog::put_row(std::size_t row) {
    const SweepPoint& point = points_[row];
    int column = static_cast<int>(plan_.changes.size());
    const auto put = [&](const QString& text) { table_->setItem(static_cast<int>(row), column++, new QTableWidgetItem(text)); };
    for (const SweepQuantity quantity : {SweepQuantity::psi, SweepQuantity::fRsi, SweepQuantity::coupling}) {
        const auto value = value_of(point, quantity);
        put(!value ? QString() : quantity == SweepQuantity::fRsi ? text_of(point, quantity) : words(with_bracket(*value)));
    }
    put(!point.result.problem.empty()                 ? words(point.result.problem)
        : point.state == SweepState::first_look        ? tr("a first look, its bracket wider")
        : point.state == SweepState::at_rest && !point.result.converged ? tr("the bracket stayed wider than asked")
                                                       : QString());
}

QString SweepDialog::as_csv() const {
    std::string text = sweep_head(plan_) + "\n";
    for (const std::string& line : lines_)
        if (!line.empty()) text += line + "\n";
    return words(text);
}

QString SweepDialog::plan_text() const { return words(write_sweep_plan(plan_)); }

QString SweepDialog::save_csv(const QString& path) const {
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly)) return file.errorString();
    file.write(as_csv().toUtf8());
    return file.commit() ? QString() : file.errorString();
}

}  // namespace wallfoot
