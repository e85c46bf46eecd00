// SPDX-License-Identifier: GPL-3.0-or-later
#include <QApplication>
#include <QClipboard>
#include <QMessageBox>

#include "core/study/edits.hpp"
#include "ui/panels/climate_dialog.hpp"
#include "ui/panels/damp_dialog.hpp"
#include "ui/panels/profile_dialog.hpp"
#include "ui/panels/rules_panel.hpp"
#include "ui/panels/site_dialog.hpp"
#include "ui/panels/water_dialog.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/main_window.hpp"

// What the window does with the rules at the wall foot and the facts of the site. Facts belong to the study: each act is
// one step for all variants.
namespace wallfoot {

void MainWindow::bind_site_commands() {
    bind("view.rules", [this] { set_activity(Activity::rules); });
    bind("site.facts", [this] { site_dialog(); });
    bind("site.water", [this] { water_dialog(); });
    bind("site.climate", [this] { climate_dialog(); });
    bind("site.profile", [this] { profile_dialog(); });
    bind("site.damp", [this] { damp_dialog(); });
    bind("site.copy_questions", [this] { copy_questions(); });
}

/// The checks of the active variant, worked out when they are wanted: some milliseconds on what the water's way found.
void MainWindow::show_rules() {
    const bool fits = water_ && document_.has_study() && water_->section == document_.variant().section && water_->section == sheet_->shown();
    if (!fits || sheet_->activity() != Activity::rules) {
        sheet_->set_foot(nullptr);
        if (!fits) foot_.reset();
        if (!fits) rules_panel_->show_nothing(!to_settle_.empty() ? tr("The rules are asked once the drawing is settled (F4).") : document_.has_study() ? tr("Asking the rules…") : QString());
        return;
    }
    if (!foot_ || foot_->section != water_->section || foot_of_ != document_.study()) {
        try {
            foot_ = std::make_shared<const FootReport>(foot_report(*document_.study(), document_.variant(), water_->arrangement, water_->way, used_foot_rules(*document_.study())));
            foot_of_ = document_.study();
        } catch (const InputFault& fault) {
            foot_.reset();
            sheet_->set_foot(nullptr);
            rules_panel_->show_nothing(sentence(fault.faults()));
            return;
        }
    }
    sheet_->set_foot(foot_);
    rules_panel_->show_report(foot_);
}

void MainWindow::site_dialog() {
    if (!document_.has_study()) return;
    SiteDialog dialog(*document_.study(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    const auto refusals = change_study(tr("Site facts"), [&](const Study& study) { return dialog.applied(study); });
    if (!refusals.empty()) QMessageBox::information(this, tr("Not stated"), sentence(refusals));
}

void MainWindow::climate_dialog() {
    if (!document_.has_study()) return;
    ClimateDialog dialog(*document_.study(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    const auto refusals = change_study(tr("Convention and climate"), [&](const Study& study) { return dialog.applied(study); });
    if (!refusals.empty()) QMessageBox::information(this, tr("Not stated"), sentence(refusals));
}

void MainWindow::water_dialog() {
    if (!document_.has_study()) return;
    WaterDialog dialog(document_.section(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    const Water water = dialog.water();
    tell(document_.edit(tr("State water"), [&](const Section& s) {
        Water stated = water;
        stated.extra = s.water ? s.water->extra : Extra{};
        return set_water(s, stated);
    }));
}

void MainWindow::profile_dialog() {
    if (!document_.has_study()) return;
    const auto study = document_.study();
    const Variant& shown = document_.variant();
    for (std::size_t v = 0; v < study->variants.size(); ++v) {
        if (study->variants[v].id != shown.id) continue;
        const auto findings = worker_.kept(*study, v);
        if (!findings || findings->has_fault()) {
            emit sheet_->told(tr("The curve needs a settled drawing and its findings at rest."));
            return;
        }
        auto* dialog = new ProfileDialog(study, findings, this);
        dialog->setAttribute(Qt::WA_DeleteOnClose);
        dialog->show();
    }
}

void MainWindow::damp_dialog() {
    if (!document_.has_study()) return;
    // Shown beside the drawing as it is now; a later edit does not reach it.
    const Picked& picked = sheet_->picked();
    auto* dialog = new DampDialog(document_.study(), document_.variant().id, picked.kind == PickedKind::piece ? picked.id : QString(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->show();
}

void MainWindow::copy_questions() {
    if (!document_.has_study()) return;
    try {
        // Those of the variant on the sheet, whether its rules are shown or not.
        const auto report = foot_ && foot_of_ == document_.study() && foot_->variant_id == document_.variant().id ? foot_ : std::make_shared<const FootReport>(foot_report(*document_.study(), document_.variant()));
        if (report->questions.empty()) {
            emit sheet_->told(tr("No question is open."));
            return;
        }
        QApplication::clipboard()->setText(words(questions_text(report->questions)));
        emit sheet_->told(tr("%n question(s) copied.", nullptr, static_cast<int>(report->questions.size())));
    } catch (const InputFault& fault) {
        emit sheet_->told(sentence(fault.faults()));
    }
}

}  // namespace wallfoot
