// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/report_batch.hpp"

#include <QDir>
#include <QDirIterator>
#include <QFile>
#include <QFileInfo>
#include <QTemporaryFile>
#include <set>
#include <stdexcept>

#include "core/file/study_file.hpp"
#include "core/file/whole_file.hpp"
#include "solver/report/short_answer.hpp"
#include "ui/report/letterhead.hpp"
#include "ui/report/report_command.hpp"

namespace wallfoot {

namespace {

InputFault batch_fault(const std::string& code, const QString& what) { return InputFault(Message{Severity::fault, code, {{"what", what.toStdString()}}, {}, {}}); }

/// The folder is made where it is missing, and a file in it is tried.
void need_folder(const QString& folder) {
    if (!QDir().mkpath(folder)) throw batch_fault("batch-no-folder", folder);
    QTemporaryFile trial(QDir(folder).filePath(QStringLiteral(".trial-XXXXXX")));
    if (!trial.open()) throw batch_fault("batch-no-folder", folder);
}

/// A name that no other study of the batch has, whatever the case of letters; "index" is the page's own.
QString own_name(const QString& file, std::set<QString>& taken) {
    const QString base = QFileInfo(file).completeBaseName();
    QString name = base;
    for (int number = 2; !taken.insert(name.toLower()).second; ++number) name = QStringLiteral("%1-%2").arg(base).arg(number);
    return name;
}

void report_on(BatchRow& row, const QString& file, const QString& name, const ReportBatch& batch, const Context& context) {
    const ReportedStudy study = reported_study(file, batch.wish, context);
    tell_answers(row, *study.source);
    for (const QString& ending : batch.endings) {
        context.check();
        const QString own = name + QLatin1Char('.') + ending, path = QDir(batch.folder).filePath(own);
        for (const QString& other : batch.files)
            if (is_same_file(path, other)) throw batch_fault("report-over-study", path);
        write_report_whole(path, rendered_report(path, study.source, study.bytes, batch.wish.a3, batch.wish.brief));
        row.made.push_back(own.toStdString());
    }
}

}  // namespace

ReportedStudy reported_study(const QString& file, const ReportWish& wish, const Context& context) {
    ReportedStudy reported;
    QFile read(file);
    if (read.open(QIODevice::ReadOnly)) reported.bytes = read.readAll();
    auto loaded = load_study(file.toStdString());
    reported.warnings = std::move(loaded.warnings);
    FindingsOptions options;
    options.criteria = !wish.brief;
    options.floor_widths = true;
    reported.source = std::make_shared<ReportSource>(report_source(std::make_shared<const Study>(std::move(loaded.study)), QFileInfo(file).fileName().toStdString(), wish.date.toStdString(), wish.variants, options, context));
    reported.source->office = wish.office;
    if (wish.brief) add_slopes(*reported.source, context);
    else if (wish.errors) add_usual_errors(*reported.source, context);
    return reported;
}

void write_report_whole(const QString& path, const QByteArray& report) { save_whole(report.toStdString(), path.toStdString(), "report"); }

bool is_same_file(const QString& a, const QString& b) { return QFileInfo::exists(a) && QFileInfo(a).canonicalFilePath() == QFileInfo(b).canonicalFilePath(); }

QStringList studies_named(const QStringList& files_and_folders) {
    QStringList all;
    std::set<QString> seen;
    const auto add = [&](const QString& file) {
        const QString whole = QFileInfo(file).canonicalFilePath();
        if (seen.insert(whole.isEmpty() ? file : whole).second) all << file;
    };
    for (const QString& named : files_and_folders) {
        if (!QFileInfo(named).isDir()) {
            add(named);
            continue;
        }
        QStringList below;
        for (QDirIterator each(named, {QStringLiteral("*.wallfoot")}, QDir::Files | QDir::Readable, QDirIterator::Subdirectories); each.hasNext();) below << each.next();
        below.sort();
        for (const QString& file : below) add(file);
    }
    if (all.isEmpty()) throw batch_fault("batch-no-study", files_and_folders.join(QStringLiteral(", ")));
    return all;
}

std::vector<BatchRow> make_reports(const ReportBatch& batch, const std::function<void(std::size_t done, const BatchRow& row)>& told, const Context& context) {
    need_folder(batch.folder);
    if (batch.wish.office) need_sound_logo(*batch.wish.office);
    std::set<QString> taken{QStringLiteral("index")};
    std::vector<BatchRow> rows;
    for (const QString& file : batch.files) {
        BatchRow row;
        row.file = file.toStdString();
        const QString name = own_name(file, taken);
        try {
            context.check();
            report_on(row, file, name, batch, context);
        } catch (const Cancelled&) {
            row.failed = english(Message{Severity::note, "batch-stopped", {}, {}, {}});
        } catch (const InputFault& fault) {
            row.failed = one_line(fault.faults().front(), "");
            if (row.failed.starts_with("/: ")) row.failed.erase(0, 3);  // of the file as a whole
        } catch (const std::exception& error) {
            row.failed = error.what();
        }
        rows.push_back(row);
        if (told) told(rows.size() - 1, row);
    }
    write_report_whole(QDir(batch.folder).filePath(QStringLiteral("index.html")), QByteArray::fromStdString(batch_index_html(rows, batch.wish.date.toStdString(), batch.wish.office.get())));
    return rows;
}

}  // namespace wallfoot
