// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "core/arrangement/row.hpp"
#include "core/water/water_way.hpp"

namespace wallfoot {

// What a section shows at the foot of its walls: where the ground outside is, which leaves stand there, where their
// damp-proof course runs, and in which zone each piece of masonry lies.

/// Wider masonry is read as a floor, not as a leaf of a wall, µm. Common practice, no source.
constexpr Micrometres widest_leaf = 1'000'000;

/// One leaf of masonry where the damp-proof course crosses it.
struct WallLeaf {
    double from = 0, to = 0;          ///< µm, left and right
    std::optional<Micrometres> dpc;   ///< height of its damp-proof course: as drawn, else the stated level
    bool dpc_drawn = false;
    std::vector<int> membranes;       ///< drawn through it at that height, indices into Section::membranes
    std::vector<int> pieces;          ///< masonry above and below it
    double width() const { return to - from; }
};

enum class FootZone { outer_above, outer_band, outer_below, inner_above, inner_below };

/// A piece of masonry in one zone.
struct ZonePiece {
    int piece = -1;
    FootZone zone = FootZone::outer_above;
    Point at;              ///< in it
    bool reached = false;  ///< by water, there
};

/// The foot of a wall seen from outside.
struct FootSide {
    int toward = 1;               ///< outside lies to the right (1) or to the left (-1)
    Micrometres face = 0;         ///< x of the outer face at the ground
    Micrometres ground = 0;       ///< finished ground there: the stated level, or what is drawn where that is higher
    std::optional<Micrometres> stated;  ///< ground level that the study states there
    std::vector<WallLeaf> leaves; ///< from outside to inside
};

class FootView {
  public:
    FootView(const Study& study, const Section& section, const Arrangement& arrangement, const WaterWay& way);

    const std::vector<FootSide>& sides() const { return sides_; }
    /// Masonry by zone, each piece once per zone; `above` and `below` the ground bound the band, µm.
    const std::vector<ZonePiece>& zones(const FootSide& side, Micrometres above, Micrometres below) const;

    const Study& study;
    const Section& section;
    const Arrangement& arrangement;
    const WaterWay& way;

    const Material* material(int face) const { return face < 0 ? nullptr : material_[static_cast<std::size_t>(face)]; }
    bool is_kind(int face, MaterialKind kind) const { return material(face) && material(face)->kind == kind; }
    bool is_soil(int face) const;
    bool is_air_of(int face, SpaceKind kind) const;
    /// What may fill a cavity: still air, insulation, air of a space that is not inside.
    bool fills_cavity(int face) const;
    Point vertex(int v) const { return arrangement.vertices[static_cast<std::size_t>(v)]; }

  private:
    struct RowLeaf {
        double from = 0, to = 0;
        std::vector<int> faces;
    };
    bool is_leaf(int face) const;
    std::vector<RowLeaf> leaves_in_row(Micrometres y2, int toward) const;
    std::optional<Micrometres> ground_below(Micrometres x2, Micrometres y) const;
    void find_side(int toward);
    void find_leaves(FootSide& side) const;
    void find_dpc(const FootSide& side, WallLeaf& leaf) const;
    std::vector<ZonePiece> find_zones(const FootSide& side, Micrometres above, Micrometres below) const;

    std::vector<const Material*> material_;  ///< per face
    std::vector<bool> leaf_piece_;           ///< per piece: masonry no wider than a leaf
    std::vector<Micrometres> heights_;       ///< of all vertices inside the cut, sorted
    std::vector<FootSide> sides_;
    mutable std::map<std::tuple<int, Micrometres, Micrometres>, std::vector<ZonePiece>> zones_;  ///< found once
};

}  // namespace wallfoot
