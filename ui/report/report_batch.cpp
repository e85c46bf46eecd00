// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/report_batch.hpp"

#include <QDir>
#include <QDirIterator>
#include <QFile>
#include <QFileInfo>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>
#include <QRegularExpression>
#include <QTemporaryFile>
#include <map>
#include <set>
#include <stdexcept>

#include "core/file/study_file.hpp"
#include "core/file/whole_file.hpp"
#include "solver/report/short_answer.hpp"
#include "ui/exchange/pdf_file.hpp"
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

/// Names of the reports of studies, in their order: the base name; where several have the same, whatever the case of letters, with the
/// folders below the one that holds all. "index" is the page's own.
QStringList own_names(const QStringList& files) {
    if (files.isEmpty()) return {};
    const auto folder_of = [](const QString& file) { return QFileInfo(file).absolutePath(); };
    const auto below = [](const QString& folder, const QString& top) { return folder == top || folder.startsWith(top.endsWith(QLatin1Char('/')) ? top : top + QLatin1Char('/')); };
    QString top = folder_of(files.front());
    std::map<QString, int> bases{{QStringLiteral("index"), 1}};
    for (const QString& file : files) {
        while (!below(folder_of(file), top)) top = QFileInfo(top).path();
        ++bases[QFileInfo(file).completeBaseName().toLower()];
    }
    std::set<QString> taken{QStringLiteral("index")};
    QStringList names;
    for (const QString& file : files) {
        const QString base = QFileInfo(file).completeBaseName();
        const bool alone = bases[base.toLower()] == 1;
        names << (alone ? base : QString());
        if (alone) taken.insert(base.toLower());
    }
    for (qsizetype i = 0; i < names.size(); ++i) {
        if (!names[i].isEmpty()) continue;
        const QString path = QDir(top).relativeFilePath(QFileInfo(files[i]).absoluteFilePath());
        const QString longer = path.left(path.size() - QFileInfo(path).fileName().size()).replace(QLatin1Char('/'), QLatin1Char('-')) + QFileInfo(path).completeBaseName();
        names[i] = longer;
        for (int number = 2; !taken.insert(names[i].toLower()).second; ++number) names[i] = QStringLiteral("%1-%2").arg(longer).arg(number);
    }
    return names;
}

/// Begins as pages of this program do.
bool is_own_page(const QByteArray& begin) { return begin.contains("<meta name=\"generator\" content=\"wallfoot "); }

QByteArray begin_of(const QString& path) {
    QFile file(path);
    return QFileInfo(path).isFile() && file.open(QIODevice::ReadOnly) ? file.read(4096) : QByteArray();
}

/// Whether a file is a report of this program, by what it says of itself.
bool is_own_report(const QString& path) {
    const QString ending = QFileInfo(path).suffix().toLower();
    const QByteArray begin = begin_of(path);
    if (ending == QStringLiteral("html")) return is_own_page(begin) && begin.contains("td.figure");  // lessons have no such tables
    if (ending == QStringLiteral("csv")) {  // before the first table, where it has one
        const qsizetype end = begin.indexOf("\r\n\r\n");
        return (end < 0 ? begin : begin.left(end)).contains(",wallfoot ");
    }
    QFile file(path);
    if (begin.isEmpty() || !file.open(QIODevice::ReadOnly)) return false;
    const QByteArray all = file.readAll();
    if (ending == QStringLiteral("txt")) return QString::fromUtf8(all).contains(QRegularExpression(QStringLiteral("\nwallfoot \\d[^\n]*, [^\n]+\n")));
    if (ending == QStringLiteral("json")) {
        const QJsonObject report = QJsonDocument::fromJson(all).object();
        return report.value(QStringLiteral("program")).toString().startsWith(QStringLiteral("wallfoot ")) && report.value(QStringLiteral("items")).isArray();
    }
    try {
        const PdfFile pdf(all.toStdString());
        return pdf.creator().startsWith(QStringLiteral("wallfoot ")) && !pdf.study().isEmpty();
    } catch (const InputFault&) {
        return false;
    }
}

bool is_there(const QString& path) { return QFileInfo::exists(path) || QFileInfo(path).isSymLink(); }

/// An earlier list of reports is replaced; any other page of that name is somebody's own.
void need_own_index(const QString& path) {
    const QByteArray begin = begin_of(path), title = QByteArray::fromStdString("<title>" + english(Message{Severity::note, "batch-title", {}, {}, {}}) + "</title>");
    if (is_there(path) && !(is_own_page(begin) && begin.contains(title))) throw batch_fault("batch-index-not-ours", path);
}

void report_on(BatchRow& row, const QString& file, const QString& name, const ReportBatch& batch, const Context& context) {
    const auto path_of = [&](const QString& ending) { return QDir(batch.folder).filePath(name + QLatin1Char('.') + ending); };
    for (const QString& ending : batch.endings) {
        for (const QString& other : batch.files)
            if (is_same_file(path_of(ending), other)) throw batch_fault("report-over-study", path_of(ending));
        if (is_there(path_of(ending)) && !is_own_report(path_of(ending))) throw batch_fault("batch-not-ours", path_of(ending));
    }
    const ReportedStudy study = reported_study(file, batch.wish, context);
    for (const Message& warning : study.warnings) row.notes.push_back(english(warning));
    tell_answers(row, *study.source);
    for (const QString& ending : batch.endings) {
        context.check();
        std::vector<Message> notes;
        write_report_whole(path_of(ending), rendered_report(path_of(ending), study.source, study.bytes, batch.wish.a3, batch.wish.brief, &notes, context));
        row.made.push_back(QFileInfo(path_of(ending)).fileName().toStdString());
        for (const Message& note : notes) row.notes.push_back(english(note));
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
        for (QDirIterator each(named, {QStringLiteral("*.wallfoot")}, QDir::Files, QDirIterator::Subdirectories); each.hasNext();) below << each.next();
        below.sort();
        for (const QString& file : below) add(file);
    }
    if (all.isEmpty()) throw batch_fault("batch-no-study", files_and_folders.join(QStringLiteral(", ")));
    return all;
}

std::vector<BatchRow> make_reports(const ReportBatch& batch, const std::function<void(std::size_t done, const BatchRow& row)>& told, const Context& context) {
    need_folder(batch.folder);
    const QString index = QDir(batch.folder).filePath(QStringLiteral("index.html"));
    need_own_index(index);
    if (batch.wish.office) need_printable(*batch.wish.office);
    const QStringList names = own_names(batch.files);
    std::vector<BatchRow> rows;
    for (qsizetype i = 0; i < batch.files.size(); ++i) {
        BatchRow row;
        row.file = batch.files[i].toStdString();
        try {
            context.check();
            report_on(row, batch.files[i], names[i], batch, context);
        } catch (const Cancelled&) {
            row.stopped = true;
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
    write_report_whole(index, QByteArray::fromStdString(batch_index_html(rows, batch.wish.date.toStdString(), batch.wish.office.get())));
    return rows;
}

}  // namespace wallfoot
