// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <vector>

class QDialogButtonBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// Asks for some numbers: lengths in mm, or plain ones (a count, an angle).
class NumbersDialog : public QDialog {
    Q_OBJECT
  public:
    struct Field {
        QString label, first;
        bool length = true;
    };
    NumbersDialog(const QString& title, const QString& about, const std::vector<Field>& fields, QWidget* parent);
    /// Of each field in order; all can be understood once the dialog is accepted.
    std::vector<double> values() const;

  private:
    void refresh();
    std::vector<Field> fields_;
    std::vector<QLineEdit*> edits_;
    QLabel* problem_;
    QDialogButtonBox* buttons_;
};

}  // namespace wallfoot
