// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/window/main_window.hpp"

#include <QActionGroup>
#include <QApplication>
#include <QCloseEvent>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLabel>
#include <QLockFile>
#include <QMenuBar>
#include <QScreen>
#include <QSettings>
#include <QSplitter>
#include <QStackedWidget>
#include <QStatusBar>
#include <QTimer>
#include <QToolBar>
#include <QToolButton>
#include <algorithm>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "ui/commands/keys.hpp"
#include "ui/panels/answer_strip.hpp"
#include "ui/panels/compare_view.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/element_box.hpp"
#include "ui/panels/findings_panel.hpp"
#include "ui/panels/materials_panel.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/office_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/panels/rules_panel.hpp"
#include "ui/panels/trial_slider.hpp"
#include "ui/panels/hand_back.hpp"
#include "ui/panels/tool_choice.hpp"
#include "ui/panels/variants_strip.hpp"
#include "ui/panels/water_panel.hpp"
#include "ui/panels/words.hpp"
#include "ui/teach/teach_view.hpp"
#include "ui/window/look.hpp"

namespace wallfoot {

MainWindow::MainWindow(Worker::Find find, QWidget* parent) : QMainWindow(parent), worker_(std::move(find)) {
    setWindowTitle(tr("Wallfoot"));
    recovery_ = std::make_unique<Recovery>(document_, recovery_folder());
    hint_ = recovery_->trouble();
    connect(recovery_.get(), &Recovery::troubled, this, [this](const QString& why) {
        hint_ = why;
        show_cursor(cursor_mm_, cursor_snap_);
    });
    sheet_ = new Sheet(document_, this);
    make_actions();
    bind_commands();
    bind_view_commands();
    bind_variant_commands();
    bind_material_commands();
    bind_site_commands();
    bind("file.head", [this] { project_dialog(); });
    bind_edit_commands();
    bind_underlay_commands();
    make_menus();
    setCentralWidget(make_middle());
    make_tool_row();
    slow_ = new QTimer(this);
    slow_->setSingleShot(true);
    slow_->setInterval(250);
    place_label_ = new QLabel(this);
    here_label_ = new QLabel(this);
    // Two lines for hints: a long one neither widens the window nor is cut off.
    here_label_->setWordWrap(true);
    here_label_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
    here_label_->setFixedHeight(2 * here_label_->fontMetrics().lineSpacing() + 2);
    time_label_ = new QLabel(this);
    statusBar()->addWidget(place_label_);
    statusBar()->addWidget(here_label_, 1);
    statusBar()->addPermanentWidget(time_label_);
    connect_parts();
    constexpr int frame = 40;  // title bar of the window system, not known yet
    const QSize room = screen()->availableSize();
    resize(std::min(1280, room.width()), std::min(800, room.height() - frame));
    const QSettings settings;
    restoreGeometry(settings.value(QStringLiteral("window")).toByteArray());
    set_dark(settings.value(QStringLiteral("dark"), desktop_is_dark()).toBool());
    refresh();
    refresh_titles();
}

MainWindow::~MainWindow() {
    teach_view_->player().end_presenting();  // while there is a place it can come back to
    // A field with the focus would still tell what was typed when the study is gone.
    if (QWidget* field = focusWidget()) field->blockSignals(true);
    // The history says a last word as it goes; what would answer is half gone by then.
    document_.undo_stack().disconnect(this);
    document_.disconnect(this);
    worker_.disconnect(this);
}

void MainWindow::make_actions() {
    std::map<QString, QActionGroup*> groups;
    for (const Command& entry : commands()) {
        auto* action = new QAction(translated(entry.text), this);
        const QString id = QString::fromLatin1(entry.id);
        action->setStatusTip(translated(entry.tip));
        action->setCheckable(entry.checkable);
        if (*entry.group) {
            auto*& group = groups[QString::fromLatin1(entry.group)];
            if (!group) group = new QActionGroup(this);
            group->addAction(action);
        }
        connect(action, &QAction::triggered, this, [this, id] { bound_.at(id)(); });
        actions_[id] = action;
        if (entry.place == Command::key_on_sheet) {
            action->setShortcutContext(Qt::WidgetShortcut);
            sheet_->addAction(action);
        } else {
            addAction(action);
        }
    }
    give_keys();
    for (const char* on : {"draw.pick", "view.draw", "view.isotherms", "view.flow_lines", "view.contents", "view.materials", "view.findings"}) action(QString::fromLatin1(on))->setChecked(true);
}

void MainWindow::give_keys() {
    for (const Command& entry : commands()) {
        QAction* action = this->action(QString::fromLatin1(entry.id));
        const auto keys = keys_of(entry);
        const QString tip = translated(entry.tip);
        action->setShortcuts(keys);
        action->setToolTip(keys.isEmpty() ? tip : QStringLiteral("%1 (%2)").arg(tip, keys.first().toString(QKeySequence::NativeText)));
    }
}

void MainWindow::make_menus() {
    std::map<QString, QMenu*> menus;
    for (const Command& entry : commands()) {
        auto*& menu = menus[QString::fromLatin1(entry.menu)];
        if (!menu) menu = menuBar()->addMenu(translated(entry.menu));
        menu->addAction(action(QString::fromLatin1(entry.id)));
        if (QLatin1String(entry.id) == QLatin1String("file.open")) {
            recent_ = menu->addMenu(tr("Open &recent"));
            connect(recent_, &QMenu::aboutToShow, this, &MainWindow::fill_recent);
        }
    }
}

void MainWindow::make_tool_row() {
    auto* row = addToolBar(tr("Tools"));
    row->setMovable(false);
    row->setFloatable(false);
    row->setContextMenuPolicy(Qt::PreventContextMenu);
    const char* menu = "";
    for (const Command& entry : commands()) {
        if (entry.place != Command::in_tool_row) continue;
        if (*menu && QLatin1String(menu) != QLatin1String(entry.menu)) row->addSeparator();
        menu = entry.menu;
        row->addAction(action(QString::fromLatin1(entry.id)));
    }
}

QWidget* MainWindow::make_middle() {
    auto* whole = new QWidget(this);
    auto* rows = new QVBoxLayout(whole);
    rows->setContentsMargins(0, 0, 0, 0);
    rows->setSpacing(0);
    answer_ = new AnswerStrip(whole);
    for (const char* activity : {"view.draw", "view.heat", "view.water", "view.rules", "view.compare", "view.report", "view.teach"}) {
        auto* button = new QToolButton(answer_);
        button->setDefaultAction(action(QString::fromLatin1(activity)));
        button->setFocusPolicy(Qt::TabFocus);
        button->setMinimumWidth(button->fontMetrics().horizontalAdvance(button->text()) + button->fontMetrics().horizontalAdvance(QLatin1Char('M')));
        answer_->left()->addWidget(button);
    }
    answer_->left()->addWidget(choice_ = new ToolChoice(answer_));
    rows->addWidget(answer_);

    middle_ = new QSplitter(Qt::Horizontal, whole);
    left_ = new QSplitter(Qt::Vertical, middle_);
    contents_ = new ContentsPanel(left_);
    materials_ = new MaterialsPanel(document_, left_);
    for (const char* act : {"material.give", "material.add", "material.edit", "material.duplicate", "material.remove"})
        materials_->add_button(action(QString::fromLatin1(act)));
    left_->setChildrenCollapsible(false);
    auto* right = new QSplitter(Qt::Vertical, middle_);
    piece_ = new PiecePanel(document_, right);
    told_ = new QStackedWidget(right);
    findings_panel_ = new FindingsPanel(told_);
    water_panel_ = new WaterPanel(told_);
    told_->addWidget(findings_panel_);
    told_->addWidget(water_panel_);
    told_->addWidget(rules_panel_ = new RulesPanel(told_));
    right->addWidget(piece_);
    right->addWidget(told_);
    right->setStretchFactor(0, 0);
    right->setStretchFactor(1, 1);
    right_ = right;
    middle_->addWidget(left_);
    shown_ = new QStackedWidget(middle_);
    shown_->addWidget(sheet_);
    shown_->addWidget(compare_view_ = new CompareView(shown_));
    shown_->addWidget(report_view_ = new ReportView(shown_));
    QString trouble;
    office_ = kept_office(&trouble);
    if (!trouble.isEmpty()) hint_ = tr("The template of your reports cannot be used: %1").arg(trouble);
    shown_->addWidget(teach_view_ = new TeachView(shown_));
    middle_->addWidget(shown_);
    middle_->addWidget(right_);
    middle_->setStretchFactor(1, 1);
    const int em = fontMetrics().horizontalAdvance(QLatin1Char('M'));
    middle_->setSizes({28 * em, 57 * em, 31 * em});
    left_->setSizes({24 * em, 26 * em});
    right->setSizes({20 * em, 30 * em});
    rows->addWidget(middle_, 1);
    variants_ = new VariantsStrip(whole);
    rows->addWidget(variants_);
    return whole;
}

void MainWindow::connect_parts() {
    connect(&document_, &Document::opened, this, [this] {
        worker_.forget();
        compare_view_->begin_anew();
        first_revision_ = asked_ + 1;
        answers_.clear();
        last_sound_.reset();
        preview_.reset();
    });
    connect(&document_, &Document::changed, this, &MainWindow::study_changed);
    connect(&document_, &Document::left_out, this, [this](const QStringList& names) {
        // Told once the act has told its own.
        QTimer::singleShot(0, this, [this, names] { emit sheet_->told(tr("Not in %1: what is edited is not there, or the change cannot be made.").arg(names.join(QStringLiteral(", ")))); });
    });
    connect(&document_, &Document::path_changed, this, &MainWindow::refresh_titles);
    connect(&document_.undo_stack(), &QUndoStack::cleanChanged, this, &MainWindow::refresh_titles);
    connect(&document_.undo_stack(), &QUndoStack::indexChanged, this, &MainWindow::refresh_titles);
    connect(&worker_, &Worker::answered, this, &MainWindow::answered);
    connect(slow_, &QTimer::timeout, this, [this] {
        if (findings()) return;
        if (shown_->currentWidget() != static_cast<QWidget*>(teach_view_)) answer_->show_working();
        findings_panel_->show_working();
    });
    connect(sheet_, &Sheet::previewed, this, &MainWindow::previewed);
    connect(sheet_, &Sheet::hovered, this, &MainWindow::show_cursor);
    connect(sheet_, &Sheet::told, this, [this](const QString& text) {
        hint_ = text;
        show_cursor(cursor_mm_, cursor_snap_);
    });
    connect(sheet_, &Sheet::tool_changed, this, [this](Tool tool) {
        for (const auto& [command, of] : tools)
            if (of == tool) action(QString::fromLatin1(command))->setChecked(true);
        choice_->show_tool(tool);
    });
    connect(sheet_, &Sheet::picked_changed, this, [this](const Picked& picked) {
        contents_->mark(picked);
        refresh();
    });
    connect(contents_, &ContentsPanel::chosen, this, [this](const Picked& picked) { sheet_->set_picked(picked); });
    connect(materials_, &MaterialsPanel::give_wanted, action(QStringLiteral("material.give")), &QAction::trigger);
    const auto used = [this](const QString& id) { materials_->used(id.toStdString()); };
    connect(sheet_, &Sheet::material_used, materials_, used);
    connect(piece_, &PiecePanel::material_used, materials_, used);
    connect(sheet_, &Sheet::material_dropped, this, &MainWindow::give_material_to_picked);
    connect(piece_, &PiecePanel::told, sheet_, &Sheet::told);
    connect(piece_, &PiecePanel::fill_hole_wanted, action(QStringLiteral("change.fill_hole")), &QAction::trigger);
    connect(piece_, &PiecePanel::tried, this, &MainWindow::try_conductivity);
    connect(findings_panel_, &FindingsPanel::place_chosen, sheet_, &Sheet::show_place);
    connect(findings_panel_, &FindingsPanel::element_chosen, sheet_, [this](const QString& id) { sheet_->set_picked({PickedKind::element, id}); });
    connect(&piece_->element(), &ElementBox::place_wanted, this, &MainWindow::ask_element_place);
    connect(&piece_->element(), &ElementBox::corrections_wanted, this, &MainWindow::corrections_dialog);
    connect(water_panel_, &WaterPanel::place_chosen, sheet_, &Sheet::show_place);
    connect(water_panel_, &WaterPanel::piece_chosen, sheet_, [this](const QString& id) { sheet_->set_picked({PickedKind::piece, id}); });
    connect(water_panel_, &WaterPanel::state_wanted, action(QStringLiteral("site.water")), &QAction::trigger);
    for (QComboBox* list : {choice_->material(), choice_->membrane(), choice_->space(), choice_->level(), choice_->side()}) hand_back(*list, *sheet_, true);
    for (QComboBox* list : {piece_->material(), piece_->moisture()}) hand_back(*list, *sheet_, false);
    connect(water_panel_, &WaterPanel::damp_wanted, action(QStringLiteral("site.damp")), &QAction::trigger);
    connect(water_panel_, &WaterPanel::add_wanted, this, &MainWindow::draw_proposed_membrane);
    connect(rules_panel_, &RulesPanel::place_chosen, sheet_, &Sheet::show_place);
    connect(rules_panel_, &RulesPanel::site_wanted, action(QStringLiteral("site.facts")), &QAction::trigger);
    connect(rules_panel_, &RulesPanel::copy_wanted, action(QStringLiteral("site.copy_questions")), &QAction::trigger);
    connect(&worker_, &Worker::water_followed, this, [this](std::shared_ptr<const WaterReport> report, const std::vector<Message>& faults) {
        water_ = std::move(report);
        water_trouble_ = sentence(faults);
        show_water();
    });
    connect(report_view_, &ReportView::save_wanted, this, &MainWindow::ask_and_save_report);
    connect(report_view_, &ReportView::template_wanted, this, &MainWindow::office_dialog);
    connect(report_view_, &ReportView::copy_wanted, this, &MainWindow::copy_answer);
    connect(compare_view_, &CompareView::quantities_wanted, this, &MainWindow::quantities_dialog);
    connect(compare_view_, &CompareView::equal_wanted, this, &MainWindow::equal_build_dialog);
    connect(compare_view_, &CompareView::chosen, this, [this](const QString& id) {
        const auto& variants = document_.study()->variants;
        for (std::size_t v = 0; v < variants.size(); ++v)
            if (words(variants[v].id) == id) document_.set_active(v);
        set_activity(Activity::heat);
        refresh();
    });
    connect_teaching();
    place_due_ = new QTimer(this);
    place_due_->setSingleShot(true);
    place_due_->setInterval(300);
    connect(place_due_, &QTimer::timeout, this, &MainWindow::show_in_place);
    connect(answer_, &AnswerStrip::place_wanted, sheet_, &Sheet::show_place);
    connect(answer_, &AnswerStrip::faults_wanted, this, [this] {
        fault_shown_ = 0;
        go_to_fault(0);
    });
    connect(variants_, &VariantsStrip::chosen, this, [this](std::size_t v) {
        document_.set_active(v);
        refresh();
    });
    connect(variants_, &VariantsStrip::duplicate_wanted, action(QStringLiteral("variant.duplicate")), &QAction::trigger);
    connect(variants_, &VariantsStrip::rename_wanted, this, &MainWindow::describe_variant_dialog);
    connect(variants_, &VariantsStrip::menu_wanted, this, &MainWindow::variant_menu);
    variants_->marks_button().setDefaultAction(action(QStringLiteral("variant.marks")));
    connect(choice_, &ToolChoice::chosen, this, [this] { sheet_->set_next(choice_->next()); });
}

// ---- answers -------------------------------------------------------------------------------------------------------

void MainWindow::study_changed() {
    if (!document_.has_study()) return;
    preview_.reset();
    if (std::exchange(trying_, false)) {
        hint_.clear();
        piece_->trial().end();
    }
    choice_->show_study(*document_.study(), document_.section());
    contents_->show_section(*document_.study(), document_.variant().section);
    materials_->refresh();
    at_rest_ = false;
    if (auto kept = worker_.kept(*document_.study(), document_.active())) {
        answers_[document_.variant().id] = {document_.variant().section, kept, {}};
        at_rest_ = true;
    }
    asked_ = worker_.ask(document_.study(), document_.active());
    slow_->start();
    refresh();
}

void MainWindow::previewed(std::shared_ptr<const Section> section) {
    if (!section) {
        if (!std::exchange(preview_, nullptr)) return;
        study_changed();
        return;
    }
    preview_ = section;
    Study study = *document_.study();
    study.variants[document_.active()].section = section;
    asked_ = worker_.ask(std::make_shared<const Study>(std::move(study)), document_.active(), Wish::while_dragging);
    refresh();
}

void MainWindow::try_conductivity(const QString& material, double factor) {
    if (!document_.has_study()) return;
    hint_.clear();
    if (factor == 1) {
        if (std::exchange(trying_, false)) study_changed();
        return;
    }
    trying_ = true;
    at_rest_ = false;
    const std::string id = material.toStdString();
    const Material* named = document_.study()->find_material(id);
    hint_ = tr("Tried: all conductivities of %1 times %2, in every piece of it; the study is unchanged.").arg(named ? words(shown_name(*named)) : material).arg(factor, 0, 'f', 2);
    asked_ = worker_.ask(std::make_shared<const Study>(with_conductivity_times(*document_.study(), id, factor)), document_.active(), Wish::while_dragging);
    show_cursor(cursor_mm_, cursor_snap_);
}

void MainWindow::answered(const Answer& answer) {
    if (answer.revision < first_revision_ || !document_.has_study()) return;
    Shown& shown = answers_[answer.variant_id];
    shown = {answer.section, answer.findings, answer.faults};
    if (answer.variant_id == document_.variant().id) {
        at_rest_ = answer.at_rest && answer.section == sheet_->shown();
        if (answer.findings && answer.findings->solution) last_sound_ = answer.findings;
    }
    refresh();
}

std::shared_ptr<const Findings> MainWindow::findings() const {
    if (!document_.has_study()) return nullptr;
    const auto shown = answers_.find(document_.variant().id);
    return shown != answers_.end() && shown->second.section == sheet_->shown() ? shown->second.findings : nullptr;
}

void MainWindow::refresh() {
    std::vector<std::shared_ptr<const Findings>> by_variant;
    const Shown* shown = nullptr;
    if (document_.has_study()) {
        const auto present = answers_.find(document_.variant().id);
        if (present != answers_.end() && present->second.section == sheet_->shown()) shown = &present->second;
        for (const auto& variant : document_.study()->variants) {
            const auto answer = answers_.find(variant.id);
            const bool fits = answer != answers_.end() && (answer->second.section == variant.section || &variant == &document_.variant());
            by_variant.push_back(fits ? answer->second.findings : nullptr);
        }
        variants_->show_variants(document_.study(), document_.active(), by_variant);
    }
    if (shown) {
        slow_->stop();
        to_settle_ = faults_of(shown->faults);
        if (shown->findings)
            for (const auto& fault : faults_of(shown->findings->messages)) to_settle_.push_back(fault);
    }
    std::vector<Mark> marks;
    int number = 0;
    for (const auto& fault : to_settle_) {
        ++number;
        if (fault.at) marks.push_back({*fault.at, number, true, sentence(fault)});
    }
    if (shown && shown->findings)
        for (const auto& message : shown->findings->messages)
            if (message.severity == Severity::caution) {
                ++number;
                if (message.at) marks.push_back({*message.at, number, false, sentence(message)});
            }
    sheet_->set_marks(std::move(marks));
    const auto sound = shown && shown->findings && shown->findings->solution ? shown->findings : nullptr;
    // A drag or a change under way keeps the picture it had; a fault greys it.
    sheet_->set_findings(sound ? sound : last_sound_, to_settle_.empty());
    show_water();
    refresh_strip(shown);
    if (shown && !preview_ && !trying_) findings_panel_->show_findings(shown->findings, to_settle_);
    if (shown_->currentWidget() != sheet_) place_due_->start();
    piece_->show_picked(sheet_->picked(), shown ? shown->findings : nullptr, shown && shown->findings);
    show_cursor(cursor_mm_, cursor_snap_);
}

void MainWindow::refresh_strip(const Shown* shown) {
    time_label_->clear();
    if (!document_.has_study()) {
        answer_->show_nothing();
        return;
    }
    if (shown_->currentWidget() == static_cast<QWidget*>(teach_view_)) return refresh_strip_in_lesson();
    if (!shown) return;  // for a moment the strip keeps what it says; then it says that it works
    if (!to_settle_.empty() || !shown->findings) {
        answer_->show_faults(static_cast<int>(to_settle_.size()));
        return;
    }
    answer_->show_findings(*shown->findings, at_rest_);
    const Psi* psi = shown->findings->headline_psi();
    const Bracketed* bracket = psi && psi->value ? &*psi->value : nullptr;
    if (!bracket && !shown->findings->couplings.empty() && shown->findings->couplings.front().value) bracket = &*shown->findings->couplings.front().value;
    if (bracket)
        time_label_->setText(tr("bracket %1, worked out in %2").arg(bracket->width() < 1e-6 ? tr("under 0.000001 W/(m·K)") : value_words(bracket->width(), "W/(m·K)", 1),
                                                       shown->findings->seconds < 1 ? tr("%1 ms").arg(std::lround(shown->findings->seconds * 1000))
                                                                                    : tr("%1 s").arg(shown->findings->seconds, 0, 'f', 1)));
}

void MainWindow::go_to_fault(int step) {
    if (to_settle_.empty()) return;
    fault_shown_ = (fault_shown_ + static_cast<std::size_t>(step)) % to_settle_.size();
    const Message& fault = to_settle_[fault_shown_];
    if (fault.at) sheet_->show_place(*fault.at);
    hint_ = QStringLiteral("%1. %2").arg(fault_shown_ + 1).arg(sentence(fault));
    show_cursor(cursor_mm_, cursor_snap_);
}

void MainWindow::show_cursor(QPointF mm, const QString& snap) {
    cursor_mm_ = mm;
    cursor_snap_ = snap;
    const bool on_sheet = document_.has_study() && std::isfinite(mm.x()) && !snap.isEmpty();
    place_label_->setText(on_sheet ? tr("x %1   y %2   %3").arg(mm.x(), 0, 'f', 1).arg(mm.y(), 0, 'f', 1).arg(tr("snap: %1").arg(snap)) : QString());
    if (!hint_.isEmpty()) {
        here_label_->setText(hint_);
        return;
    }
    QStringList parts;
    if (on_sheet) {
        const Section& section = *sheet_->shown();
        const auto under = pieces_at(section, free_point(mm));
        if (!under.empty()) parts << name_of(section.pieces[under.front()]);
        const auto found = findings();
        if (found && found->solution) {
            const double x = mm.x() * 1000, y = mm.y() * 1000;
            if (const auto t = found->solution->temperature_at(x, y, found->temperatures)) parts << tr("%1 °C").arg(*t, 0, 'f', 1);
            if (const auto q = found->solution->flux_at(x, y, found->temperatures)) parts << tr("%1 W/m²").arg(std::hypot((*q)[0], (*q)[1]), 0, 'f', 1);
        }
    }
    here_label_->setText(parts.join(QStringLiteral(", ")));
}

}  // namespace wallfoot
