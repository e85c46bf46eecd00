// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

class QKeySequenceEdit;
class QLabel;
class QLineEdit;
class QPushButton;
class QTableWidget;

namespace wallfoot {

/// Every command with its key and what it does: found by words, done by Enter, given another key.
class CommandsDialog : public QDialog {
    Q_OBJECT
  public:
    explicit CommandsDialog(QWidget* parent = nullptr);
    /// Id of the command to be done when the dialog was accepted.
    QString chosen() const;

  signals:
    void keys_changed();

  protected:
    bool eventFilter(QObject*, QEvent*) override;

  private:
    void fill();
    void find();
    void take_key();
    void show_marked();
    int marked() const;

    QLineEdit* search_;
    QTableWidget* table_;
    QKeySequenceEdit* key_;
    QPushButton* take_;
    QPushButton* do_;
    QLabel* told_;
};

}  // namespace wallfoot
