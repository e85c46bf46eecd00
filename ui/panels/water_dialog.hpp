// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <array>

#include "core/study/study.hpp"

class QComboBox;
class QDialogButtonBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// What is stated of the water at a section: soil, rain, foot of the cavity, water that stands, and its level.
class WaterDialog : public QDialog {
    Q_OBJECT
  public:
    explicit WaterDialog(const Section& section, QWidget* parent = nullptr);

    /// As entered; sound once the dialog is accepted.
    Water water() const;

  private:
    void refresh();

    Water before_;
    std::optional<Micrometres> ground_;         ///< the highest one
    std::array<QComboBox*, 4> choices_ = {};    ///< soil, rain, cavity foot, standing
    QLineEdit* level_ = nullptr;
    QLabel* problem_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
};

}  // namespace wallfoot
