// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDialog>
#include <atomic>
#include <memory>

#include "core/study/study.hpp"
#include "ui/exchange/background.hpp"

class QLabel;
class QProgressBar;
class QPushButton;

namespace wallfoot {

/// Writes the pack for a checker (solver/report/pack.hpp) of all variants while the window goes on: how far it is, Stop, and
/// at the end where it lies or why there is none. Closing it stops.
class PackDialog : public QDialog {
    Q_OBJECT
  public:
    PackDialog(std::shared_ptr<const Study> study, const QString& path, QWidget* parent = nullptr);
    ~PackDialog() override;

    bool at_work() const { return !work_.idle(); }
    QString told() const;

  private:
    struct Run;
    void finish(const QString& text);

    QLabel* text_ = nullptr;
    QProgressBar* bar_ = nullptr;
    QPushButton* button_ = nullptr;
    std::shared_ptr<Run> run_;
    Background work_;  ///< last: waits for what is under way
};

}  // namespace wallfoot
