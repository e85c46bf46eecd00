// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

#include "solver/findings/surface_profile.hpp"

class QChart;
class QComboBox;
class QLabel;

namespace wallfoot {

/// Temperature and humidity along the inside surface, as a curve and as a table to copy. Shows one set of findings; a later
/// edit does not reach it.
class ProfileDialog : public QDialog {
    Q_OBJECT
  public:
    ProfileDialog(std::shared_ptr<const Study> study, std::shared_ptr<const Findings> findings, QWidget* parent = nullptr);
    QComboBox& space() { return *space_; }
    const SurfaceProfile& profile() const { return profile_; }

  private:
    void show_profile();

    std::shared_ptr<const Study> study_;
    std::shared_ptr<const Findings> findings_;
    SurfaceProfile profile_;
    QComboBox* space_ = nullptr;
    QChart* chart_ = nullptr;
    QLabel* told_ = nullptr;
};

}  // namespace wallfoot
