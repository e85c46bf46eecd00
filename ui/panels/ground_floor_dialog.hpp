// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

#include "core/file/quantities.hpp"

class QDialogButtonBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// The ground floor of the whole building: its area and exposed perimeter, and how wide the section takes it to be.
class GroundFloorDialog : public QDialog {
    Q_OBJECT
  public:
    explicit GroundFloorDialog(const Study& study, QWidget* parent = nullptr);

    /// The study with what was entered; sound once the dialog is accepted.
    Study applied(const Study& study) const;
    QLineEdit& area() { return *area_; }
    QLineEdit& perimeter() { return *perimeter_; }
    QLineEdit& width() { return *width_; }

  private:
    void refresh();
    QLineEdit *area_ = nullptr, *perimeter_ = nullptr, *width_ = nullptr;
    QLabel *own_ = nullptr, *faults_[3] = {};
    QDialogButtonBox* buttons_ = nullptr;
};

}  // namespace wallfoot
