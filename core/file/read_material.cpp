// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "core/file/fields.hpp"
#include "core/study/materials.hpp"

namespace wallfoot::file {

namespace {

Range range_of(Limits limits) { return {limits.least, limits.most}; }

std::optional<double> read_lambda_number(Found& found, const json::Value& value, const Where& where) {
    const auto* number = value.as<json::Number>();
    if (!number) {
        wrong_type(found, value, where, "a number");
        return std::nullopt;
    }
    if (number->value <= 0) {
        found.fault("conductivity-not-positive", where, {{"value", number->text}});
        return std::nullopt;
    }
    if (number->value < conductivity_limits.least || number->value > conductivity_limits.most) {
        found.fault("conductivity-absurd", where, {{"value", number->text}});
        return std::nullopt;
    }
    return number->value;
}

MoistureContent read_moisture(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    MoistureContent moisture;
    moisture.by = fields.need_word("by", moisture_by_words);
    moisture.value = fields.need_number("value", range_of(moisture_limits(moisture.by)));
    moisture.extra = fields.rest();
    return moisture;
}

Conductivity read_conductivity(Found& found, const json::Value& value, const Where& where) {
    Conductivity lambda;
    if (value.as<json::Number>()) {
        lambda.value = read_lambda_number(found, value, where).value_or(0);
        return lambda;
    }
    if (!value.as<json::Object>()) {
        wrong_type(found, value, where, "a number or an object");
        return lambda;
    }
    Fields fields(found, value, where);
    if (const auto* number = fields.need("value")) lambda.value = read_lambda_number(found, *number, fields.at("value")).value_or(0);
    if (const auto* number = fields.find("low")) lambda.low = read_lambda_number(found, *number, fields.at("low"));
    if (const auto* number = fields.find("high")) lambda.high = read_lambda_number(found, *number, fields.at("high"));
    const bool ordered = (!lambda.low || *lambda.low <= lambda.value) && (!lambda.high || lambda.value <= *lambda.high);
    if (lambda.value > 0 && !ordered) found.fault("conductivity-range", where, {{"value", json::number_text(lambda.value)}});
    lambda.basis = fields.word("basis", basis_words).value_or(Basis::not_stated);
    if (const auto* moisture = fields.find("moisture")) lambda.moisture = read_moisture(found, *moisture, fields.at("moisture"));
    if (lambda.basis == Basis::at_moisture && !lambda.moisture) found.fault("basis-without-moisture", where);
    lambda.fractile = fields.number("fractile", range_of(fractile_limits));
    lambda.source = fields.text("source");
    lambda.extra = fields.rest();
    return lambda;
}

Conductivities read_conductivities(Found& found, const json::Value& value, const Where& where) {
    Conductivities all;
    if (value.as<json::Number>()) {
        all.bare = true;
        all.by_condition[Condition::dry] = read_conductivity(found, value, where);
        return all;
    }
    const auto* object = value.as<json::Object>();
    if (!object) {
        wrong_type(found, value, where, "a number or an object with a value per moisture condition");
        return all;
    }
    for (const auto& [word, item] : *object) {
        const Where place(where, word);
        const auto condition = find_word(condition_words, word);
        if (condition) all.by_condition[*condition] = read_conductivity(found, item, place);
        else unknown_word(found, place, word, list_of(condition_words));
    }
    return all;
}

Conversion read_conversion(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Conversion conversion;
    conversion.by = fields.need_word("by", moisture_by_words);
    conversion.coefficient = fields.need_number("coefficient", {0, 100});
    conversion.valid_to = fields.need_number("valid_to", {0, 20});
    conversion.extra = fields.rest();
    return conversion;
}

TemperatureConversion read_use_temperature(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    TemperatureConversion conversion;
    conversion.coefficient = fields.need_number("coefficient", {0, 0.1});
    conversion.from = fields.need_number("from", {-60, 200});
    conversion.to = fields.need_number("to", {-60, 200});
    conversion.extra = fields.rest();
    return conversion;
}

Evidence read_evidence(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Evidence evidence;
    evidence.document = fields.text("document");
    evidence.date = fields.text("date");
    evidence.page = fields.text("page");
    evidence.seen_by = fields.text("seen_by");
    evidence.extra = fields.rest();
    return evidence;
}

void read_mix(Fields& fields, Material& material) {
    double sum = 0;
    fields.each("mix", [&](const json::Value& item, const Where& place) {
        Fields part(fields.found(), item, place);
        MixPart mix;
        if (const auto* name = part.need("material")) mix.material = read_text(fields.found(), *name, part.at("material")).value_or("");
        mix.fraction = part.need_number("fraction", {0, 1});
        mix.extra = part.rest();
        sum += mix.fraction;
        material.mix.push_back(std::move(mix));
    });
    if (sum > 1 + 1e-9) fields.found().fault("mix-over-one", fields.at("mix"), {{"sum", json::number_text(sum)}});
    if (!material.mix.empty() && (!material.lambda.by_condition.empty() || !material.lambda_up.by_condition.empty()))
        fields.found().fault("mix-and-conductivity", fields.where(), {{"material", material.id}});
}

}  // namespace

Material read_material(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Material material;
    material.id = fields.id();
    material.name = fields.text("name");
    material.kind = fields.need_word("kind", material_kind_words);
    if (const auto* lambda = fields.find("lambda")) material.lambda = read_conductivities(found, *lambda, fields.at("lambda"));
    if (const auto* lambda = fields.find("lambda_up")) material.lambda_up = read_conductivities(found, *lambda, fields.at("lambda_up"));
    read_mix(fields, material);
    if (const auto* item = fields.find("conversion")) material.conversion = read_conversion(found, *item, fields.at("conversion"));
    if (const auto* item = fields.find("temperature")) material.temperature = read_use_temperature(found, *item, fields.at("temperature"));
    material.ageing = fields.number("ageing", {1, 10});
    material.density = fields.number("density", range_of(density_limits));
    material.heat_capacity = fields.number("heat_capacity", {0.01, 100'000});
    material.strength = fields.number("strength", range_of(strength_limits));
    material.frost = fields.optional_text("frost");
    material.aggregate = fields.optional_text("aggregate");
    material.assessed = fields.flag("assessed");
    material.capillary = fields.flag("capillary");
    material.sorptivity = fields.number("sorptivity", {0, 1000});
    fields.each("evidence", [&](const json::Value& item, const Where& place) {
        material.evidence.push_back(read_evidence(found, item, place));
    });
    material.extra = fields.rest();
    return material;
}

void check_mixes(Found& found, const Where& materials, const std::vector<Material>& list) {
    std::map<std::string, std::size_t> index;
    for (std::size_t i = 0; i < list.size(); ++i) index.emplace(list[i].id, i);
    std::vector<int> state(list.size(), 0);  // 0 not visited, 1 being followed, 2 done
    for (std::size_t start = 0; start < list.size(); ++start) {
        if (state[start]) continue;
        std::vector<std::pair<std::size_t, std::size_t>> trail{{start, 0}};  // material, next part
        state[start] = 1;
        while (!trail.empty()) {
            const auto [m, p] = trail.back();
            if (p == list[m].mix.size()) {
                state[m] = 2;
                trail.pop_back();
                continue;
            }
            ++trail.back().second;
            const Where material(materials, m), mix(material, "mix"), part(mix, p), place(part, "material");
            const auto next = index.find(list[m].mix[p].material);
            if (next == index.end()) {
                found.fault("unknown-material", place, {{"material", list[m].mix[p].material}});
            } else if (state[next->second] == 1) {
                found.fault("mix-holds-itself", place, {{"material", list[m].id}});
            } else if (state[next->second] == 0) {
                state[next->second] = 1;
                trail.push_back({next->second, 0});
            }
        }
    }
}

namespace {

json::Value write_conductivity(const Conductivity& lambda) {
    const bool only_number = !lambda.low && !lambda.high && lambda.basis == Basis::not_stated && !lambda.moisture &&
                             !lambda.fractile && lambda.source.empty() && lambda.extra.empty();
    if (only_number) return lambda.value;
    json::Object object{{"value", lambda.value}};
    if (lambda.low) object["low"] = *lambda.low;
    if (lambda.high) object["high"] = *lambda.high;
    if (lambda.basis != Basis::not_stated) object["basis"] = to_string(lambda.basis);
    if (lambda.moisture) {
        json::Object moisture{{"by", word_of(moisture_by_words, lambda.moisture->by)}, {"value", lambda.moisture->value}};
        put_extra(moisture, lambda.moisture->extra);
        object["moisture"] = std::move(moisture);
    }
    if (lambda.fractile) object["fractile"] = *lambda.fractile;
    put_text(object, "source", lambda.source);
    put_extra(object, lambda.extra);
    return object;
}

void put_conductivities(json::Object& object, const char* name, const Conductivities& all) {
    if (all.by_condition.empty()) return;
    if (all.bare && all.by_condition.size() == 1 && all.by_condition.begin()->first == Condition::dry) {
        json::Value only = write_conductivity(all.by_condition.begin()->second);
        if (only.as<json::Number>()) {
            object[name] = std::move(only);
            return;
        }
    }
    json::Object by_condition;
    for (const auto& [condition, lambda] : all.by_condition) by_condition[to_string(condition)] = write_conductivity(lambda);
    object[name] = std::move(by_condition);
}

json::Value write_conversion(const Conversion& conversion) {
    json::Object object{{"by", word_of(moisture_by_words, conversion.by)},
                        {"coefficient", conversion.coefficient},
                        {"valid_to", conversion.valid_to}};
    put_extra(object, conversion.extra);
    return object;
}

json::Value write_evidence(const Evidence& evidence) {
    json::Object object;
    put_text(object, "document", evidence.document);
    put_text(object, "date", evidence.date);
    put_text(object, "page", evidence.page);
    put_text(object, "seen_by", evidence.seen_by);
    put_extra(object, evidence.extra);
    return object;
}

}  // namespace

json::Value write_material(const Material& material) {
    json::Object object{{"id", material.id}, {"kind", to_string(material.kind)}};
    put_text(object, "name", material.name);
    put_conductivities(object, "lambda", material.lambda);
    put_conductivities(object, "lambda_up", material.lambda_up);
    if (!material.mix.empty()) {
        json::Array parts;
        for (const MixPart& part : material.mix) {
            json::Object item{{"material", part.material}, {"fraction", part.fraction}};
            put_extra(item, part.extra);
            parts.push_back(std::move(item));
        }
        object["mix"] = std::move(parts);
    }
    if (material.conversion) object["conversion"] = write_conversion(*material.conversion);
    if (material.temperature) {
        json::Object conversion{{"coefficient", material.temperature->coefficient}, {"from", material.temperature->from}, {"to", material.temperature->to}};
        put_extra(conversion, material.temperature->extra);
        object["temperature"] = std::move(conversion);
    }
    if (material.ageing) object["ageing"] = *material.ageing;
    if (material.density) object["density"] = *material.density;
    if (material.heat_capacity) object["heat_capacity"] = *material.heat_capacity;
    if (material.strength) object["strength"] = *material.strength;
    if (material.frost) object["frost"] = *material.frost;
    if (material.aggregate) object["aggregate"] = *material.aggregate;
    if (material.assessed) object["assessed"] = *material.assessed;
    if (material.capillary) object["capillary"] = *material.capillary;
    if (material.sorptivity) object["sorptivity"] = *material.sorptivity;
    if (!material.evidence.empty()) {
        json::Array list;
        for (const Evidence& evidence : material.evidence) list.push_back(write_evidence(evidence));
        object["evidence"] = std::move(list);
    }
    put_extra(object, material.extra);
    return object;
}

}  // namespace wallfoot::file
