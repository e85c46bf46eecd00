// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/moisture/in_condition.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "core/standards/iso10456.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

constexpr double water_density = 1000;  // kg/m³

bool is_of_units(const Material& material) { return material.kind == MaterialKind::masonry || material.kind == MaterialKind::concrete; }

Message note(const char* code, std::map<std::string, std::string> args = {}) { return {Severity::note, code, std::move(args), {}, {}}; }

/// Moisture in the unit asked for; nothing without the density that takes.
std::optional<double> moisture_as(MoistureBy wanted, double value, MoistureBy given, const Material& material) {
    if (wanted == given) return value;
    if (!material.density) return std::nullopt;
    return given == MoistureBy::mass ? value * *material.density / water_density : value * water_density / *material.density;
}

/// A declared value with the condition it holds for.
struct Stated {
    Condition condition = Condition::dry;
    const Conductivity* value = nullptr;
};

/// The nearest drier value, else the driest there is.
Stated nearest_drier(const Material& material, Condition condition) {
    const auto& all = material.lambda.by_condition;
    if (all.empty()) return {};
    auto after = all.upper_bound(condition);
    const auto found = after == all.begin() ? after : std::prev(after);
    return {found->first, &found->second};
}

/// The moisture that a value was stated at, in the unit of the conversion; nothing where its basis does not tell.
std::optional<double> stated_moisture(const Conductivity& value, MoistureBy by, const Material& material) {
    if (value.basis == Basis::oven_dry) return 0;
    if (value.basis == Basis::not_stated || !value.moisture) return std::nullopt;
    return moisture_as(by, value.moisture->value, value.moisture->by, material);
}

/// The driest value whose moisture is known: the conversion has the shortest way to go wrong from there.
std::optional<std::pair<const Conductivity*, double>> start_of_conversion(const Material& material) {
    if (!material.conversion) return std::nullopt;
    for (const auto& [condition, value] : material.lambda.by_condition)
        if (const auto moisture = stated_moisture(value, material.conversion->by, material)) return std::pair(&value, *moisture);
    return std::nullopt;
}

std::string percent(double share) { return number_text(100 * share); }

const char* unit_of(MoistureBy by) { return by == MoistureBy::mass ? "kg/kg" : "m³/m³"; }

std::string source_of(const Conductivity& value) { return value.source.empty() ? "the material; no source stated" : value.source; }

constexpr const char *per_metre_kelvin = "W/(m·K)", *by_computing = "computed";

/// The value a paper states, with its range where it has one.
void put_stated(InCondition& found, const std::string& name, const Conductivity& value) {
    found.steps.push_back({name, value.value, per_metre_kelvin, source_of(value)});
    if (value.low) found.steps.push_back({name + ", low", *value.low, per_metre_kelvin, source_of(value)});
    if (value.high) found.steps.push_back({name + ", high", *value.high, per_metre_kelvin, source_of(value)});
}

void put_found(InCondition& found) {
    found.steps.push_back({"λ in this condition, lowest", found.low, per_metre_kelvin, by_computing});
    found.steps.push_back({"λ in this condition, highest", found.high, per_metre_kelvin, by_computing});
}

std::optional<InCondition> converted(const Material& material, Condition condition, const MoistureClass* of, std::vector<Message>& why_not) {
    const auto start = start_of_conversion(material);
    if (!material.conversion) return std::nullopt;
    if (!start) {
        why_not.push_back(note("moisture-basis-not-stated"));
        return std::nullopt;
    }
    if (!of || !of->usual.contains(condition)) return std::nullopt;
    const auto& usual = of->usual.at(condition);
    const auto& [value, from] = *start;
    InCondition result;
    result.footing = Footing::converted;
    result.formula = "λ₂ = λ₁·F_m, F_m = exp(f·(u₂ − u₁)), u by mass or by volume as its coefficient (ISO 10456:2007, 7; from memory)";
    const MoistureBy by = material.conversion->by;
    put_stated(result, "λ₁, as stated", *value);
    result.steps.push_back({"u₁, the moisture it is stated at", from, unit_of(by), value->basis == Basis::oven_dry ? "stated as oven-dry" : source_of(*value)});
    result.steps.push_back({"f, moisture coefficient", material.conversion->coefficient, "", "the material"});
    try {
        for (const auto& [moisture, into, base, which] : {std::tuple(usual.low, &result.low, value->low.value_or(value->value), "lowest"), std::tuple(usual.central, &result.central, value->value, ""),
                                                          std::tuple(usual.high, &result.high, value->high.value_or(value->value), "highest")}) {
            const auto to = moisture_as(material.conversion->by, moisture, of->by, material);
            if (!to) {
                why_not.push_back(note("moisture-without-density"));
                return std::nullopt;
            }
            *into = iso10456::convert_moisture(base, {material.conversion->coefficient, material.conversion->valid_to}, from, *to);
            if (!*which) continue;
            result.steps.push_back({std::string("u₂, usual in this condition, ") + which, *to, unit_of(by), of->usual_source});
            result.steps.push_back({std::string("F_m, ") + which, *into / base, "", by_computing});
        }
    } catch (const OutsideStandard&) {
        why_not.push_back(note("moisture-conversion-beyond", {{"limit", percent(material.conversion->valid_to)}, {"by", word_of(moisture_by_words, material.conversion->by)}}));
        return std::nullopt;
    }
    if (!of->note.empty()) result.how.push_back(note("moisture-note", {{"note", of->note}}));
    result.how.insert(result.how.begin(), note("moisture-converted", {{"from", percent(from)}, {"low", percent(usual.low)}, {"high", percent(usual.high)}, {"by", word_of(moisture_by_words, of->by)},
                                                     {"by_from", word_of(moisture_by_words, material.conversion->by)}, {"source", of->usual_source}}));
    return result;
}

/// Lowest and highest ratio to the dry value over a range of moistures and all curves; nothing where no curve reaches.
std::optional<std::pair<double, double>> ratios(const MoistureClass& of, const UsualMoisture& range, const Material& material) {
    std::optional<std::pair<double, double>> result;
    for (const MoistureCurve& curve : of.curves) {
        const auto from = moisture_as(curve.by, range.low, of.by, material), to = moisture_as(curve.by, range.high, of.by, material);
        const auto low = from ? curve.ratio(*from) : std::nullopt, high = to ? curve.ratio(*to) : std::nullopt;
        if (!low || !high) continue;
        result = result ? std::pair(std::min(result->first, *low), std::max(result->second, *high)) : std::pair(*low, *high);
    }
    return result;
}

/// Lowest and highest rise between two ranges of moisture over all curves, each curve by itself.
std::optional<std::pair<double, double>> rises(const MoistureClass& of, const UsualMoisture& from, const UsualMoisture& to, const Material& material) {
    std::optional<std::pair<double, double>> result;
    for (const MoistureCurve& curve : of.curves) {
        MoistureClass alone = of;
        alone.curves = {curve};
        const auto base = ratios(alone, from, material), there = ratios(alone, to, material);
        if (!base || !there) continue;
        const std::pair rise(std::max(1.0, there->first / base->second), there->second / base->first);
        result = result ? std::pair(std::min(result->first, rise.first), std::max(result->second, rise.second)) : rise;
    }
    return result;
}

/// What the value may hold of water as it stands in the paper.
UsualMoisture moisture_of(const Stated& stated, const MoistureClass& of, const Material& material) {
    if (const auto known = stated_moisture(*stated.value, of.by, material)) return {*known, *known, *known};
    const auto usual = of.usual.find(stated.condition == Condition::dry ? Condition::protected_ : stated.condition);
    if (usual == of.usual.end()) return {};
    return stated.value->basis == Basis::not_stated ? UsualMoisture{0, usual->second.central, usual->second.high} : usual->second;
}

std::string sources_of(const MoistureClass& of) {
    std::string all;
    for (const MoistureCurve& curve : of.curves) all += (all.empty() ? "" : "; ") + curve.source;
    return all;
}

/// Every curve was measured on what weighs as much, or does not say.
bool is_of_density(const MoistureClass& of, const Material& material) {
    return std::all_of(of.curves.begin(), of.curves.end(), [&](const MoistureCurve& curve) {
        return !curve.density || (material.density && *material.density >= curve.density->first && *material.density <= curve.density->second);
    });
}

/// No lower than what is declared for a drier condition, no higher than for a wetter one.
InCondition between_neighbours(InCondition found, const Material& material, Condition condition) {
    const auto before = std::tuple(found.low, found.central, found.high);
    for (const auto& [declared, value] : material.lambda.by_condition)
        for (double* part : {&found.low, &found.central, &found.high}) {
            if (declared < condition) *part = std::max(*part, value.low.value_or(value.value));
            if (declared > condition) *part = std::min(*part, value.high.value_or(value.value));
        }
    if (before != std::tuple(found.low, found.central, found.high)) found.how.push_back(note("moisture-between-declared"));
    put_found(found);
    return found;
}

std::optional<InCondition> in_band(const Material& material, Condition condition, const MoistureClass& of) {
    const Stated base = nearest_drier(material, condition);
    if (!base.value || base.condition > condition) return std::nullopt;
    const UsualMoisture from = moisture_of(base, of, material);
    std::optional<std::pair<double, double>> rise;
    std::string source = sources_of(of), moistures;
    if (condition == Condition::saturated) {
        if (const auto dry = ratios(of, from, material); of.saturated && dry) rise = std::pair(std::max(1.0, of.saturated->low / dry->second), of.saturated->high / dry->first);
        if (of.saturated) source = of.saturated->source;
    } else if (const auto usual = of.usual.find(condition); usual != of.usual.end()) {
        rise = rises(of, from, usual->second, material);
        moistures = " at usual contents of " + percent(usual->second.low) + " to " + percent(usual->second.high) + " % by " + word_of(moisture_by_words, of.by) + ", a judgement,";
    }
    if (!rise) return std::nullopt;
    InCondition result;
    result.footing = Footing::measured_band;
    result.low = base.value->low.value_or(base.value->value) * rise->first;
    result.high = base.value->high.value_or(base.value->value) * rise->second;
    result.central = (result.low + result.high) / 2;
    result.formula = "λ = λ declared · r, r = ratio to the dry value at the moisture of this condition / the same at that of the declared value, lowest and highest over the measured curves (our own reading of measurements; no standard)";
    put_stated(result, "λ declared for '" + word_of(condition_words, base.condition) + "'", *base.value);
    result.steps.push_back({"r, lowest", rise->first, "", source});
    result.steps.push_back({"r, highest", rise->second, "", source});
    result.how.push_back(note("moisture-band", {{"class", of.name}, {"condition", word_of(condition_words, base.condition)}, {"value", number_text(base.value->value)},
                                                {"low", number_text(std::floor(rise->first * 100) / 100)}, {"high", number_text(std::ceil(rise->second * 100) / 100)},
                                                {"moistures", moistures}, {"source", source}}));
    if (base.value->basis == Basis::not_stated) result.how.push_back(note("moisture-band-basis"));
    if (!is_of_density(of, material)) result.how.push_back(note("moisture-band-density"));
    if (!of.note.empty()) result.how.push_back(note("moisture-note", {{"note", of.note}}));
    return result;
}

/// The material's own values over moisture, in one unit; nothing with fewer than two, or where they do not rise.
std::optional<std::pair<MoistureBy, std::vector<std::pair<double, double>>>> own_curve(const Material& material) {
    std::optional<MoistureBy> by;
    for (const auto& [condition, value] : material.lambda.by_condition)
        if (value.moisture && value.basis != Basis::not_stated && !by) by = value.moisture->by;
    if (!by) return std::nullopt;
    std::vector<std::pair<double, double>> points;
    for (const auto& [condition, value] : material.lambda.by_condition)
        if (const auto moisture = stated_moisture(value, *by, material)) points.emplace_back(*moisture, value.value);
    const auto rises = [](const auto& a, const auto& b) { return a.first >= b.first || a.second >= b.second; };
    if (points.size() < 2 || std::adjacent_find(points.begin(), points.end(), rises) != points.end()) return std::nullopt;
    return std::pair(*by, points);
}

}  // namespace

InCondition conductivity_in(const Material& material, Condition condition, const std::vector<MoistureClass>& classes) {
    const auto& all = material.lambda.by_condition;
    const auto found = all.find(condition);
    const bool everywhere = material.lambda.bare && (material.kind == MaterialKind::metal || material.kind == MaterialKind::airspace || material.kind == MaterialKind::soil);
    if (found != all.end() || (everywhere && !all.empty())) {
        const Conductivity& value = found != all.end() ? found->second : all.begin()->second;
        InCondition declared{Footing::declared, value.low.value_or(value.value), value.value, value.high.value_or(value.value), {}};
        declared.formula = "λ as declared for this condition";
        put_stated(declared, "λ", value);
        return declared;
    }
    InCondition result;
    const MoistureClass* of = class_of(material, classes);
    if (auto from_stated = converted(material, condition, of, result.how)) return between_neighbours(*from_stated, material, condition);
    if (of)
        if (auto band = in_band(material, condition, *of)) {
            band->how.insert(band->how.begin(), result.how.begin(), result.how.end());
            return between_neighbours(*band, material, condition);
        }
    result.how.push_back(of ? note("moisture-no-band", {{"class", of->name}}) : is_of_units(material) ? note("moisture-no-class") : note("moisture-no-kind"));
    return result;
}

MoistureNeeded moisture_at(const Material& material, double conductivity, double area, const std::vector<MoistureClass>& classes) {
    MoistureNeeded result;
    const auto put = [&](double moisture, MoistureBy by) {
        result.by_mass = moisture_as(MoistureBy::mass, moisture, by, material);
        result.by_volume = moisture_as(MoistureBy::volume, moisture, by, material);
        if (result.by_volume) result.litres = *result.by_volume * area * water_density;
    };
    if (const auto own = own_curve(material)) {
        const auto& [by, points] = *own;
        result.footing = Footing::declared;
        result.beyond = conductivity > points.back().second;
        result.below = conductivity < points.front().second && points.front().first > 0;
        double moisture = conductivity <= points.front().second ? points.front().first : points.back().first;
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
            if (conductivity > points[i].second && conductivity <= points[i + 1].second)
                moisture = std::lerp(points[i].first, points[i + 1].first, (conductivity - points[i].second) / (points[i + 1].second - points[i].second));
        put(moisture, by);
        result.how.push_back(note("moisture-needed-declared"));
        return result;
    }
    if (const auto start = start_of_conversion(material); start && start->second <= material.conversion->valid_to) {
        const auto& [value, from] = *start;
        const Conversion& conversion = *material.conversion;
        result.footing = Footing::converted;
        const double needed = conversion.coefficient > 0 ? from + std::log(conductivity / value->value) / conversion.coefficient : INFINITY;
        result.beyond = needed > conversion.valid_to;
        put(std::clamp(needed, 0.0, conversion.valid_to), conversion.by);
        result.how.push_back(note("moisture-needed-converted", {{"coefficient", number_text(conversion.coefficient)}, {"limit", percent(conversion.valid_to)}, {"by", word_of(moisture_by_words, conversion.by)}}));
        return result;
    }
    const MoistureClass* of = class_of(material, classes);
    const Stated base = nearest_drier(material, Condition::dry);
    if (!of || !base.value) {
        result.how.push_back(note(of ? "moisture-basis-not-stated" : is_of_units(material) ? "moisture-needs-class" : "moisture-needs-kind"));
        return result;
    }
    // From the driest the value may have been stated at, by the steepest curve: the least that could suffice.
    const UsualMoisture from = moisture_of(base, *of, material);
    std::optional<double> least, end;
    for (const MoistureCurve& curve : of->curves) {
        const auto stated = moisture_as(curve.by, from.low, of->by, material);
        const auto at_base = stated ? curve.ratio(*stated) : std::nullopt;
        if (!at_base) continue;
        const double wanted = *at_base * conductivity / base.value->value;
        const auto needed = wanted <= 1 ? std::optional(0.0) : curve.moisture(wanted);
        const auto shown = moisture_as(of->by, needed.value_or(curve.points.back().first), curve.by, material);
        if (!shown) continue;
        if (needed) least = least ? std::min(*least, *shown) : *shown;
        end = end ? std::min(*end, *shown) : *shown;
    }
    if (!end) {
        result.how.push_back(note("moisture-without-density"));
        return result;
    }
    result.footing = Footing::measured_band;
    result.beyond = !least;
    put(least.value_or(*end), of->by);
    result.how.push_back(note("moisture-needed-band", {{"class", of->name}, {"source", sources_of(*of)}}));
    return result;
}

}  // namespace wallfoot
