// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>

class QLineEdit;
class QPlainTextEdit;

namespace wallfoot {

/// Name of a variant and what is noted of it.
class DescribeDialog : public QDialog {
    Q_OBJECT
  public:
    DescribeDialog(const QString& name, const QString& note, QWidget* parent = nullptr);
    QString name() const;
    QString note() const;

  private:
    QLineEdit* name_ = nullptr;
    QPlainTextEdit* note_ = nullptr;
};

}  // namespace wallfoot
