// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/findings/slopes.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>

#include "solver/bracket/sensitivities.hpp"

namespace wallfoot {

namespace {

void add(Slope& to, const Slope& by, double factor) {
    to.value += factor * by.value;
    to.lower += factor * (factor >= 0 ? by.lower : by.upper);
    to.upper += factor * (factor >= 0 ? by.upper : by.lower);
}

/// Faces that share one input: the same material in the same condition, or merged into one region of a model.
class Inputs {
  public:
    Inputs(const SectionView& view, const SlopeSource& source) : view_(view), parent_(view.arrangement.faces.size()) {
        std::iota(parent_.begin(), parent_.end(), 0);
        std::map<int, int> first_of_region;
        std::map<std::pair<std::string, int>, int> first_of_material;
        for (int f = 0; f < static_cast<int>(parent_.size()); ++f) {
            if (!solid(f)) continue;
            join(f, first_of_region.try_emplace(source.face_region[f], f).first->second);
            const auto& piece = view.section.pieces[view.arrangement.faces[f].piece];
            const Material* material = view.study.find_material(piece.filled_with);
            // The resistance of an airspace belongs to its shape and place.
            const bool of_its_own = !material || material->kind == MaterialKind::airspace;
            const auto key = of_its_own ? std::pair{piece.id, -1}
                                        : std::pair{piece.filled_with, static_cast<int>(view.conductivity[f].used)};
            join(f, first_of_material.try_emplace(key, f).first->second);
        }
        if (source.floor_section)
            for (const auto& faces : source.floor_section->junction_faces)
                for (const int f : faces) join(f, faces.front());
        for (int f = 0; f < static_cast<int>(parent_.size()); ++f)
            if (solid(f)) add_to(slot(f), f);
    }

    InputSlope& conductivity(int face) { return all[slot(face)]; }

    InputSlope& resistance(int space, double value) {
        for (auto& input : all)
            if (input.space == space && input.resistance == value) return input;
        all.push_back({.pieces = {}, .space = space, .resistance = value, .coupling = {}, .psi = {}, .surface = {}});
        return all.back();
    }

    std::vector<InputSlope> all;

  private:
    bool solid(int f) const { return view_.arrangement.faces[f].kind == FaceKind::solid; }
    int root(int f) {
        while (parent_[f] != f) f = parent_[f] = parent_[parent_[f]];
        return f;
    }
    void join(int a, int b) { parent_[root(a)] = root(b); }
    std::size_t slot(int face) {
        const auto [it, fresh] = slot_.try_emplace(root(face), all.size());
        if (fresh) all.push_back({.pieces = {}, .conductivity = view_.conductivity[face].across, .coupling = {}, .psi = {}, .surface = {}});
        return it->second;
    }
    void add_to(std::size_t at, int face) {
        auto& pieces = all[at].pieces;
        const int piece = view_.arrangement.faces[face].piece;
        if (const auto place = std::lower_bound(pieces.begin(), pieces.end(), piece); place == pieces.end() || *place != piece)
            pieces.insert(place, piece);
    }

    const SectionView& view_;
    std::vector<int> parent_;
    std::map<int, std::size_t> slot_;
};

class SlopeWork {
  public:
    SlopeWork(const SectionView& view, const Findings& findings, const SlopeSource& source)
        : view_(view), findings_(findings), source_(source), inputs_(view, source), faces_(one_face_each(source.face_region)) {}

    std::vector<InputSlope> run() {
        const Sensitivities main(source_.solution);
        for (std::size_t c = 0; c < findings_.couplings.size(); ++c) {
            if (!findings_.couplings[c].value) continue;
            add_coupling(main, findings_.couplings[c].a, findings_.couplings[c].b, faces_, {}, 1,
                         [c](InputSlope& input) -> std::optional<Slope>& { return at(input.coupling, c); });
        }
        for (std::size_t p = 0; p < findings_.psi.size(); ++p)
            if (findings_.psi[p].value) add_psi(main, p);
        add_surface();
        return sorted();
    }

  private:
    /// A face of the junction for each region.
    static std::map<int, int> one_face_each(const std::vector<int>& face_region) {
        std::map<int, int> face;
        for (std::size_t f = 0; f < face_region.size(); ++f)
            if (face_region[f] >= 0) face.try_emplace(face_region[f], static_cast<int>(f));
        return face;
    }

    static std::optional<Slope>& at(std::vector<std::optional<Slope>>& list, std::size_t index) {
        if (list.size() <= index) list.resize(index + 1);
        return list[index];
    }

    /// Adds `factor` times the slopes of a coupling of one section. `face`: a face of the junction for each region;
    /// `spaces`: the junction's space for each of the section, empty = the same.
    template <class Place>
    void add_coupling(const Sensitivities& by, int a, int b, const std::map<int, int>& face, const std::vector<int>& spaces,
                      double factor, Place&& place) {
        const auto& regions = &by == floor_.get() ? source_.floor_solution->regions : source_.solution.regions;
        const auto put = [&](InputSlope& input, const Slope& slope, double share) {
            auto& to = place(input);
            if (!to) to.emplace();
            add(*to, slope, factor * share);
        };
        for (const auto& [region, f] : face) {
            put(inputs_.conductivity(f), by.along_x(a, b, region), regions[region].kx);
            put(inputs_.conductivity(f), by.along_y(a, b, region), regions[region].ky);
        }
        for (std::size_t i = 0; i < by.surfaces().size(); ++i) {
            const auto& [space, resistance] = by.surfaces()[i];
            put(inputs_.resistance(spaces.empty() ? space : spaces[space], resistance), by.surface(a, b, static_cast<int>(i)), resistance);
        }
    }

    void add_psi(const Sensitivities& main, std::size_t p) {
        const Psi& psi = findings_.psi[p];
        const auto place = [p](InputSlope& input) -> std::optional<Slope>& { return at(input.psi, p); };
        add_coupling(main, psi.a, psi.b, faces_, {}, 1, place);
        for (const auto& off : psi.taken_off) {
            const auto found = std::find_if(source_.elements.begin(), source_.elements.end(),
                                            [&](const FoundElement& e) { return e.element.id == off.element; });
            if (off.floor_alone) add_floor(*found, 1, place);
            else if (found->element.ground) add_floor(*found, *off.U * *off.length_m / floor_coupling(), place);
            else add_element(*found, *off.length_m, place);
        }
    }

    double floor_coupling() const { return source_.floor_solution->coupling(0, 1).value; }

    template <class Place>
    void add_floor(const FoundElement& found, double share, Place&& place) {
        if (!floor_) floor_ = std::make_unique<Sensitivities>(*source_.floor_solution);
        std::map<int, int> face;
        for (std::size_t r = 0; r < source_.floor_section->junction_faces.size(); ++r)
            face[static_cast<int>(r)] = source_.floor_section->junction_faces[r].front();
        add_coupling(*floor_, 0, 1, face, {found.element.warm_space, found.element.cold_space}, -share, place);
    }

    /// U·l taken off: λ·∂U/∂λ = U²·d/λ, R·∂U/∂R = −U²·R.
    template <class Place>
    void add_element(const FoundElement& found, double length, Place&& place) {
        const auto& element = found.element;
        const double square = *element.U * *element.U * length;
        const auto put = [&](InputSlope& input, double change) {
            auto& to = place(input);
            if (!to) to.emplace();
            add(*to, {change, change, change}, -1);
        };
        const bool along_x = element.side == CutSide::top || element.side == CutSide::bottom;
        for (const auto& met : found.met) {
            const auto& k = view_.conductivity[met.face];
            const double d = to_m(std::abs(along_x ? met.to.x - met.from.x : met.to.y - met.from.y));
            if (d > 0) put(inputs_.conductivity(met.face), square * d / (along_x ? k.across : k.up));
        }
        if (element.surface_warm > 0) put(inputs_.resistance(element.warm_space, element.surface_warm), -square * element.surface_warm);
        if (element.surface_cold > 0) put(inputs_.resistance(element.cold_space, element.surface_cold), -square * element.surface_cold);
    }

    /// The mean temperature on the scale 0–1 becomes fRsi by the temperatures of its space and the coldest outside.
    void add_surface() {
        const SurfaceFinding* headline = findings_.headline_surface();
        if (!headline || !headline->mean || !source_.surface_solution) return;
        const auto& mean = *source_.surface_solution->surface_mean;
        const auto [low, high] = std::minmax_element(view_.temperatures.begin(), view_.temperatures.end());
        const int outside = coldest_outside_space(view_.section, view_.temperatures);
        const double factor = (*high - *low) / (view_.temperatures[headline->space] - view_.temperatures[outside]);
        const auto put = [&](InputSlope& input, const Slope& slope, double value) {
            if (!input.surface) input.surface.emplace();
            add(*input.surface, slope, factor * value);
        };
        const auto& regions = source_.surface_solution->regions;
        for (const auto& [region, f] : one_face_each(*source_.surface_face_region))
            for (const int axis : {0, 1})
                put(inputs_.conductivity(f), mean.by_region[region][axis], axis == 0 ? regions[region].kx : regions[region].ky);
        const Sensitivities by(*source_.surface_solution);
        for (std::size_t i = 0; i < by.surfaces().size(); ++i)
            put(inputs_.resistance(by.surfaces()[i].contact, by.surfaces()[i].resistance), mean.by_surface[i], by.surfaces()[i].resistance);
    }

    std::vector<InputSlope> sorted() {
        auto& all = inputs_.all;
        std::size_t headline = findings_.psi.size();
        for (std::size_t p = 0; p < findings_.psi.size(); ++p)
            if (findings_.psi[p].headline && findings_.psi[p].value) headline = p;
        for (auto& input : all) {
            input.coupling.resize(findings_.couplings.size());
            input.psi.resize(findings_.psi.size());
        }
        const auto size = [&](const InputSlope& input) {
            const auto slope = headline < input.psi.size() ? input.psi[headline] : input.coupling.empty() ? std::nullopt : input.coupling.front();
            return slope ? std::abs(slope->value) : 0.0;
        };
        std::stable_sort(all.begin(), all.end(), [&](const InputSlope& a, const InputSlope& b) { return size(a) > size(b); });
        return std::move(all);
    }

    const SectionView& view_;
    const Findings& findings_;
    const SlopeSource& source_;
    Inputs inputs_;
    std::map<int, int> faces_;
    std::unique_ptr<Sensitivities> floor_;
};

}  // namespace

std::vector<InputSlope> input_slopes(const SectionView& view, const Findings& findings, const SlopeSource& source) {
    return SlopeWork(view, findings, source).run();
}

}  // namespace wallfoot
