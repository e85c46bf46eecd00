// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/foot/check.hpp"
#include "core/standards/rising_damp.hpp"
#include "core/water/report.hpp"

namespace wallfoot {

/// A question to copy into a reply, with what its answer would decide.
struct Question {
    std::string key;
    Message question;
    std::vector<std::string> rules;  ///< names of the rules, each once
    int decides = 0;                 ///< how many checks wait for it
};

/// What is open in some checks, the question that most wait for first.
std::vector<Question> questions_of(const std::vector<Check>& checks);

/// How high water would rise in one leaf without its damp-proof course; an estimate, never a verdict.
struct RisingDampFinding {
    std::vector<std::string> pieces;
    RisingDampRange range;
    bool stated_sorptivity = false;
    Message message;
};

/// Where frost is most likely, to be drawn: the band in the outer leaf.
struct FrostBand {
    Rect area;
    std::string rule;
};

/// What the rules say of one variant.
struct FootReport {
    std::shared_ptr<const Section> section;
    std::string variant_id, variant_name, rules_id, rules_name, about;
    std::vector<Check> checks;
    std::vector<Question> questions;
    std::vector<RisingDampFinding> rising_damp;
    std::vector<FrostBand> bands;
    std::vector<Message> notes;
};

/// `rules`: a rule set by its id, "" = that of the study, else the general one. Throws InputFault with every fault of the
/// drawing or the rules; Cancelled.
FootReport foot_report(const Study& study, const Variant& variant, const std::string& rules = "", const Context& context = {});
/// The same where arrangement and water's way are known already.
FootReport foot_report(const Study& study, const Variant& variant, const Arrangement& arrangement, const WaterWay& way,
                       const UsedRules& rules);

/// For people.
std::string foot_table(const std::vector<FootReport>& reports);
/// For programs; `program` is its name and version, `title` that of the study.
std::string foot_json(const std::string& program, const std::string& title, const std::vector<FootReport>& reports);
/// The questions as text to copy into a reply; "" when nothing is open.
std::string questions_text(const std::vector<Question>& questions);

}  // namespace wallfoot
