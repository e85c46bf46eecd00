// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/arrangement/arrangement.hpp"
#include "core/arrangement/surfaces.hpp"
#include "solver/findings/surface_chain.hpp"
#include "tests/unit/findings/drafts.hpp"

using namespace wallfoot;
using namespace wallfoot::drafts;

namespace {

using Corners = std::vector<std::pair<double, double>>;

/// A wall that turns into a roof, the room below on the left. `cut_off`: what stands instead of the corner (0, 0) of the
/// inside face, from the roof to the wall.
Draft chamfered(const Corners& cut_off) {
    Draft d;
    d.cut = "[-1500, -1500, 800, 800]";
    d.material("stuff", 0.5);
    Corners outline{{0, -1500}, {300, -1500}, {300, 300}, {-1500, 300}, {-1500, 0}};
    outline.insert(outline.end(), cut_off.begin(), cut_off.end());
    d.outline("corner", R"("material": "stuff", "moisture": "dry")", outline);
    d.space("in", "inside", -700, -700, 20).space("out", "outside", 600, 600, 0);
    return d;
}

/// Internal lengths of wall and roof in mm.
std::pair<double, double> lengths(const Corners& cut_off) {
    const auto f = chamfered(cut_off).solved();
    std::pair<double, double> found{-1, -1};
    for (const auto& element : f->elements) {
        if (!element.internal_length) continue;
        (element.side == CutSide::bottom ? found.first : found.second) = to_mm(*element.internal_length);
    }
    return found;
}

/// Direction of the heat at a sloped inside face, and its resistance.
std::pair<std::string, double> at_slope(const Corners& cut_off) {
    const Study study = chamfered(cut_off).study();
    const Section& section = *study.variants.front().section;
    const Arrangement arrangement = arrange(study, section);
    for (const SurfaceEdge& surface : surfaces(study, section, arrangement, Purpose::heat_flow)) {
        const ArrangedEdge& edge = arrangement.edges[static_cast<std::size_t>(surface.edge)];
        const Point a = arrangement.vertices[static_cast<std::size_t>(edge.from)], b = arrangement.vertices[static_cast<std::size_t>(edge.to)];
        if (surface.space == 0 && a.x != b.x && a.y != b.y) return {to_string(surface.direction), surface.resistance};
    }
    return {};
}

}  // namespace

// tan 30° × 300 mm = 173.2 mm: a chamfer 300 mm high is within 30° of vertical up to 173 mm and no longer at 174 mm.
// Resistances 0.13 (horizontal) and 0.10 (upwards): ISO 6946:2017, table 7, from memory.
TEST(Chamfer, SurfaceTurnsFromWallToCeilingAtThirtyDegrees) {
    const auto wall = std::pair{std::string("horizontal"), 0.13}, ceiling = std::pair{std::string("up"), 0.10};
    EXPECT_EQ(at_slope({{-100, 0}, {0, -300}}), wall);
    EXPECT_EQ(at_slope({{-173, 0}, {0, -300}}), wall);
    EXPECT_EQ(at_slope({{-174, 0}, {0, -300}}), ceiling);
    EXPECT_EQ(at_slope({{-300, 0}, {0, -300}}), ceiling);
}

// Lengths by hand: the wall goes on along a chamfer of at most 30°, so that wall and roof meet at its upper end; past 30°
// neither goes along it and both run to the corner that is cut off; a chamfer within 30° of the roof belongs to the roof.
TEST(Chamfer, BelongsToTheWallUpToThirtyDegrees) {
    EXPECT_EQ(lengths({{0, 0}}), (std::pair{1500.0, 1500.0}));
    EXPECT_EQ(lengths({{-100, 0}, {0, -300}}), (std::pair{1500.0, 1400.0}));
    EXPECT_EQ(lengths({{-173, 0}, {0, -300}}), (std::pair{1500.0, 1327.0}));
    EXPECT_EQ(lengths({{-174, 0}, {0, -300}}), (std::pair{1500.0, 1500.0}));
    EXPECT_EQ(lengths({{-300, 0}, {0, -300}}), (std::pair{1500.0, 1500.0}));
    EXPECT_EQ(lengths({{-300, 0}, {0, -174}}), (std::pair{1500.0, 1500.0}));
    EXPECT_EQ(lengths({{-300, 0}, {0, -173}}), (std::pair{1327.0, 1500.0}));
}

// What counts is how far the surface has turned since the cut, not from one straight stretch to the next: of two
// chamfers at 1 in 4 (14.0°) and 3 in 4 (36.9°, though only 22.8° from the first) the first belongs to the wall, the
// second to neither. The first, carried on from (−100, −400), meets the roof at x = −200.
TEST(Chamfer, TurningIsCountedFromTheCut) {
    EXPECT_EQ(lengths({{-400, 0}, {-100, -400}, {0, -800}}), (std::pair{1500.0, 1300.0}));
    const Point a{0, 0}, b{0, 1000}, c{250, 2000}, d{1000, 3000};
    const SurfaceChain chain{{{a, b}, {b, c}, {c, d}}};
    EXPECT_EQ(last_line(chain).from, b);
    EXPECT_EQ(last_line(chain).to, c);
    EXPECT_EQ(last_line(reversed(chain)).to, b);  // from the other end: 22.8° belong, 36.9° do not
}
