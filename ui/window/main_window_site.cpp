// SPDX-License-Identifier: GPL-3.0-or-later
#include <QApplication>
#include <QAction>
#include <QClipboard>
#include <QInputDialog>
#include <QMessageBox>
#include <algorithm>

#include "core/study/edits.hpp"
#include "core/study/edits_elements.hpp"
#include "ui/panels/climate_dialog.hpp"
#include "ui/panels/corrections_dialog.hpp"
#include "ui/panels/damp_dialog.hpp"
#include "ui/panels/ground_floor_dialog.hpp"
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
    bind("site.floor", [this] { ground_floor_dialog(); });
    bind("site.corrections", [this] { corrections_dialog({}); });
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

void MainWindow::ground_floor_dialog() {
    if (!document_.has_study()) return;
    GroundFloorDialog dialog(*document_.study(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    tell(change_study(tr("Ground floor of the building"), [&](const Study& study) { return dialog.applied(study); }));
}

void MainWindow::show_lengths() {
    const bool shown = action(QStringLiteral("view.lengths"))->isChecked();
    sheet_->set_lengths(shown, action(QStringLiteral("view.other_lengths"))->isChecked());
    if (!shown) return emit sheet_->told({});
    if (sheet_->lengths_drawn().empty()) return emit sheet_->told(tr("Lengths show in Draw and Heat once the drawing is settled and worked out."));
    const QString which = sheet_->length_system() == LengthSystem::internal ? tr("Internal lengths") : tr("External lengths");
    emit sheet_->told(tr("%1. Drag a diamond to measure to another place; Shift+J shows the other system.").arg(which));
}

void MainWindow::ask_element_place(const QString& element, CutSide cut, LengthSystem lengths) {
    if (!document_.has_study()) return;
    const QString hint = lengths == LengthSystem::internal ? tr("Click where \"%1\" is measured to inside, such as the corner of floor and wall.") : tr("Click where \"%1\" is measured to outside, such as the outer corner.");
    sheet_->ask_places({hint.arg(element)}, true, [this, id = element.toStdString(), cut, lengths](const std::vector<QPointF>& places) {
        if (!document_.has_study() || places.empty()) return;
        const Point at{from_mm(places.front().x()), from_mm(places.front().y())};
        tell(document_.edit(tr("Move the place that \"%1\" is measured to").arg(words(id)), [&](const Section& s) { return set_element_reference(s, id, cut, lengths, at); }));
    });
}

void MainWindow::corrections_dialog(QString element) {
    if (!document_.has_study()) return;
    const auto shown = findings();
    struct Choice {
        std::string id;
        CutSide cut;
        const Element* met = nullptr;
    };
    std::vector<Choice> all;
    if (shown)
        for (const Element& of : shown->elements) {
            const ElementOverride* stated = find_element(document_.section(), of.id, of.side);
            // What is stated of one that has lost its U can still be taken back.
            if (of.U || (stated && stated->corrections)) all.push_back({of.id, of.side, &of});
        }
    // And of one that is no more.
    for (const ElementOverride& of : document_.section().elements)
        if (of.corrections && std::none_of(all.begin(), all.end(), [&](const Choice& choice) { return choice.id == of.id && choice.cut == of.cut; })) all.push_back({of.id, of.cut});
    if (all.empty()) return emit sheet_->told(tr("A U is needed that could be corrected: a wall or floor between two spaces, drawn square to the cut, with the drawing settled."));
    if (element.isEmpty() && sheet_->picked().kind == PickedKind::element) element = sheet_->picked().id;
    const auto of_id = [&] { return std::find_if(all.begin(), all.end(), [&](const Choice& of) { return words(of.id) == element; }); };
    if (element.isEmpty() && all.size() == 1) element = words(all.front().id);
    if (of_id() == all.end()) {
        QStringList names;
        for (const Choice& of : all) {
            const QString id = words(of.id);
            names << (!of.met ? (shown && !shown->has_fault() ? tr("%1, not met now").arg(id) : tr("%1, as stated").arg(id)) : of.met->U ? tr("%1, U %2").arg(id, value_words(*of.met->U, "W/(m²·K)")) : tr("%1, no U").arg(id));
        }
        bool agreed = false;
        const QString chosen = QInputDialog::getItem(this, tr("Fixings and air gaps"), tr("&Of which wall or floor (named by the cut that it crosses)?"), names, 0, false, &agreed);
        if (!agreed) return;
        element = words(all[static_cast<std::size_t>(std::max(qsizetype{0}, names.indexOf(chosen)))].id);
    }
    const Choice of = *of_id();
    std::vector<std::pair<QString, QString>> layers;
    const std::vector<Element::Layer> met = of.met ? of.met->layers : std::vector<Element::Layer>{};
    for (const Element::Layer& layer : met) {
        const int piece = layer.face < 0 ? -1 : shown->arrangement.faces[static_cast<std::size_t>(layer.face)].piece;
        if (piece < 0) continue;
        const Piece& filled = shown->section->pieces[static_cast<std::size_t>(piece)];
        layers.emplace_back(words(filled.id), tr("%1, %2").arg(name_of(filled), length_words(layer.thickness_m * 1000)));
    }
    const std::string id = of.id;
    const CutSide cut = of.cut;
    const ElementOverride* stated = find_element(document_.section(), id, cut);
    CorrectionsDialog dialog(element, stated && stated->corrections ? *stated->corrections : ElementCorrections{}, std::move(layers), this);
    if (dialog.exec() != QDialog::Accepted) return;
    tell(document_.edit(tr("Fixings and air gaps"), [&](const Section& s) { return set_element_corrections(s, id, cut, dialog.corrections()); }));
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
