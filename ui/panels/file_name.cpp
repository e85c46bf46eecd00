// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/file_name.hpp"

#include <QFileInfo>
#include <QMessageBox>

namespace wallfoot {

QString with_ending(QWidget* parent, const QString& path, const QString& ending) {
    if (path.isEmpty() || !QFileInfo(path).suffix().isEmpty()) return path;
    const QString whole = path + ending;
    if (!QFileInfo::exists(whole)) return whole;
    const auto answer = QMessageBox::question(parent, QObject::tr("Replace the file?"), QObject::tr("%1 is there already. Replace it?").arg(QFileInfo(whole).fileName()));
    return answer == QMessageBox::Yes ? whole : QString();
}

}  // namespace wallfoot
