// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cctype>
#include <cmath>

#include "core/dwelling/dwelling_file.hpp"
#include "core/file/fields.hpp"
#include "core/file/whole_file.hpp"

namespace wallfoot {

namespace {

using namespace file;

constexpr Range dwelling_metres{0, 100'000}, dwelling_areas{0, 1e7}, any_psi{-100, 100}, any_chi{-1000, 1000}, dwelling_U{0, 100}, money{0, 1e12};

[[noreturn]] void refuse_dwelling(const char* code, Found::Args args, const char* pointer) {
    throw InputFault(Message{Severity::fault, code, std::move(args), {}, pointer});
}

/// Format and version are looked at first: another file, or a newer one, may mean other things by the same names.
void check_format(Found& found, Fields& fields) {
    if (const auto* format = fields.find("format"); fields.is_object() && (!format || !format->as<std::string>() || *format->as<std::string>() != "wallfoot-dwelling"))
        refuse_dwelling("dwelling-other-format", {}, "/format");
    const auto* value = fields.need("version");
    if (!value) return;
    const auto* number = value->as<json::Number>();
    if (!number) return wrong_type(found, *value, fields.at("version"), "a number");
    const bool whole = std::floor(number->value) == number->value;
    if (whole && number->value > newest_dwelling_version) refuse_dwelling("newer-file", {{"needed", number->text}, {"known", std::to_string(newest_dwelling_version)}}, "/version");
    if (!whole || number->value < 1) found.fault("dwelling-version", fields.at("version"), {{"version", number->text}, {"known", std::to_string(newest_dwelling_version)}});
}

std::string needed_text(Fields& fields, std::string_view name) {
    const auto* value = fields.need(name);
    if (!value) return {};
    auto text = read_text(fields.found(), *value, fields.at(name));
    if (text && text->empty()) fields.found().fault("empty-text", fields.at(name), {{"field", std::string(name)}});
    return text.value_or("");
}

/// A date as YYYY-MM-DD, of a month and day that exist somewhere.
std::string needed_date(Fields& fields) {
    const std::string date = needed_text(fields, "date");
    const auto number = [&](std::size_t from, std::size_t count) {
        int n = 0;
        for (std::size_t i = from; i < from + count; ++i) n = n * 10 + (date[i] - '0');
        return n;
    };
    bool right = date.size() == 10 && date[4] == '-' && date[7] == '-';
    for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9}) right = right && std::isdigit(static_cast<unsigned char>(date[i]));
    right = right && number(5, 2) >= 1 && number(5, 2) <= 12 && number(8, 2) >= 1 && number(8, 2) <= 31;
    if (!date.empty() && !right) fields.found().fault("date-form", fields.at("date"), {{"date", date}});
    return date;
}

void check_range(Fields& fields, double psi, std::optional<double> lower, std::optional<double> upper) {
    if (lower.value_or(psi) > psi || upper.value_or(psi) < psi) fields.found().fault("dwelling-bounds", fields.where());
}

LastValue read_last(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    LastValue last;
    last.psi = fields.need_number("psi", any_psi);
    last.lower = fields.need_number("lower", any_psi);
    last.upper = fields.need_number("upper", any_psi);
    check_range(fields, last.psi, last.lower, last.upper);
    last.input_hash = needed_text(fields, "input_hash");
    last.date = needed_date(fields);
    last.lengths = fields.need_word("lengths", dwelling_length_words);
    fields.each("flanking", [&](const json::Value& item, const Where& place) {
        Fields parts(found, item, place);
        FlankingElement element;
        element.element = needed_text(parts, "element");
        element.U = parts.need_number("U", dwelling_U);
        element.length = parts.need_number("length", dwelling_metres);
        element.extra = parts.rest();
        last.flanking.push_back(std::move(element));
    });
    fields.each("other_pairs", [&](const json::Value& item, const Where& place) {
        Fields parts(found, item, place);
        OtherPair pair;
        pair.warm = needed_text(parts, "warm");
        pair.cold = needed_text(parts, "cold");
        pair.psi = parts.need_number("psi", any_psi);
        pair.extra = parts.rest();
        last.other_pairs.push_back(std::move(pair));
    });
    last.extra = fields.rest();
    return last;
}

FromStudy read_from_study(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    FromStudy from;
    from.file = needed_text(fields, "file");
    from.variant = needed_text(fields, "variant");
    if (const auto* last = fields.find("last")) from.last = read_last(found, *last, fields.at("last"));
    from.extra = fields.rest();
    return from;
}

FromElsewhere read_from_elsewhere(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    FromElsewhere from;
    from.psi = fields.need_number("psi", any_psi);
    from.lower = fields.number("lower", any_psi);
    from.upper = fields.number("upper", any_psi);
    check_range(fields, from.psi, from.lower, from.upper);
    from.basis = fields.need_word("basis", value_basis_words);
    from.source = needed_text(fields, "source");
    from.lengths = fields.word("lengths", dwelling_length_words);
    from.extra = fields.rest();
    return from;
}

PointValue read_point_value(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    PointValue from;
    from.chi = fields.need_number("chi", any_chi);
    from.count = fields.need_number("count", {0, 1e6});
    from.basis = fields.need_word("basis", value_basis_words);
    from.source = needed_text(fields, "source");
    from.extra = fields.rest();
    return from;
}

/// Where a value is from: at most one of the ways.
JunctionValue read_value(Found& found, Fields& fields, bool points) {
    JunctionValue value;
    int ways = 0;
    if (const auto* from = fields.find("study")) value = read_from_study(found, *from, fields.at("study")), ++ways;
    if (const auto* from = fields.find("elsewhere")) value = read_from_elsewhere(found, *from, fields.at("elsewhere")), ++ways;
    if (points)
        if (const auto* from = fields.find("point")) value = read_point_value(found, *from, fields.at("point")), ++ways;
    if (ways > 1) found.fault("dwelling-two-values", fields.where());
    return value;
}

std::string read_kind(Found& found, const json::Value& value, const Where& where, const std::vector<JunctionKind>& kinds) {
    const auto id = read_text(found, value, where);
    if (!id) return {};
    std::string known;
    for (const JunctionKind& kind : kinds) {
        if (kind.id == *id) return *id;
        known += (known.empty() ? "" : ", ") + kind.id;
    }
    found.fault("dwelling-unknown-kind", where, {{"kind", *id}, {"known", known}});
    return *id;
}

Junction read_junction(Found& found, const json::Value& value, const Where& where, const std::vector<JunctionKind>& kinds) {
    Fields fields(found, value, where);
    Junction junction;
    junction.id = fields.id();
    if (const auto* kind = fields.need("kind")) junction.kind = read_kind(found, *kind, fields.at("kind"), kinds);
    junction.name = fields.text("name");
    junction.length = fields.number("length", dwelling_metres);
    junction.value = read_value(found, fields, true);
    if (junction.length && std::holds_alternative<PointValue>(junction.value)) found.fault("dwelling-point-with-length", fields.at("length"));
    fields.each("calculation_U", [&](const json::Value& item, const Where& place) {
        Fields parts(found, item, place);
        CalculationU used;
        used.element = needed_text(parts, "element");
        used.U = parts.number("U", dwelling_U);
        used.as = parts.text("as");
        if (used.U.has_value() != used.as.empty()) found.fault("dwelling-calculation-u", place);
        used.extra = parts.rest();
        junction.calculation.push_back(std::move(used));
    });
    junction.extra = fields.rest();
    return junction;
}

EnvelopeElement read_envelope_element(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    EnvelopeElement element;
    element.id = fields.id();
    element.name = fields.text("name");
    element.area = fields.need_number("area", dwelling_areas);
    element.U = fields.need_number("U", dwelling_U);
    element.source = fields.text("source");
    element.extra = fields.rest();
    return element;
}

std::optional<DatedValue> read_dated(Found& found, Fields& above, std::string_view name, Range range) {
    const auto* value = above.find(name);
    if (!value) return std::nullopt;
    const Where where = above.at(name);
    Fields fields(found, *value, where);
    DatedValue dated;
    dated.value = fields.need_number("value", range);
    dated.date = needed_date(fields);
    dated.source = needed_text(fields, "source");
    dated.extra = fields.rest();
    return dated;
}

DwellingMeasure read_measure(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    DwellingMeasure measure;
    measure.id = fields.id();
    measure.name = fields.text("name");
    measure.junction = needed_text(fields, "junction");
    measure.value = read_value(found, fields, false);
    measure.cost = read_dated(found, fields, "cost", money);
    measure.extra = fields.rest();
    return measure;
}

/// What refers to other parts of the file.
void check_references(Found& found, const Where& root, const Dwelling& dwelling) {
    const Where rows(root, "junctions"), absent(root, "absent"), measures(root, "measures");
    for (std::size_t j = 0; j < dwelling.junctions.size(); ++j)
        for (std::size_t c = 0; c < dwelling.junctions[j].calculation.size(); ++c) {
            const CalculationU& used = dwelling.junctions[j].calculation[c];
            const Where row(rows, j), list(row, "calculation_U"), place(list, c);
            if (!used.as.empty() && !dwelling.find_envelope(used.as)) found.fault("dwelling-unknown-envelope", Where(place, "as"), {{"id", used.as}});
        }
    for (std::size_t a = 0; a < dwelling.absent.size(); ++a)
        for (const Junction& junction : dwelling.junctions)
            if (junction.kind == dwelling.absent[a]) {
                found.fault("dwelling-absent-kind-there", Where(absent, a), {{"kind", junction.kind}, {"row", junction.id}});
                break;
            }
    for (std::size_t m = 0; m < dwelling.measures.size(); ++m) {
        const Junction* row = dwelling.find_junction(dwelling.measures[m].junction);
        const Where measure(measures, m);
        if (!dwelling.measures[m].junction.empty() && (!row || std::holds_alternative<PointValue>(row->value)))
            found.fault("dwelling-unknown-row", Where(measure, "junction"), {{"id", dwelling.measures[m].junction}});
    }
}

Dwelling read_dwelling_fields(Found& found, const json::Value& value) {
    const Where root("");
    Fields fields(found, value, root);
    Dwelling dwelling;
    check_format(found, fields);
    const auto kinds = junction_kinds();
    dwelling.name = fields.text("name");
    dwelling.notes = fields.text("notes");
    dwelling.lengths = fields.need_word("lengths", dwelling_length_words);
    Ids rows, elements, measures;
    fields.need("junctions");
    fields.each("junctions", [&](const json::Value& item, const Where& place) {
        dwelling.junctions.push_back(read_junction(found, item, place, kinds));
        rows.add(found, place, dwelling.junctions.back().id);
    });
    fields.each("absent", [&](const json::Value& item, const Where& place) { dwelling.absent.push_back(read_kind(found, item, place, kinds)); });
    fields.each("envelope", [&](const json::Value& item, const Where& place) {
        dwelling.envelope.push_back(read_envelope_element(found, item, place));
        elements.add(found, place, dwelling.envelope.back().id);
    });
    if (const auto* days = fields.find("degree_days")) {
        const Where place = fields.at("degree_days");
        Fields parts(found, *days, place);
        DegreeDays read;
        read.value = parts.need_number("value", {0, 20'000});
        read.base = parts.text("base");
        read.source = needed_text(parts, "source");
        read.extra = parts.rest();
        dwelling.degree_days = std::move(read);
    }
    dwelling.currency = fields.text("currency");
    dwelling.energy_price = read_dated(found, fields, "energy_price", money);
    dwelling.carbon_factor = read_dated(found, fields, "carbon_factor", {0, 100});
    dwelling.efficiency = fields.number("efficiency", {0.01, 20});
    fields.each("measures", [&](const json::Value& item, const Where& place) {
        dwelling.measures.push_back(read_measure(found, item, place));
        measures.add(found, place, dwelling.measures.back().id);
    });
    dwelling.extra = fields.rest();
    check_references(found, root, dwelling);
    return dwelling;
}

}  // namespace

ReadDwelling read_dwelling(const std::string& text) {
    Found found;
    json::Value value;
    ReadDwelling read;
    if (json::parse(text, "", value, found.faults)) read.dwelling = read_dwelling_fields(found, value);
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    read.warnings = std::move(found.warnings);
    return read;
}

ReadDwelling load_dwelling(const std::string& path) { return read_dwelling(read_whole(path)); }

}  // namespace wallfoot
