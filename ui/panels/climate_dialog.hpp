// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <optional>

#include "core/study/study.hpp"

class QComboBox;
class QDialogButtonBox;
class QDoubleSpinBox;
class QLabel;
class QLineEdit;
class QTableWidget;

namespace wallfoot {

/// The convention that the study is worked out by, and the months and the air inside that its surfaces are checked in.
class ClimateDialog : public QDialog {
    Q_OBJECT
  public:
    explicit ClimateDialog(const Study& study, QWidget* parent = nullptr);

    /// The study with what was entered. Throws InputFault.
    Study applied(const Study& study) const;
    /// Fills the months from text such as a spreadsheet copies; what is wrong is shown.
    void take_text(const QString& text);

  private:
    QWidget* convention_box(const Study& study);
    QWidget* months_box();
    QLayout* indoor_row();
    void take_file();
    void show_months(const std::vector<ClimateMonth>& months);
    void refresh();
    void show_problem(const QString& problem);
    /// What the table holds, none when it is empty; `problem` says what is wrong.
    std::vector<ClimateMonth> months(QString* problem = nullptr) const;
    std::optional<IndoorAir> indoor() const;

    std::vector<Convention> conventions_;
    Climate before_;
    QComboBox* convention_ = nullptr;
    QLabel *about_ = nullptr, *most_ = nullptr, *problem_ = nullptr;
    QLineEdit *name_ = nullptr, *source_ = nullptr, *zone_ = nullptr;
    QTableWidget* table_ = nullptr;
    QComboBox* indoor_ = nullptr;
    QDoubleSpinBox *humidity_ = nullptr, *margin_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
    bool filling_ = false;
};

}  // namespace wallfoot
