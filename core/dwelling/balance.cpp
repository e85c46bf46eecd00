// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/dwelling/balance.hpp"

#include <algorithm>
#include <filesystem>

#include "core/file/json_value.hpp"
#include "core/file/study_file.hpp"

namespace wallfoot {

namespace {

Message dwelling_note(const char* code, std::map<std::string, std::string> args = {}) { return {Severity::caution, code, std::move(args), {}, {}}; }

Span times(const Span& span, double factor) {
    const double a = span.low * factor, b = span.high * factor;
    return {span.value * factor, std::min(a, b), std::max(a, b)};
}

void add_to(Span& sum, const Span& part) {
    sum.value += part.value;
    sum.low += part.low;
    sum.high += part.high;
}

/// A value with how it stands. `lengths` are those that the whole dwelling is measured by.
struct Stated {
    Standing standing = Standing::open;
    std::optional<Span> value;
    Message why;
};

Stated of_study(const FromStudy& from, const StudiesNow& studies, DwellingLengths lengths) {
    Stated stated;
    if (!from.last) {
        stated.why = dwelling_note("dwelling-not-worked-out", {{"file", from.file}, {"variant", from.variant}});
        return stated;
    }
    stated.value = Span{from.last->psi, from.last->lower, from.last->upper};
    stated.standing = Standing::out_of_date;
    const auto now = studies.find(study_key(from));
    if (now == studies.end()) stated.why = dwelling_note("dwelling-not-looked-at", {{"file", from.file}});
    else if (now->second.input_hash.empty()) stated.why = now->second.trouble;
    else if (now->second.input_hash != from.last->input_hash) stated.why = dwelling_note("dwelling-study-changed", {{"file", from.file}, {"variant", from.variant}, {"date", from.last->date}});
    // Overall internal lengths take the internal psi; internal and external ones differ.
    else if ((from.last->lengths == DwellingLengths::external) != (lengths == DwellingLengths::external)) stated.why = dwelling_note("dwelling-other-lengths", {{"lengths", word_of(dwelling_length_words, from.last->lengths)}, {"dwelling", word_of(dwelling_length_words, lengths)}});
    else stated.standing = Standing::current;
    return stated;
}

Stated of_value(const JunctionValue& value, const StudiesNow& studies, DwellingLengths lengths) {
    if (const auto* study = std::get_if<FromStudy>(&value)) return of_study(*study, studies, lengths);
    Stated stated;
    if (const auto* elsewhere = std::get_if<FromElsewhere>(&value)) {
        stated.standing = Standing::stated;
        stated.value = Span{elsewhere->psi, elsewhere->lower.value_or(elsewhere->psi), elsewhere->upper.value_or(elsewhere->psi)};
    } else if (const auto* point = std::get_if<PointValue>(&value)) {
        stated.standing = Standing::stated;
        stated.value = Span{point->chi, point->chi, point->chi};
    } else {
        stated.why = dwelling_note("dwelling-no-value");
    }
    return stated;
}

/// What is to be said of a row that is counted.
std::vector<Message> notes_of_row(const Junction& junction, DwellingLengths lengths, const std::vector<JunctionKind>& kinds) {
    std::vector<Message> notes;
    if (const auto* elsewhere = std::get_if<FromElsewhere>(&junction.value); elsewhere && elsewhere->lengths && *elsewhere->lengths != lengths)
        notes.push_back(dwelling_note("dwelling-value-of-other-lengths", {{"lengths", word_of(dwelling_length_words, *elsewhere->lengths)}, {"dwelling", word_of(dwelling_length_words, lengths)}}));
    const auto* study = std::get_if<FromStudy>(&junction.value);
    if (!study || !study->last) return notes;
    const auto kind = std::find_if(kinds.begin(), kinds.end(), [&](const JunctionKind& k) { return k.id == junction.kind; });
    if (lengths == DwellingLengths::overall_internal && kind != kinds.end() && kind->inner_part) notes.push_back(dwelling_note("dwelling-inner-part"));
    for (const OtherPair& pair : study->last->other_pairs) notes.push_back(dwelling_note("dwelling-other-pair", {{"warm", pair.warm}, {"cold", pair.cold}, {"psi", json::number_text(pair.psi)}}));
    return notes;
}

RowResult result_of(const Dwelling& dwelling, const Junction& junction, const StudiesNow& studies, const std::vector<JunctionKind>& kinds) {
    RowResult row;
    const Stated stated = of_value(junction.value, studies, dwelling.lengths);
    row.standing = stated.standing;
    row.value = stated.value;
    row.why = stated.why;
    const auto* point = std::get_if<PointValue>(&junction.value);
    row.point = point != nullptr;
    if (!row.value) return row;
    const std::optional<double> many = point ? std::optional(point->count) : junction.length;
    if (many) {
        row.loss = times(*row.value, *many);
        row.notes = notes_of_row(junction, dwelling.lengths, kinds);
    } else {
        row.standing = Standing::open;
        row.why = dwelling_note("dwelling-no-length");
    }
    return row;
}

/// kWh of heat per year from W/K; what is delivered of it in money or carbon by a price or factor per kWh.
std::optional<Span> year_of(const Dwelling& dwelling, const std::optional<Span>& loss) {
    if (!loss || !dwelling.degree_days) return std::nullopt;
    return times(*loss, dwelling.degree_days->value * 24 / 1000);
}
std::optional<Span> priced(const Dwelling& dwelling, const std::optional<Span>& energy, const std::optional<DatedValue>& price) {
    if (!energy || !price) return std::nullopt;
    return times(*energy, price->value / dwelling.efficiency.value_or(1));
}

MeasureResult result_of(const Dwelling& dwelling, const DwellingMeasure& measure, const Balance& sums, const StudiesNow& studies) {
    MeasureResult result;
    const Stated stated = of_value(measure.value, studies, dwelling.lengths);
    const auto at = std::find_if(dwelling.junctions.begin(), dwelling.junctions.end(), [&](const Junction& j) { return j.id == measure.junction; });
    if (at == dwelling.junctions.end() || !at->length || !stated.value) {
        result.why = at == dwelling.junctions.end() ? dwelling_note("dwelling-measure-row-open") : !stated.value ? stated.why : dwelling_note("dwelling-measure-row-open");
        return result;
    }
    const RowResult& row = sums.rows[static_cast<std::size_t>(at - dwelling.junctions.begin())];
    if (!row.value || row.point) {
        result.why = dwelling_note("dwelling-measure-row-open");
        return result;
    }
    result.out_of_date = stated.standing == Standing::out_of_date || row.standing == Standing::out_of_date;
    result.loss = times(Span{row.value->value - stated.value->value, row.value->low - stated.value->high, row.value->high - stated.value->low}, *at->length);
    result.energy = year_of(dwelling, result.loss);
    result.cost = priced(dwelling, result.energy, dwelling.energy_price);
    result.carbon = priced(dwelling, result.energy, dwelling.carbon_factor);
    if (measure.cost && result.cost && result.cost->low > 0) result.payback = measure.cost->value / result.cost->value;
    return result;
}

void sum_up(const Dwelling& dwelling, Balance& sums) {
    for (const EnvelopeElement& element : dwelling.envelope) {
        sums.area += element.area;
        sums.plane += element.area * element.U;
    }
    const Span all = sums.junctions();
    sums.energy = year_of(dwelling, all);
    sums.cost = priced(dwelling, sums.energy, dwelling.energy_price);
    sums.carbon = priced(dwelling, sums.energy, dwelling.carbon_factor);
    if (!(sums.area > 0)) return;
    sums.y = times(sums.lines, 1 / sums.area);
    sums.total = Span{sums.plane + all.value, sums.plane + all.low, sums.plane + all.high};
    // x/(a + x) rises with x while a > 0 and the whole stays above 0.
    if (sums.plane > 0 && sums.total->low > 0) sums.share = Span{all.value / sums.total->value, all.low / sums.total->low, all.high / sums.total->high};
    sums.total_energy = year_of(dwelling, sums.total);
    sums.total_cost = priced(dwelling, sums.total_energy, dwelling.energy_price);
    sums.total_carbon = priced(dwelling, sums.total_energy, dwelling.carbon_factor);
}

}  // namespace

std::string study_key(const FromStudy& from) { return from.file + "\n" + from.variant; }

bool is_up_to_date(const FromStudy& from, const StudiesNow& studies, DwellingLengths lengths) { return of_study(from, studies, lengths).standing == Standing::current; }

StudiesNow studies_now(const Dwelling& dwelling, const std::string& folder) {
    std::map<std::string, std::vector<const FromStudy*>> by_file;
    const auto note = [&](const JunctionValue& value) {
        if (const auto* from = std::get_if<FromStudy>(&value)) by_file[from->file].push_back(from);
    };
    for (const Junction& junction : dwelling.junctions) note(junction.value);
    for (const DwellingMeasure& measure : dwelling.measures) note(measure.value);
    StudiesNow studies;
    for (const auto& [file, all] : by_file) {
        std::optional<Study> study;
        Message trouble;
        try {
            study = load_study((std::filesystem::path(folder) / file).string()).study;
        } catch (const InputFault& fault) {
            trouble = dwelling_note("dwelling-study-unreadable", {{"file", file}, {"reason", one_line(fault.faults().front(), "")}});
        }
        for (const FromStudy* from : all) {
            StudyNow& now = studies[study_key(*from)];
            now.trouble = trouble;
            if (!study) continue;
            const auto variant = std::find_if(study->variants.begin(), study->variants.end(), [&](const Variant& v) { return v.id == from->variant; });
            if (variant != study->variants.end()) now.input_hash = input_hash(*study, *variant);
            else now.trouble = dwelling_note("dwelling-variant-gone", {{"file", file}, {"variant", from->variant}});
        }
    }
    return studies;
}

Balance balance(const Dwelling& dwelling, const StudiesNow& studies) {
    const auto kinds = junction_kinds();
    Balance sums;
    for (const Junction& junction : dwelling.junctions) {
        sums.rows.push_back(result_of(dwelling, junction, studies, kinds));
        const RowResult& row = sums.rows.back();
        if (!row.loss) ++sums.open_rows;
        else add_to(row.point ? sums.points : sums.lines, *row.loss);
        if (row.standing == Standing::out_of_date) ++sums.out_of_date;
    }
    for (const JunctionKind& kind : kinds) {
        const bool there = std::any_of(dwelling.junctions.begin(), dwelling.junctions.end(), [&](const Junction& j) { return j.kind == kind.id; });
        const bool absent = std::find(dwelling.absent.begin(), dwelling.absent.end(), kind.id) != dwelling.absent.end();
        if (kind.usual && !there && !absent) sums.open_kinds.push_back(kind.id);
    }
    sum_up(dwelling, sums);
    for (const DwellingMeasure& measure : dwelling.measures) sums.measures.push_back(result_of(dwelling, measure, sums, studies));
    return sums;
}

}  // namespace wallfoot
