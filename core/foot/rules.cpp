// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/foot/rules.hpp"

#include <algorithm>
#include <set>

#include "core/file/fields.hpp"
#include "core/foot/foot_words.hpp"
#include "core/resources/resources.hpp"

namespace wallfoot {

namespace {

using namespace file;

constexpr const char* folder = "rule_sets";
constexpr const char* general = "foot-general";
constexpr const char* kept_in = "rule_sets";
/// What a rule set says it is for, so that it can be told from others that a study carries.
constexpr const char* purpose = "wall foot";
constexpr Range rule_numbers{0, 1e6};

/// The numbers, lists and classes that a kind cannot do without.
struct Needs {
    std::vector<std::string> numbers, lists, classes;
    bool accepted = false;
};

Needs needs_of(const Rule& rule) {
    switch (rule.kind) {
        case RuleKind::dpc_height:
        case RuleKind::cavity_clear: return {{"least"}, {}, {}, false};
        case RuleKind::dpc_continuity: return {{"lap"}, {}, {}, false};
        case RuleKind::frost_band: return {{"above", "below"}, {"frost_classes"}, {}, true};
        case RuleKind::inner_below_dpc: return {{}, {"frost_classes"}, {}, true};
        case RuleKind::sulfate: return {{}, {"classes"}, {}, false};
        case RuleKind::exposure:
            return {{"above", "below"}, {},
                    {"inner_above_dpc", "inner_below_dpc", "inner_below_dpc_reached", "outer_above_sheltered", "outer_above_moderate",
                     "outer_above_severe", "outer_above_sheltered_frost", "outer_above_moderate_frost", "outer_above_severe_frost",
                     "band", "band_frost", "below_drained", "salt", "aggressive"},
                    false};
        case RuleKind::strength: return {{"few", "many", "many_from"}, {}, {}, false};
        case RuleKind::dpc_bridging:
        case RuleKind::gas_membrane:
        case RuleKind::dry_conductivity:
        case RuleKind::water_pressure:
        case RuleKind::to_specify: break;
    }
    return {};
}

std::vector<std::string> read_texts(Fields& fields, const char* name) {
    std::vector<std::string> texts;
    fields.each(name, [&](const json::Value& item, const Where& place) {
        if (auto text = read_text(fields.found(), item, place)) texts.push_back(std::move(*text));
    });
    return texts;
}

/// A field that nobody knows is a fault here: misspelt, it would quietly change what is asked.
void end_fields(Fields& fields) {
    const std::size_t before = fields.found().warnings.size();
    for (const auto& [name, text] : fields.rest())
        fields.found().fault("foot-rules-unknown-field", fields.at(name), {{"field", name}});
    fields.found().warnings.resize(before);
}

std::map<std::string, double> read_numbers(Fields& fields) {
    std::map<std::string, double> numbers;
    const auto* value = fields.find("numbers");
    if (!value) return numbers;
    const Where place = fields.at("numbers");
    const auto* object = value->as<json::Object>();
    if (!object) return wrong_type(fields.found(), *value, place, "an object"), numbers;
    for (const auto& [name, item] : *object)
        if (const auto number = read_number(fields.found(), item, Where(place, name), rule_numbers)) numbers[name] = *number;
    return numbers;
}

std::map<std::string, std::vector<std::string>> read_lists(Fields& fields) {
    std::map<std::string, std::vector<std::string>> lists;
    const auto* value = fields.find("lists");
    if (!value) return lists;
    const Where place = fields.at("lists");
    Fields all(fields.found(), *value, place);
    if (const auto* object = value->as<json::Object>())
        for (const auto& [name, item] : *object) lists[name] = read_texts(all, name.c_str());
    return lists;
}

std::map<std::string, std::string> read_classes(Fields& fields) {
    std::map<std::string, std::string> classes;
    const auto* value = fields.find("classes");
    if (!value) return classes;
    const Where place = fields.at("classes");
    const auto* object = value->as<json::Object>();
    if (!object) return wrong_type(fields.found(), *value, place, "an object"), classes;
    for (const auto& [name, item] : *object)
        if (auto text = read_text(fields.found(), item, Where(place, name))) classes[name] = std::move(*text);
    return classes;
}

void read_accepted(Fields& fields, Rule& rule) {
    fields.each("accepted", [&](const json::Value& item, const Where& place) {
        const auto* list = read_list(fields.found(), item, place);
        if (!list) return;
        if (list->empty()) fields.found().fault("foot-rules-empty-list", place);
        auto& together = rule.accepted.emplace_back();
        for (std::size_t i = 0; i < list->size(); ++i)
            if (const auto property = read_word(fields.found(), (*list)[i], Where(place, i), unit_property_words))
                together.push_back(*property);
    });
}

void check_needs(Fields& fields, const Rule& rule) {
    const Needs needs = needs_of(rule);
    const auto missing = [&](const char* under, const std::string& name) {
        fields.found().fault("foot-rules-missing", fields.where(), {{"rule", rule.id}, {"field", std::string(under) + "/" + name}});
    };
    for (const auto& name : needs.numbers)
        if (!rule.numbers.contains(name)) missing("numbers", name);
    for (const auto& name : needs.lists)
        if (!rule.lists.contains(name)) missing("lists", name);
    for (const auto& name : needs.classes)
        if (!rule.classes.contains(name)) missing("classes", name);
    if (needs.accepted && rule.accepted.empty())
        fields.found().fault("foot-rules-missing", fields.where(), {{"rule", rule.id}, {"field", "accepted"}});
    for (const auto& together : rule.accepted)
        for (const UnitProperty property : together) {
            if (property == UnitProperty::density && !rule.numbers.contains("density")) missing("numbers", "density");
            if (property == UnitProperty::strength && !rule.numbers.contains("strength")) missing("numbers", "strength");
            if (property == UnitProperty::aggregate && !rule.lists.contains("aggregates")) missing("lists", "aggregates");
        }
}

Rule read_rule(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Rule rule;
    rule.id = fields.id();
    rule.name = fields.text("name");
    if (rule.name.empty()) rule.name = rule.id;
    const std::size_t before = found.faults.size();
    rule.kind = fields.need_word("check", rule_kind_words);
    const bool kind_known = found.faults.size() == before;
    if (const auto* asks = fields.need("asks")) rule.asks = read_text(found, *asks, fields.at("asks")).value_or("");
    if (const auto* source = fields.need("source")) rule.source = read_text(found, *source, fields.at("source")).value_or("");
    rule.jurisdiction = fields.text("jurisdiction");
    fields.each("exceptions", [&](const json::Value& item, const Where& place) {
        Fields parts(found, item, place);
        RuleException exception;
        if (const auto* text = parts.need("text")) exception.text = read_text(found, *text, parts.at("text")).value_or("");
        exception.conditions = read_texts(parts, "conditions");
        end_fields(parts);
        rule.exceptions.push_back(std::move(exception));
    });
    rule.cautions = read_texts(fields, "cautions");
    rule.numbers = read_numbers(fields);
    rule.lists = read_lists(fields);
    rule.classes = read_classes(fields);
    read_accepted(fields, rule);
    if (kind_known) check_needs(fields, rule);
    end_fields(fields);
    return rule;
}

FootRules read_set(Found& found, const json::Value& value, const std::string& pointer) {
    const Where top(pointer);
    Fields fields(found, value, top);
    FootRules set;
    set.id = fields.id();
    set.name = fields.text("name");
    if (set.name.empty()) set.name = set.id;
    set.about = fields.text("about");
    set.jurisdiction = fields.text("jurisdiction");
    fields.number("wallfoot", {1, 1});
    if (const auto* is_for = fields.need("for"))
        if (const auto word = read_text(found, *is_for, fields.at("for")); word && *word != purpose)
            unknown_word(found, fields.at("for"), *word, purpose);
    fields.need("rules");
    Ids ids;
    fields.each("rules", [&](const json::Value& item, const Where& place) {
        set.rules.push_back(read_rule(found, item, place));
        if (set.rules.back().jurisdiction.empty()) set.rules.back().jurisdiction = set.jurisdiction;
        ids.add(found, place, set.rules.back().id);
    });
    end_fields(fields);
    return set;
}

/// The foot rules a study carries, by their name under `rule_sets`.
std::vector<std::string> carried(const json::Object& sets) {
    std::vector<std::string> names;
    for (const auto& [name, set] : sets) {
        const auto* object = set.as<json::Object>();
        const auto is_for = object ? object->find("for") : json::Object::const_iterator{};
        if (!object || is_for == object->end()) continue;
        const auto* word = is_for->second.as<std::string>();
        if (word && *word == purpose) names.push_back(name);
    }
    return names;
}

json::Object kept_sets(const Study& study) {
    const auto kept = study.kept.find(kept_in);
    if (kept == study.kept.end() || kept->second.empty()) return {};
    const json::Value value = json::parse(kept->second);
    const auto* object = value.as<json::Object>();
    return object ? *object : json::Object{};
}

/// The faults of a file name the file.
FootRules read_file(const FootRuleFile& file) {
    try {
        return read_foot_rules(resource(file.path));
    } catch (const InputFault& fault) {
        std::vector<Message> faults;
        for (const Message& said : fault.faults())
            faults.push_back({Severity::fault, "foot-rules-damaged", {{"file", file.path}, {"reason", one_line(said, "")}}, {}, ""});
        throw InputFault(std::move(faults));
    }
}

FootRuleFile file_of(const std::string& id) {
    std::string known;
    for (const FootRuleFile& file : foot_rule_files()) {
        if (file.id == id) return file;
        known += (known.empty() ? "" : ", ") + file.id;
    }
    throw InputFault(Message{Severity::fault, "foot-rules-unknown", {{"id", id}, {"known", known}}, {}, ""});
}

}  // namespace

FootRules read_foot_rules(const std::string& text, const std::string& pointer) {
    Found found;
    json::Value value;
    FootRules set;
    if (json::parse(text, pointer, value, found.faults)) set = read_set(found, value, pointer);
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return set;
}

std::vector<FootRuleFile> foot_rule_files() {
    std::vector<FootRuleFile> files;
    const std::string prefix = std::string(folder) + "/";
    for (const std::string& path : resources_below(folder)) {
        const std::string name = path.substr(prefix.size());
        if (name.starts_with("foot-") && name.ends_with(".json"))
            files.push_back({name.substr(0, name.size() - 5), path, resource_is_overridden(path)});
    }
    return files;
}

std::string foot_rules_text(const std::string& id) { return resource(file_of(id).path); }

UsedRules used_foot_rules(const Study& study, const std::string& asked) {
    UsedRules used;
    const auto say = [&](const char* code, std::map<std::string, std::string> args) {
        used.notes.push_back({Severity::note, code, std::move(args), {}, ""});
    };
    const json::Object sets = kept_sets(study);
    const auto names = carried(sets);
    if (asked.empty() && !names.empty()) {
        used.rules = read_foot_rules(json::print_line(sets.at(names.front())), std::string("/rule_sets/") + names.front());
        for (std::size_t i = 1; i < names.size(); ++i) say("foot-rules-not-used", {{"id", names[i]}, {"used", names.front()}});
        return used;
    }
    const FootRuleFile file = file_of(asked.empty() ? general : asked);
    used.rules = read_file(file);
    if (used.rules.id != file.id) throw InputFault(Message{Severity::fault, "foot-rules-id-differs", {{"file", file.path}, {"id", used.rules.id}}, {}, ""});
    if (file.overridden) say("foot-rules-overridden", {{"file", file.path}});
    return used;
}

Study carry_foot_rules(const Study& study, const std::string& id) {
    const FootRuleFile file = file_of(id);
    read_file(file);  // nothing broken goes into a study
    json::Object sets = kept_sets(study);
    for (const std::string& name : carried(sets)) sets.erase(name);
    sets[id] = json::parse(resource(file.path));
    Study changed = study;
    changed.kept[kept_in] = json::print_line(sets);
    return changed;
}

}  // namespace wallfoot
