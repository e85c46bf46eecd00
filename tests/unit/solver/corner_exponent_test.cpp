// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>
#include <random>

#include "solver/mesh/corner_exponent.hpp"
#include "tests/unit/solver/rectangles.hpp"

namespace wallfoot::test {
namespace {

constexpr double pi = std::numbers::pi;

/// Ray of a direction in degrees, on a grid fine enough for angles to 1e-9.
Point ray(double degrees) {
    return {std::llround(2e8 * std::cos(degrees * pi / 180)), std::llround(2e8 * std::sin(degrees * pi / 180))};
}

/// Angle of a ray on the grid, in [0, 2π).
double angle_of(Point p) {
    const double a = std::atan2(static_cast<double>(p.y), static_cast<double>(p.x));
    return a < 0 ? a + 2 * pi : a;
}

/// Sectors between the given directions (degrees, rising); closed when the last comes back to the first.
CornerFan fan(const std::vector<double>& degrees, const std::vector<Region>& regions, bool fixed_from = false, bool fixed_to = false) {
    CornerFan f;
    for (std::size_t i = 0; i < regions.size(); ++i) f.sectors.push_back({ray(degrees[i]), ray(degrees[i + 1]), regions[i]});
    f.closed = std::abs(degrees.back() - degrees.front() - 360) < 1e-9;
    f.fixed_from = fixed_from;
    f.fixed_to = fixed_to;
    return f;
}

Region plain(double k) { return {k, k}; }

/// Smallest root above 0 of a smooth function that is not 0 there: a dense walk, then bisection.
double first_root(const std::function<double(double)>& f) {
    double low = 1e-5;
    while ((f(low) > 0) == (f(low + 1e-3) > 0)) low += 1e-3;
    double high = low + 1e-3;
    for (int i = 0; i < 100; ++i) {
        const double middle = 0.5 * (low + high);
        ((f(middle) > 0) == (f(low) > 0) ? low : high) = middle;
    }
    return low;
}

/// Exponents from the equation in the angle, ∫ (a_φφ f′ + α a_rφ f) v′ − α (a_rφ f′ + α a_rr f) v dφ = 0, in quadratic
/// elements: nothing of the transfer matrices. The exponent with the smallest positive real part.
std::complex<double> angular_elements(const CornerFan& fan, int per_sector = 6) {
    const int elements = per_sector * static_cast<int>(fan.sectors.size()), nodes = 2 * elements + (fan.closed ? 0 : 1);
    Eigen::MatrixXd k = Eigen::MatrixXd::Zero(nodes, nodes), c = k, m = k;
    int element = 0;
    for (const auto& s : fan.sectors) {
        const double from = angle_of(s.from);
        double to = angle_of(s.to);
        if (to <= from) to += 2 * pi;
        const double h = (to - from) / per_sector;
        for (int e = 0; e < per_sector; ++e, ++element)
            for (const auto& [x, w] : {std::pair{-0.9061798459386640, 0.2369268850561891}, {-0.5384693101056831, 0.4786286704993665},
                                       {0.0, 0.5688888888888889}, {0.5384693101056831, 0.4786286704993665},
                                       {0.9061798459386640, 0.2369268850561891}}) {
                const double phi = from + h * (e + 0.5 * (1 + x)), co = std::cos(phi), si = std::sin(phi);
                const double rr = s.region.kx * co * co + s.region.ky * si * si, ff = s.region.kx * si * si + s.region.ky * co * co;
                const double rf = (s.region.ky - s.region.kx) * si * co;
                const double f[3] = {0.5 * x * (x - 1), 1 - x * x, 0.5 * x * (x + 1)};
                const double d[3] = {(x - 0.5) * 2 / h, -2 * x * 2 / h, (x + 0.5) * 2 / h};
                for (int i = 0; i < 3; ++i)
                    for (int j = 0; j < 3; ++j) {
                        const int row = (2 * element + i) % nodes, column = (2 * element + j) % nodes;
                        const double weight = 0.5 * h * w;
                        k(row, column) += weight * ff * d[i] * d[j];
                        c(row, column) += weight * rf * (f[j] * d[i] - d[j] * f[i]);
                        m(row, column) += weight * rr * f[i] * f[j];
                    }
            }
    }
    std::vector<int> kept;
    for (int i = 0; i < nodes; ++i)
        if (!(fan.fixed_from && i == 0) && !(fan.fixed_to && i == nodes - 1)) kept.push_back(i);
    const int n = static_cast<int>(kept.size());
    const Eigen::MatrixXd kk = k(kept, kept), cc = c(kept, kept), mm = m(kept, kept);
    Eigen::MatrixXd companion = Eigen::MatrixXd::Zero(2 * n, 2 * n);
    companion.topRightCorner(n, n).setIdentity();
    companion.bottomLeftCorner(n, n) = mm.ldlt().solve(kk);
    companion.bottomRightCorner(n, n) = mm.ldlt().solve(cc);
    std::complex<double> least = 1e9;
    const Eigen::EigenSolver<Eigen::MatrixXd> solver(companion, false);
    for (const auto& alpha : solver.eigenvalues())
        if (alpha.real() > 1e-3 && alpha.real() < least.real()) least = alpha;  // constants give a double 0
    return least;
}

// Four quarters of two materials: α = 4/π atan √(a/b), R. B. Kellogg, On the Poisson equation with intersecting
// interfaces, Applicable Analysis 4 (1974/75), from memory; also by antisymmetry: tan²(απ/4) = a/b.
TEST(CornerExponent, CheckerboardHasItsClosedForm) {
    for (const auto& [a, b] : {std::pair{0.02, 200.0}, {0.035, 2.0}, {0.035, 0.5}, {0.1, 1.0}, {0.9, 1.0}})
        for (const double turn : {0.0, 17.0, 36.8698976458440})
            EXPECT_NEAR(corner_exponent(fan({turn, turn + 90, turn + 180, turn + 270, turn + 360}, {plain(a), plain(b), plain(a), plain(b)})) /
                            (4 / pi * std::atan(std::sqrt(a / b))), 1, 3e-8);
}

// One material, adiabatic or fixed on both sides: π/ω; fixed on one: π/(2ω). Separation of variables.
TEST(CornerExponent, HomogeneousCorners) {
    for (const double omega : {30.0, 90.0, 200.0, 270.0, 359.0}) {
        EXPECT_NEAR(corner_exponent(fan({0, omega}, {plain(0.7)})), 180 / omega, 1e-8);
        EXPECT_NEAR(corner_exponent(fan({0, omega}, {plain(0.7)}, true, true)), 180 / omega, 1e-8);
        EXPECT_NEAR(corner_exponent(fan({0, omega}, {plain(0.7)}, true, false)), 90 / omega, 1e-8);
        EXPECT_NEAR(corner_exponent(fan({0, omega}, {plain(0.7)}, false, true)), 90 / omega, 1e-8);
    }
    EXPECT_NEAR(corner_exponent(fan({0, 120, 360}, {plain(0.7), plain(0.7)})), 1, 1e-7);  // a double root
}

// Two wedges between boundary lines, matched by hand: adiabatic sides k1 tan αθ1 + k2 tan αθ2 = 0; the first side fixed
// k1 cot αθ1 = k2 tan αθ2. Roots by a dense walk.
TEST(CornerExponent, TwoWedgesAtTheBoundary) {
    for (const auto& [t1, t2] : {std::pair{90.0, 90.0}, {30.0, 240.0}, {100.0, 35.0}, {170.0, 185.0}})
        for (const double k : {1e-4, 0.02, 0.7, 40.0, 6000.0}) {
            const double a = t1 * pi / 180, b = t2 * pi / 180;
            const auto free = [&](double x) { return k * std::sin(x * a) * std::cos(x * b) + std::sin(x * b) * std::cos(x * a); };
            const auto fixed = [&](double x) { return k * std::cos(x * a) * std::cos(x * b) - std::sin(x * b) * std::sin(x * a); };
            EXPECT_NEAR(corner_exponent(fan({0, t1, t1 + t2}, {plain(k), plain(1)})), first_root(free), 1e-7) << t1 << " " << k;
            EXPECT_NEAR(corner_exponent(fan({0, t1, t1 + t2}, {plain(k), plain(1)}, true, false)), first_root(fixed), 1e-7) << t1 << " " << k;
        }
}

std::vector<double> random_directions(std::mt19937& random, int sectors, bool closed) {
    std::vector<double> weights(sectors + (closed ? 0 : 1)), degrees{std::uniform_real_distribution<double>(0, 360)(random)};
    double sum = 0;
    for (double& w : weights) sum += w = std::uniform_real_distribution<double>(0.15, 1)(random);
    for (int i = 0; i < sectors; ++i) degrees.push_back(degrees.back() + 360 * weights[i] / sum);
    if (closed) degrees.back() = degrees.front() + 360;
    return degrees;
}

// Random fans against the equation in the angle solved in elements, contrasts to 1e4. One axis: exponents are real, and
// with one or two materials all around never below one half.
TEST(CornerExponent, RandomFansAgreeWithElementsInTheAngle) {
    std::mt19937 random(11);
    int small = 0;
    for (int round = 0; round < 200; ++round) {
        const int sectors = 1 + static_cast<int>(random() % 6);
        const bool closed = random() % 2 && sectors > 1;
        std::vector<Region> regions;
        for (int i = 0; i < sectors; ++i) regions.push_back(plain(std::pow(10.0, std::uniform_real_distribution<double>(-2, 2)(random))));
        const auto f = fan(random_directions(random, sectors, closed), regions, !closed && random() % 3 == 0, !closed && random() % 3 == 0);
        const auto expected = angular_elements(f);
        EXPECT_NEAR(corner_exponent(f) / expected.real(), 1, 2e-4) << round;
        EXPECT_TRUE(!(closed && sectors == 2) || corner_exponent(f) > 0.5) << round << " " << corner_exponent(f) << " " << expected;
        small += expected.real() < 0.4;
    }
    EXPECT_GT(small, 10);
}

// The same with two axes (ratios to 4, masonry has less). A complex pair comes up; its real part is approximated.
TEST(CornerExponent, TwoAxesAgreeWithElementsInTheAngle) {
    std::mt19937 random(12);
    for (int round = 0; round < 200; ++round) {
        const int sectors = 1 + static_cast<int>(random() % 5);
        const bool closed = random() % 2 && sectors > 1;
        std::vector<Region> regions;
        for (int i = 0; i < sectors; ++i) {
            const double k = std::pow(10.0, std::uniform_real_distribution<double>(-2, 2)(random));
            regions.push_back({k, k * std::pow(4.0, std::uniform_real_distribution<double>(-1, 1)(random))});
        }
        const auto f = fan(random_directions(random, sectors, closed), regions, !closed && random() % 3 == 0, !closed && random() % 3 == 0);
        const auto expected = angular_elements(f, 8);
        const bool complex = std::abs(expected.imag()) > 1e-5;
        EXPECT_NEAR(corner_exponent(f) / expected.real(), 1, complex ? 0.05 : 1e-3) << round;
    }
}

const Corner& corner_at(const Model& m, const std::vector<Corner>& corners, double x, double y) {
    const auto it = std::find(m.vertices.begin(), m.vertices.end(), Point{from_mm(x), from_mm(y)});
    return corners.at(static_cast<std::size_t>(it - m.vertices.begin()));
}

std::pair<int, double> left_and_right(double, double, int nx, int) {
    return nx < 0 ? std::pair{0, 0.13} : nx > 0 ? std::pair{1, 0.04} : std::pair{-1, 0.0};
}

TEST(CornerExponent, FindsTheVertexOfTheModel) {
    const auto m = model_of({{0, 0, 1000, 1000, 0.02}, {0, 0, 400, 300, 200}, {400, 300, 1000, 1000, 200}}, 2, left_and_right);
    const auto corners = corners_of(m);
    ASSERT_EQ(corners.size(), m.vertices.size());
    int touching = 0;
    for (const auto& c : corners) touching += c.touching();
    EXPECT_EQ(touching, 1);
    EXPECT_NEAR(corner_at(m, corners, 400, 300).alpha, 4 / pi * std::atan(0.01), 1e-9);
    EXPECT_EQ(corner_at(m, corners, 1000, 300).alpha, 0.5);
}

// Good – poor – good at a surface: the checkerboard cut along the diagonal of its good quarters, about which its field is
// even, so that no heat crosses the cut.
TEST(CornerExponent, GoodConductorsTouchingAtTheSurface) {
    const auto f = fan({45, 90, 180, 225}, {plain(200), plain(0.02), plain(200)});
    EXPECT_NEAR(corner_exponent(f), 4 / pi * std::atan(0.01), 1e-9);
}

// Two bodies that share a corner only: two fans, each harmless by itself; with a line in common there is one.
TEST(CornerExponent, BodiesThatTouchAtAPointHaveTwoFans) {
    for (const double overlap : {0.0, 5.0}) {
        const auto m = model_of({{0, 0, 500 + overlap, 500, 0.5}, {500, 500, 1000, 1000, 0.5}}, 2, left_and_right);
        const auto corners = corners_of(m);
        EXPECT_EQ(std::count_if(corners.begin(), corners.end(), [](const Corner& c) { return c.touching(); }), overlap == 0 ? 1 : 0);
        EXPECT_EQ(corner_at(m, corners, 500, 500).fans, overlap == 0 ? 2 : 1);
    }
}

// Stretching x maps equal axes onto two different ones (change of variables): the exponent stays.
TEST(CornerExponent, StaysUnderStretching) {
    const auto at_crossing = [](double fx, double ratio) {
        const auto m = model_of({{0, 0, 1000 * fx, 1000, 0.3 * ratio, 0.3}, {0, 0, 400 * fx, 300, 40 * ratio, 40},
                                 {400 * fx, 300, 1000 * fx, 1000, 7 * ratio, 7}}, 2, left_and_right);
        return corner_at(m, corners_of(m), 400 * fx, 300).alpha;
    };
    EXPECT_LT(at_crossing(1, 1), 0.4);
    EXPECT_NEAR(at_crossing(2, 4), at_crossing(1, 1), 1e-12);
}

TEST(CornerExponent, OrdinaryJunctionsHaveNothingToSettle) {
    for (const auto& m : {wall_foot(0.15), iso10211_case2()})
        for (const auto& c : corners_of(m)) EXPECT_FALSE(c.touching());
}

}  // namespace
}  // namespace wallfoot::test
