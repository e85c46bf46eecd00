// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <vector>

#include "core/study/study.hpp"

class QComboBox;
class QDialogButtonBox;
class QLabel;
class QLineEdit;

namespace wallfoot {

/// What is known of the site, each with its source, and which rules are asked.
class SiteDialog : public QDialog {
    Q_OBJECT
  public:
    explicit SiteDialog(const Study& study, QWidget* parent = nullptr);

    /// The study with what was entered; the rules chosen go into it. Throws InputFault.
    Study applied(const Study& study) const;

  private:
    struct Row {
        std::string key;
        QComboBox* choice = nullptr;  ///< null for a number
        QLineEdit* number = nullptr;
        QLineEdit* source = nullptr;
    };
    std::optional<std::string> value(const Row& row) const;
    void refresh();

    std::vector<Row> rows_;
    std::optional<std::string> carried_;  ///< id of the rules the study carries
    QComboBox* rules_ = nullptr;
    QLabel* problem_ = nullptr;
    QDialogButtonBox* buttons_ = nullptr;
};

}  // namespace wallfoot
