// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QWidget>
#include <memory>

#include "ui/exchange/background.hpp"
#include "ui/teach/lesson_files.hpp"

class QLabel;
class QProgressBar;
class QPushButton;

namespace wallfoot {

/// Makes what is handed out, on a thread of its own, with progress and a way to stop. A file comes into being, or takes the
/// place of another, only when it is whole.
class HandOut : public QWidget {
    Q_OBJECT
  public:
    explicit HandOut(QWidget* parent = nullptr);
    /// Stops what is under way.
    ~HandOut() override;

    /// `what`: html | pdf-a4 | pdf-a3 | png | svg; `step` counts from 0. Nothing while one is under way.
    void make(LessonSource source, const QString& what, std::size_t step, const QString& path);
    void stop();
    bool busy() const { return context_ != nullptr; }

  signals:
    void made(const QString& path);
    void stopped(const QString& path);
    void failed(const QString& path, const QString& why);
    void busy_changed(bool busy);

  private:
    void show_progress(int done, int of);

    std::shared_ptr<Context> context_;  ///< of what is under way
    QLabel* says_;
    QProgressBar* bar_;
    QPushButton* stop_;
    Background making_;  ///< last: its work ends first
};

}  // namespace wallfoot
