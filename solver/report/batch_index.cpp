// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/report/batch_index.hpp"

#include <algorithm>

#include "solver/findings/version.hpp"
#include "solver/report/parts.hpp"

namespace wallfoot {

namespace {

using report_part::as_page_text;
using report_part::say;

/// A name of a file as an address (RFC 3986): what is no letter, digit or one of -._~ in hex.
std::string as_address(const std::string& name) {
    constexpr const char* hex = "0123456789ABCDEF";
    std::string address;
    for (const char letter : name) {
        const auto byte = static_cast<unsigned char>(letter);
        const bool plain = (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9') || letter == '-' || letter == '.' || letter == '_' || letter == '~';
        if (plain) address += letter;
        else (((address += '%') += hex[byte >> 4])) += hex[byte & 15];
    }
    return address;
}

/// Figures stay on one line; a reason in their place may break.
std::string figure_cell(const std::string& text) { return std::string(text.find("±") == std::string::npos ? "<td>" : "<td class=\"figure\">") + as_page_text(text) + "</td>"; }

std::string with_estimate(const SurfaceFinding& surface) {
    const auto words = report_part::factor_words(surface);
    return words.value + " ± " + words.estimate;
}

std::string state_of(const BatchRow& row) {
    std::string state = row.stopped ? as_page_text(row.failed) : !row.failed.empty() ? "<strong>" + as_page_text(say("batch-failed", {{"reason", row.failed}})) + "</strong>" : as_page_text(say(row.converged ? "batch-made" : "batch-made-wide"));
    for (const std::string& note : row.notes) state += "<br />" + as_page_text(note);
    return state;
}

}  // namespace

void tell_answers(BatchRow& row, const ReportSource& source) {
    row.title = source.study->title.empty() ? say("report-untitled") : source.study->title;
    row.enquiry = source.study->project ? source.study->project->enquiry : "";
    row.answers.clear();
    row.converged = true;
    for (const auto& findings : source.findings) {
        const SurfaceFinding* surface = findings->headline_surface();
        row.answers.push_back({findings->variant_name, report_part::psi_words(*findings), surface && surface->fRsi ? with_estimate(*surface) : "–"});
        row.converged = row.converged && findings->converged;
    }
}

BatchCount batch_count(const std::vector<BatchRow>& rows) {
    BatchCount count;
    for (const BatchRow& row : rows) ++(row.stopped ? count.stopped : row.failed.empty() ? count.made : count.failed);
    return count;
}

std::string batch_stopped_words(const BatchCount& count) {
    return say("batch-stopped-count", {{"made", std::to_string(count.made)}, {"failed", std::to_string(count.failed)}, {"open", std::to_string(count.stopped)}});
}

std::string batch_index_html(const std::vector<BatchRow>& rows, const std::string& date, const OfficeTemplate* office) {
    const std::string program = std::string("wallfoot ") + program_version;
    std::string html = report_part::page_begin(say("batch-title"), program, "en") + "body { max-width: 90rem; } th, td { overflow-wrap: break-word; } td.figure { white-space: nowrap; }\n</style>\n</head>\n<body>\n";
    if (office) html += report_part::office_head(*office);
    const BatchCount count = batch_count(rows);
    html += "<h1>" + as_page_text(say("batch-title")) + "</h1>\n<p>" + as_page_text(say("batch-about", {{"count", std::to_string(rows.size())}, {"failed", std::to_string(count.failed)}, {"date", date}, {"program", program}})) + "</p>\n" +
            (count.stopped > 0 ? "<p><strong>" + as_page_text(batch_stopped_words(count)) + "</strong></p>\n<p>" : "<p>") +
            as_page_text(say("batch-reading")) + "</p>\n<div class=\"wide\"><table><thead><tr>";
    for (const char* head : {"batch-study", "report-enquiry", "report-variant", "report-psi", "report-fRsi", "batch-files", "batch-state"})
        html += std::string(std::string_view(head) == "report-psi" || std::string_view(head) == "report-fRsi" ? "<th scope=\"col\" class=\"figure\">" : "<th scope=\"col\">") + as_page_text(say(head)) + "</th>";
    html += "</tr></thead>\n<tbody>\n";
    for (const BatchRow& row : rows) {
        std::string links;
        for (const std::string& name : row.made) links += (links.empty() ? "" : "<br />") + ("<a href=\"" + as_address(name) + "\">" + as_page_text(name) + "</a>");
        const std::size_t lines = std::max<std::size_t>(1, row.answers.size());
        for (std::size_t line = 0; line < lines; ++line) {
            const BatchRow::Answer answer = line < row.answers.size() ? row.answers[line] : BatchRow::Answer{"–", "–", "–"};
            const std::string span = lines > 1 ? "<td rowspan=\"" + std::to_string(lines) + "\">" : "<td>";
            html += "<tr>";
            if (line == 0) html += span + as_page_text(row.title.empty() ? row.file : row.title + "\n" + row.file) + "</td>" + span + as_page_text(row.enquiry.empty() ? "–" : row.enquiry) + "</td>";
            html += "<td>" + as_page_text(answer.variant) + "</td>" + figure_cell(answer.psi) + figure_cell(answer.fRsi);
            if (line == 0) html += span + (links.empty() ? "–" : links) + "</td>" + span + state_of(row) + "</td>";
            html += "</tr>\n";
        }
    }
    html += "</tbody></table></div>\n";
    if (office && !office->foot.empty()) html += "<footer>" + as_page_text(office->foot) + "</footer>\n";
    return html + "</body>\n</html>\n";
}

}  // namespace wallfoot
