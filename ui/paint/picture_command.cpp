// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/picture_command.hpp"

#include <QBuffer>
#include <QImage>
#include <QPainter>
#include <QRegularExpression>
#include <QSaveFile>
#include <QSvgGenerator>
#include <cstdio>
#include <stdexcept>

#include "core/file/study_file.hpp"
#include "core/study/variants.hpp"
#include "core/text/refuse_faults.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/paint.hpp"

namespace wallfoot {
namespace {

enum Status { written = 0, failed = 1, input_at_fault = 2, tolerance_not_reached = 3 };

struct Request {
    QString file, out, variant;
    PictureOptions options;
};

InputFault usage(const std::string& code, const QString& what = {}) {
    return InputFault(Message{Severity::fault, code, {{"what", what.toStdString()}}, std::nullopt, {}});
}

QSize read_size(const QString& text) {
    static const QRegularExpression form(QStringLiteral("^(\\d{1,5})x(\\d{1,5})$"));
    const auto match = form.match(text);
    const QSize size(match.captured(1).toInt(), match.captured(2).toInt());
    if (!match.hasMatch() || size.width() < 100 || size.height() < 100 || size.width() > 16000 || size.height() > 16000)
        throw usage("picture-size", text);
    return size;
}

Request read_request(const QStringList& arguments) {
    Request request;
    for (qsizetype i = 0; i < arguments.size(); ++i) {
        const QString& word = arguments[i];
        const auto value = [&] {
            if (i + 1 >= arguments.size()) throw usage("option-without-value", word);
            return arguments[++i];
        };
        if (word == "--out")
            request.out = value();
        else if (word == "--variant")
            request.variant = value();
        else if (word == "--size")
            request.options.size = read_size(value());
        else if (word == "--no-heat")
            request.options.heat = false;
        else if (word == "--dark")
            request.options.colours = SheetColours::dark();
        else if (word.startsWith("--"))
            throw usage("option-unknown", word);
        else if (request.file.isEmpty())
            request.file = word;
        else
            throw usage("picture-one-file", word);
    }
    if (request.file.isEmpty()) throw usage("picture-no-file");
    if (!request.out.endsWith(".png", Qt::CaseInsensitive) && !request.out.endsWith(".svg", Qt::CaseInsensitive))
        throw usage("picture-no-out", request.out);
    return request;
}

QByteArray as_png(const Study& study, const Findings& findings, const PictureOptions& options) {
    QImage image(options.size, QImage::Format_RGB32);
    if (image.isNull()) throw std::bad_alloc();
    QPainter painter(&image);
    paint_picture(painter, study, findings, options);
    painter.end();
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    if (!image.save(&buffer, "PNG")) throw std::runtime_error("PNG");
    return bytes;
}

QByteArray as_svg(const Study& study, const Findings& findings, PictureOptions options) {
    options.pixel_ratio = 2;
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    QSvgGenerator generator;
    generator.setOutputDevice(&buffer);
    generator.setResolution(96);
    generator.setSize(options.size);
    generator.setViewBox(QRect(QPoint(), options.size));
    generator.setTitle(QString::fromStdString(study.title));
    QPainter painter(&generator);
    paint_picture(painter, study, findings, options);
    painter.end();
    return bytes;
}

const Variant& wanted_variant(const Study& study, const QString& id) {
    if (study.variants.empty()) throw usage("study-without-variant");
    if (id.isEmpty()) return study.variants.front();
    return need_variant(study, id.toStdString());
}

int write_picture(const Request& request) {
    const Study study = load_study(request.file.toStdString()).study;
    const auto findings = find(study, wanted_variant(study, request.variant));
    refuse_faults(findings->messages);
    const bool svg = request.out.endsWith(".svg", Qt::CaseInsensitive);
    const QByteArray bytes =
        svg ? as_svg(study, *findings, request.options) : as_png(study, *findings, request.options);
    QSaveFile file(request.out);  // a temporary file beside it, renamed when whole
    if (!file.open(QIODevice::WriteOnly) || file.write(bytes) != bytes.size() || !file.commit())
        throw std::runtime_error(file.errorString().toStdString());
    return findings->converged ? written : tolerance_not_reached;
}

}  // namespace

int picture_command(const QStringList& arguments) {
    Request request;
    try {
        request = read_request(arguments);
        return write_picture(request);
    } catch (const InputFault& fault) {
        std::fprintf(stderr, "%s\n", one_line(fault.faults().front(), request.file.toStdString()).c_str());
        return input_at_fault;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s: %s\n", qUtf8Printable(request.out), error.what());
        return failed;
    }
}

}  // namespace wallfoot
