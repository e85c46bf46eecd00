// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/teach/lesson_files.hpp"

#include <QBuffer>
#include <QFile>
#include <QFileInfo>
#include <QSaveFile>
#include <QSvgRenderer>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>

#include "core/file/study_file.hpp"
#include "core/study/names.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/reuse.hpp"
#include "solver/findings/version.hpp"
#include "solver/page/page.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/teach/lesson_picture.hpp"

namespace wallfoot {

namespace {

constexpr QSize page_picture{900, 640}, hand_out_picture{1600, 1100};
constexpr int trial_steps = 5;  // of a conductivity, in a page

std::string spoken(const char* code, std::map<std::string, std::string> args = {}) { return english({Severity::note, code, std::move(args), {}, {}}); }

void add_line(std::string& text, const std::string& line) {
    if (!text.empty()) text += '\n';
    text += line;
}

std::optional<std::size_t> variant_index(const Study& study, const std::string& id) {
    for (std::size_t v = 0; v < study.variants.size(); ++v)
        if (study.variants[v].id == id || study.variants[v].name == id) return v;
    return {};
}

std::shared_ptr<const Findings> found_in(const LessonSource& source, const std::string& id) {
    const auto index = variant_index(*source.study, id);
    return index && *index < source.findings.size() ? source.findings[*index] : nullptr;
}

std::string data_address(const char* type, const QByteArray& bytes) { return std::string("data:") + type + ";base64," + bytes.toBase64().toStdString(); }

/// What a picture of a view spans.
Rect spanned(const View& view) {
    const QPointF a = view.to_mm(QPointF()), b = view.to_mm(QPointF(view.viewport.width(), view.viewport.height()));
    return {from_mm(a.x()), from_mm(b.y()), from_mm(b.x()), from_mm(a.y())};
}

PagePicture page_picture_of(const LessonStep& step, const LessonPicture& picture, QSize size, const std::string& name, const std::string& grid) {
    const Findings& findings = *picture.findings;
    PagePicture page;
    page.name = name;
    page.line = page_line(findings);
    const std::map<std::string, std::string> args{{"variant", findings.variant_name}, {"low", number(picture.range.low, 1).toStdString()}, {"high", number(picture.range.high, 1).toStdString()}, {"line", step.question ? std::string() : page.line}};  // what is asked for is not told before
    page.words = spoken(picture.layer == LessonLayer::materials ? "page-picture-materials" : picture.layer == LessonLayer::flow ? "page-picture-flow" : "page-picture-heat", args);
    while (page.words.ends_with(' ')) page.words.pop_back();
    page.image = picture.layer == LessonLayer::flow ? data_address("image/svg+xml", lesson_svg(step, picture, size)) : picture.layer == LessonLayer::materials ? data_address("image/png", lesson_png(step, picture, size))
                                                                                                                                     : data_address("image/jpeg", lesson_png(step, picture, size, true));
    page.shown = spanned(lesson_view(step, *findings.section, size));
    page.grid = grid;
    return page;
}

/// A trial at each of its places, or at a few.
PageSlider page_slider(const LessonStep& step, const LessonTrial& trial, const LessonPicture& picture, std::size_t variant, QSize size, const std::string& key, PageGrids& grids, int cells, const Context& context) {
    const TrialRange range = trial_range(*picture.study, *picture.findings, trial);
    PageSlider slider;
    slider.name = spoken("page-slider-name", {{"piece", range.piece}, {"material", range.material}});
    if (trial.what == TrialWhat::conductivity) slider.name = range.piece + " (" + range.material + "), W/(m·K)";
    slider.at_least = english(range.at_least);
    slider.at_most = english(range.at_most);
    Reuse reuse;
    const bool moisture = trial.what == TrialWhat::moisture;
    const int count = moisture ? static_cast<int>(range.conditions.size()) : trial_steps;
    double nearest = INFINITY;
    for (int i = 0; i < count; ++i) {
        const double at = moisture ? i : range.least + (range.most - range.least) * i / (count - 1);
        const auto tried = std::make_shared<const Study>(trial_study(*picture.study, variant, trial, range, at));
        const auto found = find(*tried, tried->variants[variant], reuse.at_rest(), context);
        if (found->has_fault()) continue;
        LessonPicture shown = picture;
        shown.study = tried;
        shown.findings = found;
        std::string where = moisture ? to_string(range.conditions[static_cast<std::size_t>(i)]) : fixed(at, 3);
        std::replace(where.begin(), where.end(), '-', ' ');
        const std::string grid = key + "-" + std::to_string(i);
        grids[grid] = temperature_grid(*found, cells);
        slider.steps.push_back(page_picture_of(step, shown, size, spoken("page-tries", {{"piece", range.piece}, {"value", where}}), grid));
        double value = at;
        if (moisture)
            for (std::size_t f = 0; f < found->arrangement.faces.size(); ++f)
                if (const int piece = found->arrangement.faces[f].piece; piece >= 0 && (found->section->pieces[static_cast<std::size_t>(piece)].id == trial.piece || found->section->pieces[static_cast<std::size_t>(piece)].name == trial.piece)) value = found->conductivity[f].across;
        if (std::abs(value - range.now) < nearest) nearest = std::abs(value - range.now), slider.begin = slider.steps.size() - 1;
    }
    return slider;
}

/// The piece of masonry whose conditions move psi most; nothing where none has two declared.
std::optional<LessonTrial> strongest_trial(const Study& study, std::size_t variant, const Findings& findings, const Context& context) {
    std::optional<LessonTrial> strongest;
    double most = 0;
    Reuse reuse;
    for (const Piece& piece : findings.section->pieces) {
        const Material* material = piece.fill == Fill::material ? study.find_material(piece.filled_with) : nullptr;
        if (!material || material->kind != MaterialKind::masonry || material->lambda.by_condition.size() < 2) continue;
        const LessonTrial trial{TrialWhat::moisture, piece.id, {}};
        const TrialRange range = trial_range(study, findings, trial);
        std::vector<double> psi;
        for (const double at : {0.0, static_cast<double>(range.conditions.size() - 1)}) {
            const Study tried = trial_study(study, variant, trial, range, at);
            FindingsOptions options;
            options.tolerance = dragging_tolerance;
            const auto found = find(tried, tried.variants[variant], reuse.quick(options), context);
            if (const Psi* value = found->headline_psi(); value && value->value) psi.push_back(value->value->value);
        }
        if (psi.size() == 2 && std::abs(psi[1] - psi[0]) > most) most = std::abs(psi[1] - psi[0]), strongest = trial;
    }
    return strongest;
}

/// Fewer and smaller pictures and grids until the page is small enough.
template <class Make>
QByteArray fitted(Make make) {
    for (const double scale : {1.0, 0.75, 0.55}) {
        try {
            return QByteArray::fromStdString(make(scale));
        } catch (const InputFault& fault) {
            if (fault.faults().front().code != "lesson-page-too-large" || scale < 0.6) throw;
        }
    }
    return {};
}

/// A picture element with a JPEG in the place of its SVG: a fifth as large where hatches are many.
std::string with_jpeg(std::string element) {
    const std::string begin = "src=\"data:image/svg+xml;base64,";
    const std::size_t from = element.find(begin), to = from == std::string::npos ? from : element.find('"', from + begin.size());
    if (to == std::string::npos) return element;
    QSvgRenderer svg(QByteArray::fromBase64(QByteArray::fromStdString(element.substr(from + begin.size(), to - from - begin.size()))));
    const QSizeF size = svg.viewBoxF().size();
    if (!svg.isValid() || size.isEmpty()) return element;
    constexpr double width = 900;
    QImage image((size * (width / size.width())).toSize(), QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    svg.render(&painter);
    painter.end();
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    image.save(&buffer, "JPG", 75);
    return element.substr(0, from) + "src=\"" + data_address("image/jpeg", bytes) + element.substr(to);
}

}  // namespace

void work_out(LessonSource& source, const Context& context) {
    const Study& study = *source.study;
    if (const auto gaps = lesson_gaps(study, {source.lesson}); !gaps.empty()) throw InputFault(gaps);
    source.findings.resize(study.variants.size());
    for (const LessonStep& step : source.lesson.steps)
        for (const auto& id : {step.variant, step.beside, step.question ? step.question->other : std::string()}) {
            const auto index = id.empty() ? std::nullopt : variant_index(study, id);
            if (!index) continue;
            if (!source.findings[*index]) source.findings[*index] = find(study, study.variants[*index], {}, context);
            refuse_faults(source.findings[*index]->messages);
        }
}

QByteArray lesson_html(const LessonSource& source, const Context& context, const MadeSoFar& so_far) {
    return fitted([&](double scale) {
        LessonPage page;
        page.title = source.lesson.title.empty() ? source.study->title : source.lesson.title;
        page.about = source.lesson.about;
        page.program = std::string("wallfoot ") + program_version;
        const QSize size = (QSizeF(page_picture) * scale).toSize();
        const int cells = static_cast<int>(most_grid_cells * scale * scale);
        int number_of = 0;
        for (const LessonStep& step : source.lesson.steps) {
            context.check();
            if (so_far) so_far(number_of, static_cast<int>(source.lesson.steps.size()));
            ++number_of;
            const auto findings = found_in(source, step.variant), beside = found_in(source, step.beside), other = step.question ? found_in(source, step.question->other) : nullptr;
            const auto range = range_of(beside ? std::vector{findings, beside} : std::vector{findings});
            const auto grid = [&](const Findings& of) {
                const std::string key = "v-" + of.variant_id;
                if (!page.grids.contains(key)) page.grids[key] = temperature_grid(of, cells);
                return key;
            };
            PageStep shown;
            shown.text = step.text;
            shown.note = step.note;
            const LessonPicture picture{source.study, findings, step.layer, range, step.spotlight, false, tracer_share(*findings, beside.get())};
            if (step.trial) shown.slider = page_slider(step, *step.trial, picture, *variant_index(*source.study, step.variant), size, std::string("t") + std::to_string(number_of), page.grids, cells / 2, context);
            shown.picture = page_picture_of(step, picture, size, findings->variant_name, grid(*findings));
            if (shown.slider) shown.picture.image.clear();
            if (beside) {
                LessonPicture second = picture;
                second.findings = beside;
                shown.beside = page_picture_of(step, second, size, beside->variant_name, grid(*beside));
            }
            if (step.question) {
                const LessonQuestion& question = *step.question;
                const std::string other_name = other ? other->variant_name : std::string();
                shown.question = PageQuestion{question.kind, question_text(question, findings->variant_name, other_name), question_options(question, findings->variant_name, other_name), lesson_answer(question, *findings, other.get())};
                say_everyday_difference(*source.study, *findings, shown.question->answer);
            }
            if (step.layer == LessonLayer::flow) shown.units = spoken("lesson-tracers", {{"share", number(picture.share, 4).toStdString()}});
            // What is asked for is not told before.
            if (!step.question)
                for (const Message& message : everyday_says(*source.study, {findings.get(), beside.get()})) add_line(shown.units, english(message));
            page.steps.push_back(std::move(shown));
        }
        return lesson_page_html(page);
    });
}

QByteArray lesson_step_picture(const LessonSource& source, std::size_t step, bool svg) {
    if (step >= source.lesson.steps.size()) throw InputFault(Message{Severity::fault, "lesson-no-such-step", {{"number", std::to_string(step + 1)}, {"count", std::to_string(source.lesson.steps.size())}}, {}, {}});
    const LessonStep& of = source.lesson.steps[step];
    const auto findings = found_in(source, of.variant);
    const LessonPicture picture{source.study, findings, of.layer, range_of(*findings), of.spotlight, false};
    return svg ? lesson_svg(of, picture, hand_out_picture) : lesson_png(of, picture, hand_out_picture);
}

QByteArray report_page(const Report& report, const std::shared_ptr<const ReportSource>& source, const std::function<std::string(const ReportPicture&)>& picture, const Context& context, std::vector<Message>* notes) {
    const Study& study = *source->study;
    const auto first = variant_index(study, source->findings.front()->variant_id);
    const auto trial = first ? strongest_trial(study, *first, *source->findings.front(), context) : std::nullopt;
    const auto range = range_of(source->findings);
    std::map<std::pair<int, std::size_t>, std::string> painted, smaller;  // each once
    const auto as_lines = [&](const ReportPicture& shown) {
        auto& element = painted[{static_cast<int>(shown.shows), shown.variant}];
        return element.empty() ? element = picture(shown) : element;
    };
    const auto as_jpeg = [&](const ReportPicture& shown) {
        auto& element = smaller[{static_cast<int>(shown.shows), shown.variant}];
        return element.empty() ? element = with_jpeg(as_lines(shown)) : element;
    };
    const bool lines_fit = report_html(report, as_lines).size() < most_page_bytes * 4 / 5;
    // Variants share the room that a page has.
    const auto looks = [&](double scale) {
        ReportPage page;
        LessonStep whole;
        whole.layer = LessonLayer::isotherms;
        const auto size_of = [&](const Section& section) {
            const double high = to_mm(section.cut.height()) / std::max(0.001, to_mm(section.cut.width()));
            return QSize(static_cast<int>(900 * scale), static_cast<int>(900 * scale * std::clamp(high, 0.2, 1.6)));
        };
        const int cells = static_cast<int>(most_grid_cells * scale * scale * std::min(1.0, 8.0 / static_cast<double>(source->findings.size())));
        for (const auto& findings : source->findings) {
            context.check();
            const std::string key = "v-" + findings->variant_id;
            page.grids[key] = temperature_grid(*findings, cells);
            const LessonPicture shown{source->study, findings, findings->solution ? LessonLayer::isotherms : LessonLayer::materials, range, {}, true};
            page.variants.push_back(page_picture_of(whole, shown, size_of(*findings->section), findings->variant_name, key));
        }
        if (trial) {
            const LessonPicture shown{source->study, source->findings.front(), LessonLayer::isotherms, range, {}, true};
            page.slider = page_slider(whole, *trial, shown, *first, size_of(*source->findings.front()->section) * 0.8, "t", page.grids, cells / 2, context);
        }
        return page;
    };
    const auto fits = [&](const ReportPage& page, bool lines) -> std::optional<QByteArray> {
        try {
            return QByteArray::fromStdString(lines ? report_page_html(report, as_lines, page) : report_page_html(report, as_jpeg, page));
        } catch (const InputFault& fault) {
            if (fault.faults().front().code != "lesson-page-too-large") throw;
        }
        return {};
    };
    // Lines as long as there is room, then smaller pictures; last, the first of the variants alone.
    ReportPage page;
    double painted_at = 0;
    for (const auto& [scale, lines] : {std::pair(1.0, true), std::pair(0.75, true), std::pair(1.0, false), std::pair(0.6, false)}) {
        if (lines && !lines_fit) continue;
        if (painted_at != scale) page = looks(scale), painted_at = scale;
        if (auto whole = fits(page, lines)) return *whole;
    }
    const std::string some = report_page_that_fits(report, as_jpeg, page);
    if (notes) notes->insert(notes->end(), page.left_out.begin(), page.left_out.end());
    return QByteArray::fromStdString(some);
}

int lesson_command(const QStringList& arguments) {
    enum { written = 0, failed = 1, at_fault = 2 };
    const auto refuse = [](const char* code, std::map<std::string, std::string> args) { return InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); };
    QString file, out;
    std::size_t lesson = 1, step = 1;
    bool a3 = false;
    try {
        for (qsizetype i = 0; i < arguments.size(); ++i) {
            const QString& word = arguments[i];
            const auto value = [&] {
                if (i + 1 >= arguments.size()) throw refuse("option-without-value", {{"what", word.toStdString()}});
                return arguments[++i];
            };
            if (word == "--out") out = value();
            else if (word == "--lesson") lesson = value().toUInt();
            else if (word == "--step") step = value().toUInt();
            else if (word == "--paper") {
                const QString paper = value().toUpper();
                if (paper != "A4" && paper != "A3") throw refuse("report-paper", {{"what", paper.toStdString()}});
                a3 = paper == "A3";
            } else if (word.startsWith("--")) throw refuse("option-unknown", {{"what", word.toStdString()}});
            else if (file.isEmpty()) file = word;
            else throw refuse("report-one-file", {{"what", word.toStdString()}});
        }
        if (file.isEmpty()) throw refuse("report-no-file", {});
        const QString ending = QFileInfo(out).suffix().toLower();
        if (std::none_of(std::begin(lesson_endings), std::end(lesson_endings), [&](const char* known) { return ending == QLatin1String(known); })) throw refuse("lesson-out", {{"what", out.toStdString()}});
        const auto read = load_study(file.toStdString());
        for (const auto& warning : read.warnings) std::fprintf(stderr, "%s\n", one_line(warning, file.toStdString()).c_str());
        LessonSource source{std::make_shared<const Study>(read.study), {}, {}};
        const auto lessons = lessons_of(*source.study);
        if (lessons.empty()) throw refuse("lesson-none", {});
        if (lesson < 1 || lesson > lessons.size()) throw refuse("lesson-no-such-lesson", {{"number", std::to_string(lesson)}, {"count", std::to_string(lessons.size())}});
        source.lesson = lessons[lesson - 1];
        if (source.lesson.steps.empty()) throw refuse("lesson-none", {});
        work_out(source);
        const QByteArray bytes = ending == "html" ? lesson_html(source) : ending == "pdf" ? lesson_worksheets(source, a3) : lesson_step_picture(source, step - 1, ending == "svg");
        QSaveFile save(out);
        if (!save.open(QIODevice::WriteOnly) || save.write(bytes) != bytes.size() || !save.commit()) throw std::runtime_error(save.errorString().toStdString());
        return written;
    } catch (const InputFault& fault) {
        std::fprintf(stderr, "%s\n", one_line(fault.faults().front(), file.toStdString()).c_str());
        return at_fault;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s: %s\n", qUtf8Printable(out), error.what());
        return failed;
    }
}

}  // namespace wallfoot
