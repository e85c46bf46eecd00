// SPDX-License-Identifier: GPL-3.0-or-later
#include <functional>
#include <nlohmann/json.hpp>

#include "solver/report/parts.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::ordered_json;

struct AsJson {
    Json operator()(const ReportHeading& heading) const { return {{"heading", heading.text}, {"level", heading.level}}; }
    Json operator()(const ReportText& text) const { return {{text.caution ? "caution" : "text", text.text}}; }
    Json operator()(const ReportTable& table) const { return {{"table", table.caption}, {"head", table.head}, {"rows", table.rows}}; }
    Json operator()(const ReportPicture& picture) const {
        return {{"picture", picture.shows == ReportPicture::Shows::section ? "section" : picture.shows == ReportPicture::Shows::heat ? "heat" : "key"}, {"variant", picture.caption}, {"words", picture.words}};
    }
};

/// A field as RFC 4180 asks for it.
std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"') quoted += '"';
        quoted += c;
    }
    return quoted + "\"";
}

std::string csv_row(const std::vector<std::string>& fields) {
    std::string row;
    for (std::size_t i = 0; i < fields.size(); ++i) row += (i > 0 ? "," : "") + csv_field(fields[i]);
    return row + "\r\n";
}

}  // namespace

std::string report_part::as_page_text(const std::string& text) {
    std::string result;
    for (const char c : text) {
        switch (c) {
            case '&': result += "&amp;"; break;
            case '<': result += "&lt;"; break;
            case '>': result += "&gt;"; break;
            case '"': result += "&quot;"; break;
            case '\n': result += "<br />"; break;
            default: result += c;
        }
    }
    return result;
}

namespace {

using report_part::as_page_text;

constexpr const char* style = R"css(
body { font: 16px/1.45 "DejaVu Sans", Verdana, sans-serif; color: #1b1b1b; background: #fff; max-width: 62rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.7rem; } h2 { font-size: 1.25rem; margin-top: 2rem; border-bottom: 1px solid #999; } h3 { font-size: 1.05rem; }
table { border-collapse: collapse; width: 100%; margin: .6rem 0 1.2rem; font-size: .9rem; }
caption { text-align: left; font-weight: bold; padding: .3rem 0; }
th, td { border-bottom: 1px solid #bbb; padding: .25rem .5rem; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
td.figure, th.figure { text-align: right; }
p.caution { border-left: .3rem solid #1b1b1b; padding-left: .7rem; background: #f2f2f2; }
header.office { display: flex; flex-wrap: wrap; justify-content: space-between; gap: .5rem 2rem; border-bottom: 1px solid #999; padding-bottom: .7rem; }
header.office img { max-height: 5rem; max-width: 16rem; } header.office p { margin: 0; }
footer { border-top: 1px solid #999; margin-top: 2rem; padding-top: .5rem; font-size: .85rem; }
figure { margin: 1rem 0; } figure svg, figure img { max-width: 100%; height: auto; border: 1px solid #bbb; }
.wide { overflow-x: auto; }
@media print { body { max-width: none; padding: 0; font-size: 10pt; } h2, h3, caption { break-after: avoid; } tr, figure { break-inside: avoid; } thead { display: table-header-group; } }
)css";

struct AsHtml {
    const std::function<std::string(const ReportPicture&)>& picture;

    std::string operator()(const ReportHeading& heading) const {
        const char* tag = heading.level == 1 ? "h2" : "h3";
        return std::string("<") + tag + ">" + as_page_text(heading.text) + "</" + tag + ">\n";
    }
    std::string operator()(const ReportText& text) const { return (text.caution ? "<p class=\"caution\">" : "<p>") + as_page_text(text.text) + "</p>\n"; }
    std::string operator()(const ReportTable& table) const {
        std::string html = "<div class=\"wide\"><table>";
        if (!table.caption.empty()) html += "<caption>" + as_page_text(table.caption) + "</caption>";
        const auto cells = [&](const std::vector<std::string>& row, const char* tag) {
            std::string text = "<tr>";
            for (std::size_t i = 0; i < row.size(); ++i) text += std::string("<") + tag + (table.figures[i] ? " class=\"figure\">" : ">") + as_page_text(row[i]) + "</" + tag + ">";
            return text + "</tr>\n";
        };
        bool titled = false;
        for (const auto& title : table.head) titled = titled || !title.empty();
        if (titled) html += "<thead>" + cells(table.head, "th") + "</thead>";
        html += "<tbody>";
        for (const auto& row : table.rows) html += cells(row, "td");
        return html + "</tbody></table></div>\n";
    }
    std::string operator()(const ReportPicture& shown) const { return "<figure>" + picture(shown) + "<figcaption>" + as_page_text(shown.caption + ". " + shown.words) + "</figcaption></figure>\n"; }
};

}  // namespace

std::string report_json(const Report& report) {
    Json items = Json::array();
    for (const auto& item : report.items) items.push_back(std::visit(AsJson{}, item));
    Json json{{"title", report.title}, {"language", report.language}, {"program", report.program}, {"date", report.date}};
    if (report.office) json["office"] = {{"name", report.office->office}, {"contact", report.office->contact}, {"foot", report.office->foot}};
    json["items"] = items;
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string report_csv(const Report& report) {
    std::string csv = csv_row({report.title, report.program, report.date});
    for (const auto& item : report.items)
        if (const auto* table = std::get_if<ReportTable>(&item)) {
            csv += "\r\n" + csv_row({table->caption}) + csv_row(table->head);
            for (const auto& row : table->rows) csv += csv_row(row);
        }
    return csv;
}

std::string report_part::page_begin(const std::string& title, const std::string& program, const std::string& language) {
    return "<!DOCTYPE html>\n<html lang=\"" + language + "\">\n<head>\n<meta charset=\"utf-8\" />\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\" />\n<meta name=\"generator\" content=\"" + as_page_text(program) +
           "\" />\n<title>" + as_page_text(title) + "</title>\n<style>" + style;
}

std::string report_part::office_head(const OfficeTemplate& office) {
    if (!office.has_head()) return {};
    std::string html = "<header class=\"office\">";
    if (office.logo) html += "<img alt=\"" + as_page_text(office.office.empty() ? say("template-logo") : say("template-logo-of", {{"office", office.office}})) + "\" src=\"" + office.logo_address() + "\" />";
    html += "<p>";
    if (!office.office.empty()) html += "<strong>" + as_page_text(office.office) + "</strong>";
    bool first = office.office.empty();
    for (const std::string& line : office.contact) {
        html += (first ? "" : "<br />") + as_page_text(line);
        first = false;
    }
    return html + "</p></header>\n";
}

std::string report_html(const Report& report, const std::function<std::string(const ReportPicture&)>& picture) {
    std::string html = report_part::page_begin(report.title, report.program, report.language) + "</style>\n</head>\n<body>\n";
    if (report.office) html += report_part::office_head(*report.office);
    html += "<h1>" + as_page_text(report.title) + "</h1>\n";
    for (const auto& item : report.items) html += std::visit(AsHtml{picture}, item);
    if (report.office && !report.office->foot.empty()) html += "<footer>" + as_page_text(report.office->foot) + "</footer>\n";
    return html + "</body>\n</html>\n";
}

}  // namespace wallfoot
