// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>
#include <QStringList>
#include <functional>
#include <memory>

#include "core/context/context.hpp"
#include "solver/report/batch_index.hpp"

namespace wallfoot {

/// How a report is wanted.
struct ReportWish {
    QString date;                     ///< as it is to be printed, ISO 8601
    std::vector<std::string> variants;  ///< ids or names; empty = all
    bool a3 = false, brief = false;
    bool errors = true;               ///< the usual errors stand in it as well; never in a short answer
    std::shared_ptr<const OfficeTemplate> office;
};

/// A study read for its report, worked out as far as `wish` needs.
struct ReportedStudy {
    std::shared_ptr<ReportSource> source;
    QByteArray bytes;                 ///< of the file as it was on the disk: what a PDF carries
    std::vector<Message> warnings;
};

/// Throws InputFault; Cancelled.
ReportedStudy reported_study(const QString& file, const ReportWish& wish, const Context& context = {});
/// Writes beside `path` and renames when whole: an earlier file stays as it is on any error. Throws std::runtime_error.
void write_report_whole(const QString& path, const QByteArray& report);
bool is_same_file(const QString& a, const QString& b);

struct ReportBatch {
    QStringList files;       ///< studies, in order
    QString folder;          ///< where the reports and index.html go
    QStringList endings;     ///< such as "pdf", "html"
    ReportWish wish;
};

/// The studies (*.wallfoot) below folders, sorted, and files as they are; each once. Throws InputFault "batch-no-study" where none is found.
QStringList studies_named(const QStringList& files_and_folders);

/// Reports on each study in turn. What fails is told in its row and the others go on; index.html is written at the end, also after a
/// stop. A file that is there already is replaced only where it is a report (or the index) of this program. `told` hears of each row once
/// it is done, with how many there are before it. Throws InputFault, before anything is worked out, for a folder that cannot be written
/// to or an index.html that is none of ours; std::runtime_error where the index cannot be written.
std::vector<BatchRow> make_reports(const ReportBatch& batch, const std::function<void(std::size_t done, const BatchRow& row)>& told, const Context& context = {});

}  // namespace wallfoot
