// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>
#include <memory>
#include <string>

#include "core/study/study.hpp"
#include "solver/findings/findings.hpp"

namespace wallfoot {

/// One variant as it stands: its findings at rest, or why there are none.
struct Compared {
    std::string id, name;
    std::shared_ptr<const Section> section;
    std::shared_ptr<const Findings> findings;  ///< at rest and sound; null: see `why`
    QString why;
    std::shared_ptr<const Study> study;        ///< the one it belongs to
    QString file;                              ///< of another study; "" = the study in the window

    /// Its name, with that of its file where it is of another study.
    QString shown() const {
        const QString own = QString::fromStdString(name);
        return file.isEmpty() ? own : file + QStringLiteral(": ") + own;
    }
    /// Tells it from all others that are shown.
    QString key() const { return file + QLatin1Char('\n') + QString::fromStdString(id); }
};

}  // namespace wallfoot
