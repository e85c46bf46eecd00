// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/equal_build.hpp"

#include <algorithm>
#include <cmath>

#include "core/study/edits.hpp"
#include "core/text/refuse_faults.hpp"
#include "solver/findings/elements.hpp"
#include "solver/findings/mixed_layers.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void refuse_build(const std::string& code, std::map<std::string, std::string> args) { throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); }

/// The measure's lengths in the section; a length that the drawing does not allow has no value.
class Walk {
  public:
    Walk(const Study& study, const Variant& variant, std::string measure, std::string element, Alike alike, const Context& context)
        : study_(study), variant_(variant), measure_(std::move(measure)), element_(std::move(element)), alike_(alike), context_(context) {}

    std::shared_ptr<const Section> section(Micrometres length) const { return std::make_shared<const Section>(set_stretch(*variant_.section, measure_, length)); }

    std::optional<double> at(Micrometres length) const {
        context_.check();
        try {
            Variant changed = variant_;
            changed.section = section(length);
            return alike_value(study_, changed, element_, alike_, context_);
        } catch (const InputFault&) {
            return std::nullopt;
        }
    }

    /// From a length that is sound towards one that may not be: the last sound one, to a tenth of a millimetre.
    Micrometres last_sound(Micrometres sound, Micrometres towards) const {
        if (at(towards)) return towards;
        while (std::abs(towards - sound) > 100) {
            const Micrometres middle = sound + (towards - sound) / 2;
            (at(middle) ? sound : towards) = middle;
        }
        return sound;
    }

  private:
    const Study& study_;
    const Variant& variant_;
    std::string measure_, element_;
    Alike alike_;
    const Context& context_;
};

const Stretch& measure_of(const Variant& variant, const std::string& name) {
    std::string known;
    for (const Stretch& stretch : variant.section->stretch) {
        if (stretch.id == name || stretch.name == name) return stretch;
        known += (known.empty() ? "" : ", ") + (stretch.name.empty() ? stretch.id : stretch.name);
    }
    refuse_build("equal-unknown-measure", {{"measure", name}, {"known", known.empty() ? "none" : known}});
}

/// Follows one passage of the target down to the grid. False where the drawing does not allow what lies between, or where the
/// value leaps over the target (a layer appears or drops out): then no length gives it.
bool follow_passage(const Walk& walk, double target, EqualBuild::Tried low, EqualBuild::Tried high, EqualBuild& result) {
    constexpr double leap_share = 1e-3;  // of the whole fall, over the last step of the grid
    const double fall = std::abs(high.value - low.value);
    while (high.length - low.length > 1 && low.value != target && high.value != target) {
        const Micrometres middle = low.length + (high.length - low.length) / 2;
        const auto value = walk.at(middle);
        if (!value) return false;
        ((*value - target) * (low.value - target) > 0 ? low : high) = {middle, *value};
    }
    if (low.value != target && high.value != target && std::abs(high.value - low.value) > leap_share * fall) {
        result.leaps_at = low.length;
        return false;
    }
    if (low.value == target) high = low;
    if (high.value == target) low = high;
    result.bracket = {low.length, high.length};
    const EqualBuild::Tried& nearer = std::abs(low.value - target) <= std::abs(high.value - target) ? low : high;
    result.length = nearer.length;
    result.value = nearer.value;
    result.section = walk.section(nearer.length);
    result.leaps_at.reset();
    return true;
}

}  // namespace

double alike_value(const Study& study, const Variant& variant, const std::string& element, Alike alike, const Context& context) {
    const Section& section = *variant.section;
    const Arrangement arrangement = arrange(study, section, context);
    std::vector<Message> messages = arrangement.messages;
    refuse_faults(messages);
    auto conductivity = conductivities(study, section, arrangement, messages);
    refuse_faults(messages);
    const auto edges = surfaces(study, section, arrangement, Purpose::heat_flow);
    const std::vector<double> temperatures = ordering_temperatures(study, section);
    const SectionView view{study, section, arrangement, conductivity, edges, temperatures};
    if (std::any_of(conductivity.begin(), conductivity.end(), [](const FaceConductivity& face) { return !face.parts.empty(); })) {
        resolve_mixed_layers(view, find_elements(view), conductivity, messages, FormulaVersions().of("iso6946-parts"));
        refuse_faults(messages);
    }
    std::string known;
    for (const FoundElement& found : find_elements(view)) {
        const Element& of = found.element;
        known += (known.empty() ? "" : ", ") + of.id;
        if (of.id != element) continue;
        double thickness = 0, resistance = of.surface_warm;
        for (const Element::Layer& layer : of.layers) thickness += layer.thickness_m, resistance += layer.resistance;
        if (alike == Alike::thickness && !of.layers.empty()) return thickness;
        if (of.U) return *of.U;
        if (of.ground && !of.layers.empty() && resistance > 0) return 1 / resistance;
        refuse_build("equal-no-transmittance", {{"element", element}, {"variant", variant.name}});
    }
    refuse_build("equal-unknown-element", {{"element", element}, {"variant", variant.name}, {"known", known.empty() ? "none" : known}});
}

EqualBuild equal_build(const Study& study, const Variant& variant, const std::string& measure, const std::string& element, Alike alike, double target, const Context& context) {
    const Stretch& stretch = measure_of(variant, measure);
    EqualBuild result;
    result.element = element;
    result.measure = stretch.name.empty() ? stretch.id : stretch.name;
    result.target = target;
    result.before = stretch_length(stretch);
    result.value_before = alike_value(study, variant, element, alike, context);
    const Walk walk(study, variant, stretch.id, element, alike, context);
    const Micrometres least = walk.last_sound(result.before, stretch.min.value_or(0)), most = walk.last_sound(result.before, stretch.max.value_or(result.before + most_added));
    constexpr int steps = 16;
    for (int i = 0; i <= steps; ++i) {
        const Micrometres length = least + (most - least) * i / steps;
        if (!result.tried.empty() && result.tried.back().length == length) continue;
        if (const auto value = walk.at(length)) result.tried.push_back({length, *value});
    }
    // The passages, the nearest to what is drawn first.
    std::vector<std::size_t> passages;
    const auto distance = [&](std::size_t i) { return std::min(std::abs(result.tried[i].length - result.before), std::abs(result.tried[i + 1].length - result.before)); };
    for (std::size_t i = 0; i + 1 < result.tried.size(); ++i)
        if ((result.tried[i].value - target) * (result.tried[i + 1].value - target) <= 0) passages.push_back(i);
    std::stable_sort(passages.begin(), passages.end(), [&](std::size_t a, std::size_t b) { return distance(a) < distance(b); });
    for (const std::size_t passage : passages)
        if (follow_passage(walk, target, result.tried[passage], result.tried[passage + 1], result)) break;
    return result;
}

}  // namespace wallfoot
