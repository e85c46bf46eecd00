// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <optional>

#include "core/dwelling/dwelling.hpp"

class QComboBox;
class QDialogButtonBox;
class QFormLayout;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// One row of a dwelling: its kind, place and length, where its value is from, and the U that the calculation uses for
/// its flanking elements. Ok is there once the row could stand in the file.
class JunctionDialog : public QDialog {
    Q_OBJECT
  public:
    /// `row`: index of the row to be changed, or none for a new one. `variants`: ids and names to choose from for a study.
    JunctionDialog(const Dwelling& dwelling, std::optional<std::size_t> row, const Junction& begin, const std::vector<std::pair<QString, QString>>& variants, QWidget* parent = nullptr);

    Junction junction() const;
    QComboBox& kind() { return *kind_; }
    QComboBox& from() { return *from_; }
    QComboBox& variant() { return *variant_; }
    /// The fields by name: "name", "length", "psi", "lower", "upper", "chi", "count", "source".
    QLineEdit& field(const QString& name) { return *fields_.at(name); }
    QLabel& problem() { return *problem_; }

  private:
    enum From { study, elsewhere, point, nothing };
    QLineEdit* add_field(QFormLayout& form, const QString& name, const QString& label, const QString& text);
    void refresh();

    Dwelling dwelling_;
    std::optional<std::size_t> row_;
    Junction begin_;
    std::map<QString, QLineEdit*> fields_;
    QComboBox *kind_ = nullptr, *from_ = nullptr, *variant_ = nullptr, *basis_ = nullptr;
    std::vector<std::pair<std::string, QComboBox*>> used_;  ///< element, and what the calculation uses for it
    QLabel *file_ = nullptr, *problem_ = nullptr;
    QFormLayout* form_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
};

}  // namespace wallfoot
