// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <QApplication>
#include <QImage>
#include <QPainter>
#include <QPalette>
#include <array>
#include <cmath>
#include <functional>

#include "core/file/study_file.hpp"
#include "tests/unit/tree.hpp"
#include "tests/ui/window_fixture.hpp"
#include "ui/paint/variant_picture.hpp"
#include "ui/panels/answer_strip.hpp"
#include "ui/teach/lesson_picture.hpp"
#include "ui/window/look.hpp"

// A few pictures against those stored in tests/ui/pictures. WALLFOOT_STORE_PICTURES=1 stores them anew: look at them then.
namespace wallfoot {
namespace {

/// How much two pictures may differ.
struct Allowed {
    int block = 1;     ///< pixels: squares of this side are compared by their means
    int levels = 0;    ///< of 255, in any channel
    double share = 0;  ///< of the squares that may differ by more
};
/// Where no letter stands: the colours are worked out in floating point and rounded once, so a level or two may go either way on
/// another machine, and along the border of the body a pixel may fall to the other side. That border is some 1000 of 76 800 pixels
/// in the heat map here; a tenth of it is 0.13 %.
constexpr Allowed drawn_plain{1, 2, 0.0015};
/// Where letters stand: another version of the rasteriser moves the edge of a stroke by less than a pixel. In a square of 8 × 8 with
/// a stroke of 2 pixels an edge that moves by half a pixel changes the mean by 1/16 of 255, that is 16 levels; where two strokes
/// do, 32. Letters that are hinted otherwise also differ in width, so that the far end of a line moves by a pixel or two: tried with
/// no hinting and with full hinting (fontconfig), at most one square of 350 differs by more. A label of ten letters that is missing
/// changes some 13 × 2 squares, 2 % of the 1200 of a picture of 320 × 240 and more of a smaller one.
constexpr Allowed drawn_lettered{8, 34, 0.01};

/// Means of squares, by channel.
std::vector<std::array<double, 3>> means(const QImage& image, int block) {
    std::vector<std::array<double, 3>> all;
    for (int y = 0; y < image.height(); y += block)
        for (int x = 0; x < image.width(); x += block) {
            std::array<double, 3> sum{};
            int count = 0;
            for (int j = y; j < std::min(y + block, image.height()); ++j)
                for (int i = x; i < std::min(x + block, image.width()); ++i, ++count) {
                    const QRgb at = image.pixel(i, j);
                    sum[0] += qRed(at), sum[1] += qGreen(at), sum[2] += qBlue(at);
                }
            for (double& one : sum) one /= count;
            all.push_back(sum);
        }
    return all;
}

/// Share of squares that differ by more than allowed; 1 where the sizes do.
double differing(const QImage& a, const QImage& b, Allowed allowed) {
    if (a.size() != b.size() || a.isNull()) return 1;
    const auto one = means(a, allowed.block), two = means(b, allowed.block);
    std::size_t unlike = 0;
    for (std::size_t i = 0; i < one.size(); ++i)
        for (std::size_t c = 0; c < 3; ++c)
            if (std::abs(one[i][c] - two[i][c]) > allowed.levels) {
                ++unlike;
                break;
            }
    return static_cast<double>(unlike) / static_cast<double>(one.size());
}

QString stored_path(const char* name) { return QString::fromStdString(in_tree(std::string("tests/ui/pictures/") + name + ".png")); }

void expect_stored(const QImage& drawn, const char* name, Allowed allowed) {
    const QImage image = drawn.convertToFormat(QImage::Format_RGB32);
    if (qEnvironmentVariableIsSet("WALLFOOT_STORE_PICTURES")) {
        ASSERT_TRUE(image.save(stored_path(name), "PNG", 0));
    }
    const QImage stored = QImage(stored_path(name)).convertToFormat(QImage::Format_RGB32);
    EXPECT_LE(differing(image, stored, allowed), allowed.share) << name;
}

class StoredPictures : public ::testing::Test {
  protected:
    static constexpr QSize size{320, 240};
    static void SetUpTestSuite() {
        study = std::make_shared<const Study>(read_study(small_study().toStdString()).study);
        findings = find(*study, study->variants[0]);
    }
    static void TearDownTestSuite() { study.reset(), findings.reset(); }
    static LessonPicture picture(LessonLayer layer) { return {study, findings, layer, {0, 20}, {}, layer == LessonLayer::isotherms}; }
    static QImage map() {
        QImage image(size, QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        painter.drawImage(0, 0, heat_map(View::fitting(findings->section->cut, size, 0.02), 1, *findings->solution, findings->temperatures, {0, 20}));
        return image;
    }
    static QImage strip_of(const Findings& of, const QString& name) {
        use_look(false);
        AnswerStrip strip;
        QFont font(QStringLiteral("DejaVu Sans"));
        font.setPixelSize(13);
        for (QWidget* part : strip.findChildren<QWidget*>()) part->setFont(font);
        strip.show_findings(of, true, name);
        strip.setFixedSize(560, 40);
        QImage image(strip.size(), QImage::Format_RGB32);
        strip.render(&image);
        return image;
    }
    static std::shared_ptr<const Study> study;
    static std::shared_ptr<const Findings> findings;
};
std::shared_ptr<const Study> StoredPictures::study;
std::shared_ptr<const Findings> StoredPictures::findings;

TEST_F(StoredPictures, heat_map_is_as_stored) { expect_stored(map(), "heat-map", drawn_plain); }

TEST_F(StoredPictures, colour_key_is_as_stored) {
    QImage image(260, 48, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    paint_key(painter, QRectF(0, 0, 260, 48), {0, 20}, SheetColours::light());
    painter.end();
    expect_stored(image, "key", drawn_lettered);
}

TEST_F(StoredPictures, a_step_of_a_lesson_is_as_stored) {
    LessonPicture shown = picture(LessonLayer::isotherms);
    shown.spotlight = Rect{-300 * mm, -350 * mm, 300 * mm, 300 * mm};
    expect_stored(lesson_image(lesson_view({}, *findings->section, size), 1, shown), "lesson-step", drawn_lettered);
}

TEST_F(StoredPictures, the_answer_strip_is_as_stored) {
    expect_stored(strip_of(*findings, {}), "answer-strip", drawn_lettered);
}

// That the comparison sees what it is for: another range of colours, a word that is missing, a mark in another place.
TEST_F(StoredPictures, another_picture_is_told_apart) {
    const QImage as_it_is = map();
    QImage other(size, QImage::Format_RGB32);
    other.fill(Qt::white);
    QPainter painter(&other);
    painter.drawImage(0, 0, heat_map(View::fitting(findings->section->cut, size, 0.02), 1, *findings->solution, findings->temperatures, {0, 20.5}));
    painter.end();
    EXPECT_GT(differing(as_it_is, other, drawn_plain), drawn_plain.share);
    LessonPicture marked = picture(LessonLayer::isotherms), unmarked = marked;
    unmarked.lowest = false;
    const View view = lesson_view({}, *findings->section, size);
    EXPECT_GT(differing(lesson_image(view, 1, marked), lesson_image(view, 1, unmarked), drawn_lettered), drawn_lettered.share);
    const auto key = [](TemperatureRange range) {
        QImage image(260, 48, QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter on(&image);
        paint_key(on, QRectF(0, 0, 260, 48), range, SheetColours::light());
        return image;
    };
    EXPECT_GT(differing(key({0, 20}), key({0, 24}), drawn_lettered), drawn_lettered.share);
    EXPECT_GT(differing(strip_of(*findings, {}), strip_of(*findings, QStringLiteral("Base")), drawn_lettered), drawn_lettered.share);
}

// ---- the colours ----------------------------------------------------------------------------------------------------

using Rgb = std::array<double, 3>;

/// IEC 61966-2-1 (sRGB), from memory.
Rgb linear_of(const QColor& colour) {
    const auto linear = [](double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
    return {linear(colour.redF()), linear(colour.greenF()), linear(colour.blueF())};
}

/// CIE 1976 L* of linear sRGB: L* = 116·f(Y) − 16, f the cube root above (6/29)³, below it Y·(29/6)²/3 + 4/29; Y by the sRGB primaries
/// (CIE 15 and IEC 61966-2-1, from memory).
double cie_lightness(const Rgb& c) {
    const double y = 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
    const double f = y > std::pow(6.0 / 29, 3) ? std::cbrt(y) : y * std::pow(29.0 / 6, 2) / 3 + 4.0 / 29;
    return 116 * f - 16;
}

/// Machado, Oliveira and Fernandes, "A physiologically-based model for simulation of color vision deficiency" (2009), severity 1,
/// on linear sRGB (from memory). Each row adds up to 1, so that greys stay.
constexpr std::array<std::array<std::array<double, 3>, 3>, 3> deficiencies{{
    {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},   // protanopia
    {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},    // deuteranopia
    {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}},  // tritanopia
}};

Rgb seen_by(const Rgb& c, const std::array<std::array<double, 3>, 3>& matrix) {
    Rgb seen{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k < 3; ++k) seen[i] += matrix[i][k] * c[k];
        seen[i] = std::clamp(seen[i], 0.0, 1.0);
    }
    return seen;
}

TEST(ColourMap, LightnessRisesAllTheWayInGreyAndToEveryEye) {
    // As painted: rounded to 255 levels, one colour for each step of the key.
    constexpr int steps = 128;
    const auto rises = [&](const std::function<double(const Rgb&)>& lightness) {
        double before = -1;
        for (int i = 0; i <= steps; ++i) {
            const double now = lightness(linear_of(QColor(temperature_colour(static_cast<double>(i) / steps).rgb())));
            EXPECT_GT(now, before) << i;
            before = now;
        }
        return before - lightness(linear_of(temperature_colour(0)));
    };
    EXPECT_NEAR(cie_lightness({1, 1, 1}), 100, 1e-9);
    EXPECT_NEAR(cie_lightness({0.18, 0.18, 0.18}), 49.5, 0.05) << "middle grey, from memory";
    EXPECT_GT(rises(cie_lightness), 50);
    // What a printer or a copier leaves of it: luma of ITU-R BT.601, from memory.
    EXPECT_GT(rises([](const Rgb& c) {
                  const auto encoded = [](double v) { return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055; };
                  return 100 * (0.299 * encoded(c[0]) + 0.587 * encoded(c[1]) + 0.114 * encoded(c[2]));
              }),
              40);
    for (const auto& matrix : deficiencies) EXPECT_GT(rises([&](const Rgb& c) { return cie_lightness(seen_by(c, matrix)); }), 45);
}

}  // namespace
}  // namespace wallfoot
