// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>

namespace wallfoot {

/// The PDF with the language of its text (a tag such as "en-GB") and the wish that its title stands in the head of the reader's
/// window, for those who have it read aloud: Qt writes neither. Throws std::runtime_error for what is no PDF.
QByteArray with_language(const QByteArray& pdf, const char* language);

}  // namespace wallfoot
