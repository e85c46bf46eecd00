// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <string>
#include <utility>
#include <vector>

#include "core/study/study.hpp"

class QComboBox;
class QDialogButtonBox;
class QLabel;
class QTableWidget;

namespace wallfoot {

/// Ties, screws and air gaps that the U of a flanking element is corrected for, beside psi (ISO 6946 annex F).
class CorrectionsDialog : public QDialog {
    Q_OBJECT
  public:
    /// `layers`: ids and names of the pieces that are layers of the element.
    CorrectionsDialog(const QString& element, const ElementCorrections& before, std::vector<std::pair<QString, QString>> layers, QWidget* parent = nullptr);

    /// As entered; sound once the dialog is accepted.
    ElementCorrections corrections() const { return read(nullptr); }
    QTableWidget& table() { return *table_; }
    QComboBox& level() { return *level_; }
    QComboBox& level_layer() { return *level_layer_; }
    QComboBox& layer_of(int row);
    void add_fixings(const ElementFixings& fixings);

  private:
    struct Problem {
        int row = -1, column = -1;
        QString text;
    };
    QComboBox* layer_list(const std::string& chosen);
    ElementCorrections read(std::vector<Problem>* problems) const;
    void refresh();

    ElementCorrections before_;
    std::vector<std::pair<QString, QString>> layers_;
    std::vector<Extra> extras_;  ///< of the fixings, by row
    QTableWidget* table_ = nullptr;
    QComboBox *level_ = nullptr, *level_layer_ = nullptr;
    QLabel* problem_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
    bool filling_ = false;
};

}  // namespace wallfoot
