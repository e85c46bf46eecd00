// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/transfer.hpp"

#include <algorithm>
#include <cmath>

#include "core/file/fields.hpp"
#include "core/resources/resources.hpp"

namespace wallfoot {

namespace {

constexpr int fine_decimals = 12;  // of what is rounded: beyond them a double holds no more of a psi or a length

std::int64_t ten_to(int power) {
    std::int64_t value = 1;
    while (power-- > 0) value *= 10;
    return value;
}

/// Whole steps of `from` decimals in those of `to` decimals, fewer.
std::int64_t coarser(__int128 steps, int from, int to, RoundingMode mode) {
    const std::int64_t unit = ten_to(from - to);
    auto whole = static_cast<std::int64_t>(steps / unit);
    const auto rest = static_cast<std::int64_t>(steps % unit);  // has the sign of `steps`
    const std::int64_t size = rest < 0 ? -rest : rest, away = rest < 0 ? -1 : 1;
    if (mode == RoundingMode::up) return rest > 0 ? whole + 1 : whole;
    if (size * 2 > unit || (size * 2 == unit && (mode == RoundingMode::half_away || whole % 2 != 0))) whole += away;
    return whole;
}

Typed product_of(const Typed& a, const Typed& b) { return {a.steps * b.steps, a.decimals + b.decimals}; }
void add_typed(Typed& sum, const Typed& part) { sum.steps += part.steps; }

TransferTemplate::Column read_column(file::Found& found, const json::Value& value, const file::Where& place) {
    file::Fields fields(found, value, place);
    TransferTemplate::Column column;
    column.what = fields.need_word("what", transfer_words);
    fields.need("name");
    column.name = fields.text("name");
    fields.rest();
    return column;
}

int read_decimals(file::Fields& fields, std::string_view name, int otherwise) {
    const auto number = fields.number(name, {0, 6});
    if (!number) return otherwise;
    if (*number != std::floor(*number)) fields.found().fault("transfer-decimals", fields.at(name));
    return static_cast<int>(*number);
}

std::string basis_of(const JunctionValue& value, Standing standing) {
    if (std::holds_alternative<FromStudy>(value)) return standing == Standing::out_of_date ? "calculated, out of date" : "calculated";
    if (const auto* elsewhere = std::get_if<FromElsewhere>(&value)) return word_of(value_basis_words, elsewhere->basis);
    if (const auto* point = std::get_if<PointValue>(&value)) return word_of(value_basis_words, point->basis);
    return "";
}

std::string source_of(const JunctionValue& value) {
    if (const auto* study = std::get_if<FromStudy>(&value)) return study->file + ", " + study->variant + (study->last ? ", " + study->last->date : "");
    if (const auto* elsewhere = std::get_if<FromElsewhere>(&value)) return elsewhere->source;
    if (const auto* point = std::get_if<PointValue>(&value)) return point->source;
    return "";
}

std::size_t place_in(const TransferTemplate& used, const std::string& kind) {
    const auto at = std::find_if(used.order.begin(), used.order.end(), [&](const TransferTemplate::Kind& k) { return k.id == kind; });
    return static_cast<std::size_t>(at - used.order.begin());
}

TransferRow row_of_junction(const Dwelling& dwelling, std::size_t j, const RowResult& result, const TransferTemplate& used, const std::vector<JunctionKind>& kinds) {
    const Junction& junction = dwelling.junctions[j];
    TransferRow row;
    row.junction = j;
    const std::size_t place = place_in(used, junction.kind);
    row.kind = place < used.order.size() && !used.order[place].name.empty() ? used.order[place].name : kind_name(kinds, junction.kind);
    row.name = junction.name;
    row.standing = result.standing;
    row.basis = basis_of(junction.value, result.standing);
    row.source = source_of(junction.value);
    const auto* point = std::get_if<PointValue>(&junction.value);
    row.point = point != nullptr;
    if (result.value) row.psi = typed(result.value->value, used.psi_decimals, used.rounding);
    // Counts and lengths are never rounded up for safety: a psi may be below zero.
    const RoundingMode nearest = used.rounding == RoundingMode::half_even ? RoundingMode::half_even : RoundingMode::half_away;
    if (point) row.length = typed(point->count, used.length_decimals, nearest);
    else if (junction.length) row.length = typed(*junction.length, used.length_decimals, nearest);
    if (row.psi && row.length && result.loss) row.product = product_of(*row.psi, *row.length);
    return row;
}

/// What the calculation uses for an element of a row, where the user says it.
std::optional<double> used_U(const Dwelling& dwelling, const Junction& junction, const std::string& element) {
    for (const CalculationU& used : junction.calculation) {
        if (used.element != element) continue;
        if (used.U) return used.U;
        if (const EnvelopeElement* of = dwelling.find_envelope(used.as)) return of->U;
    }
    return std::nullopt;
}

void add_flanking(const Dwelling& dwelling, std::size_t j, std::vector<FlankingEffect>& all) {
    const Junction& junction = dwelling.junctions[j];
    const auto* study = std::get_if<FromStudy>(&junction.value);
    if (!study || !study->last) return;
    for (const FlankingElement& element : study->last->flanking) {
        FlankingEffect effect{j, element.element, element.U, element.length, used_U(dwelling, junction, element.element), {}, {}};
        if (effect.U_used) {
            effect.difference = *effect.U_used - effect.U;
            effect.effect = -effect.length * *effect.difference;
        }
        all.push_back(std::move(effect));
    }
}

}  // namespace

Typed typed(double value, int decimals, RoundingMode mode) {
    // Through whole steps fine enough that a short decimal is exact in them; fewer decimals for a large number.
    int fine = fine_decimals;
    while (fine > decimals && std::abs(value) * static_cast<double>(ten_to(fine)) > 4e15) --fine;
    return {coarser(std::llround(value * static_cast<double>(ten_to(fine))), fine, decimals, mode), decimals};
}

std::string typed_text(const Typed& value, bool sign, char point) {
    const bool negative = value.steps < 0;
    std::string digits = std::to_string(negative ? -value.steps : value.steps);
    const auto decimals = static_cast<std::size_t>(value.decimals);
    if (digits.size() <= decimals) digits.insert(0, decimals + 1 - digits.size(), '0');
    if (decimals > 0) digits.insert(digits.size() - decimals, 1, point);
    return (negative ? "-" : sign ? "+" : "") + digits;
}

TransferTemplate read_transfer_template(const std::string& text) {
    file::Found found;
    json::Value value;
    TransferTemplate used;
    if (json::parse(text, "", value, found.faults)) {
        const file::Where top("");
        file::Fields fields(found, value, top);
        used.id = fields.id();
        used.name = fields.text("name");
        used.about = fields.text("about");
        used.lengths = fields.need_word("lengths", dwelling_length_words);
        used.rounding = fields.word("rounding", rounding_words).value_or(RoundingMode::half_away);
        if (const auto* decimals = fields.find("decimals")) {
            const file::Where place = fields.at("decimals");
            file::Fields parts(found, *decimals, place);
            used.psi_decimals = read_decimals(parts, "psi", used.psi_decimals);
            used.length_decimals = read_decimals(parts, "length", used.length_decimals);
            used.U_decimals = read_decimals(parts, "U", used.U_decimals);
            used.sum_decimals = read_decimals(parts, "sum", used.sum_decimals);
            parts.rest();
        }
        const std::string sign = fields.text("decimal_sign");
        if (!sign.empty() && sign != "." && sign != ",") file::unknown_word(found, fields.at("decimal_sign"), sign, "\".\", \",\"");
        if (sign == ",") used.decimal_sign = ',';
        file::Ids ids;
        fields.each("order", [&](const json::Value& item, const file::Where& place) {
            file::Fields parts(found, item, place);
            const std::string kind = parts.id();
            used.order.push_back({kind, parts.text("name")});
            ids.add(found, place, kind);
            parts.rest();
        });
        fields.need("columns");
        fields.each("columns", [&](const json::Value& item, const file::Where& place) { used.columns.push_back(read_column(found, item, place)); });
        fields.rest();
        // The sum of what is typed has no more decimals than the products; fewer are a matter of the template.
        used.sum_decimals = std::min(used.sum_decimals, used.psi_decimals + used.length_decimals);
    }
    // A field nobody knows is a slip of the pen: the sheet would not be the one that was meant.
    found.faults.insert(found.faults.end(), found.warnings.begin(), found.warnings.end());
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return used;
}

std::vector<std::string> transfer_ids() {
    std::vector<std::string> ids;
    for (const std::string& path : resources_below("transfer"))
        if (path.ends_with(".json")) ids.push_back(path.substr(9, path.size() - 9 - 5));
    return ids;
}

TransferTemplate transfer_template(const std::string& id) {
    std::string known;
    for (const std::string& one : transfer_ids()) {
        if (one == id) return read_transfer_template(resource("transfer/" + id + ".json"));
        known += (known.empty() ? "" : ", ") + one;
    }
    throw InputFault(Message{Severity::fault, "transfer-unknown", {{"id", id}, {"known", known}}, {}, {}});
}

TransferSheet transfer_sheet(const Dwelling& dwelling, const Balance& sums, const TransferTemplate& used) {
    const auto kinds = junction_kinds();
    TransferSheet sheet;
    sheet.used = used;
    std::vector<std::size_t> order(dwelling.junctions.size());
    for (std::size_t j = 0; j < order.size(); ++j) order[j] = j;
    const auto rank = [&](std::size_t j) { return std::pair(std::holds_alternative<PointValue>(dwelling.junctions[j].value), place_in(used, dwelling.junctions[j].kind)); };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
    Typed lines{0, used.psi_decimals + used.length_decimals}, points = lines;
    sheet.length_sum.decimals = used.length_decimals;
    for (const std::size_t j : order) {
        sheet.rows.push_back(row_of_junction(dwelling, j, sums.rows.at(j), used, kinds));
        const TransferRow& row = sheet.rows.back();
        if (row.product) {
            add_typed(row.point ? points : lines, *row.product);
            if (!row.point) add_typed(sheet.length_sum, *row.length);
            ++sheet.typed_rows;
        }
        add_flanking(dwelling, j, sheet.flanking);
    }
    const auto closed = [&](const Typed& sum) { return Typed{coarser(sum.steps, sum.decimals, used.sum_decimals, RoundingMode::half_away), used.sum_decimals}; };
    sheet.check_sum = closed(lines);
    sheet.point_sum = closed(points);
    for (const std::string& kind : sums.open_kinds) {
        const std::size_t place = place_in(used, kind);
        sheet.open_kinds.push_back(place < used.order.size() && !used.order[place].name.empty() ? used.order[place].name : kind_name(kinds, kind));
    }
    if (used.lengths != dwelling.lengths) sheet.notes.push_back(Message{Severity::caution, "transfer-other-lengths", {{"lengths", word_of(dwelling_length_words, used.lengths)}, {"dwelling", word_of(dwelling_length_words, dwelling.lengths)}}, {}, {}});
    if (sums.open() > 0) sheet.notes.push_back(Message{Severity::caution, "transfer-open", {{"count", std::to_string(sums.open())}}, {}, {}});
    if (sums.out_of_date > 0) sheet.notes.push_back(Message{Severity::caution, "transfer-out-of-date", {{"count", std::to_string(sums.out_of_date)}}, {}, {}});
    return sheet;
}

std::string transfer_cell(const TransferSheet& sheet, std::size_t index, TransferWhat what) {
    const TransferRow& row = sheet.rows.at(index);
    const char point = sheet.used.decimal_sign;
    switch (what) {
        case TransferWhat::number: return std::to_string(index + 1);
        case TransferWhat::kind: return row.kind;
        case TransferWhat::name: return row.name;
        case TransferWhat::psi: return row.psi ? typed_text(*row.psi, true, point) : "open";
        case TransferWhat::length: return row.length ? typed_text(*row.length, false, point) : "open";
        case TransferWhat::product: return row.product ? typed_text(*row.product, true, point) : "open";
        case TransferWhat::basis: return row.basis;
        case TransferWhat::source: return row.source;
    }
    return {};
}

}  // namespace wallfoot
