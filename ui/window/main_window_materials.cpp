// SPDX-License-Identifier: GPL-3.0-or-later
#include <QAction>
#include <QFile>
#include <QFileDialog>
#include <QMessageBox>
#include <QSaveFile>
#include <QSplitter>

#include "core/file/materials_exchange.hpp"
#include "core/study/edits.hpp"
#include "core/study/materials.hpp"
#include "ui/panels/contents_panel.hpp"
#include "ui/panels/material_dialog.hpp"
#include "ui/panels/materials_panel.hpp"
#include "ui/panels/words.hpp"
#include "ui/window/main_window.hpp"

// What the window does with materials. They belong to the study: each act is one step for all variants.
namespace wallfoot {

namespace {

QString choose_first() { return MainWindow::tr("Choose a material in the list first."); }

}  // namespace

void MainWindow::bind_material_commands() {
    bind("material.find", [this] {
        action(QStringLiteral("view.materials"))->setChecked(true);
        fold_left();
        materials_->find();
    });
    bind("material.give", [this] { give_material_to_picked({}); });
    bind("material.add", [this] {
        if (!document_.has_study()) return;
        Material begin;
        begin.kind = MaterialKind::masonry;
        add_material_dialog(tr("Add material"), begin);
    });
    bind("material.edit", [this] { edit_material_dialog(); });
    bind("material.duplicate", [this] {
        const auto marked = materials_->marked();
        if (!document_.has_study() || !marked) {
            emit sheet_->told(choose_first());
            return;
        }
        std::string copy;
        const auto refusals = change_study(tr("Duplicate material"), [&](const Study& study) {
            Study result = marked->of_study ? duplicate_material(study, marked->material.id) : add_material(study, marked->material);
            for (const Material& material : result.materials)
                if (!study.find_material(material.id)) copy = material.id;
            return result;
        });
        emit sheet_->told(sentence(refusals));
        materials_->mark(copy);
    });
    bind("material.import", [this] { import_materials_dialog(); });
    bind("material.export", [this] { export_materials_dialog(); });
    bind("material.remove", [this] { remove_marked_material(); });
}

std::vector<Message> MainWindow::import_materials_from(const QString& path) {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly)) return {Message{Severity::fault, "file-unreadable", {{"reason", file.errorString().toStdString()}}, {}, {}}};
    constexpr qint64 most = 20'000'000;  // bytes; far more than any table
    if (file.size() > most) return {Message{Severity::fault, "file-unreadable", {{"reason", "over 20 MB"}}, {}, {}}};
    const std::string text = file.readAll().toStdString();
    std::size_t added = 0;
    try {
        const bool csv = path.endsWith(QStringLiteral(".csv"), Qt::CaseInsensitive);
        Study with = import_materials(*document_.study(), csv ? read_materials_csv(text) : read_materials_json(text), &added);
        if (added > 0) document_.change(tr("Import materials"), std::move(with), document_.active());
    } catch (const InputFault& fault) {
        return fault.faults();
    } catch (const std::exception& error) {
        return {Message{Severity::fault, "edit-failed", {{"reason", error.what()}}, {}, {}}};
    }
    emit sheet_->told(tr("Materials added: %1. Those that were there alike are left as they are.").arg(added));
    return {};
}

QString MainWindow::export_materials_to(const QString& path) {
    const auto& materials = document_.study()->materials;
    const bool csv = path.endsWith(QStringLiteral(".csv"), Qt::CaseInsensitive);
    const QByteArray bytes = QByteArray::fromStdString(csv ? materials_csv(materials) : materials_json(materials));
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size() || !file.commit()) return file.errorString();
    QStringList left;
    if (csv)
        for (const auto& name : csv_leaves_out(materials)) left << words(name);
    emit sheet_->told(left.isEmpty() ? tr("The materials are in %1.").arg(path) : tr("The materials are in %1; mixes, moisture conversion and evidence have no column there: %2. JSON holds all but mixes.").arg(path, left.join(QStringLiteral(", "))));
    return {};
}

void MainWindow::import_materials_dialog() {
    if (!document_.has_study()) return;
    const QString path = QFileDialog::getOpenFileName(this, tr("Import materials"), {}, tr("Materials (*.json *.csv);;All files (*)"));
    if (path.isEmpty()) return;
    if (const auto refusals = import_materials_from(path); !refusals.empty()) QMessageBox::warning(this, tr("Not imported"), tr("Nothing was added.\n\n%1").arg(sentence(refusals)));
}

void MainWindow::export_materials_dialog() {
    if (!document_.has_study()) return;
    QString path = QFileDialog::getSaveFileName(this, tr("Export materials"), QStringLiteral("materials.json"), tr("JSON (*.json);;Table for a spreadsheet (*.csv)"));
    if (path.isEmpty()) return;
    if (const QString reason = export_materials_to(path); !reason.isEmpty()) QMessageBox::warning(this, tr("Not written"), tr("The materials could not be written to\n%1\n\n%2").arg(path, reason));
}

void MainWindow::fold_left() {
    const bool contents = action(QStringLiteral("view.contents"))->isChecked(), materials = action(QStringLiteral("view.materials"))->isChecked();
    contents_->setVisible(contents);
    materials_->setVisible(materials);
    left_->setVisible(contents || materials);
}

std::vector<Message> MainWindow::change_study(const QString& text, const std::function<Study(const Study&)>& edit) {
    try {
        document_.change(text, edit(*document_.study()), document_.active());
        return {};
    } catch (const InputFault& fault) {
        return fault.faults();
    } catch (const std::exception& error) {
        return {Message{Severity::fault, "edit-failed", {{"reason", error.what()}}, {}, {}}};
    }
}

/// An empty key: the material that is marked in the list.
void MainWindow::give_material_to_picked(const QString& key) {
    const auto marked = key.isEmpty() ? materials_->marked() : materials_->material_of(key);
    const std::string id = sheet_->picked().id.toStdString();
    const Piece* piece = document_.has_study() && sheet_->picked().kind == PickedKind::piece ? find_piece(document_.section(), id) : nullptr;
    if (!marked || !piece) {
        emit sheet_->told(!marked ? choose_first() : tr("Pick a piece on the sheet or in the contents first."));
        return;
    }
    if (sheet_->picked().hole) return emit sheet_->told(sheet_->needs_piece());
    if (marked->of_study && piece->fill == Fill::material && piece->filled_with == marked->material.id && sheet_->picked().more.empty() && !document_.edits_all()) return;
    const auto refusals = change_study(tr("Change material"), [&](const Study& study) {
        Study result = give_material(study, document_.active(), id, marked->material);
        const std::string given = find_piece(*result.variants[document_.active()].section, id)->filled_with;
        for (std::size_t v = 0; v < result.variants.size(); ++v) {
            if (v != document_.active() && !document_.edits_all()) continue;
            // What another variant lacks, it lacks.
            std::vector<std::string> there = taken_of(sheet_->picked()).pieces;
            std::erase_if(there, [&](const std::string& one) { return !find_piece(*result.variants[v].section, one); });
            if (!there.empty()) result = with_section(result, v, set_material_of(*result.variants[v].section, there, given));
        }
        return result;
    });
    emit sheet_->told(sentence(refusals));
    if (!refusals.empty()) return;
    if (const Piece* given = find_piece(document_.section(), id)) {
        materials_->used(given->filled_with);
        materials_->mark(given->filled_with);
    }
}

void MainWindow::add_material_dialog(const QString& title, const Material& begin) {
    MaterialDialog dialog(title, begin, [this](const Material& material) {
        std::string added;
        auto refusals = change_study(tr("Add material"), [&](const Study& study) {
            Study result = add_material(study, material);
            added = result.materials.back().id;
            return result;
        });
        materials_->mark(added);
        return refusals;
    }, document_.study()->materials, this);
    dialog.exec();
}

void MainWindow::edit_material_dialog() {
    const auto marked = materials_->marked();
    if (!document_.has_study() || !marked) {
        emit sheet_->told(choose_first());
        return;
    }
    if (!marked->of_study) {
        add_material_dialog(tr("Copy into the study and change"), marked->material);
        return;
    }
    MaterialDialog dialog(tr("Edit material"), marked->material, [this, before = marked->material](const Material& material) {
        if (material == before) return std::vector<Message>();
        const auto refusals = change_study(tr("Edit material"), [&](const Study& study) { return replace_material(study, material); });
        if (refusals.empty()) materials_->edited(before);
        return refusals;
    }, document_.study()->materials, this);
    dialog.exec();
}

void MainWindow::remove_marked_material() {
    const auto marked = materials_->marked();
    if (!document_.has_study() || !marked) {
        emit sheet_->told(choose_first());
        return;
    }
    if (!marked->of_study) {
        emit sheet_->told(tr("Only materials of the study can be removed; the others are copied into it when they are used."));
        return;
    }
    const auto refusals = change_study(tr("Remove material"), [&](const Study& study) { return remove_material(study, marked->material.id); });
    if (!refusals.empty()) QMessageBox::information(this, tr("Not removed"), sentence(refusals));
}

}  // namespace wallfoot
