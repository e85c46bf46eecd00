// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/kept_copy.hpp"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QLockFile>
#include <QSaveFile>
#include <QUuid>

namespace wallfoot {

namespace {

QString path_file(const QString& copy) { return copy + QStringLiteral(".path"); }
QString lock_file(const QString& copy) { return copy + QStringLiteral(".lock"); }

void write_whole(const QString& name, const QByteArray& text) {
    QSaveFile file(name);
    if (file.open(QIODevice::WriteOnly) && file.write(text) == text.size()) file.commit();
}

void remove_copy(const QString& copy) {
    QFile::remove(copy);
    QFile::remove(path_file(copy));
}

}  // namespace

KeptCopy::KeptCopy(const QString& folder) {
    pool_.setMaxThreadCount(1);
    if (folder.isEmpty() || !QDir().mkpath(folder)) return;
    const QString copy = QDir(folder).filePath(QUuid::createUuid().toString(QUuid::WithoutBraces) + QStringLiteral(".copy"));
    lock_ = std::make_unique<QLockFile>(lock_file(copy));
    lock_->setStaleLockTime(0);  // as long as the program runs
    if (lock_->tryLock(0)) copy_ = copy;
}

KeptCopy::~KeptCopy() {
    drop();
    finish();
}

void KeptCopy::keep(const QByteArray& text, const QString& path) {
    if (copy_.isEmpty()) return;
    pool_.clear();
    pool_.start([copy = copy_, text, path] {
        write_whole(path_file(copy), path.toUtf8());
        write_whole(copy, text);
    });
}

void KeptCopy::drop() {
    if (copy_.isEmpty()) return;
    pool_.clear();
    pool_.start([copy = copy_] { remove_copy(copy); });
}

std::vector<KeptCopy::Left> KeptCopy::left_behind(const QString& folder) {
    std::vector<Left> all;
    if (folder.isEmpty()) return all;
    for (const QFileInfo& found : QDir(folder).entryInfoList({QStringLiteral("*.copy")}, QDir::Files, QDir::Time)) {
        QLockFile lock(lock_file(found.filePath()));
        lock.setStaleLockTime(0);
        if (!lock.tryLock(0)) continue;
        QFile path(path_file(found.filePath()));
        all.push_back({found.filePath(), path.open(QIODevice::ReadOnly) ? QString::fromUtf8(path.readAll()) : QString(), found.lastModified()});
    }
    return all;
}

void KeptCopy::forget(const Left& left) {
    remove_copy(left.copy);
    QFile::remove(lock_file(left.copy));
}

}  // namespace wallfoot
