// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <nlohmann/json.hpp>

#include "solver/dwelling/cells.hpp"
#include "solver/dwelling/dwelling_print.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/numbers.hpp"

namespace wallfoot {

namespace {

using TransferOut = nlohmann::ordered_json;
using TransferLine = std::vector<std::string>;

TransferLine head_of(const TransferSheet& sheet) {
    TransferLine head;
    for (const auto& column : sheet.used.columns) head.push_back(column.name);
    return head;
}
TransferLine cells_of(const TransferSheet& sheet, std::size_t row) {
    TransferLine cells;
    for (const auto& column : sheet.used.columns) cells.push_back(transfer_cell(sheet, row, column.what));
    return cells;
}

/// Flanking elements as lines, with a head; numbers by the template.
std::vector<TransferLine> flanking_lines(const Dwelling& dwelling, const TransferSheet& sheet) {
    const auto kinds = junction_kinds();
    const char sign = sheet.used.decimal_sign;
    std::vector<TransferLine> lines{{"Junction", "element", "U study", "U calculation", "ΔU", "h, m", "−h·ΔU on psi"}};
    const auto U_text = [&](double U, bool with_sign) { return typed_text(typed(U, sheet.used.U_decimals + 1, RoundingMode::half_away), with_sign, sign); };
    for (const FlankingEffect& effect : sheet.flanking) {
        lines.push_back({shown_name(dwelling.junctions[effect.junction], kinds), flanking_text(effect.element), U_text(effect.U, false), effect.U_used ? U_text(*effect.U_used, false) : "not stated", effect.difference ? U_text(*effect.difference, true) : "–",
                         typed_text(typed(effect.length, sheet.used.length_decimals, RoundingMode::half_away), false, sign), effect.effect ? typed_text(typed(*effect.effect, sheet.used.psi_decimals, RoundingMode::half_away), true, sign) : "–"});
    }
    return lines;
}

std::string table_of(const std::vector<TransferLine>& lines) {
    std::vector<std::size_t> widths;
    for (const TransferLine& line : lines) {
        widths.resize(std::max(widths.size(), line.size()));
        for (std::size_t c = 0; c < line.size(); ++c) widths[c] = std::max(widths[c], characters_of(line[c]) + 2);
    }
    std::string text;
    for (const TransferLine& line : lines) {
        std::string row = "  ";
        for (std::size_t c = 0; c < line.size(); ++c) row += padded(line[c], widths[c]);
        while (row.back() == ' ') row.pop_back();
        text += row + "\n";
    }
    return text;
}

/// A paragraph in lines that a window or terminal shows whole.
std::string in_lines(const std::string& paragraph, const std::string& begin) {
    constexpr std::size_t width = 96;
    std::string text = begin;
    std::size_t used = 0;
    for (std::size_t from = 0; from < paragraph.size();) {
        const std::size_t to = std::min(paragraph.find(' ', from), paragraph.size());
        const std::string word = paragraph.substr(from, to - from);
        if (used > 0 && used + 1 + characters_of(word) > width) {
            text += "\n" + std::string(begin.size(), ' ');
            used = 0;
        }
        text += (used > 0 ? " " : "") + word;
        used += (used > 0 ? 1 : 0) + characters_of(word);
        from = to + 1;
    }
    return text + "\n";
}

std::string csv_line(const TransferLine& line, char divider) {
    std::string text;
    for (std::size_t c = 0; c < line.size(); ++c) text += (c > 0 ? std::string(1, divider) : "") + csv_cell(line[c], divider);
    return text + "\r\n";
}

}  // namespace

std::vector<std::string> transfer_checks(const TransferSheet& sheet) {
    const char sign = sheet.used.decimal_sign;
    const std::string decimals = std::to_string(sheet.used.sum_decimals) + (sheet.used.sum_decimals == 1 ? " decimal" : " decimals");
    const auto lines = std::count_if(sheet.rows.begin(), sheet.rows.end(), [](const TransferRow& row) { return row.product && !row.point; });
    const auto points = std::count_if(sheet.rows.begin(), sheet.rows.end(), [](const TransferRow& row) { return row.product && row.point; });
    std::vector<std::string> checks{"Check sum: " + typed_text(sheet.check_sum, true, sign) + " W/K: each psi times its length, both as they stand here, added up and then rounded to " + decimals + ". The calculation should show the same once all is typed.",
                                    "Lengths: " + typed_text(sheet.length_sum, false, sign) + " m in " + std::to_string(lines) + (lines == 1 ? " row." : " rows.")};
    if (points > 0) checks.push_back("Point transmittances: " + typed_text(sheet.point_sum, true, sign) + " W/K in " + std::to_string(points) + (points == 1 ? " row: chi times its count, likewise." : " rows: each chi times its count, likewise."));
    return checks;
}

std::string transfer_text(const Dwelling& dwelling, const TransferSheet& sheet) {
    std::string text = (dwelling.name.empty() ? "Dwelling" : dwelling.name) + ": " + sheet.used.name + "\nlengths: " + word_of(dwelling_length_words, sheet.used.lengths) + "\n";
    for (const Message& note : sheet.notes) text += in_lines(english(note), "! ");
    std::vector<TransferLine> lines{head_of(sheet)};
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) lines.push_back(cells_of(sheet, r));
    text += "\n" + table_of(lines);
    for (const std::string& kind : sheet.open_kinds) text += "  open: " + kind + "\n";
    text += "\n";
    for (const std::string& check : transfer_checks(sheet)) text += in_lines(check, "  ");
    if (sheet.flanking.empty()) return text;
    text += "\n" + in_lines("U of the flanking elements, W/(m²·K). psi holds with the U of its study. Where the calculation uses another U for the element as drawn, psi with that U is the psi above plus −h·ΔU; where it only adds corrections for ties, fixings or gaps, psi stays.", "  ");
    return text + table_of(flanking_lines(dwelling, sheet));
}

std::string transfer_csv(const Dwelling& dwelling, const TransferSheet& sheet) {
    const char divider = sheet.used.decimal_sign == ',' ? ';' : ',';
    std::string csv = csv_line(head_of(sheet), divider);
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) csv += csv_line(cells_of(sheet, r), divider);
    for (const std::string& kind : sheet.open_kinds) csv += csv_line({"open", kind}, divider);
    for (const std::string& check : transfer_checks(sheet)) csv += csv_line({check}, divider);
    if (!sheet.flanking.empty())
        for (const TransferLine& line : flanking_lines(dwelling, sheet)) csv += csv_line(line, divider);
    return csv;
}

std::string transfer_json(const Dwelling& dwelling, const TransferSheet& sheet) {
    TransferOut json{{"template", sheet.used.id}, {"name", dwelling.name}, {"lengths", word_of(dwelling_length_words, sheet.used.lengths)}, {"columns", head_of(sheet)}};
    json["rows"] = json["flanking"] = json["notes"] = TransferOut::array();
    for (std::size_t r = 0; r < sheet.rows.size(); ++r) json["rows"].push_back({{"id", dwelling.junctions[sheet.rows[r].junction].id}, {"standing", word_of(standing_words, sheet.rows[r].standing)}, {"cells", cells_of(sheet, r)}});
    json["open_kinds"] = sheet.open_kinds;
    json["check_sum"] = typed_text(sheet.check_sum, true);
    json["length_sum"] = typed_text(sheet.length_sum, false);
    json["point_sum"] = typed_text(sheet.point_sum, true);
    for (const FlankingEffect& effect : sheet.flanking) {
        TransferOut entry{{"id", dwelling.junctions[effect.junction].id}, {"element", effect.element}, {"U_study", significant(effect.U, 6)}, {"length", effect.length}};
        entry["U_calculation"] = effect.U_used ? TransferOut(*effect.U_used) : TransferOut();
        entry["difference"] = effect.difference ? TransferOut(significant(*effect.difference, 6)) : TransferOut();
        entry["effect"] = effect.effect ? TransferOut(significant(*effect.effect, 6)) : TransferOut();
        json["flanking"].push_back(std::move(entry));
    }
    for (const Message& note : sheet.notes) json["notes"].push_back({{"code", note.code}, {"text", english(note)}});
    json["checks"] = transfer_checks(sheet);
    return json.dump(2) + "\n";
}

}  // namespace wallfoot
