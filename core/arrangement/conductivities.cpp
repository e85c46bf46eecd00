// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/conductivities.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <optional>
#include <sstream>
#include <string>
#include <tuple>
#include <utility>

#include "core/arrangement/airspace.hpp"
#include "core/standards/iso10456.hpp"
#include "core/study/materials.hpp"
#include "core/water/water_way.hpp"

namespace wallfoot {

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Where a face lies against the ground and DPC levels.
enum class Depth { above, below_dpc, below_ground };

/// Depth of every solid face. Levels are noded through `auto` pieces, so the middle of any triangle tells; the largest is
/// taken because noding may move a corner by a grid step.
std::vector<Depth> places(const Section& section, const Arrangement& arrangement) {
    std::vector<Depth> result(arrangement.faces.size(), Depth::above);
    std::vector<std::int64_t> largest(arrangement.faces.size(), 0);
    for (std::size_t t = 0; t < arrangement.triangles.size(); ++t) {
        const auto& corners = arrangement.triangles[t];
        const Point a = arrangement.vertices.at(at(corners[0])), b = arrangement.vertices.at(at(corners[1])),
                    c = arrangement.vertices.at(at(corners[2]));
        const std::size_t face = at(arrangement.triangle_face.at(t));
        const std::int64_t size = cross(a, b, c);
        if (size <= largest.at(face)) continue;
        largest[face] = size;
        const Micrometres sum = a.y + b.y + c.y, x = (a.x + b.x + c.x) / 3;
        const auto below = [&](const Level& level) {
            const auto height = level_at(level, arrangement.cut, x);
            return height && sum < 3 * *height;
        };
        result[face] = below(section.ground) ? Depth::below_ground : below(section.dpc) ? Depth::below_dpc : Depth::above;
    }
    return result;
}

/// Pieces that touch an outside space above the levels.
std::set<int> exposed_pieces(const Section& section, const Arrangement& arrangement, const std::vector<Depth>& place) {
    std::set<int> result;
    const auto note = [&](int solid, int air) {
        if (solid < 0 || air < 0) return;
        const Face &a = arrangement.faces.at(at(solid)), &b = arrangement.faces.at(at(air));
        if (a.kind != FaceKind::solid || b.kind != FaceKind::air || b.space < 0) return;
        if (section.spaces.at(at(b.space)).kind == SpaceKind::outside && place[at(solid)] == Depth::above)
            result.insert(a.piece);
    };
    for (const ArrangedEdge& edge : arrangement.edges) note(edge.left, edge.right), note(edge.right, edge.left);
    return result;
}

/// A declared value and the condition it is declared for.
struct LookUp {
    const Conductivity* value = nullptr;
    Condition used = Condition::dry;
    bool undeclared = false;
};

/// The value for a condition, else the next drier one, else the driest there is (RULES 11).
LookUp look_up(const Conductivities& declared, Condition asked, bool same_for_all) {
    const auto& values = declared.by_condition;
    if (values.empty()) return {};
    if (same_for_all) return {&values.begin()->second, asked, false};
    auto wetter = values.upper_bound(asked);
    const auto found = wetter == values.begin() ? wetter : std::prev(wetter);
    return {&found->second, found->first, found->first != asked};
}

/// The connected faces of one piece, sorted: an airspace that a level or a membrane divides is still one airspace.
std::vector<std::vector<int>> regions_of(const Arrangement& arrangement, int piece) {
    std::vector<int> root(arrangement.faces.size());
    std::iota(root.begin(), root.end(), 0);
    const auto find = [&](int face) {
        while (root[at(face)] != face) face = root[at(face)] = root[at(root[at(face)])];
        return face;
    };
    const auto is_of = [&](int face) {
        return face >= 0 && arrangement.faces.at(at(face)).kind == FaceKind::solid &&
               arrangement.faces[at(face)].piece == piece;
    };
    for (const ArrangedEdge& edge : arrangement.edges)
        if (is_of(edge.left) && is_of(edge.right)) {
            const int a = find(edge.left), b = find(edge.right);
            root[at(std::max(a, b))] = std::min(a, b);
        }
    std::map<int, std::vector<int>> by_root;
    for (std::size_t face = 0; face < root.size(); ++face)
        if (is_of(static_cast<int>(face))) by_root[find(static_cast<int>(face))].push_back(static_cast<int>(face));
    std::vector<std::vector<int>> result;
    for (auto& [first, faces] : by_root) result.push_back(std::move(faces));
    return result;
}

std::string shown_short(double value) {
    std::ostringstream text;
    text.precision(3);
    text << value;
    return text.str();
}

class Finder {
  public:
    Finder(const Study& study, const Section& section, const Arrangement& arrangement, std::vector<Message>& messages)
        : study_(study), section_(section), arrangement_(arrangement), messages_(messages) {}

    std::vector<FaceConductivity> all() {
        const std::vector<Depth> place = places(section_, arrangement_);
        const std::set<int> exposed = exposed_pieces(section_, arrangement_, place);
        std::set<int> airspaces;
        for (std::size_t f = 0; f < arrangement_.faces.size(); ++f) {
            const Face& face = arrangement_.faces[f];
            if (face.kind != FaceKind::solid || face.piece < 0) continue;
            const Piece& piece = section_.pieces.at(at(face.piece));
            const Material* material = study_.find_material(piece.filled_with);
            if (!material) {
                say(Severity::fault, "unknown-material", face, {{"material", piece.filled_with}});
                continue;
            }
            const Condition above = exposed.contains(face.piece) ? Condition::exposed : Condition::protected_;
            Condition automatic = place[f] == Depth::below_ground ? Condition::below_ground
                                  : place[f] == Depth::below_dpc  ? Condition::below_dpc
                                                                  : above;
            if (is_auto(piece) && place[f] != Depth::above && is_kept_dry(f)) {
                say_kept_dry(face, automatic, above);
                automatic = above;
            }
            result_[f].asked = result_[f].used = piece.moisture.value_or(automatic);
            if (!material->mix.empty())
                mixed(face, *material, result_[f]);
            else if (!material->lambda.by_condition.empty())
                declared(face, *material, result_[f]);
            else if (material->kind == MaterialKind::airspace)
                airspaces.insert(face.piece);
            else
                say(Severity::fault, "no-conductivity", face,
                    {{"material", shown_name(*material)}, {"asked", to_string(result_[f].asked)}});
        }
        for (int piece : airspaces) airspace(piece);
        return std::move(result_);
    }

  private:
    /// Says it once per piece (and per condition, where `also` tells them apart).
    void say(Severity severity, const std::string& code, const Face& face, std::map<std::string, std::string> args,
             int also = 0) {
        if (!said_.insert({code, face.piece, also}).second) return;
        const Piece& piece = section_.pieces.at(at(face.piece));
        args["piece"] = piece.id;
        args["name"] = piece.name.empty() ? piece.id : piece.name;
        messages_.push_back(Message{severity, code, std::move(args), face.inside, ""});
    }

    /// The water's way overrides the levels (RULES 11, 15) where it proves that no water comes.
    bool is_kept_dry(std::size_t face) {
        if (!kept_dry_) kept_dry_ = kept_dry(study_, section_, arrangement_);
        return kept_dry_->dry.at(face);
    }

    void say_kept_dry(const Face& face, Condition was, Condition is) {
        std::set<int> relied;
        for (std::size_t f = 0; f < arrangement_.faces.size(); ++f)
            if (arrangement_.faces[f].piece == face.piece && kept_dry_->dry[f])
                relied.insert(kept_dry_->relies_on[f].begin(), kept_dry_->relies_on[f].end());
        std::string names;
        for (int m : relied) names += (names.empty() ? "\"" : ", \"") + section_.membranes.at(at(m)).id + "\"";
        say(Severity::note, relied.empty() ? "water-keeps-dry-apart" : "water-keeps-dry", face,
            {{"old", to_string(was)}, {"new", to_string(is)}, {"membranes", names}}, static_cast<int>(was));
    }

    void declared(const Face& face, const Material& material, FaceConductivity& result) {
        const bool any_condition = same_in_all_conditions(material.kind);
        const LookUp across = look_up(material.lambda, result.asked, any_condition && material.lambda.bare);
        LookUp up = look_up(material.lambda_up, result.asked, any_condition && material.lambda_up.bare);
        if (!up.value) up = across;
        result.across = across.value->value;
        result.up = up.value->value;
        result.low = across.value->low.value_or(result.across);
        result.high = across.value->high.value_or(result.across);
        result.factor = use_factor(material);
        for (double* value : {&result.across, &result.up, &result.low, &result.high}) *value *= result.factor;
        if (result.factor != 1) say(Severity::note, "conductivity-for-use", face, {{"material", shown_name(material)}, {"factor", shown_short(result.factor)}});
        result.used = across.used;
        result.undeclared = across.undeclared || up.undeclared;
        if (result.undeclared) {
            const Condition used = across.undeclared ? across.used : up.used;
            // Above the damp course the step is small; from there down the value taken may be far off.
            const Severity severity = result.asked >= Condition::below_dpc ? Severity::caution : Severity::note;
            say(severity, "undeclared-condition", face,
                {{"material", shown_name(material)}, {"asked", to_string(result.asked)}, {"used", to_string(used)}},
                static_cast<int>(result.asked));
        }
        const bool dry = across.used == Condition::dry || up.used == Condition::dry;
        if (dry && material.kind == MaterialKind::masonry)
            say(Severity::caution, "dry-masonry-in-service", face, {{"material", shown_name(material)}});
    }

    /// The parts of a mix in this condition; until an element says more, their mean by area.
    void mixed(const Face& face, const Material& material, FaceConductivity& result) {
        double sum = 0;
        for (const MixPart& part : material.mix) {
            const Material* of = study_.find_material(part.material);
            if (!of || !of->mix.empty() || of->lambda.by_condition.empty()) {
                say(Severity::fault, "mix-not-computed", face, {{"material", shown_name(material)}, {"part", of ? shown_name(*of) : part.material}});
                return;
            }
            if (part.fraction <= 0) continue;
            FaceConductivity value;
            value.asked = result.asked;
            declared(face, *of, value);
            result.parts.push_back({part.fraction, value.across, part.material, value.up});
            sum += part.fraction;
            result.across += part.fraction * value.across;
            result.up += part.fraction * value.up;
            result.low += part.fraction * value.low;
            result.high += part.fraction * value.high;
            result.used = value.used;
            result.undeclared = result.undeclared || value.undeclared;
        }
        constexpr double whole = 1e-6;
        if (std::abs(sum - 1) > whole) say(Severity::fault, "mix-not-whole", face, {{"material", shown_name(material)}, {"sum", shown_short(sum)}});
        result.factor = use_factor(material);
        for (double* value : {&result.across, &result.up, &result.low, &result.high}) *value *= result.factor;
        for (MixedShare& share : result.parts) share.fraction /= sum > 0 ? sum : 1, share.conductivity *= result.factor, share.up *= result.factor;
    }

    void airspace(int piece) {
        if (!ray_) {
            ray_.emplace(study_, section_, arrangement_);
            temperatures_ = ordering_temperatures(study_, section_);
        }
        for (const std::vector<int>& faces : regions_of(arrangement_, piece)) {
            const AirspaceReading reading = read_airspace(section_, arrangement_, faces, *ray_, temperatures_);
            for (int f : faces) {
                FaceConductivity& result = result_[at(f)];
                result.across = result.up = result.low = result.high = reading.conductivity;
            }
            const Face& face = arrangement_.faces[at(faces.front())];
            if (reading.area_share < 0.9 || reading.length_ratio < 10)
                say(Severity::caution, "airspace-shape", face,
                    {{"share", shown_short(100 * reading.area_share)}, {"ratio", shown_short(reading.length_ratio)}});
            if (reading.too_thick)
                say(Severity::caution, "airspace-thick", face, {{"thickness", shown_short(1000 * reading.thickness_m)}});
        }
    }

    const Study& study_;
    const Section& section_;
    const Arrangement& arrangement_;
    std::vector<Message>& messages_;
    std::vector<FaceConductivity> result_ = std::vector<FaceConductivity>(arrangement_.faces.size());
    std::set<std::tuple<std::string, int, int>> said_;
    std::optional<KeptDry> kept_dry_;
    std::optional<VerticalRay> ray_;
    std::vector<double> temperatures_;
};

}  // namespace

double use_factor(const Material& material) {
    const auto& t = material.temperature;
    return (t ? iso10456::temperature_factor(t->coefficient, t->from, t->to) : 1) * material.ageing.value_or(1);
}

std::vector<FaceConductivity> conductivities(const Study& study, const Section& section, const Arrangement& arrangement,
                                             std::vector<Message>& messages) {
    return Finder(study, section, arrangement, messages).all();
}

}  // namespace wallfoot
