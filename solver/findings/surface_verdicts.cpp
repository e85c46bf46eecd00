// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/surface_verdicts.hpp"

#include <algorithm>
#include <array>

#include "core/standards/iso13788.hpp"
#include "core/study/names.hpp"
#include "core/study/site.hpp"
#include "solver/findings/elements.hpp"
#include "solver/findings/findings.hpp"
#include "solver/findings/numbers.hpp"
#include "solver/findings/psi.hpp"

namespace wallfoot {

namespace {

constexpr double condensation_humidity = 1.0;
constexpr int demand_decimals = 3;
constexpr const char* from_climate = "climate of the study";
constexpr const char* worked_out = "computed";

/// The sentence of each verdict of one demand.
struct Sentences {
    const char *meets, *does_not_meet, *undecided;
};
constexpr Sentences limit_sentences{"surface-limit-meets", "surface-limit-fails", "surface-limit-undecided"};
constexpr Sentences mould_sentences{"surface-mould-meets", "surface-mould-fails", "surface-mould-undecided"};
constexpr Sentences condensation_sentences{"surface-condensation-meets", "surface-condensation-fails", "surface-condensation-undecided"};
constexpr Sentences psi_sentences{"psi-limit-meets", "psi-limit-fails", "psi-limit-undecided"};

const char* sentence_of(const Sentences& sentences, Verdict verdict) {
    return verdict == Verdict::meets ? sentences.meets : verdict == Verdict::undecided ? sentences.undecided : sentences.does_not_meet;
}

Message a_note(std::string code, std::map<std::string, std::string> args, std::optional<Point> at = {}) {
    return {Severity::note, std::move(code), std::move(args), at, {}};
}

/// At least `asked`, seen through an error.
Verdict at_least(double asked, double lower, double upper) {
    return lower >= asked ? Verdict::meets : upper < asked ? Verdict::does_not_meet : Verdict::undecided;
}

/// A month, the air inside and what both ask of the surface.
struct MonthDemand {
    iso13788::Month month;
    double room_celsius = 0;  ///< of the headline's room in that month; θ_i of `month` where the surface is in one that goes with it
    double excess_Pa = 0;  ///< Δp of the class, without its margin
    double saturation_outside = 0, pressure_outside = 0;
    iso13788::MonthRequirement required;
};

MonthDemand demand_of(const ClimateMonth& climate, const IndoorAir& indoor, double inside_celsius, double surface_humidity) {
    MonthDemand demand{.month = {climate.outside, climate.humidity, inside_celsius}, .room_celsius = inside_celsius, .required = {}};
    demand.saturation_outside = iso13788::saturation_pressure(climate.outside);
    demand.pressure_outside = climate.humidity * demand.saturation_outside;
    double pressure = 0;
    if (indoor.humidity_class) {
        demand.excess_Pa = iso13788::vapour_excess(static_cast<iso13788::HumidityClass>(*indoor.humidity_class), climate.outside);
        pressure = iso13788::inside_vapour_pressure(climate.outside, climate.humidity, demand.excess_Pa);
    } else {
        pressure = std::min(1.0, indoor.humidity.value_or(0) + indoor.margin) * iso13788::saturation_pressure(demand.month.inside_celsius);
    }
    demand.required = iso13788::required_at_pressure(demand.month, pressure, surface_humidity);
    return demand;
}

std::string indoor_words(const IndoorAir& indoor) {
    if (indoor.humidity_class) return english(a_note("indoor-class", {{"class", std::to_string(*indoor.humidity_class)}}));
    return english(a_note("indoor-humidity", {{"humidity", fixed(100 * *indoor.humidity, 0)}, {"margin", fixed(100 * indoor.margin, 0)}}));
}

std::string listed_zones(const Convention& convention) {
    std::string words;
    for (const auto& [zone, limit] : convention.least_fRsi_by_zone) words += (words.empty() ? "" : ", ") + zone + " " + fixed(limit, 2);
    return words;
}

/// The twelve months of a climate; of a wave those it passes through, without humidity outside. None where neither is stated.
std::vector<ClimateMonth> months_of_climate(const Climate& climate, double inside_celsius) {
    if (!climate.year || !climate.months.empty()) return climate.months;
    std::vector<ClimateMonth> months;
    for (std::size_t m = 0; m < months_of_a_year; ++m) months.push_back(month_of(*climate.year, m, inside_celsius));
    return months;
}

/// Makes the verdicts of one variant.
class Judge {
  public:
    Judge(const Study& study, Findings& findings) : study_(study), findings_(findings), surface_(findings.headline_surface()) {}

    std::vector<SurfaceVerdict> all() {
        psi_limit();
        if (!surface_) return std::move(verdicts_);
        limit();
        by_month(SurfaceDemand::mould, iso13788::mould_humidity, mould_sentences);
        by_month(SurfaceDemand::condensation, condensation_humidity, condensation_sentences);
        return std::move(verdicts_);
    }
    /// By month in the year's wave.
    std::vector<SurfaceVerdict> through_year(const SeasonSurface& season) {
        season_ = &season;
        if (!surface_) return {};
        if (surface_->space != season.space) {
            if (!judged_by_month()) return {};
            const auto name = [&](int space) { return shown_name(*findings_.section, findings_.section->spaces[static_cast<std::size_t>(space)]); };
            findings_.messages.push_back({Severity::caution, "season-other-space", {{"room", name(season.space)}, {"space", name(surface_->space)}}, place(), {}});
            return {};
        }
        by_month(SurfaceDemand::mould, iso13788::mould_humidity, mould_sentences);
        by_month(SurfaceDemand::condensation, condensation_humidity, condensation_sentences);
        std::erase_if(verdicts_, [](const SurfaceVerdict& verdict) { return verdict.verdict == Verdict::not_assessed; });
        return std::move(verdicts_);
    }

  private:
    Point place() const { return {std::llround(surface_->at[0]), std::llround(surface_->at[1])}; }
    SurfaceVerdict of_surface(SurfaceDemand demand) const {
        SurfaceVerdict verdict{.demand = demand, .space = surface_->space, .asked = {}, .month = {}, .margin_K = {}, .message = {}};
        verdict.found = surface_->fRsi.value_or(0);
        verdict.lower = verdict.found - surface_->estimate;
        verdict.upper = verdict.found + surface_->estimate;
        return verdict;
    }
    std::string found_text() const { return fixed(*surface_->fRsi, factor_decimals(*surface_)); }
    /// False, with the reason told, where inside is not the warmer side: then nothing is asked of the surface.
    bool warmer_inside() const {
        const int outside = coldest_outside();
        return surface_->fRsi && outside >= 0 && findings_.temperatures[surface_->space] > findings_.temperatures[outside];
    }
    int coldest_outside() const { return coldest_outside_space(*findings_.section, findings_.temperatures); }
    bool judged_by_month() const {
        return std::any_of(findings_.verdicts.begin(), findings_.verdicts.end(), [](const SurfaceVerdict& verdict) { return verdict.month.has_value(); });
    }
    bool as_first() const { return findings_.formulas.of("iso13788-months") == 1; }
    /// The room whose temperatures inside the climate's months are: the headline's.
    std::size_t room() const {
        const int headline = as_first() ? -1 : headline_inside(*findings_.section);
        return static_cast<std::size_t>(headline < 0 ? surface_->space : headline);
    }
    /// Inside spaces of that room's own temperature go through the year with it, others stay as they are.
    bool goes_with(std::size_t space) const { return as_first() || same_room_temperature(findings_.temperatures[space], findings_.temperatures[room()]); }
    /// A balance that found a temperature has put it into the section: what the study states tells.
    bool in_balance(std::size_t i) const {
        const Space& space = findings_.section->spaces[i];
        const Variant* stated = as_first() ? nullptr : study_.find_variant(findings_.variant_id);
        if (!space.balance) return false;
        if (stated)
            for (const Space& own : stated->section->spaces)
                if (own.id == space.id) return !own.temperature;
        return !space.temperature;
    }
    double temperature_in(std::size_t i, const MonthDemand& demand) const {
        const Space& space = findings_.section->spaces[i];
        const double here = findings_.temperatures[i], outside = demand.month.outside_celsius;
        if (space.kind == SpaceKind::inside && goes_with(i)) return demand.room_celsius;
        if (space.kind == SpaceKind::outside) return outside;
        if (!in_balance(i)) return here;
        const double base_outside = findings_.temperatures[coldest_outside()], base_inside = findings_.temperatures[room()];
        if (base_inside == base_outside) return here;
        return outside + (here - base_outside) / (base_inside - base_outside) * (demand.room_celsius - outside);
    }
    /// fRsi of the coldest surface in a month: with more than two spaces θ_si = Σ g·θ, where stated temperatures stay as they are
    /// and a space in balance keeps its share of the difference between inside and outside.
    double factor_in(const MonthDemand& demand) const {
        if (surface_->weights.empty()) return *surface_->fRsi;
        const iso13788::Month& month = demand.month;
        const std::size_t spaces = findings_.section->spaces.size();
        const double difference = month.inside_celsius - month.outside_celsius;
        double surface = 0;
        for (std::size_t i = 0; i < spaces; ++i) surface += surface_->weights[i] * temperature_in(i, demand);
        return (surface - month.outside_celsius) / difference;
    }
    /// fRsi in a month, and how far it may be off: by the year's wave where that was asked.
    double factor_in(std::size_t index, const MonthDemand& demand) const {
        const iso13788::Month& month = demand.month;
        if (!season_) return factor_in(demand);
        return (season_->by_month[index] - month.outside_celsius) / (month.inside_celsius - month.outside_celsius);
    }
    double error_in(const iso13788::Month& month) const {
        return surface_->estimate + (season_ ? season_->error / (month.inside_celsius - month.outside_celsius) : 0);
    }
    struct Limits;
    Limits limits_asked() const;
    void psi_limit();
    void limit();
    void by_month(SurfaceDemand demand, double humidity, const Sentences& sentences);
    void derive(const SurfaceVerdict& verdict, const MonthDemand& month, double humidity, const std::vector<MonthDemand>& year);

    const Study& study_;
    Findings& findings_;
    const SurfaceFinding* surface_;
    const SeasonSurface* season_ = nullptr;
    std::vector<SurfaceVerdict> verdicts_;
};

void Judge::psi_limit() {
    const auto most = study_.used_convention().most_psi;
    const Psi* psi = findings_.headline_psi();
    if (!most || !psi || !psi->value) return;
    SurfaceVerdict verdict{.demand = SurfaceDemand::psi_limit, .asked = most, .found = psi->value->value, .lower = psi->value->lower, .upper = psi->value->upper, .month = {}, .margin_K = {}, .message = {}};
    verdict.verdict = verdict.upper <= *most ? Verdict::meets : verdict.lower > *most ? Verdict::does_not_meet : Verdict::undecided;
    verdict.message = a_note(sentence_of(psi_sentences, verdict.verdict), {{"found", with_bracket(*psi->value)}, {"asked", fixed(*most, demand_decimals)}});
    verdicts_.push_back(std::move(verdict));
}

/// What the convention asks of fRsi: least and most of what it could be, one value where use and zone leave nothing open.
struct Judge::Limits {
    std::optional<double> low, high;
    bool use_open = false, zone_open = false;
    bool zone_unlisted = false;  ///< the zone is known, and the convention names others only
};

Judge::Limits Judge::limits_asked() const {
    const Convention& convention = study_.used_convention();
    Limits limits;
    const auto higher = [](std::optional<double>& of, std::optional<double> than) { of = std::max(of, than); };  // nothing is below all
    const auto take = [&](const std::map<std::string, double>& table, const std::optional<std::string>& key, bool& open) {
        if (key) {
            if (const auto entry = table.find(*key); entry != table.end()) higher(limits.low, entry->second), higher(limits.high, entry->second);
        } else if (!table.empty()) {
            open = true;
            const auto [low, high] = std::minmax_element(table.begin(), table.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
            higher(limits.low, low->second), higher(limits.high, high->second);
        }
    };
    const auto use = site_value(study_, "use");
    if (use || !convention.least_fRsi) take(convention.least_fRsi_by_use, use, limits.use_open);  // the general limit stands where the use is not known
    const bool zone_known = study_.climate && !study_.climate->zone.empty();
    take(convention.least_fRsi_by_zone, zone_known ? std::optional(study_.climate->zone) : std::nullopt, limits.zone_open);
    limits.zone_unlisted = zone_known && !convention.least_fRsi_by_zone.empty() && !convention.least_fRsi_by_zone.contains(study_.climate->zone);
    if (!limits.low) limits.low = limits.high = convention.least_fRsi;
    return limits;
}

void Judge::limit() {
    const Convention& convention = study_.used_convention();
    if (!convention.least_fRsi && convention.least_fRsi_by_use.empty() && convention.least_fRsi_by_zone.empty()) return;
    SurfaceVerdict verdict = of_surface(SurfaceDemand::limit);
    if (!warmer_inside()) {
        verdict.message = a_note("surface-inside-not-warmer", {});
        return verdicts_.push_back(std::move(verdict));
    }
    const auto judged = [&](double asked) { return at_least(asked, verdict.lower, verdict.upper); };
    std::map<std::string, std::string> args{{"found", found_text()}, {"error", one_digit_up(surface_->estimate)}};
    const Limits limits = limits_asked();
    if (!limits.low) {  // a use or a zone that the convention says nothing of
        const auto use = site_value(study_, "use");
        const bool by_zone = convention.least_fRsi_by_use.empty() || !use;
        verdict.message = by_zone ? a_note("surface-limit-no-zone", {{"found", args["found"]}, {"zone", study_.climate ? study_.climate->zone : ""}})
                                  : a_note("surface-limit-no-use", {{"found", args["found"]}, {"use", site_value_text("use", *use)}});
        return verdicts_.push_back(std::move(verdict));
    }
    if (limits.zone_unlisted) findings_.messages.push_back({Severity::caution, "surface-zone-unlisted", {{"zone", study_.climate->zone}, {"zones", listed_zones(convention)}}, {}, {}});
    if (limits.use_open || limits.zone_open) {  // what is not known counts where it changes the answer
        args["low"] = fixed(*limits.low, 2), args["high"] = fixed(*limits.high, 2);
        const bool same = judged(*limits.low) == judged(*limits.high);
        verdict.verdict = same ? judged(*limits.low) : Verdict::undecided;
        args["verdict"] = verdict_text(verdict.verdict);
        const char* code = limits.zone_open ? (same ? "surface-limit-any-zone" : "surface-limit-zone-open") : same ? "surface-limit-any-use" : "surface-limit-use-open";
        verdict.message = a_note(code, args, place());
        return verdicts_.push_back(std::move(verdict));
    }
    verdict.asked = limits.low;
    verdict.verdict = judged(*verdict.asked);
    args["asked"] = fixed(*verdict.asked, 2);
    verdict.message = a_note(sentence_of(limit_sentences, verdict.verdict), args, place());
    verdicts_.push_back(std::move(verdict));
}

void Judge::by_month(SurfaceDemand demand, double humidity, const Sentences& sentences) {
    SurfaceVerdict verdict = of_surface(demand);
    const bool mould = demand == SurfaceDemand::mould;
    const auto open = [&](const char* code) {  // once, not for every demand
        if (!mould) return;
        verdict.message = a_note(code, {});
        verdicts_.push_back(std::move(verdict));
    };
    if (!study_.climate || !study_.climate->indoor || (study_.climate->months.empty() && (as_first() || !study_.climate->year))) return open("surface-no-climate");
    // A humidity class adds to the vapour outside, which a wave of temperatures does not know.
    if (study_.climate->months.empty() && !study_.climate->indoor->humidity) return open("surface-wave-no-humidity");
    if (!warmer_inside()) return open("surface-inside-not-warmer");
    const Climate& climate = *study_.climate;
    const double room_celsius = findings_.temperatures[room()];
    const auto months = months_of_climate(climate, room_celsius);
    std::vector<MonthDemand> year;
    std::optional<std::size_t> worst;
    // With two spaces the month that asks most decides; with more the one that leaves least.
    const auto shortfall = [&](std::size_t i) {
        const double asked = year[i].required.fRsi;
        return surface_->weights.empty() && !season_ ? asked : asked - factor_in(i, year[i]);
    };
    try {
        for (std::size_t i = 0; i < months.size(); ++i) {
            const double room_then = months[i].inside.value_or(room_celsius);
            year.push_back({.month = {months[i].outside, months[i].humidity, room_then}, .room_celsius = room_then, .required = {}});
            // A surface of another space is judged at the temperature of that one.
            const double inside = year[i].month.inside_celsius = temperature_in(static_cast<std::size_t>(surface_->space), year[i]);
            if (!(inside > months[i].outside)) continue;  // asks nothing
            year[i] = demand_of(months[i], *climate.indoor, inside, humidity);
            year[i].room_celsius = room_then;
            if (!worst || shortfall(i) > shortfall(*worst)) worst = i;
        }
    } catch (const OutsideStandard&) {
        return open("surface-outside-range");
    }
    if (!worst) return open("surface-no-month");
    const MonthDemand& month = year[*worst];
    const double error = error_in(month.month);
    verdict.found = factor_in(*worst, month);
    verdict.lower = verdict.found - error;
    verdict.upper = verdict.found + error;
    verdict.month = worst;
    verdict.asked = month.required.fRsi;
    verdict.verdict = at_least(*verdict.asked, verdict.lower, verdict.upper);
    const double surface = month.month.outside_celsius + verdict.found * (month.month.inside_celsius - month.month.outside_celsius);
    verdict.margin_K = surface - month.required.surface_celsius;
    const double at_surface = month.required.inside_pressure_Pa / iso13788::saturation_pressure(surface);
    verdict.message = a_note(sentence_of(sentences, verdict.verdict),
                           {{"found", fixed(verdict.found, factor_decimals(*surface_))}, {"error", one_digit_up(error)}, {"asked", fixed(*verdict.asked, demand_decimals)},
                            {"month", month_name(*worst)}, {"margin", fixed(std::abs(*verdict.margin_K), 1)}, {"surface", fixed(surface, 1)},
                            {"needed", fixed(month.required.surface_celsius, 1)}, {"humidity", fixed(100 * at_surface, 0)},
                            {"indoor", indoor_words(*climate.indoor)}}, place());
    if (!season_) derive(verdict, month, humidity, year);
    verdicts_.push_back(std::move(verdict));
}

void Judge::derive(const SurfaceVerdict& verdict, const MonthDemand& month, double humidity, const std::vector<MonthDemand>& year) {
    const IndoorAir& indoor = *study_.climate->indoor;
    const std::string source = study_.climate->source.empty() ? from_climate : study_.climate->source;
    Derivation derivation{.of = verdict.demand == SurfaceDemand::mould ? "required fRsi, mould" : "required fRsi, condensation",
                          .formula = std::string(indoor.humidity_class ? "p_i = p_e + 1.10·Δp" : "p_i = (φ_i + margin)·p_sat(θ_i)") +
                                     ", p_sat(θ_si,min) = p_i/φ_si, fRsi = (θ_si,min − θ_e)/(θ_i − θ_e), largest of the months (ISO 13788:2012, 5.2 and 5.3; "
                                     "from memory, to be confirmed in the standard)",
                          .inputs = {}, .notes = {}, .id = "iso13788-months"};
    const auto put = [&](const char* name, double value, const char* unit, const std::string& from) { derivation.inputs.push_back({name, value, unit, from}); };
    put("θ_e", month.month.outside_celsius, "°C", source);
    if (!study_.climate->months.empty()) {
        put("φ_e", month.month.outside_relative_humidity, "", source);
        put("p_sat(θ_e)", month.saturation_outside, "Pa", worked_out);
        put("p_e = φ_e·p_sat(θ_e)", month.pressure_outside, "Pa", worked_out);
    }
    put("θ_i", month.month.inside_celsius, "°C", "the study");
    if (indoor.humidity_class) put("Δp", month.excess_Pa, "Pa", "humidity class " + std::to_string(*indoor.humidity_class) + ", annex A");
    if (indoor.humidity) {
        put("φ_i", *indoor.humidity, "", "stated");
        put("margin on φ_i", indoor.margin, "", "stated");
    }
    put("p_i", month.required.inside_pressure_Pa, "Pa", worked_out);
    put("φ_si, most", humidity, "", verdict.demand == SurfaceDemand::mould ? "5.2, mould" : "saturation");
    put("p_sat(θ_si,min) = p_i/φ_si", month.required.inside_pressure_Pa / humidity, "Pa", worked_out);
    put("θ_si,min", month.required.surface_celsius, "°C", worked_out);
    put("fRsi, required", month.required.fRsi, "", worked_out);
    put("fRsi, found", verdict.found, "", "the headline surface");
    put("margin", *verdict.margin_K, "K", worked_out);
    std::string months;
    for (std::size_t i = 0; i < year.size(); ++i)
        months += (i ? ", " : "") + month_name(i) + " " + (year[i].required.inside_pressure_Pa > 0 ? fixed(year[i].required.fRsi, demand_decimals) : "–");
    derivation.notes.push_back("Required fRsi by month: " + months + ". " + month_name(*verdict.month) + " asks most.");
    derivation.notes.push_back("p_sat = 610.5·exp(17.269·θ/(237.3 + θ)) from 0 °C on, 610.5·exp(21.875·θ/(265.5 + θ)) below.");
    if (!surface_->weights.empty()) derivation.notes.push_back("More than two spaces: fRsi of that month is (Σ g·θ − θ_e)/(θ_i − θ_e); stated temperatures stay as they are through the year; the months inside are those of " +
                                                                     findings_.section->spaces[room()].id + (as_first() ? ", and every room goes with it." : ", and a room at the same temperature goes with it."));
    for (std::size_t i = 0; i < surface_->weights.size(); ++i) {
        const std::string& id = findings_.section->spaces[i].id;
        derivation.inputs.push_back({"g, " + id, surface_->weights[i], "", "the headline surface"});
        derivation.inputs.push_back({"θ in " + month_name(*verdict.month) + ", " + id, temperature_in(i, month), "°C", worked_out});
    }
    for (const Element& element : findings_.elements)
        if (element.ground) {
            derivation.notes.push_back("Where the junction touches ground the field of the steady state follows each month at once; the ground itself lags behind the year.");
            break;
        }
    findings_.derivations.push_back(std::move(derivation));
}

}  // namespace

std::string month_name(std::size_t month) {
    static constexpr std::array<const char*, months_of_a_year> names{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"};
    return names.at(month);
}

std::optional<double> required_fRsi(const ClimateMonth& month, const IndoorAir& indoor, double inside_celsius) {
    if (!(month.inside.value_or(inside_celsius) > month.outside)) return std::nullopt;
    return demand_of(month, indoor, month.inside.value_or(inside_celsius), iso13788::mould_humidity).required.fRsi;
}

std::optional<double> limit_judged(const Findings& findings) {
    for (const SurfaceVerdict& verdict : findings.verdicts)
        if (verdict.demand == SurfaceDemand::limit && verdict.asked) return verdict.asked;
    return std::nullopt;
}

std::vector<SurfaceVerdict> surface_verdicts(const Study& study, Findings& findings) { return Judge(study, findings).all(); }

std::vector<SurfaceVerdict> season_verdicts(const Study& study, Findings& findings) {
    if (!findings.seasons || !findings.seasons->surface) return {};
    return Judge(study, findings).through_year(*findings.seasons->surface);
}

}  // namespace wallfoot
