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
    void show_variants(const Study& study, std::size_t active, const std::vector<std::shared_ptr<const Findings>>& findings);
    QStringList texts() const;

  signals:
    void chosen(std::size_t variant);
    void rename_wanted(std::size_t variant);
    void duplicate_wanted();

  protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

  private:
    QHBoxLayout* row_ = nullptr;
    QToolButton* add_ = nullptr;
    std::vector<QToolButton*> buttons_;
};

}  // namespace wallfoot
