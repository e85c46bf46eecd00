// SPDX-License-Identifier: GPL-3.0-or-later
// The colours are worked out here, not copied from a table: a curve through Oklab (B. Ottosson, "A perceptual color
// space for image processing", 2020; formulas public domain, from memory), run through at even perceptual speed.
// Lightness rises all the way, so the order cold to warm also survives grey printing and every kind of colour-vision
// defect; this is the general practice of scientific plotting for data that runs one way. The darkest end stays light
// enough for dark lines to be read on it.
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "ui/paint/difference_map.hpp"

namespace wallfoot {
namespace {

struct Lab {
    double L, a, b;
};

double encoded(double linear) {  // IEC 61966-2-1 (sRGB)
    linear = std::clamp(linear, 0.0, 1.0);
    return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
}

QColor srgb(const Lab& c) {
    const double l = std::pow(c.L + 0.3963377774 * c.a + 0.2158037573 * c.b, 3);
    const double m = std::pow(c.L - 0.1055613458 * c.a - 0.0638541728 * c.b, 3);
    const double s = std::pow(c.L - 0.0894841775 * c.a - 1.2914855480 * c.b, 3);
    return QColor::fromRgbF(static_cast<float>(encoded(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s)),
                            static_cast<float>(encoded(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s)),
                            static_cast<float>(encoded(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)));
}

/// Lightness, chroma and hue (degrees): blue, violet, rose, orange, straw. Chosen to stay inside sRGB.
constexpr std::array<std::array<double, 3>, 6> stations = {{{0.47, 0.150, 262},
                                                            {0.56, 0.150, 298},
                                                            {0.65, 0.155, 348},
                                                            {0.745, 0.145, 400},
                                                            {0.84, 0.135, 440},
                                                            {0.94, 0.095, 462}}};

Lab on_curve(double t) {
    const double at = std::clamp(t, 0.0, 1.0) * (stations.size() - 1);
    const std::size_t k = std::min(static_cast<std::size_t>(at), stations.size() - 2);
    const double u = at - static_cast<double>(k);
    std::array<double, 3> v{};
    for (std::size_t i = 0; i < 3; ++i) v[i] = stations[k][i] + u * (stations[k + 1][i] - stations[k][i]);
    const double hue = v[2] * 3.14159265358979323846 / 180;
    return {v[0], v[1] * std::cos(hue), v[1] * std::sin(hue)};
}

/// Curve parameter at even steps of length along the curve.
std::vector<double> even_parameters() {
    constexpr int fine = 2000, steps = 512;
    std::vector<double> length(fine + 1, 0.0);
    for (int i = 1; i <= fine; ++i) {
        const Lab p = on_curve((i - 1.0) / fine), q = on_curve(static_cast<double>(i) / fine);
        length[i] = length[i - 1] + std::hypot(q.L - p.L, q.a - p.a, q.b - p.b);
    }
    std::vector<double> parameters(steps + 1);
    int i = 0;
    for (int k = 0; k <= steps; ++k) {
        const double wanted = length[fine] * k / steps;
        while (i < fine - 1 && length[i + 1] < wanted) ++i;
        parameters[k] = (i + std::clamp((wanted - length[i]) / (length[i + 1] - length[i]), 0.0, 1.0)) / fine;
    }
    return parameters;
}

}  // namespace

QColor temperature_colour(double t) {
    static const std::vector<double> parameters = even_parameters();
    if (!(t > 0)) t = 0;
    const double at = std::min(t, 1.0) * static_cast<double>(parameters.size() - 1);
    const std::size_t k = std::min(static_cast<std::size_t>(at), parameters.size() - 2);
    return srgb(on_curve(parameters[k] + (at - static_cast<double>(k)) * (parameters[k + 1] - parameters[k])));
}

// From blue over a light grey to brown-orange, with even lightness on both sides: the general practice of scientific
// plotting for data that runs two ways from a middle (two hues, light where nothing differs). Blue and orange are told apart
// with every kind of colour vision; in grey both ends are dark, so that the painter hatches one of them.
QColor difference_colour(double t) {
    t = std::isnan(t) ? 0 : std::clamp(t, -1.0, 1.0);
    const double far = std::abs(t), hue = (t < 0 ? 250.0 : 55.0) * 3.14159265358979323846 / 180;
    const double chroma = 0.135 * std::pow(far, 0.8);
    return srgb({0.96 - 0.44 * far, chroma * std::cos(hue), chroma * std::sin(hue)});
}

}  // namespace wallfoot
