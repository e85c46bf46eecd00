// SPDX-License-Identifier: GPL-3.0-or-later
// Random sections on their whole way from drawing to bounds. Every edge is level, upright or at 45° on a grid of 0.1 mm, so
// that all crossings lie on the grid of 5 µm and the section can be turned by the 3-4-5 angle and mirrored exactly.
#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <sstream>

#include "core/arrangement/surfaces.hpp"
#include "tests/unit/arrangement/sections.hpp"
#include "tests/unit/sanitized.hpp"
#include "tests/unit/solver/oracles.hpp"

namespace wallfoot::test {
namespace {

using testing::box;
using testing::filled;
using testing::mm;

const int seeds_per_block = sanitized() ? 3 : 60;
constexpr int blocks = 10;

enum class Placed { as_drawn, mirrored, turned };

Point placed(Point p, Placed how) {
    if (how == Placed::mirrored) return {-p.x, p.y};
    if (how == Placed::turned) return {(4 * p.x - 3 * p.y) / 5, (3 * p.x + 4 * p.y) / 5};
    return p;
}

/// A section of pieces only, each material piece with a conductivity of its own.
struct Drawn {
    std::vector<Piece> pieces;
    std::vector<double> conductivity;  // by piece; 0 for spaces and cutouts

    void add(Fill fill, Outline outline, double k, const std::string& with = "") {
        pieces.push_back(filled(std::to_string(pieces.size()), fill, std::move(outline), with));
        conductivity.push_back(k);
    }
};

class Dice {
  public:
    explicit Dice(int seed) : random_(static_cast<unsigned>(seed)) {}
    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random_); }
    double conductivity() { return std::pow(10.0, std::uniform_real_distribution<double>(-2, 2)(random_)); }
    /// On a grid of 10 mm most of the time, so that corners and edges of different pieces coincide; else of 0.1 mm.
    double place(double low, double high) {
        const double step = whole(0, 3) ? 10 : 0.1;
        return low + step * whole(0, static_cast<int>(std::lround((high - low) / step)));
    }
    /// A rectangle, a strip of 0.3 mm, or something slanted at 45°.
    Outline outline() {
        const double x = place(-50, 950), y = place(-50, 950), w = place(20, 500), h = place(20, 500);
        const double thin = 0.3, long_way = place(200, 900);
        switch (whole(0, 6)) {
            case 0: return box(x, y, x + long_way, y + thin);
            case 1: return box(x, y, x + thin, y + long_way);
            case 2: return {mm(x, y), mm(x + thin, y), mm(x + thin + w, y + w), mm(x + w, y + w)};
            case 3: return {mm(x, y), mm(x + w, y), mm(x, y + w)};
            case 4: return {mm(x, y), mm(x + w, y), mm(x + w - h, y + h), mm(x - h, y + h)};
            default: return box(x, y, x + w, y + h);
        }
    }

  private:
    std::mt19937 random_;
};

/// A body of 1 m × 1 m between two spaces at its left and right, with holes to three spaces and cutouts.
Drawn drawn(int seed) {
    Dice dice(seed);
    Drawn d;
    d.add(Fill::cutout, box(-4000, -4000, 4000, 4000), 0);
    d.add(Fill::material, box(0, 0, 1000, 1000), dice.conductivity());
    for (int i = dice.whole(2, 10); i > 0; --i) {
        const int what = dice.whole(0, 11);
        if (what == 0) d.add(Fill::cutout, dice.outline(), 0);
        else if (what <= 3) d.add(Fill::space, dice.outline(), 0, std::string(1, static_cast<char>('a' + dice.whole(0, 2))));
        else d.add(Fill::material, dice.outline(), dice.conductivity());
    }
    d.add(Fill::cutout, box(-2000, -2000, 3000, 0), 0);
    d.add(Fill::cutout, box(-2000, 1000, 3000, 3000), 0);
    d.add(Fill::space, box(-200, 0, 0, 1000), 0, "a");
    d.add(Fill::space, box(1000, 0, 1200, 1000), 0, dice.whole(0, 2) ? "b" : "c");
    d.add(Fill::cutout, box(-2000, -100, -200, 1100), 0);
    d.add(Fill::cutout, box(1200, -100, 3000, 1100), 0);
    // A space that owns no air is a fault: each has some where no solid meets it.
    for (int i = 0; i < 3; ++i) d.add(Fill::space, box(1400, 100 * i, 1450, 100 * i + 50), 0, std::string(1, static_cast<char>('a' + i)));
    return d;
}

Model model_of(const Drawn& d, Placed how) {
    Section s = testing::section(-2500, -2500, 2500, 2500);
    s.pieces = d.pieces;
    for (auto& piece : s.pieces) {
        for (Point& p : piece.outline) p = placed(p, how);
        if (how == Placed::mirrored) std::reverse(piece.outline.begin(), piece.outline.end());
    }
    for (const auto& [id, r] : {std::pair{"a", 0.13}, {"b", 0.04}, {"c", 0.10}}) {
        s.spaces.push_back(testing::space(id, SpaceKind::inside, {}));
        s.spaces.back().surface_resistance = SurfaceResistances{r, r, r};
    }
    const Study study = testing::study();
    const Arrangement a = arrange(study, s);
    if (!a.sound()) throw std::logic_error("a fault in a random section: " + a.messages.front().code);
    std::vector<FaceConductivity> k(a.faces.size());
    for (std::size_t f = 0; f < k.size(); ++f)
        if (a.faces[f].kind == FaceKind::solid) k[f].across = k[f].up = d.conductivity.at(static_cast<std::size_t>(a.faces[f].piece));
    return reduce(a, k, surfaces(study, s, a, Purpose::heat_flow), 3);
}

Solution solved(const Model& model, double tolerance, bool best, const std::function<void(const Solution&)>& on_step = {}) {
    SolveOptions options;
    if (best) options.linear_share = 0;
    options.tolerance = tolerance;
    options.most_triangles = 8000;  // corners that touch at a point never close
    options.two_threads = false;
    options.on_step = on_step;
    return solve(model, options);
}

class RandomModels : public ::testing::TestWithParam<int> {};

// What must hold whatever is drawn: the relations of oracles.hpp on every mesh; bounds that close in; intervals of other
// tolerances, of the mirrored and of the turned section that overlap; a value of the finest solve inside all the others.
TEST_P(RandomModels, BracketsHold) {
    for (int seed = GetParam() * 1000; seed < GetParam() * 1000 + seeds_per_block; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const Drawn d = drawn(seed);
        const Model model = model_of(d, Placed::as_drawn);
        if (model.lines.empty()) continue;
        // Every other section with fields as good as round-off allows: only those are the best on their mesh, and nested.
        const bool best = seed % 2 == 0;
        Form upper, lower;
        const Solution fine = solved(model, 1e-3, best, [&](const Solution& s) {
            EXPECT_STREQ(broken_relation(s, best), "");
            const Form u = form_of(s.upper_energy, 3), l = form_of(s.lower_energy, 3);
            if (best && upper.size() > 0) {
                EXPECT_TRUE(at_most(u, upper) && at_most(lower, l)) << "a finer mesh has a wider bracket";
            }
            upper = u, lower = l;
        });
        const Solution coarse = solved(model, 0.1, best), middle = solved(model, 0.01, best);
        const Solution mirrored = solved(model_of(d, Placed::mirrored), 0.01, best), turned = solved(model_of(d, Placed::turned), 0.01, best);
        EXPECT_STREQ(broken_relation(turned, best), "");
        for (const auto& [name, other] : {std::pair{"coarse", &coarse}, {"middle", &middle}, {"mirrored", &mirrored}, {"turned", &turned}})
            for (int a = 0; a < 3; ++a)
                for (int b = a + 1; b < 3; ++b) {
                    const Bracketed l = fine.coupling(a, b), o = other->coupling(a, b);
                    EXPECT_TRUE(overlap(l, o)) << name << " " << a << b << ": " << l.lower << " … " << l.upper << ", " << o.lower << " … " << o.upper;
                    // The value lies within half its own width of the truth.
                    EXPECT_GE(l.value, o.lower - 0.5 * l.width()) << name;
                    EXPECT_LE(l.value, o.upper + 0.5 * l.width()) << name;
                }
        const Form u = form_of(turned.upper_energy, 3), l = form_of(mirrored.lower_energy, 3);
        EXPECT_TRUE(at_most(lower, u) && at_most(l, upper)) << "bounds of the placed sections cross";
    }
}

INSTANTIATE_TEST_SUITE_P(Block, RandomModels, ::testing::Range(0, blocks));

// The sections are what they are meant to be: three spaces, thin strips, slants, cutouts, spaces inside, strong contrasts.
TEST(RandomSectionsOfTheSolver, HaveWhatIsHardInThem) {
    int three = 0, holes = 0, slanted = 0, thin = 0, contrast = 0;
    for (int block = 0; block < blocks; ++block)
        for (int seed = block * 1000; seed < block * 1000 + seeds_per_block; ++seed) {
            const Model m = model_of(drawn(seed), Placed::as_drawn);
            std::array<bool, 3> met{};
            bool inside = false, slant = false, strip = false;
            double least = 1e9, most = 0;
            for (const auto& l : m.lines) {
                const Point p = m.vertices[l.from], q = m.vertices[l.to];
                if (l.contact >= 0) met[static_cast<std::size_t>(l.contact)] = true;
                inside |= l.contact >= 0 && p.x > 0 && p.x < 1'000'000;
                slant |= p.x != q.x && p.y != q.y;
                strip |= std::abs(p.x - q.x) + std::abs(p.y - q.y) == 300;
            }
            for (const auto& r : m.regions) least = std::min(least, r.kx), most = std::max(most, r.kx);
            three += met[0] && met[1] && met[2];
            holes += inside, slanted += slant, thin += strip, contrast += most > 1000 * least;
        }
    const int all = blocks * seeds_per_block;
    for (const int count : {three, holes, slanted, thin, contrast}) EXPECT_GT(count, all / 10);
}

}  // namespace
}  // namespace wallfoot::test
