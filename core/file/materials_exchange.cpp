// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/materials_exchange.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "core/file/material_table.hpp"
#include "core/file/study_file.hpp"
#include "core/study/names.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

using Json = nlohmann::ordered_json;
using Row = std::vector<std::string>;

constexpr std::array columns{"id", "name", "kind", "axis", "condition", "lambda", "low", "high", "basis", "moisture_by", "moisture", "fractile", "source",
                             "density", "heat_capacity", "strength", "sorptivity", "frost", "aggregate", "assessed", "capillary"};
/// Numbers of the material itself, flags and texts, by the names of the study file.
constexpr std::array numbers{"density", "heat_capacity", "strength", "sorptivity"};
constexpr std::array texts{"frost", "aggregate"};
constexpr std::array flags{"assessed", "capillary"};

[[noreturn]] void refuse(const std::string& code, std::map<std::string, std::string> args) { throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); }

std::string number(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.10g", value);
    return text;
}

std::string field(const std::string& text) {
    if (text.find_first_of(",;\t\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + "\"";
}

std::string line_of(const Row& row) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) line += (i > 0 ? "," : "") + field(row[i]);
    return line + "\r\n";
}

void put(Row& row, const std::string& column, const std::string& text) { row[static_cast<std::size_t>(std::find(columns.begin(), columns.end(), column) - columns.begin())] = text; }

Row row_of(const Material& material) {
    Row row(columns.size());
    put(row, "id", material.id);
    put(row, "name", material.name);
    put(row, "kind", to_string(material.kind));
    if (material.density) put(row, "density", number(*material.density));
    if (material.heat_capacity) put(row, "heat_capacity", number(*material.heat_capacity));
    if (material.strength) put(row, "strength", number(*material.strength));
    if (material.sorptivity) put(row, "sorptivity", number(*material.sorptivity));
    put(row, "frost", material.frost.value_or(""));
    put(row, "aggregate", material.aggregate.value_or(""));
    if (material.assessed) put(row, "assessed", *material.assessed ? "yes" : "no");
    if (material.capillary) put(row, "capillary", *material.capillary ? "yes" : "no");
    return row;
}

void add_rows(std::string& csv, const Material& material, const Conductivities& all, const char* axis) {
    for (const auto& [condition, lambda] : all.by_condition) {
        Row row = row_of(material);
        put(row, "axis", axis);
        if (!all.bare) put(row, "condition", to_string(condition));
        put(row, "lambda", number(lambda.value));
        if (lambda.low) put(row, "low", number(*lambda.low));
        if (lambda.high) put(row, "high", number(*lambda.high));
        put(row, "basis", to_string(lambda.basis));
        if (lambda.moisture) {
            put(row, "moisture_by", word_of(moisture_by_words, lambda.moisture->by));
            put(row, "moisture", number(lambda.moisture->value));
        }
        if (lambda.fractile) put(row, "fractile", number(*lambda.fractile));
        put(row, "source", lambda.source);
        csv += line_of(row);
    }
}

/// Rows of fields with the line each begins on; the divider is the first of tab, semicolon and comma that the head has.
std::vector<std::pair<std::size_t, Row>> split(const std::string& text) {
    const std::string head = text.substr(0, text.find('\n'));
    const char divider = head.find('\t') != std::string::npos ? '\t' : head.find(';') != std::string::npos ? ';' : ',';
    std::vector<std::pair<std::size_t, Row>> rows;
    std::size_t line = 1, begun = 1;
    Row row(1);
    bool quoted = false;
    const auto end_row = [&] {
        if (row.size() > 1 || !row[0].empty()) rows.emplace_back(begun, row);
        row.assign(1, "");
    };
    for (std::size_t i = text.starts_with("\xEF\xBB\xBF") ? 3 : 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '\n') ++line;
        if (quoted) {
            if (c != '"') row.back() += c;
            else if (i + 1 < text.size() && text[i + 1] == '"') row.back() += text[++i];
            else quoted = false;
        } else if (c == '"' && row.back().empty()) quoted = true;
        else if (c == divider) row.emplace_back();
        else if (c == '\n') {
            end_row();
            begun = line;
        } else if (c != '\r') row.back() += c;
    }
    if (quoted) refuse("csv-row", {{"line", std::to_string(begun)}, {"reason", "a quotation mark is not closed"}});
    end_row();
    return rows;
}

/// One row of the table under the names of its columns.
class TableRow {
  public:
    TableRow(const Row& head, const Row& row, std::size_t line) : head_(head), row_(row), line_(line) {}
    std::string text(const char* column) const {
        const auto at = std::find(head_.begin(), head_.end(), column);
        const auto index = static_cast<std::size_t>(at - head_.begin());
        return at == head_.end() || index >= row_.size() ? "" : row_[index];
    }
    std::optional<double> number(const char* column) const {
        const std::string typed = text(column);
        if (typed.empty()) return {};
        const Entry entry = parse_number(typed);
        if (!entry) fail(std::string(column) + ": \"" + typed + "\" is no number");
        return *entry.value;
    }
    std::optional<bool> flag(const char* column) const {
        const std::string typed = text(column);
        if (typed.empty()) return {};
        if (typed != "yes" && typed != "no" && typed != "true" && typed != "false") fail(std::string(column) + ": \"" + typed + "\" is neither yes nor no");
        return typed == "yes" || typed == "true";
    }
    [[noreturn]] void fail(const std::string& reason) const { refuse("csv-row", {{"line", std::to_string(line_)}, {"reason", reason}}); }

  private:
    const Row& head_;
    const Row& row_;
    std::size_t line_;
};

void put_lambda(Json& material, const TableRow& row) {
    const auto value = row.number("lambda");
    if (!value) return;
    Json lambda{{"value", *value}};
    for (const char* name : {"low", "high", "fractile"})
        if (const auto given = row.number(name)) lambda[name] = *given;
    if (const auto basis = row.text("basis"); !basis.empty() && basis != word_of(basis_words, Basis::not_stated)) lambda["basis"] = basis;
    if (const auto moisture = row.number("moisture")) lambda["moisture"] = {{"by", row.text("moisture_by")}, {"value", *moisture}};
    if (const auto source = row.text("source"); !source.empty()) lambda["source"] = source;
    const std::string axis = row.text("axis"), condition = row.text("condition").empty() ? "dry" : row.text("condition");
    if (axis != "" && axis != "across" && axis != "up") row.fail("axis: \"" + axis + "\" is neither across nor up");
    Json& by_condition = material[axis == "up" ? "lambda_up" : "lambda"];
    if (by_condition.contains(condition)) row.fail("a second value for " + condition);
    // Without a condition and nothing beside it, it is the bare number that holds as the kind says.
    if (row.text("condition").empty() && lambda.size() == 1) by_condition = *value;
    else by_condition[condition] = lambda;
}

}  // namespace

std::string materials_json(const std::vector<Material>& materials) {
    Study study;
    for (const Material& material : materials)
        if (material.mix.empty()) study.materials.push_back(material);
    const Json whole = Json::parse(write_study(study));
    return Json{{"about", "materials of a study"}, {"materials", whole.value("materials", Json::array())}}.dump(2) + "\n";
}

std::vector<Material> read_materials_json(const std::string& text) { return read_material_list(text); }

std::string materials_csv(const std::vector<Material>& materials) {
    std::string csv = line_of(Row(columns.begin(), columns.end()));
    for (const Material& material : materials) {
        add_rows(csv, material, material.lambda, "across");
        add_rows(csv, material, material.lambda_up, "up");
        if (material.lambda.by_condition.empty() && material.lambda_up.by_condition.empty()) csv += line_of(row_of(material));
    }
    return csv;
}

std::vector<std::string> csv_leaves_out(const std::vector<Material>& materials) {
    std::vector<std::string> names;
    for (const Material& material : materials) {
        bool extra = !material.extra.empty();
        for (const auto* all : {&material.lambda, &material.lambda_up})
            for (const auto& [condition, lambda] : all->by_condition) extra = extra || !lambda.extra.empty() || (lambda.moisture && !lambda.moisture->extra.empty());
        if (extra || !material.mix.empty() || material.conversion || !material.evidence.empty()) names.push_back(shown_name(material));
    }
    return names;
}

std::vector<Material> read_materials_csv(const std::string& text) {
    const auto rows = split(text);
    if (rows.empty() || std::find(rows[0].second.begin(), rows[0].second.end(), "kind") == rows[0].second.end()) refuse("csv-no-head", {{"columns", "id, name, kind, condition, lambda, …"}});
    const Row& head = rows[0].second;
    for (const auto& column : head)
        if (std::find(columns.begin(), columns.end(), column) == columns.end()) refuse("csv-column-unknown", {{"column", column}});
    Json materials = Json::array();
    std::map<std::string, std::size_t> index;
    std::vector<std::size_t> lines;
    for (std::size_t r = 1; r < rows.size(); ++r) {
        const TableRow row(head, rows[r].second, rows[r].first);
        const std::string id = row.text("id").empty() ? row.text("name") : row.text("id");
        if (id.empty()) row.fail("neither id nor name");
        const auto [found, is_new] = index.try_emplace(id, materials.size());
        if (is_new) {
            lines.push_back(rows[r].first);
            Json material{{"id", id}, {"name", row.text("name").empty() ? id : row.text("name")}, {"kind", row.text("kind")}};
            for (const char* name : numbers)
                if (const auto value = row.number(name)) material[name] = *value;
            for (const char* name : texts)
                if (const auto value = row.text(name); !value.empty()) material[name] = value;
            for (const char* name : flags)
                if (const auto value = row.flag(name)) material[name] = *value;
            materials.push_back(std::move(material));
        }
        put_lambda(materials[found->second], row);
    }
    try {
        return read_material_list(Json{{"materials", materials}}.dump());
    } catch (const InputFault& fault) {
        // Its place as the line on which the material begins.
        const Message& first = fault.faults().front();
        std::size_t at = 0;
        if (std::sscanf(first.pointer.c_str(), "/materials/%zu", &at) != 1 || at >= lines.size()) throw;
        refuse("csv-row", {{"line", std::to_string(lines[at])}, {"reason", english(first)}});
    }
}

}  // namespace wallfoot
