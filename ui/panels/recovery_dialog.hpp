// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <vector>

#include "ui/window/recovery.hpp"

class QListWidget;

namespace wallfoot {

/// Offers what was not saved before the program ended, each with a picture, its name and when the copy was written.
class RecoveryDialog : public QDialog {
    Q_OBJECT
  public:
    enum Choice { later = QDialog::Rejected, open = QDialog::Accepted, discard = 2 };

    explicit RecoveryDialog(const std::vector<Recovery::LeftBehind>& left, QWidget* parent = nullptr);
    /// Index of the marked one; -1 where none is.
    int marked() const;

  private:
    QListWidget* list_;
};

}  // namespace wallfoot
