// SPDX-License-Identifier: GPL-3.0-or-later
#include <QDir>
#include <QFileInfo>
#include <QLabel>
#include <QTableWidget>

#include "ui/panels/dwelling_dialog.hpp"
#include "ui/panels/dwelling_table.hpp"
#include "ui/panels/junction_dialog.hpp"
#include "ui/panels/words.hpp"

// Rows of the dwelling: added, typed into, changed and taken out; each is one act.
namespace wallfoot {

std::optional<std::size_t> DwellingDialog::picked() const { return dwelling_row(*table_, table_->currentRow()); }
std::string DwellingDialog::picked_kind() const { return dwelling_row_kind(*table_, table_->currentRow()); }

void DwellingDialog::cell_changed(int row, int column) {
    const QTableWidgetItem* item = table_->item(row, column);
    if (!item || (column != dwelling_where && column != dwelling_length)) return;
    const auto next = with_cell(dwelling(), *table_, row, column, item->text());
    if (next) {
        change(*next);
        return;
    }
    told_->setText(tr("\"%1\" is no length in m. Type a number such as 12.5.").arg(item->text()));
    refresh();
}

void DwellingDialog::add_study() {
    const StudyInWindow beside = beside_();
    if (!beside.study || beside.path.isEmpty()) {
        told_->setText(beside.study ? tr("The study in the window was never saved. Save it first: the row refers to its file.") : tr("There is no study in the window. Open one first."));
        return;
    }
    std::vector<std::pair<QString, QString>> variants;
    for (const Variant& variant : beside.study->variants) variants.emplace_back(words(variant.id), words(variant.name.empty() ? variant.id : variant.name));
    const QString file = path_.isEmpty() ? QFileInfo(beside.path).absoluteFilePath() : QDir(folder()).relativeFilePath(QFileInfo(beside.path).absoluteFilePath());
    const std::string kind = picked_kind();
    JunctionDialog dialog(dwelling(), {}, Junction{new_junction_id(dwelling()), kind.empty() ? "ground-floor-external-wall" : kind, "", {}, FromStudy{file.toStdString(), beside.variant, {}, {}}, {}, {}}, variants, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const Junction made = dialog.junction();
    if (const auto* of = std::get_if<FromStudy>(&made.value)) {
        add_study_row(of->variant, made.kind, made.length, made.name);
        return;
    }
    Dwelling next = dwelling();
    std::erase(next.absent, made.kind);
    next.junctions.push_back(made);
    change(std::move(next));
}

bool DwellingDialog::add_study_row(const std::string& variant, const std::string& kind, std::optional<double> length, const std::string& name) {
    const StudyInWindow beside = beside_();
    if (!beside.study || beside.path.isEmpty()) return false;
    const QString file = path_.isEmpty() ? QFileInfo(beside.path).absoluteFilePath() : QDir(folder()).relativeFilePath(QFileInfo(beside.path).absoluteFilePath());
    Dwelling next = dwelling();
    std::erase(next.absent, kind);
    next.junctions.push_back(Junction{new_junction_id(next), kind, name, length, FromStudy{file.toStdString(), variant, {}, {}}, {}, {}});
    if (!change(std::move(next))) return false;
    update_values();
    if (!beside.saved) told_->setText(tr("The study in the window has changes that are not saved; the row takes its file as it is."));
    return true;
}

void DwellingDialog::add_elsewhere() {
    const std::string kind = picked_kind();
    JunctionDialog dialog(dwelling(), {}, Junction{new_junction_id(dwelling()), kind.empty() ? "lintel" : kind, "", {}, {}, {}, {}}, {}, this);
    if (dialog.exec() != QDialog::Accepted) return;
    Dwelling next = dwelling();
    next.junctions.push_back(dialog.junction());
    std::erase(next.absent, next.junctions.back().kind);
    change(std::move(next));
}

void DwellingDialog::edit_row() {
    const auto row = picked();
    if (!row) return;
    std::vector<std::pair<QString, QString>> variants;
    const Junction before = dwelling().junctions[*row];
    if (const auto* of = std::get_if<FromStudy>(&before.value)) {
        const StudyInWindow beside = beside_();
        const QString here = QDir(folder()).absoluteFilePath(words(of->file));
        if (beside.study && !beside.path.isEmpty() && QFileInfo(here) == QFileInfo(beside.path))
            for (const Variant& variant : beside.study->variants) variants.emplace_back(words(variant.id), words(variant.name.empty() ? variant.id : variant.name));
    }
    JunctionDialog dialog(dwelling(), row, before, variants, this);
    if (dialog.exec() != QDialog::Accepted) return;
    Dwelling next = dwelling();
    Junction entered = dialog.junction();
    keep_newest(entered.value, next.junctions[*row].value);
    next.junctions[*row] = std::move(entered);
    std::erase(next.absent, next.junctions[*row].kind);
    change(std::move(next));
    if (const auto* of = std::get_if<FromStudy>(&dwelling().junctions[*row].value); of && !of->last) update_values();
}

void DwellingDialog::remove_row() {
    const auto row = picked();
    if (!row) return;
    Dwelling next = dwelling();
    const std::string id = next.junctions[*row].id;
    next.junctions.erase(next.junctions.begin() + static_cast<std::ptrdiff_t>(*row));
    std::erase_if(next.measures, [&](const DwellingMeasure& measure) { return measure.junction == id; });
    change(std::move(next));
}

void DwellingDialog::not_there() {
    if (picked() || picked_kind().empty()) return;
    Dwelling next = dwelling();
    next.absent.push_back(picked_kind());
    change(std::move(next));
}

}  // namespace wallfoot
