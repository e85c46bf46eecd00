// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>

#include "core/file/fields.hpp"
#include "core/study/space_balance.hpp"

namespace wallfoot {

namespace {

using namespace file;

constexpr double air_heat_capacity = 1200;  // J/(m³·K)
constexpr double seconds_per_hour = 3600;
constexpr double opening_factor = 725;      // J/(m³·K), half of 1450
constexpr Range not_too_much{0, 1e6};

/// Exactly one way of stating it, and that whole.
bool stated_once(const BalanceLoss& loss) {
    const bool area = loss.area && loss.U, air = loss.volume && loss.air_change, openings = loss.openings && loss.wind && loss.shelter;
    const bool half = (loss.area.has_value() != loss.U.has_value()) || (loss.volume.has_value() != loss.air_change.has_value()) ||
                      ((loss.openings || loss.wind || loss.shelter) && !openings);
    return !half && int(area) + int(air) + int(openings) + int(loss.coefficient.has_value()) == 1;
}

/// A misspelt name would silently stand for nothing, and the temperature would be wrong.
void no_unknown(Found& found, Fields& fields) {
    for (const auto& [name, text] : fields.rest()) found.fault("balance-unknown-field", fields.where(), {{"field", name}});
}

BalanceLoss read_loss(Found& found, const json::Value& value, const Where& where, const std::vector<std::string>& spaces) {
    Fields fields(found, value, where);
    BalanceLoss loss;
    loss.name = fields.text("name");
    if (const auto* to = fields.need("to")) loss.to = read_text(found, *to, fields.at("to")).value_or("");
    loss.area = fields.number("area", not_too_much);
    loss.U = fields.number("U", not_too_much);
    loss.volume = fields.number("volume", not_too_much);
    loss.air_change = fields.number("air_change", not_too_much);
    loss.openings = fields.number("openings", not_too_much);
    loss.wind = fields.number("wind", not_too_much);
    loss.shelter = fields.number("shelter", {0, 1});
    loss.coefficient = fields.number("coefficient", not_too_much);
    no_unknown(found, fields);
    if (!fields.is_object()) return loss;
    if (!stated_once(loss)) found.fault("balance-loss-one-way", where);
    if (std::find(spaces.begin(), spaces.end(), loss.to) == spaces.end())
        found.fault("balance-space-unknown", fields.at("to"), {{"space", loss.to}});
    return loss;
}

}  // namespace

double BalanceLoss::watts_per_kelvin() const {
    if (area && U) return *area * *U;
    if (volume && air_change) return *volume * *air_change * air_heat_capacity / seconds_per_hour;
    if (openings && wind && shelter) return opening_factor * *openings * *wind * *shelter;
    return coefficient.value_or(0);
}

SpaceBalance read_space_balance(const std::string& text, const std::string& pointer, const std::vector<std::string>& spaces) {
    Found found;
    json::Value value;
    SpaceBalance balance;
    if (json::parse(text, pointer, value, found.faults)) {
        const Where where(pointer);
        Fields fields(found, value, where);
        balance.length = fields.need_number("length", {0.001, 10'000});
        balance.gains = fields.number("gains", {-1e6, 1e6}).value_or(0);
        fields.each("losses", [&](const json::Value& item, const Where& place) { balance.losses.push_back(read_loss(found, item, place, spaces)); });
        no_unknown(found, fields);
    }
    if (!found.faults.empty()) throw InputFault(std::move(found.faults));
    return balance;
}

std::string space_balance_json(const SpaceBalance& balance) {
    json::Object object{{"length", balance.length}};
    if (balance.gains != 0) object["gains"] = balance.gains;
    json::Array losses;
    for (const BalanceLoss& loss : balance.losses) {
        json::Object entry{{"to", loss.to}};
        put_text(entry, "name", loss.name);
        const auto put = [&](const char* name, const std::optional<double>& value) {
            if (value) entry[name] = *value;
        };
        put("area", loss.area), put("U", loss.U), put("volume", loss.volume), put("air_change", loss.air_change);
        put("openings", loss.openings), put("wind", loss.wind), put("shelter", loss.shelter), put("coefficient", loss.coefficient);
        losses.push_back(std::move(entry));
    }
    if (!losses.empty()) object["losses"] = std::move(losses);
    return json::print_line(object);
}

}  // namespace wallfoot
