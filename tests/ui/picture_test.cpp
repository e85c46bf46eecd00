// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <QFile>
#include <QRegularExpression>
#include <QTemporaryDir>

#include "tests/unit/tree.hpp"
#include "ui/paint/picture_command.hpp"

using namespace wallfoot;

// In an SVG value and unit are elements of their own; on one line they have the same y.
TEST(Picture, ValueAndUnitStandOnOneLine) {
    QTemporaryDir folder;
    for (const char* size : {"1600x1200", "700x1100"}) {
        const QString out = folder.filePath(QStringLiteral("x.svg"));
        ASSERT_EQ(picture_command({QString::fromStdString(in_tree("samples/suspended-beam-floor.wallfoot")), QStringLiteral("--out"), out, QStringLiteral("--size"), QString::fromLatin1(size)}), 0);
        QFile file(out);
        ASSERT_TRUE(file.open(QIODevice::ReadOnly));
        const QString svg = QString::fromUtf8(file.readAll());
        static const QRegularExpression psi(QStringLiteral(" y=\"([0-9.]+)\"[^<>]*>Ψ [0-9.−-]+ ± [0-9.]+ </text>\\s*<text[^<>]* y=\"([0-9.]+)\"[^<>]*>W/\\(m·K\\)</text>"));
        const auto match = psi.match(svg);
        EXPECT_TRUE(match.hasMatch()) << size;
        EXPECT_EQ(match.captured(1), match.captured(2)) << size;
        EXPECT_TRUE(svg.contains(QStringLiteral(">inside  20 °C"))) << "a space without a name is called by its kind";
        EXPECT_FALSE(svg.contains(QChar(0x2026))) << "no text of the key is cut off";
    }
}
