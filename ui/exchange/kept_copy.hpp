// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDateTime>
#include <QString>
#include <QThreadPool>
#include <memory>
#include <vector>

class QLockFile;

namespace wallfoot {

/// One copy of unsaved work in a folder, so that a crash does not lose it; it is locked as long as this program runs. Written
/// away from the window's thread; where it cannot be written, the work goes on without.
class KeptCopy {
  public:
    /// `folder` is made when it is missing; "" = no copies are kept.
    explicit KeptCopy(const QString& folder);
    ~KeptCopy();  ///< takes the copy away: whoever leaves in good order has asked before

    /// Replaces the copy. `path`: where the work was saved last, or "".
    void keep(const QByteArray& text, const QString& path);
    void drop();
    /// Waits until what was begun is written.
    void finish() { pool_.waitForDone(); }

    struct Left {
        QString copy, path;
        QDateTime written;
    };
    /// Copies of programs that run no more, newest first.
    static std::vector<Left> left_behind(const QString& folder);
    static void forget(const Left& left);

  private:
    QString copy_;  ///< "" = none
    std::unique_ptr<QLockFile> lock_;
    QThreadPool pool_;
};

}  // namespace wallfoot
