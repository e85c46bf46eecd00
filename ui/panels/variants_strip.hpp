// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QScrollArea>
#include <map>
#include <memory>
#include <vector>

#include "solver/findings/findings.hpp"

class QHBoxLayout;
class QToolButton;

namespace wallfoot {

/// The variants of the study with their psi and its difference to the first one.
class VariantsStrip : public QScrollArea {
    Q_OBJECT
  public:
    explicit VariantsStrip(QWidget* parent = nullptr);
    /// `findings`: by index of the variant, null where there is no answer yet or none.
    void show_variants(std::shared_ptr<const Study> study, std::size_t active, const std::vector<std::shared_ptr<const Findings>>& findings);
    QStringList texts() const;
    QToolButton& marks_button() { return *marks_; }

  signals:
    void chosen(std::size_t variant);
    void rename_wanted(std::size_t variant);
    void duplicate_wanted();
    void menu_wanted(std::size_t variant, QPoint at);  ///< `at`: on the screen

  protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

  private:
    std::shared_ptr<const Study> study_;
    QHBoxLayout* row_ = nullptr;
    QToolButton *add_ = nullptr, *marks_ = nullptr;
    std::vector<QToolButton*> buttons_;
};

}  // namespace wallfoot
