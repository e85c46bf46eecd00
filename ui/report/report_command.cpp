// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/report/report_command.hpp"

#include <QDate>
#include <QFileInfo>
#include <cstdio>
#include <stdexcept>

#include "solver/report/short_answer.hpp"
#include "ui/report/letterhead.hpp"
#include "ui/report/pages.hpp"
#include "ui/report/report_batch.hpp"
#include "ui/teach/lesson_files.hpp"

namespace wallfoot {

namespace {

enum Status { written = 0, failed = 1, input_at_fault = 2, tolerance_not_reached = 3 };

struct Request {
    QStringList files;
    QString out, folder, office;
    QStringList endings;
    ReportWish wish{QDate::currentDate().toString(Qt::ISODate), {}, false, false, true, {}};
};

InputFault usage(const std::string& code, const QString& what = {}) { return InputFault(Message{Severity::fault, code, {{"what", what.toStdString()}}, std::nullopt, {}}); }

QStringList read_endings(const QString& text) {
    QStringList endings;
    for (const QString& ending : text.toLower().split(QLatin1Char(','), Qt::SkipEmptyParts)) {
        if (!is_report_ending("x." + ending)) throw usage("report-no-form", ending);
        if (!endings.contains(ending)) endings << ending;
    }
    if (endings.isEmpty()) throw usage("report-no-form", text);
    return endings;
}

Request read_request(const QStringList& arguments) {
    Request request;
    for (qsizetype i = 0; i < arguments.size(); ++i) {
        const QString& word = arguments[i];
        const auto value = [&] {
            if (i + 1 >= arguments.size()) throw usage("option-without-value", word);
            return arguments[++i];
        };
        if (word == "--out") request.out = value();
        else if (word == "--out-dir") request.folder = value();
        else if (word == "--as") request.endings = read_endings(value());
        else if (word == "--template") request.office = value();
        else if (word == "--variant") request.wish.variants.push_back(value().toStdString());
        else if (word == "--date") request.wish.date = value();
        else if (word == "--short") request.wish.brief = true;
        else if (word == "--no-errors") request.wish.errors = false;
        else if (word == "--paper") {
            const QString paper = value().toUpper();
            if (paper != "A4" && paper != "A3") throw usage("report-paper", paper);
            request.wish.a3 = paper == "A3";
        } else if (word.startsWith("--")) throw usage("option-unknown", word);
        else request.files << word;
    }
    if (request.files.isEmpty()) throw usage("report-no-file");
    if (!request.folder.isEmpty()) {
        if (!request.out.isEmpty()) throw usage("report-out-twice");
        if (!request.wish.variants.empty()) throw usage("batch-no-variant");
        if (request.endings.isEmpty()) request.endings = QStringList{"pdf"};
        return request;
    }
    if (request.files.size() > 1) throw usage("report-one-file", request.files[1]);
    if (!request.endings.isEmpty()) throw usage("report-as-without-folder");
    if (!is_report_ending(request.out)) throw usage("report-no-out", request.out);
    return request;
}

/// One that can be printed; null where none is asked for.
std::shared_ptr<const OfficeTemplate> office_of(const QString& path) {
    if (path.isEmpty()) return nullptr;
    try {
        const auto office = std::make_shared<const OfficeTemplate>(load_office_template(path.toStdString()));
        need_printable(*office);
        return office;
    } catch (const InputFault& fault) {
        std::fprintf(stderr, "%s\n", one_line(fault.faults().front(), path.toStdString()).c_str());
        return nullptr;
    }
}

int write_report(const Request& request) {
    if (is_same_file(request.out, request.files.front())) throw usage("report-over-study", request.out);
    const ReportedStudy study = reported_study(request.files.front(), request.wish);
    for (const auto& warning : study.warnings) std::fprintf(stderr, "%s\n", one_line(warning, request.files.front().toStdString()).c_str());
    std::vector<Message> notes;
    write_report_whole(request.out, rendered_report(request.out, study.source, study.bytes, request.wish.a3, request.wish.brief, &notes));
    for (const auto& note : notes) std::fprintf(stderr, "%s\n", one_line(note, request.out.toStdString()).c_str());
    for (const auto& findings : study.source->findings)
        if (!findings->converged) return tolerance_not_reached;
    return written;
}

int write_reports(const Request& request) {
    const ReportBatch batch{studies_named(request.files), request.folder, request.endings, request.wish};
    const auto rows = make_reports(batch, [&](std::size_t done, const BatchRow& row) {
        std::string made;
        for (const std::string& name : row.made) made += (made.empty() ? "" : ", ") + name;
        const std::string text = std::to_string(done + 1) + "/" + std::to_string(batch.files.size()) + " " + row.file + ": " + (row.failed.empty() ? made : "failed: " + row.failed + (made.empty() ? "" : " (made before: " + made + ")"));
        std::fprintf(row.failed.empty() ? stdout : stderr, "%s\n", text.c_str());
        for (const std::string& note : row.notes) std::fprintf(stderr, "%s: %s\n", row.file.c_str(), note.c_str());
        std::fflush(stdout);
    });
    int status = written;
    for (const BatchRow& row : rows) {
        if (!row.failed.empty()) return failed;
        if (!row.converged) status = tolerance_not_reached;
    }
    return status;
}

}  // namespace

bool is_report_ending(const QString& path) { return QStringList{"pdf", "html", "csv", "json", "txt"}.contains(QFileInfo(path).suffix().toLower()); }

QByteArray rendered_report(const QString& path, const std::shared_ptr<const ReportSource>& source, const QByteArray& study, bool a3, bool brief, std::vector<Message>* notes, const Context& context) {
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
        return brief ? QByteArray::fromStdString(report_html(report, picture)) : report_page(report, source, picture, context, notes);
    }
    const ReportPages pages(std::move(report), source, a3 ? QPageSize::A3 : QPageSize::A4, brief);
    return report_pdf(pages, study, QString::fromStdString(source->file.empty() ? "study.wallfoot" : source->file));
}

int report_command(const QStringList& arguments) {
    Request request;
    try {
        request = read_request(arguments);
        request.wish.office = office_of(request.office);
        if (!request.office.isEmpty() && !request.wish.office) return input_at_fault;  // told
        return request.folder.isEmpty() ? write_report(request) : write_reports(request);
    } catch (const InputFault& fault) {
        const bool one = request.files.size() == 1 && request.folder.isEmpty();
        std::fprintf(stderr, "%s\n", one_line(fault.faults().front(), one ? request.files.front().toStdString() : "").c_str());
        return input_at_fault;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s: %s\n", qUtf8Printable(request.folder.isEmpty() ? request.out : request.folder), error.what());
        return failed;
    }
}

}  // namespace wallfoot
