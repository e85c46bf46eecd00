// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/dwelling_file.hpp"
#include "core/file/fields.hpp"
#include "core/file/whole_file.hpp"

#include <filesystem>

namespace wallfoot {

namespace {

using namespace file;

json::Value write_last(const LastValue& last) {
    json::Object object{{"psi", last.psi}, {"lower", last.lower}, {"upper", last.upper}, {"input_hash", last.input_hash}, {"date", last.date}, {"lengths", word_of(dwelling_length_words, last.lengths)}};
    json::Array flanking, pairs;
    for (const FlankingElement& element : last.flanking) {
        json::Object entry{{"element", element.element}, {"U", element.U}, {"length", element.length}};
        put_extra(entry, element.extra);
        flanking.push_back(std::move(entry));
    }
    for (const OtherPair& pair : last.other_pairs) {
        json::Object entry{{"warm", pair.warm}, {"cold", pair.cold}, {"psi", pair.psi}};
        put_extra(entry, pair.extra);
        pairs.push_back(std::move(entry));
    }
    if (!flanking.empty()) object["flanking"] = std::move(flanking);
    if (!pairs.empty()) object["other_pairs"] = std::move(pairs);
    put_extra(object, last.extra);
    return object;
}

void put_value(json::Object& object, const JunctionValue& value) {
    json::Object entry;
    if (const auto* study = std::get_if<FromStudy>(&value)) {
        entry = {{"file", study->file}, {"variant", study->variant}};
        if (study->last) entry["last"] = write_last(*study->last);
        put_extra(entry, study->extra);
        object["study"] = std::move(entry);
    } else if (const auto* elsewhere = std::get_if<FromElsewhere>(&value)) {
        entry = {{"psi", elsewhere->psi}, {"basis", word_of(value_basis_words, elsewhere->basis)}, {"source", elsewhere->source}};
        if (elsewhere->lower) entry["lower"] = *elsewhere->lower;
        if (elsewhere->upper) entry["upper"] = *elsewhere->upper;
        if (elsewhere->lengths) entry["lengths"] = word_of(dwelling_length_words, *elsewhere->lengths);
        put_extra(entry, elsewhere->extra);
        object["elsewhere"] = std::move(entry);
    } else if (const auto* point = std::get_if<PointValue>(&value)) {
        entry = {{"chi", point->chi}, {"count", point->count}, {"basis", word_of(value_basis_words, point->basis)}, {"source", point->source}};
        put_extra(entry, point->extra);
        object["point"] = std::move(entry);
    }
}

json::Value write_junction(const Junction& junction) {
    json::Object object{{"id", junction.id}, {"kind", junction.kind}};
    put_text(object, "name", junction.name);
    if (junction.length) object["length"] = *junction.length;
    put_value(object, junction.value);
    json::Array calculation;
    for (const CalculationU& used : junction.calculation) {
        json::Object entry{{"element", used.element}};
        if (used.U) entry["U"] = *used.U;
        put_text(entry, "as", used.as);
        put_extra(entry, used.extra);
        calculation.push_back(std::move(entry));
    }
    if (!calculation.empty()) object["calculation_U"] = std::move(calculation);
    put_extra(object, junction.extra);
    return object;
}

void put_dated(json::Object& object, const char* name, const std::optional<DatedValue>& dated) {
    if (!dated) return;
    json::Object entry{{"value", dated->value}, {"date", dated->date}, {"source", dated->source}};
    put_extra(entry, dated->extra);
    object[name] = std::move(entry);
}

json::Value write_measure(const DwellingMeasure& measure) {
    json::Object object{{"id", measure.id}, {"junction", measure.junction}};
    put_text(object, "name", measure.name);
    put_value(object, measure.value);
    put_dated(object, "cost", measure.cost);
    put_extra(object, measure.extra);
    return object;
}

json::Value write_envelope_element(const EnvelopeElement& element) {
    json::Object object{{"id", element.id}, {"area", element.area}, {"U", element.U}};
    put_text(object, "name", element.name);
    put_text(object, "source", element.source);
    put_extra(object, element.extra);
    return object;
}

}  // namespace

std::string write_dwelling(const Dwelling& dwelling) {
    json::Object object{{"format", "wallfoot-dwelling"}, {"version", static_cast<double>(newest_dwelling_version)}, {"lengths", word_of(dwelling_length_words, dwelling.lengths)}};
    put_text(object, "name", dwelling.name);
    put_text(object, "notes", dwelling.notes);
    put_text(object, "currency", dwelling.currency);
    json::Array junctions, absent, envelope, measures;
    for (const Junction& junction : dwelling.junctions) junctions.push_back(write_junction(junction));
    for (const std::string& kind : dwelling.absent) absent.push_back(kind);
    for (const EnvelopeElement& element : dwelling.envelope) envelope.push_back(write_envelope_element(element));
    for (const DwellingMeasure& measure : dwelling.measures) measures.push_back(write_measure(measure));
    object["junctions"] = std::move(junctions);
    if (!absent.empty()) object["absent"] = std::move(absent);
    if (!envelope.empty()) object["envelope"] = std::move(envelope);
    if (!measures.empty()) object["measures"] = std::move(measures);
    if (dwelling.degree_days) {
        json::Object days{{"value", dwelling.degree_days->value}, {"source", dwelling.degree_days->source}};
        put_text(days, "base", dwelling.degree_days->base);
        put_extra(days, dwelling.degree_days->extra);
        object["degree_days"] = std::move(days);
    }
    put_dated(object, "energy_price", dwelling.energy_price);
    put_dated(object, "carbon_factor", dwelling.carbon_factor);
    if (dwelling.efficiency) object["efficiency"] = *dwelling.efficiency;
    put_extra(object, dwelling.extra);
    return json::print(object);
}

bool changed_meanwhile(const Dwelling& known, const std::string& path) {
    std::error_code none;
    if (!std::filesystem::exists(path, none)) return false;
    try {
        return !(load_dwelling(path).dwelling == known);
    } catch (const std::exception&) {
        return true;  // whatever it is, it is not what was known
    }
}

void save_dwelling(const Dwelling& dwelling, const std::string& path) { save_whole(write_dwelling(dwelling), path, "dwelling"); }

}  // namespace wallfoot
