// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QString>

class QWidget;

namespace wallfoot {

/// The path a file dialog gave, with an ending where it has none. The dialog asked about the name without it: where the
/// whole name stands for a file, it is asked about again; empty when it is to stay.
QString with_ending(QWidget* parent, const QString& path, const QString& ending);

}  // namespace wallfoot
