// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/pack_dialog.hpp"

#include <QFile>
#include <QPointer>
#include <QPushButton>
#include <QTemporaryDir>

#include "core/file/study_file.hpp"
#include "solver/report/pack.hpp"
#include "tests/ui/window_fixture.hpp"
#include "tests/unit/tree.hpp"

using namespace wallfoot;

namespace {

std::shared_ptr<const Study> packed_study() { return std::make_shared<const Study>(load_study(in_tree("samples/plain-wall.wallfoot")).study); }

}  // namespace

TEST(PackDialog, WritesWhatTheCommandWritesAndSaysWhere) {
    QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("p.zip"));
    const auto study = packed_study();
    auto* dialog = new PackDialog(study, path);
    dialog->show();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->at_work(); }, 60'000));
    EXPECT_TRUE(dialog->told().contains(path));
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    std::vector<const Variant*> all;
    for (const Variant& variant : study->variants) all.push_back(&variant);
    EXPECT_EQ(file.readAll().toStdString(), make_pack(*study, all).bytes);
    dialog->close();
}

TEST(PackDialog, SaysWhyThereIsNone) {
    auto* dialog = new PackDialog(packed_study(), QStringLiteral("/nowhere/p.zip"));
    dialog->show();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog->at_work(); }, 60'000));
    EXPECT_TRUE(dialog->told().contains(QStringLiteral("/nowhere")));
    dialog->close();
}

TEST(PackDialog, ClosingItStopsAndWritesNothing) {
    QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("p.zip"));
    {
        Study many = *packed_study();
        for (int i = 0; i < 40; ++i) {
            many.variants.push_back(many.variants.front());
            many.variants.back().id += std::to_string(i);
        }
        PackDialog dialog(std::make_shared<const Study>(std::move(many)), path);
    }
    EXPECT_FALSE(QFile::exists(path));
}
