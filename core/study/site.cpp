// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/study/site.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace wallfoot {

namespace {

SiteFact word(const char* key, std::vector<std::string> words) { return {key, FactKind::word, words, 0, 0, "", words}; }
SiteFact flag(const char* key) { return {key, FactKind::flag, {}, 0, 0, "", {"true", "false"}}; }
SiteFact number(const char* key, double least, double most, const char* unit, std::vector<std::string> could_be) {
    return {key, FactKind::number, {}, least, most, unit, std::move(could_be)};
}

std::string listed(const std::vector<std::string>& words) {
    std::string list;
    for (const std::string& word : words) list += (list.empty() ? "" : ", ") + word;
    return list;
}

std::optional<double> number_of(const std::string& text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

bool is_quoted(const std::string& json) { return json.size() >= 2 && json.front() == '"' && json.back() == '"'; }

/// Plain text of a JSON word, flag or number; words here hold nothing that JSON escapes.
std::string plain(const std::string& json) { return is_quoted(json) ? json.substr(1, json.size() - 2) : json; }

std::string allowed(const SiteFact& fact) {
    switch (fact.kind) {
        case FactKind::word: return listed(fact.words);
        case FactKind::flag: return "true, false";
        case FactKind::number: {
            const auto whole = [](double value) { return std::to_string(static_cast<long long>(value)); };
            return "a number from " + whole(fact.least) + " to " + whole(fact.most) + (*fact.unit ? std::string(" ") + fact.unit : "");
        }
    }
    return {};
}

bool is_allowed(const SiteFact& fact, const std::string& json) {
    switch (fact.kind) {
        case FactKind::word: return is_quoted(json) && std::find(fact.words.begin(), fact.words.end(), plain(json)) != fact.words.end();
        case FactKind::flag: return json == "true" || json == "false";
        case FactKind::number: {
            const auto value = number_of(json);
            return value && *value >= fact.least && *value <= fact.most;
        }
    }
    return false;
}

/// "name": value right inside the kept object `building`, as plain text. Deeper objects are passed over.
std::optional<std::string> under_building(const std::string& json, const std::string& name) {
    int depth = 0;
    for (std::size_t i = 0; i < json.size(); ++i) {
        if (json[i] == '{' || json[i] == '[') ++depth;
        if (json[i] == '}' || json[i] == ']') --depth;
        if (json[i] != '"') continue;
        std::size_t end = i + 1;
        while (end < json.size() && json[end] != '"') end += json[end] == '\\' ? 2 : 1;
        const bool key = depth == 1 && json.compare(i + 1, end - i - 1, name) == 0;
        std::size_t next = end + 1;
        while (next < json.size() && json[next] == ' ') ++next;
        if (key && next < json.size() && json[next] == ':') {
            std::size_t from = next + 1;
            while (from < json.size() && json[from] == ' ') ++from;
            std::size_t to = from;
            if (from < json.size() && json[from] == '"') {
                for (to = from + 1; to < json.size() && json[to] != '"';) to += json[to] == '\\' ? 2 : 1;
                ++to;
            } else {
                while (to < json.size() && json[to] != ',' && json[to] != '}') ++to;
            }
            return json.substr(from, to - from);
        }
        i = end;
    }
    return std::nullopt;
}

}  // namespace

const std::vector<SiteFact>& site_facts() {
    // Sulfate in the ground by the design classes of ground-investigation reports; ground water as the depth of its highest
    // known level below the ground outside.
    static const std::vector<SiteFact> facts{
        word("gas", {"needed", "not-needed"}),
        word("frost", {"none", "moderate", "severe"}),
        word("rain", {"sheltered", "moderate", "severe"}),
        word("sulfate", {"DS-1", "DS-2", "DS-3", "DS-4", "DS-5"}),
        number("ground_water", -10'000, 100'000, "mm", {"0", "100000"}),
        flag("drained"),
        word("soil", {"clay", "sand", "rock", "made-ground"}),
        flag("coastal"),
        number("storeys", 1, 200, "", {"1", "2", "3"}),
        word("use", {"dwelling", "office", "humid", "pool", "storage", "other"})};
    return facts;
}

const SiteFact* find_site_fact(const std::string& key) {
    for (const SiteFact& fact : site_facts())
        if (key == fact.key) return &fact;
    return nullptr;
}

std::optional<std::string> site_value(const Study& study, const std::string& key) {
    if (const auto stated = study.site.find(key); stated != study.site.end() && !check_site_fact(key, stated->second))
        return plain(stated->second.value);
    const SiteFact* fact = find_site_fact(key);
    if (!fact || (key != "storeys" && key != "use")) return std::nullopt;
    const auto text = under_building(study.building, key);
    return text && is_allowed(*fact, *text) ? std::optional(plain(*text)) : std::nullopt;
}

std::string site_source(const Study& study, const std::string& key) {
    const auto stated = study.site.find(key);
    return stated == study.site.end() ? "" : stated->second.source;
}

std::string site_fact_name(const std::string& key) { return english({Severity::note, "site-fact-" + key, {}, {}, ""}); }

std::string site_value_text(const std::string& key, const std::string& value) {
    const SiteFact* fact = find_site_fact(key);
    const Message words{Severity::note, "site-" + key + "-" + value, {}, {}, ""};
    const std::string text = english(words);
    if (text != words.code || !fact) return text;
    return value + (*fact->unit ? std::string(" ") + fact->unit : "");  // a number as it stands
}

std::string site_question(const std::string& key) { return english({Severity::note, "site-ask-" + key, {}, {}, ""}); }

std::optional<Message> check_site_fact(const std::string& key, const Fact& fact) {
    const SiteFact* known = find_site_fact(key);
    if (!known) {
        std::vector<std::string> keys;
        for (const SiteFact& one : site_facts()) keys.push_back(one.key);
        return Message{Severity::caution, "site-fact-unknown", {{"fact", key}, {"known", listed(keys)}}, {}, "/site/" + key};
    }
    if (is_allowed(*known, fact.value)) return std::nullopt;
    return Message{Severity::fault, "site-fact-value", {{"fact", key}, {"value", plain(fact.value)}, {"allowed", allowed(*known)}}, {}, "/site/" + key + "/value"};
}

Study set_site_fact(const Study& study, const std::string& key, std::optional<std::string> value, const std::string& source) {
    Study changed = study;
    if (!value) {
        changed.site.erase(key);
        return changed;
    }
    const SiteFact* known = find_site_fact(key);
    Fact fact = changed.site.contains(key) ? changed.site[key] : Fact{};
    fact.value = known && known->kind == FactKind::word ? "\"" + *value + "\"" : *value;
    fact.source = source;
    if (auto wrong = check_site_fact(key, fact)) throw InputFault(std::move(*wrong));
    changed.site[key] = std::move(fact);
    return changed;
}

}  // namespace wallfoot
