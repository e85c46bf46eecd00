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
        return {{"picture", picture.shows == ReportPicture::Shows::section ? "section" : "heat"}, {"variant", picture.caption}, {"words", picture.words}};
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

std::string escaped(const std::string& text) {
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

constexpr const char* style = R"css(
body { font: 16px/1.45 "DejaVu Sans", Verdana, sans-serif; color: #1b1b1b; background: #fff; max-width: 62rem; margin: 0 auto; padding: 1rem; }
h1 { font-size: 1.7rem; } h2 { font-size: 1.25rem; margin-top: 2rem; border-bottom: 1px solid #999; } h3 { font-size: 1.05rem; }
table { border-collapse: collapse; width: 100%; margin: .6rem 0 1.2rem; font-size: .9rem; }
caption { text-align: left; font-weight: bold; padding: .3rem 0; }
th, td { border-bottom: 1px solid #bbb; padding: .25rem .5rem; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
td.figure, th.figure { text-align: right; }
p.caution { border-left: .3rem solid #1b1b1b; padding-left: .7rem; background: #f2f2f2; }
figure { margin: 1rem 0; } figure svg, figure img { max-width: 100%; height: auto; border: 1px solid #bbb; }
.wide { overflow-x: auto; }
@media print { body { max-width: none; padding: 0; font-size: 10pt; } h2, h3, caption { break-after: avoid; } tr, figure { break-inside: avoid; } thead { display: table-header-group; } }
)css";

struct AsHtml {
    const std::function<std::string(const ReportPicture&)>& picture;

    std::string operator()(const ReportHeading& heading) const {
        const char* tag = heading.level == 1 ? "h2" : "h3";
        return std::string("<") + tag + ">" + escaped(heading.text) + "</" + tag + ">\n";
    }
    std::string operator()(const ReportText& text) const { return (text.caution ? "<p class=\"caution\">" : "<p>") + escaped(text.text) + "</p>\n"; }
    std::string operator()(const ReportTable& table) const {
        std::string html = "<div class=\"wide\"><table>";
        if (!table.caption.empty()) html += "<caption>" + escaped(table.caption) + "</caption>";
        const auto cells = [&](const std::vector<std::string>& row, const char* tag) {
            std::string text = "<tr>";
            for (std::size_t i = 0; i < row.size(); ++i) text += std::string("<") + tag + (table.figures[i] ? " class=\"figure\">" : ">") + escaped(row[i]) + "</" + tag + ">";
            return text + "</tr>\n";
        };
        bool titled = false;
        for (const auto& title : table.head) titled = titled || !title.empty();
        if (titled) html += "<thead>" + cells(table.head, "th") + "</thead>";
        html += "<tbody>";
        for (const auto& row : table.rows) html += cells(row, "td");
        return html + "</tbody></table></div>\n";
    }
    std::string operator()(const ReportPicture& shown) const { return "<figure>" + picture(shown) + "<figcaption>" + escaped(shown.caption + ". " + shown.words) + "</figcaption></figure>\n"; }
};

}  // namespace

std::string report_json(const Report& report) {
    Json items = Json::array();
    for (const auto& item : report.items) items.push_back(std::visit(AsJson{}, item));
    const Json json{{"title", report.title}, {"language", report.language}, {"program", report.program}, {"date", report.date}, {"items", items}};
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

std::string report_html(const Report& report, const std::function<std::string(const ReportPicture&)>& picture) {
    std::string html = "<!DOCTYPE html>\n<html lang=\"" + report.language + "\">\n<head>\n<meta charset=\"utf-8\" />\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\" />\n<meta name=\"generator\" content=\"" +
                       escaped(report.program) + "\" />\n<title>" + escaped(report.title) + "</title>\n<style>" + style + "</style>\n</head>\n<body>\n<h1>" + escaped(report.title) + "</h1>\n";
    for (const auto& item : report.items) html += std::visit(AsHtml{picture}, item);
    return html + "</body>\n</html>\n";
}

}  // namespace wallfoot
