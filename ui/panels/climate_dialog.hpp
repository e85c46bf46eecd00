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
class QStackedWidget;
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
    /// Whether the year is stated by twelve months (0) or as one wave (1).
    QComboBox& stated_by() { return *stated_by_; }

  private:
    QWidget* convention_box(const Study& study);
    QWidget* months_box();
    QLayout* indoor_row();
    QWidget* months_page();
    QWidget* year_page();
    void zones_of_convention();
    void take_file();
    void show_months(const std::vector<ClimateMonth>& months);
    void refresh();
    void show_problem(const QString& problem);
    /// What the table holds, none when it is empty; `problem` says what is wrong.
    std::vector<ClimateMonth> months(QString* problem = nullptr) const;
    std::optional<IndoorAir> indoor() const;
    /// The wave, none when its fields are empty or months are stated; `problem` as above, and beside the field.
    std::optional<YearWave> year(QString* problem = nullptr) const;

    std::vector<Convention> conventions_;
    Climate before_;
    QComboBox* convention_ = nullptr;
    QLabel *about_ = nullptr, *most_ = nullptr, *problem_ = nullptr;
    QLineEdit *name_ = nullptr, *source_ = nullptr;
    QComboBox *zone_ = nullptr, *share_ = nullptr, *stated_by_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    struct YearField {
        QLineEdit* field = nullptr;
        QLabel* fault = nullptr;
        double least = 0, most = 0;
        QString shown = {};   ///< as it was filled in; left so it keeps all digits of `exact`
        double exact = 0;
    };
    YearField wave_[4];       ///< mean, swing, coldest month, swing inside
    QTableWidget* table_ = nullptr;
    QComboBox* indoor_ = nullptr;
    QDoubleSpinBox *humidity_ = nullptr, *margin_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
    bool filling_ = false;
};

}  // namespace wallfoot
