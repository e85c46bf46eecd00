// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/arrangement/arrangement.hpp"
#include "core/foot/rules.hpp"
#include "core/text/message.hpp"
#include "core/water/water_way.hpp"

namespace wallfoot {

// Rules at the foot of a wall, asked of one section. A check says what the drawing shows against one rule of a rule set;
// it certifies nothing.

/// RULES 17. not_assessed: the rule is told, nothing in a drawing can answer it.
enum class Verdict { meets, does_not_meet, undecided, not_assessed };

/// A fact of the site on which a verdict rests: with another value of it the verdict or its sentence would be another.
struct FactUsed {
    std::string key;     ///< of site_facts()
    std::string value;   ///< plain text, "" = not known
    std::string source;  ///< as stated, "" = none
    bool operator==(const FactUsed&) const = default;
};

/// Something that would decide an undecided check, as a question in plain words.
struct Decider {
    std::string key;   ///< the same for every check that the same answer decides: "site/gas", "material/ab/density", …
    Message question;
    bool operator==(const Decider&) const = default;
};

/// What would hold if facts that are not known were as said in `when`.
struct End {
    std::string when;  ///< in words
    Verdict verdict = Verdict::undecided;
    Message message;
    bool operator==(const End&) const = default;
};

struct Check {
    std::string rule, name;   ///< id and name of the rule in its set
    RuleKind kind = RuleKind::dpc_height;
    Verdict verdict = Verdict::not_assessed;
    Message message;          ///< what was found, with its place; its cautions are in the sentence
    std::vector<Message> told;     ///< exceptions of the rule where it is not met, and what else belongs to it
    std::vector<Point> places;     ///< on the drawing
    std::vector<std::string> pieces;  ///< ids of pieces it speaks of
    std::vector<FactUsed> facts;   ///< of the site, known or not
    std::vector<End> ends;         ///< undecided for want of facts: what each would lead to
    std::vector<Decider> deciders; ///< what would decide it
    std::string asks, source, jurisdiction;  ///< of the rule
    std::vector<std::string> cautions;       ///< of the rule
    bool operator==(const Check&) const = default;
};

/// All checks of a section by one rule set, in the order of its rules; of one rule first what is not met. Pure. The
/// arrangement and the water's way must be those of the section, and sound.
std::vector<Check> foot_checks(const Study& study, const Section& section, const Arrangement& arrangement, const WaterWay& way,
                               const FootRules& rules);

/// "meets", "does not meet", …, for people.
std::string verdict_text(Verdict verdict);

}  // namespace wallfoot
