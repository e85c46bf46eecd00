// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/paint/paint.hpp"

#include <gtest/gtest.h>

#include <QFile>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/study/study.hpp"
#include "solver/field/contours.hpp"
#include "ui/paint/clip.hpp"
#include "ui/paint/hatches.hpp"
#include "ui/paint/labels.hpp"
#include "ui/paint/picture_command.hpp"

namespace wallfoot {
namespace {

// Relative luminance and contrast ratio: WCAG 2.1, "relative luminance" and "contrast ratio" (from memory).
double luminance(const QColor& c) {
    const auto linear = [](double v) { return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
    return 0.2126 * linear(c.redF()) + 0.7152 * linear(c.greenF()) + 0.0722 * linear(c.blueF());
}
double contrast(const QColor& a, const QColor& b) {
    const double x = luminance(a), y = luminance(b);
    return (std::max(x, y) + 0.05) / (std::min(x, y) + 0.05);
}
/// CIE 1976 lightness from luminance (CIE 15, from memory).
double lightness(const QColor& c) {
    const double y = luminance(c);
    return y > 216.0 / 24389 ? 116 * std::cbrt(y) - 16 : y * 24389.0 / 27;
}

using Values = double (*)(double x, double y);

/// n × n squares of one metre in all, each cut in two; corner and midpoint values of a function of x, y in metres.
struct Grid {
    std::vector<std::array<double, 2>> points;
    std::vector<std::array<int, 3>> triangles, neighbours;
    QuadraticField field;
    Grid(int n, Values f, double tilt = 0) {
        for (int j = 0; j <= n; ++j)
            for (int i = 0; i <= n; ++i) {
                const double x = 1e6 * i / n, y = 1e6 * j / n;
                points.push_back({x * std::cos(tilt) - y * std::sin(tilt), x * std::sin(tilt) + y * std::cos(tilt)});
            }
        const auto id = [&](int i, int j) { return j * (n + 1) + i; };
        for (int j = 0; j < n; ++j)
            for (int i = 0; i < n; ++i) {
                triangles.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
                triangles.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
            }
        neighbours.assign(triangles.size(), {-1, -1, -1});
        std::map<std::pair<int, int>, std::pair<int, int>> open;
        for (int t = 0; t < static_cast<int>(triangles.size()); ++t)
            for (int c = 0; c < 3; ++c) {
                const auto key = std::minmax({triangles[t][(c + 1) % 3], triangles[t][(c + 2) % 3]});
                const auto [it, fresh] = open.try_emplace(key, t, c);
                if (fresh) continue;
                neighbours[t][c] = it->second.first;
                neighbours[it->second.first][it->second.second] = t;
            }
        for (const auto& t : triangles) {
            std::array<double, 6> v{};
            for (int k = 0; k < 3; ++k) {
                const auto &p = points[t[k]], &a = points[t[(k + 1) % 3]], &b = points[t[(k + 2) % 3]];
                v[k] = f(p[0] / 1e6, p[1] / 1e6);
                v[3 + k] = f((a[0] + b[0]) / 2e6, (a[1] + b[1]) / 2e6);
            }
            field.push_back(v);
        }
    }
    std::vector<ContourLine> lines(const std::vector<double>& levels) const {
        return contours(points, triangles, neighbours, field, levels);
    }
    /// A solution whose first space at 1 gives the field.
    Solution solution() const {
        Solution s;
        s.points = points, s.triangles = triangles, s.neighbours = neighbours;
        s.region.assign(triangles.size(), 0);
        s.regions = {{1, 1}};
        s.contacts = 2;
        QuadraticField rest = field;
        for (auto& v : rest)
            for (double& x : v) x = 1 - x;
        s.temperature = {field, rest};
        s.stream = {field, rest};
        return s;
    }
};

TEST(Contours, StraightFieldGivesOneStraightLineAcrossTheMesh) {
    const Grid grid(8, [](double x, double) { return x; });
    const auto lines = grid.lines({0.3, 0.55});
    ASSERT_EQ(lines.size(), 2u);
    for (const ContourLine& line : lines) {
        EXPECT_FALSE(line.closed);
        for (const auto& p : line.points) EXPECT_NEAR(p[0], line.level * 1e6, 1e-3);
        // Higher values on the left: the line runs down.
        EXPECT_NEAR(line.points.front()[1], 1e6, 1e-3);
        EXPECT_NEAR(line.points.back()[1], 0, 1e-3);
    }
}

TEST(Contours, CirclesAreClosedAndRound) {
    const Grid grid(40, [](double x, double y) { return (x - 0.5) * (x - 0.5) + (y - 0.5) * (y - 0.5); });
    const auto lines = grid.lines({0.04, 0.16});
    ASSERT_EQ(lines.size(), 2u);
    for (const ContourLine& line : lines) {
        EXPECT_TRUE(line.closed);
        double around = 0;
        for (std::size_t i = 0; i < line.points.size(); ++i) {
            const auto &p = line.points[i], &q = line.points[(i + 1) % line.points.size()];
            around += std::hypot(q[0] - p[0], q[1] - p[1]) / 1e6;
            // Linear pieces of half a cell: off by at most h²·f''/8 in value (Taylor).
            EXPECT_NEAR(std::hypot(p[0] / 1e6 - 0.5, p[1] / 1e6 - 0.5), std::sqrt(line.level), 1e-3);
        }
        EXPECT_NEAR(around, 2 * 3.14159265358979 * std::sqrt(line.level), 2e-3);  // circumference
    }
}

TEST(Contours, ALevelThroughVerticesIsStillOneChain) {
    const Grid grid(8, [](double x, double y) { return x + y; });
    const auto lines = grid.lines({1.0});  // runs through vertices and along no edge of the mesh's diagonals
    ASSERT_EQ(lines.size(), 1u);
    const Grid flat(8, [](double x, double) { return x; });
    ASSERT_EQ(flat.lines({0.5}).size(), 1u);  // runs along mesh edges
}

TEST(Contours, RoundingBetweenNeighboursDoesNotBreakAChain) {
    Grid grid(8, [](double x, double) { return x; });
    int k = 0;
    for (auto& v : grid.field)
        for (double& x : v) x += (++k % 3 - 1) * 1e-15;
    EXPECT_EQ(grid.lines({0.5}).size(), 1u);
    EXPECT_EQ(grid.lines({0.25, 0.3}).size(), 2u);
}

TEST(Contours, NothingIsJoinedAcrossAJump) {
    // Below the middle the field is higher by 2: a cut runs along y = 0.5.
    Grid grid(8, [](double x, double) { return x; });
    for (std::size_t t = 0; t < grid.triangles.size() / 2; ++t)
        for (double& v : grid.field[t]) v += 2;
    const auto lines = grid.lines({0.3, 2.3});
    ASSERT_EQ(lines.size(), 2u);
    for (const ContourLine& line : lines)
        for (const auto& p : line.points) {
            if (line.level < 1)
                EXPECT_GE(p[1], 0.5e6 - 1);
            else
                EXPECT_LE(p[1], 0.5e6 + 1);
        }
}

TEST(Contours, StepsAreNice) {
    EXPECT_DOUBLE_EQ(nice_step(20, 22), 1);
    EXPECT_DOUBLE_EQ(nice_step(20, 20), 1);
    EXPECT_DOUBLE_EQ(nice_step(25, 22), 2);
    EXPECT_DOUBLE_EQ(nice_step(7, 22), 0.5);
    EXPECT_EQ(levels_between(0, 4, 1), (std::vector<double>{1, 2, 3}));
    EXPECT_EQ(levels_between(-1.5, 1.5, 1), (std::vector<double>{-1, 0, 1}));
}

TEST(View, PixelsAndMillimetresAreInverse) {
    const View view = View::fitting({-1'000'000, -500'000, 1'000'000, 700'000}, {800, 600});
    const QPointF p = view.to_pixels(Point{-1'000'000, 700'000});
    EXPECT_GT(p.x(), 0);
    EXPECT_GT(p.y(), 0);
    EXPECT_NEAR(view.to_mm(p).x(), -1000, 1e-9);
    EXPECT_NEAR(view.to_mm(p).y(), 700, 1e-9);
    const View nearer = view.zoomed_at({123, 456}, 3);
    EXPECT_NEAR(nearer.to_mm({123, 456}).x(), view.to_mm({123, 456}).x(), 1e-9);
    EXPECT_NEAR(nearer.to_mm({123, 456}).y(), view.to_mm({123, 456}).y(), 1e-9);
    EXPECT_DOUBLE_EQ(nearer.pixels_per_mm, 3 * view.pixels_per_mm);
}

TEST(Colours, TextHasTheContrastOfTheAccessibilityGuidelines) {
    for (const SheetColours& c : {SheetColours::light(), SheetColours::dark()}) {
        // WCAG 2.1 success criteria 1.4.3 (text 4.5 : 1) and 1.4.11 (graphics 3 : 1), from memory.
        for (const QColor& text : {c.ink, c.faint, c.fault, c.caution, c.membrane})
            EXPECT_GE(contrast(text, c.paper), 4.5);
        for (const QColor& mark : {c.accent, c.selection}) EXPECT_GE(contrast(mark, c.paper), 3);
    }
    // Dark lines on every colour of the map.
    for (int i = 0; i <= 100; ++i)
        EXPECT_GE(std::max(contrast(temperature_colour(i / 100.0), SheetColours::light().ink),
                           contrast(temperature_colour(i / 100.0), SheetColours::light().paper)),
                  3);
}

TEST(Colours, MapRisesInLightnessAtAnEvenPace) {
    double before = lightness(temperature_colour(0)), least = 1e9, most = 0;
    for (int i = 1; i <= 50; ++i) {
        const double now = lightness(temperature_colour(i / 50.0));
        EXPECT_GT(now, before) << i;
        least = std::min(least, now - before), most = std::max(most, now - before);
        before = now;
    }
    // Ends are told apart in grey printing: half the range of lightness and more.
    EXPECT_GT(before - lightness(temperature_colour(0)), 50);
    EXPECT_LT(most, 4 * least);
}

TEST(Colours, MapStaysReadableWithoutRedOrGreenSight) {
    // Deuteranopia and protanopia after Viénot, Brettel and Mollon 1999, linear RGB (from memory): the colours that
    // remain are a blue share and a mix of red and green; steps must stay visible in luminance of what remains.
    const auto linear = [](double v) { return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
    const double deutan[2] = {0.29275, 0.70725}, protan[2] = {0.11238, 0.88762};
    for (const auto& w : {deutan, protan}) {
        double before = -1;
        for (int i = 0; i <= 20; ++i) {
            const QColor c = temperature_colour(i / 20.0);
            const double y =
                0.9278 * (w[0] * linear(c.redF()) + w[1] * linear(c.greenF())) + 0.0722 * linear(c.blueF());
            EXPECT_GT(y, before) << i;
            before = y;
        }
    }
}

TEST(HeatMap, HasNoSeamsAndIsTransparentOutside) {
    // A body turned by an odd angle, all at one temperature: inside there must be one colour, outside none.
    const Grid grid(
        37, [](double, double) { return 1.0; }, 0.3);
    View view;
    view.viewport = {401, 301};
    view.pixels_per_mm = 0.2;
    view.centre_mm = {300, 600};
    const QImage map = heat_map(view, 1.5, grid.solution(), {20, 0}, {0, 20});
    ASSERT_EQ(map.size(), QSize(602, 452));
    int inside = 0;
    for (int y = 0; y < map.height(); ++y) {
        int changes = 0;
        for (int x = 1; x < map.width(); ++x) {
            changes += map.pixel(x, y) != map.pixel(x - 1, y);
            inside += qAlpha(map.pixel(x, y)) != 0;
        }
        EXPECT_LE(changes, 2) << "row " << y;
    }
    EXPECT_NEAR(inside, 1e6 * 0.3 * 0.3, 0.02 * 1e6 * 0.09);  // 1 m² at 0.3 device pixels a millimetre
    EXPECT_EQ(map.pixel(300, 226), temperature_colour(1).rgba());
}

TEST(HeatMap, ColourAtAPointIsThatOfItsTemperature) {
    const Grid grid(5, [](double x, double) { return x; });
    View view;
    view.viewport = {500, 500};
    view.pixels_per_mm = 0.5;
    view.centre_mm = {500, 500};
    const QImage map = heat_map(view, 1, grid.solution(), {20, 0}, {0, 20});
    for (int x = 5; x < 500; x += 49) {
        const QColor wanted = temperature_colour((x + 0.5) / 500), got = map.pixelColor(x, 250);
        EXPECT_NEAR(got.red(), wanted.red(), 2);
        EXPECT_NEAR(got.green(), wanted.green(), 2);
        EXPECT_NEAR(got.blue(), wanted.blue(), 2);
    }
}

/// Ink of a hatch as grey levels: mean and spread tell two neighbours apart on a grey print.
struct Grey {
    double mean = 0, spread = 0;
};
Grey grey_of(MaterialKind kind, int turn, const SheetColours& colours) {
    QImage image(240, 240, QImage::Format_RGB32);
    image.fill(colours.paper);
    QPainter painter(&image);
    painter.setRenderHint(QPainter::Antialiasing);
    paint_hatch(painter, {QPolygonF(QRectF(0, 0, 240, 240))}, hatch_of(kind), turn, {0, 0}, colours);
    painter.end();
    double sum = 0, squares = 0;
    for (int y = 10; y < 230; ++y)
        for (int x = 10; x < 230; ++x) {
            const double l = lightness(image.pixelColor(x, y));
            sum += l, squares += l * l;
        }
    const double n = 220.0 * 220.0;
    return {sum / n, std::sqrt(std::max(0.0, squares / n - sum * sum / n / n))};
}

TEST(Hatches, KindsDifferInGrey) {
    const MaterialKind kinds[] = {MaterialKind::masonry,    MaterialKind::concrete, MaterialKind::mortar,
                                  MaterialKind::insulation, MaterialKind::timber,   MaterialKind::metal,
                                  MaterialKind::soil,       MaterialKind::granular, MaterialKind::airspace,
                                  MaterialKind::membrane,   MaterialKind::other,    MaterialKind::render};
    for (const SheetColours& colours : {SheetColours::light(), SheetColours::dark()}) {
        std::vector<Grey> greys;
        for (const MaterialKind kind : kinds) greys.push_back(grey_of(kind, 0, colours));
        for (std::size_t i = 0; i < greys.size(); ++i)
            for (std::size_t k = i + 1; k < greys.size(); ++k)
                EXPECT_GT(std::hypot(greys[i].mean - greys[k].mean, greys[i].spread - greys[k].spread), 0.7)
                    << to_string(kinds[i]) << " " << to_string(kinds[k]);
    }
}

TEST(Hatches, LinesStayInsideAConcaveAreaWithAHole) {
    const QPolygonF outer{{0, 0}, {100, 0}, {100, 100}, {60, 100}, {60, 40}, {40, 40}, {40, 100}, {0, 100}};
    const QPolygonF hole{{10, 10}, {30, 10}, {30, 30}, {10, 30}};
    double length = 0;
    for (const QLineF& line : hatch_lines({outer, hole}, 45, 3, {7, 11})) {
        const QPointF m = line.center();
        EXPECT_TRUE(outer.containsPoint(m, Qt::OddEvenFill));
        EXPECT_FALSE(hole.containsPoint(m, Qt::OddEvenFill));
        length += line.length();
    }
    // Lines at distance d have the length area / d in the mean (Cavalieri).
    EXPECT_NEAR(length, (10000 - 1200 - 400) / 3.0, 60);
}

TEST(Clip, OutlineAndLineAreCutAtARectangle) {
    const QPolygonF ring{{-10, -10}, {20, -10}, {20, 5}, {-10, 5}};
    const QRectF box = clipped(ring, QRectF(0, 0, 10, 10)).boundingRect();
    EXPECT_EQ(box, QRectF(0, 0, 10, 5));
    EXPECT_FALSE(clipped(QLineF(-5, -5, -1, 20), QRectF(0, 0, 10, 10)));
    EXPECT_EQ(clipped(QLineF(-5, 5, 15, 5), QRectF(0, 0, 10, 10))->length(), 10);
    const QList<QLineF> parts =
        outside_of(QLineF(-5, 2, 15, 2), {{QPolygonF(QRectF(0, 0, 10, 10))}}, {QRectF(0, 0, 10, 10)}, 0);
    ASSERT_EQ(parts.size(), 2);
    EXPECT_NEAR(parts[0].length() + parts[1].length(), 10, 1e-9);
}

TEST(Labels, NeverOverlapNorLeaveThePicture) {
    LabelPlaces places(QRectF(0, 0, 200, 100));
    QList<QRectF> taken;
    for (int i = 0; i < 12; ++i)
        if (const auto rect = places.take({60, 20}, {{10.0 + 15 * i, 50}, {100, 20}, {100, 80}})) taken.append(*rect);
    EXPECT_GE(taken.size(), 3);
    for (qsizetype i = 0; i < taken.size(); ++i) {
        EXPECT_TRUE(places.bounds().contains(taken[i]));
        for (qsizetype k = i + 1; k < taken.size(); ++k) EXPECT_FALSE(taken[i].intersects(taken[k]));
    }
    EXPECT_TRUE(places.bounds().contains(places.take_anyway({60, 20}, {{500, -40}})));
}

TEST(Labels, NumbersHaveNoNeedlessZerosAndARealMinus) {
    EXPECT_EQ(number(20, 2), "20");
    EXPECT_EQ(number(-3.50, 2), QString(QChar(0x2212)) + "3.5");
    EXPECT_EQ(number(-0.001, 1), "0");
}

TEST(PictureCommand, FaultsInTheInputLeaveNothingBehind) {
    for (const QStringList& arguments :
         {QStringList{}, QStringList{"missing.wallfoot", "--out", "picture-test.png"},
          QStringList{"a.wallfoot", "--out", "x.gif"}, QStringList{"a.wallfoot", "--size", "0x10"},
          QStringList{"a.wallfoot", "--out"}, QStringList{"a", "--strange"}})
        EXPECT_EQ(picture_command(arguments), 2) << arguments.join(' ').toStdString();
    EXPECT_FALSE(QFile::exists("picture-test.png"));
}

}  // namespace
}  // namespace wallfoot
