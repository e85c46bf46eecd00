// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <functional>
#include <map>
#include <optional>

#include "core/dwelling/dwelling.hpp"

class QComboBox;
class QDialogButtonBox;
class QFormLayout;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// Another value for a row of the dwelling, to be weighed against the one it has: another variant of its study or a psi from
/// elsewhere, and what it costs. Ok is there once it could stand in the file.
class MeasureDialog : public QDialog {
    Q_OBJECT
  public:
    /// Ids and names of the variants of a study file, as the dwelling names it; empty where it cannot be read.
    using VariantsOf = std::function<std::vector<std::pair<QString, QString>>(const std::string& file)>;
    /// `index`: of the measure to be changed, or none for a new one. The dwelling has at least one row.
    MeasureDialog(const Dwelling& dwelling, std::optional<std::size_t> index, VariantsOf variants_of, QWidget* parent = nullptr);

    DwellingMeasure measure() const;
    QComboBox& row() { return *row_; }
    QComboBox& from() { return *from_; }
    QComboBox& variant() { return *variant_; }
    /// "name", "psi", "source", "cost", "cost.date", "cost.source".
    QLineEdit& field(const QString& name) { return *fields_.at(name); }
    QLabel& problem() { return *problem_; }

  private:
    enum From { study, elsewhere };
    void add_field(const QString& name, const QString& label, const QString& text, const QString& tip = {});
    void row_changed();
    void refresh();
    const Junction& chosen_row() const;

    Dwelling dwelling_;
    std::optional<std::size_t> index_;
    DwellingMeasure begin_;
    VariantsOf variants_of_;
    std::map<QString, QLineEdit*> fields_;
    QComboBox *row_ = nullptr, *from_ = nullptr, *variant_ = nullptr, *basis_ = nullptr;
    QFormLayout* form_ = nullptr;
    QLabel* problem_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
};

}  // namespace wallfoot
