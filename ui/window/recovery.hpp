// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QDateTime>
#include <QObject>
#include <QString>
#include <functional>
#include <memory>
#include <vector>

#include "ui/exchange/background.hpp"

class QLockFile;
class QTimer;

namespace wallfoot {

class Document;

/// Copies of the open study's unsaved changes, written a few seconds after an act, so that a crash costs seconds. A folder
/// per running program, with a lock that says whether that program still runs; the last three copies are kept. Saving or
/// leaving the study takes them away.
class Recovery : public QObject {
    Q_OBJECT
  public:
    /// `folder`: where the folders of all running programs are; made when it is missing. When it cannot be written the
    /// program goes on without copies and `trouble` says why.
    Recovery(Document& document, const QString& folder, QObject* parent = nullptr);
    ~Recovery() override;

    /// What a program that is gone has left.
    struct LeftBehind {
        QString folder;      ///< its own
        QStringList copies;  ///< study files, newest first
        QString study_path;  ///< where the study was saved last; empty = never
        QDateTime written;   ///< of the newest copy
    };
    std::vector<LeftBehind> left_behind() const;
    static void forget(const LeftBehind& left);

    /// Writes a copy now if there are unsaved changes, away from the window's thread; `kept` is called when it is there.
    void keep_now(std::function<void()> kept = {});
    /// No copy is being written.
    bool idle() const { return background_->idle(); }
    QString trouble() const { return trouble_; }

  signals:
    void troubled(const QString& why);  ///< no copies are kept, from now on

  private:
    void drop_copies();
    void written(bool whole, const std::function<void()>& kept);
    void tell_trouble(const QString& why);

    Document& document_;
    QString all_, own_, trouble_;
    std::unique_ptr<QLockFile> lock_;
    QTimer* soon_;
    int number_ = 0, dropped_ = 0;  ///< of the newest copy, and of the newest that is of no use any more
    std::unique_ptr<Background> background_;
};

/// Where the copies are kept on this system.
QString recovery_folder();

/// Takes the lock of a study file, so that two windows do not overwrite each other's work. Null and `holder` (in words)
/// when another program has it; null and an empty holder where no lock can be made, as in a folder that cannot be written.
std::unique_ptr<QLockFile> lock_study(const QString& path, QString* holder);

}  // namespace wallfoot
