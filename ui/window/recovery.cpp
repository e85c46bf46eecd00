// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/window/recovery.hpp"

#include <QCoreApplication>
#include <QDir>
#include <QFileInfo>
#include <QLockFile>
#include <QSaveFile>
#include <QStandardPaths>
#include <QTimer>
#include <QUuid>

#include "core/file/study_file.hpp"
#include "ui/window/document.hpp"

namespace wallfoot {

namespace {

constexpr int wait_ms = 3000;   // after the last act
constexpr int most_copies = 3;  // a copy cut short by the crash itself still leaves the one before

const QString lock_name = QStringLiteral("running");
const QString path_name = QStringLiteral("saved-as.txt");
const QString copies = QStringLiteral("*.wallfoot");

/// Newest first: the numbers in their names grow.
QFileInfoList copies_in(const QString& folder) {
    return QDir(folder).entryInfoList({copies}, QDir::Files, QDir::Name | QDir::Reversed);
}

bool write_whole(const QString& path, const QByteArray& bytes) {
    QSaveFile file(path);
    return file.open(QIODevice::WriteOnly) && file.write(bytes) == bytes.size() && file.commit();
}

/// A lock that holds as long as its program runs, however long that is.
std::unique_ptr<QLockFile> endless_lock(const QString& path) {
    auto lock = std::make_unique<QLockFile>(path);
    lock->setStaleLockTime(0);
    return lock;
}

}  // namespace

QString recovery_folder() {
    return QStandardPaths::writableLocation(QStandardPaths::AppLocalDataLocation) + QStringLiteral("/unsaved");
}

Recovery::Recovery(Document& document, const QString& folder, QObject* parent)
    : QObject(parent), document_(document), all_(folder), own_(folder + QLatin1Char('/') + QUuid::createUuid().toString(QUuid::WithoutBraces)),
      soon_(new QTimer(this)), background_(std::make_unique<Background>()) {
    soon_->setSingleShot(true);
    soon_->setInterval(wait_ms);
    connect(soon_, &QTimer::timeout, this, [this] { keep_now(); });
    lock_ = endless_lock(own_ + QLatin1Char('/') + lock_name);
    if (!QDir().mkpath(own_) || !lock_->tryLock(0)) {
        trouble_ = tr("No copies of unsaved changes can be kept in %1. Save often.").arg(own_);
        return;
    }
    const auto follow = [this] {
        if (document_.is_clean()) drop_copies();
        else if (document_.has_study() && !soon_->isActive()) soon_->start();
    };
    connect(&document_.undo_stack(), &QUndoStack::indexChanged, this, follow);
    connect(&document_, &Document::path_changed, this, follow);
}

Recovery::~Recovery() {
    background_.reset();  // what is being written is written
    // Whoever closes the window was asked about unsaved changes.
    lock_->unlock();
    QDir(own_).removeRecursively();
}

void Recovery::drop_copies() {
    soon_->stop();
    dropped_ = number_;
    for (const auto& copy : copies_in(own_)) QFile::remove(copy.filePath());
}

void Recovery::tell_trouble(const QString& why) {
    if (trouble_ == why) return;
    trouble_ = why;
    emit troubled(why);
}

void Recovery::keep_now(std::function<void()> kept) {
    if (!trouble_.isEmpty() && !lock_->isLocked()) return;
    if (!document_.has_study() || document_.is_clean()) return;
    const QString path = document_.path().isEmpty() ? QString() : QFileInfo(document_.path()).absoluteFilePath();
    const QString copy = QStringLiteral("%1/%2.wallfoot").arg(own_).arg(++number_, 8, 10, QLatin1Char('0'));
    background_->run([this, study = document_.study(), path, copy, path_file = own_ + QLatin1Char('/') + path_name, number = number_, kept = std::move(kept)]() -> Background::Done {
        bool whole = false;
        try {
            whole = write_whole(path_file, path.toUtf8()) && write_whole(copy, QByteArray::fromStdString(write_study(*study)));
        } catch (const std::exception&) {
            // Told below as a copy that could not be written.
        }
        return [this, copy, number, whole, kept] {
            // Saved, taken back or left while it was being written: it is no copy of unsaved changes any more.
            if (number > dropped_) return written(whole, kept);
            QFile::remove(copy);
            if (kept) kept();
        };
    });
}

void Recovery::written(bool whole, const std::function<void()>& kept) {
    if (!whole) return tell_trouble(tr("No copy of the unsaved changes could be written to %1. Save often.").arg(own_));
    trouble_.clear();
    const auto all = copies_in(own_);
    for (qsizetype i = most_copies; i < all.size(); ++i) QFile::remove(all[i].filePath());
    if (kept) kept();
}

std::vector<Recovery::LeftBehind> Recovery::left_behind() const {
    std::vector<LeftBehind> found;
    for (const auto& entry : QDir(all_).entryInfoList(QDir::Dirs | QDir::NoDotAndDotDot, QDir::Time)) {
        if (entry.filePath() == own_) continue;
        const auto lock = endless_lock(entry.filePath() + QLatin1Char('/') + lock_name);
        if (!lock->tryLock(0)) continue;  // still runs
        lock->unlock();
        const auto all = copies_in(entry.filePath());
        if (all.isEmpty()) {
            QDir(entry.filePath()).removeRecursively();
            continue;
        }
        QFile path(entry.filePath() + QLatin1Char('/') + path_name);
        const QString saved_as = path.open(QIODevice::ReadOnly) ? QString::fromUtf8(path.readAll()) : QString();
        QStringList copies;
        for (const auto& copy : all) copies << copy.filePath();
        found.push_back({entry.filePath(), copies, saved_as, all.first().lastModified()});
    }
    return found;
}

void Recovery::forget(const LeftBehind& left) { QDir(left.folder).removeRecursively(); }

std::unique_ptr<QLockFile> lock_study(const QString& path, QString* holder) {
    holder->clear();
    const QFileInfo info(QFileInfo::exists(path) ? QFileInfo(path).canonicalFilePath() : path);  // a link means its file
    auto lock = endless_lock(QStringLiteral("%1/.%2.lock").arg(info.absolutePath(), info.fileName()));
    if (lock->tryLock(0)) return lock;
    if (lock->error() != QLockFile::LockFailedError) return nullptr;
    qint64 process = 0;
    QString host, program;
    *holder = lock->getLockInfo(&process, &host, &program) ? QCoreApplication::translate("lock_study", "process %1 on %2").arg(process).arg(host)
                                                            : QCoreApplication::translate("lock_study", "another program");
    *holder += QCoreApplication::translate("lock_study", ", by the lock %1").arg(QStringLiteral(".%1.lock").arg(info.fileName()));
    return nullptr;
}

}  // namespace wallfoot
