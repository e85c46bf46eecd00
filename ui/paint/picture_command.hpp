// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QStringList>

namespace wallfoot {

/// `wallfoot picture FILE --out x.png|svg [--variant ID] [--size WxH] [--no-heat] [--dark]`; `arguments` are those
/// after "picture". Needs a QGuiApplication. Returns the exit status: 0 written, 2 the input is at fault (one line on
/// stderr, nothing written), 3 written but the tolerance was not reached, 1 anything else. An existing picture is
/// replaced only when the new one is whole.
int picture_command(const QStringList& arguments);

}  // namespace wallfoot
