// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/study/study.hpp"
#include "core/text/message.hpp"

namespace wallfoot {

/// What a rule asks about; the numbers it asks for are data (resources/rule_sets/foot-*.json).
enum class RuleKind {
    dpc_height,         ///< of the damp-proof course above the ground outside
    dpc_continuity,     ///< through every leaf and to the floor membrane
    dpc_bridging,       ///< by something porous beside the leaf
    cavity_clear,       ///< below the damp-proof course
    gas_membrane,       ///< where the site needs one
    frost_band,         ///< units of the outer leaf around the ground
    inner_below_dpc,    ///< units of the inner leaf below the damp-proof course
    sulfate,            ///< in the ground
    dry_conductivity,   ///< taken where it is damp
    exposure,           ///< class proposed per zone
    water_pressure,     ///< ground water against damp-proofing
    strength,           ///< of units by storeys
    to_specify          ///< nothing a drawing can answer
};

/// What a unit states that a rule may accept.
enum class UnitProperty { density, strength, aggregate, assessed };

struct RuleException {
    std::string text;
    std::vector<std::string> conditions;
    bool operator==(const RuleException&) const = default;
};

struct Rule {
    std::string id, name;
    RuleKind kind = RuleKind::to_specify;
    std::string asks, source, jurisdiction;
    std::vector<RuleException> exceptions;
    std::vector<std::string> cautions;
    /// mm, kg/m³, N/mm² or a count; each kind needs its own.
    std::map<std::string, double> numbers;
    /// Any of the lists; all of one list together.
    std::vector<std::vector<UnitProperty>> accepted;
    std::map<std::string, std::vector<std::string>> lists;  ///< words by name: frost classes, aggregates, classes of sulfate
    std::map<std::string, std::string> classes;  ///< exposure class by zone
    bool operator==(const Rule&) const = default;
};

struct FootRules {
    std::string id, name, jurisdiction, about;
    std::vector<Rule> rules;
    bool operator==(const FootRules&) const = default;
};

/// Reads a rule set. Throws InputFault with every fault, each with its pointer below `pointer`.
FootRules read_foot_rules(const std::string& json, const std::string& pointer = "");

/// A rule set that comes with the program or lies in the folder of --resources: rule_sets/foot-*.json.
struct FootRuleFile {
    std::string id, path;
    bool overridden = false;  ///< from the folder
};
std::vector<FootRuleFile> foot_rule_files();
/// The JSON text of a set by its id; throws InputFault "foot-rules-unknown".
std::string foot_rules_text(const std::string& id);

/// The rules that hold for a study, and what there is to say of where they come from.
struct UsedRules {
    FootRules rules;
    std::vector<Message> notes;
};
/// `asked`: a set by its id, "" = the one the study carries under `rule_sets`, else the general one. Throws InputFault.
UsedRules used_foot_rules(const Study& study, const std::string& asked = "");
/// The study with a copy of the set, in the place of the foot rules it carried. Throws InputFault.
Study carry_foot_rules(const Study& study, const std::string& id);

}  // namespace wallfoot
