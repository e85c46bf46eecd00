// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

#include "core/study/space_balance.hpp"
#include "core/study/study.hpp"

class QDialogButtonBox;
class QLabel;
class QLineEdit;
class QTableWidget;

namespace wallfoot {

/// What settles the temperature of an unheated space: the length of the junction, and what the space exchanges elsewhere.
class BalanceDialog : public QDialog {
    Q_OBJECT
  public:
    BalanceDialog(const Section& section, const std::string& space_id, QWidget* parent = nullptr);

    /// What was entered; whole and sound when the dialog was accepted.
    SpaceBalance balance() const { return entered_; }
    QLineEdit* length() const { return length_; }
    QTableWidget* table() const { return table_; }
    void add_loss(const BalanceLoss& loss);

  private:
    void refresh();
    void label_numbers(int row);

    const Section& section_;
    std::string space_id_;
    SpaceBalance entered_;
    QLineEdit *length_ = nullptr, *gains_ = nullptr;
    QTableWidget* table_ = nullptr;
    QLabel* problem_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
    bool filling_ = false;
};

}  // namespace wallfoot
