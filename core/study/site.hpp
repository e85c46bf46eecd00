// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

// Facts of the site that rules ask for. Each is stated with its source or is not known; nothing stands for one that is
// not known.

enum class FactKind { word, flag, number };

/// One fact that the program knows how to use.
struct SiteFact {
    const char* key;                 ///< its name in the file, under `site`
    FactKind kind = FactKind::word;
    std::vector<std::string> words;  ///< a word: what may be stated
    double least = 0, most = 0;      ///< a number: its range, in `unit`
    const char* unit = "";
    /// Values that stand for all that could be, where it is not known.
    std::vector<std::string> could_be;
};

/// All of them, in the order in which they are asked for.
const std::vector<SiteFact>& site_facts();
/// Null for a key that is not known.
const SiteFact* find_site_fact(const std::string& key);

/// The value as plain text ("clay", "true", "1200"), nothing where the study does not state it. `storeys` and `use` may
/// also stand under `building`; what stands under `site` wins.
std::optional<std::string> site_value(const Study& study, const std::string& key);
/// The source stated for it, "" where there is none.
std::string site_source(const Study& study, const std::string& key);

// In words, for sentences: "ground gas", "needed".
std::string site_fact_name(const std::string& key);
std::string site_value_text(const std::string& key, const std::string& value);
/// The question that asks for it.
std::string site_question(const std::string& key);

/// What is wrong with a fact (its value as JSON text), with what would be right; nothing when it is sound. An unknown key
/// is a caution "site-fact-unknown", a value that is not allowed a fault.
std::optional<Message> check_site_fact(const std::string& key, const Fact& fact);

/// States a fact by plain text ("clay", "true", "1200"), or with nullopt takes it away: not known. Throws InputFault with
/// what check_site_fact says.
Study set_site_fact(const Study& study, const std::string& key, std::optional<std::string> value, const std::string& source = "");

}  // namespace wallfoot
