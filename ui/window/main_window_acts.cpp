// SPDX-License-Identifier: GPL-3.0-or-later
#include <QApplication>
#include <QCloseEvent>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QInputDialog>
#include <QLabel>
#include <QListWidget>
#include <QLockFile>
#include <QMenu>
#include <QMessageBox>
#include <QPushButton>
#include <QSettings>
#include <QStackedWidget>
#include <QVBoxLayout>
#include <algorithm>
#include <clocale>
#include <limits>

#include "core/details/detail.hpp"
#include "core/file/study_file.hpp"
#include "core/resources/resources.hpp"
#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "core/study/underlays.hpp"
#include "ui/commands/commands.hpp"
#include "ui/panels/find_dialog.hpp"
#include "ui/panels/file_name.hpp"
#include "ui/panels/words.hpp"
#include "ui/panels/commands_dialog.hpp"
#include "ui/panels/compare_view.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/detail_dialog.hpp"
#include "ui/panels/dwelling_dialog.hpp"
#include "ui/panels/element_box.hpp"
#include "ui/panels/findings_panel.hpp"
#include "ui/panels/piece_panel.hpp"
#include "ui/panels/materials_panel.hpp"
#include "ui/panels/layers_dialog.hpp"
#include "ui/panels/report_view.hpp"
#include "ui/panels/stretch_dialog.hpp"
#include "ui/panels/tool_choice.hpp"
#include "ui/panels/rules_panel.hpp"
#include "ui/panels/water_panel.hpp"
#include "ui/window/look.hpp"
#include "ui/teach/teach_view.hpp"
#include "ui/window/main_window.hpp"

namespace wallfoot {

namespace {

constexpr int most_recent = 8;

QString without_mark(const char* text) { return translated(text).remove(QLatin1Char('&')); }

}  // namespace

// ---- binding the table of commands to what they do --------------------------------------------------------------------

void MainWindow::bind_commands() {
    bind("file.new", [this] {
        if (may_leave_study()) begin_study();
    });
    bind("file.new_from_detail", [this] { begin_from_detail(); });
    bind("file.open", [this] { ask_and_open(); });
    bind("file.find", [this] { find_study(); });
    bind("file.save", [this] {
        if (document_.path().isEmpty()) ask_and_save();
        else save_to(document_.path());
    });
    bind("file.save_as", [this] { ask_and_save(); });
    bind("file.dwelling", [this] { show_dwelling(); });
    bind("file.quit", [this] { close(); });
    bind("edit.undo", [this] {
        teach_view_->flush();
        if (!sheet_->take_back()) document_.undo_stack().undo();
    });
    bind("edit.redo", [this] {
        teach_view_->flush();
        document_.undo_stack().redo();
    });
    bind("edit.delete", [this] { delete_picked(); });
    bind("edit.duplicate", [this] { duplicate_picked(); });
    bind("edit.stretch", [this] { stretch_dialog(); });
    bind("edit.mirror", [this] { tell(document_.edit(tr("Mirror"), mirror_section)); });
    bind("move.raise", [this] { reorder_picked(1); });
    bind("move.lower", [this] { reorder_picked(-1); });
    bind("move.to_top", [this] { reorder_picked(std::numeric_limits<int>::max()); });
    bind("move.to_bottom", [this] { reorder_picked(std::numeric_limits<int>::min()); });
    struct Way {
        const char *near, *far;
        int x, y;
    };
    for (const Way& way : {Way{"move.left", "move.left_far", -1, 0}, {"move.right", "move.right_far", 1, 0}, {"move.up", "move.up_far", 0, 1}, {"move.down", "move.down_far", 0, -1}}) {
        bind(way.near, [this, way] { sheet_->move_picked(way.x, way.y); });
        bind(way.far, [this, way] { sheet_->move_picked(10 * way.x, 10 * way.y); });
    }
    for (const auto& [command, tool] : tools) bind(command, [this, tool] { sheet_->set_tool(tool); });
    bind("draw.layers", [this] { layers_dialog(); });
    bind("help.keys", [this] { list_commands(); });
}

void MainWindow::bind_view_commands() {
    bind("view.draw", [this] { set_activity(Activity::draw); });
    bind("view.heat", [this] { set_activity(Activity::heat); });
    bind("view.water", [this] { set_activity(Activity::water); });
    bind("view.compare", [this] { set_activity(Activity::compare); });
    bind("view.report", [this] { set_activity(Activity::report); });
    bind("view.teach", [this] { set_activity(Activity::teach); });
    bind("file.report", [this] { ask_and_save_report(); });
    bind("file.pack", [this] { ask_and_pack(); });
    bind("file.reports", [this] { reports_dialog(); });
    bind("file.template", [this] { office_dialog(); });
    bind("file.issue", [this] { issue_dialog(); });
    bind("file.records", [this] { records_dialog(); });
    bind("view.isotherms", [this] { sheet_->set_isotherms(action(QStringLiteral("view.isotherms"))->isChecked()); });
    bind("view.flow_lines", [this] { sheet_->set_flow_lines(action(QStringLiteral("view.flow_lines"))->isChecked()); });
    bind("view.lengths", [this] { show_lengths(); });
    bind("view.other_lengths", [this] {
        // Asked for another system, they are wanted.
        if (action(QStringLiteral("view.other_lengths"))->isChecked()) action(QStringLiteral("view.lengths"))->setChecked(true);
        show_lengths();
    });
    bind("view.fit", [this] { sheet_->fit(); });
    bind("view.zoom_in", [this] { sheet_->zoom(1.25); });
    bind("view.zoom_out", [this] { sheet_->zoom(0.8); });
    bind("view.next_fault", [this] { go_to_fault(1); });
    bind("view.contents", [this] { fold_left(); });
    bind("view.materials", [this] { fold_left(); });
    bind("view.findings", [this] { right_->setVisible(action(QStringLiteral("view.findings"))->isChecked()); });
    bind("view.dark", [this] { set_dark(action(QStringLiteral("view.dark"))->isChecked()); });
}

void MainWindow::bind_variant_commands() {
    bind("variant.duplicate", [this] {
        if (!document_.has_study()) return;
        const std::size_t active = document_.active();
        document_.change(tr("Duplicate variant"), duplicate_variant(*document_.study(), active), active + 1);
    });
    bind("variant.rename", [this] {
        if (document_.has_study()) describe_variant_dialog(document_.active());
    });
    bind("variant.earlier", [this] { move_variant_by(-1); });
    bind("variant.later", [this] { move_variant_by(1); });
    bind("variant.marks", [this] { sheet_->set_difference_marks(action(QStringLiteral("variant.marks"))->isChecked()); });
    bind("variant.remove", [this] {
        if (!document_.has_study()) return;
        try {
            const std::size_t active = document_.active();
            document_.change(tr("Remove variant"), remove_variant(*document_.study(), active), active > 0 ? active - 1 : 0);
        } catch (const InputFault& fault) {
            emit sheet_->told(sentence(fault.faults().front()));
        }
    });
    bind("site.errors", [this] { errors_dialog(); });
    bind("variant.sweep", [this] { sweep_dialog(); });
    bind("variant.grid", [this] { grid_dialog(); });
    bind("variant.equal", [this] { equal_dialog(); });
    const auto step = [this](std::size_t by) {
        if (document_.has_study()) document_.set_active((document_.active() + by) % document_.study()->variants.size());
    };
    bind("variant.next", [step] { step(1); });
    bind("variant.previous", [this, step] {
        if (document_.has_study()) step(document_.study()->variants.size() - 1);
    });
}

void MainWindow::set_activity(Activity activity) {
    const bool lesson = activity == Activity::teach || shown_->currentWidget() == static_cast<QWidget*>(teach_view_);
    sheet_->set_activity(activity);
    const char* command = activity == Activity::draw ? "view.draw" : activity == Activity::heat ? "view.heat" : activity == Activity::water ? "view.water" : activity == Activity::rules ? "view.rules" : activity == Activity::compare ? "view.compare" : activity == Activity::teach ? "view.teach" : "view.report";
    shown_->setCurrentWidget(activity == Activity::report ? static_cast<QWidget*>(report_view_) : activity == Activity::compare ? static_cast<QWidget*>(compare_view_) : activity == Activity::teach ? static_cast<QWidget*>(teach_view_) : sheet_);
    if (activity == Activity::teach) {  // a lesson takes the room of the panels, which stay chosen as they are
        left_->hide();
        right_->hide();
        teach_view_->player().stage().setFocus(Qt::OtherFocusReason);
    } else {
        fold_left();
        right_->setVisible(action(QStringLiteral("view.findings"))->isChecked());
    }
    variants_->setVisible(activity != Activity::teach);  // each with its psi: that would tell answers
    choice_->setVisible(activity != Activity::teach);    // nothing is drawn there, and the answer has a name more to say
    show_in_place();
    action(QString::fromLatin1(command))->setChecked(true);
    told_->setCurrentWidget(activity == Activity::water ? static_cast<QWidget*>(water_panel_) : activity == Activity::rules ? static_cast<QWidget*>(rules_panel_) : findings_panel_);
    show_rules();
    if (lesson) refresh();  // the answer on top is another one
}

void MainWindow::show_water() {
    const bool fits = water_ && document_.has_study() && water_->section == document_.variant().section && water_->section == sheet_->shown();
    sheet_->set_water(fits ? water_ : nullptr);
    if (fits) water_panel_->show_report(water_);
    else water_panel_->show_nothing(!to_settle_.empty() ? tr("The water's way is followed once the drawing is settled (F4).") : !water_ && !water_trouble_.isEmpty() ? water_trouble_ : document_.has_study() ? tr("Following the water…") : QString());
    show_rules();
}

void MainWindow::draw_proposed_membrane(int piece) {
    if (!water_ || !document_.has_study() || water_->section != document_.variant().section || !water_->remedies.contains(piece)) return;
    document_.edit(tr("Draw the proposed membrane"), [&](const Section& s) { return with_remedy(s, water_->remedies.at(piece)); });
}

void MainWindow::set_dark(bool dark) {
    use_look(dark);
    sheet_->set_dark(dark);
    materials_->set_dark(dark);
    action(QStringLiteral("view.dark"))->setChecked(dark);
    QSettings().setValue(QStringLiteral("dark"), dark);
}

void MainWindow::delete_picked() {
    if (!document_.has_study()) return;
    const Picked picked = sheet_->picked();
    const std::string id = picked.id.toStdString();
    std::vector<Message> refusals;
    const Taken taken = taken_of(picked);
    if (picked.hole) return fill_hole();
    if (!picked.more.empty()) refusals = document_.edit(tr("Delete"), [&](const Section& s) { return delete_taken(s, taken); });
    else switch (picked.kind) {
        case PickedKind::nothing: return;
        case PickedKind::stretch: refusals = document_.edit(tr("Delete measure"), [&](const Section& s) { return delete_stretch(s, id); }); break;
        case PickedKind::dimension: refusals = document_.edit(tr("Delete dimension"), [&](const Section& s) { return delete_dimension(s, id); }); break;
        case PickedKind::note: refusals = document_.edit(tr("Delete text"), [&](const Section& s) { return delete_note(s, id); }); break;
        case PickedKind::hidden: refusals = document_.edit(tr("Let the surface count again"), [&](const Section& s) { return delete_hidden(s, id); }); break;
        case PickedKind::element: return piece_->element().by_drawing()->click();
        case PickedKind::piece: refusals = document_.edit(tr("Delete piece"), [&](const Section& s) { return delete_piece(s, id); }); break;
        case PickedKind::membrane: refusals = document_.edit(tr("Delete membrane"), [&](const Section& s) { return delete_membrane(s, id); }); break;
        case PickedKind::space:
            refusals = document_.edit(tr("Delete space mark"), [&](const Section& s) { return picked.mark ? delete_mark(s, id, *picked.mark) : delete_space(s, id); });
            break;
        case PickedKind::underlay: refusals = change_study(tr("Remove underlay"), [&](const Study& study) { return remove_underlay(study, document_.active(), id); }); break;
        case PickedKind::level:
            refusals = document_.edit(tr("Delete level"), [&](const Section& s) { return set_level(s, level_of(picked.id).kind, level_of(picked.id).side, {}); });
            break;
    }
    if (refusals.empty()) sheet_->set_picked({});
    emit sheet_->told(sentence(refusals));
}

void MainWindow::tell(const std::vector<Message>& refusals) { emit sheet_->told(sentence(refusals)); }

void MainWindow::duplicate_picked() {
    if (!document_.has_study() || sheet_->picked().kind != PickedKind::piece) return;
    if (sheet_->picked().hole) return emit sheet_->told(sheet_->needs_piece());
    const std::string id = sheet_->picked().id.toStdString();
    const auto refusals = document_.edit(tr("Duplicate piece"), [&](const Section& s) { return duplicate_piece(s, id); });
    tell(refusals);
    if (refusals.empty()) sheet_->set_picked({PickedKind::piece, words(document_.section().pieces.back().id)});
}

void MainWindow::layers_dialog() {
    LayersDialog dialog(*document_.study(), choice_->next().layers, this);
    const bool taken = dialog.exec() == QDialog::Accepted;
    if (taken) choice_->set_layers(dialog.layers());
    sheet_->set_tool(taken ? Tool::layers : Tool::pick);
}

void MainWindow::stretch_dialog() {
    if (!document_.has_study()) return;
    const Section& section = document_.section();
    const Piece* piece = sheet_->picked().kind == PickedKind::piece ? find_piece(section, sheet_->picked().id.toStdString()) : nullptr;
    Point middle{(section.cut.left + section.cut.right) / 2, (section.cut.bottom + section.cut.top) / 2};
    if (piece) {
        const auto& outline = piece->outline;
        const auto [left, right] = std::minmax_element(outline.begin(), outline.end(), [](Point a, Point b) { return a.x < b.x; });
        const auto [low, high] = std::minmax_element(outline.begin(), outline.end(), [](Point a, Point b) { return a.y < b.y; });
        middle = {(left->x + right->x) / 2, (low->y + high->y) / 2};
    }
    StretchDialog dialog(middle, this, piece ? name_of(*piece) : tr("Width"));
    if (dialog.exec() != QDialog::Accepted || !dialog.at() || !dialog.by()) return;
    const std::string picked = piece ? piece->id : "";
    std::string kept;
    const auto refusals = document_.edit(tr("Stretch"), [&](const Section& s) {
        Section result = stretch_section(s, dialog.upright(), *dialog.at(), dialog.beyond(), *dialog.by());
        if (!dialog.keep_as()) return result;
        const Rect& cut = result.cut;
        const Path line = dialog.upright() ? Path{{*dialog.at(), cut.bottom}, {*dialog.at(), cut.top}} : Path{{cut.left, *dialog.at()}, {cut.right, *dialog.at()}};
        Stretch stretch = stretch_through(result, line, dialog.upright() ? dialog.beyond() ? "right" : "left" : dialog.beyond() ? "up" : "down", find_piece(result, picked));
        stretch.name = dialog.keep_as()->toStdString();
        result = add_stretch(result, stretch);
        kept = result.stretch.back().id;
        return result;
    });
    tell(refusals);
    if (refusals.empty() && !kept.empty()) sheet_->set_picked({PickedKind::stretch, words(kept)});
}

void MainWindow::reorder_picked(int by) {
    if (!document_.has_study() || sheet_->picked().kind != PickedKind::piece) return;
    const std::string id = sheet_->picked().id.toStdString();
    const auto& pieces = document_.section().pieces;
    const auto at = std::find_if(pieces.begin(), pieces.end(), [&](const Piece& piece) { return piece.id == id; });
    const auto index = std::max(std::ptrdiff_t{0}, (at - pieces.begin()) + by);
    if (at == pieces.end()) return;
    document_.edit(by > 0 ? tr("Move up in the stack") : tr("Move down in the stack"),
                   [&](const Section& s) { return reorder_piece(s, id, static_cast<std::size_t>(index)); });
}

// ---- files -----------------------------------------------------------------------------------------------------------

void MainWindow::begin_study() {
    document_.set_study(std::make_shared<const Study>(read_study(resource("studies/new.wallfoot")).study), {});
    file_lock_.reset();
    set_activity(Activity::draw);
    hint_ = tr("Draw the first piece: R draws a rectangle, P corner by corner. A wall from the lower to the upper cut parts inside from outside. M draws membranes, A sets marks of spaces, E levels.");
    show_cursor(cursor_mm_, cursor_snap_);
    sheet_->setFocus(Qt::OtherFocusReason);
}

void MainWindow::begin_from_detail() {
    StarterDetails details = starter_details();
    const std::vector<Message> damaged = details.faults;
    DetailDialog dialog(std::move(details), this);
    if (dialog.exec() != QDialog::Accepted || !may_leave_study()) return;
    document_.set_study(dialog.study(), {}, false);
    file_lock_.reset();
    set_activity(Activity::draw);
    hint_ = damaged.empty() ? tr("Materials and values are invented or general ones: put those of the job in their place.") : sentence(damaged.front());
    show_cursor(cursor_mm_, cursor_snap_);
    sheet_->fit();
    sheet_->setFocus(Qt::OtherFocusReason);
}

bool MainWindow::open_file(const QString& path) {
    if (path.endsWith(QStringLiteral(".dwelling"))) return show_dwelling(path)->path() == path;
    if (path.endsWith(QStringLiteral(".pdf"), Qt::CaseInsensitive)) return open_report(path);
    const bool own = holds_lock_of(path);
    std::unique_ptr<QLockFile> lock;
    bool as_copy = false;
    if (!own && !may_open(path, &lock, &as_copy)) return false;
    std::vector<Message> warnings;
    const auto faults = document_.open(path, &warnings);
    if (!faults.empty()) {
        show_faults_dialog(path, faults);
        return false;
    }
    if (!own) file_lock_ = std::move(lock);
    if (as_copy) document_.forget_path();
    remember_recent(path);
    hint_ = warnings.empty() ? QString() : tr("Opened; %1").arg(sentence(warnings.front()));
    show_cursor(cursor_mm_, cursor_snap_);
    sheet_->setFocus(Qt::OtherFocusReason);
    return true;
}

/// The study that a report carries; it is saved under a name of its own.
bool MainWindow::open_report(const QString& path) {
    std::vector<Message> warnings;
    if (const auto faults = document_.open(path, &warnings); !faults.empty()) {
        show_faults_dialog(path, faults);
        return false;
    }
    file_lock_.reset();
    hint_ = tr("The study that %1 carries, as it was when the report was written. Saving asks for a name of its own.").arg(QFileInfo(path).fileName());
    if (!warnings.empty()) hint_ += QLatin1Char(' ') + sentence(warnings.front());
    show_cursor(cursor_mm_, cursor_snap_);
    sheet_->setFocus(Qt::OtherFocusReason);
    return true;
}

bool MainWindow::save_to(const QString& path) {
    teach_view_->flush();
    if (!document_.has_study()) return false;
    const bool own = holds_lock_of(path);
    std::unique_ptr<QLockFile> lock;
    if (!own && !may_save(path, &lock)) return false;
    const QString reason = document_.save(path);
    if (!reason.isEmpty()) {
        QMessageBox::warning(this, tr("Not saved"), tr("The study could not be written to\n%1\n\n%2\n\nNothing is lost: it is still open here. Save it to another place.").arg(path, reason));
        return false;
    }
    if (!own) file_lock_ = std::move(lock);
    remember_recent(path);
    return true;
}

void MainWindow::ask_and_open() {
    if (!may_leave_study()) return;
    const QString folder = document_.path().isEmpty() ? QSettings().value(QStringLiteral("folder")).toString() : QFileInfo(document_.path()).path();
    const QString path = QFileDialog::getOpenFileName(this, tr("Open a study"), folder, tr("Wallfoot studies (*.wallfoot);;Reports with their study (*.pdf);;All files (*)"));
    if (!path.isEmpty()) open_file(path);
}

void MainWindow::find_study() {
    QSettings settings;
    const QString beside = document_.path().isEmpty() ? settings.value(QStringLiteral("folder")).toString() : QFileInfo(document_.path()).path();
    const QString kept = settings.value(QStringLiteral("find_folder"), beside).toString();
    FindDialog dialog(QFileInfo(kept).isDir() ? kept : beside.isEmpty() ? QDir::homePath() : beside, this);
    const bool opened = dialog.exec() == QDialog::Accepted;
    settings.setValue(QStringLiteral("find_folder"), dialog.folder());
    if (opened && may_leave_study()) open_file(dialog.chosen());
}

bool MainWindow::ask_and_save() {
    if (!document_.has_study()) return false;
    QString path = QFileDialog::getSaveFileName(this, tr("Save the study as"), document_.path(), tr("Wallfoot studies (*.wallfoot);;All files (*)"));
    path = with_ending(this, path, QStringLiteral(".wallfoot"));
    return !path.isEmpty() && save_to(path);
}

bool MainWindow::may_leave_study() {
    teach_view_->flush();
    if (!document_.has_study() || document_.is_clean()) return true;
    QMessageBox question(QMessageBox::Question, tr("Unsaved changes"), tr("The study has changes that are not saved."),
                         QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel, this);
    question.setInformativeText(tr("Save them first?"));
    question.setDefaultButton(QMessageBox::Save);
    switch (question.exec()) {
        case QMessageBox::Save: return document_.path().isEmpty() ? ask_and_save() : save_to(document_.path());
        case QMessageBox::Discard: return true;
        default: return false;
    }
}

void MainWindow::closeEvent(QCloseEvent* event) {
    if ((dwelling_ && !dwelling_->may_leave()) || !may_leave_study()) {
        event->ignore();
        return;
    }
    delete dwelling_;  // asked already
    QSettings().setValue(QStringLiteral("window"), saveGeometry());
    event->accept();
}

void MainWindow::remember_recent(const QString& path) {
    QSettings settings;
    const QString absolute = QFileInfo(path).absoluteFilePath();
    QStringList recent = settings.value(QStringLiteral("recent")).toStringList();
    recent.removeAll(absolute);
    recent.prepend(absolute);
    while (recent.size() > most_recent) recent.removeLast();
    settings.setValue(QStringLiteral("recent"), recent);
    settings.setValue(QStringLiteral("folder"), QFileInfo(absolute).path());
}

void MainWindow::fill_recent() {
    recent_->clear();
    const QStringList recent = QSettings().value(QStringLiteral("recent")).toStringList();
    for (const QString& path : recent)
        recent_->addAction(QString(path).replace(QLatin1Char('&'), QStringLiteral("&&")), this, [this, path] {
            if (may_leave_study()) open_file(path);
        });
    if (recent.isEmpty()) recent_->addAction(tr("none yet"))->setEnabled(false);
}

void MainWindow::show_faults_dialog(const QString& path, const std::vector<Message>& faults) {
    QDialog dialog(this);
    dialog.setWindowTitle(tr("Not opened"));
    auto* layout = new QVBoxLayout(&dialog);
    auto* head = new QLabel(tr("%1 cannot be used as it is. %2 The study open before is untouched.")
                                .arg(QFileInfo(path).fileName(), faults.size() == 1 ? tr("One thing is wrong:") : tr("%1 things are wrong:").arg(faults.size())), &dialog);
    head->setWordWrap(true);
    auto* list = new QListWidget(&dialog);
    list->setObjectName(QStringLiteral("faults"));
    list->setAccessibleName(tr("What is wrong"));
    list->setWordWrap(true);
    list->setTextElideMode(Qt::ElideNone);
    for (const auto& fault : faults) {
        QString text = sentence(fault);
        QStringList where;
        if (!fault.pointer.empty()) where << words(fault.pointer);
        if (fault.at) where << tr("x %1, y %2").arg(length_words(to_mm(fault.at->x)), length_words(to_mm(fault.at->y)));
        if (!where.isEmpty()) text += QStringLiteral("\n(%1)").arg(where.join(QStringLiteral("; ")));
        list->addItem(text);
    }
    auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, &dialog);
    connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
    layout->addWidget(head);
    layout->addWidget(list, 1);
    layout->addWidget(buttons);
    dialog.resize(fontMetrics().averageCharWidth() * 80, fontMetrics().height() * 20);
    dialog.exec();
}

void MainWindow::refresh_titles() {
    const QString file = document_.path().isEmpty() ? tr("unnamed") : QFileInfo(document_.path()).fileName();
    setWindowTitle(document_.has_study() ? tr("%1[*] – Wallfoot").arg(file) : tr("Wallfoot"));
    setWindowModified(document_.has_study() && !document_.is_clean());
    const QUndoStack& stack = document_.undo_stack();
    const auto label = [](const char* text, const QString& act) { return act.isEmpty() ? translated(text) : QStringLiteral("%1: %2").arg(translated(text), act); };
    QAction* undo = action(QStringLiteral("edit.undo"));
    QAction* redo = action(QStringLiteral("edit.redo"));
    undo->setText(label(command(QStringLiteral("edit.undo")).text, stack.undoText()));
    redo->setText(label(command(QStringLiteral("edit.redo")).text, stack.redoText()));
    // The tool row keeps its short names, so that nothing moves about.
    undo->setIconText(without_mark(command(QStringLiteral("edit.undo")).text));
    redo->setIconText(without_mark(command(QStringLiteral("edit.redo")).text));
    redo->setEnabled(stack.canRedo());
    for (const char* id : {"file.save", "file.save_as", "file.report", "file.pack", "file.issue", "file.records", "view.compare", "view.report", "edit.delete", "edit.duplicate", "edit.stretch", "edit.mirror", "move.raise", "move.lower", "move.to_top", "move.to_bottom", "draw.polygon", "draw.rectangle", "draw.membrane", "draw.space", "draw.level", "draw.fill", "draw.layers", "draw.measure", "draw.dimension", "draw.text", "edit.copy", "edit.paste", "change.move", "change.copies", "change.rotate", "change.mirror", "change.flip", "change.split", "change.merge",
                           "change.offset", "change.hole", "change.fill_hole", "change.group", "change.ungroup", "variant.duplicate", "variant.rename", "variant.earlier", "variant.later", "variant.remove", "variant.sweep", "variant.grid", "variant.equal",
                           "underlay.add", "underlay.scale", "underlay.place", "underlay.straighten", "underlay.lock", "underlay.pieces", "underlay.copy_without", "file.export",
                           "material.give", "material.add", "material.edit", "material.duplicate", "material.remove", "material.import", "material.export"})
        action(QString::fromLatin1(id))->setEnabled(document_.has_study());
}

void MainWindow::list_commands() {
    CommandsDialog dialog(this);
    connect(&dialog, &CommandsDialog::keys_changed, this, &MainWindow::give_keys);
    if (dialog.exec() == QDialog::Accepted && !dialog.chosen().isEmpty()) action(dialog.chosen())->trigger();
}

int open_window(int argc, char** argv) {
    QApplication application(argc, argv);
    std::setlocale(LC_NUMERIC, "C");  // numbers are written alike everywhere
    QApplication::setApplicationName(QStringLiteral("wallfoot"));
    QApplication::setOrganizationName(QStringLiteral("wallfoot"));
    QApplication::setDesktopFileName(QStringLiteral("wallfoot"));
    MainWindow window;
    window.show();
    const QStringList arguments = QApplication::arguments();
    if (!window.offer_recovery() && arguments.size() > 1) window.open_file(arguments.last());
    return QApplication::exec();
}

}  // namespace wallfoot
