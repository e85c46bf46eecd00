// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <gtest/gtest.h>

#include <QApplication>
#include <QElapsedTimer>
#include <QFile>
#include <QSettings>
#include <QTemporaryDir>
#include <QtTest/QTest>
#include <memory>

#include "ui/panels/answer_strip.hpp"
#include "ui/window/main_window.hpp"

namespace wallfoot {

inline constexpr Micrometres mm = um_per_mm;

/// A slab over outside air meets a wall: no soil, so that it is worked out at once. The floor insulation runs on behind the foot.
inline QByteArray small_study() {
    return R"json({ "wallfoot": 1, "title": "Small foot", "convention": "iso",
 "materials": [
  { "id": "light", "name": "Light block", "kind": "masonry", "lambda": { "dry": 0.12, "protected": 0.14, "below-dpc": 0.16, "below-ground": 0.2 } },
  { "id": "dense", "name": "Dense block", "kind": "masonry", "lambda": { "dry": 1.1, "protected": 1.2, "below-dpc": 1.3, "below-ground": 1.4 } },
  { "id": "board", "name": "Insulation board", "kind": "insulation", "lambda": { "dry": 0.035 } },
  { "id": "concrete", "name": "Concrete", "kind": "concrete", "lambda": { "dry": 2.0 } } ],
 "variants": [
  { "id": "v1", "name": "Base", "section": {
    "cut": [-1200, -900, 900, 1200], "levels": { "floor": 0 },
    "spaces": [ { "id": "in", "kind": "inside", "at": [-600, 600], "temperature": 20 },
                { "id": "out", "kind": "outside", "at": [600, 600], "temperature": 0 } ],
    "pieces": [
     { "id": "under", "name": "Floor insulation", "material": "board", "outline": [[-1200,-250],[100,-250],[100,-150],[-1200,-150]] },
     { "id": "slab", "name": "Slab", "material": "concrete", "outline": [[-1200,-150],[0,-150],[0,0],[-1200,0]] },
     { "id": "foot", "name": "Foot block", "material": "dense", "outline": [[0,-400],[100,-400],[100,200],[0,200]] },
     { "id": "leaf", "name": "Leaf", "material": "light", "outline": [[0,200],[100,200],[100,1200],[0,1200]] },
     { "id": "outer", "name": "Outer insulation", "material": "board", "outline": [[100,-400],[200,-400],[200,1200],[100,1200]] } ],
    "membranes": [ { "id": "dpc1", "kind": "dpc", "path": [[0,0],[100,0]] } ] } } ] })json";
}

/// A window of its own with its own settings; waits by events, not by time.
class WindowTest : public ::testing::Test {
  protected:
    void SetUp() override {
        QCoreApplication::setOrganizationName(QStringLiteral("wallfoot-test"));
        QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope, folder.path());
        qputenv("XDG_DATA_HOME", folder.path().toUtf8());
        QSettings().setValue(QStringLiteral("dark"), false);
        window = std::make_unique<MainWindow>();
        window->resize(1200, 800);
        window->show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(window.get()));
    }

    QString write(const QString& name, const QByteArray& bytes) {
        const QString path = folder.filePath(name);
        QFile file(path);
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(bytes);
        return path;
    }
    void open_small() {
        ASSERT_TRUE(window->open_file(write(QStringLiteral("small.wallfoot"), small_study())));
        wait_for_rest();
    }
    void wait_for_rest() { ASSERT_TRUE(QTest::qWaitFor([&] { return window->at_rest() && window->findings(); }, 30'000)); }
    double psi() const {
        const auto findings = window->findings();
        const Psi* headline = findings ? findings->headline_psi() : nullptr;
        return headline && headline->value ? headline->value->value : NAN;
    }
    QPoint on_sheet(double x_mm, double y_mm) const { return window->sheet().view().to_pixels(x_mm, y_mm).toPoint(); }

    /// Each key goes where the focus is: the first opens the fields, the others fill the first of them.
    void type_on_sheet(const char* text) {
        window->sheet().setFocus();
        for (const char* key = text; *key; ++key) QTest::keyClick(QApplication::focusWidget(), *key);
    }

    QTemporaryDir folder;
    std::unique_ptr<MainWindow> window;
};

}  // namespace wallfoot
