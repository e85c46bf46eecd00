// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/page/page.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "core/file/attachment.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/page/page_script.hpp"
#include "solver/report/parts.hpp"

namespace wallfoot {

namespace {

using PageJson = nlohmann::ordered_json;
using report_part::say;

std::string as_html(const std::string& text, bool breaks = true) {
    std::string result;
    for (const char c : text) {
        switch (c) {
            case '&': result += "&amp;"; break;
            case '<': result += "&lt;"; break;
            case '>': result += "&gt;"; break;
            case '"': result += "&quot;"; break;
            case '\n': result += breaks ? "<br />" : "&#10;"; break;
            default: result += c;
        }
    }
    return result;
}

std::string attribute(const std::string& text) { return as_html(text, false); }

/// JSON that may stand inside a script element.
std::string in_script(const PageJson& json) {
    std::string text = json.dump(-1, ' ', false, PageJson::error_handler_t::replace), result;
    for (const char c : text) result += c == '<' ? std::string("\\u003c") : c == '&' ? std::string("\\u0026") : std::string(1, c);
    return result;
}

/// Two bytes each, the lower one first.
std::string grid_bytes(const std::vector<std::int16_t>& values) {
    std::string bytes;
    for (const std::int16_t value : values) {
        const auto bits = static_cast<std::uint16_t>(value);
        bytes += static_cast<char>(bits & 0xff);
        bytes += static_cast<char>(bits >> 8);
    }
    return base64_of(bytes);
}

PageJson rect_json(const Rect& rect) { return {to_mm(rect.left), to_mm(rect.bottom), to_mm(rect.right), to_mm(rect.top)}; }

std::string data_of(const PageGrids& grids) {
    PageJson all = PageJson::object();
    for (const auto& [key, grid] : grids) all[key] = {{"cut", rect_json(grid.cut)}, {"columns", grid.columns}, {"rows", grid.rows}, {"data", grid_bytes(grid.hundredths)}};
    const PageJson words{{"air", say("page-air")},     {"here", say("page-here")},   {"secret", say("page-secret")}, {"marked", say("page-marked")}, {"away", say("page-away")},
                         {"off", say("page-off")},     {"right", say("page-right")}, {"wrong", say("page-wrong")},   {"place", say("page-place")}};
    return "<script type=\"application/json\" id=\"words\">" + in_script(words) + "</script>\n<script type=\"application/json\" id=\"grids\">" + in_script(all) + "</script>\n<script>//<![CDATA[" + page_script() + "//]]></script>\n";
}

/// Where something is asked, the line waits for the answer.
std::string figure(const PagePicture& picture, bool asking = false) {
    const Rect& s = picture.shown;
    const std::string shown = fixed(to_mm(s.left), 3) + "," + fixed(to_mm(s.bottom), 3) + "," + fixed(to_mm(s.right), 3) + "," + fixed(to_mm(s.top), 3);
    std::string html = "<figure class=\"look\" tabindex=\"0\" aria-label=\"" + attribute(picture.name) + "\" data-grid=\"" + attribute(picture.grid) + "\" data-shown=\"" + shown + "\">\n<div class=\"frame\"><img alt=\"" +
                       attribute(picture.words) + "\" src=\"" + picture.image + "\" /></div>\n<p class=\"readout\" role=\"status\"></p>\n<figcaption>" + as_html(picture.name) + "</figcaption>\n";
    if (!picture.line.empty() && !asking) html += "<p class=\"line\">" + as_html(picture.line) + "</p>\n";
    return html + "</figure>\n";
}

std::string slider_html(const PageSlider& slider, const std::string& id, bool asking = false) {
    if (slider.steps.empty()) return {};
    std::string html = "<div class=\"switch\" id=\"" + id + "\" data-least=\"" + attribute(slider.at_least) + "\" data-most=\"" + attribute(slider.at_most) + "\">\n<p class=\"bar hidden\"><label for=\"" + id + "-range\">" + as_html(slider.name) +
                       "</label> <input type=\"range\" id=\"" + id + "-range\" min=\"0\" max=\"" + std::to_string(slider.steps.size() - 1) + "\" step=\"1\" value=\"" + std::to_string(slider.begin) + "\" /> <output>" + as_html(slider.steps[slider.begin].name) + "</output></p>\n";
    for (const PagePicture& step : slider.steps) html += "<div class=\"state\" data-name=\"" + attribute(step.name) + "\">" + figure(step, asking) + "</div>\n";
    return html + "<p class=\"stop\" role=\"status\"></p>\n</div>\n";
}

/// Name and line of each picture of a step.
std::vector<std::string> lines_of(const PageStep& step) {
    std::vector<const PagePicture*> pictures{&step.picture};
    if (step.slider && !step.slider->steps.empty()) {
        pictures.clear();
        for (const PagePicture& one : step.slider->steps) pictures.push_back(&one);
    } else if (step.beside) pictures.push_back(&*step.beside);
    std::vector<std::string> lines;
    for (const PagePicture* one : pictures)
        if (!one->line.empty()) lines.push_back(one->name + ": " + one->line);
    return lines;
}

std::string question_html(const PageQuestion& question, const std::vector<std::string>& lines, const std::string& id) {
    PageJson places = PageJson::array();
    for (const Rect& place : question.answer.places) places.push_back(rect_json(place));
    const PageJson answer{{"kind", word_of(question_kind_words, question.kind)},
                          {"at", question.answer.at ? PageJson{question.answer.at->x, question.answer.at->y} : PageJson(nullptr)},
                          {"number", question.answer.number ? PageJson(question.answer.number->value) : PageJson(nullptr)},
                          {"option", question.answer.option ? PageJson(*question.answer.option) : PageJson(nullptr)},
                          {"places", places}};
    std::string html = "<div class=\"question\" data-answer=\"" + attribute(answer.dump(-1, ' ', false, PageJson::error_handler_t::replace)) + "\">\n<fieldset><legend>" + as_html(question.text) + "</legend>\n";
    if (question.kind == QuestionKind::coldest || question.kind == QuestionKind::fault) html += "<p class=\"keys\">" + as_html(say("page-click-keys")) + "</p>\n";
    for (std::size_t i = 0; i < question.options.size(); ++i)
        html += "<p><label><input type=\"radio\" name=\"" + id + "\" value=\"" + std::to_string(i) + "\" /> " + as_html(question.options[i]) + "</label></p>\n";
    if (question.kind == QuestionKind::change) html += "<p><label>" + as_html(say("page-type")) + " <input type=\"text\" size=\"24\" /></label></p>\n";
    html += "<details><summary>" + as_html(say("page-show-answer")) + "</summary>\n";
    for (const Message& message : question.answer.says) html += "<p>" + as_html(english(message)) + "</p>\n";
    for (const std::string& line : lines) html += "<p class=\"line\">" + as_html(line) + "</p>\n";
    return html + "</details>\n<p class=\"distance\" role=\"status\"></p>\n</fieldset></div>\n";
}

std::string head(const std::string& title, const std::string& program) {
    return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\" />\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\" />\n<meta name=\"generator\" content=\"" + attribute(program) + "\" />\n<title>" + as_html(title) +
           "</title>\n<style>body { font: 16px/1.45 \"DejaVu Sans\", Verdana, sans-serif; color: #1b1b1b; background: #fff; max-width: 104rem; margin: 0 auto; padding: .6rem 1rem; }\nh1 { font-size: 1.4rem; margin: .2rem 0; }\nh1 + p { margin: .2rem 0; }\n" + page_style() + "</style>\n</head>\n<body class=\"lesson\">\n";
}

/// Puts `what` before the last `mark` of a text, or before the first.
void insert_before(std::string& text, const std::string& mark, const std::string& what, bool last) {
    const std::size_t at = last ? text.rfind(mark) : text.find(mark);
    if (at != std::string::npos) text.insert(at, what);
}

void check_size(const std::string& html, std::size_t most) {
    if (html.size() <= most) return;
    throw InputFault(Message{Severity::fault, "lesson-page-too-large", {{"size", fixed(static_cast<double>(html.size()) / 1e6, 1)}, {"most", fixed(static_cast<double>(most) / 1e6, 0)}}, {}, {}});
}

}  // namespace

std::string page_line(const Findings& findings) {
    std::string line;
    if (const Psi* psi = findings.headline_psi(); psi && psi->value) line = "psi " + with_bracket(*psi->value) + " W/(m·K)";
    if (const SurfaceFinding* surface = findings.headline_surface()) {
        if (surface->fRsi) line += (line.empty() ? "fRsi " : ", fRsi ") + fixed(*surface->fRsi, factor_decimals(*surface));
        line += (line.empty() ? "" : ", ") + say("page-coldest", {{"temperature", fixed(surface->lowest, 1)}});
    }
    return line;
}

std::string lesson_page_html(const LessonPage& page) {
    std::string html = head(page.title, page.program) + "<h1>" + as_html(page.title) + "</h1>\n";
    if (!page.about.empty()) html += "<p>" + as_html(page.about) + "</p>\n";
    html += "<div class=\"bar hidden\" id=\"ways\"><button type=\"button\" id=\"back\">" + as_html(say("page-back")) + "</button> <span id=\"place\" role=\"status\"></span> <button type=\"button\" id=\"next\">" + as_html(say("page-next")) +
            "</button> <button type=\"button\" id=\"again\">" + as_html(say("page-reset")) + "</button></div>\n";
    int number = 0;
    for (const PageStep& step : page.steps) {
        const std::string id = std::string("s") + std::to_string(++number);
        html += "<section class=\"step\" id=\"" + id + "\">\n<div class=\"saying\"><h2>" + as_html(say("page-step", {{"step", std::to_string(number)}})) + "</h2>\n";
        if (!step.text.empty()) html += "<p class=\"steptext\">" + as_html(step.text) + "</p>\n";
        html += "</div>\n<div class=\"shown\">";
        const bool asking = step.question.has_value();
        if (step.slider && !step.slider->steps.empty()) html += slider_html(*step.slider, id + "-slider", asking);
        else if (step.beside)
            html += "<div class=\"both\">\n<p class=\"bar hidden\"><label>" + as_html(say("page-line", {{"left", step.picture.name}, {"right", step.beside->name}})) +
                    " <input type=\"range\" min=\"0\" max=\"100\" value=\"50\" /></label></p>\n<div class=\"pair\">" + figure(step.picture, asking) + figure(*step.beside, asking) + "</div></div>\n";
        else html += figure(step.picture, asking);
        html += "</div>\n<div class=\"asked\">";
        if (step.question) html += question_html(*step.question, lines_of(step), id + "-question");
        if (!step.units.empty()) html += "<p>" + as_html(step.units) + "</p>\n";
        if (!step.note.empty()) html += "<details><summary>" + as_html(say("page-note")) + "</summary><p>" + as_html(step.note) + "</p></details>\n";
        html += "</div>\n</section>\n";
    }
    html += "<p class=\"keys\">" + as_html(say("page-keys-lesson")) + "</p>\n" + data_of(page.grids) + "</body>\n</html>\n";
    check_size(html, most_page_bytes);
    return html;
}

std::string report_page_html(const Report& report, const std::function<std::string(const ReportPicture&)>& picture, const ReportPage& page) {
    std::string html = report_html(report, picture);
    std::string look = "<section id=\"look\">\n<h2>" + as_html(say("page-look")) + "</h2>\n<p class=\"keys\">" + as_html(say("page-keys")) + "</p>\n";
    for (const Message& message : page.left_out) look += "<p class=\"left-out\">" + as_html(english(message)) + "</p>\n";
    if (!page.variants.empty()) {
        look += "<div class=\"switch\" id=\"variants\">\n<p class=\"bar hidden\">";
        for (std::size_t v = 0; v < page.variants.size(); ++v)
            look += "<label><input type=\"radio\" name=\"variant\" value=\"" + std::to_string(v) + "\" /> " + as_html(page.variants[v].name) + "</label> ";
        look += "</p>\n";
        for (const PagePicture& one : page.variants) look += "<div class=\"state\" data-name=\"" + attribute(one.name) + "\">" + figure(one) + "</div>\n";
        look += "</div>\n";
    }
    if (page.slider) look += "<h3>" + as_html(say("page-slider")) + "</h3>\n" + slider_html(*page.slider, "slider");
    look += "</section>\n" + data_of(page.grids);
    insert_before(html, "</body>", look, true);
    insert_before(html, "</style>", page_style(), false);
    if (const std::size_t after = html.find("</h1>\n"); after != std::string::npos) html.insert(after + 6, "<p class=\"keys\"><a href=\"#look\">" + as_html(say("page-look-link")) + "</a></p>\n");
    if (page.most_bytes) check_size(html, *page.most_bytes);
    return html;
}

std::string report_page_that_fits(const Report& report, const std::function<std::string(const ReportPicture&)>& picture, ReportPage& page) {
    const auto most = page.most_bytes;
    const auto small_enough = [&]() -> std::optional<std::string> {
        try {
            return report_page_html(report, picture, page);
        } catch (const InputFault& fault) {
            if (fault.faults().front().code != "lesson-page-too-large") throw;
        }
        return {};
    };
    if (auto whole = small_enough()) return *whole;
    const bool slides = page.slider.has_value();
    if (slides)
        for (const PagePicture& one : page.slider->steps) page.grids.erase(one.grid);
    page.slider.reset();
    std::string names;
    for (;;) {
        page.left_out.clear();
        if (!names.empty()) page.left_out.push_back({Severity::caution, "page-left-out", {{"names", names}, {"most", fixed(static_cast<double>(*most) / 1e6, 0)}}, {}, {}});
        if (slides) page.left_out.push_back({Severity::caution, "page-slider-left-out", {{"most", fixed(static_cast<double>(*most) / 1e6, 0)}}, {}, {}});
        if (auto some = small_enough()) return *some;
        if (page.variants.empty()) break;
        names = page.variants.back().name + (names.empty() ? "" : "; ") + names;
        page.grids.erase(page.variants.back().grid);
        page.variants.pop_back();
    }
    page.left_out = {{Severity::caution, "page-large-even-so", {{"names", names}, {"most", fixed(static_cast<double>(*most) / 1e6, 0)}}, {}, {}}};
    page.most_bytes.reset();  // the report itself is handed out whole
    return report_page_html(report, picture, page);
}

}  // namespace wallfoot
