// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/report_command.hpp"

#include <QDate>
#include <QFile>
#include <QFileInfo>
#include <QSaveFile>
#include <cstdio>
#include <stdexcept>

#include "core/file/study_file.hpp"
#include "solver/report/short_answer.hpp"
#include "ui/report/pages.hpp"
#include "ui/teach/lesson_files.hpp"

namespace wallfoot {

namespace {

enum Status { written = 0, failed = 1, input_at_fault = 2, tolerance_not_reached = 3 };

struct Request {
    QString file, out, date = QDate::currentDate().toString(Qt::ISODate);
    std::vector<std::string> variants;
    bool a3 = false, brief = false;
};

InputFault usage(const std::string& code, const QString& what = {}) { return InputFault(Message{Severity::fault, code, {{"what", what.toStdString()}}, std::nullopt, {}}); }

Request read_request(const QStringList& arguments) {
    Request request;
    for (qsizetype i = 0; i < arguments.size(); ++i) {
        const QString& word = arguments[i];
        const auto value = [&] {
            if (i + 1 >= arguments.size()) throw usage("option-without-value", word);
            return arguments[++i];
        };
        if (word == "--out") request.out = value();
        else if (word == "--variant") request.variants.push_back(value().toStdString());
        else if (word == "--date") request.date = value();
        else if (word == "--short") request.brief = true;
        else if (word == "--paper") {
            const QString paper = value().toUpper();
            if (paper != "A4" && paper != "A3") throw usage("report-paper", paper);
            request.a3 = paper == "A3";
        } else if (word.startsWith("--")) throw usage("option-unknown", word);
        else if (request.file.isEmpty()) request.file = word;
        else throw usage("report-one-file", word);
    }
    if (request.file.isEmpty()) throw usage("report-no-file");
    return request;
}

int write_report(const Request& request) {
    // What the PDF carries is the file as it is on the disk, byte for byte.
    QFile file(request.file);
    const QByteArray bytes = file.open(QIODevice::ReadOnly) ? file.readAll() : QByteArray();
    const auto read = load_study(request.file.toStdString());
    const auto study = std::make_shared<const Study>(read.study);
    FindingsOptions options;
    options.criteria = !request.brief;
    options.floor_widths = true;
    const auto source = std::make_shared<ReportSource>(report_source(study, QFileInfo(request.file).fileName().toStdString(), request.date.toStdString(), request.variants, options));
    if (request.brief) add_slopes(*source);
    if (QFileInfo(request.out).exists() && QFileInfo(request.out).canonicalFilePath() == QFileInfo(request.file).canonicalFilePath()) throw usage("report-over-study", request.out);
    for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, request.file.toStdString()).c_str());
    std::vector<Message> notes;
    const QByteArray report = rendered_report(request.out, source, bytes, request.a3, request.brief, &notes);
    QSaveFile out(request.out);  // a temporary file beside it, renamed when whole
    if (!out.open(QIODevice::WriteOnly) || out.write(report) != report.size() || !out.commit()) throw std::runtime_error(out.errorString().toStdString());
    for (const auto& note : notes) std::fprintf(stderr, "%s\n", one_line(note, request.out.toStdString()).c_str());
    for (const auto& findings : source->findings)
        if (!findings->converged) return tolerance_not_reached;
    return written;
}

}  // namespace

bool is_report_ending(const QString& path) { return QStringList{"pdf", "html", "csv", "json", "txt"}.contains(QFileInfo(path).suffix().toLower()); }

QByteArray rendered_report(const QString& path, const std::shared_ptr<const ReportSource>& source, const QByteArray& study, bool a3, bool brief, std::vector<Message>* notes) {
    const QString ending = QFileInfo(path).suffix().toLower();
    if (!is_report_ending(path)) throw usage("report-no-out", path);
    Report report = brief ? make_short_answer(*source) : make_report(*source);
    if (ending == "txt") return QByteArray::fromStdString(report_text(report));
    if (ending == "json") return QByteArray::fromStdString(report_json(report));
    if (ending == "csv") return QByteArray::fromStdString(report_csv(report));
    if (ending == "html") {
        const auto picture = [&](const ReportPicture& shown) {
            return "<img alt=\"" + QString::fromStdString(shown.words).toHtmlEscaped().toStdString() + "\" src=\"data:image/svg+xml;base64," + report_picture_svg(*source, shown).toBase64().toStdString() + "\" />";
        };
        return brief ? QByteArray::fromStdString(report_html(report, picture)) : report_page(report, source, picture, {}, notes);
    }
    const ReportPages pages(std::move(report), source, a3 ? QPageSize::A3 : QPageSize::A4, brief);
    return report_pdf(pages, study, QString::fromStdString(source->file.empty() ? "study.wallfoot" : source->file));
}

int report_command(const QStringList& arguments) {
    Request request;
    try {
        request = read_request(arguments);
        if (!is_report_ending(request.out)) throw usage("report-no-out", request.out);
        return write_report(request);
    } catch (const InputFault& fault) {
        std::fprintf(stderr, "%s\n", one_line(fault.faults().front(), request.file.toStdString()).c_str());
        return input_at_fault;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s: %s\n", qUtf8Printable(request.out), error.what());
        return failed;
    }
}

}  // namespace wallfoot
