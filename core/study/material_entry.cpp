// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/material_entry.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "core/standards/masonry.hpp"
#include "core/study/materials.hpp"
#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"

namespace wallfoot {

namespace {

/// Shortest decimal text that reads back as the same number, without an exponent.
std::string exact_text(double value) {
    char text[400];
    const auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed).ptr;
    return {text, end};
}

std::string exact_text(const std::optional<double>& value) { return value ? exact_text(*value) : std::string(); }

double to_digits(double value, int digits) {
    char text[64];
    std::snprintf(text, sizeof text, "%.*e", digits - 1, value);
    double rounded = value;
    std::from_chars(text, text + sizeof text, rounded);
    return rounded;
}

bool blank(const std::string& text) { return text.find_first_not_of(" \t\xc2\xa0") == std::string::npos; }

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(" \t\n"), last = text.find_last_not_of(" \t\n");
    return first == std::string::npos ? std::string() : text.substr(first, last - first + 1);
}

/// A source without what an earlier entry said there of how the value came about: the value is stated anew.
std::string without_derivation(const std::string& source) {
    const std::string gap = "\x01", between = "; ";
    std::string text = source;
    for (const char* code : {"entry-from-joints", "entry-from-joints-up", "entry-from-resistance"}) {
        std::map<std::string, std::string> args;
        for (const char* name : {"unit", "length", "height", "bed", "perpend", "mortar", "share", "even", "R", "thickness"}) args[name] = gap;
        std::vector<std::string> parts;
        std::string sentence = english({Severity::note, code, args, {}, {}});
        for (std::size_t at; (at = sentence.find(gap)) != std::string::npos; sentence.erase(0, at + gap.size())) parts.push_back(sentence.substr(0, at));
        parts.push_back(sentence);
        for (std::size_t from = 0; (from = text.find(parts.front(), from)) != std::string::npos;) {
            std::size_t end = from;
            const bool begins = from == 0 || (from >= between.size() && text.compare(from - between.size(), between.size(), between) == 0);
            for (const std::string& part : parts)
                if (end != std::string::npos && (end = text.find(part, end)) != std::string::npos) end += part.size();
            if (!begins || end == std::string::npos) {
                from += parts.front().size();
                continue;
            }
            if (parts.back().empty()) end = std::min(text.find(between, end), text.size());  // its last value runs to the next remark
            if (text.compare(end, between.size(), between) == 0) end += between.size();
            else if (from > 0) from -= between.size();
            text.erase(from, end - from);
        }
    }
    return text;
}

class Reader {
  public:
    explicit Reader(std::vector<Message>& faults) : faults_(faults) {}

    void fault(const std::string& code, const std::string& field, std::map<std::string, std::string> args = {}) {
        faults_.push_back(Message{Severity::fault, code, std::move(args), {}, field});
    }

    /// Nothing for an empty text, and nothing with a fault for one that is no number within the limits.
    std::optional<double> number(const std::string& text, const std::string& field, Limits limits) {
        if (blank(text)) return std::nullopt;
        const Entry entry = parse_number(text);
        if (!entry) {
            fault(entry.problem, field);
            return std::nullopt;
        }
        if (*entry.value >= limits.least && *entry.value <= limits.most) return entry.value;
        fault("number-out-of-range", field,
              {{"value", exact_text(*entry.value)}, {"least", exact_text(limits.least)}, {"most", exact_text(limits.most)}});
        return std::nullopt;
    }

    std::optional<double> conductivity(const std::string& text, const std::string& field) {
        if (blank(text)) return std::nullopt;
        const Entry entry = parse_number(text);
        if (!entry) {
            fault(entry.problem, field);
            return std::nullopt;
        }
        return sound(*entry.value, field) ? entry.value : std::nullopt;
    }

    /// Of a unit: thickness / R.
    std::optional<double> from_resistance(const ConductivityEntry& entry, const std::string& at) {
        const Entry resistance = parse_number(entry.value), thickness = parse_length(entry.thickness);
        if (!resistance) fault(resistance.problem, at + "/value");
        else if (*resistance.value <= 0) fault("resistance-not-positive", at + "/value", {{"value", exact_text(*resistance.value)}});
        if (blank(entry.thickness)) fault("entry-thickness-missing", at + "/thickness");
        else if (!thickness) fault(thickness.problem, at + "/thickness");
        else if (*thickness.value <= 0) fault("thickness-not-positive", at + "/thickness", {{"value", exact_text(*thickness.value)}});
        if (!resistance || !thickness || *resistance.value <= 0 || *thickness.value <= 0) return std::nullopt;
        const double value = to_digits(masonry::conductivity_of_unit(*thickness.value / 1000, *resistance.value), 6);
        return sound(value, at + "/value") ? std::optional(value) : std::nullopt;
    }

    /// Of units in mortar; nothing with a fault for every field that cannot be.
    std::optional<masonry::Conductivities> from_joints(const ConductivityEntry& entry, const std::string& at) {
        const auto length = [&](const std::string& text, const char* field, bool joint) -> std::optional<double> {
            if (blank(text)) {
                if (joint) return 0;
                fault("entry-unit-size-missing", at + field);
                return std::nullopt;
            }
            const Entry read = parse_length(text);
            if (!read) fault(read.problem, at + field);
            else if (*read.value < 0 || (*read.value == 0 && !joint)) fault("thickness-not-positive", at + field, {{"value", exact_text(*read.value)}});
            else return read.value;
            return std::nullopt;
        };
        const auto unit = conductivity(entry.value, at + "/value"), mortar = conductivity(entry.mortar, at + "/mortar");
        if (blank(entry.mortar)) fault("entry-mortar-missing", at + "/mortar");
        const auto long_ = length(entry.unit_length, "/unit_length", false), high = length(entry.unit_height, "/unit_height", false);
        const auto bed = length(entry.bed, "/bed", true), perpend = length(entry.perpend, "/perpend", true);
        if (!unit || !mortar || !long_ || !high || !bed || !perpend) return std::nullopt;
        return masonry::conductivities({*long_, *high, *bed, *perpend, *unit, *mortar});
    }

    std::optional<double> value_of(const ConductivityEntry& entry, const std::string& at, bool up) {
        switch (entry.stated) {
            case StatedAs::resistance: return from_resistance(entry, at);
            case StatedAs::joints:
                if (const auto both = from_joints(entry, at)) return to_digits(up ? both->up : both->across, 6);
                return std::nullopt;
            default: return conductivity(entry.value, at + "/value");
        }
    }

    /// The declared value, or nothing where none is declared or it cannot be read.
    std::optional<Conductivity> declared(const ConductivityEntry& entry, const std::string& at, const Conductivity* before, bool up) {
        const bool joints = entry.stated == StatedAs::joints && (!blank(entry.unit_length) || !blank(entry.unit_height) || !blank(entry.mortar));
        const bool any = joints || !blank(entry.moisture) || !blank(entry.low) || !blank(entry.high) || !blank(entry.fractile) || !blank(entry.source);
        if (blank(entry.value)) {
            if (any || (entry.stated == StatedAs::resistance && !blank(entry.thickness))) fault("entry-value-missing", at + "/value");
            return std::nullopt;
        }
        Conductivity lambda;
        if (before) lambda.extra = before->extra;
        const auto value = value_of(entry, at, up);
        lambda.value = value.value_or(0);
        lambda.low = conductivity(entry.low, at + "/low");
        lambda.high = conductivity(entry.high, at + "/high");
        if (value && lambda.low && *lambda.low > *value) fault("conductivity-range", at + "/low", {{"value", exact_text(*value)}});
        if (value && lambda.high && *lambda.high < *value) fault("conductivity-range", at + "/high", {{"value", exact_text(*value)}});
        lambda.basis = entry.basis;
        read_moisture(entry, at, before, lambda);
        lambda.fractile = number(entry.fractile, at + "/fractile", fractile_limits);
        lambda.source = trimmed(entry.source);
        // Of another value than before, a former derivation says nothing true.
        if (entry.stated != StatedAs::conductivity || (before && value && *value != before->value)) lambda.source = without_derivation(lambda.source);
        if (entry.stated != StatedAs::conductivity && value) lambda.source += (lambda.source.empty() ? "" : "; ") + derivation(entry, up);
        return value ? std::optional(lambda) : std::nullopt;
    }

  private:
    std::vector<Message>& faults_;

    static std::string in_mm(const std::string& typed) { return trimmed(typed) + (parse_number(typed) ? " mm" : ""); }
    static std::string joint(const std::string& typed) { return blank(typed) ? "0 mm" : in_mm(typed); }

    /// How a value that is not the paper's own came about, for whoever reads the source.
    std::string derivation(const ConductivityEntry& entry, bool up) {
        if (entry.stated == StatedAs::resistance) return english({Severity::note, "entry-from-resistance", {{"R", trimmed(entry.value)}, {"thickness", in_mm(entry.thickness)}}, {}, {}});
        const auto both = from_joints(entry, "");
        const auto six = [](double value) { return exact_text(to_digits(value, 4)); };
        return english({Severity::note, up ? "entry-from-joints-up" : "entry-from-joints",
                        {{"unit", trimmed(entry.value)}, {"length", in_mm(entry.unit_length)}, {"height", in_mm(entry.unit_height)}, {"bed", joint(entry.bed)},
                         {"perpend", joint(entry.perpend)}, {"mortar", trimmed(entry.mortar)}, {"share", six(100 * both->mortar_share)}, {"even", six(both->up_even)}}, {}, {}});
    }

    bool sound(double value, const std::string& field) {
        if (value <= 0) fault("conductivity-not-positive", field, {{"value", exact_text(value)}});
        else if (value < conductivity_limits.least || value > conductivity_limits.most) fault("conductivity-absurd", field, {{"value", exact_text(value)}});
        else return true;
        return false;
    }

    void read_moisture(const ConductivityEntry& entry, const std::string& at, const Conductivity* before, Conductivity& lambda) {
        if (blank(entry.moisture)) {
            if (entry.basis == Basis::at_moisture) fault("entry-moisture-missing", at + "/moisture");
            return;
        }
        const Limits limits = moisture_limits(entry.by);
        const auto percent = number(entry.moisture, at + "/moisture", {100 * limits.least, 100 * limits.most});
        if (!percent) return;
        lambda.moisture = MoistureContent{entry.by, *percent / 100, {}};
        if (!before || !before->moisture || before->moisture->by != entry.by) return;
        lambda.moisture->extra = before->moisture->extra;
        // A tenth of a per cent has no exact binary form: what was not touched keeps its last digit.
        if (std::abs(before->moisture->value - lambda.moisture->value) <= 1e-12) lambda.moisture->value = before->moisture->value;
    }
};

ConductivityEntry entry_of(const Conductivity& lambda) {
    ConductivityEntry entry;
    entry.value = exact_text(lambda.value);
    entry.basis = lambda.basis;
    if (lambda.moisture) {
        entry.moisture = exact_text(to_digits(100 * lambda.moisture->value, 12));
        entry.by = lambda.moisture->by;
    }
    entry.low = exact_text(lambda.low);
    entry.high = exact_text(lambda.high);
    entry.fractile = exact_text(lambda.fractile);
    entry.source = lambda.source;
    return entry;
}

void fill_entries(std::array<ConductivityEntry, condition_count>& entries, const Conductivities& all, MaterialKind kind) {
    for (const auto& [condition, lambda] : all.by_condition) entries[static_cast<std::size_t>(condition)] = entry_of(lambda);
    if (all.bare && same_in_all_conditions(kind)) entries.fill(entries.front());
}

bool only_number(const Conductivity& lambda) {
    return !lambda.low && !lambda.high && lambda.basis == Basis::not_stated && !lambda.moisture && !lambda.fractile &&
           lambda.source.empty() && lambda.extra.empty();
}

Conductivities read_conductivities(Reader& reader, const std::array<ConductivityEntry, condition_count>& entries,
                                   const std::string& at, const Conductivities& before, MaterialKind kind, bool up) {
    Conductivities all;
    for (std::size_t c = 0; c < condition_count; ++c) {
        const auto condition = static_cast<Condition>(c);
        const auto known = before.by_condition.find(condition);
        const auto lambda = reader.declared(entries[c], at + "/" + to_string(condition),
                                            known == before.by_condition.end() ? nullptr : &known->second, up);
        if (lambda) all.by_condition[condition] = *lambda;
    }
    // What the file gave as one number stays one number while it still says the same.
    const std::size_t needed = same_in_all_conditions(kind) ? condition_count : 1;
    if (!before.bare || all.by_condition.size() != needed || !all.by_condition.contains(Condition::dry)) return all;
    const Conductivity dry = all.by_condition.at(Condition::dry);
    if (!only_number(dry) || !std::all_of(all.by_condition.begin(), all.by_condition.end(), [&](const auto& one) { return one.second == dry; }))
        return all;
    all.by_condition = {{Condition::dry, dry}};
    all.bare = true;
    return all;
}

}  // namespace

namespace {

/// What units in mortar across the leaf say of the height.
void add_along_joints(Reader& reader, const MaterialEntry& entry, Material& material) {
    const auto by_joints = [&](Condition condition) { return entry.across[static_cast<std::size_t>(condition)].stated == StatedAs::joints; };
    const auto& across = material.lambda.by_condition;
    auto& up = material.lambda_up.by_condition;
    if (std::none_of(across.begin(), across.end(), [&](const auto& one) { return by_joints(one.first); })) return;
    for (const auto& [condition, lambda] : across) {
        if (up.contains(condition)) continue;
        up[condition] = lambda;
        if (!by_joints(condition)) continue;
        ConductivityEntry same = entry.across[static_cast<std::size_t>(condition)];
        // What the paper leaves open is stated across the leaf.
        same.low.clear(), same.high.clear();
        if (const auto declared = reader.declared(same, "/lambda/" + to_string(condition), nullptr, true)) up[condition] = *declared;
    }
    material.lambda_up.bare = false;
}

/// The parts; shares that were not touched keep their last digit, as with moisture.
std::vector<MixPart> read_parts(Reader& reader, const MaterialEntry& entry, const Material& before) {
    std::vector<MixPart> parts;
    double sum = 0;
    bool known = true;
    for (std::size_t i = 0; i < entry.mix.size(); ++i) {
        const std::string at = std::string("/mix/") + std::to_string(i);
        MixPart part;
        if (i < before.mix.size() && before.mix[i].material == entry.mix[i].material) part = before.mix[i];
        part.material = entry.mix[i].material;
        if (part.material.empty()) reader.fault("entry-part-missing", at + "/material");
        else if (part.material == before.id) reader.fault("mix-holds-itself", at + "/material", {{"material", shown_name(before)}});
        if (blank(entry.mix[i].share)) reader.fault("entry-share-missing", at + "/fraction");
        const auto percent = reader.number(entry.mix[i].share, at + "/fraction", {0, 100});
        known = known && percent;
        if (percent && !(std::abs(part.fraction - *percent / 100) <= 1e-12)) part.fraction = *percent / 100;
        sum += part.fraction;
        parts.push_back(std::move(part));
    }
    constexpr double whole = 1e-9;  // as the file is read
    if (parts.size() < 2) reader.fault("entry-mix-of-one", "/mix");
    else if (known && std::abs(sum - 1) > whole) reader.fault("entry-mix-not-whole", "/mix", {{"sum", number_text(100 * sum, 6)}});
    return parts;
}

std::optional<TemperatureConversion> read_use_temperature(Reader& reader, const MaterialEntry& entry, const Material& before) {
    if (blank(entry.temperature_coefficient) && blank(entry.temperature_from) && blank(entry.temperature_to)) return std::nullopt;
    TemperatureConversion conversion = before.temperature.value_or(TemperatureConversion{});
    const auto field = [&](const std::string& text, const char* name, Limits limits, double& value) {
        const std::string at = std::string("/temperature/") + name;
        if (blank(text)) reader.fault("entry-temperature-missing", at);
        else if (const auto typed = reader.number(text, at, limits)) value = *typed;
    };
    field(entry.temperature_coefficient, "coefficient", {0, 0.1}, conversion.coefficient);
    field(entry.temperature_from, "from", {-60, 200}, conversion.from);
    field(entry.temperature_to, "to", {-60, 200}, conversion.to);
    return conversion;
}

}  // namespace

MaterialEntry entry_of(const Material& material) {
    MaterialEntry entry;
    entry.name = shown_name(material);
    entry.kind = material.kind;
    fill_entries(entry.across, material.lambda, material.kind);
    fill_entries(entry.up, material.lambda_up, material.kind);
    entry.second_axis = !material.lambda_up.by_condition.empty();
    entry.density = exact_text(material.density);
    entry.strength = exact_text(material.strength);
    entry.aggregate = material.aggregate.value_or("");
    entry.capillary = material.capillary;
    entry.mixed = !material.mix.empty();
    for (const MixPart& part : material.mix) entry.mix.push_back({part.material, exact_text(to_digits(100 * part.fraction, 12))});
    if (material.temperature) {
        entry.temperature_coefficient = exact_text(material.temperature->coefficient);
        entry.temperature_from = exact_text(material.temperature->from);
        entry.temperature_to = exact_text(material.temperature->to);
    }
    entry.ageing = exact_text(material.ageing);
    return entry;
}

std::optional<double> entered_conductivity(const ConductivityEntry& entry, bool up) {
    std::vector<Message> ignored;
    Reader reader(ignored);
    if (blank(entry.value)) return std::nullopt;
    return reader.value_of(entry, "", up);
}

std::optional<double> entered_conductivity(const MaterialEntry& entry, std::size_t condition, bool up) {
    const ConductivityEntry& across = entry.across[condition];
    if (!up) return entered_conductivity(across);
    if (entry.second_axis && !blank(entry.up[condition].value)) return entered_conductivity(entry.up[condition], true);
    return across.stated == StatedAs::joints ? entered_conductivity(across, true) : std::nullopt;
}

MaterialEntry restated(const MaterialEntry& typed, const Material& before) {
    MaterialEntry entry = typed;
    const MaterialEntry saved = entry_of(before);
    for (std::size_t c = 0; c < condition_count; ++c)
        if (entry.across[c].stated == StatedAs::joints && entry.up[c] == saved.up[c]) entry.up[c] = {};
    return entry;
}

ReadEntry read_entry(const MaterialEntry& typed, const Material& before) {
    const MaterialEntry entry = restated(typed, before);
    ReadEntry read{before, {}};
    Reader reader(read.faults);
    Material& material = read.material;
    material.name = trimmed(entry.name);
    if (material.name.empty()) reader.fault("material-without-name", "/name");
    if (before.name.empty() && material.name == before.id) material.name.clear();  // shown by its id, and left so
    material.kind = entry.kind;
    material.density = reader.number(entry.density, "/density", density_limits);
    material.strength = reader.number(entry.strength, "/strength", strength_limits);
    material.capillary = entry.capillary;
    if (trimmed(entry.aggregate) != before.aggregate.value_or("")) {
        material.aggregate.reset();
        if (!blank(entry.aggregate)) material.aggregate = trimmed(entry.aggregate);
    }
    material.temperature = read_use_temperature(reader, entry, before);
    material.ageing = reader.number(entry.ageing, "/ageing", {1, 10});
    material.mix.clear();
    if (entry.mixed) {  // its conductivity follows from its parts
        material.mix = read_parts(reader, entry, before);
        material.lambda = material.lambda_up = {};
        return read;
    }
    material.lambda = read_conductivities(reader, entry.across, "/lambda", before.lambda, entry.kind, false);
    material.lambda_up = {};
    if (entry.second_axis) material.lambda_up = read_conductivities(reader, entry.up, "/lambda_up", before.lambda_up, entry.kind, true);
    add_along_joints(reader, entry, material);
    if (entry.second_axis && material.lambda.by_condition.empty() && !material.lambda_up.by_condition.empty())
        reader.fault("entry-up-without-across", "/lambda/dry/value");
    return read;
}

}  // namespace wallfoot
