// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/balance.hpp"

#include <algorithm>
#include <cmath>

#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"

namespace wallfoot {

namespace {

int space_called(const Section& section, const std::string& id) {
    for (std::size_t i = 0; i < section.spaces.size(); ++i)
        if (section.spaces[i].id == id) return int(i);
    return -1;
}

/// One exchange of a balanced space.
struct Exchange {
    int with = -1;
    double coefficient = 0;          ///< W/K
    const Coupling* coupling = nullptr;
    const BalanceLoss* loss = nullptr;
};

/// What a loss of another balance says of this space too: heat that leaves there arrives here, unless it is stated here as well.
bool mirrored(const Section& section, const SpaceBalance& own, const BalanceLoss& of_other, int other, int space) {
    if (space_called(section, of_other.to) != space) return false;
    return std::none_of(own.losses.begin(), own.losses.end(), [&](const BalanceLoss& loss) { return space_called(section, loss.to) == other; });
}

std::vector<Exchange> exchanges_of(const Section& section, const std::vector<std::optional<SpaceBalance>>& balances, int space, const std::vector<Coupling>& couplings) {
    const SpaceBalance& balance = *balances[std::size_t(space)];
    std::vector<Exchange> exchanges;
    for (std::size_t other = 0; other < balances.size(); ++other)
        if (balances[other] && int(other) != space)
            for (const BalanceLoss& loss : balances[other]->losses)
                if (mirrored(section, balance, loss, int(other), space)) exchanges.push_back({int(other), loss.watts_per_kelvin(), nullptr, &loss});
    for (const Coupling& coupling : couplings)
        if ((coupling.a == space || coupling.b == space) && coupling.value)
            exchanges.push_back({coupling.a == space ? coupling.b : coupling.a, coupling.value->value * balance.length, &coupling, nullptr});
    for (const BalanceLoss& loss : balance.losses) exchanges.push_back({space_called(section, loss.to), loss.watts_per_kelvin(), nullptr, &loss});
    return exchanges;
}

[[noreturn]] void refuse_balance(const char* code, const Section& section, std::size_t space) {
    const Space& of = section.spaces[space];
    throw InputFault(Message{Severity::fault, code, {{"space", of.id}}, of.at.empty() ? std::nullopt : std::optional(of.at.front()), {}});
}

/// Gaussian elimination with pivoting: as many rows as there are unheated spaces.
void eliminate(std::vector<std::vector<double>>& rows) {
    const std::size_t n = rows.size();
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t pivot = k;
        for (std::size_t i = k + 1; i < n; ++i)
            if (std::abs(rows[i][k]) > std::abs(rows[pivot][k])) pivot = i;
        std::swap(rows[k], rows[pivot]);
        for (std::size_t i = 0; i < n; ++i) {
            if (i == k || rows[i][k] == 0) continue;
            const double share = rows[i][k] / rows[k][k];
            for (std::size_t j = k; j <= n; ++j) rows[i][j] -= share * rows[k][j];
        }
    }
    for (std::size_t k = 0; k < n; ++k) rows[k][n] /= rows[k][k];
}

/// θ_u of one balance for couplings at one of their bounds: the upper ones towards warmer (or colder) spaces, else the lower.
double temperature_at_bounds(const std::vector<Exchange>& exchanges, const SpaceBalance& balance, const std::vector<double>& temperatures, double middle, bool warm) {
    double flow = balance.gains, sum = 0;
    for (const Exchange& exchange : exchanges) {
        const double other = temperatures[std::size_t(exchange.with)];
        const bool up = (other > middle) == warm;
        const double coefficient = exchange.coupling ? (up ? exchange.coupling->value->upper : exchange.coupling->value->lower) * balance.length : exchange.coefficient;
        flow += coefficient * other;
        sum += coefficient;
    }
    return flow / sum;
}

}  // namespace

std::vector<std::optional<SpaceBalance>> balances_of(const Section& section, const std::string& pointer) {
    std::vector<std::string> ids;
    for (const Space& space : section.spaces) ids.push_back(space.id);
    std::vector<std::optional<SpaceBalance>> balances(section.spaces.size());
    for (std::size_t i = 0; i < section.spaces.size(); ++i)
        if (const Space& space = section.spaces[i]; !space.temperature && space.balance)
            balances[i] = read_space_balance(*space.balance, pointer + "/section/spaces/" + std::to_string(i) + "/balance", ids);
    return balances;
}

std::vector<double> balanced_temperatures(const Section& section, const std::vector<std::optional<SpaceBalance>>& balances,
                                          const std::vector<double>& given, const std::vector<Coupling>& couplings) {
    std::vector<int> row_of(balances.size(), -1), unknown;
    for (std::size_t i = 0; i < balances.size(); ++i)
        if (balances[i]) row_of[i] = int(unknown.size()), unknown.push_back(int(i));
    std::vector<std::vector<double>> rows(unknown.size(), std::vector<double>(unknown.size() + 1, 0));
    for (std::size_t r = 0; r < unknown.size(); ++r) {
        const std::size_t space = std::size_t(unknown[r]);
        const SpaceBalance& balance = *balances[space];
        rows[r].back() = balance.gains;
        for (const Coupling& coupling : couplings) {
            if (coupling.a != int(space) && coupling.b != int(space)) continue;
            if (!coupling.value) refuse_balance("balance-touching", section, space);
            const std::size_t other = std::size_t(coupling.a == int(space) ? coupling.b : coupling.a);
            if (balances[other] && balances[other]->length != balance.length && coupling.value->value > 0)
                throw InputFault(Message{Severity::fault, "balance-lengths-differ", {{"a", section.spaces[space].id}, {"b", section.spaces[other].id}}, {}, {}});
        }
        for (const Exchange& exchange : exchanges_of(section, balances, int(space), couplings)) {
            rows[r][r] += exchange.coefficient;
            const std::size_t other = std::size_t(exchange.with);
            if (row_of[other] >= 0) rows[r][std::size_t(row_of[other])] -= exchange.coefficient;
            else rows[r].back() += exchange.coefficient * given[other];
        }
        if (!(rows[r][r] > 0)) refuse_balance("balance-without-exchange", section, space);
    }
    eliminate(rows);
    std::vector<double> temperatures = given;
    for (std::size_t r = 0; r < unknown.size(); ++r) {
        // Spaces that exchange with each other only: no temperature settles them.
        if (!std::isfinite(rows[r].back())) refuse_balance("balance-without-exchange", section, std::size_t(unknown[r]));
        temperatures[std::size_t(unknown[r])] = rows[r].back();
    }
    return temperatures;
}

std::vector<Derivation> derive_balances(const Findings& findings, const std::vector<std::optional<SpaceBalance>>& balances) {
    const Section& section = *findings.section;
    const bool only = std::count_if(balances.begin(), balances.end(), [](const auto& balance) { return balance.has_value(); }) == 1;
    int inside = headline_inside(section), outside = coldest_outside_space(section, findings.temperatures);
    std::vector<Derivation> derivations;
    for (std::size_t i = 0; i < balances.size(); ++i) {
        if (!balances[i]) continue;
        const SpaceBalance& balance = *balances[i];
        Derivation derivation{.of = "temperature of " + section.spaces[i].id + " by its balance",
                              .formula = "Σ L2D·l·(θ_j − θ_u) + Σ H·(θ_k − θ_u) + gains = 0; H = A·U, V·n·0.333 W·h/(m³·K), or 725·openings·wind·shelter "
                                         "(ISO 13789:2017, ISO 13370:2017; from memory, to be confirmed in the standards)",
                              .inputs = {{"l, of the junction", balance.length, "m", "stated"}}, .notes = {}, .id = "balance-temperature"};
        if (balance.gains != 0) derivation.inputs.push_back({"gains", balance.gains, "W", "stated"});
        const auto exchanges = exchanges_of(section, balances, int(i), findings.couplings);
        const double own = findings.temperatures[i];
        std::string equation;
        for (const Exchange& exchange : exchanges) {
            const std::string& other = section.spaces[std::size_t(exchange.with)].id;
            const std::string name = exchange.coupling ? "L2D " + section.spaces[i].id + "–" + other : "H, " + (exchange.loss->name.empty() ? "to " + other : exchange.loss->name + ", to " + other);
            if (exchange.coupling) {
                derivation.inputs.push_back({name, exchange.coupling->value->value, "W/(m·K)", "this section"});
                derivation.inputs.push_back({name + "·l", exchange.coefficient, "W/K", "computed"});
            } else {
                const BalanceLoss& loss = *exchange.loss;
                if (loss.area) derivation.inputs.insert(derivation.inputs.end(), {{"A, " + loss.name, *loss.area, "m²", "stated"}, {"U, " + loss.name, *loss.U, "W/(m²·K)", "stated"}});
                if (loss.volume) derivation.inputs.insert(derivation.inputs.end(), {{"V, " + loss.name, *loss.volume, "m³", "stated"}, {"n, " + loss.name, *loss.air_change, "1/h", "stated"}});
                if (loss.openings) derivation.inputs.insert(derivation.inputs.end(), {{"openings, " + loss.name, *loss.openings, "m²", "stated"}, {"wind, " + loss.name, *loss.wind, "m/s", "stated"}, {"shelter, " + loss.name, *loss.shelter, "", "stated"}});
                derivation.inputs.push_back({name, exchange.coefficient, "W/K", loss.coefficient ? "stated" : "computed"});
            }
            const double there = findings.temperatures[std::size_t(exchange.with)];
            derivation.inputs.push_back({"θ, " + other, there, "°C", "the study"});
            equation += (equation.empty() ? "" : " + ") + fixed(exchange.coefficient, 4) + "·(" + fixed(there, 2) + " − " + fixed(own, 3) + ")";
        }
        derivation.inputs.push_back({"θ_u, " + section.spaces[i].id, own, "°C", "computed"});
        if (only) {
            derivation.inputs.push_back({"θ_u, lower bound", temperature_at_bounds(exchanges, balance, findings.temperatures, own, false), "°C", "bounds of L2D"});
            derivation.inputs.push_back({"θ_u, upper bound", temperature_at_bounds(exchanges, balance, findings.temperatures, own, true), "°C", "bounds of L2D"});
        }
        if (inside >= 0 && outside >= 0 && findings.temperatures[std::size_t(inside)] != findings.temperatures[std::size_t(outside)])
            derivation.inputs.push_back({"b = (θ_i − θ_u)/(θ_i − θ_e)", (findings.temperatures[std::size_t(inside)] - own) / (findings.temperatures[std::size_t(inside)] - findings.temperatures[std::size_t(outside)]), "", "computed"});
        derivation.notes.push_back(equation + (balance.gains != 0 ? " + " + fixed(balance.gains, 1) : "") + " = 0");
        derivations.push_back(std::move(derivation));
    }
    return derivations;
}

}  // namespace wallfoot
