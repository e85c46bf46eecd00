// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/dwelling/dwelling_print.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "core/text/number_entry.hpp"
#include "solver/dwelling/cells.hpp"
#include "solver/dwelling/dwelling_derive.hpp"
#include "solver/findings/derivation_print.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/version.hpp"

namespace wallfoot {

namespace {

using DwellingOut = nlohmann::ordered_json;

std::string with_sign(const std::string& text) { return text.starts_with("-") ? text : "+" + text; }

std::string span_text(const Span& span, int decimals) {
    if (!(span.high > span.low)) return fixed(span.value, decimals);
    return fixed(span.value, decimals) + " (" + fixed(rounded_down(span.low, decimals), decimals) + " to " + fixed(rounded_up(span.high, decimals), decimals) + ")";
}

DwellingOut span_json(const Span& span) { return {{"value", significant(span.value, 9)}, {"lower", significant(span.low, 9)}, {"upper", significant(span.high, 9)}}; }
DwellingOut span_json(const std::optional<Span>& span) { return span ? span_json(*span) : DwellingOut(); }
DwellingOut told_json(const Message& message) { return {{"code", message.code}, {"text", english(message)}}; }

std::string count_of(std::size_t count, const char* one, const char* many) { return std::to_string(count) + " " + (count == 1 ? one : many); }

DwellingOut row_json(const Junction& junction, const RowResult& row, const std::vector<JunctionKind>& kinds) {
    DwellingOut json{{"id", junction.id}, {"kind", junction.kind}, {"name", shown_name(junction, kinds)}, {"standing", word_of(standing_words, row.standing)}};
    const auto* point = std::get_if<PointValue>(&junction.value);
    if (point) json["count"] = point->count;
    else json["length"] = junction.length ? DwellingOut(*junction.length) : DwellingOut();
    json[row.point ? "chi" : "psi"] = span_json(row.value);
    json["loss"] = span_json(row.loss);
    json["from"] = dwelling_source_text(junction);
    if (!row.why.code.empty()) json["why"] = told_json(row.why);
    json["notes"] = DwellingOut::array();
    for (const Message& note : row.notes) json["notes"].push_back(told_json(note));
    return json;
}

}  // namespace

std::string standing_text(Standing standing) {
    switch (standing) {
        case Standing::stated: return "as stated";
        case Standing::current: return "up to date";
        case Standing::out_of_date: return "OUT OF DATE";
        case Standing::open: return "OPEN";
    }
    return {};
}

std::string flanking_text(const std::string& element) {
    // The user's own names stand for themselves.
    for (const char* side : {"top", "bottom"})
        if (element == side || element.starts_with(std::string(side) + "-")) return "wall at the " + element;
    for (const char* side : {"left", "right"})
        if (element == side || element.starts_with(std::string(side) + "-")) return "floor or roof on the " + element;
    return element;
}

std::string dwelling_value_text(const RowResult& row) {
    if (!row.value) return "open";
    // A range that a source states need not be even; that of a study is its proven bracket.
    if (row.value->high > row.value->low && row.standing == Standing::stated) return with_sign(number_text(row.value->value, 6)) + " (" + with_sign(number_text(row.value->low, 6)) + " to " + with_sign(number_text(row.value->high, 6)) + ")";
    if (row.value->high > row.value->low) return with_sign(with_bracket({row.value->value, row.value->low, row.value->high}));
    return with_sign(number_text(row.value->value, 6));
}

std::string dwelling_loss_text(const RowResult& row) { return row.loss ? with_sign(fixed(row.loss->value, 3)) : "open"; }

std::string dwelling_source_text(const Junction& junction) {
    if (const auto* study = std::get_if<FromStudy>(&junction.value)) return study->file + ", variant " + study->variant + (study->last ? ", " + study->last->date : "");
    if (const auto* elsewhere = std::get_if<FromElsewhere>(&junction.value)) return word_of(value_basis_words, elsewhere->basis) + ": " + elsewhere->source;
    if (const auto* point = std::get_if<PointValue>(&junction.value)) return word_of(value_basis_words, point->basis) + ": " + point->source;
    return "";
}

std::vector<DwellingLine> dwelling_lines(const Dwelling& dwelling, const Balance& sums) {
    const std::string least = sums.open() > 0 ? "at least " : "";
    if (std::none_of(sums.rows.begin(), sums.rows.end(), [](const RowResult& row) { return row.loss.has_value(); })) return {{"Σ psi·l", "no row with length and value yet", ""}};
    std::vector<DwellingLine> lines{{least + "Σ psi·l", span_text(sums.lines, 3), "W/K"}};
    if (std::any_of(sums.rows.begin(), sums.rows.end(), [](const RowResult& row) { return row.point; })) lines.push_back({least + "Σ chi·n", span_text(sums.points, 3), "W/K"});
    const auto add = [&](const std::string& name, const std::optional<Span>& span, double factor, int decimals, const std::string& unit) {
        if (span) lines.push_back({least + name, span_text({span->value * factor, span->low * factor, span->high * factor}, decimals), unit});
    };
    add("y, Σ psi·l over Σ A of " + number_text(sums.area, 2) + " m²", sums.y, 1, 4, "W/(m²·K)");
    if (sums.y) lines.push_back({"Σ A·U, plane elements", fixed(sums.plane, 2), "W/K"});
    add("H, all transmission", sums.total, 1, 2, "W/K");
    add("share of the junctions in it", sums.share, 100, 1, "%");
    add("heat through the junctions", sums.energy, 1, 0, "kWh per year");
    add("heat by all transmission", sums.total_energy, 1, 0, "kWh per year");
    add("cost of that through the junctions", sums.cost, 1, 2, (dwelling.currency.empty() ? "" : dwelling.currency + " ") + "per year");
    add("carbon of that through the junctions", sums.carbon, 1, 1, "kg CO2 per year");
    return lines;
}

std::string measure_text(const Dwelling& dwelling, const MeasureResult& measure) {
    if (!measure.loss) return "open: " + english(measure.why);
    std::string text = "saves " + span_text(*measure.loss, 3) + " W/K";
    const std::string money = dwelling.currency.empty() ? "" : " " + dwelling.currency;
    if (measure.energy) text += ", " + span_text(*measure.energy, 0) + " kWh";
    if (measure.cost) text += ", " + span_text(*measure.cost, 2) + money;
    if (measure.carbon) text += ", " + span_text(*measure.carbon, 1) + " kg CO2";
    if (measure.energy) text += " per year";
    if (measure.payback) text += "; its cost comes back in " + fixed(*measure.payback, 1) + " years, without interest and at today's price";
    if (measure.out_of_date) text += " (a value is out of date)";
    return text;
}

std::vector<std::string> dwelling_remarks(const Dwelling& dwelling, const Balance& sums) {
    std::vector<std::string> remarks;
    if (sums.open() > 0)
        remarks.push_back(count_of(sums.open(), "junction is", "junctions are") + " open and in no sum: read each sum as the least. Only an open junction whose psi is below zero, such as an outward corner by external lengths, could make it smaller.");
    if (sums.out_of_date > 0) remarks.push_back(count_of(sums.out_of_date, "value is", "values are") + " out of date: the last value is counted.");
    if (sums.y) remarks.push_back("y holds psi times length alone; point transmittances stand in H.");
    if (sums.energy && !dwelling.degree_days->base.empty()) remarks.push_back("Degree days: " + dwelling.degree_days->base + " (" + dwelling.degree_days->source + ").");
    else if (sums.energy) remarks.push_back("Degree days: " + dwelling.degree_days->source + ".");
    if (dwelling.energy_price) remarks.push_back("Price of energy: " + number_text(dwelling.energy_price->value, 6) + " " + dwelling.currency + " per kWh, " + dwelling.energy_price->date + " (" + dwelling.energy_price->source + ").");
    if (dwelling.carbon_factor) remarks.push_back("Carbon: " + number_text(dwelling.carbon_factor->value, 6) + " kg CO2 per kWh, " + dwelling.carbon_factor->date + " (" + dwelling.carbon_factor->source + ").");
    if ((dwelling.energy_price || dwelling.carbon_factor) && !dwelling.efficiency) remarks.push_back("No efficiency of the heating is stated: a kWh of heat is taken for a kWh delivered.");
    return remarks;
}

std::string dwelling_table(const Dwelling& dwelling, const Balance& sums) {
    const auto kinds = junction_kinds();
    std::string text = (dwelling.name.empty() ? "Dwelling" : dwelling.name) + "\n" + std::string("lengths: ") + word_of(dwelling_length_words, dwelling.lengths) + "\n\n";
    std::vector<std::array<std::string, 6>> cells{{"Junction", "length, m", "psi, W/(m·K)", "W/K", "standing", "from"}};
    for (std::size_t j = 0; j < sums.rows.size(); ++j) {
        const Junction& junction = dwelling.junctions[j];
        const auto* point = std::get_if<PointValue>(&junction.value);
        cells.push_back({shown_name(junction, kinds), point ? "× " + number_text(point->count) : junction.length ? number_text(*junction.length) : "open", dwelling_value_text(sums.rows[j]), dwelling_loss_text(sums.rows[j]), standing_text(sums.rows[j].standing),
                         dwelling_source_text(junction)});
    }
    for (const std::string& kind : sums.open_kinds) cells.push_back({kind_name(kinds, kind), "", "open", "open", standing_text(Standing::open), "no row yet"});
    std::array<std::size_t, 5> widths{};
    for (const auto& row : cells)
        for (std::size_t c = 0; c < widths.size(); ++c) widths[c] = std::max(widths[c], characters_of(row[c]) + 2);
    for (const auto& row : cells) {
        text += "  ";
        for (std::size_t c = 0; c < widths.size(); ++c) text += padded(row[c], widths[c]);
        text += row.back() + "\n";
    }
    for (std::size_t j = 0; j < sums.rows.size(); ++j) {
        const std::string name = "  " + shown_name(dwelling.junctions[j], kinds) + ": ";
        if (!sums.rows[j].why.code.empty()) text += name + english(sums.rows[j].why) + "\n";
        for (const Message& note : sums.rows[j].notes) text += name + english(note) + "\n";
    }
    text += "\n";
    for (const DwellingLine& line : dwelling_lines(dwelling, sums)) text += "  " + padded(line.name, 48) + padded(line.value, 28) + line.unit + "\n";
    text += "\n";
    for (const std::string& equation : balance_equations(dwelling, sums)) text += "  " + equation + "\n";
    for (std::size_t m = 0; m < sums.measures.size(); ++m) text += (m == 0 ? "\n  " : "  ") + (dwelling.measures[m].name.empty() ? dwelling.measures[m].id : dwelling.measures[m].name) + ": " + measure_text(dwelling, sums.measures[m]) + "\n";
    text += "\n";
    for (const std::string& remark : dwelling_remarks(dwelling, sums)) text += "  " + remark + "\n";
    return text;
}

std::string dwelling_csv(const Dwelling& dwelling, const Balance& sums) {
    const auto kinds = junction_kinds();
    std::string csv = "id,kind,name,length or count,psi or chi,lower,upper,loss,loss lower,loss upper,standing,from\r\n";
    const auto three = [](const std::optional<Span>& span) { return span ? number_text(span->value, 9) + "," + number_text(span->low, 9) + "," + number_text(span->high, 9) : std::string(",,"); };
    for (std::size_t j = 0; j < sums.rows.size(); ++j) {
        const Junction& junction = dwelling.junctions[j];
        const auto* point = std::get_if<PointValue>(&junction.value);
        csv += csv_cell(junction.id) + "," + csv_cell(junction.kind) + "," + csv_cell(shown_name(junction, kinds)) + "," + (point ? number_text(point->count, 9) : junction.length ? number_text(*junction.length, 9) : "") + "," + three(sums.rows[j].value) + "," +
               three(sums.rows[j].loss) + "," + word_of(standing_words, sums.rows[j].standing) + "," + csv_cell(dwelling_source_text(junction)) + "\r\n";
    }
    for (const std::string& kind : sums.open_kinds) csv += "," + csv_cell(kind) + "," + csv_cell(kind_name(kinds, kind)) + ",,,,,,,,open,\r\n";
    return csv;
}

std::string dwelling_json(const Dwelling& dwelling, const std::string& path, const Balance& sums) {
    const auto kinds = junction_kinds();
    DwellingOut json{{"program", std::string("wallfoot ") + program_version}, {"dwelling", path}, {"name", dwelling.name}, {"lengths", word_of(dwelling_length_words, dwelling.lengths)}, {"complete", sums.open() == 0 && sums.out_of_date == 0}};
    json["junctions"] = json["open_kinds"] = json["measures"] = json["equations"] = json["remarks"] = DwellingOut::array();
    for (std::size_t j = 0; j < sums.rows.size(); ++j) json["junctions"].push_back(row_json(dwelling.junctions[j], sums.rows[j], kinds));
    for (const std::string& kind : sums.open_kinds) json["open_kinds"].push_back({{"kind", kind}, {"name", kind_name(kinds, kind)}});
    json["open"] = sums.open();
    json["out_of_date"] = sums.out_of_date;
    json["sums"] = {{"lines", span_json(sums.lines)}, {"points", span_json(sums.points)}, {"area", sums.area}, {"plane", significant(sums.plane, 9)}, {"y", span_json(sums.y)}, {"H", span_json(sums.total)}, {"share", span_json(sums.share)},
                    {"energy", span_json(sums.energy)}, {"total_energy", span_json(sums.total_energy)}, {"cost", span_json(sums.cost)}, {"total_cost", span_json(sums.total_cost)}, {"carbon", span_json(sums.carbon)}, {"total_carbon", span_json(sums.total_carbon)}};
    for (std::size_t m = 0; m < sums.measures.size(); ++m) {
        const MeasureResult& result = sums.measures[m];
        DwellingOut measure{{"id", dwelling.measures[m].id}, {"name", dwelling.measures[m].name}, {"loss", span_json(result.loss)}, {"energy", span_json(result.energy)}, {"cost", span_json(result.cost)}, {"carbon", span_json(result.carbon)}};
        measure["payback"] = result.payback ? DwellingOut(significant(*result.payback, 6)) : DwellingOut();
        if (!result.why.code.empty()) measure["why"] = told_json(result.why);
        json["measures"].push_back(std::move(measure));
    }
    for (const std::string& equation : balance_equations(dwelling, sums)) json["equations"].push_back(equation);
    json["derivations"] = DwellingOut::object();
    for (const Derivation& derivation : dwelling_derivations(dwelling, sums)) json["derivations"][derivation.of] = DwellingOut::parse(derivation_json(derivation));
    for (const std::string& remark : dwelling_remarks(dwelling, sums)) json["remarks"].push_back(remark);
    return json.dump(2) + "\n";
}

}  // namespace wallfoot
