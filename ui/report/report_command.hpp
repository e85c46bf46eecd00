// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>
#include <QStringList>
#include <memory>
#include <vector>

#include "core/context/context.hpp"

namespace wallfoot {

struct Message;
struct ReportSource;

/// `wallfoot report FILE --out x.pdf|html|csv|json|txt` or, for many, `wallfoot report FOLDER|FILE… --out-dir DIR [--as pdf,html]`, with
/// `[--short] [--no-errors] [--template FILE] [--variant ID]… [--paper A4|A3] [--date YYYY-MM-DD]`; `arguments` are those after "report". Needs
/// a QGuiApplication. Exit status as of the other commands: 0 written, 2 the input is at fault (one line on stderr, nothing
/// written), 3 written but the tolerance was not reached, 1 anything else, or one of many failed. An existing report is replaced only
/// when the new one is whole.
int report_command(const QStringList& arguments);

/// Whether a report can be written to a file of this name.
bool is_report_ending(const QString& path);

/// A rendering of the report, or of the answer on one page (`brief`), by the ending of `path`; `study` is what a PDF carries. Throws InputFault "report-no-out" for
/// any other ending; Cancelled. `notes`: what of the report had no room, and why.
QByteArray rendered_report(const QString& path, const std::shared_ptr<const ReportSource>& source, const QByteArray& study, bool a3,
                           bool brief = false, std::vector<Message>* notes = nullptr, const Context& context = {});

}  // namespace wallfoot
