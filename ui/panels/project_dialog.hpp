// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <vector>

#include "core/study/study.hpp"

class QLineEdit;
class QPlainTextEdit;

namespace wallfoot {

/// What the head of the report says: the question, the project, who worked it out, who asked.
class ProjectDialog : public QDialog {
    Q_OBJECT
  public:
    explicit ProjectDialog(const Study& study, QWidget* parent = nullptr);
    /// The study with what was entered; a project of empty fields is none.
    Study applied(const Study& study) const;

  private:
    std::vector<std::pair<std::string Project::*, QLineEdit*>> fields_;
    QLineEdit* title_ = nullptr;
    QPlainTextEdit* question_ = nullptr;
};

}  // namespace wallfoot
